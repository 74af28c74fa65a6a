"""One entry: a thing that a car's record says, shows or lacks, as somebody who asks finds it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from typing import Final

from .ageing import Lasting, OdometerReading, driven_since, odometer_readings
from .car import Car
from .statement import Basis


class EntryKind(StrEnum):
    """What sort of thing an entry is, best first: an answer on file, then what was looked at, gaps, and photos."""

    FINDING = "finding"
    CHECK = "check"
    MEASUREMENT = "measurement"
    STATEMENT = "statement"
    SERIAL = "serial"
    DETAILS = "details"
    FACT = "fact"
    LOOKED = "looked"
    CALL = "call"
    JOTTING = "jotting"
    ABSENT = "absent"
    NOT_TESTED = "not-tested"
    NOT_SEEN = "not-seen"
    NOT_MEASURED = "not-measured"
    NOT_ANSWERED = "not-answered"
    ASKED = "asked"
    PHOTO = "photo"


GAPS: Final = frozenset(
    (EntryKind.NOT_TESTED, EntryKind.NOT_SEEN, EntryKind.NOT_MEASURED, EntryKind.NOT_ANSWERED, EntryKind.ASKED)
)
"""Kinds that tell that something is not known."""


@dataclass(frozen=True, slots=True)
class Named:
    """A photo of the car by digest and by its name as found."""

    sha256: str
    name: str


@dataclass(frozen=True, slots=True)
class Entry:
    """One thing that the record says or lacks.

    `key` is unique in the car ("finding:3"). `subject` is what it is about, `words` one sentence without its basis,
    `basis` how it is known, `day` of when the evidence is. `about` are ids of components, checks, measurements and
    facts, and lists and groups it belongs to. `rank` rises with what matters more within a kind: a finding's severity,
    a failed check. `answers` says whether it answers a caller; `how` is its basis, None where there is nothing to know.
    `more` are words that find it and are not shown.
    """

    key: str
    kind: EntryKind
    subject: str
    words: str
    basis: str = ""
    day: date | None = None
    photos: tuple[Named, ...] = ()
    about: tuple[str, ...] = ()
    lasting: Lasting = Lasting.OPEN
    driven_km: float = 0.0
    rank: int = 0
    answers: bool = True
    how: Basis | None = None
    by: str = ""
    more: str = ""


class Shown:
    """Photos by name, parts with their zone, and kilometres driven since a day, for one car."""

    def __init__(self, car: Car) -> None:
        self._names = {photo.sha256: photo.name for photo in car.photos}
        self._odometer: tuple[OdometerReading, ...] = odometer_readings(car)
        self._words = car.plan.vocabulary
        self._parts = self._words.components()

    def named(self, digests: Iterable[str]) -> tuple[Named, ...]:
        """The photos, each once."""
        return tuple(Named(one, self._names[one]) for one in dict.fromkeys(digests) if one in self._names)

    def driven(self, day: date | None) -> float:
        """Kilometres driven since."""
        return driven_since(self._odometer, day) if day is not None else 0.0

    def part(self, component: str) -> str:
        """The part's name."""
        return self._parts[component].name if component in self._parts else component.replace("-", " ")

    def zone(self, component: str) -> str:
        """The name of the part's zone."""
        part = self._parts.get(component)
        return self._words.zones[part.zone].name if part is not None and part.zone in self._words.zones else ""
