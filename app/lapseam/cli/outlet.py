"""The verb outlet: which photos an outlet with a limit gets and why, and the folder that is taken there."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import Any

from lapseam.domain.errors import NotAllowed
from lapseam.workflow import Stop
from lapseam.workflow.outlets import OutletSet, PhotoWishes

from .cars import stock
from .verb import Ask, Verb


def _arguments(parser: argparse.ArgumentParser) -> None:
    stock(parser)
    which = parser.add_mutually_exclusive_group(required=True)
    which.add_argument("--limit", type=int, metavar="N", help="how many photos the outlet takes")
    which.add_argument("--outlet", metavar="NAME", help="an outlet of outlets.yaml in the workspace")
    parser.add_argument("--out", metavar="DIR", help="write its folder there; only of a signed car")
    parser.add_argument("--pin", action="append", default=[], metavar="PHOTO", help="this photo must be in")
    parser.add_argument("--ban", action="append", default=[], metavar="PHOTO", help="this photo stays out")
    parser.add_argument("--first", action="append", default=[], metavar="PHOTO", help="comes first; may be repeated")


def _outlet(ask: Ask) -> int:
    args = ask.args
    named: dict[str, Any] = {
        "stock": args.stock,
        "name": args.outlet or "",
        "limit": args.limit or 0,
        "wishes": PhotoWishes(tuple(args.pin), tuple(args.ban), tuple(args.first)),
    }
    chosen: OutletSet = ask.desk.outlet(**named).result()
    _say(ask, chosen)
    if not args.out:
        ask.out.answer(chosen)
        return 0
    stop = Stop()
    coming = ask.desk.write_outlet(**named, out=Path(args.out), progress=ask.out.progress("Writing"), stop=stop)
    try:
        written = coming.result()
    except KeyboardInterrupt:
        stop.set()
        written = coming.result()
    except NotAllowed as refused:
        ask.out.answer({"set": chosen, "refused": str(refused)})
        ask.out.error(str(refused))
        return 1
    ask.out.answer({"set": chosen, "folder": written})
    ask.out.say(f"{len(written.photos)} photos and captions.txt are in {written.path}")
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
    ):
        if lines:
            ask.out.say(heading)
            for line in lines:
                ask.out.say(f"  {line}")
    if not chosen.signed:
        ask.out.say("UNSIGNED: this car goes to no outlet until a manager has signed it.")


VERBS: tuple[Verb, ...] = (
    Verb(
        "outlet",
        "say which photos an outlet with a limit gets, and why; write them into a folder",
        _arguments,
        _outlet,
        by_somebody=False,
    ),
)
