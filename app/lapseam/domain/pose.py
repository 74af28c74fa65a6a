"""A camera's pose and what its lens sees: central projection onto a full frame of 36 × 24 mm, held level.

A lens of f millimetres in full-frame terms sees 2·atan(18/f) across and 2·atan(12/f) up and down.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import atan, degrees

from .space import Place

HALF_FRAME_MM = (18.0, 12.0)
"""Half the width and half the height of the full frame that lens ranges are told for."""

_PLUMB = 0.999
"""From this much up or down on, the picture's upper edge points to the nose (down) or the tail (up)."""


@dataclass(frozen=True, slots=True)
class Pose:
    """Where a camera is and how it is turned.

    `ahead`, `right` and `up` are directions one metre long, square to each other; `lens_mm` the range, short end first.
    """

    eye: Place
    ahead: Place
    right: Place
    up: Place
    lens_mm: tuple[float, float]

    def depth(self, place: Place) -> float:
        """How far ahead of the lens a place lies, in metres; negative behind it."""
        return (place - self.eye).dot(self.ahead)

    def ray(self, u: float, v: float, lens_mm: float) -> Place:
        """From the lens to a point of the picture, one metre deep; u from the left and v from the top, 0 to 1."""
        across = (2 * u - 1) * HALF_FRAME_MM[0] / lens_mm
        up = (1 - 2 * v) * HALF_FRAME_MM[1] / lens_mm
        return self.ahead + self.right.times(across) + self.up.times(up)

    def corners(self, lens_mm: float, depth: float) -> tuple[Place, ...]:
        """Where the four edges of the view are at a depth in metres, clockwise from the picture's upper left."""
        return tuple(self.eye + self.ray(u, v, lens_mm).times(depth) for u, v in ((0, 0), (1, 0), (1, 1), (0, 1)))


def field_deg(lens_mm: float) -> tuple[float, float]:
    """How much a lens sees across, and up and down, in degrees."""
    across, tall = (degrees(2 * atan(half / lens_mm)) for half in HALF_FRAME_MM)
    return across, tall


def look_at(eye: Place, aim: Place, lens_mm: tuple[float, float]) -> Pose:
    """A level camera at `eye` that looks at `aim`. Raises ZeroDivisionError where both are one place."""
    ahead = (aim - eye).unit()
    plumb = Place(0.0, 0.0, 1.0)
    if abs(ahead.z) > _PLUMB:
        plumb = Place(1.0 if ahead.z < 0 else -1.0, 0.0, 0.0)
    right = ahead.cross(plumb).unit()
    return Pose(eye, ahead, right, right.cross(ahead), lens_mm)


def project(pose: Pose, place: Place, lens_mm: float | None = None) -> tuple[float, float] | None:
    """Where a place falls in the picture: u from the left, v from the top, 0 to 1 inside it; None behind the lens.

    Taken at the short end of the range, where a shot must hold everything, unless another lens is given.
    """
    depth = pose.depth(place)
    if depth <= 1e-6:
        return None
    lens = lens_mm or pose.lens_mm[0]
    across = (place - pose.eye).dot(pose.right) / depth * lens / HALF_FRAME_MM[0]
    up = (place - pose.eye).dot(pose.up) / depth * lens / HALF_FRAME_MM[1]
    return (1 + across) / 2, (1 - up) / 2


def in_frame(pose: Pose, place: Place, lens_mm: float | None = None) -> bool:
    """Whether a place falls in the picture."""
    seen = project(pose, place, lens_mm)
    return seen is not None and all(0.0 <= at <= 1.0 for at in seen)


def holding(eye: Place, places: Iterable[Place], lens_mm: tuple[float, float]) -> Pose | None:
    """The pose from `eye` with the places round the picture's middle; None where no picture holds them all."""
    every = tuple(places)
    mean = Place(*(sum(axis) / len(every) for axis in zip(*((p.x, p.y, p.z) for p in every), strict=True)))
    if (mean - eye).length() < 1e-6:
        return None
    pose = look_at(eye, mean, lens_mm)
    for _turn in range(4):
        seen = [project(pose, place) for place in every]
        if None in seen:
            return None
        spans = list(zip(*(at for at in seen if at), strict=True))
        u, v = ((min(span) + max(span)) / 2 for span in spans)
        pose = look_at(eye, eye + pose.ray(u, v, lens_mm[0]), lens_mm)
    return pose if all(in_frame(pose, place) for place in every) else None
