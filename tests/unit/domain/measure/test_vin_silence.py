"""Serials are kept as read: silence before 1981, warnings after, never a correction and never a refusal."""

from __future__ import annotations

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from lapseam.domain.errors import Mistake
from lapseam.domain.measure.vin import CheckDigit, Kind, vin

GOOD = "1M8GDM9AXKP042788"


@given(st.text(max_size=60), st.integers(1885, 1980))
def test_before_1981_nothing_is_checked_and_nothing_is_changed(serial: str, year: int) -> None:
    try:
        worked = vin(serial, year=year)
    except Mistake:
        assert not any(char.isalnum() for char in serial)
        return
    assert worked.amount("as read") == serial.strip()
    assert {value.name for value in worked.values} == {"as read", "for searching"}
    assert "nothing was checked" in worked.said
    assert "invalid" not in " ".join([worked.said, *worked.working, *worked.cautions])


@pytest.mark.parametrize("serial", ["*9F02M-1O234*", "I O Q 0 1", GOOD[:-1] + "O", "1234567890123456789012345"])
def test_an_old_serial_keeps_its_letters_stars_and_length(serial: str) -> None:
    worked = vin(serial, year=1969)
    assert worked.amount("as read") == serial
    assert worked.amount("for searching") == "".join(c for c in serial if c.isalnum())


def test_a_short_serial_without_a_year_is_not_called_wrong() -> None:
    worked = vin("9F02M123456")
    assert "Nothing was checked" in worked.said
    assert "may be right as it stands" in " ".join(worked.working)


def test_a_short_number_from_1981_on_is_a_warning() -> None:
    worked = vin(GOOD[:-1], year=1989)
    assert "16 characters were read" in worked.cautions[0]
    assert worked.amount("check digit") is CheckDigit.NOT_WORKED


@pytest.mark.parametrize("letter", "IOQ")
def test_letters_that_are_not_used_are_named_with_their_place_and_left(letter: str) -> None:
    worked = vin(GOOD[:10] + letter + GOOD[11:], year=1989)
    assert f"Position 11 was read as {letter}" in worked.cautions[0]
    assert "left as read" in worked.cautions[0]
    assert letter in str(worked.amount("for searching"))


def test_a_wrong_check_digit_says_read_again_and_no_more() -> None:
    worked = vin(GOOD.replace("X", "1"), year=1989)
    assert worked.amount("check digit") is CheckDigit.DIFFERS
    assert worked.amount("check digit expected") == "X"
    assert "read the plate again" in worked.said
    assert any("another market" in words for words in worked.cautions)


def test_a_character_that_cannot_be_read_is_kept_as_such() -> None:
    worked = vin(GOOD[:12] + "?" + GOOD[13:], year=1989)
    assert "Position 13 was not legible." in worked.cautions
    assert worked.amount("check digit") is CheckDigit.NOT_WORKED


def test_spaces_and_small_letters_do_not_disturb_and_are_told() -> None:
    worked = vin("1m8-gdm9a xkp042788", year=1989)
    assert worked.amount("check digit") is CheckDigit.AGREES
    assert GOOD in worked.understood[0]


def test_a_year_that_differs_from_the_papers_is_told() -> None:
    assert any("papers say model year 1990" in words for words in vin(GOOD, year=1990).cautions)
    assert any("papers say model year 1989" in words for words in vin(GOOD, year=1989).working)


def test_a_nine_in_position_3_is_explained() -> None:
    assert any("position 3" in words for words in vin("1M9" + GOOD[3:]).cautions)


@given(st.text(max_size=60), st.none() | st.integers(1885, 2099), st.sampled_from(Kind))
def test_any_text_with_a_letter_or_figure_has_an_answer(serial: str, year: int | None, kind: Kind) -> None:
    assume(any(char.isalnum() for char in serial))
    worked = vin(serial, year=year, kind=kind)
    assert worked.said.endswith(".")
    assert worked.amount("as read") == serial.strip()


@pytest.mark.parametrize("serial", ["", "   ", "* - *", "🚗", "A" * 61])
def test_only_what_is_no_serial_at_all_is_refused(serial: str) -> None:
    with pytest.raises(Mistake):
        vin(serial)
