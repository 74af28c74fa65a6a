"""Where a shot's camera stands and what it holds in frame, worked out in metres from the plan's words.

A shot that covers both sides or many places resolves to several stands, the first of them the main one. Each stand's
distance is from the lens to the nearest part of its subject where a bearing is given, and to the subject's middle where
words say the spot. Under a lift the car is raised as far as height and distance ask.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import chain

from .component_places import is_table_ware, places_of
from .plain_car import PROPORTIONS, BodyForm
from .plan import Camera, Shot
from .pose import Pose, look_at
from .space import Box, Place, bearing_of, box, towards
from .stand_pose import (
    WHOLE_CAR_M,
    Scene,
    about_here,
    bearings,
    clear_of_the_body,
    facing,
    from_bearing,
    from_words,
)

MOST_RAISED_M = 1.75
"""As high as a lift carries the car, in metres."""

LEAST_RAISED_M = 1.0
"""As low as somebody gets under a car on a lift, in metres."""

Parts = Mapping[str, tuple[Box, ...]]
"""The boxes of each component of a shot, in the plan's order."""

_CLOSE_M = 0.8
"""Nearer than this, one stand does not reach parts that are more than two and a half times as far."""

_LEAST_FACE = 0.15
"""The cosine of the most slanting view in which a panel's face still shows."""

_LOW_M = 0.6
"""A camera outside that is no higher is there for the car's lower parts."""

_CENTRED_M = 0.2
"""A part whose middle is nearer to the centre line than this belongs to neither side."""

_BOTH_SIDES_M = 1.5
"""Within this distance one stand beside the car does not show both of its sides."""


class Setting(StrEnum):
    """What the car stands on while the shot is taken."""

    GROUND = "ground"
    LIFT = "lift"
    ROAD = "road"
    TABLE = "table"


@dataclass(frozen=True, slots=True)
class Target:
    """One component that must be in frame, and the part of it that a stand is turned to."""

    component: str
    box: Box


@dataclass(frozen=True, slots=True)
class Stand:
    """One place to stand: the camera's pose and the targets it holds in frame."""

    pose: Pose
    targets: tuple[Target, ...]


@dataclass(frozen=True, slots=True)
class Framing:
    """All stands of one shot round a plain car of one form. `raised_m` is how far the car, or a table's top, is up."""

    shot: Shot
    form: BodyForm
    setting: Setting
    raised_m: float
    stands: tuple[Stand, ...]
    driver_left: bool = True


def framing_of(shot: Shot, form: BodyForm = BodyForm.CLOSED, *, driver_left: bool = True) -> Framing:
    """Where to stand for a shot on a car of that form; `driver_left` where the steering wheel is on the left."""
    scene = Scene(shot, form, driver_left)
    if shot.camera.at == "table" or all(is_table_ware(part) for part in shot.components):
        return _on_a_table(scene)
    parts = {name: places_of(name, form, driver_left=driver_left) for name in shot.components}
    setting = _setting(shot.camera)
    lead = _gathered(scene, parts, False)
    scene = Scene(shot, form, driver_left, _raised(scene, setting, [target.box for target in lead]))
    if scene.raised:
        parts = {name: tuple(one.raised(scene.raised) for one in boxes) for name, boxes in parts.items()}
        setting = Setting.LIFT
    return Framing(shot, form, setting, scene.raised, _stands(scene, parts), driver_left)


def bearing_from(stand: Stand) -> float:
    """Where the camera stands, seen from its first target, in degrees clockwise from the nose."""
    return bearing_of(stand.pose.eye - stand.targets[0].box.centre)


def _setting(camera: Camera) -> Setting:
    return {"lift": Setting.LIFT, "well": Setting.LIFT, "road": Setting.ROAD}.get(camera.at, Setting.GROUND)


def _on_a_table(scene: Scene) -> Framing:
    """Things laid out side by side, seen from straight above, on a table as high as height and distance ask."""
    shot = scene.shot
    height = shot.camera.height_m if shot.camera.height_m is not None else 0.75 + scene.distance
    top = min(max(height - scene.distance, 0.0), 0.9)
    pose = look_at(Place(0, 0, top + scene.distance), Place(0, 0, top), scene.lens)
    wide = 0.7 * scene.distance * 18 / scene.lens[0]
    step = 2 * wide / len(shot.components)
    things = (
        box((-0.3 * wide, 0.3 * wide), (at - 0.38 * step, at + 0.38 * step), (top, top + 0.01))
        for at in (wide - (number + 0.5) * step for number in range(len(shot.components)))
    )
    targets = tuple(Target(name, thing) for name, thing in zip(shot.components, things, strict=True))
    return Framing(shot, scene.form, Setting.TABLE, top, (Stand(pose, targets),), scene.driver_left)


def _raised(scene: Scene, setting: Setting, boxes: Sequence[Box]) -> float:
    """How far the lift carries the car, so that the subject is as far from the lens as the plan says."""
    camera = scene.camera
    height = camera.height_m
    on_lift = setting is Setting.LIFT or ("lift" in scene.shot.setup and height is not None and height >= 1.2)
    if not on_lift:
        return 0.0
    middle = sum(one.centre.z for one in boxes) / len(boxes)
    if height is None:
        return MOST_RAISED_M
    steep = {True: 1.0, False: 0.6}[camera.look.startswith("up")]
    if camera.look.startswith("up-"):
        steep = 0.75
    if camera.at != "lift" and not camera.look.startswith("up"):
        return min(max(height - middle, 0.0), MOST_RAISED_M)
    return min(max(height + steep * scene.distance - middle, LEAST_RAISED_M), MOST_RAISED_M)


def _stands(scene: Scene, parts: Parts) -> tuple[Stand, ...]:
    """As few stands as hold every component; with a mirrored one beside each where the shot is of pairs only."""
    stands: list[Stand] = []
    todo = dict(parts)
    while todo:
        stand = _widest(scene, todo)
        stands.append(stand)
        for target in stand.targets:
            todo.pop(target.component, None)
    order = list(parts)
    stands.sort(key=lambda stand: min(order.index(target.component) for target in stand.targets))
    if scene.shot.count > 1 and _only_pairs(parts):
        pairs = ((stand,) if _on_both(stand.targets) else (stand, _mirrored(stand)) for stand in stands)
        stands = list(chain.from_iterable(pairs))
    return tuple(stands)


def _widest(scene: Scene, todo: Parts) -> Stand:
    """A stand for a first component and as many of the others as it can hold; of a pair both sides, if it can."""
    for both in (True, False):
        every = _try(scene, _gathered(scene, todo, both))
        if every:
            return every
    best: Stand | None = None
    for name in _leading(todo):
        held = best.targets if best else ()
        for both in (True, False):
            stand = _try(scene, (*held, *_meant(scene, name, todo[name], held, both)))
            if stand:
                best = stand
                break
    if best:
        return best
    name = next(iter(todo))
    return _square_on(scene, _meant(scene, name, todo[name], (), False)[0])


def _leading(parts: Parts) -> list[str]:
    """The components, those in one piece first, because they leave no choice."""
    return sorted(parts, key=lambda name: len(parts[name]) > 1)


def _gathered(scene: Scene, parts: Parts, both: bool) -> tuple[Target, ...]:
    """For every component the part of it that is meant."""
    chosen: tuple[Target, ...] = ()
    for name in _leading(parts):
        chosen = (*chosen, *_meant(scene, name, parts[name], chosen, both))
    return chosen


def _meant(scene: Scene, name: str, boxes: tuple[Box, ...], held: Sequence[Target], both: bool) -> tuple[Target, ...]:
    """The part nearest to what is held already, else to where the camera is; with its twin if `both`."""
    near = held[0].box.centre if held else about_here(scene)
    boxes = _whole_or_parts(scene, boxes)
    lead = min(boxes, key=lambda one: round((one.centre - near).length(), 6))
    twin = lead.mirrored()
    if both and twin != lead and twin in boxes and _even(held):
        return Target(name, lead), Target(name, twin)
    return (Target(name, lead),)


def _whole_or_parts(scene: Scene, boxes: tuple[Box, ...]) -> tuple[Box, ...]:
    """Of a subject that is the whole car first and its low parts after: the parts if the camera is close and low."""
    reach = boxes[0].high - boxes[0].low
    size, camera = PROPORTIONS[scene.form], scene.camera
    if len(boxes) == 1 or reach.x < 0.9 * (size.nose - size.tail):
        return boxes
    low = camera.at == "outside" and scene.distance < _BOTH_SIDES_M and (camera.height_m or 1.0) <= _LOW_M
    return boxes[1:] if low else boxes[:1]


def _try(scene: Scene, targets: Sequence[Target]) -> Stand | None:
    """The stand that holds all targets; None where none does."""
    boxes = [target.box for target in targets]
    if scene.camera.bearing_deg is None:
        pose = from_words(scene, boxes)
        return Stand(pose, tuple(targets)) if pose else None
    if _on_both_sides(scene, targets):
        return None
    for bearing in bearings(scene, boxes):
        pose = from_bearing(scene, boxes, bearing)
        if pose and clear_of_the_body(scene, pose.eye) and _shown(scene, targets, pose.eye, bearing):
            return Stand(pose, tuple(targets))
    return None


def _shown(scene: Scene, targets: Sequence[Target], eye: Place, bearing: float) -> bool:
    """Whether a camera close by sees each target's face and is not far from any."""
    if scene.distance < _CLOSE_M and any(t.box.distance(eye) > 2.5 * scene.distance for t in targets):
        return False
    if scene.camera.at != "outside" or scene.distance >= WHOLE_CAR_M:
        return True
    faces = (facing(scene, target.box) for target in targets)
    return all(face is None or towards(face).dot(towards(bearing)) >= _LEAST_FACE for face in faces)


def _square_on(scene: Scene, target: Target) -> Stand:
    """The last resort for one target: straight towards it from the way it faces."""
    bearing = facing(scene, target.box)
    way = towards(scene.camera.bearing_deg or 0.0 if bearing is None else bearing)
    eye = target.box.centre + way.times(scene.distance) + Place(0.0, 0.0, 0.1)
    return Stand(look_at(eye, target.box.centre, scene.lens), (target,))


def _on_both_sides(scene: Scene, targets: Sequence[Target]) -> bool:
    """Whether the targets lie on both sides of a car that the camera is close beside."""
    if scene.distance >= _BOTH_SIDES_M or scene.camera.at not in ("outside", "doorway"):
        return False
    size = PROPORTIONS[scene.form]
    sides = [target.box.centre.y for target in targets if abs(target.box.centre.y) > 0.2 * size.half_width]
    away = abs(towards(scene.camera.bearing_deg or 0.0).y) > 0.5
    return away and min(sides, default=0.0) < 0 < max(sides, default=0.0)


def _only_pairs(parts: Parts) -> bool:
    """Whether every component lies on both sides, so that the other side wants its own frame."""
    return all(any(one.mirrored() in boxes and one.centre.y > 0.1 for one in boxes) for boxes in parts.values())


def _on_both(targets: Sequence[Target]) -> bool:
    """Whether the twins are held as well."""
    held = {target.box for target in targets}
    return all(target.box.mirrored() in held for target in targets)


def _even(held: Sequence[Target]) -> bool:
    """Whether what is held lies on the centre line or on both sides, so that a twin would not pull the camera over."""
    boxes = {target.box for target in held}
    return all(abs(one.centre.y) < _CENTRED_M or one.mirrored() in boxes for one in boxes)


def _mirrored(stand: Stand) -> Stand:
    """The same stand on the car's other side."""
    pose = stand.pose
    eye = Place(pose.eye.x, -pose.eye.y, pose.eye.z)
    ahead = Place(pose.ahead.x, -pose.ahead.y, pose.ahead.z)
    targets = tuple(Target(target.component, target.box.mirrored()) for target in stand.targets)
    return Stand(look_at(eye, eye + ahead, pose.lens_mm), targets)
