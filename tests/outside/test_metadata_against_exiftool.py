"""Our metadata readings against ExifTool's, an independent reader (exiftool.org), file by file.

Over every file of the demo card, the pictures that scikit-image ships, and one made in each format. Where ExifTool is
not installed the comparison is skipped by name; the two Python readers are compared all the same.
"""

from __future__ import annotations

import json
import re
import shutil
import subprocess
from datetime import datetime
from functools import cache
from pathlib import Path
from typing import Any

import pytest
import skimage
from PIL import Image

from fakes import card
from lapseam import places
from lapseam.domain.photo import CameraReadings
from lapseam.intake.content import HEAD_BYTES, Kind, recognise
from lapseam.intake.exif_readers import by_exifread, by_pillow
from lapseam.intake.look import Seen, look
from lapseam.intake.quiet import quiet
from lapseam.intake.tags import camera_readings

DEMO = sorted(places.demo_assets().glob("card/*"))
SHIPPED_ELSEWHERE = sorted(
    path
    for path in Path(skimage.__file__).parent.rglob("*")
    if path.suffix.lower() in (".jpg", ".jpeg", ".png", ".tif", ".tiff", ".gif") and path.name != "multipage_rgb.tif"
)
"""All but one TIFF of five separate planes, which no camera writes and Pillow does not open."""
FORMATS = ("JPEG", "TIFF", "PNG", "WEBP", "AVIF", "HEIF")
FIELDS = (
    "DateTimeOriginal", "SubSecTimeOriginal", "OffsetTimeOriginal", "Make", "Model", "LensModel", "Orientation", "ISO",
    "ExposureTime", "FNumber", "FocalLength", "FocalLengthIn35mmFormat", "GPSLatitude", "SerialNumber", "OwnerName",
    "ImageWidth", "ImageHeight",
)  # fmt: skip

needs_exiftool = pytest.mark.skipif(shutil.which("exiftool") is None, reason="exiftool is not installed")


def exiftool(*paths: Path) -> list[dict[str, Any]]:
    """ExifTool's raw values (-n) of the Exif directories and of the picture's size."""
    asked = [f"-{group}:{field}" for field in FIELDS for group in ("EXIF", "File", "PNG")]
    command = ["exiftool", "-j", "-n", "-m", *asked, *map(str, paths)]
    run = subprocess.run(command, capture_output=True, check=False, timeout=120)
    return list(json.loads(run.stdout))


@cache
def _demo_by_exiftool() -> dict[str, dict[str, Any]]:
    return {Path(told["SourceFile"]).name: told for told in exiftool(*DEMO)}


def _look(path: Path) -> Seen:
    with path.open("rb") as source:
        content = recognise(source.read(HEAD_BYTES), path.name)
    assert content.kind is Kind.STILL
    return look(path, content)


def _said(told: dict[str, Any], field: str) -> str | None:
    value = str(told[field]).strip() if field in told else ""
    return value or None


def _taken(told: dict[str, Any]) -> datetime | None:
    written = _said(told, "DateTimeOriginal")
    if written is None or not re.fullmatch(r"\d{4}:\d\d:\d\d \d\d:\d\d:\d\d", written) or written.startswith("0000"):
        return None
    moment = datetime.strptime(written, "%Y:%m:%d %H:%M:%S")
    fraction = told.get("SubSecTimeOriginal")
    return moment if fraction is None else moment.replace(microsecond=round(float(f"0.{fraction}") * 1e6))


def _offset(told: dict[str, Any]) -> int | None:
    written = _said(told, "OffsetTimeOriginal")
    if written is None:
        return None
    hours, minutes = written[1:].split(":")
    return (int(hours) * 60 + int(minutes)) * (-1 if written[0] == "-" else 1)


def _number(told: dict[str, Any], field: str) -> Any:
    value = told.get(field)
    return pytest.approx(value, rel=1e-6) if isinstance(value, (int, float)) and value > 0 else None


def _agree(camera: CameraReadings, told: dict[str, Any]) -> None:
    assert camera.trouble == ""
    assert camera.taken_at == _taken(told)
    assert camera.offset_minutes == _offset(told)
    assert (camera.make, camera.model) == (_said(told, "Make"), _said(told, "Model"))
    assert camera.lens == _said(told, "LensModel")
    assert camera.iso == _number(told, "ISO")
    assert camera.exposure_s == _number(told, "ExposureTime")
    assert camera.f_number == _number(told, "FNumber")
    assert camera.focal_mm == _number(told, "FocalLength")
    assert camera.focal_35mm == _number(told, "FocalLengthIn35mmFormat")
    assert camera.has_position == ("GPSLatitude" in told)
    assert camera.has_serial == ("SerialNumber" in told)
    assert camera.has_owner == ("OwnerName" in told)


@needs_exiftool
@pytest.mark.parametrize("path", DEMO, ids=lambda path: path.name)
def test_the_demo_card_reads_as_exiftool_reads_it(path: Path) -> None:
    told, seen = _demo_by_exiftool()[path.name], _look(path)
    _agree(seen.camera, told)
    assert seen.camera.orientation == told.get("Orientation", 1)
    stored = (told["ImageWidth"], told["ImageHeight"])
    assert (seen.width, seen.height) == (stored[::-1] if seen.camera.orientation >= 5 else stored)


def test_the_demo_card_is_whole() -> None:
    assert len(DEMO) == 86


@needs_exiftool
@pytest.mark.parametrize("path", SHIPPED_ELSEWHERE, ids=lambda path: path.name)
def test_pictures_from_elsewhere_read_as_exiftool_reads_them(path: Path) -> None:
    (told,) = exiftool(path)
    _agree(_look(path).camera, told)


@needs_exiftool
@pytest.mark.parametrize("kind", FORMATS)
@pytest.mark.parametrize("digits", ["05", "5", "123456"])
def test_every_format_reads_as_exiftool_reads_it(tmp_path: Path, kind: str, digits: str) -> None:
    path = tmp_path / "made"
    path.write_bytes(card.encoded(card.scene(64, 48), kind, exif=card.exif(private=True, subsecond=digits)))
    (told,) = exiftool(path)
    assert told["SerialNumber"] == "SN-000"
    _agree(_look(path).camera, told)


@pytest.mark.parametrize("path", DEMO, ids=lambda path: path.name)
def test_pillow_and_exifread_read_the_same(path: Path) -> None:
    with quiet(), path.open("rb") as source, Image.open(source) as picture:
        first, second = by_exifread(picture, source), by_pillow(picture)
    assert first
    assert first.keys() == second.keys()
    assert camera_readings(first) == camera_readings(second)
