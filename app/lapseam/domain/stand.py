"""Where to stand, worked out from a shot's camera data, in metres on a plain car of common size.

Axes: x runs from the car's middle towards the nose, y towards the car's right side, z up from the ground. Bearings are
degrees clockwise from the nose seen from above. A lens of f millimetres in full-frame terms sees 2·atan(18/f) across,
because a full frame is 36 mm wide.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from math import atan, cos, degrees, inf, radians, sin

from .plan import Shot

HALF_LENGTH = 2.4
HALF_WIDTH = 0.92
ROOF = 1.38
LIFTED = 1.9
"""How high the sketch lifts the car, in metres."""

_WHOLE_CAR_M = 2.5
"""From this distance on, the camera is taken to look at the car's middle rather than at one zone."""

_ALONG = {
    "front": 1.9,
    "rear": -1.9,
    "luggage": -1.75,
    "wagon-rear": -1.75,
    "pickup-bed": -1.5,
    "engine-bay": 1.55,
    "dash": 0.75,
    "cabin": 0.0,
    "cabin-floor": 0.2,
    "under-front": 1.4,
    "under-centre": 0.0,
    "under-rear": -1.5,
    "wheel-wells": 1.4,
    "wheels-brakes": 1.4,
    "identity": 1.0,
    "glass": 0.3,
}
"""How far ahead of the car's middle a zone lies, in metres, on the plain car of the sketch."""

_LOOK = {"forward": 0.0, "up-forward": 45.0, "up": 90.0, "up-left": 90.0, "up-right": 90.0, "up-rearward": 135.0}
_LOOK |= {"rearward": 180.0, "down": -90.0, "inward": 90.0, "outward": 0.0}


class View(StrEnum):
    """Which drawing says it: seen from above with the camera's stand, or the car from its side."""

    PLAN = "plan"
    SIDE = "side"
    LIFT = "lift"
    TABLE = "table"


@dataclass(frozen=True, slots=True)
class Point:
    """A place in metres."""

    x: float
    y: float


@dataclass(frozen=True, slots=True)
class Stand:
    """What the sketch draws.

    `camera` and `target` lie in the plan (x, y) for `View.PLAN`, else in the side view (x, z). `aim_deg` is the way the
    lens points there, counter-clockwise from +x. `wide_deg` and `narrow_deg` are the views across of the lens range's
    ends, None where no lens is given. `height_m` is the lens above the ground that the photographer stands on.
    `words` says the same for somebody who cannot see the sketch.
    """

    view: View
    camera: Point
    target: Point
    aim_deg: float
    wide_deg: float | None
    narrow_deg: float | None
    height_m: float | None
    distance_m: float | None
    words: str


def field_deg(lens_mm: float) -> float:
    """How much a lens sees across, in degrees; `lens_mm` in full-frame terms (36 mm wide)."""
    return degrees(2 * atan(18 / lens_mm))


def stand_for(shot: Shot, words: str = "") -> Stand:
    """Where to stand for a shot; `words` are handed on as they are."""
    camera = shot.camera
    fields = tuple(field_deg(mm) for mm in camera.lens_mm) if camera.lens_mm else (None, None)
    if camera.bearing_deg is not None:
        view = View.PLAN
        target, spot, aim = _from_bearing(shot, camera.bearing_deg)
    else:
        view = {"lift": View.LIFT, "well": View.LIFT, "table": View.TABLE}.get(camera.at, View.SIDE)
        target, spot, aim = _from_words(shot, view)
    return Stand(view, spot, target, aim, fields[0], fields[1], camera.height_m, camera.distance_m, words)


def _from_bearing(shot: Shot, bearing: float) -> tuple[Point, Point, float]:
    """The target, the camera on its ray outside the car, and the way it points."""
    camera = shot.camera
    distance = camera.distance_m if camera.distance_m is not None else 1.0
    ahead, right = cos(radians(bearing)), sin(radians(bearing))
    along = 0.0 if distance >= _WHOLE_CAR_M else _ALONG.get(shot.zone, 0.0)
    target = Point(along, 0.0)
    edge = 0.0 if camera.at in ("bay", "trunk", "inside") else _to_outline(target, ahead, right)
    reach = edge + distance
    spot = Point(target.x + ahead * reach, target.y + right * reach)
    if distance < _WHOLE_CAR_M and edge:
        target = Point(target.x + ahead * edge, target.y + right * edge)
    return target, spot, (bearing + 180.0) % 360.0


def _to_outline(start: Point, ahead: float, right: float) -> float:
    """How far it is from a place inside the car to its outline, taken as a box, in metres."""
    reach = [inf, inf]
    if abs(ahead) > 1e-9:
        reach[0] = ((HALF_LENGTH if ahead > 0 else -HALF_LENGTH) - start.x) / ahead
    if abs(right) > 1e-9:
        reach[1] = ((HALF_WIDTH if right > 0 else -HALF_WIDTH) - start.y) / right
    return min(reach)


def _from_words(shot: Shot, view: View) -> tuple[Point, Point, float]:
    """Camera in the side view: under the car, in it, or above a table."""
    camera = shot.camera
    along = _along_of(shot)
    aim = _LOOK.get(camera.look, 0.0)
    reach = min(camera.distance_m if camera.distance_m is not None else 0.8, 1.2)
    ahead, up = cos(radians(aim)), sin(radians(aim))
    if view is View.TABLE:
        height = 0.75 + reach
        return Point(0.0, 0.75), Point(0.0, height), -90.0
    if view is View.LIFT:
        height = camera.height_m if camera.height_m is not None else LIFTED - reach
        spot = Point(along - ahead * reach, min(height, LIFTED - 0.15) if up > 0.5 else LIFTED - 0.05)
    else:
        spot = Point(along - ahead * reach * 0.8, camera.height_m if camera.height_m is not None else 1.0)
    return Point(spot.x + ahead * reach, spot.y + up * reach), spot, aim


def _along_of(shot: Shot) -> float:
    """Where along the car, from the words of the spot where they name an end, else from the zone."""
    spot = shot.camera.spot.lower()
    if "front" in spot and "rear" not in spot:
        return 1.45
    if ("rear" in spot or "axle" in spot or "tank" in spot) and "front" not in spot and "seat" not in spot:
        return -1.45
    if "seat" in spot:
        return -0.55 if "rear" in spot else 0.1
    if "engine" in spot:
        return 1.4
    return _ALONG.get(shot.zone, 0.0)
