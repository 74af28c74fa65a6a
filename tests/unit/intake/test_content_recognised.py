"""What a file is, by its first bytes."""

from __future__ import annotations

from pathlib import Path

import pytest

from fakes import card
from lapseam.intake.content import HEAD_BYTES, Kind, meant_as_photo, recognise


@pytest.mark.parametrize(
    ("kind", "suffix"),
    [("JPEG", ".jpg"), ("PNG", ".png"), ("TIFF", ".tif"), ("WEBP", ".webp"), ("AVIF", ".avif"), ("HEIF", ".heic"),
     ("GIF", ".gif"), ("BMP", ".bmp")],
)  # fmt: skip
def test_stills_are_known_under_any_name(kind: str, suffix: str) -> None:
    content = recognise(card.encoded(card.scene(64, 48), kind)[:HEAD_BYTES], "notes.txt")
    assert (content.kind, content.format, content.suffix) == (Kind.STILL, kind, suffix)


@pytest.mark.parametrize(
    ("name", "codec", "suffix"),
    [("a.mp4", "mpeg4", ".mp4"), ("a.mov", "mpeg4", ".mov"), ("a.avi", "mpeg4", ".avi"),
     ("a.webm", "libvpx-vp9", ".webm"), ("a.mkv", "mpeg4", ".mkv"), ("a.ts", "mpeg2video", ".mts"),
     ("a.mpg", "mpeg1video", ".mpg")],
)  # fmt: skip
def test_clips_are_known_under_any_name(tmp_path: Path, name: str, codec: str, suffix: str) -> None:
    content = recognise(card.clip(tmp_path / name, seconds=0.4, codec=codec)[:HEAD_BYTES], "IMG.JPG")
    assert (content.kind, content.suffix) == (Kind.CLIP, suffix)


@pytest.mark.parametrize(
    "head", [b"", b"\xff", b"RIFF", b"    ftyp", b"plain words", b"The free parking", b"GGGG" * 90]
)
def test_words_and_scraps_are_neither(head: bytes) -> None:
    assert recognise(head, "IMG_1.JPG").kind in (Kind.OTHER, Kind.CLIP)
    assert recognise(head, "IMG_1.JPG").kind is Kind.OTHER or head == b"    ftyp"


def test_raw_files_are_told_from_the_tiff_they_are_built_on() -> None:
    tiff = card.encoded(card.scene(16, 16), "TIFF")
    assert recognise(tiff, "A.NEF").kind is Kind.RAW
    assert recognise(tiff, "A.TIF").kind is Kind.STILL
    assert recognise(b"\0\0\0\x18ftypcrx \0\0\0\1crx isom", "A").kind is Kind.RAW


def test_what_a_camera_lays_beside_a_clip_is_no_photo() -> None:
    assert recognise(card.jpeg(), "CLIP_1.THM").kind is Kind.OTHER


def test_a_name_tells_what_was_meant() -> None:
    assert meant_as_photo("A.JPeG")
    assert meant_as_photo("b.mov")
    assert not meant_as_photo("c.xmp")
