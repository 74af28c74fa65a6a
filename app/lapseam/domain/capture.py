"""Capture order: in which order the photos of one card, or of several cameras, were taken.

Camera clocks are wrong or in another zone. Within one camera time (with sub-seconds) and then the file's name decide;
between cameras a clock that would put one camera's frames into the middle of another's run is moved by the least that
sets them beside it. Two cameras that truly ran at once stay apart, as two streams that are matched one by one.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from itertools import pairwise
from statistics import median

from .photo import Photo

Camera = tuple[str, str]
_EPOCH = datetime(1970, 1, 1)
_DIGITS = re.compile(r"(\d+)")


@dataclass(frozen=True, slots=True)
class Frame:
    """A photo at its place in the order: seconds on the joint clock, and since the frame before (0 for the first).

    `pause` is 0 for a working pace to 1 for a long break.
    """

    photo: Photo
    at_s: float
    gap_s: float
    pause: float


def name_order(name: str) -> tuple[tuple[int, int, str], ...]:
    """A sort key that reads runs of digits as numbers: IMG_9 stands before IMG_10."""
    parts = (part for part in _DIGITS.split(name.lower()) if part)
    return tuple((0, int(part), "") if part.isdigit() else (1, 0, part) for part in parts)


def streams(photos: Sequence[Photo], *, largest_clock_error_s: float = 900.0) -> tuple[tuple[Frame, ...], ...]:
    """The photos in capture order: one stream where one clock can hold all cameras, else one for each that cannot.

    A photo without any time stands right after its neighbour by name from the same camera.
    """
    use_utc = all(photo.camera.taken_utc() is not None for photo in photos)
    cameras: dict[Camera, list[tuple[float, Photo]]] = {}
    for photo in sorted(photos, key=lambda one: name_order(one.name)):
        cameras.setdefault((photo.camera.make or "", photo.camera.model or ""), []).append((0.0, photo))
    timed = [_timed([photo for _, photo in rows], use_utc) for rows in cameras.values()]
    timed.sort(key=lambda rows: (-len(rows), rows[0][0]))
    joined: list[tuple[float, Photo]] = []
    apart: list[list[tuple[float, Photo]]] = []
    for rows in timed:
        shift = _least_shift(joined, rows, largest_clock_error_s)
        if shift is None:
            apart.append(rows)
        else:
            joined = sorted([*joined, *((at + shift, photo) for at, photo in rows)], key=_order)
    return tuple(_frames(rows) for rows in (joined, *apart) if rows)


def _order(row: tuple[float, Photo]) -> tuple[float, tuple[tuple[int, int, str], ...], str]:
    return row[0], name_order(row[1].name), row[1].sha256


def _timed(photos: Sequence[Photo], use_utc: bool) -> list[tuple[float, Photo]]:
    """Photos of one camera (in name order) with seconds on its own clock."""
    known = [_seconds(photo, use_utc) for photo in photos]
    first = next((at for at in known if at is not None), 0.0)
    rows, last = [], first
    for photo, at in zip(photos, known, strict=True):
        last = last if at is None else at
        rows.append((last, photo))
    return sorted(rows, key=_order)


def _seconds(photo: Photo, use_utc: bool) -> float | None:
    at = photo.camera.taken_utc() if use_utc else (photo.camera.taken_at or photo.modified_at)
    return None if at is None else (at.replace(tzinfo=None) - _EPOCH).total_seconds()


def _pace(times: Sequence[float]) -> float:
    """The usual seconds between frames, held between 12 and 60."""
    gaps = [later - earlier for earlier, later in pairwise(times) if later > earlier]
    return min(60.0, max(12.0, median(gaps))) if gaps else 24.0


def _runs(times: Sequence[float]) -> list[tuple[float, float]]:
    """First and last second of each run of frames that no break (five times the usual pace or more) divides."""
    limit = 5 * _pace(times)
    runs: list[tuple[float, float]] = []
    for at in times:
        if runs and at - runs[-1][1] < limit:
            runs[-1] = (runs[-1][0], at)
        else:
            runs.append((at, at))
    return runs


def _least_shift(
    joined: Sequence[tuple[float, Photo]], rows: Sequence[tuple[float, Photo]], largest_s: float
) -> float | None:
    """The smallest change of clock that lets no run of `rows` overlap one of `joined`; None if none is small enough."""
    if not joined:
        return 0.0
    theirs, ours = _runs([at for at, _ in joined]), _runs([at for at, _ in rows])
    beside = _pace([at for at, _ in rows])
    shifts = [0.0]
    for start, end in ours:
        for first, last in theirs:
            shifts += [first - end - beside, last - start + beside]
    for shift in sorted((one for one in shifts if abs(one) <= largest_s), key=abs):
        if not any(start + shift < last and end + shift > first for start, end in ours for first, last in theirs):
            return shift
    return None


def _frames(rows: Sequence[tuple[float, Photo]]) -> tuple[Frame, ...]:
    pace = _pace([at for at, _ in rows])
    frames, before = [], rows[0][0]
    for at, photo in rows:
        gap = at - before
        pause = min(1.0, max(0.0, (gap / pace - 2.5) / 5.0))
        frames.append(Frame(photo, at, gap, pause))
        before = at
    return tuple(frames)
