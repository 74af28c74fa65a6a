"""The Yard as a value: all cars, and the facts of one with "unknown" as a proper answer. No Qt here."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from lapseam.domain.car import Car
from lapseam.domain.coverage import Coverage
from lapseam.domain.plan import FactKind, Plan

from ...ribbon import Ribbon, is_open, lap_ribbon
from ...words import _, _n
from ..walk.questions import Question, question_of
from ..walk.state import shot_to_resume


@dataclass(frozen=True, slots=True)
class CarCard:
    """One car of the yard: what it is, how its walk stands, and where one goes on."""

    stock: str
    title: str
    plan: str
    ribbon: Ribbon
    headline: str
    resume_shot: str
    resume_words: str

    @property
    def words(self) -> str:
        """For a screen reader."""
        parts = (self.stock, self.title, self.headline, self.resume_words)
        return ", ".join(part for part in parts if part)


@dataclass(frozen=True, slots=True)
class YardScreen:
    """All cars, those with open shots first. Without a car, `empty` says what to do."""

    headline: str
    cars: tuple[CarCard, ...]
    empty: tuple[str, str] = ("", "")


@dataclass(frozen=True, slots=True)
class FactRow:
    """One fact as a question, and how many shots wait for its answer."""

    question: Question
    waiting: int

    @property
    def waiting_words(self) -> str:
        """Why the answer matters, "" where nothing waits for it."""
        return _n("{n} shot waits for this", "{n} shots wait for this", self.waiting) if self.waiting else ""


@dataclass(frozen=True, slots=True)
class FactsScreen:
    """The facts of one car: those that shots wait for first, then unanswered ones, then the rest; long lists last."""

    stock: str
    headline: str
    rows: tuple[FactRow, ...]


def yard_screen(cars: Iterable[tuple[Car, Coverage]]) -> YardScreen:
    """The yard of these cars with how their walks stand."""
    cards = sorted((car_card(car, coverage) for car, coverage in cars), key=lambda card: card.ribbon.open == 0)
    if not cards:
        empty = (
            _("No car here yet."),
            _("Make the first one, or open the demo car to see a walk half done."),
        )
        return YardScreen(_("Yard"), (), empty)
    return YardScreen(_n("{n} car", "{n} cars", len(cards)), tuple(cards))


def car_card(car: Car, coverage: Coverage) -> CarCard:
    """One car's card."""
    ribbon = lap_ribbon(car.plan, coverage)
    shot_id = shot_to_resume(car, coverage)
    shot = car.plan.shot(shot_id)
    title = car.details.title if car.details else ""
    if shot is None or ribbon.open == 0:
        resume = _("Walk complete") if coverage.shots else ""
    elif car.placements:
        resume = _("Go on at: {shot}").format(shot=shot.title)
    else:
        resume = _("Begin at: {shot}").format(shot=shot.title)
    return CarCard(car.stock, title or _("Not named yet"), car.plan.title, ribbon, ribbon.words, shot_id, resume)


def car_words(car: Car) -> str:
    """A car in the head of the window: year, make and model, else its stock number."""
    return (car.details.title if car.details else "") or car.stock


def facts_screen(car: Car, coverage: Coverage) -> FactsScreen:
    """The facts that the car's plan asks, and any other that was answered."""
    rows = []
    asked = asked_facts(car.plan)
    for fact in car.plan.vocabulary.facts:
        question = question_of(car, fact)
        if question is not None and (fact in asked or question.answer is not None):
            rows.append(FactRow(question, sum(1 for line in coverage.shots if is_open(line) and fact in line.asks)))
    rows.sort(key=lambda row: (row.question.kind is FactKind.LIST, -row.waiting, row.question.answer is not None))
    unanswered = sum(1 for row in rows if row.question.answer is None)
    headline = (
        _n("{n} fact not answered", "{n} facts not answered", unanswered) if unanswered else _("Every fact answered")
    )
    return FactsScreen(car.stock, headline, tuple(rows))


def asked_facts(plan: Plan) -> frozenset[str]:
    """The facts that some condition of a plan or of its vocabulary's zones, places and checks hangs on."""
    words = plan.vocabulary
    parts = (part for zone in words.zones.values() for part in zone.components)
    asking = (*plan.shots, *words.zones.values(), *parts, *words.rust_places.values(), *words.checks.values())
    shown = {shot.zone for shot in plan.shots}
    conditions = [one.when for one in asking if getattr(one, "zone", None) in (None, *shown)]
    return frozenset(name for when in (*conditions, plan.applies) if when is not None for name in when.names())
