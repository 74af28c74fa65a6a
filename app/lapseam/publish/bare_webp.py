"""Proof that a published WebP carries nothing private, read from its chunks and not through an imaging library.

RIFF container and chunks: RFC 9649 (WebP Image Format), 2. Allowed: the picture itself (VP8), the extended header
(VP8X) with its profile bit alone, and the profile that every published picture has.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from .formats import SRGB_PROFILE

_HAS_PROFILE: Final = 0x20


def leftovers(webp: bytes) -> tuple[str, ...]:
    """Everything in a WebP that is not pixels, each named in words; empty for a bare picture."""
    try:
        chunks = tuple(_chunks(webp))
    except ValueError as error:
        return (str(error),)
    found = [words for name, content in chunks if (words := _words(name, content))]
    pictures = sum(name == b"VP8 " for name, _ in chunks)
    return (*found, *([f"{pictures} pictures where one belongs"] if pictures != 1 else []))


def _words(name: bytes, content: bytes) -> str:
    if name == b"VP8 ":
        return ""
    if name == b"VP8X":
        return "" if content[:4] == bytes((_HAS_PROFILE, 0, 0, 0)) else "flags of parts that it may not have"
    if name == b"ICCP":
        return "" if content == SRGB_PROFILE else "a colour profile that is not its own"
    return f"a chunk that is no picture ({name.decode('ascii', errors='replace').strip()})"


def _chunks(webp: bytes) -> Iterator[tuple[bytes, bytes]]:
    if webp[:4] != b"RIFF" or webp[8:12] != b"WEBP":
        raise ValueError("it is no WebP")
    if int.from_bytes(webp[4:8], "little") + 8 != len(webp):
        raise ValueError("it is no whole WebP: its length is not what it says")
    place = 12
    while place < len(webp):
        length = int.from_bytes(webp[place + 4 : place + 8], "little")
        end = place + 8 + length
        if end > len(webp):
            raise ValueError(f"it is no whole WebP: a chunk at byte {place} is cut short")
        yield webp[place : place + 4], webp[place + 8 : end]
        if any(webp[end : end + length % 2]):
            raise ValueError("it hides a byte between chunks")
        place = end + length % 2
