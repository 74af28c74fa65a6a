"""What a file is, by its first bytes and never by its name.

Signatures: JPEG ITU-T T.81 (SOI), PNG ISO/IEC 15948, TIFF 6.0, WebP and AVI RIFF, ISO base media brands ISO/IEC
14496-12 (HEIF ISO/IEC 23008-12, AVIF AV1 Image File Format 1.1), Matroska EBML (RFC 8794), MPEG ISO/IEC 13818-1.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum, auto
from pathlib import PurePath

HEAD_BYTES = 1024
"""How much of a file's beginning `recognise` wants to see."""


class Kind(Enum):
    """What can be done with a file."""

    STILL = auto()
    CLIP = auto()
    RAW = auto()
    OTHER = auto()


@dataclass(frozen=True, slots=True)
class Content:
    """A file's kind, the name of its format, the suffix it is kept under, and Pillow's names that may open it."""

    kind: Kind
    format: str = ""
    suffix: str = ""
    openers: tuple[str, ...] = ()


JPEG = Content(Kind.STILL, "JPEG", ".jpg", ("JPEG",))
PNG = Content(Kind.STILL, "PNG", ".png", ("PNG",))
TIFF = Content(Kind.STILL, "TIFF", ".tif", ("TIFF",))
WEBP = Content(Kind.STILL, "WEBP", ".webp", ("WEBP",))
HEIF = Content(Kind.STILL, "HEIF", ".heic", ("HEIF",))
AVIF = Content(Kind.STILL, "AVIF", ".avif", ("AVIF",))
GIF = Content(Kind.STILL, "GIF", ".gif", ("GIF",))
BMP = Content(Kind.STILL, "BMP", ".bmp", ("BMP",))
RAW = Content(Kind.RAW, "raw")
OTHER = Content(Kind.OTHER)

_PLAIN: tuple[tuple[bytes, Content], ...] = (
    (b"\xff\xd8\xff", JPEG),
    (b"\x89PNG\r\n\x1a\n", PNG),
    (b"GIF87a", GIF),
    (b"GIF89a", GIF),
    (b"FUJIFILMCCD-RAW", RAW),
    (b"\x00\x00\x01\xba", Content(Kind.CLIP, "MPEG", ".mpg")),
    (b"\x00\x00\x01\xb3", Content(Kind.CLIP, "MPEG", ".mpg")),
    (b"\x30\x26\xb2\x75\x8e\x66\xcf\x11", Content(Kind.CLIP, "ASF", ".wmv")),
    (b"FLV\x01", Content(Kind.CLIP, "FLV", ".flv")),
)
_TIFF_MAGIC = (b"II*\x00", b"MM\x00*", b"II+\x00", b"MM\x00+")
_RAW_MAGIC = (b"IIRO", b"IIRS", b"MMOR", b"IIU\x00")
_HEIF_BRANDS = frozenset({b"heic", b"heix", b"heim", b"heis", b"hevc", b"hevx", b"mif1", b"msf1"})
_AVIF_BRANDS = frozenset({b"avif", b"avis"})
_QUICKTIME_ATOMS = frozenset({b"moov", b"mdat", b"wide", b"free", b"skip", b"pnot"})

PHOTO_SUFFIXES = frozenset({
    ".jpg", ".jpeg", ".jpe", ".jfif", ".heic", ".heif", ".hif", ".png", ".tif", ".tiff", ".webp", ".avif", ".gif",
    ".bmp", ".mp4", ".mov", ".m4v", ".webm", ".mkv", ".avi", ".mpg", ".mpeg", ".mts", ".m2ts", ".3gp", ".wmv", ".flv",
})  # fmt: skip
"""Suffixes by which a person means a photo or a clip: what is inside must then be one, or the file is reported."""

RAW_SUFFIXES = frozenset({
    ".3fr", ".arw", ".cr2", ".cr3", ".crw", ".dcr", ".dng", ".erf", ".iiq", ".kdc", ".mef", ".mos", ".mrw", ".nef",
    ".nrw", ".orf", ".pef", ".raf", ".raw", ".rw2", ".rwl", ".sr2", ".srf", ".srw", ".x3f",
})  # fmt: skip

COMPANION_SUFFIXES = frozenset({".thm", ".lrv"})
"""Small stand-ins that cameras write beside a clip: pictures by content, but nobody took them."""


def recognise(head: bytes, name: str) -> Content:
    """The content by the first `HEAD_BYTES` bytes; the name only tells raw files and camera companions apart."""
    suffix = PurePath(name).suffix.casefold()
    if suffix in COMPANION_SUFFIXES:
        return OTHER
    if head.startswith(_TIFF_MAGIC):
        return RAW if suffix in RAW_SUFFIXES or head[8:10] == b"CR" else TIFF
    if head.startswith(_RAW_MAGIC):
        return RAW
    for magic, content in _PLAIN:
        if head.startswith(magic):
            return content
    return _boxed(head) or _riff(head) or _streamed(head) or (RAW if suffix in RAW_SUFFIXES else OTHER)


def meant_as_photo(name: str) -> bool:
    """Whether a person would call a file of this name a photo or a clip."""
    return PurePath(name).suffix.casefold() in PHOTO_SUFFIXES


def _boxed(head: bytes) -> Content | None:
    """ISO base media files: stills and clips share the container and differ by brand."""
    box = head[4:8]
    if box != b"ftyp":
        plain_text = head[:1] >= b" "
        return None if plain_text or box not in _QUICKTIME_ATOMS else Content(Kind.CLIP, "QuickTime", ".mov")
    size = min(int.from_bytes(head[:4], "big"), len(head))
    brands = [head[8:12], *(head[at : at + 4] for at in range(16, size - 3, 4))]
    if brands[0] == b"crx ":
        return RAW
    if not _AVIF_BRANDS.isdisjoint(brands):
        return AVIF
    if not _HEIF_BRANDS.isdisjoint(brands):
        return HEIF
    if brands[0] == b"qt  ":
        return Content(Kind.CLIP, "QuickTime", ".mov")
    return Content(Kind.CLIP, "MP4", ".mp4")


def _riff(head: bytes) -> Content | None:
    if head[:4] != b"RIFF":
        return None
    return {b"WEBP": WEBP, b"AVI ": Content(Kind.CLIP, "AVI", ".avi")}.get(head[8:12])


def _streamed(head: bytes) -> Content | None:
    if head.startswith(b"\x1a\x45\xdf\xa3"):
        return Content(Kind.CLIP, "WebM", ".webm") if b"webm" in head[:64] else Content(Kind.CLIP, "Matroska", ".mkv")
    if head[:2] == b"BM" and head[6:10] == bytes(4):
        return BMP
    if any(_packets_at(head, start, step) for start, step in ((0, 188), (4, 192))):
        return Content(Kind.CLIP, "MPEG-TS", ".mts")
    return None


def _packets_at(head: bytes, start: int, step: int) -> bool:
    """Whether transport-stream packets, each beginning with 0x47, follow one another in this rhythm."""
    starts = head[start::step]
    return len(starts) >= 4 and set(starts) == {0x47}
