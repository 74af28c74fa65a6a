"""The look's colours can be read: WCAG 2.2 AA, success criteria 1.4.3 (text) and 1.4.11 (edges)."""

from __future__ import annotations

import pytest

from lapseam.desktop.look import Ground, contrast, read_look

LOOK = read_look()


@pytest.mark.parametrize("ground", Ground)
@pytest.mark.parametrize("pair", LOOK.text_pairs)
def test_text_has_the_contrast_that_wcag_asks(ground: Ground, pair: tuple[str, str]):
    colours = LOOK.colours[ground]
    assert contrast(colours.named(pair[0]), colours.named(pair[1])) >= 4.5


@pytest.mark.parametrize("ground", Ground)
@pytest.mark.parametrize("pair", LOOK.edge_pairs)
def test_edges_have_the_contrast_that_wcag_asks(ground: Ground, pair: tuple[str, str]):
    colours = LOOK.colours[ground]
    assert contrast(colours.named(pair[0]), colours.named(pair[1])) >= 3


@pytest.mark.parametrize("text", ["ink", "soft", "signal"])
def test_the_highest_contrast_ground_keeps_its_name(text: str):
    """WCAG 2.2, 1.4.6 (AAA) asks 7:1."""
    bright = LOOK.colours[Ground.BRIGHT]
    assert contrast(bright.named(text), bright.sheet) >= 7


@pytest.mark.parametrize(
    ("one", "other", "ratio"),
    [
        ("#000000", "#FFFFFF", 21.0),
        ("#777777", "#FFFFFF", 4.48),
        ("#FF0000", "#FFFFFF", 4.0),
        ("#123456", "#123456", 1.0),
    ],
)
def test_contrast_agrees_with_published_values(one: str, other: str, ratio: float):
    """Values as the W3C's own examples and common contrast calculators give them, to two places."""
    assert contrast(one, other) == pytest.approx(ratio, abs=0.005)
    assert contrast(other, one) == pytest.approx(ratio, abs=0.005)
