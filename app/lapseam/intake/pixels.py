"""Numbers read from a grey picture: sharpness, exposure and a difference hash. Pure arithmetic on arrays."""

from __future__ import annotations

from itertools import pairwise
from typing import Final

import numpy as np
import numpy.typing as npt
from PIL import Image

from lapseam.domain.photo import PixelReadings

Grey = npt.NDArray[np.uint8]

LONGEST_PX: Final = 1024
"""Long side of the grey picture that is measured, in pixels; smaller pictures are measured as they are."""
TILES: Final = 4
"""Tiles along each side of the grid over which the sharpest is sought."""
DARK: Final = 2
LIGHT: Final = 253
_HASH_SIDE: Final = 8


def read_pixels(grey: Image.Image) -> PixelReadings:
    """All readings of an upright 8-bit grey picture (mode L), at most `LONGEST_PX` on its long side."""
    counts = np.array(grey.histogram(), dtype=np.float64)
    levels = np.arange(256, dtype=np.float64)
    total = float(counts.sum())
    mean = float(counts @ levels) / total
    return PixelReadings(
        sharpness=round(sharpness(np.asarray(grey)), 3),
        contrast=round(float(np.sqrt(counts @ (levels - mean) ** 2 / total)), 3),
        mean_luma=round(mean, 3),
        clipped_dark=round(float(counts[: DARK + 1].sum()) / total, 6),
        clipped_light=round(float(counts[LIGHT:].sum()) / total, 6),
        dhash=dhash(grey),
    )


def laplacian(grey: Grey) -> npt.NDArray[np.int16]:
    """The picture filtered with [0 1 0; 1 -4 1; 0 1 0], its border mirrored without repeating the edge pixel.

    Source of the kernel: Pech-Pacheco et al., Diatom autofocusing in brightfield microscopy, ICPR 2000.
    """
    wide = np.pad(grey, 1, mode="reflect" if min(grey.shape) > 1 else "edge").astype(np.int16)
    result = wide[:-2, 1:-1] + wide[2:, 1:-1]
    result += wide[1:-1, :-2]
    result += wide[1:-1, 2:]
    result -= 4 * wide[1:-1, 1:-1]
    return result


def sharpness(grey: Grey, tiles: int = TILES) -> float:
    """The largest variance of the Laplacian over a grid of tiles: plain paint does not hide one sharp edge."""
    edges = laplacian(grey)
    rows = np.linspace(0, edges.shape[0], min(tiles, edges.shape[0]) + 1).astype(int)
    columns = np.linspace(0, edges.shape[1], min(tiles, edges.shape[1]) + 1).astype(int)
    return max(
        _variance(edges[top:bottom, left:right]) for top, bottom in pairwise(rows) for left, right in pairwise(columns)
    )


def _variance(tile: npt.NDArray[np.int16]) -> float:
    """Population variance, by whole numbers: exact, and without a float copy of the tile."""
    values = tile.astype(np.int32)
    total = int(values.sum(dtype=np.int64))
    squares = int(np.square(values).sum(dtype=np.int64))
    return max(0.0, (squares - total * total / values.size) / values.size)


def dhash(grey: Image.Image) -> str:
    """The 64-bit difference hash as 16 hex digits: 9 x 8 pixels, a bit is set where the right neighbour is brighter."""
    small = grey.resize((_HASH_SIDE + 1, _HASH_SIDE), Image.Resampling.LANCZOS)
    values = np.asarray(small, dtype=np.int16)
    return np.packbits(values[:, 1:] > values[:, :-1]).tobytes().hex()
