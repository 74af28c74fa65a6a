"""The demo car's next edition as it would stand, without a workspace."""

from __future__ import annotations

from datetime import UTC, datetime

from fakes import demo_car
from lapseam.domain import coverage, edition, signoff
from lapseam.domain.car import Car
from lapseam.workflow.arranging import InTheMaking
from lapseam.workflow.signing import Review

MADE_AT = datetime(2026, 5, 14, 9, tzinfo=UTC)


def in_the_making(car: Car | None = None) -> InTheMaking:
    """The edition after none, unsigned, of the demo car or of another."""
    car = car or demo_car.noted()
    house = demo_car.house()
    covered = coverage.check(car)
    rules = signoff.judge(car, covered, house, today=MADE_AT.date())
    made = edition.build(car, covered, rules, house, number=1, made_at=MADE_AT, signed=None)
    return InTheMaking(Review(car, covered, rules, house, None), made)
