"""Upright pictures against Pillow's own ImageOps.exif_transpose, pixel by pixel, for each Orientation (Exif 0x0112)."""

from __future__ import annotations

import io
from pathlib import Path

import numpy as np
import pytest
from PIL import Image, ImageOps

from fakes import card
from lapseam.domain.photo import PreviewSize
from lapseam.intake.content import HEAD_BYTES, recognise
from lapseam.intake.look import look


@pytest.mark.parametrize("orientation", range(1, 9))
@pytest.mark.parametrize("kind", ["JPEG", "TIFF", "PNG", "WEBP", "AVIF", "HEIF"])
def test_the_preview_equals_the_transposed_picture(tmp_path: Path, kind: str, orientation: int) -> None:
    path = tmp_path / "turned"
    tags = card.exif(orientation=orientation)
    path.write_bytes(data := card.encoded(card.scene(200, 120, seed=8), kind, exif=tags))
    seen = look(path, recognise(data[:HEAD_BYTES], path.name))
    with Image.open(path) as opened:
        opened.load()
        upright = ImageOps.exif_transpose(opened).convert("RGB")
    preview = Image.open(io.BytesIO(seen.previews[PreviewSize.PREVIEW])).convert("RGB")
    assert preview.size == upright.size == (seen.width, seen.height)
    difference = np.abs(np.asarray(preview, dtype=np.int16) - np.asarray(upright, dtype=np.int16))
    assert difference.mean() < 6, "only the preview's own JPEG loss may remain"


def test_all_eight_ways_of_storing_one_view_end_in_one_view(tmp_path: Path) -> None:
    """Each stored form is made by the inverse turn of CIPA DC-008's table, without Pillow's exif_transpose."""
    view = card.scene(180, 120, seed=9)
    inverse = {
        2: Image.Transpose.FLIP_LEFT_RIGHT, 3: Image.Transpose.ROTATE_180, 4: Image.Transpose.FLIP_TOP_BOTTOM,
        5: Image.Transpose.TRANSPOSE, 6: Image.Transpose.ROTATE_90, 7: Image.Transpose.TRANSVERSE,
        8: Image.Transpose.ROTATE_270,
    }  # fmt: skip
    hashes = set()
    for orientation in range(1, 9):
        stored = view.transpose(inverse[orientation]) if orientation > 1 else view
        path = tmp_path / f"{orientation}.jpg"
        path.write_bytes(data := card.encoded(stored, "JPEG", quality=95, exif=card.exif(orientation=orientation)))
        seen = look(path, recognise(data[:HEAD_BYTES], path.name))
        assert (seen.width, seen.height) == view.size
        hashes.add(seen.pixels.dhash)
    assert len(hashes) == 1
