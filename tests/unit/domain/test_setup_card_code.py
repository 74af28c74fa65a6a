"""What a card's code says: written and read back, whatever the names are, and nobody else's code taken for ours."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lapseam.domain.setup_card import CHECK_MM, CODE_AT_MM, CODE_MM, FRAME_MM, CardCode, CardEnd, CardOf, read_code

names = st.text(st.characters(exclude_categories=("Cs",)), min_size=1, max_size=60)
cards = st.builds(CardCode, names, st.sampled_from(CardOf), names, st.sampled_from(CardEnd))


def test_the_text_is_short_and_plain() -> None:
    assert CardCode("T-114", CardOf.SETUP, "s7-lift", CardEnd.FIRST).text == "LS1:T-114:s7-lift:a"
    assert CardCode("T-114", CardOf.ZONE, "left-side", CardEnd.LAST).text == "LS1:T-114:@left-side:z"


@given(cards)
def test_what_is_written_is_read_back(card: CardCode) -> None:
    assert read_code(card.text) == card
    assert card.text.isascii()
    assert card.text.count(":") == 3


@pytest.mark.parametrize(
    "text",
    ["", "T-114", "LS2:T-114:s7:a", "LS1:T-114:s7:b", "LS1:T-114:s7", "LS1:T-114:s7:a:a", "LS1::s7:a", "LS1:T:@:a"],
)
def test_no_other_code_is_taken_for_a_card(text: str) -> None:
    assert read_code(text) is None


@given(st.text(max_size=80))
def test_no_text_at_all_makes_reading_fall_over(text: str) -> None:
    card = read_code(text)
    assert card is None or (card.stock and card.subject)


def test_code_and_check_line_lie_inside_the_corner_marks() -> None:
    assert CODE_AT_MM[0] + CODE_MM < FRAME_MM[0]
    assert CODE_AT_MM[1] + CODE_MM < FRAME_MM[1]
    assert FRAME_MM[0] > CHECK_MM
