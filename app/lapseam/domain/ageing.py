"""Ageing: how old a piece of evidence is on a day, whether that is too old to be read out, and what renews it.

What was looked at goes stale by days and by distance driven, what was run or tested by days, as the house sets both
(common practice: 90 days or 500 km, and 60 days). Paper does not age. Nor does hearsay: time makes it no worse, and
only a paper, a look or a test makes it better. What the record cannot know, such as a winter outdoors, is not judged.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from math import isfinite
from typing import Final

from .car import Car, House
from .finding import Finding
from .statement import Basis, CheckResult, CheckVerdict, Evidence, Measurement, Statement

KM_PER_MILE: Final = 1.609344
"""Exact: the international mile."""
ODOMETER: Final = "m-odometer"
RUN_MEASURES: Final = frozenset(("m-battery-rest", "m-battery-charge", "m-drip-count"))
"""Readings that belong to a run or a stand and go stale as tests do."""

OdometerReading = tuple[date, float]
"""A day and what the odometer showed, in kilometres."""


class Lasting(StrEnum):
    """How a piece of evidence ages: as a look, as a test, or not at all (paper, hearsay, what nobody did yet)."""

    LOOK = "look"
    READING = "reading"
    RUN = "run"
    PAPER = "paper"
    WORD = "word"
    OPEN = "open"


_RENEW: Final = {
    Lasting.LOOK: "look at it again and take a new photo",
    Lasting.READING: "measure it again",
    Lasting.RUN: "test it again",
    Lasting.PAPER: "",
    Lasting.WORD: "a paper, a look or a test would prove it",
    Lasting.OPEN: "have it looked at or tested",
}


@dataclass(frozen=True, slots=True)
class Age:
    """The age of one piece of evidence on a day.

    `days` is None where no day is on file; `driven_km` is what the odometer moved since, as far as readings tell;
    `words` say the age and, if it is too old, by which setting; `renew` says what would make it fresh, "" for nothing.
    """

    days: int | None
    driven_km: float
    stale: bool
    words: str
    renew: str


def age(how: Lasting, day: date | None, *, today: date, house: House, driven_km: float = 0.0) -> Age:
    """How old evidence of `day` is on `today`, by the house's settings."""
    if day is None:
        undated = how in (Lasting.LOOK, Lasting.READING, Lasting.RUN)
        return Age(None, driven_km, undated, "no day is on file" if undated else "", _RENEW[how])
    days = (today - day).days
    reasons = []
    if days < 0:
        reasons.append(f"its day, {day.isoformat()}, is still to come")
    limit = house.stale_check_days if how is Lasting.RUN else house.stale_photo_days
    ages = how in (Lasting.LOOK, Lasting.READING, Lasting.RUN)
    if ages and days > limit:
        reasons.append(f"older than {limit} days")
    if how in (Lasting.LOOK, Lasting.READING) and driven_km > house.stale_km:
        reasons.append(f"{driven_km:.0f} km were driven since")
    words = ", ".join((_ago(days), *reasons)) if days >= 0 else reasons[0]
    return Age(days, driven_km, bool(reasons), words, _RENEW[how])


def _ago(days: int) -> str:
    return "today" if days == 0 else "yesterday" if days == 1 else f"{days} days ago"


def lasting_of(thing: Finding | CheckResult | Measurement | Statement | Evidence) -> Lasting:
    """How a finding, check, measurement, statement or its evidence ages."""
    if isinstance(thing, CheckResult):
        if thing.verdict is CheckVerdict.NOT_TESTED:
            return Lasting.OPEN
        return Lasting.LOOK if thing.verdict is CheckVerdict.NOT_FITTED else Lasting.RUN
    if isinstance(thing, Measurement):
        return Lasting.RUN if thing.measure in RUN_MEASURES else Lasting.READING
    evidence = thing if isinstance(thing, Evidence) else thing.evidence
    return _BY_BASIS[evidence.basis]


_BY_BASIS: Final = {
    Basis.SEEN: Lasting.LOOK,
    Basis.MEASURED: Lasting.READING,
    Basis.TESTED: Lasting.RUN,
    Basis.DOCUMENTED: Lasting.PAPER,
    Basis.TOLD: Lasting.WORD,
    Basis.NOT_CHECKED: Lasting.OPEN,
}


def day_of(thing: Finding | CheckResult | Measurement | Statement) -> date:
    """The day the evidence is of. A paper's own date is words and stands in its basis; here is the day it was read."""
    on = thing.on if isinstance(thing, CheckResult | Measurement) else thing.evidence.on
    return on or thing.at.date()


def age_of(thing: Finding | CheckResult | Measurement | Statement, car: Car, *, today: date, house: House) -> Age:
    """The age of one thing in a car's record."""
    day = day_of(thing)
    driven = driven_since(odometer_readings(car), day)
    return age(lasting_of(thing), day, today=today, house=house, driven_km=driven)


def odometer_readings(car: Car) -> tuple[OdometerReading, ...]:
    """The car's odometer readings that can be read as a number, oldest first."""
    return tuple(sorted(found for one in car.measurements if (found := _odometer(one)) is not None))


def driven_since(readings: Sequence[OdometerReading], day: date) -> float:
    """Kilometres between the last odometer reading up to `day` (else the first after it) and the last of all.

    Never below zero: an odometer that went round or was changed tells no distance.
    """
    if len(readings) < 2:
        return 0.0
    before = [km for when, km in readings if when <= day]
    return max(0.0, readings[-1][1] - (before[-1] if before else readings[0][1]))


def _odometer(measurement: Measurement) -> OdometerReading | None:
    if measurement.measure != ODOMETER or not measurement.readings:
        return None
    reading = measurement.readings[-1]
    try:
        value = float(reading.value.replace(" ", "").replace(",", ""))
    except ValueError:
        return None
    if not isfinite(value):
        return None
    return measurement.on or measurement.at.date(), value * (KM_PER_MILE if reading.unit == "mi" else 1.0)
