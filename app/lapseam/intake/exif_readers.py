"""Two readers of Exif that check each other: exifread for JPEG and TIFF, Pillow for every format.

exifread can loop for ever on damaged HEIC structures, so it is never given one; what it is given comes through a source
with a budget of reads: when that is used up, reading ends with an error like any other. Whatever a reader raises, the
photo is still taken in.
"""

from __future__ import annotations

import io
from collections.abc import Callable, Mapping
from contextlib import suppress
from typing import BinaryIO, Final, TypeVar, cast

import exifread
from PIL import Image

from lapseam.domain.photo import CameraReadings
from lapseam.intake.tags import ORIENTATION, TAGS, Ifd, Raw, Tag, camera_readings, orientation_of

READ_BUDGET: Final = 40_000
"""Reads exifread may make on one file; a camera's whole directory takes some hundreds."""
BYTE_BUDGET: Final = 8 << 20
_GPS_POINTER: Final = 0x8825
_EXIF_POINTER: Final = 0x8769
_EXIF_PREFIX: Final = b"Exif\0\0"
_Read = TypeVar("_Read")


class _BudgetSpent(Exception):
    """The structure sent its reader round in circles."""


class _Budgeted(io.RawIOBase):
    """A source that stops answering after so many reads or bytes: no structure can hold its reader for ever."""

    def __init__(self, source: BinaryIO) -> None:
        super().__init__()
        self._source, self._reads, self._bytes = source, READ_BUDGET, BYTE_BUDGET

    def read(self, size: int = -1, /) -> bytes:
        self._reads -= 1
        self._bytes -= max(0, size)
        if self._reads < 0 or self._bytes < 0 or size < 0:
            raise _BudgetSpent("its directories lead in circles")
        return self._source.read(size)

    def seek(self, offset: int, whence: int = io.SEEK_SET, /) -> int:
        return self._source.seek(offset, whence)

    def tell(self) -> int:
        return self._source.tell()

    def readable(self) -> bool:
        return True

    def seekable(self) -> bool:
        return True


def read_camera(picture: Image.Image, source: BinaryIO) -> CameraReadings:
    """The camera readings of an opened, not yet decoded picture.

    Args:
        picture: as Pillow opened it; its own reading of Orientation is the one it is turned by.
        source: the same file, for exifread to read a TIFF's directories from.
    """
    turned, _ = _attempt(lambda: orientation_of(picture.getexif().get(ORIENTATION.number)))
    values, complaint = _attempt(lambda: by_exifread(picture, source))
    if not values:
        values, second_complaint = _attempt(lambda: by_pillow(picture))
        complaint = complaint or second_complaint
    trouble = f"metadata unreadable: {complaint}" if complaint and not values else ""
    return camera_readings(values or {}, orientation=turned or 1, trouble=trouble)


def _attempt(read: Callable[[], _Read]) -> tuple[_Read | None, str]:
    """What the reader gives, or its complaint as text: both libraries raise nearly everything on damaged files."""
    try:
        return read(), ""
    except Exception as error:  # noqa: BLE001 - odd metadata never costs the photo
        return None, f"{type(error).__name__} {error}".strip()


def by_exifread(picture: Image.Image, source: BinaryIO) -> dict[Tag, Raw]:
    """Tags by exifread of a TIFF file, or of the block that a JPEG carries; nothing of any other format.

    Raises:
        Exception: nearly any, on damaged structures.
    """
    block = _tiff_structure(picture, source)
    if block is None:
        return {}
    found = exifread.process_file(cast(BinaryIO, _Budgeted(block)), details=False, extract_thumbnail=False)
    return {tag: found[tag.label].values for tag in TAGS if tag.label in found}


def _tiff_structure(picture: Image.Image, source: BinaryIO) -> BinaryIO | None:
    if picture.format == "TIFF":
        return source
    block = picture.info.get("exif")
    if picture.format in ("JPEG", "MPO") and isinstance(block, bytes):
        structure = block.removeprefix(_EXIF_PREFIX)
        if not structure.startswith((b"II*\0", b"MM\0*")):
            raise ValueError("its block does not begin as one")
        return io.BytesIO(structure)
    return None


def by_pillow(picture: Image.Image) -> dict[Tag, Raw]:
    """Tags by Pillow, of any format.

    Raises:
        Exception: nearly any, on damaged structures.
    """
    main = picture.getexif()
    directories: dict[Ifd, Mapping[int, Raw]] = {
        Ifd.MAIN: main,
        Ifd.EXIF: main.get_ifd(_EXIF_POINTER),
        Ifd.GPS: main.get_ifd(_GPS_POINTER),
    }
    return {tag: _utf8(directories[tag.ifd][tag.number]) for tag in TAGS if tag.number in directories[tag.ifd]}


def _utf8(value: Raw) -> Raw:
    """Pillow takes text for Latin-1; cameras and Exif 3.0 write UTF-8."""
    if isinstance(value, str):
        with suppress(UnicodeError):
            return value.encode("latin-1").decode("utf-8")
    return value
