"""Which photos show the same view as one that comes in, by their difference hashes."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

import numpy as np

from lapseam.domain.photo import MediaKind, Photo

NEAR_BITS: Final = 10
"""Differing bits, of 64, up to which two photos are told to be of the same view."""
_BLANK: Final = "0" * 16


class SameView:
    """A car's difference hashes, growing as photos come in.

    A hash without a single bit set says nothing (an even surface has it) and is near to nobody; a clip's hash is its
    poster's and is not compared either.
    """

    def __init__(self, in_car: Mapping[str, str]) -> None:
        self._names: list[str] = []
        self._hashes = np.empty(max(64, 2 * len(in_car)), dtype=np.uint64)
        for sha256, dhash in in_car.items():
            self._put(sha256, dhash)

    def admit(self, photo: Photo) -> tuple[str, ...]:
        """The SHA-256 of photos near this one, nearest first; from now on this one counts too."""
        dhash = photo.pixels.dhash
        if photo.media is MediaKind.CLIP or dhash == _BLANK:
            return ()
        distances = np.bitwise_count(self._hashes[: len(self._names)] ^ np.uint64(int(dhash, 16)))
        close = np.flatnonzero(distances <= NEAR_BITS)
        near = tuple(self._names[at] for at in close[np.argsort(distances[close], kind="stable")])
        self._put(photo.sha256, dhash)
        return tuple(sha256 for sha256 in near if sha256 != photo.sha256)

    def _put(self, sha256: str, dhash: str) -> None:
        if dhash == _BLANK:
            return
        if len(self._names) == len(self._hashes):
            self._hashes = np.resize(self._hashes, 2 * len(self._hashes))
        self._hashes[len(self._names)] = int(dhash, 16)
        self._names.append(sha256)
