"""Metadata that is damaged on purpose: both readers end, and the photo comes in without its readings."""

from __future__ import annotations

import io
import struct
import time
from datetime import datetime

import pytest
from PIL import Image

from fakes import card
from lapseam.domain.photo import CameraReadings
from lapseam.intake.exif_readers import READ_BUDGET, read_camera
from lapseam.intake.quiet import quiet


def _read(data: bytes) -> CameraReadings:
    source = io.BytesIO(data)
    with quiet(), Image.open(source) as picture:
        return read_camera(picture, source)


def _jpeg_with(block: bytes) -> bytes:
    return card.encoded(card.scene(48, 32), "JPEG", exif=b"Exif\0\0" + block)


def test_all_readings_of_a_camera_file() -> None:
    assert _read(card.jpeg(private=True)) == CameraReadings(
        taken_at=datetime(2026, 5, 12, 9, 4, 30, 50_000),
        offset_minutes=-300,
        make="Example Optics",
        model="Specimen 24",
        lens="Specimen 50",
        iso=400,
        exposure_s=1 / 250,
        f_number=5.6,
        focal_mm=50.0,
        focal_35mm=75.0,
        has_position=True,
        has_serial=True,
        has_owner=True,
    )


@pytest.mark.parametrize("kind", ["JPEG", "TIFF", "PNG", "WEBP", "AVIF", "HEIF"])
def test_every_format_gives_the_same_readings(kind: str) -> None:
    assert _read(card.encoded(card.scene(64, 48), kind, exif=card.exif(private=True))) == _read(card.jpeg(private=True))


def test_a_picture_without_metadata_has_none_and_no_trouble() -> None:
    assert _read(card.encoded(card.scene(48, 32), "JPEG")) == CameraReadings()


def _directory_that_leads_to_itself() -> bytes:
    """Little-endian TIFF: a GPS pointer to its own directory, with as many entries as fit."""
    entry = struct.pack("<HHII", 0x8825, 4, 1, 8)
    return b"II*\0" + struct.pack("<I", 8) + struct.pack("<H", 5000) + entry * 5000 + struct.pack("<I", 8)


def _many_long_lists() -> bytes:
    """Every entry claims 999 ratios: a million reads, if anyone makes them."""
    entry = struct.pack("<HHII", 0x829A, 5, 999, 8)
    return b"II*\0" + struct.pack("<I", 8) + struct.pack("<H", 5000) + entry * 5000 + struct.pack("<I", 0)


@pytest.mark.parametrize("block", [_directory_that_leads_to_itself(), _many_long_lists()], ids=["circle", "long lists"])
def test_reading_ends_however_the_directories_lead(block: bytes) -> None:
    begun = time.monotonic()
    camera = _read(_jpeg_with(block))
    assert time.monotonic() - begun < 30
    assert camera.taken_at is None


def test_the_budget_is_what_ends_it(monkeypatch: pytest.MonkeyPatch) -> None:
    from lapseam.intake import exif_readers

    assert READ_BUDGET > 10_000
    monkeypatch.setattr(exif_readers, "READ_BUDGET", 20)
    source = io.BytesIO(card.jpeg())
    with Image.open(source) as picture, pytest.raises(exif_readers._BudgetSpent):
        exif_readers.by_exifread(picture, source)


def test_rubbish_in_place_of_metadata_is_trouble_and_no_more() -> None:
    camera = _read(_jpeg_with(b"II*\0" + b"\xff" * 400))
    assert (camera.make, camera.orientation) == (None, 1)
    camera = _read(_jpeg_with(b"no structure at all"))
    assert camera.trouble.startswith("metadata unreadable")


def test_pillow_reads_on_where_the_first_reader_gives_up(monkeypatch: pytest.MonkeyPatch) -> None:
    from lapseam.intake import exif_readers

    monkeypatch.setattr(exif_readers, "READ_BUDGET", 20)
    camera = _read(card.jpeg())
    assert (camera.make, camera.trouble) == ("Example Optics", "")
    assert camera.taken_at == datetime(2026, 5, 12, 9, 4, 30, 50_000)


def test_text_beyond_ascii_is_read_as_utf_8_by_both() -> None:
    tags = card.exif()
    tags[0x010F] = "Ünsal Optik".encode()
    for kind in ("JPEG", "WEBP"):
        assert _read(card.encoded(card.scene(48, 32), kind, exif=tags)).make == "Ünsal Optik"
