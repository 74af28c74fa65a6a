"""What a selection for an outlet stands on, and what it answers with.

The lists come from the vocabulary (`outlets.yaml`), where each limit adds to the one before; an outlet with its limits
comes from the house. Common trade practice, no published source.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import Final

WORST_STRUCTURAL: Final = "worst-structural-finding"
WORST_COSMETIC: Final = "worst-cosmetic-finding"
NEVER_DROPPED: Final = ("under-overall-front", "under-overall-rear", "dash-odometer", "id-vin-plate")
"""Shots that no limit may drop; the worst structural and the worst cosmetic finding are the other two."""

STAND_INS: Final[Mapping[str, str]] = {
    "trunk-floor-bare": "bed-whole",
    "ext-left-rocker": "comp-stress",
    "ext-left-profile": "top-up-profile",
}
"""Where the car's plan asks for the right one, it takes the place of the left one."""

MOTORCYCLE: Final[Mapping[str, str]] = {
    "ext-front-left": "mc-front-right",
    "ext-rear-right": "mc-rear-left",
    "ext-right-profile": "mc-right",
    "cab-left-door": "mc-left",
    "bay-front": "mc-engine-right",
    "under-overall-front": "mc-engine-left",
    "under-overall-rear": "mc-tank-detail",
    "dash-odometer": "mc-instruments",
    "id-vin-plate": "mc-frame-number",
    "trunk-floor-bare": "mc-engine-number",
}
"""The twelve of a motorcycle, each in the place of one of a car's."""


@dataclass(frozen=True, slots=True)
class LimitList:
    """One limit: the shots it adds to those of the limit before, and how many places findings have in all."""

    limit: int
    shots: tuple[str, ...]
    flaws: int


@dataclass(frozen=True, slots=True)
class Swap:
    """At `limit`, conditional shots that apply come in for others, one for one, in the order given."""

    limit: int
    comes_in: tuple[str, ...]
    gives_way: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class OutletRules:
    """Which photos survive a limit. `limits` rise; `below` is the order of survival under the smallest of them."""

    limits: tuple[LimitList, ...]
    swaps: tuple[Swap, ...] = ()
    gives_way: tuple[str, ...] = ()
    below: tuple[str, ...] = ()

    def by(self, own: PhotoList | None) -> OutletRules:
        """These rules with a list of the house's own for the trade's; below its smallest limit survival stays."""
        if own is None:
            return self
        return replace(self, limits=own.limits, swaps=(), gives_way=own.gives_way or self.gives_way)


class TextForm(StrEnum):
    """How a listing's text is written."""

    PLAIN = "plain"
    MARKDOWN = "markdown"
    HTML = "html"


@dataclass(frozen=True, slots=True)
class PhotoList:
    """A list of the house's own that stands for the trade's: which shots survive which limit, and which give way.

    Without `gives_way` the trade's own pictures give way to structural findings.
    """

    name: str
    limits: tuple[LimitList, ...]
    gives_way: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Outlet:
    """A place the listing goes, with its limits; 0 or "" means that it sets none.

    `aspect` is width by height ("4:3"): what does not fit is laid on paper ground, never cropped. Nothing of ours is
    ever laid over a picture, so `forbid_watermark` is always kept. `min_px` is the least longest side that it takes;
    nothing is enlarged to reach it. `photo_list` names a list of the house's own, "" stands for the trade's.
    """

    name: str
    photos: int
    longest_px: int = 1600
    max_bytes: int = 0
    aspect: str = ""
    caption_chars: int = 0
    text_chars: int = 0
    forbid_watermark: bool = True
    min_px: int = 0
    title_chars: int = 0
    teaser_chars: int = 0
    form: TextForm = TextForm.PLAIN
    photo_list: str = ""


@dataclass(frozen=True, slots=True)
class Wishes:
    """What a person asked for, by SHA-256: pictures that must be in, that stay out, and those that come first."""

    pins: tuple[str, ...] = ()
    bans: tuple[str, ...] = ()
    order: tuple[str, ...] = ()


class Why(StrEnum):
    """What gave a picture its place."""

    NEVER_DROPPED = "never dropped"
    LIST = "on the list of this limit"
    FINDING = "in a place kept for findings"
    PROOF = "rust-prone shot in a free place"
    BEST_FILL = "best use of a free place"
    PINNED = "pinned by a person"


@dataclass(frozen=True, slots=True)
class Chosen:
    """One picture of the set at its place, from 1. `reason` says why it is in; `adds` is said after its caption."""

    place: int
    sha256: str
    shot: str
    number: int
    findings: tuple[int, ...]
    why: Why
    reason: str
    adds: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Selection:
    """The set for one limit, in order.

    Attributes:
        unseen: listed shots that show nothing here, each a sentence; never silent.
        overflow: what the ad text says of findings that are not pictured; structural and unsafe ones one by one.
        conflicts: where a person's wish and a picture that may not be dropped exclude each other, in words.
    """

    limit: int
    pictures: tuple[Chosen, ...]
    unseen: tuple[str, ...] = ()
    overflow: tuple[str, ...] = ()
    conflicts: tuple[str, ...] = ()
