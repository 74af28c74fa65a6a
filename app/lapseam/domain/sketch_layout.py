"""A sketch laid out on a sheet: both views at one scale beside or above each other, words clear of each other.

Lengths are the sheet's own (pixels, points), x to the right and y down.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import hypot

from .drawing import CameraSign, Path, Point, Role, Step, Verb, Word, line, oval
from .sketch import Sketch, View

_NOTE_LINE = 1.4
"""From one line of the note to the next, over the letters' size."""

LETTER_WIDTH = 0.56
"""A letter's width over its size, reckoned for a plain upright type, in which a sketch's few words are set."""


@dataclass(frozen=True, slots=True)
class Pen:
    """How a role is drawn. Inks are the house's colour names; widths are for words of 12 units."""

    ink: str
    width: float
    fill: str = ""
    fill_opacity: float = 1.0
    dash: float = 0.0


PENS: Mapping[Role, Pen] = {
    Role.OUTLINE: Pen("ink", 1.6),
    Role.FINE: Pen("soft", 0.9),
    Role.GROUND: Pen("soft", 1.0),
    Role.STAGE: Pen("soft", 1.0, "line", 0.5),
    Role.PERSON: Pen("soft", 1.3),
    Role.WIDE: Pen("signal", 0.9, "signal", 0.13),
    Role.LONG: Pen("signal", 0.9, "signal", 0.17),
    Role.TARGET: Pen("signal", 1.3, "signal", 0.42),
    Role.ALSO: Pen("signal", 0.9, "signal", 0.12, 3.0),
    Role.AXIS: Pen("soft", 0.9, "", 1.0, 3.0),
    Role.CAMERA: Pen("sheet", 1.2, "signal", 1.0),
    Role.NOSE: Pen("ink", 0.0, "ink", 1.0),
    Role.MEASURE: Pen("ink", 0.0),
    Role.WORD: Pen("soft", 0.0),
}
"""One pen a role. State and kind are told by shape first: nothing here is told by colour alone."""


@dataclass(frozen=True, slots=True)
class PlacedWord:
    """A word with its box's left edge, its baseline, its size and the width reckoned for it.

    It is set round the middle of that width, or from its left edge where it is a `line` of the note.
    """

    role: Role
    text: str
    x: float
    baseline: float
    size: float
    width: float
    line: bool = False


@dataclass(frozen=True, slots=True)
class Placed:
    """A sketch on its sheet: paths in the order of painting, then words. `unit` scales the pens' widths."""

    width: float
    height: float
    unit: float
    paths: tuple[Path, ...]
    words: tuple[PlacedWord, ...]


@dataclass(frozen=True, slots=True)
class _Frame:
    """A rectangle: left, top, width, height."""

    x: float
    y: float
    width: float
    height: float

    def overlap(self, other: _Frame) -> float:
        """The area both share."""
        across = min(self.x + self.width, other.x + other.width) - max(self.x, other.x)
        down = min(self.y + self.height, other.y + other.height) - max(self.y, other.y)
        return max(across, 0.0) * max(down, 0.0)

    def within(self, room: _Frame) -> _Frame:
        """Moved as little as it takes to lie in a room; at its upper left where it is too large for it."""
        x = max(min(self.x, room.x + room.width - self.width - 1), room.x + 1)
        y = max(min(self.y, room.y + room.height - self.height - 1), room.y + 1)
        return _Frame(x, y, self.width, self.height)


@dataclass(frozen=True, slots=True)
class _Clutter:
    """What a word should not stand on: other words and signs, and points along the lines."""

    boxes: tuple[_Frame, ...]
    points: tuple[Point, ...]

    def under(self, box: _Frame) -> float:
        """How bad it would be to stand there; 0 where the paper is free."""
        words = sum(box.overlap(other) for other in self.boxes)
        inside = sum(1 for x, y in self.points if box.x <= x <= box.x + box.width and box.y <= y <= box.y + box.height)
        return 30 * words + 12 * inside


def lay_out(sketch: Sketch, width: float, height: float, *, words_size: float = 12.0, note: bool = True) -> Placed:
    """Fit a sketch into a sheet; its `note` goes on one or two lines at the foot, if wanted."""
    unit = words_size / 12
    notes = _note_lines(sketch.note, width, words_size) if note else ()
    room = _Frame(0, 0, width, max(height - len(notes) * _NOTE_LINE * words_size, 1.0))
    bounds = [_bounds(view) for view in sketch.views]
    frames, scale = _arranged(bounds, room, words_size)
    paths: list[Path] = []
    words: list[PlacedWord] = []
    for view, bound, frame in zip(sketch.views, bounds, frames, strict=True):
        more, said = _placed_view(view, bound, frame, scale, words_size)
        paths += more
        words += said
    for number, text in enumerate(notes):
        baseline = room.height + (number + 0.75) * _NOTE_LINE * words_size
        words.append(
            PlacedWord(Role.WORD, text, 0.3 * words_size, baseline, words_size, _width(text, words_size), True)
        )
    return Placed(width, height, unit, tuple(paths), tuple(words))


def _bounds(view: View) -> _Frame:
    """The metres a view takes, y up, its corner the lower left one."""
    points: list[Point] = []
    for shape in view.shapes:
        points += shape.points() if isinstance(shape, Path) else [shape.at]
    left, right = min(h for h, _v in points), max(h for h, _v in points)
    low, high = min(v for _h, v in points), max(v for _h, v in points)
    return _Frame(left, low, right - left, high - low)


def _arranged(bounds: Sequence[_Frame], room: _Frame, size: float) -> tuple[tuple[_Frame, _Frame], float]:
    """Both views beside or below each other, whichever is drawn larger, with a margin for words round each."""
    edge_x, edge_y = 2.6 * size, 0.9 * size
    one, other = bounds
    beside = min(
        (room.width - 4 * edge_x) / (one.width + other.width),
        (room.height - 2 * edge_y) / max(one.height, other.height),
    )
    below = min(
        (room.width - 2 * edge_x) / max(one.width, other.width),
        (room.height - 4 * edge_y) / (one.height + other.height),
    )
    scale = max(beside, below, 1e-3)
    if beside >= below:
        spare = max(room.width - 4 * edge_x - scale * (one.width + other.width), 0.0)
        first = scale * one.width + 2 * edge_x + spare / 2
        return (_Frame(0, 0, first, room.height), _Frame(first, 0, room.width - first, room.height)), scale
    spare = max(room.height - 4 * edge_y - scale * (one.height + other.height), 0.0)
    first = scale * one.height + 2 * edge_y + spare / 2
    return (_Frame(0, 0, room.width, first), _Frame(0, first, room.width, room.height - first)), scale


def _placed_view(
    view: View, bound: _Frame, frame: _Frame, scale: float, size: float
) -> tuple[list[Path], list[PlacedWord]]:
    """A view in the middle of its frame."""
    left = frame.x + (frame.width - scale * bound.width) / 2
    foot = frame.y + (frame.height + scale * bound.height) / 2

    def at(point: Point) -> Point:
        return left + (point[0] - bound.x) * scale, foot - (point[1] - bound.y) * scale

    paths: list[Path] = []
    taken: list[_Frame] = []
    for shape in view.shapes:
        if isinstance(shape, Path):
            steps = tuple(Step(step.verb, tuple(at(point) for point in step.points)) for step in shape.steps)
            paths.append(Path(shape.role, steps))
        elif isinstance(shape, CameraSign):
            paths += _camera(at(shape.at), shape, size / 12)
            taken.append(_round(at(shape.at), 0.75 * size))
    words: list[PlacedWord] = []
    drawn = tuple(point for path in paths for point in _along(path, 0.4 * size))
    for shape in view.shapes:
        if isinstance(shape, Word):
            word, box = _placed_word(shape, at(shape.at), frame, _Clutter(tuple(taken), drawn), size)
            words.append(word)
            taken.append(box)
    return paths, words


def _along(path: Path, gap: float) -> Iterable[Point]:
    """Points along a path's corners, near enough to each other that no word slips between them."""
    ends = [step.points[-1] for step in path.steps if step.points]
    if path.steps[-1].verb is Verb.CLOSE:
        ends.append(ends[0])
    for (x, y), (to_x, to_y) in pairwise(ends):
        count = int(hypot(to_x - x, to_y - y) / gap) + 1
        yield from ((x + (to_x - x) * number / count, y + (to_y - y) * number / count) for number in range(count + 1))


def _round(at: Point, reach: float) -> _Frame:
    return _Frame(at[0] - reach, at[1] - reach, 2 * reach, 2 * reach)


def _camera(at: Point, sign: CameraSign, unit: float) -> Iterable[Path]:
    """A camera's body with its lens, turned the way it looks; a ring with a dot where it looks at us or away."""
    long = hypot(*sign.way)
    big = unit * (1.0 if sign.main else 0.72)
    if long < 0.2:
        yield oval(Role.CAMERA, at, 6.5 * big, 6.5 * big)
        yield oval(Role.CAMERA, at, 2.6 * big, 2.6 * big)
        return
    ahead = (sign.way[0] / long, -sign.way[1] / long)
    aside = (-ahead[1], ahead[0])

    def spot(forward: float, across: float) -> Point:
        return (
            at[0] + big * (forward * ahead[0] + across * aside[0]),
            at[1] + big * (forward * ahead[1] + across * aside[1]),
        )

    body = [(-8, -6.5), (0, -6.5), (0, -3.6), (6, -3.6), (6, 3.6), (0, 3.6), (0, 6.5), (-8, 6.5)]
    yield line(Role.CAMERA, *(spot(forward, across) for forward, across in body), closed=True)


def _placed_word(word: Word, at: Point, frame: _Frame, clutter: _Clutter, size: float) -> tuple[PlacedWord, _Frame]:
    """Beside its point, on the side it asks for if it is free there, never out of the frame."""
    width, tall = _width(word.text, size), 1.1 * size
    asked = _unit((word.away[0], -word.away[1]))
    ways = [asked, *((x, y) for x in (-1.0, 1.0, -0.5, 0.5, 0.0) for y in (0.0, -1.0, 1.0) if x or y)]
    best: tuple[float, _Frame] | None = None
    for rank, way in enumerate(ways):
        for gap in (0.8 * size, 1.8 * size, 3.2 * size):
            x = at[0] + way[0] * (gap + width / 2) - width / 2
            y = at[1] + way[1] * (gap + tall / 2) - tall / 2
            box = _Frame(x, y, width, tall).within(frame)
            moved = abs(box.x - x) + abs(box.y - y)
            cost = clutter.under(box) + 2 * rank + 2.5 * gap + 3 * moved
            if best is None or cost < best[0]:
                best = cost, box
    assert best is not None
    box = best[1]
    return PlacedWord(word.role, word.text, box.x, box.y + 0.82 * tall, size, width), box


def _unit(way: Point) -> Point:
    long = hypot(*way)
    return (way[0] / long, way[1] / long) if long else (1.0, 0.0)


def _width(text: str, size: float) -> float:
    return LETTER_WIDTH * size * len(text)


def _note_lines(note: str, width: float, size: float) -> tuple[str, ...]:
    """The note on at most two lines, cut with an ellipsis where it is longer."""
    most = max(int((width - size) / (LETTER_WIDTH * size)), 8)
    lines: list[str] = []
    for word in note.split():
        if lines and len(lines[-1]) + 1 + len(word) <= most:
            lines[-1] += f" {word}"
        else:
            lines.append(word[:most])
    if len(lines) > 2:
        lines = [lines[0], lines[1][: most - 1].rstrip() + "…"]
    return tuple(lines)
