"""What of a plan applies to a car: every condition answered over the car's facts, with unknown kept unknown."""

from __future__ import annotations

from .car import Car
from .condition import Answer, Condition
from .plan import CheckAsked, Component, RustPlace, Shot, Zone

_ALWAYS = Answer(True)


def all_of(*answers: Answer) -> Answer:
    """Kleene's `and`: one false makes it false, else one unknown makes it unknown, asking all that is unknown."""
    if any(answer.holds is False for answer in answers):
        return Answer(False)
    asks = tuple(dict.fromkeys(fact for answer in answers if answer.holds is None for fact in answer.asks))
    return Answer(None, asks) if any(answer.holds is None for answer in answers) else _ALWAYS


class Applicability:
    """Answers for one car. Holds no state but the facts and the plan; ask it as often as you like."""

    def __init__(self, car: Car) -> None:
        self._facts = car.fact_values()
        self._words = car.plan.vocabulary
        self._plan = car.plan

    def plan(self) -> Answer:
        """Whether the plan is meant for this car at all."""
        return self._of(self._plan.applies)

    def shot(self, shot: Shot) -> Answer:
        """A shot applies where its own condition and its zone's hold."""
        return all_of(self._zone(shot.zone), self._of(shot.when))

    def zone(self, zone: Zone) -> Answer:
        """Whether the car has this zone."""
        return self._of(zone.when)

    def component(self, component: Component) -> Answer:
        """The car has a component where its own condition and its zone's hold."""
        return all_of(self._zone(component.zone), self._of(component.when))

    def check(self, check: CheckAsked) -> Answer:
        """A function check applies where its own condition and its zone's hold."""
        return all_of(self._zone(check.zone), self._of(check.when))

    def place(self, place: RustPlace) -> Answer:
        """A rust-prone place applies where its condition holds and the car has the part it is on.

        That is the first component the place names; the others are neighbours that its frames show too. A seam under a
        vinyl covering is no place of a car without one, though that car has a roof.
        """
        known = self._words.components()
        own = next((known[part] for part in place.components if part in known), None)
        return Answer(False) if own is None else all_of(self._of(place.when), self.component(own))

    def skin_only(self) -> frozenset[str]:
        """Components that cannot rust on this car: skin parts of a composite or aluminium skin.

        The list is the vocabulary's word list `skin_only_rust`. An unanswered skin keeps every rust flag.
        """
        if self._facts.get("skin") in ("composite", "aluminium"):
            return frozenset(self._words.words.get("skin_only_rust", ()))
        return frozenset()

    def unanswered(self) -> tuple[str, ...]:
        """Facts that some condition of the plan or its vocabulary still hangs on, in the vocabulary's order."""
        words = self._words
        answers = [
            self.plan(),
            *(self.zone(zone) for zone in words.zones.values()),
            *(self.shot(shot) for shot in self._plan.shots),
            *(self.component(part) for part in words.components().values()),
            *(self.place(place) for place in words.rust_places.values()),
            *(self.check(check) for check in words.checks.values()),
        ]
        asked = dict.fromkeys(fact for answer in answers for fact in answer.asks)
        listed = [fact for fact in words.facts if fact in asked]
        return (*listed, *(fact for fact in asked if fact not in words.facts))

    def _zone(self, zone_id: str) -> Answer:
        zone = self._words.zones.get(zone_id)
        return _ALWAYS if zone is None else self._of(zone.when)

    def _of(self, condition: Condition | None) -> Answer:
        return _ALWAYS if condition is None else condition.answer(self._facts)
