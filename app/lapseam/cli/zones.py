"""Verbs about one zone at a time: what is unfinished, and that nothing was found."""

from __future__ import annotations

import argparse

from lapseam.domain.errors import Mistake
from lapseam.domain.unfinished import LeftOut, Unfinished, Why, subject_name

from .cars import stock
from .verb import Ask, Verb

_WHY = {
    Why.FINDINGS: "has a finding",
    Why.SAID: "said before",
    Why.NO_FRAME: "no ticked frame shows it",
    Why.COATED: "coating hides it",
    Why.NOT_FITTED: "not on this car",
    Why.DECIDE: "hangs on an unanswered fact",
}
_WHAT = {
    "finding": "lacks",
    "jotting": "a note, not a finding yet",
    "asked": "on the re-shoot list",
    "part": "shown, and nobody has said anything",
    "shot": "frames that nobody has ticked",
    "photo": "an extra of which nothing is said",
    "check": "not tested",
}


def _unfinished_arguments(parser: argparse.ArgumentParser) -> None:
    stock(parser)
    parser.add_argument("--zone", default="", metavar="ZONE", help="only this zone")


def _unfinished(ask: Ask) -> int:
    car, found = ask.desk.unfinished(stock=ask.args.stock).result()
    here = [one for one in found if ask.args.zone in ("", one.zone)]
    rows = [(one.zone, one.of.value, subject_name(car, one), _what(one)) for one in here]
    ask.out.answer(
        {
            "unfinished": [
                {"zone": one.zone, "of": one.of.value, "subject": one.subject, "name": row[2], "what": row[3]}
                for one, row in zip(here, rows, strict=True)
            ]
        }
    )
    ask.out.table(rows)
    ask.out.say(f"{len(here)} to finish." if here else "Nothing left to finish.")
    return 1 if here else 0


def _what(one: Unfinished) -> str:
    return " ".join((_WHAT[one.of.value], ", ".join(one.lacks))).strip()


def _looked_arguments(parser: argparse.ArgumentParser) -> None:
    stock(parser)
    parser.add_argument("component", metavar="COMPONENT", nargs="?", default="", help="the component looked at")
    parser.add_argument("photos", metavar="PHOTO", nargs="*", help="the ticked frames that show it")
    parser.add_argument(
        "--zone", default="", metavar="ZONE", help="instead: every part of the zone that a ticked frame shows"
    )


def _looked(ask: Ask) -> int:
    args = ask.args
    if bool(args.zone) == bool(args.component and args.photos):
        raise Mistake(
            "Nothing found on what?", next_step="Name a component and its ticked frames, or a zone with --zone."
        )
    if args.zone:
        return _swept(ask)
    done = ask.desk.nothing_found(stock=args.stock, component=args.component, photos=args.photos, by=ask.by).result()
    ask.out.answer({"words": done.words, "step": done.entry.number if done.entry else None})
    ask.out.say(done.words)
    return 0


def _swept(ask: Ask) -> int:
    swept = ask.desk.nothing_found_in(stock=ask.args.stock, zone=ask.args.zone, by=ask.by).result()
    done, found = swept.done, swept.sweep
    ask.out.answer(
        {
            "words": done.words,
            "step": done.entry.number if done.entry else None,
            "parts": [part for part, _ in found.parts],
            "left_out": [{"component": one.component.id, "why": one.why.value} for one in found.left_out],
        }
    )
    ask.out.say(done.words)
    ask.out.table([(one.component.id, _left_out(one)) for one in found.left_out])
    return 0 if found.parts else 1


def _left_out(one: LeftOut) -> str:
    numbers = " " + ", ".join(map(str, one.findings)) if one.findings else ""
    return f"left out: {_WHY[one.why]}{numbers}"


VERBS: tuple[Verb, ...] = (
    Verb("unfinished", "what is unfinished, zone by zone", _unfinished_arguments, _unfinished, by_somebody=False),
    Verb("looked", "say that a component, or a zone's shown parts, were looked at and nothing was found",
         _looked_arguments, _looked),
)  # fmt: skip
