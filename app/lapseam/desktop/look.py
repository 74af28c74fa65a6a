"""The look as numbers: colours, type and spacing, read from the one tokens file. No Qt here.

The same file feeds pages and print, so a colour is changed once. Contrast is WCAG 2.2's (criteria 1.4.3 and 1.4.11).
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from pathlib import Path
from typing import Any

from lapseam import places


class Ground(StrEnum):
    """Which set of colours: paper, the dark of the lift bay, or the highest contrast."""

    LIGHT = "light"
    DARK = "dark"
    BRIGHT = "bright"


@dataclass(frozen=True, slots=True)
class Colours:
    """The nine colours of one ground, as `#RRGGBB`."""

    ground: str
    sheet: str
    ink: str
    soft: str
    line: str
    signal: str
    on_signal: str
    focus: str
    shade: str

    def named(self, name: str) -> str:
        """The colour under its name in the tokens file, such as `on-signal`."""
        return str(getattr(self, name.replace("-", "_")))


@dataclass(frozen=True, slots=True)
class Look:
    """The tokens file as values. Sizes are CSS pixels at 100 % text size."""

    colours: Mapping[Ground, Colours]
    family: str
    numbers: str
    reading_px: int
    bay_px: int
    target_px: int
    radius_px: int
    text_pairs: tuple[tuple[str, str], ...]
    edge_pairs: tuple[tuple[str, str], ...]


@cache
def read_look(path: Path | None = None) -> Look:
    """The look that ships, or the one in `path`; read once.

    Raises:
        KeyError: the file lacks a token (a packaging fault of ours).
    """
    tokens: dict[str, Any] = json.loads((path or places.templates() / "tokens.json").read_text(encoding="utf-8"))
    letter = tokens["type"]
    return Look(
        colours={ground: _colours(tokens[ground.value]) for ground in Ground},
        family=letter["family"],
        numbers=letter["numbers"],
        reading_px=letter["reading_px"],
        bay_px=letter["bay_px"],
        target_px=tokens["target_px"],
        radius_px=tokens["radius_px"],
        text_pairs=tuple((a, b) for a, b in tokens["text_pairs"]),
        edge_pairs=tuple((a, b) for a, b in tokens["edge_pairs"]),
    )


def _colours(named: Mapping[str, str]) -> Colours:
    return Colours(**{name.replace("-", "_"): value for name, value in named.items()})


def contrast(one: str, other: str) -> float:
    """The contrast ratio of two `#RRGGBB` colours, 1 to 21 (WCAG 2.2, "contrast ratio")."""
    light, dark = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def _luminance(colour: str) -> float:
    """Relative luminance of sRGB, 0..1 (WCAG 2.2, "relative luminance")."""

    def linear(share: float) -> float:
        return share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4

    red, green, blue = (linear(int(colour[at : at + 2], 16) / 255) for at in (1, 3, 5))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue
