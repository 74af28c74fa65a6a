"""The alignment's sums against a plain enumeration of every path on small cases."""

from __future__ import annotations

from itertools import product
from math import exp, isclose

from hypothesis import given, settings
from hypothesis import strategies as st

from lapseam.domain.alignment import Step, Stop, align

WEIGHT = st.floats(0.05, 1.0)


@st.composite
def cases(draw: st.DrawFn) -> tuple[list[Stop], list[Step], float, float]:
    legs = draw(st.lists(st.integers(1, 3), min_size=1, max_size=2))
    stops = [Stop(leg, draw(st.floats(0.1, 2.0))) for leg, size in enumerate(legs) for _ in range(size)]
    steps = []
    for _ in range(draw(st.integers(1, 3))):
        row = [draw(WEIGHT) for _ in stops]
        stay = [draw(WEIGHT) for _ in stops]
        back = [draw(WEIGHT) for _ in stops]
        rest = [draw(WEIGHT) for _ in range(7)]
        steps.append(Step(row, rest[0], rest[1], rest[2], rest[3], rest[4], stay, back, rest[5], rest[6]))
    return stops, steps, draw(st.floats(0.0, 1.0)), draw(st.floats(0.5, 4.0))


def enumerate_paths(
    stops: list[Stop], steps: list[Step], skip_first: float, skip_leg: float
) -> tuple[list[list[float]], list[list[float]]]:
    """Weights by following every path of places: ("on", stop), ("off", stop), ("start", leg)."""
    legs = 1 + max(stop.leg for stop in stops)
    members = [[i for i, stop in enumerate(stops) if stop.leg == leg] for leg in range(legs)]
    passing = [exp(-stop.skip) for stop in stops]

    def through(indices: list[int]) -> float:
        weight = 1.0
        for i in indices:
            weight *= passing[i]
        return weight

    def whole(leg: int) -> float:
        return max(through(members[leg]), exp(-skip_leg))

    def reach(leg: int, after: int | None, to: int) -> float:
        between = [i for i in members[leg] if (after is None or i > after) and i < to]
        return through(between) * (exp(-skip_first) if between else 1.0)

    def entering(last: tuple[str, int] | None, leg: int, step: Step) -> float:
        if last is None:
            weight = 1.0
            for passed in range(leg):
                weight *= whole(passed)
            return weight
        kind, where = last
        home = where if kind == "start" else stops[where].leg
        if leg <= home:
            return 0.0
        leave = step.go if kind == "on" else step.go_after_none
        rest = members[home] if kind == "start" else [i for i in members[home] if i > where]
        out = whole(home) if kind == "start" else max(through(rest), exp(-skip_leg))
        weight = leave * out * step.cross
        for passed in range(home + 1, leg):
            weight *= whole(passed)
        return weight

    def move(last: tuple[str, int] | None, place: tuple[str, int], step: Step) -> float:
        kind, to = place
        if kind == "start":
            again = step.loose_again if last == place else 0.0
            return step.none * (entering(last, to, step) * step.loose + again)
        if kind == "off":
            if last == ("on", to):
                return step.none * step.loose
            return step.none * step.loose_again if last == ("off", to) else 0.0
        leg = stops[to].leg
        weight = entering(last, leg, step) * reach(leg, None, to)
        if last is not None:
            was, where = last
            home = where if was == "start" else stops[where].leg
            if home == leg and was == "start":
                weight += step.go_after_none * step.same_leg * reach(leg, None, to)
            elif home == leg and where < to:
                leave = step.go if was == "on" else step.go_after_none
                weight += leave * step.same_leg * reach(leg, where, to)
            elif home == leg and where == to:
                weight += step.stay[to] if was == "on" else step.back[to]
        return step.fits[to] * weight

    places = [("on", i) for i in range(len(stops))] + [("off", i) for i in range(len(stops))]
    places += [("start", leg) for leg in range(legs)]
    on = [[0.0] * len(stops) for _ in steps]
    none = [[0.0] * legs for _ in steps]
    total = 0.0
    for path in product(places, repeat=len(steps)):
        weight, last = 1.0, None
        for step, place in zip(steps, path, strict=True):
            weight *= move(last, place, step)
            last = place
            if not weight:
                break
        total += weight
        for at, (kind, where) in enumerate(path):
            if kind == "on":
                on[at][where] += weight
            else:
                none[at][where if kind == "start" else stops[where].leg] += weight
    return [[x / total for x in row] for row in on], [[x / total for x in row] for row in none]


@settings(max_examples=40, deadline=None)
@given(cases())
def test_forward_and_backward_sums_equal_an_enumeration_of_all_paths(
    case: tuple[list[Stop], list[Step], float, float],
) -> None:
    stops, steps, skip_first, skip_leg = case
    on, none = enumerate_paths(stops, steps, skip_first, skip_leg)
    for at, weights in enumerate(align(stops, steps, skip_first=skip_first, skip_leg=skip_leg)):
        assert all(isclose(a, b, abs_tol=1e-9) for a, b in zip(weights.stops, on[at], strict=True))
        assert all(isclose(a, b, abs_tol=1e-9) for a, b in zip(weights.none, none[at], strict=True))
