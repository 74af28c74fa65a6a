"""A printed card's code is read by ZXing-C++ (Apache-2.0), an independent reader of ISO/IEC 18004 codes.

The page is rendered at 150 dpi and then treated as a camera would treat it: turned, seen at an angle, blurred, small in
the picture, and unevenly lit.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date
from pathlib import Path

import numpy as np
import pytest
import zxingcpp
from PIL import Image, ImageFilter

from fakes import cars
from fakes.printed import needs_poppler, page_picture
from lapseam.domain.setup_card import read_code
from lapseam.publish import Paper, cards_pdf, setup_cards

ON = date(2026, 11, 25)


def skewed(picture: Image.Image) -> Image.Image:
    """Seen from below and from the left: the far edge is two thirds of the near one."""
    wide, high = picture.size
    corners = (-0.2 * wide, -0.1 * high, 0, high, wide, 1.05 * high, 1.3 * wide, -0.15 * high)
    return picture.transform(picture.size, Image.Transform.QUAD, corners, Image.Resampling.BICUBIC, fillcolor=255)


def shaded(picture: Image.Image) -> Image.Image:
    """Lit by one lamp from the left, with noise."""
    light = np.linspace(1.0, 0.25, picture.width)[None, :]
    noise = np.random.default_rng(7).normal(0, 8, (picture.height, picture.width))
    return Image.fromarray(np.clip(np.asarray(picture) * light + noise, 0, 255).astype(np.uint8))


def turned(degrees: float) -> Callable[[Image.Image], Image.Image]:
    return lambda picture: picture.rotate(degrees, Image.Resampling.BICUBIC, expand=True, fillcolor=255)


def blurred(radius_px: float) -> Callable[[Image.Image], Image.Image]:
    return lambda picture: picture.filter(ImageFilter.GaussianBlur(radius_px))


TREATMENTS: dict[str, Callable[[Image.Image], Image.Image]] = {
    "as printed": lambda picture: picture,
    "turned a little": turned(17),
    "on its side": turned(90),
    "on its head": turned(183),
    "at an angle": skewed,
    "blurred": blurred(3.0),
    "small": lambda picture: picture.resize((picture.width // 4, picture.height // 4), Image.Resampling.BICUBIC),
    "unevenly lit": shaded,
    "at an angle, turned, blurred": lambda picture: blurred(2.0)(turned(-31)(skewed(picture))),
}


@pytest.fixture(scope="module")
def page(tmp_path_factory: pytest.TempPathFactory) -> Image.Image:
    path = tmp_path_factory.mktemp("cards") / "cards.pdf"
    path.write_bytes(cards_pdf(setup_cards(cars.car(), printed_on=ON), paper=Paper.A4, printed_on=ON))
    return page_picture(path, 1, 150)


@needs_poppler
@pytest.mark.parametrize("treatment", TREATMENTS)
def test_the_code_is_read_however_the_card_is_photographed(page: Image.Image, treatment: str) -> None:
    found = zxingcpp.read_barcodes(TREATMENTS[treatment](page), formats=zxingcpp.BarcodeFormat.QRCode)
    assert [read_code(one.text) for one in found] == [read_code(setup_cards(cars.car(), printed_on=ON).cards[0].text)]


@needs_poppler
def test_every_card_says_its_own_setup_or_zone_and_end(tmp_path: Path) -> None:
    shown = setup_cards(cars.car(), printed_on=ON, zones=True)
    path = tmp_path / "cards.pdf"
    path.write_bytes(cards_pdf(shown, paper=Paper.LETTER, printed_on=ON))
    said = [
        [one.text for one in zxingcpp.read_barcodes(page_picture(path, number, 100))]
        for number in range(1, len(shown.cards) + 1)
    ]
    assert said == [[card.text] for card in shown.cards]
    assert len({card.text for card in shown.cards}) == len(shown.cards)


@needs_poppler
def test_the_longest_stock_number_that_a_car_may_have_is_still_read(tmp_path: Path) -> None:
    car = replace(cars.car(), stock="Yard 7 stock number 0123456789-0123456789"[:40])
    path = tmp_path / "cards.pdf"
    shown = setup_cards(car, printed_on=ON)
    path.write_bytes(cards_pdf(shown, paper=Paper.A4, printed_on=ON))
    found = zxingcpp.read_barcodes(blurred(1.5)(turned(12)(page_picture(path, 1, 150))))
    assert [read_code(one.text) for one in found] == [read_code(shown.cards[0].text)]
    read = read_code(found[0].text)
    assert read is not None
    assert read.stock == car.stock
