"""The words coverage answers in: states, outcomes, and one value for each shot, component and place."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from .plan import Component, RustPlace, Shot


class State(StrEnum):
    """Where one shot, component proof or rust-prone place stands. `waived` is laid over a state, not one of them."""

    MISSED = "missed"
    TAKEN = "taken"
    PARTLY = "partly"
    COVERED = "covered"
    NOT_REACHABLE = "not-reachable"
    NOT_FITTED = "not-fitted"
    DECIDE = "decide"


class Outcome(StrEnum):
    """What is known of a component. No finding is not the same as nothing found."""

    NOTHING_FOUND = "nothing-found"
    FINDINGS = "findings"
    NOT_SEEN = "not-seen"


@dataclass(frozen=True, slots=True)
class ShotCoverage:
    """One shot of the plan that applies to the car, or may.

    `photos` are the frames on the shot (accepted first), `accepted` how many a person put there, `missing` what keeps
    it from covered, in words; `reason` one sentence for people; `waived` the waiver's reason and name, "" if none.
    """

    shot: Shot
    state: State
    photos: tuple[str, ...] = ()
    accepted: int = 0
    missing: tuple[str, ...] = ()
    reason: str = ""
    waived: str = ""
    asks: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class ComponentCoverage:
    """One component that the car has: its outcome, and for a rust-prone one whether both proof frames are there."""

    component: Component
    outcome: Outcome
    state: State
    shots: tuple[str, ...] = ()
    findings: tuple[int, ...] = ()
    reason: str = ""
    waived: str = ""


@dataclass(frozen=True, slots=True)
class PlaceCoverage:
    """One rust-prone place of this construction: the shots that prove it and where its proof stands."""

    place: RustPlace
    state: State
    shots: tuple[str, ...] = ()
    context: tuple[str, ...] = ()
    proof: tuple[str, ...] = ()
    reason: str = ""
    waived: str = ""
    asks: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Gap:
    """Something that is not covered, with what it costs. Sorted by `rank`, dearest first."""

    of: str
    subject: str
    words: str
    rank: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Coverage:
    """The whole answer. Shots stand in the plan's order, places and components in the vocabulary's."""

    shots: tuple[ShotCoverage, ...]
    components: tuple[ComponentCoverage, ...]
    places: tuple[PlaceCoverage, ...]
    unanswered: tuple[str, ...]
    gaps: tuple[Gap, ...]
