"""Statements, checks and measurements, each with its basis.

A basis says how a thing is known. Every published sentence carries exactly one, and the evidence behind it.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from enum import StrEnum


class Basis(StrEnum):
    """How a statement is known."""

    SEEN = "seen"
    MEASURED = "measured"
    TESTED = "tested"
    DOCUMENTED = "documented"
    TOLD = "told"
    NOT_CHECKED = "not-checked"


@dataclass(frozen=True, slots=True)
class Evidence:
    """What is on file behind one statement. Which fields a basis needs is in the vocabulary (bases.yaml).

    `photos` are SHA-256 digests; `who_said` and `issuer_kind` are roles ("owner before last", "workshop"), never names;
    `on` is the day of the look, reading, test or saying.
    """

    basis: Basis
    photos: tuple[str, ...] = ()
    on: date | None = None
    who_said: str = ""
    document: str = ""
    document_date: str = ""
    issuer_kind: str = ""
    instrument: str = ""
    conditions: str = ""
    reason: str = ""


@dataclass(frozen=True, slots=True)
class Statement:
    """One sentence that will be published. `subject` is a component id or plain words; `claim` the sentence."""

    number: int
    subject: str
    claim: str
    evidence: Evidence
    by: str
    at: datetime
    value: str = ""

    @property
    def key(self) -> str:
        return str(self.number)


class CheckVerdict(StrEnum):
    """What a test of a function gave."""

    WORKS = "works"
    DOES_NOT_WORK = "does-not-work"
    INTERMITTENT = "intermittent"
    NOT_FITTED = "not-fitted"
    NOT_TESTED = "not-tested"


@dataclass(frozen=True, slots=True)
class CheckResult:
    """One function tested. `check` is an id of the vocabulary, or "own-…" with `item` in words for the house's own.

    `reason` is required for not-tested (an id of the not-tested reasons); `role` is who tested, as published.
    """

    check: str
    verdict: CheckVerdict
    by: str
    at: datetime
    item: str = ""
    reason: str = ""
    conditions: str = ""
    note: str = ""
    role: str = ""
    on: date | None = None
    photos: tuple[str, ...] = ()

    @property
    def key(self) -> str:
        return self.check


@dataclass(frozen=True, slots=True)
class Reading:
    """One value as read: the digits as text, so that nothing is rounded or converted on the way in."""

    place: str
    value: str
    unit: str


@dataclass(frozen=True, slots=True)
class Measurement:
    """Readings of one kind at one component. `measure` is an id of the vocabulary."""

    number: int
    measure: str
    component: str
    readings: tuple[Reading, ...]
    by: str
    at: datetime
    instrument: str = ""
    uncertainty: str = ""
    role: str = ""
    on: date | None = None
    note: str = ""
    photos: tuple[str, ...] = ()

    @property
    def key(self) -> str:
        return str(self.number)


class SerialPlace(StrEnum):
    """Where a serial was read."""

    CAR = "car"
    PAPER = "paper"


@dataclass(frozen=True, slots=True)
class SerialReading:
    """A serial exactly as it stands on the car or on the paper; never cleaned up, never corrected."""

    place: SerialPlace
    text: str
    by: str
    at: datetime
    photos: tuple[str, ...] = ()

    @property
    def key(self) -> str:
        return self.place.value
