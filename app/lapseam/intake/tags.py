"""From raw tag values, as odd as files hold them, to camera readings.

Source of tags and forms: Exif (CIPA DC-008). Readers hand over whatever lies in the file; here it is decided what of it
can be believed, and what cannot becomes None. Nothing here raises.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import Enum
from typing import Final

from lapseam.domain.photo import CameraReadings

Raw = object
"""A tag's value as a reader gave it: text, bytes, number, ratio, or a sequence of these."""


class Ifd(Enum):
    """The directory of tags a tag stands in."""

    MAIN = "Image"
    EXIF = "EXIF"
    GPS = "GPS"


@dataclass(frozen=True, slots=True)
class Tag:
    """One tag that is read: where it stands and how both readers call it."""

    ifd: Ifd
    number: int
    name: str

    @property
    def label(self) -> str:
        """The key exifread gives it; where it has no name for a tag, `name` is its number written as exifread does."""
        return f"{self.ifd.value} {self.name}"


MAKE: Final = Tag(Ifd.MAIN, 0x010F, "Make")
MODEL: Final = Tag(Ifd.MAIN, 0x0110, "Model")
ORIENTATION: Final = Tag(Ifd.MAIN, 0x0112, "Orientation")
ARTIST: Final = Tag(Ifd.MAIN, 0x013B, "Artist")
XP_AUTHOR: Final = Tag(Ifd.MAIN, 0x9C9D, "XPAuthor")
EXPOSURE: Final = Tag(Ifd.EXIF, 0x829A, "ExposureTime")
F_NUMBER: Final = Tag(Ifd.EXIF, 0x829D, "FNumber")
ISO: Final = Tag(Ifd.EXIF, 0x8827, "ISOSpeedRatings")
EXPOSURE_INDEX: Final = Tag(Ifd.EXIF, 0x8832, "RecommendedExposureIndex")
TAKEN: Final = Tag(Ifd.EXIF, 0x9003, "DateTimeOriginal")
OFFSET: Final = Tag(Ifd.EXIF, 0x9011, "OffsetTimeOriginal")
SUBSECOND: Final = Tag(Ifd.EXIF, 0x9291, "SubSecTimeOriginal")
FOCAL: Final = Tag(Ifd.EXIF, 0x920A, "FocalLength")
FOCAL_35MM: Final = Tag(Ifd.EXIF, 0xA405, "FocalLengthIn35mmFilm")
OWNER: Final = Tag(Ifd.EXIF, 0xA430, "CameraOwnerName")
BODY_SERIAL: Final = Tag(Ifd.EXIF, 0xA431, "BodySerialNumber")
LENS: Final = Tag(Ifd.EXIF, 0xA434, "LensModel")
LENS_SERIAL: Final = Tag(Ifd.EXIF, 0xA435, "LensSerialNumber")
PHOTOGRAPHER: Final = Tag(Ifd.EXIF, 0xA437, "Tag 0xA437")
LATITUDE: Final = Tag(Ifd.GPS, 0x0002, "GPSLatitude")
LONGITUDE: Final = Tag(Ifd.GPS, 0x0004, "GPSLongitude")

TAGS: Final = (
    MAKE, MODEL, ORIENTATION, ARTIST, XP_AUTHOR, EXPOSURE, F_NUMBER, ISO, EXPOSURE_INDEX, TAKEN, OFFSET, SUBSECOND,
    FOCAL, FOCAL_35MM, OWNER, BODY_SERIAL, LENS, LENS_SERIAL, PHOTOGRAPHER, LATITUDE, LONGITUDE,
)  # fmt: skip
"""Every tag that a reader looks for; nothing else of the metadata is touched."""

ISO_SEE_INDEX: Final = 65535
"""The ISO tag is 16 bits; this value says that the true one stands in another tag."""
TEXT_LIMIT: Final = 200
_TIME = re.compile(r"(\d{4})[:\-/.](\d\d)[:\-/.](\d\d)[ T](\d\d):(\d\d):(\d\d)")
_OFFSET = re.compile(r"([+-])(\d\d):?(\d\d)")


def camera_readings(values: Mapping[Tag, Raw], *, orientation: int = 1, trouble: str = "") -> CameraReadings:
    """What can be believed of these values. `orientation` is the one the picture was turned by."""
    return CameraReadings(
        taken_at=_taken_at(values.get(TAKEN), values.get(SUBSECOND)),
        offset_minutes=_offset(values.get(OFFSET)),
        make=text(values.get(MAKE)),
        model=text(values.get(MODEL)),
        lens=text(values.get(LENS)),
        orientation=orientation,
        iso=_iso(values.get(ISO), values.get(EXPOSURE_INDEX)),
        exposure_s=positive(values.get(EXPOSURE)),
        f_number=positive(values.get(F_NUMBER)),
        focal_mm=positive(values.get(FOCAL)),
        focal_35mm=positive(values.get(FOCAL_35MM)),
        has_position=LATITUDE in values and LONGITUDE in values,
        has_serial=any(text(values.get(tag)) for tag in (BODY_SERIAL, LENS_SERIAL)),
        has_owner=any(text(values.get(tag)) for tag in (OWNER, PHOTOGRAPHER, ARTIST, XP_AUTHOR)),
        trouble=trouble,
    )


def orientation_of(value: Raw) -> int:
    """1 to 8; everything else, and nothing, is 1 (upright)."""
    number = positive(value)
    return int(number) if number is not None and number in range(1, 9) else 1


def text(value: Raw) -> str | None:
    """One line of printable text, or None where there is none: cameras fill unset names with blanks, NULs or dashes."""
    if isinstance(value, (list, tuple)):
        if value and all(isinstance(part, int) and 0 <= part < 256 for part in value):
            value = bytes(value)
        else:
            value = value[0] if value else None
    if isinstance(value, bytes):
        value = value.decode("utf-16-le" if value[1::2].count(0) > len(value) // 4 else "utf-8", "replace")
    if not isinstance(value, str):
        return None
    line = "".join(letter if letter.isprintable() else " " for letter in value.split("\0", 1)[0])
    line = " ".join(line.split())[:TEXT_LIMIT]
    return line if line.strip("-. \N{REPLACEMENT CHARACTER}") else None


def positive(value: Raw) -> float | None:
    """A finite number above zero, from a number, a ratio or the first of several; else None."""
    if isinstance(value, (list, tuple)):
        value = value[0] if value else None
    if isinstance(value, (str, bytes)) or not hasattr(value, "__float__"):
        return None
    try:
        number = float(value)
    except (ArithmeticError, ValueError, TypeError):
        return None
    return number if math.isfinite(number) and number > 0 else None


def _iso(value: Raw, index: Raw) -> int | None:
    number = positive(value)
    if number == ISO_SEE_INDEX:
        number = positive(index) or number
    return round(number) if number is not None else None


def _taken_at(value: Raw, subsecond: Raw) -> datetime | None:
    """The camera's wall clock; the sub-second text is a decimal fraction, so that 05 is 0.05 s."""
    match = _TIME.fullmatch(text(value) or "")
    if match is None:
        return None
    try:
        moment = datetime(*(int(part) for part in match.groups()))  # type: ignore[arg-type]
    except ValueError:
        return None
    digits = text(subsecond) or ""
    if digits.isascii() and digits.isdigit():
        return moment.replace(microsecond=int(digits[:6].ljust(6, "0")))
    return moment


def _offset(value: Raw) -> int | None:
    """Minutes east of UTC; no place on Earth is more than 14 hours away from it."""
    written = text(value) or ""
    if written == "Z":
        return 0
    match = _OFFSET.fullmatch(written)
    if match is None:
        return None
    sign, hours, minutes = match.groups()
    east = timedelta(hours=int(hours), minutes=int(minutes))
    if int(minutes) > 59 or east > timedelta(hours=14):
        return None
    return int(east.total_seconds()) // 60 * (1 if sign == "+" else -1)
