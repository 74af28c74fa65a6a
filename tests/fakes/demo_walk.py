"""The demo car as a record at several moments of its walk, built from the shipped files without a workspace."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from functools import cache

from fakes.demo_card import photos
from lapseam import places
from lapseam.domain.car import Car, car_from
from lapseam.domain.decision import CarDetails, FactAnswer, Placement, Tick
from lapseam.domain.plan import Plan
from lapseam.plans import load_plan, read_car_file, read_notes

BEGUN = datetime(2026, 5, 12, 8)
NOTED = datetime(2026, 5, 13, 9)
CLERK = "Mirek Osoba"


@cache
def full_plan() -> Plan:
    """The plan that ships for a closed car with a lift."""
    return load_plan(places.shot_plans() / "hardtop-full.yaml")


@cache
def new_car() -> Car:
    """The demo car with its facts answered and no photo yet."""
    plan = full_plan()
    file = read_car_file(places.demo_assets() / "facts.yaml", plan.vocabulary)
    details = CarDetails(by=CLERK, at=BEGUN, year=file.year, make=file.make, model=file.model, trim=file.trim)
    facts = [FactAnswer(fact, value, CLERK, BEGUN) for fact, value in file.facts.items()]
    return car_from(file.stock, plan, (), [details, *facts], revision=len(facts) + 1)


@cache
def noted_car() -> Car:
    """The demo car with its whole card and all that its people said."""
    fresh = replace(new_car(), photos=photos())
    notes = read_notes(places.demo_assets() / "notes.yaml", fresh, at=NOTED)
    return car_from(fresh.stock, fresh.plan, fresh.photos, [*fresh.decisions(), *notes.decisions], revision=500)


@cache
def until(setup: str) -> Car:
    """The demo car as it stood when that setup was about to be walked: later placements and ticks are not there yet."""
    car = noted_car()
    order = [one.id for one in car.plan.setups]
    before = set(order[: order.index(setup)])
    done = {shot.id for shot in car.plan.shots if shot.setup in before}

    def kept(decision: object) -> bool:
        return not isinstance(decision, Placement | Tick) or not decision.shot or decision.shot in done

    return car_from(car.stock, car.plan, car.photos, filter(kept, car.decisions()), revision=300)
