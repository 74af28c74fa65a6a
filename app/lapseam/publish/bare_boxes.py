"""Proof that a published AVIF or clip carries nothing private, read from its boxes and not through a library.

Boxes: ISO/IEC 14496-12 (base media file format), 4.2; stills in them: ISO/IEC 23008-12 (HEIF) and the AVIF
specification. What is allowed is listed; every other box, item, track or date is a leftover.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

_HOLDERS: Final = {b"moov", b"trak", b"mdia", b"minf", b"stbl", b"edts", b"dinf", b"iprp", b"ipco"}
_FULL_HOLDERS: Final = {b"meta": 4}
"""Boxes that hold boxes after so many bytes of their own."""
_STILL: Final = {
    *(b"ftyp", b"meta", b"hdlr", b"pitm", b"iloc", b"iinf", b"iprp", b"ipco", b"ipma"),
    *(b"ispe", b"pixi", b"av1C", b"colr", b"mdat"),
}
_CLIP: Final = {
    *(b"ftyp", b"moov", b"mvhd", b"trak", b"tkhd", b"edts", b"elst", b"mdia", b"mdhd", b"hdlr", b"minf"),
    *(b"vmhd", b"smhd", b"dinf", b"dref", b"stbl", b"stsd", b"stts", b"ctts", b"stss", b"stsc", b"stsz", b"stco"),
    *(b"co64", b"sgpd", b"sbgp", b"sdtp", b"free", b"mdat"),
}
_NO_NOTES: Final = (
    *(b"\0\0\0\x35meta", bytes(4), b"\0\0\0\x21hdlr", bytes(8), b"mdirappl", bytes(9)),
    b"\0\0\0\x08ilst",
)
"""The list of remarks that MP4 files have, when nothing stands in it."""
_TRACKS: Final = {b"vide": b"VideoHandler", b"soun": b"SoundHandler"}
_SRGB_CODES: Final = b"nclx" + bytes((0, 1, 0, 13))
"""ITU-T H.273: primaries of BT.709, transfer of sRGB."""


@dataclass(frozen=True, slots=True)
class Box:
    """One box: its four-letter name, what is in it, and the bytes before that."""

    name: bytes
    content: bytes
    inside: bytes


def still_leftovers(avif: bytes) -> tuple[str, ...]:
    """Everything in an AVIF that is not pixels, each named in words; empty for a bare picture."""
    try:
        if avif[4:8] != b"ftyp" or b"avif" not in avif[8:64]:
            return ("it is no AVIF",)
        boxes = tuple(_boxes(avif))
    except ValueError as error:
        return (str(error),)
    found = [f"a box that is no picture ({_spoken(box.name)})" for box in boxes if box.name not in _STILL]
    for box in boxes:
        if box.name == b"colr" and box.content[:8] != _SRGB_CODES:
            found.append("a colour space that is not sRGB")
        if box.name == b"hdlr" and (box.content[8:12] != b"pict" or box.content[24:].strip(b"\0") not in (b"",)):
            found.append("words in its handler")
        if box.name == b"iinf":
            found.extend(_item_leftovers(box.content))
    payload = sum(len(box.content) for box in boxes if box.name == b"mdat")
    located = sum(_lengths(next((box.content for box in boxes if box.name == b"iloc"), b"")))
    if payload != located:
        found.append(f"{payload - located} bytes that belong to no picture")
    return tuple(dict.fromkeys(found))


def clip_leftovers(mp4: bytes) -> tuple[str, ...]:
    """Everything in a clip that is neither picture nor sound, each named in words; empty for a bare clip."""
    try:
        if mp4[4:8] != b"ftyp":
            return ("it is no MP4",)
        boxes = tuple(_boxes(mp4))
    except ValueError as error:
        return (str(error),)
    boxes = tuple(box for box in boxes if (box.name, box.content) != (b"udta", b"".join(_NO_NOTES)))
    found = [f"a box that is no clip ({_spoken(box.name)})" for box in boxes if box.name not in _CLIP]
    for box in boxes:
        if box.name in (b"mvhd", b"tkhd", b"mdhd") and any(_dates(box.content)):
            found.append("a date of its making")
        if box.name == b"free" and any(box.content):
            found.append("bytes in a space that should be free")
        if box.name == b"hdlr" and _TRACKS.get(box.content[8:12]) != box.content[24:].strip(b"\0"):
            found.append(f"a track that is neither picture nor sound, or is named ({_spoken(box.content[8:12])})")
    return tuple(dict.fromkeys(found))


def _boxes(content: bytes, inside: bytes = b"") -> Iterator[Box]:
    """Every box, those of boxes after the box that holds them.

    Raises:
        ValueError: the boxes do not fill the file exactly.
    """
    place = 0
    while place < len(content):
        length = int.from_bytes(content[place : place + 4], "big")
        name, head = content[place + 4 : place + 8], 8
        if length == 1:
            length, head = int.from_bytes(content[place + 8 : place + 16], "big"), 16
        if length < head or place + length > len(content):
            raise ValueError(f"it is not whole: the box {_spoken(name)} at byte {place} is cut short")
        body = content[place + head : place + length]
        yield Box(name, body, inside)
        if name in _HOLDERS or name in _FULL_HOLDERS:
            yield from _boxes(body[_FULL_HOLDERS.get(name, 0) :], name)
        place += length


def _item_leftovers(iinf: bytes) -> Iterator[str]:
    """Items that are no AV1 picture: metadata is an item of its own (HEIF, 8.11.6)."""
    wide = iinf[:1] != b"\0"
    for entry in _boxes(iinf[8 if wide else 6 :], b"iinf"):
        kind = entry.content[8:12] if entry.content[:1] == b"\2" else entry.content[10:14]
        if kind != b"av01":
            yield f"an item that is no picture ({_spoken(kind)})"


def _lengths(iloc: bytes) -> Iterator[int]:
    """How many bytes each item has in the file (HEIF, 8.11.3; 16-bit item numbers, version 0 or 1)."""
    if len(iloc) < 8 or iloc[0] > 1:
        return
    offset, length, base = iloc[4] >> 4, iloc[4] & 15, iloc[5] >> 4
    place = 8
    for _ in range(int.from_bytes(iloc[6:8], "big")):
        place += (6 if iloc[0] else 4) + base
        extents = int.from_bytes(iloc[place : place + 2], "big")
        place += 2
        for _ in range(extents):
            place += offset
            yield int.from_bytes(iloc[place : place + length], "big")
            place += length


def _dates(header: bytes) -> bytes:
    """Times of creation and change: two of 4 bytes, or in version 1 of 8."""
    return header[4:20] if header[:1] == b"\1" else header[4:12]


def _spoken(name: bytes) -> str:
    return name.decode("ascii", errors="replace").strip()
