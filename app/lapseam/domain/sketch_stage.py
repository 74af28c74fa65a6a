"""What stands round the car in a framing sketch: a lift, a road, a table, open doors, somebody with the camera."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from .drawing import Path, Point, Role, line, oval
from .plain_car import PROPORTIONS, BodyForm, Proportions

_EYE_M = 1.6
"""How high somebody's eyes are who stands upright."""


def lift_stage(size: Proportions, raised: float, across: bool) -> Iterable[Path]:
    """A two-post lift: posts and arms; `across` where the car is seen from behind and stands between the posts."""
    low = size.floor + raised
    tall = low + 0.5
    if across:
        for side in (-1, 1):
            post = side * (size.half_width + 0.42)
            yield line(Role.STAGE, *_upright(post, 0.14, tall), closed=True)
            yield line(Role.STAGE, (post, low - 0.06), (side * 0.6 * size.half_width, low - 0.06))
        return
    post = -(size.latch_post + 0.2)
    yield line(Role.STAGE, *_upright(post, 0.14, low - 0.02), closed=True)
    yield line(Role.STAGE, (post - 0.75, low - 0.04), (post + 0.75, low - 0.04))


def _upright(middle: float, wide: float, tall: float) -> tuple[Point, ...]:
    half = wide / 2
    return (middle - half, 0.0), (middle + half, 0.0), (middle + half, tall), (middle - half, tall)


def road(size: Proportions) -> Iterable[Path]:
    """Dashes under the wheels."""
    step = 0.5
    count = int((size.nose - size.tail) / step)
    for number in range(count):
        start = -size.nose + number * step
        yield line(Role.STAGE, (start, -0.14), (start + 0.26, -0.14))


def open_panels(at: str, form: BodyForm, sides: Sequence[float]) -> Iterable[Path]:
    """In the car's own plan (x, y): the front doors are open where a camera is in a doorway; `sides` are their y."""
    if at != "doorway" or form is BodyForm.MOTORCYCLE:
        return
    size = PROPORTIONS[form]
    hinge, long = size.cowl - 0.08, size.cowl - size.latch_post
    for side in sorted({1 if y > 0 else -1 for y in sides}):
        edge = (hinge - 0.36 * long, side * (size.half_width + 0.86 * long))
        yield line(Role.FINE, (hinge, side * size.half_width), edge, (edge[0] + 0.07, edge[1]), closed=True)


def open_lids(at: str, form: BodyForm) -> Iterable[Path]:
    """In the car's own profile (x, z): the hood up over the bay, the lid or the tailgate up over the trunk."""
    size = PROPORTIONS[form]
    if form is BodyForm.MOTORCYCLE:
        return
    if at == "bay":
        hinge = (size.cowl + 0.04, size.belt + 0.02)
        yield line(Role.OUTLINE, hinge, (hinge[0] + 0.5, hinge[1] + 0.85), (hinge[0] + 0.56, hinge[1] + 0.8))
    elif at == "trunk" and form is BodyForm.WAGON:
        hinge = (size.tail + 0.42, size.roof - 0.03)
        yield line(Role.OUTLINE, hinge, (hinge[0] - 0.75, hinge[1] + 0.3), (hinge[0] - 0.78, hinge[1] + 0.22))
    elif at == "trunk":
        hinge = (size.rear_axle - 0.2, size.belt + 0.04)
        yield line(Role.OUTLINE, hinge, (hinge[0] - 0.24, hinge[1] + 0.62), (hinge[0] - 0.32, hinge[1] + 0.58))


def person(camera: Point, away: int, head_room: float) -> Iterable[Path]:
    """Somebody behind the camera, on the side `away` (1 or -1) from the subject: standing, kneeling or on a ladder."""
    height = camera[1]
    feet = max(height - _EYE_M, 0.0) if height > _EYE_M + 0.2 else 0.0
    head = min(max(height + 0.1, 0.72), _EYE_M + feet, head_room)
    h = camera[0] + away * 0.4
    yield oval(Role.PERSON, (h, head), 0.1, 0.13)
    neck, kneels = (h, head - 0.13), head < 1.3
    hip = (h + away * 0.04, max(feet + 0.9, head - 0.72) if not kneels else max(0.26, head - 0.62))
    yield line(Role.PERSON, neck, hip)
    yield line(Role.PERSON, (h, neck[1] - 0.1), (h - away * 0.2, (neck[1] - 0.1 + height) / 2), camera)
    if kneels:
        yield line(Role.PERSON, hip, (h - away * 0.28, max(hip[1] - 0.02, 0.3)), (h - away * 0.26, 0.0))
        yield line(Role.PERSON, hip, (h - away * 0.06, 0.02), (h + away * 0.36, 0.02))
        return
    for stride in (-0.13, 0.13):
        yield line(Role.PERSON, hip, (h + stride, feet))
    if feet:
        yield from _ladder(h, feet, away)


def _ladder(h: float, feet: float, away: int) -> Iterable[Path]:
    """A step ladder with somebody's feet on it."""
    yield line(Role.STAGE, (h - 0.2, feet), (h + 0.2, feet))
    for foot in (-1, 1):
        yield line(Role.STAGE, (h + foot * 0.16, feet), (h + foot * 0.34, 0.0))
    if feet > 0.35:
        yield line(Role.STAGE, (h - 0.26, feet / 2), (h + 0.26, feet / 2))


def table_from_above(edge: float, reach: float) -> Iterable[Path]:
    """The table's top, half as wide as `edge` and half as deep as `reach`."""
    yield line(Role.OUTLINE, (-edge, -reach), (edge, -reach), (edge, reach), (-edge, reach), closed=True)


def table_from_side(edge: float, top: float) -> Iterable[Path]:
    """The table's top and legs on the floor; a cloth on the floor where `top` is 0."""
    yield line(Role.GROUND, (-edge - 0.3, 0.0), (edge + 0.5, 0.0))
    yield line(Role.OUTLINE, (-edge, top), (edge, top))
    if top > 0.1:
        for leg in (-0.85, 0.85):
            yield line(Role.OUTLINE, (leg * edge, top), (leg * edge, 0.0))
