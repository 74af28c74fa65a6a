"""Order-keeping alignment of a row of frames with a row of stops, by dynamic programming over all ways at once.

A *stop* is a shot in shooting order; stops stand in *legs* (setups). Each frame either answers a stop or none. The
pointer never goes back. Forward and backward sums over all alignments (L. R. Rabiner, *A tutorial on hidden Markov
models*, Proc. IEEE 77(2), 1989, sections III.A and V.A for scaling) give, for every frame, the weight of each stop,
so a close second shows as a close second. Each step is linear in the number of stops.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import exp

Row = list[float]


@dataclass(frozen=True, slots=True)
class Stop:
    """One shot of a leg. `skip` is the cost of passing it without a frame."""

    leg: int
    skip: float


@dataclass(frozen=True, slots=True)
class Step:
    """What one frame says, as weights (1 = no objection, towards 0 = hardly).

    `fits` one weight a stop; `none` that the frame answers no stop; `none_in` limits that to one leg's pointer places.
    `go` and `go_after_none` leave the last stop for a later one of the same leg; `cross` enters a later leg;
    `stay` one weight a stop for a further frame on it, `back` the same with an unplaced frame in between;
    `loose` and `loose_again` an unplaced frame after a placed one (or first in a leg), and after an unplaced one.
    """

    fits: Sequence[float]
    none: float
    go: float
    go_after_none: float
    same_leg: float
    cross: float
    stay: Sequence[float]
    back: Sequence[float]
    loose: float
    loose_again: float
    none_in: int | None = None


@dataclass(frozen=True, slots=True)
class Weights:
    """For one frame: the share of all alignments in which it answers each stop, and none (by the pointer's leg)."""

    stops: tuple[float, ...]
    none: tuple[float, ...]


class _Track:
    """The stops laid out leg by leg, each leg with a place before its first stop (the leg begun, nothing answered)."""

    def __init__(self, stops: Sequence[Stop], skip_first: float, skip_leg: float) -> None:
        self.first = exp(-skip_first)
        legs = 1 + max((stop.leg for stop in stops), default=-1)
        self.leg_stops = [[i for i, stop in enumerate(stops) if stop.leg == leg] for leg in range(legs)]
        self.passing = [exp(-stop.skip) for stop in stops]
        floor = exp(-skip_leg)
        self.full: Row = []
        self.tail = [1.0] * len(stops)
        for members in self.leg_stops:
            through = 1.0
            for i in reversed(members):
                self.tail[i] = max(through, floor)
                through *= self.passing[i]
            self.full.append(max(through, floor))


@dataclass(slots=True)
class _Mass:
    """Weight by place: on a stop, unplaced with the pointer on a stop, unplaced before a leg's first stop."""

    on: Row
    off: Row
    start: Row

    def total(self) -> float:
        return sum(self.on) + sum(self.off) + sum(self.start)

    def scaled(self, by: float) -> _Mass:
        return _Mass([x * by for x in self.on], [x * by for x in self.off], [x * by for x in self.start])


def align(stops: Sequence[Stop], steps: Sequence[Step], *, skip_first: float, skip_leg: float) -> tuple[Weights, ...]:
    """Weights for every frame. `skip_first` is what the first of a row of passed stops costs more (an affine gap);
    `skip_leg` the most that passing a whole leg costs.

    A frame that nothing can explain (all its weights 0) raises ZeroDivisionError; callers keep every weight above 0.
    """
    track = _Track(stops, skip_first, skip_leg)
    size, legs = len(stops), len(track.full)
    mass = _Mass([0.0] * size, [0.0] * size, [0.0] * legs)
    ahead: list[_Mass] = []
    for place, step in enumerate(steps):
        mass = _forward(track, step, mass, 0.0 if place else 1.0)
        mass = mass.scaled(1.0 / mass.total())
        ahead.append(mass)
    after = _Mass([1.0] * size, [1.0] * size, [1.0] * legs)
    answers: list[Weights] = []
    for place in range(len(steps) - 1, -1, -1):
        answers.append(_weights(track, ahead[place], after))
        after = _backward(track, steps[place], after)
        after = after.scaled(1.0 / max(after.total(), 1e-300))
    return tuple(reversed(answers))


def _may(step: Step, leg: int) -> float:
    return step.none if step.none_in is None or step.none_in == leg else step.none * 1e-9


def _forward(track: _Track, step: Step, mass: _Mass, fresh: float) -> _Mass:
    """One frame further. `fresh` is weight that enters from before the first leg."""
    on, off, start = [0.0] * len(mass.on), [0.0] * len(mass.on), [0.0] * len(mass.start)
    carry = fresh
    for leg, members in enumerate(track.leg_stops):
        enter = carry * (1.0 if fresh else step.cross)
        leaving = mass.start[leg] * step.go_after_none
        run, passed = enter + leaving * step.same_leg, 0.0
        carry = carry * track.full[leg] + leaving * track.full[leg]
        none = _may(step, leg)
        for i in members:
            gone = mass.on[i] * step.go + mass.off[i] * step.go_after_none
            on[i] = step.fits[i] * (run + passed + mass.on[i] * step.stay[i] + mass.off[i] * step.back[i])
            off[i] = none * (mass.on[i] * step.loose + mass.off[i] * step.loose_again)
            passed = (passed + run * track.first) * track.passing[i]
            run = gone * step.same_leg
            carry += gone * track.tail[i]
        start[leg] = none * (enter * step.loose + mass.start[leg] * step.loose_again)
    return _Mass(on, off, start)


def _backward(track: _Track, step: Step, after: _Mass) -> _Mass:
    """The transpose of `_forward`: from the weights after a frame to those before it."""
    on, off, start = [0.0] * len(after.on), [0.0] * len(after.on), [0.0] * len(after.start)
    carry = 0.0
    for leg in range(len(track.leg_stops) - 1, -1, -1):
        none, run, passed = _may(step, leg), 0.0, 0.0
        for i in reversed(track.leg_stops[leg]):
            gone = run * step.same_leg + carry * track.tail[i]
            here, loose = step.fits[i] * after.on[i], none * after.off[i]
            on[i] = gone * step.go + here * step.stay[i] + loose * step.loose
            off[i] = gone * step.go_after_none + here * step.back[i] + loose * step.loose_again
            passed = passed * track.passing[i]
            run = here + passed * track.first
            passed += here
        begun = none * after.start[leg]
        start[leg] = (run * step.same_leg + carry * track.full[leg]) * step.go_after_none + begun * step.loose_again
        carry = carry * track.full[leg] + (run + begun * step.loose) * step.cross
    return _Mass(on, off, start)


def _weights(track: _Track, before: _Mass, after: _Mass) -> Weights:
    stops = [x * y for x, y in zip(before.on, after.on, strict=True)]
    none = []
    for leg, members in enumerate(track.leg_stops):
        none.append(before.start[leg] * after.start[leg] + sum(before.off[i] * after.off[i] for i in members))
    total = sum(stops) + sum(none)
    return Weights(tuple(x / total for x in stops), tuple(x / total for x in none))
