"""A part's date beside the car's: five outcomes, at the precision that was read."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lapseam.domain.errors import Mistake
from lapseam.domain.measure.part_dates import WORDS, DateWindow, Outcome, Span, outcome, part_date, span

BLOCK = DateWindow("dr-block-cast", "Block or head casting", 5, 90, 180)


@pytest.mark.parametrize(
    ("days", "expected"),
    [
        (-1, Outcome.NOT_CONSISTENT),
        (0, Outcome.LOOK_CLOSER),
        (4, Outcome.LOOK_CLOSER),
        (5, Outcome.CONSISTENT),
        (90, Outcome.CONSISTENT),
        (91, Outcome.LOOK_CLOSER),
        (180, Outcome.LOOK_CLOSER),
        (181, Outcome.NEEDS_EXPLANATION),
    ],
)
def test_the_edges(days: int, expected: Outcome) -> None:
    assert outcome(days, BLOCK) is expected
    build = date(1969, 1, 15)
    part = (build - timedelta(days=days)).isoformat()
    worked = part_date(span(part, of="the part"), span("1969-01-15", of="the car"), BLOCK)
    assert worked.amount("outcome") is expected
    assert WORDS[expected] in worked.said


def test_the_words_of_the_trade() -> None:
    assert WORDS[Outcome.NOT_CONSISTENT] == "date code later than the car"
    assert WORDS[Outcome.NEEDS_EXPLANATION] == "date code earlier than usual for this car"
    assert not any("fake" in words for words in WORDS.values())


@pytest.mark.parametrize("words", ["unknown", "19?8-10", "???8", "???8-10-21", "19?8-W42"])
def test_an_open_decade_cannot_decide(words: str) -> None:
    worked = part_date(span(words, of="the part"), span("1968-12", of="the car"), BLOCK)
    assert worked.amount("outcome") is Outcome.CANNOT_DECIDE
    back = part_date(span("1968-10", of="the part"), span(words, of="the car"), BLOCK)
    assert back.amount("outcome") is Outcome.CANNOT_DECIDE


def test_a_month_that_straddles_the_car_is_not_decided_and_says_between_what() -> None:
    worked = part_date(span("1968-12", of="the part"), span("1968-12-20", of="the car"), BLOCK)
    assert worked.amount("outcome") is Outcome.CANNOT_DECIDE
    assert worked.amount("outcomes possible") == (Outcome.CONSISTENT, Outcome.LOOK_CLOSER, Outcome.NOT_CONSISTENT)


def test_a_month_well_before_is_decided() -> None:
    worked = part_date(span("1968-10", of="the part"), span("1968-12-10", of="the car"), BLOCK)
    assert worked.amount("outcome") is Outcome.CONSISTENT
    assert worked.amount("days before the car") == (40, 70)


@pytest.mark.parametrize(
    ("words", "first", "last"),
    [
        ("1968-10-21", date(1968, 10, 21), date(1968, 10, 21)),
        ("1968-2", date(1968, 2, 1), date(1968, 2, 29)),
        ("1968", date(1968, 1, 1), date(1968, 12, 31)),
        ("1968-w42", date(1968, 10, 14), date(1968, 10, 20)),
    ],
)
def test_a_date_keeps_its_precision(words: str, first: date, last: date) -> None:
    read = span(words, of="the part")
    assert (read.first, read.last) == (first, last)


@pytest.mark.parametrize("words", ["", "68", "1968-13", "1968-02-30", "1968-W54", "21.10.1968", "🚗", "0001-01-01"])
def test_no_date(words: str) -> None:
    with pytest.raises(Mistake, match="no date"):
        span(words, of="the part")


DAYS = st.dates(date(1950, 1, 1), date(1979, 12, 31))


@given(DAYS, st.integers(0, 400), DAYS, st.integers(0, 400))
def test_what_is_possible_is_what_some_pair_of_days_gives(start: date, long: int, built: date, build_long: int) -> None:
    part = Span("part", start, start + timedelta(days=long))
    build = Span("car", built, built + timedelta(days=build_long))
    worked = part_date(part, build, BLOCK)
    least, most = (built - start).days - long, (built - start).days + build_long
    every = {outcome(day, BLOCK) for day in range(least, most + 1)}
    found = worked.amount("outcomes possible")
    assert isinstance(found, tuple)
    assert set(found) == every
    assert worked.amount("outcome") is (next(iter(every)) if len(every) == 1 else Outcome.CANNOT_DECIDE)
