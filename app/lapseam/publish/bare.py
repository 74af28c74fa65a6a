"""Proof that a published JPEG carries nothing private, read from its segments and not through an imaging library.

Markers and segment layout: ITU-T T.81 (JPEG), Annex B. Allowed before the scans: tables, frame and scan headers, and
the JFIF APP0 segment (ITU-T T.871) without its small picture, and the sRGB profile of `formats` in one APP2 segment
(ICC.1, B.4). Every other APPn and every comment is a leftover; a
described picture has one APP1 segment of XMP besides, with the properties that `xmp` lists and no other.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from . import xmp
from .formats import SRGB_PROFILE

_SOI: Final = 0xD8
_EOI: Final = 0xD9
_SOS: Final = 0xDA
_COMMENT: Final = 0xFE
_FRAMES: Final = frozenset(range(0xC0, 0xD0)) - {0xC4, 0xC8, 0xCC}
_TABLES: Final = frozenset({0xC4, 0xDB, 0xDD, _SOS})
_JFIF_LENGTH: Final = 14
_PROFILE: Final = b"ICC_PROFILE\0\1\1" + SRGB_PROFILE


@dataclass(frozen=True, slots=True)
class Segment:
    """One marker segment: its marker byte, its content without the length, and where it begins."""

    marker: int
    content: bytes
    offset: int


def leftovers(jpeg: bytes) -> tuple[str, ...]:
    """Everything in a JPEG that is not pixels, each named in words; empty for a bare picture.

    A file that is no whole JPEG has one leftover that says so.
    """
    try:
        found = tuple(_segments(jpeg))
    except ValueError as error:
        return (str(error),)
    return tuple(words for segment in found if (words := _words(segment)))


def described_leftovers(jpeg: bytes, packet: bytes) -> tuple[str, ...]:
    """The same for a picture that says exactly `packet` of itself, once, and nothing that `xmp` does not list."""
    try:
        found = tuple(_segments(jpeg))
    except ValueError as error:
        return (str(error),)
    said = [segment.content[len(xmp.HEADER) :] for segment in found if _is_xmp(segment)]
    words = [words for segment in found if not _is_xmp(segment) and (words := _words(segment))]
    if len(said) != 1:
        return (*words, f"{len(said)} packets of XMP where one belongs")
    words.extend(xmp.faults(said[0]))
    if said[0] != packet:
        words.append("XMP that is not its own")
    return tuple(words)


def _is_xmp(segment: Segment) -> bool:
    return segment.marker == 0xE1 and segment.content.startswith(xmp.HEADER)


def _words(segment: Segment) -> str:
    marker, content = segment.marker, segment.content
    if marker in _FRAMES or marker in _TABLES:
        return ""
    if marker == 0xE0 and content.startswith(b"JFIF\0"):
        return "" if len(content) == _JFIF_LENGTH else "a small picture inside the picture"
    if marker == 0xE2 and content == _PROFILE:
        return ""
    if marker == _COMMENT:
        return "a comment"
    if 0xE0 <= marker <= 0xEF:
        name = content[:20].split(b"\0")[0].decode("ascii", errors="replace")
        return f"a metadata segment (APP{marker - 0xE0} {name})"
    return f"a segment of an unknown kind (0x{marker:02X})"


def _segments(jpeg: bytes) -> Iterator[Segment]:
    if jpeg[:2] != bytes((0xFF, _SOI)):
        raise ValueError("it is no JPEG")
    place = 2
    while place < len(jpeg):
        if jpeg[place] != 0xFF:
            raise ValueError(f"it is no whole JPEG: no marker at byte {place}")
        while place < len(jpeg) and jpeg[place] == 0xFF:
            place += 1
        if place >= len(jpeg):
            break
        marker = jpeg[place]
        place += 1
        if marker == _EOI:
            if place != len(jpeg):
                raise ValueError(f"{len(jpeg) - place} bytes follow the picture's end")
            return
        length = int.from_bytes(jpeg[place : place + 2], "big")
        if length < 2 or place + length > len(jpeg):
            raise ValueError(f"it is no whole JPEG: a segment at byte {place} is cut short")
        yield Segment(marker, jpeg[place + 2 : place + length], place)
        place += length
        if marker == _SOS:
            place = _after_scan(jpeg, place)
    raise ValueError("it is no whole JPEG: the end is missing")


def _after_scan(jpeg: bytes, place: int) -> int:
    """Where the next marker stands: stuffed zeros and restart markers belong to the scan."""
    while True:
        place = jpeg.find(b"\xff", place)
        if place < 0 or place + 1 >= len(jpeg):
            raise ValueError("it is no whole JPEG: the end is missing")
        if jpeg[place + 1] != 0 and not 0xD0 <= jpeg[place + 1] <= 0xD7:
            return place
        place += 2
