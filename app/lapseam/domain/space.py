"""Places, boxes and directions in metres, in the car's own terms.

x runs from the car's middle towards the nose, y towards the car's own left, z up from the ground. Bearings are degrees
clockwise from the nose seen from above, so 90 is beside the right side.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import atan2, cos, degrees, hypot, radians, sin, sqrt


@dataclass(frozen=True, slots=True)
class Place:
    """A point, or a direction where the name says so."""

    x: float
    y: float
    z: float

    def __add__(self, other: Place) -> Place:
        return Place(self.x + other.x, self.y + other.y, self.z + other.z)

    def __sub__(self, other: Place) -> Place:
        return Place(self.x - other.x, self.y - other.y, self.z - other.z)

    def times(self, factor: float) -> Place:
        """The same direction, longer or shorter."""
        return Place(self.x * factor, self.y * factor, self.z * factor)

    def dot(self, other: Place) -> float:
        """How much of one lies along the other."""
        return self.x * other.x + self.y * other.y + self.z * other.z

    def cross(self, other: Place) -> Place:
        """The direction square to both."""
        return Place(
            self.y * other.z - self.z * other.y,
            self.z * other.x - self.x * other.z,
            self.x * other.y - self.y * other.x,
        )

    def length(self) -> float:
        """The distance from the origin."""
        return sqrt(self.dot(self))

    def unit(self) -> Place:
        """The direction, one metre long. Raises ZeroDivisionError where there is none."""
        return self.times(1 / self.length())


@dataclass(frozen=True, slots=True)
class Box:
    """An upright box between two corners, the lower one first on every axis."""

    low: Place
    high: Place

    @property
    def centre(self) -> Place:
        """Its middle."""
        return (self.low + self.high).times(0.5)

    def distance(self, place: Place) -> float:
        """From a place to the nearest point of the box; 0 inside it."""
        gaps = (
            max(low - at, 0.0, at - high)
            for low, at, high in (
                (self.low.x, place.x, self.high.x),
                (self.low.y, place.y, self.high.y),
                (self.low.z, place.z, self.high.z),
            )
        )
        return hypot(*gaps)

    def corners(self) -> tuple[Place, ...]:
        """All eight."""
        return tuple(
            Place(x, y, z)
            for x in (self.low.x, self.high.x)
            for y in (self.low.y, self.high.y)
            for z in (self.low.z, self.high.z)
        )

    def raised(self, metres: float) -> Box:
        """The same box higher up."""
        up = Place(0.0, 0.0, metres)
        return Box(self.low + up, self.high + up)

    def mirrored(self) -> Box:
        """The same box on the car's other side."""
        return Box(Place(self.low.x, -self.high.y, self.low.z), Place(self.high.x, -self.low.y, self.high.z))


def box(x: tuple[float, float], y: tuple[float, float], z: tuple[float, float]) -> Box:
    """A box from its reach along each axis, ends in any order."""
    spans = (sorted(x), sorted(y), sorted(z))
    return Box(Place(*(span[0] for span in spans)), Place(*(span[1] for span in spans)))


def towards(bearing_deg: float) -> Place:
    """The level direction of a bearing, one metre long."""
    turn = radians(bearing_deg)
    return Place(cos(turn), -sin(turn), 0.0)


def bearing_of(direction: Place) -> float:
    """The bearing of a direction, 0 up to 360 degrees; 0 where it points straight up or down."""
    if hypot(direction.x, direction.y) < 1e-9:
        return 0.0
    return degrees(atan2(-direction.y, direction.x)) % 360
