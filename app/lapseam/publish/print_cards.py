"""Setup cards and zone cards as finished values for paper: a first and a last one for each, with their codes.

The code is drawn with error recovery M or better (ISO/IEC 18004: about 15 % of it may be hidden) in as few modules as
its text allows, so that one module is as large as can be.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from typing import Final

import segno

from lapseam.domain.applicability import Applicability
from lapseam.domain.car import Car
from lapseam.domain.setup_card import (
    CHECK_MM,
    CODE_AT_MM,
    CODE_MM,
    FRAME_MM,
    GREY_SRGB,
    SCALE_MM,
    CardCode,
    CardEnd,
    CardOf,
)

from .print_words import fitting, named, printed

_NAME: Final = 120
_SMALL: Final = 48
_LEAST_VERSION: Final = 2
"""Version 1 has such large modules that its quiet zone of four would not fit beside the corner marks."""
_ENDS: Final = {CardEnd.FIRST: "first", CardEnd.LAST: "last"}


@dataclass(frozen=True, slots=True)
class CardShown:
    """One card. `code` is an SVG of the bare modules without quiet zone, one unit each; `text` is what it says and
    `text_said` the same for the page, where a long line may be broken.
    """

    end: str
    of: str
    place: str
    name: str
    stock: str
    text: str
    text_said: str
    code: str


@dataclass(frozen=True, slots=True)
class CardsShown:
    """All cards of a car with the sizes they are drawn in, in millimetres."""

    title: str
    house: str
    printed: str
    cards: tuple[CardShown, ...]
    frame_mm: tuple[float, float] = FRAME_MM
    code_mm: float = CODE_MM
    code_at_mm: tuple[float, float] = CODE_AT_MM
    scale_mm: float = SCALE_MM
    check_mm: float = CHECK_MM
    grey: int = GREY_SRGB


def setup_cards(car: Car, *, printed_on: date, house: str = "", zones: bool = False) -> CardsShown:
    """First and last card of every setup that has a shot for this car, or may; with `zones` those of its zones too.

    They come in pairs, so that printing on both sides puts first and last on one sheet.
    """
    applies = Applicability(car)
    shots = [shot for shot in car.plan.shots if applies.shot(shot).holds is not False]
    used = {shot.setup for shot in shots}
    setups = [
        (f"Setup {number} of {len(car.plan.setups)}", setup.id, setup.name)
        for number, setup in enumerate(car.plan.setups, 1)
        if setup.id in used
    ]
    cards = [card for place, subject, name in setups for card in _pair(car, CardOf.SETUP, place, subject, name)]
    if zones:
        known = car.plan.vocabulary.zones
        for zone in dict.fromkeys(shot.zone for shot in shots):
            name = known[zone].name if zone in known else zone
            cards += _pair(car, CardOf.ZONE, "Zone", zone, name)
    return CardsShown(
        title=f"Setup cards: {named(car.stock, _NAME)}",
        house=fitting(house, _SMALL),
        printed=printed(printed_on),
        cards=tuple(cards),
    )


def _pair(car: Car, of: CardOf, place: str, subject: str, name: str) -> Iterable[CardShown]:
    for end, word in _ENDS.items():
        text = CardCode(car.stock, of, subject, end).text
        yield CardShown(
            end=word,
            of=of.value,
            place=place,
            name=named(name, _NAME),
            stock=named(car.stock, _NAME),
            text=text,
            text_said=fitting(text, _SMALL),
            code=code_svg(text),
        )


def code_svg(text: str) -> str:
    """The code's dark modules as one SVG shape, one module one unit, without quiet zone."""
    code = segno.make_qr(text, error="m", boost_error=True)
    if int(code.version) < _LEAST_VERSION:
        code = segno.make_qr(text, error="m", boost_error=True, version=_LEAST_VERSION)
    rows = [list(row) for row in code.matrix]
    size = len(rows)
    path = "".join(f"M{x} {y}h{length}v1h-{length}z" for y, row in enumerate(rows) for x, length in _runs(row))
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {size} {size}" width="{size}mm" height="{size}mm" '
        f'shape-rendering="crispEdges"><path d="{path}"/></svg>'
    )


def _runs(row: list[int]) -> Iterable[tuple[int, int]]:
    """(start, length) of the runs of dark modules in a row."""
    start = None
    for at, dark in enumerate([*row, 0]):
        if dark and start is None:
            start = at
        elif not dark and start is not None:
            yield start, at - start
            start = None
