"""The pose of one stand: out along a bearing, or back from the subject against the way the words say.

A bearing's distance is from the lens to the nearest part of the subject; that of a spot in words to its middle.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import hypot, sqrt

from .component_places import DRIVER_Y
from .plain_car import PROPORTIONS, BodyForm
from .plan import Camera, Shot
from .pose import Pose, holding, in_frame, look_at, project
from .space import Box, Place, bearing_of, towards

WHOLE_CAR_M = 2.5
"""From this distance on, the camera is turned to the middle of the car if the car fits the picture."""

_PANEL_M = 0.19
"""A part no thicker than this is a panel, and shows from the side that it faces."""

_GLASS_M = 0.5
"""How far the windshield and the rear glass lean, from the belt line to the roof, in metres."""

_COMMON_LENS = (35.0, 50.0)
_WAYS = {
    "forward": Place(1, 0, 0),
    "rearward": Place(-1, 0, 0),
    "up": Place(0, 0, 1),
    "down": Place(0, 0, -1),
    "left": Place(0, 1, 0),
    "right": Place(0, -1, 0),
}


@dataclass(frozen=True, slots=True)
class Scene:
    """What stays the same for all stands of a shot."""

    shot: Shot
    form: BodyForm
    driver_left: bool
    raised: float = 0.0

    @property
    def camera(self) -> Camera:
        """Where the plan says the camera stands."""
        return self.shot.camera

    @property
    def distance(self) -> float:
        """In metres; one where the plan gives none."""
        return self.camera.distance_m if self.camera.distance_m is not None else 1.0

    @property
    def lens(self) -> tuple[float, float]:
        """The range in millimetres; a common one where the plan gives none."""
        low, high = self.camera.lens_mm or _COMMON_LENS
        return float(low), float(high)


def about_here(scene: Scene) -> Place:
    """Roughly where the camera is, from its bearing or from the words of its spot."""
    camera, size = scene.camera, PROPORTIONS[scene.form]
    if camera.bearing_deg is not None:
        way = towards(camera.bearing_deg)
        return Place(way.x * (size.nose + 1), way.y * (size.half_width + 1) + 0.01, camera.height_m or 1.0)
    words = camera.spot.lower()
    ends = {"front": size.front_axle, "engine": size.front_axle, "nose": size.nose}
    ends |= {"rear": size.rear_axle, "axle": size.rear_axle, "tank": size.tail}
    along = [x for word, x in ends.items() if word in words and not (word == "rear" and "seat" in words)]
    x = sum(along) / len(along) if along else 0.0
    return Place(x, _across(scene) or 0.01, (camera.height_m or 1.0) + scene.raised)


def _across(scene: Scene) -> float | None:
    """How far to the left the words of the spot say the camera is, in metres; None where they do not say."""
    words = scene.camera.spot.lower()
    driver = DRIVER_Y if scene.driver_left else -DRIVER_Y
    for word, y in (
        ("passenger", -driver),
        ("driver", driver),
        ("centre", 0.0),
        ("left", DRIVER_Y),
        ("right", -DRIVER_Y),
    ):
        if word in words and not ("left" in words and "right" in words):
            return y
    return None


def facing(scene: Scene, part: Box) -> float | None:
    """The bearing that a panel on the skin faces; None for what lies within, on top, or shows from all round."""
    size, centre, reach = PROPORTIONS[scene.form], part.centre, part.high - part.low
    if reach.x <= _PANEL_M and centre.x > size.front_axle + 0.6 * (size.nose - size.front_axle):
        return 0.0
    if reach.x <= _PANEL_M and centre.x < size.rear_axle + 0.6 * (size.tail - size.rear_axle):
        return 180.0
    if reach.y <= _PANEL_M and abs(centre.y) > 0.62 * size.half_width:
        return 270.0 if centre.y > 0 else 90.0
    return None


def bearings(scene: Scene, boxes: Sequence[Box]) -> Iterable[float]:
    """The plan's bearing, or mirrored for a part that faces the other side, or square on."""
    told = scene.camera.bearing_deg or 0.0
    faces = facing(scene, boxes[0])
    close = scene.distance < WHOLE_CAR_M and scene.camera.at in ("outside", "doorway", "ladder")
    other = (360.0 - told) % 360.0
    if close and faces in (90.0, 270.0):
        seen = towards(told).dot(towards(faces))
        yield from (told, other) if seen >= 0 else (other, told)
    else:
        yield told
    if close and faces is not None:
        yield faces


def clear_of_the_body(scene: Scene, eye: Place) -> bool:
    """Whether a camera outside is not in the sheet metal."""
    if scene.camera.at not in ("outside", "ladder"):
        return True
    size = PROPORTIONS[scene.form]
    inside = size.tail < eye.x < size.nose and abs(eye.y) < size.half_width
    into = min(eye.x - size.rear_axle, size.cowl - eye.x) / _GLASS_M
    top = size.belt + min(max(into, 0.0), 1.0) * (size.roof - size.belt)
    return not inside or eye.z - scene.raised > top


def from_bearing(scene: Scene, boxes: Sequence[Box], bearing: float) -> Pose | None:
    """Out along the bearing until the nearest part of the subject is as far as the plan says."""
    middle = _middle([one.centre for one in boxes])
    height = scene.camera.height_m if scene.camera.height_m is not None else middle.z + 0.2
    way = towards(bearing)

    def eye(reach: float) -> Place:
        return Place(middle.x + way.x * reach, middle.y + way.y * reach, height)

    near, far = 0.0, scene.distance + 2 * PROPORTIONS[scene.form].nose
    for _halving in range(24):
        reach = (near + far) / 2
        if min(one.distance(eye(reach)) for one in boxes) < scene.distance:
            near = reach
        else:
            far = reach
    spot = eye(max(far, 0.5 * scene.distance))
    pose = holding(spot, [one.centre for one in boxes], scene.lens)
    return _turned_to_the_car(scene, pose, boxes) if pose and scene.distance >= WHOLE_CAR_M else pose


def _turned_to_the_car(scene: Scene, pose: Pose, boxes: Sequence[Box]) -> Pose:
    """Turned to the whole car, where that fits the picture (or nearly) and still holds the subject."""
    car = PROPORTIONS[scene.form].bounds().raised(scene.raised)
    turned = look_at(pose.eye, car.centre, pose.lens_mm)
    seen = [project(turned, corner) for corner in car.corners()]
    fits = all(at is not None and -0.12 <= at[0] <= 1.12 for at in seen)
    return turned if fits and all(in_frame(turned, one.centre) for one in boxes) else pose


def from_words(scene: Scene, boxes: Sequence[Box]) -> Pose | None:
    """Back from the subject against the way the lens points, at the plan's height."""
    camera = scene.camera
    middle = _middle([one.centre for one in boxes])
    look = _look(camera.look, middle)
    level = Place(look.x, look.y, 0.0)
    if camera.at == "outside" and level.length() > 0.5:
        return from_bearing(scene, boxes, bearing_of(level.times(-1.0)))
    height = camera.height_m if camera.height_m is not None else middle.z - look.z * scene.distance
    if level.length() < 1e-9:
        off = abs(middle.z - height)
        if not 0.6 * scene.distance <= off <= 1.4 * scene.distance or (height < middle.z) != (look.z > 0):
            height = middle.z - look.z * scene.distance
        eye = Place(middle.x, middle.y, height)
    else:
        drop = middle.z - height
        if camera.at in ("inside", "road") and abs(drop) > 0.75 * scene.distance:
            drop = 0.75 * scene.distance * (1 if drop > 0 else -1)
            height = middle.z - drop
        reach = sqrt(max(scene.distance**2 - drop**2, (0.45 * scene.distance) ** 2))
        eye = middle - level.unit().times(reach)
        eye = Place(eye.x, eye.y, height)
        across = _across(scene)
        if camera.at in ("inside", "road") and across is not None and abs(look.x) > 0.5:
            eye = Place(eye.x, across, height)
    pose = holding(eye, [one.centre for one in boxes], scene.lens)
    return _straightened(pose, look, boxes) if pose else None


def _straightened(pose: Pose, look: Place, boxes: Sequence[Box]) -> Pose:
    """Turned level into the way the plan says, if everything stays well in the picture."""
    level = Place(look.x, look.y, 0.0)
    if level.length() < 0.5:
        return pose
    flat = hypot(pose.ahead.x, pose.ahead.y)
    straight = level.unit().times(flat) + Place(0.0, 0.0, pose.ahead.z)
    turned = look_at(pose.eye, pose.eye + straight, pose.lens_mm)
    seen = [project(turned, one.centre) for one in boxes]
    return turned if all(at and min(at) >= 0.08 and max(at) <= 0.92 for at in seen) else pose


def _look(words: str, at: Place) -> Place:
    """The direction of a look such as `up-left`, one metre long; inward and outward by the side of the subject."""
    side = at.y if abs(at.y) > 0.02 else -1.0
    ways = {
        **_WAYS,
        "inward": _WAYS["right" if side > 0 else "left"],
        "outward": _WAYS["left" if side > 0 else "right"],
    }
    total = Place(0, 0, 0)
    for word in words.split("-"):
        total = total + ways.get(word, Place(0, 0, 0))
    return total.unit() if total.length() else _WAYS["forward"]


def _middle(places: Sequence[Place]) -> Place:
    """The middle of the places' reach along each axis."""
    spans = zip(*((place.x, place.y, place.z) for place in places), strict=True)
    return Place(*((min(span) + max(span)) / 2 for span in spans))
