"""How far a plan reaches: which of its shots show which component, what it proves, and what no shot shows.

A rust-prone component or place is *proved* by a rust-prone shot with a closest distance: only such a shot asks for the
context and the close frame. Anything that some shot names is *shown*. For a car whose facts are known, what the car
does not have is left out and an unanswered fact keeps everything that hangs on it; without facts the answer is for
every car that the plan is made for.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from enum import StrEnum

from .condition import Condition, Facts
from .plan import Component, Media, Need, Plan, RustPlace, Shot
from .possible import can_hold


class Reached(StrEnum):
    """What the plan does for a component or a rust-prone place."""

    PROVED = "proved"
    SHOWN = "shown"
    NOT_SHOWN = "not-shown"


@dataclass(frozen=True, slots=True)
class ComponentReach:
    """One component that the car has or may have.

    Attributes:
        shots: every shot that shows it, in shooting order.
        proofs: those that prove it, if it is rust-prone.
        only_where: the conditions of its shots where every one of them has a condition: elsewhere nothing shows it.
    """

    component: Component
    reached: Reached
    shots: tuple[str, ...] = ()
    proofs: tuple[str, ...] = ()
    only_where: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class PlaceReach:
    """One rust-prone place that the car has or may have, with the shots that prove it."""

    place: RustPlace
    reached: Reached
    shots: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Totals:
    """What a plan comes to: `frames` is the sum of the least numbers of frames, `minutes` that of its setups."""

    shots: int
    required: int
    conditional: int
    optional: int
    clips: int
    frames: int
    minutes: int
    rust_shots: int
    rust_places: int
    rust_places_proved: int


@dataclass(frozen=True, slots=True)
class Reach:
    """The table of a plan: components in the order of their zones, rust-prone places, and the totals."""

    plan: str
    components: tuple[ComponentReach, ...]
    places: tuple[PlaceReach, ...]
    totals: Totals

    def not_shown(self) -> tuple[Component, ...]:
        """The components that no shot shows."""
        return tuple(one.component for one in self.components if one.reached is Reached.NOT_SHOWN)

    def not_proved(self) -> tuple[RustPlace, ...]:
        """The rust-prone places that no shot proves."""
        return tuple(one.place for one in self.places if one.reached is not Reached.PROVED)


def reach(plan: Plan, facts: Facts | None = None) -> Reach:
    """What the plan shows and proves: of a car with those facts, or of every car it is made for."""
    can_be = _question(plan, facts)
    shots = _shots(plan, can_be)
    places = _places(plan, can_be, shots)
    return Reach(plan.id, _components(plan, can_be, shots, facts), places, _totals(plan, shots, places))


def totals(plan: Plan, facts: Facts | None = None) -> Totals:
    """What the plan comes to: on a car with those facts, or on every car it is made for."""
    can_be = _question(plan, facts)
    shots = _shots(plan, can_be)
    return _totals(plan, shots, _places(plan, can_be, shots))


_CanBe = Callable[..., bool]


def _question(plan: Plan, facts: Facts | None) -> _CanBe:
    """Whether all conditions can be true together, on some car with those facts that the plan is made for.

    A car that the plan is not made for is asked all the same: then the table says what the plan would do for it.
    """
    asked = plan.vocabulary.facts
    meant = plan.applies if can_hold([plan.applies], asked, facts) else None

    def can_be(*conditions: Condition | None) -> bool:
        return can_hold([meant, *conditions], asked, facts)

    return can_be


def _shots(plan: Plan, can_be: _CanBe) -> tuple[Shot, ...]:
    zones = plan.vocabulary.zones
    return tuple(shot for shot in plan.shots if can_be(zones[shot.zone].when, shot.when))


def _proving(shot: Shot) -> bool:
    return shot.rust and shot.close_m is not None


def _components(plan: Plan, can_be: _CanBe, shots: tuple[Shot, ...], facts: Facts | None) -> tuple[ComponentReach, ...]:
    words = plan.vocabulary
    sound = words.words.get("skin_only_rust", ()) if (facts or {}).get("skin") in ("composite", "aluminium") else ()
    showing: dict[str, list[Shot]] = {}
    for shot in shots:
        for name in dict.fromkeys(shot.components):
            showing.setdefault(name, []).append(shot)
    found = []
    for part in words.components().values():
        if can_be(words.zones[part.zone].when, part.when):
            found.append(_component(part, showing.get(part.id, []), rusts=part.rust and part.id not in sound))
    return tuple(found)


def _component(part: Component, shots: list[Shot], *, rusts: bool) -> ComponentReach:
    proofs = tuple(shot.id for shot in shots if _proving(shot)) if rusts else ()
    reached = Reached.PROVED if proofs else Reached.SHOWN if shots else Reached.NOT_SHOWN
    where = [shot.when.text for shot in shots if shot.when is not None]
    only = tuple(dict.fromkeys(where)) if shots and len(where) == len(shots) else ()
    return ComponentReach(part, reached, tuple(shot.id for shot in shots), proofs, only)


def _places(plan: Plan, can_be: _CanBe, shots: tuple[Shot, ...]) -> tuple[PlaceReach, ...]:
    words = plan.vocabulary
    parts: Mapping[str, Component] = words.components()
    by_id = {shot.id: shot for shot in shots}
    found = []
    for place in words.rust_places.values():
        own = next((parts[part] for part in place.components if part in parts), None)
        if own is None or not can_be(words.zones[own.zone].when, own.when, place.when):
            continue
        named = [by_id[shot] for shot in place.shots if shot in by_id]
        proved = any(_proving(shot) for shot in named)
        reached = Reached.PROVED if proved else Reached.SHOWN if named else Reached.NOT_SHOWN
        found.append(PlaceReach(place, reached, tuple(shot.id for shot in named)))
    return tuple(found)


def _totals(plan: Plan, shots: tuple[Shot, ...], places: tuple[PlaceReach, ...]) -> Totals:
    used = {shot.setup for shot in shots}
    needs = [shot.need for shot in shots]
    return Totals(
        shots=len(shots),
        required=needs.count(Need.REQUIRED),
        conditional=needs.count(Need.CONDITIONAL),
        optional=needs.count(Need.OPTIONAL),
        clips=sum(shot.media is Media.VIDEO for shot in shots),
        frames=sum(shot.count for shot in shots),
        minutes=sum(setup.minutes for setup in plan.setups if setup.id in used),
        rust_shots=sum(shot.rust for shot in shots),
        rust_places=len(places),
        rust_places_proved=sum(one.reached is Reached.PROVED for one in places),
    )
