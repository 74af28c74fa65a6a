"""The kinds of file that a page shows, by media type, and the colour space that they all are in.

Every still is sRGB and says so: JPEG and WebP by one small ICC profile, AVIF by its `colr` box (ITU-T H.273 code
points). Untagged means sRGB too (CSS Color 4, 15.2), but not every program that opens a saved file holds to that.
"""

from __future__ import annotations

from enum import StrEnum
from typing import Final

from PIL import ImageCms


class Format(StrEnum):
    """A media type; stills stand in the order in which a page offers them, the smallest at equal looks first."""

    AVIF = "image/avif"
    WEBP = "image/webp"
    JPEG = "image/jpeg"
    CLIP = "video/mp4"

    @property
    def suffix(self) -> str:
        """How its files' names end."""
        return {"AVIF": ".avif", "WEBP": ".webp", "JPEG": ".jpg", "CLIP": ".mp4"}[self.name]


_MADE_AT: Final = slice(24, 36)
_A_DAY: Final = b"".join(part.to_bytes(2, "big") for part in (2026, 1, 1, 0, 0, 0))
SRGB: Final = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB"))


def _profile() -> bytes:
    """The profile's bytes under one fixed day, so that the same picture gives the same file."""
    content = bytearray(SRGB.tobytes())
    content[_MADE_AT] = _A_DAY
    return bytes(content)


SRGB_PROFILE: Final = _profile()
"""Under 600 bytes of ICC profile, the same in every published JPEG and WebP."""
