"""The plain car's lines, drawn by us in metres: from above (x, y), from its left (x, z) and from behind (y, z)."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from math import cos, pi, sin

from .drawing import Path, Point, Role, joined, line, oval, smooth
from .plain_car import PROPORTIONS, BodyForm, Proportions

Lines = tuple[Path, ...]


def from_above(form: BodyForm, *, inside: bool = False) -> Lines:
    """The outline, the glass and the seams; with seats and wheel where the camera is `inside`."""
    size = PROPORTIONS[form]
    if form is BodyForm.MOTORCYCLE:
        return _cycle_from_above(size)
    outline = _car_outline(size)
    lines = [outline, *_lamps_and_mirrors(size), *_glass_from_above(form, size)]
    return (*lines, *(_seats(form, size) if inside else ()))


def from_left(form: BodyForm) -> Lines:
    """The profile with its wheels, the nose towards +x."""
    size = PROPORTIONS[form]
    if form is BodyForm.MOTORCYCLE:
        return _cycle_from_left(size)
    upper = _UPPER[form](size)
    profile = joined(smooth(Role.OUTLINE, upper), _lower(size, upper[-1], upper[0]))
    return (profile, *_wheels(size), *_DETAILS[form](size))


def from_behind(form: BodyForm) -> Lines:
    """The cross-section with wheels and rear glass."""
    size = PROPORTIONS[form]
    if form is BodyForm.MOTORCYCLE:
        return _cycle_from_behind(size)
    half, belt, roof = size.half_width, size.belt, size.roof
    low = size.floor - 0.02
    right = [(half * 0.84, low), (half, low + 0.25), (half, belt - 0.12), (half * 0.93, belt)]
    top = [] if form is BodyForm.OPEN else [(half * 0.68, roof - 0.07), (half * 0.5, roof)]
    side = [*right, *top]
    outline = smooth(Role.OUTLINE, [*side, *((-y, z) for y, z in reversed(side))], closed=True)
    wheel = [
        line(Role.OUTLINE, *_box((s * half * 0.74, s * half * 0.96), (0.0, low + 0.06)), closed=True) for s in (1, -1)
    ]
    glass = [(half * 0.78, belt + 0.03), (half * 0.6, roof - 0.1)]
    window = line(Role.FINE, *glass, *((-y, z) for y, z in reversed(glass)), closed=True)
    bumper = line(Role.FINE, (-half * 0.92, low + 0.24), (half * 0.92, low + 0.24))
    return (outline, *wheel, window, bumper)


def _box(h: Point, v: Point) -> tuple[Point, ...]:
    return (h[0], v[0]), (h[1], v[0]), (h[1], v[1]), (h[0], v[1])


def _mirrored(points: Iterable[Point]) -> list[Point]:
    return [(x, -y) for x, y in points]


def _car_outline(size: Proportions) -> Path:
    """A rounded box that narrows a little towards both ends."""
    half = size.half_width
    side = [
        (size.nose, 0.32 * half),
        (size.nose - 0.06, 0.7 * half),
        (size.nose - 0.26, 0.88 * half),
        (size.front_axle, 0.98 * half),
        (size.latch_post, half),
        (size.rear_axle, 0.99 * half),
        (size.tail + 0.26, 0.88 * half),
        (size.tail + 0.06, 0.7 * half),
        (size.tail, 0.32 * half),
    ]
    return smooth(Role.OUTLINE, [*side, *_mirrored(reversed(side))], closed=True)


def _lamps_and_mirrors(size: Proportions) -> Iterable[Path]:
    half = size.half_width
    for side in (1, -1):
        yield oval(Role.FINE, (size.nose - 0.13, side * 0.66 * half), 0.07, 0.11)
        yield line(
            Role.FINE,
            (size.cowl - 0.08, side * half),
            (size.cowl - 0.16, side * (half + 0.14)),
            (size.cowl - 0.26, side * (half + 0.12)),
            (size.cowl - 0.24, side * half),
        )


def _arc(x: float, bow: float, half: float) -> Path:
    """Across the car at x, bowed towards the nose by `bow` in the middle."""
    return smooth(
        Role.FINE, [(x, half), (x + 0.75 * bow, 0.5 * half), (x + bow, 0), (x + 0.75 * bow, -0.5 * half), (x, -half)]
    )


def _glass_from_above(form: BodyForm, size: Proportions) -> Iterable[Path]:
    half, cowl = size.half_width, size.cowl
    top, rear_top, rear = _roof_ends(form, size)
    yield _arc(cowl, 0.1, 0.74 * half)
    yield _arc(top, 0.08, 0.62 * half)
    for side in (1, -1):
        yield line(Role.FINE, (cowl, side * 0.74 * half), (top, side * 0.62 * half))
        yield line(Role.FINE, (cowl + 0.08, side * 0.76 * half), (size.nose - 0.24, side * 0.66 * half))
    if form is BodyForm.OPEN:
        yield smooth(
            Role.FINE, [(cowl, 0.78 * half), (size.latch_post, 0.8 * half), (rear, 0.62 * half), (rear - 0.06, 0)]
        )
        yield smooth(
            Role.FINE, [(cowl, -0.78 * half), (size.latch_post, -0.8 * half), (rear, -0.62 * half), (rear - 0.06, 0)]
        )
        return
    yield _arc(rear_top, -0.06, 0.58 * half)
    yield _arc(rear, -0.1, 0.68 * half)
    for side in (1, -1):
        yield line(Role.FINE, (top, side * 0.62 * half), (rear_top, side * 0.58 * half), (rear, side * 0.68 * half))
    if form is BodyForm.PICKUP:
        bed = _box((size.tail + 0.1, rear - 0.16), (-0.76 * half, 0.76 * half))
        yield line(Role.FINE, *bed, closed=True)


def _roof_ends(form: BodyForm, size: Proportions) -> tuple[float, float, float]:
    """Where the windshield's top, the rear glass's top and its base are, along x."""
    top = size.cowl - 0.54
    if form is BodyForm.PICKUP:
        return top, size.latch_post - 0.3, size.latch_post - 0.42
    if form is BodyForm.WAGON:
        return top, size.tail + 0.42, size.tail + 0.2
    if form is BodyForm.OPEN:
        return size.cowl - 0.4, 0.0, size.rear_axle - 0.15
    return top, size.rear_axle + 0.46, size.rear_axle - 0.12


def _seats(form: BodyForm, size: Proportions) -> Iterable[Path]:
    x, half = size.latch_post + 0.2, size.half_width
    for side in (1, -1):
        seat = _box((x - 0.28, x + 0.3), (side * 0.16 * half, side * 0.66 * half))
        yield line(Role.FINE, *seat, closed=True)
        yield line(Role.FINE, (x - 0.18, side * 0.16 * half), (x - 0.18, side * 0.66 * half))
    if form is not BodyForm.PICKUP:
        yield line(Role.FINE, *_box((x - 1.02, x - 0.5), (-0.64 * half, 0.64 * half)), closed=True)
    yield oval(Role.FINE, (size.cowl - 0.58, 0.41 * half), 0.07, 0.18)
    yield line(Role.FINE, (size.cowl - 0.42, 0.72 * half), (size.cowl - 0.36, -0.72 * half))


def _upper_closed(size: Proportions) -> list[Point]:
    return [
        *_front_end(size),
        (size.cowl - 0.3, size.roof - 0.14),
        (size.cowl - 0.6, size.roof - 0.01),
        (size.latch_post - 0.05, size.roof),
        (size.rear_axle + 0.42, size.roof - 0.08),
        (size.rear_axle, size.belt + 0.18),
        (size.rear_axle - 0.2, size.belt + 0.05),
        (size.tail + 0.14, size.belt - 0.02),
        *_rear_end(size, size.belt),
    ]


def _upper_open(size: Proportions) -> list[Point]:
    return [
        *_front_end(size),
        (size.cowl - 0.06, size.belt + 0.03),
        (size.latch_post, size.belt - 0.02),
        (size.rear_axle, size.belt + 0.02),
        (size.tail + 0.18, size.belt - 0.04),
        *_rear_end(size, size.belt),
    ]


def _upper_pickup(size: Proportions) -> list[Point]:
    back = size.latch_post - 0.42
    return [
        *_front_end(size),
        (size.cowl - 0.3, size.roof - 0.18),
        (size.cowl - 0.56, size.roof - 0.02),
        (size.latch_post, size.roof),
        (back + 0.06, size.roof - 0.06),
        (back, size.belt + 0.3),
        (back - 0.02, size.belt + 0.04),
        (back - 0.06, size.belt + 0.02),
        (size.tail + 0.3, size.belt + 0.02),
        (size.tail + 0.06, size.belt + 0.02),
        *_rear_end(size, size.belt),
    ]


def _upper_wagon(size: Proportions) -> list[Point]:
    return [
        *_front_end(size),
        (size.cowl - 0.3, size.roof - 0.16),
        (size.cowl - 0.6, size.roof - 0.01),
        (size.latch_post, size.roof + 0.01),
        (size.tail + 0.5, size.roof - 0.03),
        (size.tail + 0.26, size.roof - 0.1),
        (size.tail + 0.1, size.belt + 0.06),
        *_rear_end(size, size.belt),
    ]


_UPPER: dict[BodyForm, Callable[[Proportions], list[Point]]] = {
    BodyForm.CLOSED: _upper_closed,
    BodyForm.OPEN: _upper_open,
    BodyForm.PICKUP: _upper_pickup,
    BodyForm.WAGON: _upper_wagon,
}


def _front_end(size: Proportions) -> list[Point]:
    low, belt = size.floor, size.belt
    return [
        (size.nose - 0.1, low + 0.02),
        (size.nose, low + 0.2),
        (size.nose - 0.05, belt - 0.18),
        (size.nose - 0.26, belt - 0.08),
        (size.front_axle, belt - 0.02),
        (size.cowl, belt + 0.02),
    ]


def _rear_end(size: Proportions, belt: float) -> list[Point]:
    low = size.floor
    return [(size.tail + 0.02, belt - 0.2), (size.tail, low + 0.22), (size.tail + 0.12, low + 0.04)]


def _lower(size: Proportions, start: Point, end: Point) -> Path:
    """From the tail along the sill to the nose, over both wheels."""
    reach, sill = size.wheel_radius + 0.07, size.floor
    points: list[Point] = [start]
    for axle in (size.rear_axle, size.front_axle):
        turns = range(10, -1, -1)
        points.append((axle - reach, sill))
        points += [
            (axle + reach * cos(pi * turn / 10), sill + (size.wheel_radius * 1.34) * sin(pi * turn / 10))
            for turn in turns
        ]
    return line(Role.OUTLINE, *points, end)


def _wheels(size: Proportions) -> Iterable[Path]:
    radius = size.wheel_radius
    for axle in (size.front_axle, size.rear_axle):
        yield oval(Role.OUTLINE, (axle, radius), radius, radius)
        yield oval(Role.FINE, (axle, radius), radius * 0.55, radius * 0.55)


def _glass_from_left(form: BodyForm, size: Proportions, foot: float) -> Iterable[Path]:
    """The side glass above the belt line, from the windshield to `foot`, and the doors' edges."""
    top, rear_top, _rear = _roof_ends(form, size)
    belt, high = size.belt + 0.03, size.roof - 0.09
    yield smooth(
        Role.FINE,
        [
            (size.cowl - 0.1, belt),
            (size.cowl - 0.32, (belt + high) / 2 + 0.04),
            (top - 0.06, high),
            ((top + rear_top) / 2, high + 0.03),
            (rear_top + 0.02, high - 0.01),
            ((rear_top + foot) / 2, (belt + high) / 2),
            (foot, belt),
        ],
    )
    yield line(Role.FINE, (foot, belt), (size.cowl - 0.1, belt))
    yield from _door(size, belt)
    yield line(Role.FINE, (size.latch_post, belt), (size.latch_post - 0.02, high + 0.02))


def _door(size: Proportions, belt: float) -> Iterable[Path]:
    yield line(Role.FINE, (size.cowl - 0.08, belt), (size.cowl - 0.08, size.floor + 0.06))
    yield line(Role.FINE, (size.latch_post, belt), (size.latch_post, size.floor + 0.06))


def _details_closed(size: Proportions) -> Lines:
    return tuple(_glass_from_left(BodyForm.CLOSED, size, size.rear_axle + 0.08))


def _details_wagon(size: Proportions) -> Lines:
    return tuple(_glass_from_left(BodyForm.WAGON, size, size.tail + 0.24))


def _details_pickup(size: Proportions) -> Lines:
    back = size.latch_post - 0.44
    cab = tuple(_glass_from_left(BodyForm.PICKUP, size, size.latch_post - 0.34))
    return (*cab, line(Role.FINE, (back, size.belt), (back, size.floor + 0.04)))


def _details_open(size: Proportions) -> Lines:
    """The windshield's frame, the doors and the seats' tops above the belt line."""
    screen = line(
        Role.OUTLINE,
        (size.cowl, size.belt + 0.02),
        (size.cowl - 0.4, size.roof),
        (size.cowl - 0.46, size.roof - 0.02),
        (size.cowl - 0.16, size.belt + 0.02),
    )
    seats = (
        smooth(
            Role.FINE,
            [(x + 0.1, size.belt), (x + 0.04, size.belt + 0.16), (x - 0.1, size.belt + 0.16), (x - 0.16, size.belt)],
        )
        for x in (size.latch_post, size.rear_axle + 0.12)
    )
    return (screen, *_door(size, size.belt), *seats)


_DETAILS: dict[BodyForm, Callable[[Proportions], Lines]] = {
    BodyForm.CLOSED: _details_closed,
    BodyForm.OPEN: _details_open,
    BodyForm.PICKUP: _details_pickup,
    BodyForm.WAGON: _details_wagon,
}


def _cycle_from_left(size: Proportions) -> Lines:
    radius = size.wheel_radius
    wheels = tuple(
        oval(role, (axle, radius), radius * part, radius * part)
        for axle in (size.front_axle, size.rear_axle)
        for role, part in ((Role.OUTLINE, 1.0), (Role.FINE, 0.78))
    )
    tank = smooth(Role.OUTLINE, [(0.42, 0.86), (0.36, 0.97), (0.14, 0.96), (-0.04, 0.82), (0.2, 0.76)], closed=True)
    seat = smooth(
        Role.OUTLINE, [(-0.02, 0.8), (-0.2, 0.77), (-0.5, 0.82), (-0.72, 0.8), (-0.6, 0.72), (-0.1, 0.7)], closed=True
    )
    engine = smooth(
        Role.OUTLINE, [(0.3, 0.42), (0.24, 0.66), (-0.06, 0.66), (-0.2, 0.5), (-0.14, 0.3), (0.2, 0.28)], closed=True
    )
    fork = line(Role.OUTLINE, (size.front_axle, radius), (0.44, 0.94), (0.4, 1.06), (0.24, 1.08))
    swing = line(Role.OUTLINE, (size.rear_axle, radius), (-0.18, 0.42))
    shock = line(Role.FINE, (size.rear_axle + 0.04, radius + 0.06), (-0.5, 0.72))
    frame = line(Role.FINE, (0.46, 0.88), (0.34, 0.3), (-0.16, 0.3))
    pipe = smooth(Role.FINE, [(0.28, 0.56), (0.36, 0.36), (0.1, 0.24), (-0.4, 0.28), (-0.96, 0.34)])
    lamp = oval(Role.OUTLINE, (0.58, 0.92), 0.08, 0.09)
    return (*wheels, fork, swing, shock, frame, engine, tank, seat, pipe, lamp)


def _cycle_from_above(size: Proportions) -> Lines:
    wheels = tuple(
        smooth(Role.OUTLINE, _box((axle - size.wheel_radius, axle + size.wheel_radius), (-0.05, 0.05)), closed=True)
        for axle in (size.front_axle, size.rear_axle)
    )
    tank = smooth(
        Role.OUTLINE,
        [(0.44, 0), (0.34, 0.14), (0.1, 0.15), (-0.06, 0.08), (-0.06, -0.08), (0.1, -0.15), (0.34, -0.14)],
        closed=True,
    )
    seat = smooth(
        Role.OUTLINE,
        [(-0.06, 0.1), (-0.4, 0.13), (-0.74, 0.08), (-0.74, -0.08), (-0.4, -0.13), (-0.06, -0.1)],
        closed=True,
    )
    bars = smooth(Role.OUTLINE, [(0.22, 0.36), (0.36, 0.26), (0.42, 0), (0.36, -0.26), (0.22, -0.36)])
    lamp = oval(Role.OUTLINE, (0.58, 0), 0.07, 0.09)
    return (*wheels, tank, seat, bars, lamp)


def _cycle_from_behind(size: Proportions) -> Lines:
    wheel = smooth(
        Role.OUTLINE, [(-0.06, 0.0), (0.06, 0.0), (0.07, 0.32), (0.06, 0.64), (-0.06, 0.64), (-0.07, 0.32)], closed=True
    )
    body = smooth(
        Role.OUTLINE, [(0.12, 0.62), (0.16, 0.8), (0.1, 0.94), (-0.1, 0.94), (-0.16, 0.8), (-0.12, 0.62)], closed=True
    )
    bars = line(Role.OUTLINE, (-size.half_width, 1.04), (-0.2, 1.08), (0.2, 1.08), (size.half_width, 1.04))
    engine = smooth(Role.FINE, [(0.2, 0.36), (0.18, 0.58), (-0.18, 0.58), (-0.2, 0.36)])
    return wheel, body, bars, engine
