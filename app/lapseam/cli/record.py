"""Verbs about what was seen, tested, measured and told."""

from __future__ import annotations

import argparse
from datetime import UTC, date, datetime
from pathlib import Path

from lapseam.domain.decision import Closed
from lapseam.domain.errors import Mistake, NotFound
from lapseam.domain.finding import Finding, PartOrigin, PartWork, Severity
from lapseam.domain.measure.as_read import figures
from lapseam.domain.statement import Basis, CheckVerdict, Evidence, Reading, SerialPlace
from lapseam.workflow import Done
from lapseam.workflow.recording import NOTES_COLUMNS

from .cars import stock
from .verb import Ask, Verb, number_of


def _told(ask: Ask, done: Done) -> int:
    ask.out.answer({"words": done.words, "step": done.entry.number if done.entry else None})
    ask.out.say(done.words)
    return 0


def _day(words: str) -> date:
    try:
        return date.fromisoformat(words)
    except ValueError:
        raise argparse.ArgumentTypeError(f"{words!r} is no day; write it as 2026-05-13") from None


def _tick_arguments(parser: argparse.ArgumentParser) -> None:
    stock(parser)
    parser.add_argument("shot", metavar="SHOT", help="the shot")
    parser.add_argument("photo", metavar="PHOTO", help="the frame you are looking at")
    parser.add_argument("items", metavar="ITEM", nargs="*", help="must-see items, in words or by id; none: all of them")
    parser.add_argument("--coated", action="store_true", help="the place is there, but coating hides its metal")
    parser.add_argument("--off", action="store_true", help="take the ticks back")


def _tick(ask: Ask) -> int:
    args = ask.args
    return _told(ask, ask.desk.tick(
        stock=args.stock, shot=args.shot, photo=args.photo, items=args.items, by=ask.by, coated=args.coated,
        off=args.off,
    ).result())  # fmt: skip


def _close_arguments(parser: argparse.ArgumentParser) -> None:
    stock(parser)
    parser.add_argument("shot", metavar="SHOT", help="the shot")
    how = parser.add_mutually_exclusive_group(required=True)
    how.add_argument("--not-reachable", metavar="REASON", help="could not be photographed without damage or danger")
    how.add_argument("--not-fitted", action="store_true", help="the car does not have it")
    how.add_argument("--open", action="store_true", help="open a closed shot again")
    parser.add_argument("--note", default="", help="the rest in words")


def _close(ask: Ask) -> int:
    args = ask.args
    if args.open:
        return _told(ask, ask.desk.reopen_shot(stock=args.stock, shot=args.shot, by=ask.by).result())
    closed = Closed.NOT_FITTED if args.not_fitted else Closed.NOT_REACHABLE
    return _told(ask, ask.desk.close_shot(
        stock=args.stock, shot=args.shot, closed=closed, reason=args.not_reachable or "", note=args.note, by=ask.by
    ).result())  # fmt: skip


def _evidence_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--basis", choices=[basis.value for basis in Basis], default="seen", help="how it is known")
    parser.add_argument("--on", type=_day, metavar="DAY", help="the day it was seen, tested or told (else today)")
    parser.add_argument("--who-said", default="", metavar="ROLE", help="told: who said it, as a role, never a name")
    parser.add_argument("--document", default="", help="documented: the paper")
    parser.add_argument("--document-date", default="", metavar="DATE", help="documented: the paper's date")
    parser.add_argument("--issuer-kind", default="", metavar="KIND", help="documented: who issued it, as a kind")
    parser.add_argument("--instrument", default="", help="measured: the instrument")
    parser.add_argument("--conditions", default="", help="tested: how, where, how warm")
    parser.add_argument("--why-not", default="", metavar="REASON", help="not-checked: the reason")


def _evidence(ask: Ask, photos: tuple[str, ...]) -> Evidence:
    args = ask.args
    basis = Basis(args.basis)
    on = args.on or (None if basis in (Basis.NOT_CHECKED, Basis.DOCUMENTED) else ask.desk.now().date())
    return Evidence(basis, photos, on, args.who_said, args.document, args.document_date, args.issuer_kind,
                    args.instrument, args.conditions, args.why_not)  # fmt: skip


def _finding_arguments(parser: argparse.ArgumentParser) -> None:
    stock(parser)
    parser.add_argument("component", metavar="COMPONENT", help="the component")
    parser.add_argument("kind", metavar="KIND", help="the kind of finding")
    parser.add_argument("place", metavar="PLACE", help="the exact place in words")
    parser.add_argument("--severity", choices=[one.value for one in Severity], required=True)
    parser.add_argument("--extent", default="", help="size with its unit, for instance '40 x 15 mm'")
    parser.add_argument("--count", type=number_of("the count", 9_999), metavar="NUMBER", help="how many")
    parser.add_argument("--detail", default="", help="free words, none of comfort")
    parser.add_argument(
        "--context", metavar="PHOTO", action="append", default=[], help="a frame that shows where it is"
    )
    parser.add_argument("--close", metavar="PHOTO", action="append", default=[], help="a close frame")
    parser.add_argument("--origin", choices=[one.value for one in PartOrigin], default="unknown")
    parser.add_argument("--work", choices=[one.value for one in PartWork], default="unknown")
    parser.add_argument("--no-photo", default="", metavar="REASON", help="why no photo can show it (smell, noise)")
    parser.add_argument("--note", default="")
    _evidence_arguments(parser)


def _finding(ask: Ask) -> int:
    args = ask.args
    photos = tuple(dict.fromkeys((*args.context, *args.close)))
    finding = Finding(
        number=0, component=args.component, kind=args.kind, place=args.place, severity=Severity(args.severity),
        evidence=_evidence(ask, photos), by=ask.by, at=datetime.now(UTC), extent=args.extent,
        count=args.count, detail=args.detail, context=tuple(args.context), close=tuple(args.close),
        origin=PartOrigin(args.origin), work=PartWork(args.work), no_photo_reason=args.no_photo, note=args.note,
    )  # fmt: skip
    return _told(ask, ask.desk.find(stock=args.stock, finding=finding).result())


def _check_arguments(parser: argparse.ArgumentParser) -> None:
    stock(parser)
    parser.add_argument("check", metavar="CHECK", help="a check of the list, or own-NAME with --item")
    parser.add_argument("result", choices=[one.value for one in CheckVerdict], help="what the test gave")
    parser.add_argument("--item", default="", help="what an own- check tests, in words")
    parser.add_argument("--reason", default="", help="not-tested: a reason of the list")
    parser.add_argument("--conditions", default="", help="how it was tested, where, how warm")
    parser.add_argument("--role", default="", help="who tested, as published")
    parser.add_argument("--on", type=_day, metavar="DAY", help="the day of the test (else today)")
    parser.add_argument("--photo", metavar="PHOTO", action="append", default=[])
    parser.add_argument("--note", default="")


def _check(ask: Ask) -> int:
    args = ask.args
    return _told(ask, ask.desk.check(
        stock=args.stock, check=args.check, verdict=CheckVerdict(args.result), by=ask.by, on=args.on, item=args.item,
        reason=args.reason, conditions=args.conditions, note=args.note, role=args.role, photos=args.photo,
    ).result())  # fmt: skip


def _measure_arguments(parser: argparse.ArgumentParser) -> None:
    stock(parser)
    parser.add_argument("measure", metavar="MEASURE", help="what is measured")
    parser.add_argument("component", metavar="COMPONENT", help="the component")
    parser.add_argument("readings", metavar="PLACE=VALUE UNIT", nargs="+", help="as read: 'left front=6.5 mm'")
    parser.add_argument("--instrument", required=True)
    parser.add_argument("--uncertainty", default="")
    parser.add_argument("--role", default="", help="who measured, as published")
    parser.add_argument("--on", type=_day, metavar="DAY")
    parser.add_argument("--photo", metavar="PHOTO", action="append", default=[])
    parser.add_argument("--note", default="")


def _reading(words: str) -> Reading:
    place, sign, rest = words.partition("=")
    value, _, unit = rest.strip().partition(" ")
    if not unit.strip():
        value, unit = figures(rest)
    if not (sign and place.strip() and value and unit.strip()):
        raise Mistake(
            f"{words!r} is no reading.", next_step="Write it as 'PLACE=VALUE UNIT', such as 'left front=6.5 mm'."
        )
    return Reading(place.strip(), value, unit.strip())


def _measure(ask: Ask) -> int:
    args = ask.args
    return _told(ask, ask.desk.measure(
        stock=args.stock, measure=args.measure, component=args.component,
        readings=[_reading(words) for words in args.readings], instrument=args.instrument, by=ask.by,
        uncertainty=args.uncertainty, role=args.role, on=args.on, note=args.note, photos=args.photo,
    ).result())  # fmt: skip


def _statement_arguments(parser: argparse.ArgumentParser) -> None:
    stock(parser)
    parser.add_argument("subject", metavar="SUBJECT", help="a component, or what it is about in words")
    parser.add_argument("claim", metavar="CLAIM", help="the sentence")
    parser.add_argument("--value", default="")
    parser.add_argument("--photo", metavar="PHOTO", action="append", default=[])
    _evidence_arguments(parser)


def _statement(ask: Ask) -> int:
    args = ask.args
    return _told(ask, ask.desk.state(
        stock=args.stock, subject=args.subject, claim=args.claim, evidence=_evidence(ask, tuple(args.photo)),
        by=ask.by, value=args.value,
    ).result())  # fmt: skip


def _serial_arguments(parser: argparse.ArgumentParser) -> None:
    stock(parser)
    parser.add_argument("place", choices=[one.value for one in SerialPlace], help="where it was read")
    parser.add_argument("text", metavar="TEXT", help="exactly as it stands there")
    parser.add_argument("--photo", metavar="PHOTO", action="append", default=[])


def _serial(ask: Ask) -> int:
    args = ask.args
    return _told(ask, ask.desk.read_serial(
        stock=args.stock, place=SerialPlace(args.place), text=args.text, by=ask.by, photos=args.photo
    ).result())  # fmt: skip


def _note_arguments(parser: argparse.ArgumentParser) -> None:
    stock(parser)
    parser.add_argument(
        "file", metavar="FILE", help="the notes: YAML, a table (.csv, .tsv), or plain text (.txt) for jottings"
    )


def _note(ask: Ask) -> int:
    path = Path(ask.args.file)
    if not path.is_file():
        raise NotFound(f"There is no notes file {path}.", next_step="Check the path.")
    return _told(ask, ask.desk.take_notes(stock=ask.args.stock, path=path, by=ask.by).result())


VERBS: tuple[Verb, ...] = (
    Verb("tick", "tick must-see items on a frame you looked at", _tick_arguments, _tick),
    Verb("close", "close a shot that will have no frame", _close_arguments, _close),
    Verb("finding", "record a finding, bad or good", _finding_arguments, _finding),
    Verb("check", "record what the test of a function gave", _check_arguments, _check),
    Verb("measure", "record readings, exactly as read", _measure_arguments, _measure),
    Verb("statement", "record a statement with its basis", _statement_arguments, _statement),
    Verb("serial", "record the serial as it stands on the car or on the paper", _serial_arguments, _serial),
    Verb(
        "note",
        "read a car's notes file (YAML, CSV or plain text); all of it or nothing",
        _note_arguments,
        _note,
        "A table has one row for each finding, check, measurement, statement or part looked at; 'print notes' writes "
        f"an empty one. {NOTES_COLUMNS} Rows of readings that follow each other and differ in nothing else are one "
        "measurement; photos stand apart by ';' or '|'. Of plain text every paragraph becomes a private jotting.",
    ),
)
