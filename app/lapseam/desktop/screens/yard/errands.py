"""Turns what a person wants in the Yard into workflow verbs."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject

from lapseam.domain.car import Car
from lapseam.domain.coverage import Coverage
from lapseam.workflow import Done, demo, shelf
from lapseam.workflow.yard import UNKNOWN

from ...words import _
from .new_car import NewCar
from .state import facts_screen, yard_screen
from .view import YardView

if TYPE_CHECKING:
    from ...front import Front


class YardErrands(QObject):
    """Wires a `YardView` to the desk."""

    def __init__(self, front: Front, view: YardView) -> None:
        super().__init__(view)
        self._front = front
        self._view = view
        self._cars: tuple[tuple[Car, Coverage], ...] = ()
        self._facts_of = ""
        view.walk_wanted.connect(front.open_walk)
        view.facts_wanted.connect(self.show_facts)
        view.new_car_wanted.connect(self._new_car)
        view.demo_wanted.connect(self._demo)
        view.answered.connect(self._answered)
        view.plans_wanted.connect(front.show_plans)
        self.offer_plans()

    def offer_plans(self) -> None:
        """Offer the plans that there are now to a new car."""
        found = shelf.plans_on_shelf(self._front.desk.folder)
        self._view.offer_plans(tuple((one.id, one.title) for one in found))

    @property
    def cars(self) -> int:
        """How many cars the yard shows."""
        return len(self._cars)

    def refresh(self, then: Callable[[], None] = lambda: None) -> None:
        """Show the yard as it is now."""

        def show(cars: tuple[tuple[Car, Coverage], ...]) -> None:
            self._cars = cars
            self._view.show_yard(yard_screen(cars))
            if self._facts_of:
                self.show_facts(self._facts_of, turn_to=False)
            then()

        self._front.bridge.when_done(self._front.desk.yard(), show)

    def show_facts(self, stock: str, *, turn_to: bool = True) -> None:
        """Open the facts of a car; without `turn_to` only bring them up to date where they are open."""
        found = next(((car, coverage) for car, coverage in self._cars if car.stock == stock), None)
        if found is None or (not turn_to and self._view.pages.currentWidget() is not self._view.facts):
            return
        self._facts_of = stock
        if turn_to:
            self._view.show_facts(facts_screen(*found))
        else:
            self._view.facts.show_facts(facts_screen(*found))

    def _new_car(self, form: NewCar) -> None:
        details = {"year": form.year, "make": form.make, "model": form.model}
        coming = self._front.desk.new_car(
            stock=form.stock,
            plan=form.plan,
            by=self._front.by,
            details={name: value for name, value in details.items() if value},
        )

        def made(_done: Done) -> None:
            self._view.show_cars()
            self.refresh(lambda: self.show_facts(form.stock))

        self._front.bridge.when_done(coming, made)

    def _demo(self) -> None:
        if any(car.stock == demo.STOCK for car, _coverage in self._cars):
            self._front.open_walk(demo.STOCK, "")
            return
        job = self._front.begin_job(_("Opening the demo car"))
        coming = demo.open_car(self._front.desk, progress=job.tell, stop=job.stop)
        self._front.bridge.when_done(
            coming, lambda stock: self.refresh(lambda: self._front.open_walk(stock, "")), finally_do=job.end
        )

    def _answered(self, stock: str, fact: str, value: object) -> None:
        said = UNKNOWN if value is None else value
        coming = self._front.desk.answer(stock=stock, answers={fact: said}, by=self._front.by)  # type: ignore[dict-item]
        self._front.bridge.when_done(coming, lambda _done: self._front.changed(stock))
