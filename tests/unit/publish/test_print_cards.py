"""Setup cards on paper: a first and a last one each, and every printed size right to a tenth of a millimetre."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from fakes import cars
from fakes.printed import bare, extent_mm, needs_poppler, page_picture, pages, said_of
from lapseam.domain.car import Car
from lapseam.domain.setup_card import (
    CHECK_MM,
    CODE_AT_MM,
    CODE_MM,
    FRAME_MM,
    GREY_SRGB,
    SCALE_MM,
    CardEnd,
    CardOf,
    read_code,
)
from lapseam.publish import Paper, cards_pdf, setup_cards
from lapseam.publish.print_cards import code_svg

ON = date(2026, 11, 25)
DPI = 508
"""Twenty dots a millimetre."""
SHEETS = {Paper.A4: (297.0, 210.0), Paper.LETTER: (279.4, 215.9)}
RIGHT_MM = 0.1


def car() -> Car:
    return cars.car((), cars.facts(torque_boxes=False, vinyl_roof=False))


@pytest.fixture(params=list(Paper))
def sheet(request: pytest.FixtureRequest, tmp_path: Path) -> tuple[Image.Image, tuple[float, float]]:
    """The first card of the small car as a picture of the whole sheet, and where its top left corner mark should be."""
    paper: Paper = request.param
    path = tmp_path / "cards.pdf"
    path.write_bytes(cards_pdf(setup_cards(car(), printed_on=ON), paper=paper, printed_on=ON))
    wide, high = SHEETS[paper]
    return page_picture(path, 1, DPI), ((wide - FRAME_MM[0]) / 2, (high - FRAME_MM[1]) / 2)


def cut(picture: Image.Image, left: float, top: float, right: float, bottom: float) -> np.ndarray:
    """A piece of the picture, in pixels."""
    return np.asarray(picture)[round(top) : round(bottom), round(left) : round(right)]


def strokes_mm(picture: Image.Image, y_mm: float, from_mm: float, to_mm: float) -> list[float]:
    """Middles of the dark strokes that a line across the sheet meets, in millimetres."""
    scale = DPI / 25.4
    start = round(from_mm * scale)
    row = np.asarray(picture)[round(y_mm * scale), start : round(to_mm * scale)] < 128
    edges = np.flatnonzero(np.diff(np.concatenate(([False], row, [False])).astype(np.int8)))
    return [(start + (begun + ended) / 2) / scale for begun, ended in zip(edges[::2], edges[1::2], strict=True)]


def test_each_setup_that_applies_has_a_first_and_a_last_card() -> None:
    shown = setup_cards(car(), printed_on=ON)
    read = [read_code(card.text) for card in shown.cards]
    assert all(one is not None and one.stock == car().stock and one.of is CardOf.SETUP for one in read)
    assert [(one.subject, one.end) for one in read if one] == [
        (setup.id, end) for setup in car().plan.setups for end in (CardEnd.FIRST, CardEnd.LAST)
    ]


def test_zone_cards_come_only_where_asked_and_only_for_zones_the_car_has() -> None:
    shown = setup_cards(car(), printed_on=ON, zones=True)
    zones = [
        one.subject for one in map(read_code, (card.text for card in shown.cards)) if one and one.of is CardOf.ZONE
    ]
    assert zones[::2] == zones[1::2]
    assert "left-side" in zones
    assert "cloth" not in zones
    assert len(shown.cards) == 2 * len(car().plan.setups) + len(zones)


@needs_poppler
@pytest.mark.parametrize("paper", list(Paper))
def test_one_card_a_page_with_all_that_is_read_across_a_bay(tmp_path: Path, paper: Paper) -> None:
    shown = setup_cards(car(), printed_on=ON, house="Invented House", zones=True)
    path = tmp_path / "cards.pdf"
    path.write_bytes(cards_pdf(shown, paper=paper, printed_on=ON))
    told = pages(path)
    assert len(told) == len(shown.cards)
    for page, card in zip(told, shown.cards, strict=True):
        for words in (card.end.upper(), card.name, card.stock, "Date", "Clock", f"{GREY_SRGB} {GREY_SRGB} {GREY_SRGB}"):
            assert bare(words) in bare(page)
        assert "This line must measure 100 mm" in page
    assert said_of(path)["Tagged"] == "yes"


@needs_poppler
def test_the_check_line_measures_what_it_says(sheet: tuple[Image.Image, tuple[float, float]]) -> None:
    picture, (left, top) = sheet
    middle, y = left + FRAME_MM[0] / 2, top + FRAME_MM[1] + 2.2
    ends = strokes_mm(picture, y - 1.0, middle - CHECK_MM / 2 - 3, middle + CHECK_MM / 2 + 3)
    assert len(ends) == 2
    assert ends[1] - ends[0] == pytest.approx(CHECK_MM, abs=RIGHT_MM)


@needs_poppler
def test_the_scale_has_a_stroke_every_millimetre_and_every_eighth_of_an_inch(
    sheet: tuple[Image.Image, tuple[float, float]],
) -> None:
    picture, (left, top) = sheet
    start, y = left + (FRAME_MM[0] - SCALE_MM) / 2, top + 165.5
    millimetres = strokes_mm(picture, y - 0.8, start - 2, start + SCALE_MM + 2)
    assert len(millimetres) == SCALE_MM + 1
    assert np.allclose(np.array(millimetres) - millimetres[0], np.arange(SCALE_MM + 1), atol=RIGHT_MM)
    eighths = strokes_mm(picture, y + 3.4 + 0.8, start - 2, start + SCALE_MM + 2)
    assert len(eighths) == 7 * 8 + 1
    assert np.allclose(np.array(eighths) - eighths[0], np.arange(57) * 25.4 / 8, atol=RIGHT_MM)


@needs_poppler
def test_code_and_corner_marks_lie_where_lengths_are_measured_from(
    sheet: tuple[Image.Image, tuple[float, float]],
) -> None:
    picture, (left, top) = sheet
    x, y = left + CODE_AT_MM[0], top + CODE_AT_MM[1]
    found = extent_mm(picture, DPI, (x - 2, y - 2, x + CODE_MM + 2, y + CODE_MM + 2))
    assert found == pytest.approx((x, y, x + CODE_MM, y + CODE_MM), abs=RIGHT_MM)
    for across in (0.0, FRAME_MM[0]):
        for down in (0.0, FRAME_MM[1]):
            cx, cy = left + across, top + down
            mark = extent_mm(picture, DPI, (cx - 4.2, cy - 4.2, cx + 4.2, cy + 4.2))
            middle = (mark[0] + mark[2]) / 2, (mark[1] + mark[3]) / 2
            assert middle == pytest.approx((cx, cy), abs=RIGHT_MM)


@needs_poppler
def test_nothing_dark_stands_in_the_code_s_quiet_zone(sheet: tuple[Image.Image, tuple[float, float]]) -> None:
    """Four modules on every side (ISO/IEC 18004); a code of 25 modules has the largest ones we print."""
    picture, (left, top) = sheet
    quiet = 4 * CODE_MM / 25
    scale = DPI / 25.4
    x, y = (left + CODE_AT_MM[0]) * scale, (top + CODE_AT_MM[1]) * scale
    side, edge = CODE_MM * scale, quiet * scale
    around = np.asarray(picture)[
        round(y - edge) : round(y + side + edge), round(x - edge) : round(x + side + edge)
    ].copy()
    around[round(edge) - 2 : round(edge + side) + 2, round(edge) - 2 : round(edge + side) + 2] = 255
    assert around.min() > 200


@needs_poppler
def test_the_patch_is_the_grey_that_is_stated(sheet: tuple[Image.Image, tuple[float, float]]) -> None:
    picture, (left, top) = sheet
    scale = DPI / 25.4
    x, y = left + FRAME_MM[0] - 14 - CODE_MM / 2, top + CODE_AT_MM[1] + CODE_MM / 2
    patch = cut(picture, *(edge * scale for edge in (x - 20, y - 20, x + 20, y + 20)))
    assert (patch == GREY_SRGB).all()


@needs_poppler
def test_the_name_is_large_enough_to_be_read_across_a_bay(tmp_path: Path) -> None:
    """Letters of 8 mm or more can be read from five metres away (height over distance of 1 to 600 at normal sight)."""
    from fakes import demo_walk

    path = tmp_path / "cards.pdf"
    shown = setup_cards(demo_walk.new_car(), printed_on=ON)
    path.write_bytes(cards_pdf(shown, paper=Paper.LETTER, printed_on=ON))
    left, top = (SHEETS[Paper.LETTER][0] - FRAME_MM[0]) / 2, (SHEETS[Paper.LETTER][1] - FRAME_MM[1]) / 2
    for number in range(1, len(shown.cards) + 1, 2):
        box = (left + 8, top + 21, left + FRAME_MM[0] - 8, top + 84)
        _, above, right, below = extent_mm(page_picture(path, number, 100), 100, box)
        assert below - above > 2 * 8
        assert right <= left + FRAME_MM[0] - 8


def test_a_code_s_modules_are_as_few_as_the_standard_allows() -> None:
    """Bytes at level M (ISO/IEC 18004, table 7): version 2 holds 26, version 4 holds 62; version 1 is never used."""
    for text, modules in (("LS1:A:s:a", 25), ("LS1:T-114:s7-lift:a", 25), ("x" * 60, 33)):
        assert f'viewBox="0 0 {modules} {modules}"' in code_svg(text)
