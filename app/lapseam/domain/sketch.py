"""A shot's framing sketch: a plain car from above and from one side, the cameras, their view, what must be in it.

From above the nose is to the left, so the car's own left is below. The second view is from the car's left, the nose to
the left too, or from behind, left to the left, whichever shows the camera's distance.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from enum import StrEnum

from . import car_lines
from .drawing import CameraSign, Path, Point, Role, Shape, Step, Word, hull, line
from .framing import Framing, Setting, Stand, Target
from .plain_car import PROPORTIONS, Proportions
from .pose import Pose
from .sketch_stage import lift_stage, open_lids, open_panels, person, road, table_from_above, table_from_side
from .space import Place
from .stand_pose import WHOLE_CAR_M


class Side(StrEnum):
    """From where a view looks."""

    ABOVE = "above"
    LEFT = "left"
    BEHIND = "behind"
    TABLE_ABOVE = "table-above"
    TABLE_SIDE = "table-side"


@dataclass(frozen=True, slots=True)
class SketchWords:
    """The words of a sketch, for fronts in other languages; `metres` and `high` have a place for a length in metres."""

    front: str = "front"
    left: str = "left"
    right: str = "right"
    metres: str = "{metres:g} m"
    high: str = "{metres:g} m high"


@dataclass(frozen=True, slots=True)
class View:
    """One view in metres: what it shows, from the farthest to the nearest."""

    side: Side
    shapes: tuple[Shape, ...]


@dataclass(frozen=True, slots=True)
class Sketch:
    """A shot's sketch. `note` says in words where the camera is, where a plan gives a spot in words."""

    shot: str
    views: tuple[View, View]
    note: str = ""


_FLAT: dict[Side, Callable[[Place], Point]] = {
    Side.ABOVE: lambda place: (-place.x, -place.y),
    Side.LEFT: lambda place: (-place.x, place.z),
    Side.BEHIND: lambda place: (-place.y, place.z),
    Side.TABLE_ABOVE: lambda place: (-place.y, place.x),
    Side.TABLE_SIDE: lambda place: (-place.y, place.z),
}
"""From the car's metres to a view's plane, h to the right and v up."""

_WHOLE_CAR_PART = 0.8
"""A target longer than this part of the car is the car itself, and is not drawn over it."""

_THINNEST_M = 0.05
_INSIDE = ("inside", "doorway", "road")
"""Where the cabin is drawn with its seats."""

_NO_ROOM = ("inside", "road")
"""Where nobody is drawn, because he sits in the car."""


def sketch_of(framing: Framing, words: SketchWords | None = None) -> Sketch:
    """Draw a framing."""
    said = words or SketchWords()
    if framing.setting is Setting.TABLE:
        views = _table(framing, said)
    else:
        views = _from_above(framing, said), _from_the_side(framing, said)
    return Sketch(framing.shot.id, views, framing.shot.camera.spot)


def _from_above(framing: Framing, words: SketchWords) -> View:
    """The car on its plan, the nose marked."""
    size = PROPORTIONS[framing.form]
    inside = framing.shot.camera.at in _INSIDE
    car = [_turned(path, Side.ABOVE) for path in car_lines.from_above(framing.form, inside=inside)]
    if inside and not framing.driver_left:
        car = [_turned(path, Side.ABOVE, -1) for path in car_lines.from_above(framing.form, inside=inside)]
    doors = open_panels(framing.shot.camera.at, framing.form, [s.pose.eye.y for s in framing.stands])
    shapes: list[Shape] = [*_sight(framing, Side.ABOVE), *car, *(_turned(path, Side.ABOVE) for path in doors)]
    shapes += _targets(framing, Side.ABOVE)
    mark = _nose_mark(size.nose, size.half_width)
    shapes += [mark, *_cameras(framing, Side.ABOVE)]
    eye = framing.stands[0].pose.eye
    clear = -1 if eye.y < 0 else 1
    shapes.append(Word(Role.WORD, words.front, (-size.nose, -clear * 0.75 * size.half_width), (-1.0, -0.4 * clear)))
    distance = framing.shot.camera.distance_m
    if distance is not None:
        shapes.append(_distance_word(framing.stands[0], words.metres.format(metres=distance), Side.ABOVE))
    return View(Side.ABOVE, tuple(shapes))


def _from_the_side(framing: Framing, words: SketchWords) -> View:
    """The car's profile, or its cross-section where the camera stands beside it."""
    main = framing.stands[0]
    side = Side.BEHIND if _beside(main) else Side.LEFT
    lines = car_lines.from_behind if side is Side.BEHIND else car_lines.from_left
    car = [_turned(path, side, up=framing.raised_m) for path in lines(framing.form)]
    shapes: list[Shape] = [_ground(framing, side)]
    if framing.setting is Setting.ROAD:
        shapes += road(PROPORTIONS[framing.form])
    if framing.setting is Setting.LIFT:
        shapes += lift_stage(PROPORTIONS[framing.form], framing.raised_m, side is Side.BEHIND)
    if side is Side.LEFT:
        car += [_turned(path, side) for path in open_lids(framing.shot.camera.at, framing.form)]
    shapes += [*_sight(framing, side), *car, *_targets(framing, side)]
    eye, way = _FLAT[side](main.pose.eye), _way(main.pose, side)
    aim = _FLAT[side](main.targets[0].box.centre)
    plumb = abs(main.pose.ahead.z) > 0.95 and framing.setting is Setting.GROUND
    if framing.shot.camera.at not in _NO_ROOM and not plumb:
        shapes += person(eye, 1 if eye[0] >= aim[0] else -1, _head_room(framing, main.pose.eye))
    shapes += _height(framing, eye, 1 if eye[0] >= aim[0] else -1, words)
    shapes += [CameraSign(eye, way), *_side_words(framing, side, words)]
    return View(side, tuple(shapes))


def _beside(stand: Stand) -> bool:
    """Whether the camera is off to one side rather than ahead or behind: then a cross-section shows the distance."""
    ahead = stand.pose.ahead
    return abs(ahead.z) < 0.95 and abs(ahead.y) > 1.25 * abs(ahead.x)


def _turned(path: Path, side: Side, mirror: int = 1, up: float = 0.0) -> Path:
    """A path of the car's own plane in a view's plane: its first axis runs to the left there."""
    across = -mirror if side is Side.ABOVE else 1
    steps = tuple(Step(step.verb, tuple((-h, across * v + up) for h, v in step.points)) for step in path.steps)
    return Path(path.role, steps)


def _sight(framing: Framing, side: Side) -> Iterable[Shape]:
    """What the main camera's lens sees, at both ends of its range, and whither the others look."""
    flat = _FLAT[side]
    for stand in framing.stands[1:]:
        yield line(Role.ALSO, flat(stand.pose.eye), flat(stand.targets[0].box.centre))
    main = framing.stands[0]
    depth = 1.04 * max(main.pose.depth(target.box.centre) for target in main.targets) + 0.04
    if (framing.shot.camera.distance_m or 0.0) >= WHOLE_CAR_M:
        middle = PROPORTIONS[framing.form].bounds().raised(framing.raised_m).centre
        depth = max(depth, main.pose.depth(middle))
    short, long = main.pose.lens_mm
    for role, lens in ((Role.WIDE, short), (Role.LONG, long))[: 1 if long == short else 2]:
        seen = hull(flat(place) for place in (main.pose.eye, *main.pose.corners(lens, depth)))
        yield line(role, *seen, closed=True)


def _targets(framing: Framing, side: Side) -> Iterable[Shape]:
    """What must be in frame, where it lies on the car."""
    size = PROPORTIONS[framing.form]
    main = {target.box for target in framing.stands[0].targets}
    drawn: set[tuple[Point, Point]] = set()
    for stand in framing.stands:
        for target in stand.targets:
            if _is_the_car(target, size):
                continue
            role = Role.TARGET if target.box in main else Role.ALSO
            low, high = _spread(_FLAT[side](target.box.low), _FLAT[side](target.box.high))
            if (low, high) not in drawn:
                drawn.add((low, high))
                yield line(role, low, (high[0], low[1]), high, (low[0], high[1]), closed=True)


def _is_the_car(target: Target, size: Proportions) -> bool:
    """Whether a target is the whole car, which needs no box over it."""
    reach = target.box.high - target.box.low
    return reach.x > _WHOLE_CAR_PART * (size.nose - size.tail) and reach.z > size.belt


def _spread(one: Point, other: Point) -> tuple[Point, Point]:
    """The lower left and the upper right corner, never thinner than can be seen."""
    spans = []
    for a, b in zip(one, other, strict=True):
        low, high = min(a, b), max(a, b)
        thin = max(_THINNEST_M - (high - low), 0.0) / 2
        spans.append((low - thin, high + thin))
    return (spans[0][0], spans[1][0]), (spans[0][1], spans[1][1])


def _cameras(framing: Framing, side: Side) -> Iterable[Shape]:
    for number, stand in reversed(list(enumerate(framing.stands))):
        yield CameraSign(_FLAT[side](stand.pose.eye), _way(stand.pose, side), number == 0)


def _way(pose: Pose, side: Side) -> Point:
    """Where the lens points in the view's plane."""
    flat = _FLAT[side]
    start, end = flat(pose.eye), flat(pose.eye + pose.ahead)
    return end[0] - start[0], end[1] - start[1]


def _nose_mark(nose: float, half_width: float) -> Path:
    """A solid wedge on the hood that points ahead."""
    big = min(half_width / 0.9, 1.0)
    tip, back, wide = -(nose - 0.22 * big), -(nose - 0.5 * big), 0.16 * big
    return line(Role.NOSE, (tip, 0.0), (back, wide), (back, -wide), closed=True)


def _distance_word(stand: Stand, text: str, side: Side) -> Word:
    eye, aim = _FLAT[side](stand.pose.eye), _FLAT[side](stand.targets[0].box.centre)
    away = (eye[0] - aim[0], eye[1] - aim[1])
    return Word(Role.MEASURE, text, eye, away if abs(away[0]) + abs(away[1]) > 0.05 else (1.0, 0.0))


def _ground(framing: Framing, side: Side) -> Path:
    """The floor, as far as the car and every camera reach."""
    size = PROPORTIONS[framing.form]
    ends = [-size.half_width, size.half_width] if side is Side.BEHIND else [-size.nose, -size.tail]
    ends.append(_FLAT[side](framing.stands[0].pose.eye)[0])
    return line(Role.GROUND, (min(ends) - 0.7, 0.0), (max(ends) + 0.7, 0.0))


def _head_room(framing: Framing, eye: Place) -> float:
    """How tall somebody may stand where the camera is."""
    size = PROPORTIONS[framing.form]
    below = size.tail < eye.x < size.nose and abs(eye.y) < size.half_width and eye.z < framing.raised_m + size.floor
    return framing.raised_m + size.floor - 0.12 if below else 9.0


def _height(framing: Framing, eye: Point, away: int, words: SketchWords) -> Iterable[Shape]:
    """A rule from the ground to the lens, where the plan gives a height and the sketch keeps it."""
    height = framing.shot.camera.height_m
    if height is None or abs(height - eye[1]) > 0.12:
        return
    yield line(Role.AXIS, (eye[0], 0.0), eye)
    yield Word(
        Role.MEASURE,
        words.high.format(metres=height),
        (eye[0] + 0.7 * away, min(eye[1], 1.6) * 0.5),
        (float(away), 0.0),
    )


def _side_words(framing: Framing, side: Side, words: SketchWords) -> Iterable[Shape]:
    size, up = PROPORTIONS[framing.form], framing.raised_m
    if side is Side.LEFT:
        yield Word(Role.WORD, words.front, (-size.nose, size.belt * 0.6 + up), (-1.0, 0.0))
        return
    yield Word(Role.WORD, words.left, (-size.half_width, size.belt + up), (-1.0, 0.6))
    yield Word(Role.WORD, words.right, (size.half_width, size.belt + up), (1.0, 0.6))


def _table(framing: Framing, words: SketchWords) -> tuple[View, View]:
    """Things on a table from above, and the table from its side with the camera over it."""
    stand, top = framing.stands[0], framing.raised_m
    edge = max(0.5, *(abs(target.box.high.y) + 0.15 for target in stand.targets))
    reach = max(abs(framing.stands[0].pose.eye.z - top) * 12 / stand.pose.lens_mm[0], 0.2) + 0.1
    above: list[Shape] = [*table_from_above(edge, reach), *_sight(framing, Side.TABLE_ABOVE)]
    above += _targets(framing, Side.TABLE_ABOVE)
    side: list[Shape] = [
        *table_from_side(edge, top),
        *_sight(framing, Side.TABLE_SIDE),
        *_targets(framing, Side.TABLE_SIDE),
    ]
    eye = _FLAT[Side.TABLE_SIDE](stand.pose.eye)
    side.append(CameraSign(eye, _way(stand.pose, Side.TABLE_SIDE)))
    distance, height = framing.shot.camera.distance_m, framing.shot.camera.height_m
    if distance is not None:
        side.append(Word(Role.MEASURE, words.metres.format(metres=distance), eye, (1.0, 0.0)))
    if height is not None:
        rule = edge + 0.2
        side.append(line(Role.AXIS, (rule, 0.0), (rule, height)))
        side.append(Word(Role.MEASURE, words.high.format(metres=height), (rule, height), (0.3, 1.0)))
    return View(Side.TABLE_ABOVE, tuple(above)), View(Side.TABLE_SIDE, tuple(side))
