"""Decisions made of the rows of a notes file that is known to be good."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime

from ..domain.decision import (
    Closed,
    Closing,
    Decision,
    FactAnswer,
    Lead,
    Looked,
    Placement,
    Release,
    Sight,
    Slot,
    Sureness,
    Target,
    Tick,
    Verdict,
    Waiver,
    WaiverOf,
)
from ..domain.finding import Finding, FindingState, Mark, MarkShape, PartOrigin, PartWork, Severity
from ..domain.plan import Plan
from ..domain.statement import (
    Basis,
    CheckResult,
    CheckVerdict,
    Evidence,
    Measurement,
    Reading,
    SerialPlace,
    SerialReading,
    Statement,
)
from .reading import Row


@dataclass(frozen=True, slots=True)
class Desk:
    """What every row of one notes file falls back on. `photos` leads from names in the file to SHA-256."""

    by: str
    at: datetime
    on: date
    photos: Mapping[str, str]
    plan: Plan

    def who(self, row: Row) -> str:
        """The row's person, or the file's."""
        return str(row["by"] or self.by)

    def day(self, row: Row) -> date:
        """The row's day, or the file's."""
        day: date | None = row["on"]
        return day or self.on

    def shas(self, names: Iterable[str]) -> tuple[str, ...]:
        """The hashes of photos named in the file."""
        return tuple(self.photos[name] for name in names)


def decisions_of(row: Row, desk: Desk) -> tuple[Decision, ...]:
    """Every decision of the file, section by section in the file format's order."""
    sections: tuple[tuple[str, Callable[[Row, Desk], Iterable[Decision]]], ...] = (
        ("placements", _placement),
        ("ticks", _ticks),
        ("closed", _closing),
        ("looked", _looked),
        ("findings", _finding),
        ("checks", _check),
        ("measurements", _measurement),
        ("statements", _statement),
        ("serials", _serial),
        ("waivers", _waiver),
        ("released", _release),
    )
    answers = row["facts"].values if row["facts"] else {}
    made: list[Decision] = [FactAnswer(fact, value, desk.by, desk.at) for fact, value in answers.items()]
    for section, build in sections:
        for one in row[section]:
            made.extend(build(one, desk))
    if row["lead"]:
        made.append(Lead(desk.photos[row["lead"]], desk.by, desk.at))
    return tuple(made)


def _placement(row: Row, desk: Desk) -> Iterable[Decision]:
    target = Target.SHOT if row["shot"] else Target.EXTRA if row["extra"] else Target.ASIDE
    yield Placement(
        sha256=desk.photos[row["photo"]],
        target=target,
        by=desk.who(row),
        at=desk.at,
        sureness=Sureness.DECIDED,
        shot=row["shot"] or "",
        zone=row["extra"] or "",
        slot=Slot(row["slot"]) if row["slot"] else None,
        reasons=(row["aside"],) if row["aside"] else (),
    )


def _ticks(row: Row, desk: Desk) -> Iterable[Decision]:
    shot = desk.plan.shot(row["shot"])
    items = {name: item.id for item in (shot.must if shot else ()) for name in (item.words, item.id)}
    for key, sight in (("seen", Sight.SEEN), ("coated", Sight.COATED)):
        for item in row[key]:
            yield Tick(row["shot"], items[item], desk.photos[row["photo"]], sight, desk.who(row), desk.at)


def _closing(row: Row, desk: Desk) -> Iterable[Decision]:
    yield Closing(row["shot"], Closed(row["as"]), desk.who(row), desk.at, row["reason"], row["note"])


def _looked(row: Row, desk: Desk) -> Iterable[Decision]:
    yield Looked(row["component"], desk.who(row), desk.at, desk.shas(row["photos"]))


def _evidence(row: Row, desk: Desk, photos: tuple[str, ...]) -> Evidence:
    return Evidence(
        basis=Basis(row["basis"]),
        photos=photos,
        on=desk.day(row),
        who_said=row["who_said"],
        document=row["document"],
        document_date=row["document_date"],
        issuer_kind=row["issuer_kind"],
        instrument=row["instrument"],
        conditions=row["conditions"],
        reason=row["reason"],
    )


def _finding(row: Row, desk: Desk) -> Iterable[Decision]:
    context, close = desk.shas(row["context"]), desk.shas(row["close"])
    yield Finding(
        number=row["number"],
        component=row["component"],
        kind=row["kind"],
        place=row["place"],
        severity=Severity(row["severity"]),
        evidence=_evidence(row, desk, tuple(dict.fromkeys((*context, *close)))),
        by=desk.who(row),
        at=desk.at,
        extent=row["extent"],
        count=row["count"],
        detail=row["detail"],
        context=context,
        close=close,
        marks=tuple(_mark(mark, desk) for mark in row["marks"]),
        origin=PartOrigin(row["origin"]),
        work=PartWork(row["work"]),
        state=FindingState(row["state"]),
        state_reason=row["state_reason"],
        state_on=row["state_on"],
        after=desk.shas(row["after"]),
        no_photo_reason=row["no_photo"],
        note=row["note"],
    )


def _mark(row: Row, desk: Desk) -> Mark:
    shape = MarkShape.BOX if row["box"] else MarkShape.POINT
    return Mark(desk.photos[row["photo"]], shape, *(row["box"] or row["point"]))


def _check(row: Row, desk: Desk) -> Iterable[Decision]:
    yield CheckResult(
        check=row["check"],
        verdict=CheckVerdict(row["result"]),
        by=desk.who(row),
        at=desk.at,
        item=row["item"],
        reason=row["reason"],
        conditions=row["conditions"],
        note=row["note"],
        role=row["role"],
        on=desk.day(row),
        photos=desk.shas(row["photos"]),
    )


def _measurement(row: Row, desk: Desk) -> Iterable[Decision]:
    yield Measurement(
        number=row["number"],
        measure=row["measure"],
        component=row["component"],
        readings=tuple(Reading(one["place"], one["value"], one["unit"]) for one in row["readings"]),
        by=desk.who(row),
        at=desk.at,
        instrument=row["instrument"],
        uncertainty=row["uncertainty"],
        role=row["role"],
        on=desk.day(row),
        note=row["note"],
        photos=desk.shas(row["photos"]),
    )


def _statement(row: Row, desk: Desk) -> Iterable[Decision]:
    yield Statement(
        number=row["number"],
        subject=row["subject"],
        claim=row["claim"],
        evidence=_evidence(row, desk, desk.shas(row["photos"])),
        by=desk.who(row),
        at=desk.at,
        value=row["value"],
    )


def _serial(row: Row, desk: Desk) -> Iterable[Decision]:
    yield SerialReading(SerialPlace(row["place"]), row["text"], desk.who(row), desk.at, desk.shas(row["photos"]))


def _waiver(row: Row, desk: Desk) -> Iterable[Decision]:
    of = next(kind for kind in WaiverOf if row[kind.value])
    yield Waiver(of, row[of.value], row["reason"], desk.who(row), desk.at)


def _release(row: Row, desk: Desk) -> Iterable[Decision]:
    yield Release(desk.photos[row["photo"]], Verdict(row["verdict"]), row["words"], desk.who(row), desk.at)
