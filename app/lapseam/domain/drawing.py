"""What a line drawing is made of: paths, camera signs and short words, each in a role; no pixels and no colours yet.

Coordinates are metres, h to the right and v up, in the plane of the view that holds them.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import StrEnum

Point = tuple[float, float]


class Role(StrEnum):
    """What a shape stands for; renderers give each role its pen and its fill."""

    OUTLINE = "outline"
    FINE = "fine"
    GROUND = "ground"
    STAGE = "stage"
    PERSON = "person"
    WIDE = "wide"
    LONG = "long"
    TARGET = "target"
    ALSO = "also"
    AXIS = "axis"
    CAMERA = "camera"
    NOSE = "nose"
    MEASURE = "measure"
    WORD = "word"


class Verb(StrEnum):
    """How a path goes on; the letters are those of SVG path data (W3C SVG 2, chapter 9)."""

    MOVE = "M"
    LINE = "L"
    CURVE = "C"
    CLOSE = "Z"


@dataclass(frozen=True, slots=True)
class Step:
    """One step of a path: no point for CLOSE, one for MOVE and LINE, three (two handles, the end) for CURVE."""

    verb: Verb
    points: tuple[Point, ...] = ()


@dataclass(frozen=True, slots=True)
class Path:
    """A line or an area."""

    role: Role
    steps: tuple[Step, ...]

    def points(self) -> Iterable[Point]:
        """Every point, handles too; their bounds hold the path."""
        return (point for step in self.steps for point in step.points)


@dataclass(frozen=True, slots=True)
class CameraSign:
    """The sign of a camera, of one size at any scale; `way` is where its lens points in the plane, 0 at us or away."""

    at: Point
    way: Point
    main: bool = True


@dataclass(frozen=True, slots=True)
class Word:
    """A short text that belongs to a point; `away` is the side of the point on which it stands best."""

    role: Role
    text: str
    at: Point
    away: Point = (0.0, 0.0)


Shape = Path | CameraSign | Word


def line(role: Role, *points: Point, closed: bool = False) -> Path:
    """Straight from point to point."""
    steps = [Step(Verb.MOVE, (points[0],)), *(Step(Verb.LINE, (point,)) for point in points[1:])]
    return Path(role, tuple(steps + [Step(Verb.CLOSE)] * closed))


def smooth(role: Role, points: Sequence[Point], *, closed: bool = False) -> Path:
    """A smooth line through the points (Catmull and Rom 1974, as cubic curves)."""
    every = [points[-1], *points, points[0], points[1]] if closed else [points[0], *points, points[-1]]
    steps = [Step(Verb.MOVE, (points[0],))]
    for before, start, end, after in zip(every, every[1:], every[2:], every[3:], strict=False):
        steps.append(Step(Verb.CURVE, (_handle(start, before, end), _handle(end, after, start), end)))
    return Path(role, tuple(steps + [Step(Verb.CLOSE)] * closed))


def oval(role: Role, middle: Point, half_width: float, half_height: float) -> Path:
    """An ellipse of four curves (the usual handle length, 4/3·(√2 − 1))."""
    h, v = middle
    a, b = half_width * 0.5523, half_height * 0.5523
    quarters = (
        ((h + half_width, v + b), (h + a, v + half_height), (h, v + half_height)),
        ((h - a, v + half_height), (h - half_width, v + b), (h - half_width, v)),
        ((h - half_width, v - b), (h - a, v - half_height), (h, v - half_height)),
        ((h + a, v - half_height), (h + half_width, v - b), (h + half_width, v)),
    )
    steps = (Step(Verb.MOVE, ((h + half_width, v),)), *(Step(Verb.CURVE, points) for points in quarters))
    return Path(role, (*steps, Step(Verb.CLOSE)))


def joined(*paths: Path) -> Path:
    """One path that goes on from each to the next, closed; in the role of the first."""
    steps = list(paths[0].steps)
    for path in paths[1:]:
        first = path.steps[0]
        steps += [Step(Verb.LINE, first.points), *path.steps[1:]]
    return Path(paths[0].role, (*steps, Step(Verb.CLOSE)))


def hull(points: Iterable[Point]) -> tuple[Point, ...]:
    """The convex outline of points, counter-clockwise (Andrew's monotone chain, 1979)."""
    every = sorted(set(points))
    if len(every) < 3:
        return tuple(every)
    halves = []
    for ordered in (every, every[::-1]):
        half: list[Point] = []
        for point in ordered:
            while len(half) > 1 and _turn(half[-2], half[-1], point) <= 0:
                half.pop()
            half.append(point)
        halves += half[:-1]
    return tuple(halves)


def _turn(a: Point, b: Point, c: Point) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def _handle(at: Point, one: Point, other: Point) -> Point:
    """The handle at a point towards `other`."""
    return at[0] + (other[0] - one[0]) / 6, at[1] + (other[1] - one[1]) / 6
