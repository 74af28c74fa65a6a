"""Marks being set on a finding's photos, by mouse or by keys, as values. No Qt here.

Places are shares 0..1 of the upright picture with the origin at its top left, as in the record and in W3C Web
Annotations. A cross shows where the next mark goes; a mark that is taken up moves in its place.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from lapseam.domain.finding import Mark, MarkShape

STEP, LEAP = 0.01, 0.05
"""How far an arrow key moves, alone and with Shift."""
SMALLEST = 0.008
"""A box drawn smaller than this each way was meant as a point."""
_PLACES = 4


@dataclass(frozen=True, slots=True)
class Marking:
    """The marks of one finding on all its photos, where the cross is, and what is under way.

    `begun` is the corner at which a box was begun; `held` the place among `marks` of the one taken up.
    """

    marks: tuple[Mark, ...] = ()
    x: float = 0.5
    y: float = 0.5
    begun: tuple[float, float] | None = None
    held: int | None = None

    def on(self, sha256: str) -> tuple[tuple[int, Mark], ...]:
        """The marks of one photo with their numbers, which count through the finding from 1."""
        return tuple((at, mark) for at, mark in enumerate(self.marks, start=1) if mark.sha256 == sha256)

    def moved(self, across: float, down: float) -> Marking:
        """The mark taken up, or else the cross, moved by shares of the picture; nothing leaves the picture."""
        if self.held is not None:
            mark = self.marks[self.held]
            return self._with(self.held, shifted(mark, across, down))
        return replace(self, x=_inside(self.x + across), y=_inside(self.y + down))

    def put(self, x: float, y: float) -> Marking:
        """The cross somewhere else."""
        return replace(self, x=_inside(x), y=_inside(y))

    def pointed(self, sha256: str) -> Marking:
        """A point where the cross is."""
        return self.marked(sha256, self.x, self.y, self.x, self.y)

    def boxed(self, sha256: str) -> Marking:
        """Begins a box at the cross, or ends the one that was begun."""
        if self.begun is None:
            return replace(self, begun=(self.x, self.y), held=None)
        return self.marked(sha256, *self.begun, self.x, self.y)

    def marked(self, sha256: str, x: float, y: float, to_x: float, to_y: float) -> Marking:
        """A box between two corners, a point where they are one place."""
        return replace(self, marks=(*self.marks, mark_between(sha256, x, y, to_x, to_y)), begun=None, held=None)

    def next_up(self, sha256: str) -> Marking:
        """The next mark of the photo taken up; after the last none is."""
        here = [at - 1 for at, _mark in self.on(sha256)]
        after = [at for at in here if self.held is None or at > self.held]
        return replace(self, held=after[0] if after else None, begun=None)

    def taken_up(self, at: int | None) -> Marking:
        """The mark at that place taken up, or none."""
        return replace(self, held=at, begun=None)

    def let_go(self) -> Marking:
        """Nothing under way: no box begun, no mark taken up."""
        return replace(self, begun=None, held=None)

    def taken_away(self, sha256: str) -> Marking:
        """Without the mark taken up; without one, without the photo's last."""
        here = [at - 1 for at, _mark in self.on(sha256)]
        at = self.held if self.held is not None else here[-1] if here else None
        if at is None:
            return self
        return replace(self, marks=(*self.marks[:at], *self.marks[at + 1 :]), held=None, begun=None)

    def without(self, sha256: str) -> Marking:
        """Without the marks of a photo that the finding no longer shows."""
        return replace(self, marks=tuple(one for one in self.marks if one.sha256 != sha256), held=None, begun=None)

    def hit(self, sha256: str, x: float, y: float, reach: tuple[float, float]) -> int | None:
        """The place of the topmost mark of the photo under (x, y), within `reach` across and down; None for none."""
        for at, mark in reversed(self.on(sha256)):
            across = mark.x - reach[0] <= x <= mark.x + mark.width + reach[0]
            if across and mark.y - reach[1] <= y <= mark.y + mark.height + reach[1]:
                return at - 1
        return None

    def _with(self, at: int, mark: Mark) -> Marking:
        return replace(self, marks=(*self.marks[:at], mark, *self.marks[at + 1 :]))


def mark_between(sha256: str, x: float, y: float, to_x: float, to_y: float) -> Mark:
    """A box with these corners in whatever order; a point at its middle where it is too small for a box."""
    left, right = sorted((_inside(x), _inside(to_x)))
    top, bottom = sorted((_inside(y), _inside(to_y)))
    if right - left < SMALLEST and bottom - top < SMALLEST:
        return Mark(sha256, MarkShape.POINT, round((left + right) / 2, _PLACES), round((top + bottom) / 2, _PLACES))
    width, height = max(right - left, SMALLEST), max(bottom - top, SMALLEST)
    left, top = min(left, 1 - width), min(top, 1 - height)
    sizes = (round(one, _PLACES) for one in (left, top, width, height))
    return Mark(sha256, MarkShape.BOX, *sizes)


def shifted(mark: Mark, across: float, down: float) -> Mark:
    """The mark moved, and kept whole inside the picture."""
    x = min(max(mark.x + across, 0.0), 1 - mark.width)
    y = min(max(mark.y + down, 0.0), 1 - mark.height)
    return replace(mark, x=round(x, _PLACES), y=round(y, _PLACES))


def marks_in_words(marks: Sequence[Mark], sha256: str) -> tuple[int, int]:
    """How many points and boxes a photo has, for a screen reader."""
    here = [one.shape for one in marks if one.sha256 == sha256]
    return here.count(MarkShape.POINT), here.count(MarkShape.BOX)


def _inside(share: float) -> float:
    return min(max(round(share, _PLACES), 0.0), 1.0)
