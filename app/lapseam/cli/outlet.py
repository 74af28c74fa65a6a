"""The verbs outlet and outlets: the house's outlets, which photos one gets and why, and the folder taken there."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import Any

from lapseam.domain.errors import Mistake, NotAllowed
from lapseam.domain.selection import Outlet
from lapseam.workflow import Stop
from lapseam.workflow.outlets import OutletSet, PhotoWishes

from .cars import stock
from .listing import say_refused, verdict
from .verb import Ask, Verb

_WISHES = ("pin", "ban", "free", "order")


def _arguments(parser: argparse.ArgumentParser) -> None:
    stock(parser)
    which = parser.add_mutually_exclusive_group(required=True)
    which.add_argument("--limit", type=int, metavar="N", help="how many photos the outlet takes")
    which.add_argument("--outlet", metavar="NAME", help="an outlet of outlets.yaml in the workspace")
    parser.add_argument("--out", metavar="DIR", help="write its folder there; only of a signed car")
    parser.add_argument("--pin", action="append", default=[], metavar="PHOTO", help="this photo must be in")
    parser.add_argument("--ban", action="append", default=[], metavar="PHOTO", help="this photo stays out")
    parser.add_argument("--free", action="append", default=[], metavar="PHOTO", help="neither pin nor ban any more")
    parser.add_argument("--order", nargs="*", metavar="PHOTO", help="these come first, in this order; none: as usual")


def _outlet(ask: Ask) -> int:
    args = ask.args
    wished = any(getattr(args, one) not in ([], None) or (one == "order" and args.order == []) for one in _WISHES)
    named: dict[str, Any] = {"stock": args.stock, "name": args.outlet or "", "limit": args.limit or 0}
    if wished and args.outlet:
        done = ask.desk.wish(
            stock=args.stock, outlet=args.outlet, by=ask.by, pins=args.pin, bans=args.ban, free=args.free,
            order=args.order,
        ).result()  # fmt: skip
        ask.out.say(done.words)
    elif wished:
        if args.free:
            raise Mistake("There is nothing to free where nothing is kept.", next_step="Name the outlet with --outlet.")
        named["wishes"] = PhotoWishes(tuple(args.pin), tuple(args.ban), tuple(args.order or ()))
    chosen: OutletSet = ask.desk.outlet(**named).result()
    _say(ask, chosen)
    told = {"set": chosen, "refused_sentences": [verdict(one) for one in chosen.listing.refused]}
    if not args.out:
        ask.out.answer(told)
        return 0
    stop = Stop()
    coming = ask.desk.write_outlet(**named, out=Path(args.out), progress=ask.out.progress("Writing"), stop=stop)
    try:
        written = coming.result()
    except KeyboardInterrupt:
        stop.set()
        written = coming.result()
    except NotAllowed as refused:
        ask.out.answer({**told, "refused": str(refused)})
        ask.out.error(str(refused))
        return 1
    ask.out.answer({**told, "folder": written})
    ask.out.say(f"{len(written.photos)} photos, their captions and the text to paste are in {written.path}")
    for trouble in written.troubles:
        ask.out.say(trouble)
    return 1 if written.troubles else 0


def _say(ask: Ask, chosen: OutletSet) -> None:
    pictures = chosen.selection.pictures
    ask.out.say(f"{len(pictures)} photos for {chosen.outlet.name} (it takes {chosen.outlet.photos}):")
    ask.out.table([(f"{one.place:>3}", f"photo {one.number}", one.reason) for one in pictures])
    for heading, lines in (
        ("Listed, but not shown here:", chosen.selection.unseen),
        ("The outlet's text must say:", chosen.selection.overflow),
        ("Wishes that could not be kept:", chosen.selection.conflicts),
        ("To be known besides:", chosen.notes),
    ):
        if lines:
            ask.out.say(heading)
            for line in lines:
                ask.out.say(f"  {line}")
    say_refused(ask, chosen.listing.refused)
    if not chosen.signed:
        ask.out.say("UNSIGNED: this car goes to no outlet until a manager has signed it.")


def _nothing(parser: argparse.ArgumentParser) -> None:
    """The verb takes no arguments of its own."""


def _outlets(ask: Ask) -> int:
    known = ask.desk.outlets()
    ask.out.answer(known)
    ask.out.table([(one.name, f"{one.photos} photos", f"{one.longest_px} px", _limits(one)) for one in known])
    if not known:
        ask.out.say(f"The house has no outlet yet. List them in {ask.desk.folder / 'outlets.yaml'}, for instance:")
        ask.out.say("outlets:")
        ask.out.say("  - {name: Own page, photos: 100, longest_px: 2400}")
        ask.out.say("  - {name: Weekly sheet, photos: 12, max_bytes: 400000, caption_chars: 120, text_chars: 3000}")
    return 0


def _limits(one: Outlet) -> str:
    limits = (
        (one.max_bytes, f"{one.max_bytes} bytes"),
        (one.min_px, f"at least {one.min_px} px"),
        (one.aspect, one.aspect),
        (one.caption_chars, f"captions {one.caption_chars}"),
        (one.title_chars, f"title {one.title_chars}"),
        (one.teaser_chars, f"teaser {one.teaser_chars}"),
        (one.text_chars, f"text {one.text_chars}"),
        (one.photo_list, f"list {one.photo_list}"),
    )
    return ", ".join([*(words for given, words in limits if given), one.form.value])


VERBS: tuple[Verb, ...] = (
    Verb(
        "outlet",
        "say which photos an outlet with a limit gets, and why; write them into a folder",
        _arguments,
        _outlet,
        "With --outlet, what is pinned, banned or ordered is kept in the record and can be undone; with --limit it "
        "holds for this asking only.",
    ),
    Verb("outlets", "list and check the house's outlets with their limits", _nothing, _outlets, by_somebody=False),
)
