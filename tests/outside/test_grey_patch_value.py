"""The grey patch's number against the sRGB curve of IEC 61966-2-1 and the L* of CIE 15 (ISO/CIE 11664-4)."""

from __future__ import annotations

from lapseam.domain.setup_card import GREY_SRGB


def linear(value: int) -> float:
    """IEC 61966-2-1: the linear light of an 8-bit sRGB value."""
    share = value / 255
    return share / 12.92 if share <= 0.04045 else float(((share + 0.055) / 1.055) ** 2.4)


def test_the_patch_is_the_8_bit_grey_nearest_to_18_per_cent() -> None:
    assert min(range(256), key=lambda value: abs(linear(value) - 0.18)) == GREY_SRGB


def test_its_lightness_is_as_stated() -> None:
    assert round(116 * linear(GREY_SRGB) ** (1 / 3) - 16, 1) == 49.6
