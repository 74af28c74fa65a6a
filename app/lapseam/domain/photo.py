"""A photo: one original as it came from a camera, with all that was read from it.

These are readings: intake makes them, they are frozen, and the file's SHA-256 is their key. A photo has no shot;
a placement points at a photo.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import IntEnum, StrEnum


class MediaKind(StrEnum):
    """A still picture or a short clip."""

    STILL = "still"
    CLIP = "clip"


class PreviewSize(IntEnum):
    """The two upright JPEGs made of every photo; the value is the longest side allowed, in pixels."""

    THUMB = 320
    PREVIEW = 1600


@dataclass(frozen=True, slots=True)
class CameraReadings:
    """What the file's metadata says of camera and exposure; None where it does not say.

    Source of the tags: Exif (CIPA DC-008). `taken_at` is DateTimeOriginal with SubSecTimeOriginal (a decimal
    fraction of a second), camera's wall clock without zone; `offset_minutes` is OffsetTimeOriginal east of UTC.
    `exposure_s` in seconds, focal lengths in millimetres, `focal_35mm` in full-frame terms.
    `has_position`, `has_serial` and `has_owner` say that private tags are there; their values stay in the original.
    `trouble` says why metadata could not be read, "" if it could.
    """

    taken_at: datetime | None = None
    offset_minutes: int | None = None
    make: str | None = None
    model: str | None = None
    lens: str | None = None
    orientation: int = 1
    iso: int | None = None
    exposure_s: float | None = None
    f_number: float | None = None
    focal_mm: float | None = None
    focal_35mm: float | None = None
    has_position: bool = False
    has_serial: bool = False
    has_owner: bool = False
    trouble: str = ""

    def taken_utc(self) -> datetime | None:
        """The moment in UTC, naive, where the file gives an offset; else None."""
        if self.taken_at is None or self.offset_minutes is None:
            return None
        return self.taken_at - timedelta(minutes=self.offset_minutes)


@dataclass(frozen=True, slots=True)
class PixelReadings:
    """Numbers read from the upright picture; whether they are good enough is the shot's business, not intake's.

    Attributes:
        sharpness: the largest variance of the 4-neighbour Laplacian (Pech-Pacheco et al., ICPR 2000) over a grid
            of tiles of the grey picture scaled to 1024 px on its long side: plain paint does not hide a sharp edge.
        contrast: standard deviation of the grey picture, 0..127.5.
        mean_luma: mean of the grey picture, 0..255.
        clipped_dark: share of pixels at or below 2, 0..1.
        clipped_light: share of pixels at or above 253, 0..1.
        dhash: 64-bit difference hash of the upright picture, 16 hex digits.
    """

    sharpness: float
    contrast: float
    mean_luma: float
    clipped_dark: float
    clipped_light: float
    dhash: str


@dataclass(frozen=True, slots=True)
class Photo:
    """One original. `width` and `height` are upright pixels; `found_at` is the path as found, for people only."""

    sha256: str
    name: str
    size_bytes: int
    media: MediaKind
    format: str
    width: int
    height: int
    camera: CameraReadings
    pixels: PixelReadings
    found_at: str = ""
    duration_s: float | None = None
    modified_at: datetime | None = None

    @property
    def short(self) -> str:
        """The first eight digits of the hash: enough to name a photo among a car's."""
        return self.sha256[:8]


def dhash_distance(a: str, b: str) -> int:
    """Differing bits of two difference hashes, 0..64; 10 or less is commonly taken as the same view."""
    return (int(a, 16) ^ int(b, 16)).bit_count()


class IntakeOutcome(StrEnum):
    """What became of one file of a take-in."""

    KEPT = "kept"
    ALREADY_HERE = "already here"
    UNREADABLE = "unreadable"
    NOT_A_PHOTO = "not a photo"
    NO_RIGHTS = "no rights"
    TOO_LARGE = "too large"
    GONE = "gone"


@dataclass(frozen=True, slots=True)
class IntakeResult:
    """One file's outcome. A bad file is a result with its name and reason; it never stops the others."""

    name: str
    outcome: IntakeOutcome
    photo: Photo | None = None
    reason: str = ""
    near: tuple[str, ...] = ()

    @property
    def failed(self) -> bool:
        """Whether a photo that was meant to come in did not."""
        return self.outcome not in (IntakeOutcome.KEPT, IntakeOutcome.ALREADY_HERE, IntakeOutcome.NOT_A_PHOTO)
