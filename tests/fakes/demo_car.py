"""The demo car with everything its people said about it: the shipped plan, card, facts and notes, no storage."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from functools import cache

from fakes import demo_card
from lapseam import places
from lapseam.domain.car import Car, House
from lapseam.plans import load_plan
from lapseam.plans.car_file import read_car_file
from lapseam.plans.notes import read_notes

MADE_AT = datetime(2026, 5, 14, 9, 30)


@cache
def bare() -> Car:
    """Plan, photos and facts; nobody has decided anything."""
    plan = load_plan(places.shot_plans() / "hardtop-full.yaml")
    told = read_car_file(places.demo_assets() / "facts.yaml", plan.vocabulary)
    car = Car(told.stock, plan, demo_card.photos())
    by, at = "Mirek Osoba", datetime(2026, 5, 12, 8)
    return car.with_decisions((told.details(by, at), *told.answers(by, at)))


@cache
def house() -> House:
    """The demo's house."""
    told = read_car_file(places.demo_assets() / "facts.yaml", bare().plan.vocabulary)
    return told.house


@cache
def noted() -> Car:
    """The same with its notes."""
    notes = read_notes(places.demo_assets() / "notes.yaml", bare(), at=datetime(2026, 5, 13, 17))
    return replace(bare().with_decisions(notes.decisions), revision=7)
