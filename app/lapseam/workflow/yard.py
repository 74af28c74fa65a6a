"""Verbs about cars as such: make one, name it, answer its facts, undo, redo, look back."""

from __future__ import annotations

from collections.abc import Mapping
from concurrent.futures import Future
from dataclasses import replace
from pathlib import Path
from typing import Any

from lapseam import plans
from lapseam.domain.admission import fact_value_objection, unknown
from lapseam.domain.car import Car, House
from lapseam.domain.changes import Changes, Entry
from lapseam.domain.condition import Value
from lapseam.domain.decision import CarDetails, Decision, FactAnswer
from lapseam.domain.errors import Mistake
from lapseam.domain.plan import FactAsked, Plan
from lapseam.storage import CarLine

from .office import Choice, Done, Drop, Office, typed_fact
from .shelf import read_plan

DETAILS: dict[str, type] = {
    "year": int,
    "make": str,
    "model": str,
    "trim": str,
    "colour": str,
    "interior": str,
    "serial": str,
    "odometer_reading": int,
    "odometer_unit": str,
    "odometer_digits": int,
    "odometer_status": str,
}
"""What the house may call a car, and what kind of word each is."""

UNKNOWN = "unknown"
"""The word that takes an answer back: the fact stands unanswered again."""


class Yard(Office):
    """Cars as such."""

    def cars(self) -> Future[tuple[CarLine, ...]]:
        """Every car of the workspace, one line each."""
        return self.runner.on_book(lambda: self._workspace.book.cars())

    def new_car(self, *, stock: str, plan: str, by: str, details: Mapping[str, Any] | None = None) -> Future[Done]:
        """Make a car under its stock number with its own copy of the plan (an id or a file)."""
        return self.runner.on_book(self._new_car, stock, plan, by, dict(details or {}))

    def car_from_file(self, *, path: Path, plan: str, by: str) -> Future[Done]:
        """Make a car from a car file: its details, serial, odometer and facts. Units and people go to the house."""
        return self.runner.on_book(self._car_from_file, path, plan, by)

    def save_house(self, *, house: House) -> Future[None]:
        """Write the house's settings."""
        return self.runner.on_book(self._workspace.save_house, house)

    def describe(self, *, stock: str, by: str, **details: Any) -> Future[Done]:
        """Change what the house calls the car: year, make, model, trim, colour, interior, serial, odometer."""

        def choose(car: Car) -> Choice:
            at = self.now()
            now = car.details or CarDetails(by=by, at=at)
            return (replace(now, by=by, at=at, **_known_details(details)),), (), f"Describe {stock}"

        return self._decide(stock, verb="describe", by=by, choose=choose, changes=Changes.CARS)

    def answer(self, *, stock: str, answers: Mapping[str, str | Value], by: str) -> Future[Done]:
        """Answer facts; the word 'unknown' takes an answer back."""

        def choose(car: Car) -> Choice:
            at = self.now()
            put: list[Decision] = []
            drop: list[Drop] = []
            for fact, value in answers.items():
                if value == UNKNOWN:
                    _asked(car, fact)
                    drop.append(Drop("fact", fact))
                else:
                    put.append(FactAnswer(fact, _fact_value(_asked(car, fact), value), by, at))
            return put, drop, "Answer " + ", ".join(answers)

        return self._decide(stock, verb="facts", by=by, choose=choose, changes=Changes.FACTS)

    def undo(self, *, stock: str, by: str) -> Future[Done]:
        """Take back the last step that can be taken back."""
        return self.runner.on_book(self._play, stock, by, back=True)

    def redo(self, *, stock: str, by: str) -> Future[Done]:
        """Do again what was last undone."""
        return self.runner.on_book(self._play, stock, by, back=False)

    def log(self, *, stock: str) -> Future[tuple[Entry, ...]]:
        """The car's journal, oldest first."""

        def read() -> tuple[Entry, ...]:
            self._car(stock)
            return self._workspace.book.log(stock)

        return self.runner.on_book(read)

    def _play(self, stock: str, by: str, *, back: bool) -> Done:
        self._car(stock)
        book = self._workspace.book
        entry = (book.undo if back else book.redo)(stock, by=by, at=self.now())
        return Done(Changes.EVERYTHING, entry, entry.words)

    def _new_car(self, stock: str, plan_name: str, by: str, details: dict[str, Any]) -> Done:
        plan = read_plan(self.folder, plan_name)
        return self._make(stock, plan, by, (CarDetails(by=by, at=self.now(), **_known_details(details)),))

    def _car_from_file(self, path: Path, plan_name: str, by: str) -> Done:
        plan = read_plan(self.folder, plan_name)
        file = plans.read_car_file(path, plan.vocabulary)
        at = self.now()
        done = self._make(file.stock, plan, by, (file.details(by, at), *file.answers(by, at)))
        if not self._workspace.house().name:
            self._workspace.save_house(file.house)
        return done

    def _make(self, stock: str, plan: Plan, by: str, first: tuple[Decision, ...]) -> Done:
        self.gate(first, Car(stock, plan))
        entry = self._workspace.book.new_car(
            stock, plans.dump_plan(plan), plans.digest(plan), plan.id, by=by, at=self.now(), decisions=first
        )
        return Done(Changes.CARS, entry, f"Car {stock} is made, with its own copy of the plan {plan.id}.")


def _known_details(details: Mapping[str, Any]) -> dict[str, Any]:
    for name in details:
        if name not in DETAILS:
            words = unknown(name, "detail of a car", DETAILS).capitalize()
            raise Mistake(words + ".", next_step="They are: " + ", ".join(DETAILS))
    return dict(details)


def _asked(car: Car, fact: str) -> FactAsked:
    facts = car.plan.vocabulary.facts
    if fact not in facts:
        raise Mistake(
            unknown(fact, "fact", facts).capitalize() + ".", next_step=f"List the facts with: lapseam facts {car.stock}"
        )
    return facts[fact]


def _fact_value(asked: FactAsked, said: str | Value) -> Value:
    """Read what a person typed as the kind of answer the fact wants."""
    value: Value = said
    if isinstance(said, str):
        value = typed_fact(asked, said.strip())
    if objection := fact_value_objection(asked, value):
        raise Mistake(objection + ".", next_step="Give one of the values, or 'unknown'.")
    return value
