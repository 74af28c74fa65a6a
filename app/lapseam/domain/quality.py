"""Whether a photo is sharp and well exposed enough to prove something: its numbers, turned into words.

Variance of the Laplacian (Pech-Pacheco et al., ICPR 2000) has no absolute threshold: it rises with contrast, noise and
texture, and smooth paint scores low when it is sharp. So a frame is judged against its session only, in this order:

1. against other frames of the same view (retakes): the strongest judge, since only the taking differs;
2. then against the spread of all the camera's frames, on a logarithmic scale, as a robust outlier: a modified z-score
   below -3.5 (B. Iglewicz, D. Hoaglin, *How to Detect and Handle Outliers*, ASQC 1993: 0.6745 (x - median) / MAD).

Light is judged on the grey scale itself, which has a fixed meaning, and against lighter frames of the same view.
A frame may be clipped at its edges on purpose (metal under a car is exposed for, the bright edges blow), so only a
large clipped share counts. The bounds are this house's, set on a session of 86 frames where shaken frames reached 0.15
to 0.21 of their retake's sharpness, good retakes 0.78 or more, and dark frames a mean of 23 to 26 with good ones at 37
or more.

Nothing here says why a frame is soft: motion, focus and haze look alike in these numbers.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import timedelta
from enum import StrEnum
from statistics import median
from typing import Final

from .photo import MediaKind, Photo

SAME_VIEW_BITS: Final = 10
"""Difference-hash bits within which two frames show the same view, whenever they were taken."""
RETAKE_BITS: Final = 16
"""The same for frames taken within `RETAKE_WITHIN`: blur itself moves a few bits of the hash."""
RETAKE_WITHIN: Final = timedelta(seconds=30)
SOFT_SHARE: Final = 0.4
"""Of the edge detail of a frame of the same view; at or below it a frame is soft."""
SOFT_SCORE: Final = -3.5
FEWEST_PEERS: Final = 12
"""Frames of one camera that are needed before their spread judges anything."""
_SMALLEST_SPREAD: Final = 0.25
_LEAST_SHARPNESS: Final = 1e-3
DARK_MEAN: Final = 30.0
DARK_MEAN_BESIDE: Final = 60.0
DARK_SHARE_BESIDE: Final = 0.5
BLOWN_MEAN: Final = 230.0
CLIPPED_SHARE: Final = 0.35


class Word(StrEnum):
    """What the numbers say of one side of a frame's quality."""

    GOOD = "good"
    SOFT = "soft"
    DARK = "dark"
    BLOWN = "blown out"
    CANNOT_JUDGE = "cannot judge"


@dataclass(frozen=True, slots=True)
class Verdict:
    """One frame's quality in words. `usable` is False only where the numbers speak against it, never for doubt."""

    sharp: Word
    light: Word
    words: tuple[str, ...]
    usable: bool


@dataclass(frozen=True, slots=True)
class _Frame:
    """A still with what every comparison needs, worked out once: hash bits, logarithm of edge detail, lit or not."""

    photo: Photo
    bits: int
    edge: float
    lit: bool


def verdict(photo: Photo, peers: Iterable[Photo]) -> Verdict:
    """Judge `photo` within its session.

    Args:
        photo: a still; a clip cannot be judged by one picture of it.
        peers: the car's other photos; those of another camera, clips and the photo itself are passed over.
    """
    return _judge(_frame(photo), [_frame(peer) for peer in peers if _camera(peer) == _camera(photo)])


def verdicts(photos: Iterable[Photo]) -> dict[str, Verdict]:
    """The verdict of every photo by SHA-256, each judged among all of its camera's."""
    sessions: dict[_Camera, list[_Frame]] = {}
    for photo in photos:
        sessions.setdefault(_camera(photo), []).append(_frame(photo))
    return {frame.photo.sha256: _judge(frame, session) for session in sessions.values() for frame in session}


def same_view_as(a: Photo, b: Photo) -> bool:
    """Whether two frames show the same view: near difference hashes, or nearly so and taken within half a minute."""
    return _same_view(_frame(a), _frame(b))


_Camera = tuple[MediaKind, str | None, str | None]


def _camera(photo: Photo) -> _Camera:
    return photo.media, photo.camera.make, photo.camera.model


def _frame(photo: Photo) -> _Frame:
    read = photo.pixels
    edge = math.log(max(read.sharpness, _LEAST_SHARPNESS))
    return _Frame(photo, int(read.dhash, 16), edge, _light(photo, ())[0] is Word.GOOD)


def _same_view(a: _Frame, b: _Frame) -> bool:
    bits = (a.bits ^ b.bits).bit_count()
    if bits <= SAME_VIEW_BITS or bits > RETAKE_BITS:
        return bits <= SAME_VIEW_BITS
    first, second = a.photo.camera.taken_at, b.photo.camera.taken_at
    return first is not None and second is not None and abs(first - second) <= RETAKE_WITHIN


def _judge(frame: _Frame, session: Sequence[_Frame]) -> Verdict:
    if frame.photo.media is not MediaKind.STILL:
        return Verdict(Word.CANNOT_JUDGE, Word.CANNOT_JUDGE, ("a clip: look at it yourself",), True)
    others = [peer for peer in session if peer.photo.sha256 != frame.photo.sha256]
    same_view = [peer for peer in others if _same_view(frame, peer)]
    light, light_words = _light(frame.photo, [peer.photo.pixels.mean_luma for peer in same_view])
    if light is not Word.GOOD:
        return Verdict(Word.CANNOT_JUDGE, light, (light_words, "sharpness cannot be judged in this light"), False)
    sharp, sharp_words = _sharp(frame, [p for p in same_view if p.lit], [p.edge for p in others if p.lit])
    return Verdict(sharp, light, (sharp_words, light_words), sharp is not Word.SOFT)


def _light(photo: Photo, beside: Sequence[float]) -> tuple[Word, str]:
    """The light's word; `beside` are the mean brightnesses of other frames of the same view."""
    read = photo.pixels
    if read.mean_luma < DARK_MEAN:
        return Word.DARK, f"dark: mean brightness {read.mean_luma:.0f} of 255"
    if read.clipped_dark > CLIPPED_SHARE:
        return Word.DARK, f"dark: {read.clipped_dark:.0%} of the picture is black"
    if read.clipped_light > CLIPPED_SHARE:
        return Word.BLOWN, f"blown out: {read.clipped_light:.0%} of the picture is white"
    if read.mean_luma > BLOWN_MEAN:
        return Word.BLOWN, f"blown out: mean brightness {read.mean_luma:.0f} of 255"
    lighter = sum(read.mean_luma <= DARK_SHARE_BESIDE * mean for mean in beside)
    if read.mean_luma < DARK_MEAN_BESIDE and lighter:
        return Word.DARK, f"dark: less than half the light of {_others(lighter)} of this view"
    return Word.GOOD, "light good"


def _sharp(frame: _Frame, same_view: Sequence[_Frame], edges: Sequence[float]) -> tuple[Word, str]:
    """The word for sharpness; `edges` are the edge logarithms of the camera's other well-lit frames."""
    sharper = sum(_much_softer(frame, peer) for peer in same_view)
    if sharper:
        return Word.SOFT, f"soft: less edge detail than {_others(sharper)} of this view"
    if len(edges) >= FEWEST_PEERS and _score(frame.edge, edges) <= SOFT_SCORE:
        above = sum(frame.edge < edge for edge in edges)
        return Word.SOFT, f"soft: less edge detail than {above} of the camera's {_others(len(edges))}"
    if same_view:
        return Word.GOOD, f"sharp, compared with {_others(len(same_view))} of this view"
    if len(edges) < FEWEST_PEERS:
        return Word.CANNOT_JUDGE, f"cannot judge sharpness: only {_others(len(edges))} to compare with"
    return Word.GOOD, f"sharp enough among the camera's {_others(len(edges))}; none is of this view"


def _much_softer(frame: _Frame, peer: _Frame) -> bool:
    """Less edge detail outright and for its contrast, so that a flatter but sharp frame is not called soft."""
    share = math.exp(frame.edge - peer.edge)
    flatness = (max(peer.photo.pixels.contrast, 1.0) / max(frame.photo.pixels.contrast, 1.0)) ** 2
    return share <= SOFT_SHARE and share * flatness <= SOFT_SHARE


def _score(edge: float, edges: Sequence[float]) -> float:
    middle = median(edges)
    spread = max(median(abs(other - middle) for other in edges), _SMALLEST_SPREAD)
    return 0.6745 * (edge - middle) / spread


def _others(count: int) -> str:
    return f"{count} other frame" + ("" if count == 1 else "s")
