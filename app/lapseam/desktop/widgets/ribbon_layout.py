"""Where the segments of a lap ribbon lie: cells equally wide all along, every label whole. No Qt here.

A segment is as wide as its cells or as its label, whichever is wider; cells take all the room that the labels leave.
Labels stand on one line or, at a space, on two; only where even that is too wide for the window are they cut with an
ellipsis, and then all by the same share.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from ..ribbon import Ribbon

Measure = Callable[[str], float]
"""How wide a text is, in pixels."""

LEAST_CELL = 4.0
GAP = 9


@dataclass(frozen=True, slots=True)
class Place:
    """One segment: its left edge and width, and its label's lines, in pixels."""

    left: int
    width: int
    cell: float
    lines: tuple[str, ...]


def lay(ribbon: Ribbon, width: int, measure: Measure, *, gap: int = GAP) -> tuple[Place, ...]:
    """Places for all segments in a strip of `width` pixels."""
    segments = ribbon.segments
    if not segments:
        return ()
    counts = [max(1, len(segment.cells)) for segment in segments]
    room = width - gap * (len(segments) - 1)
    lines = [_lines(segment.short) for segment in segments]
    wanted = [_widest(each, measure) for each in lines]
    cell = _cell_width(counts, wanted, room)
    widths = [max(count * cell, want) for count, want in zip(counts, wanted, strict=True)]
    if sum(widths) > room:
        share = room / sum(widths)
        widths = [one * share for one in widths]
        cell = min(cell, min(one / count for one, count in zip(widths, counts, strict=True)))
        lines = [tuple(_cut(line, one, measure) for line in each) for each, one in zip(lines, widths, strict=True)]
    return _places(widths, cell, lines, gap, measure)


def _places(
    widths: Sequence[float], cell: float, lines: Sequence[tuple[str, ...]], gap: int, measure: Measure
) -> tuple[Place, ...]:
    places = []
    left = 0.0
    for width, each in zip(widths, lines, strict=True):
        joined = " ".join(each)
        fits = len(each) > 1 and measure(joined) <= width
        places.append(Place(int(left), int(left + width) - int(left), cell, (joined,) if fits else each))
        left += width + gap
    return tuple(places)


def _lines(label: str) -> tuple[str, ...]:
    """The label on one line, or on two where it has several words: split where the longer line is shortest."""
    words = label.split()
    if len(words) < 2:
        return (label,)
    splits = [(" ".join(words[:at]), " ".join(words[at:])) for at in range(1, len(words))]
    return min(splits, key=lambda pair: max(len(pair[0]), len(pair[1])))


def _widest(lines: Sequence[str], measure: Measure) -> float:
    return max(measure(line) for line in lines)


def _cell_width(counts: Sequence[int], wanted: Sequence[float], room: float) -> float:
    """The widest equal cell with which everything still fits; `LEAST_CELL` where nothing does."""
    low, high = LEAST_CELL, max(LEAST_CELL, room)
    for _step in range(40):
        middle = (low + high) / 2
        if sum(max(n * middle, want) for n, want in zip(counts, wanted, strict=True)) <= room:
            low = middle
        else:
            high = middle
    return low


def _cut(line: str, width: float, measure: Measure) -> str:
    if measure(line) <= width:
        return line
    kept = line
    while len(kept) > 1 and measure(kept + "…") > width:
        kept = kept[:-1]
    return kept.rstrip() + "…"
