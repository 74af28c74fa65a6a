"""Tyre sizes, marks and dates: every form of writing, round trips, and no crash on any words."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lapseam.domain.errors import Mistake
from lapseam.domain.measure.old_tyres import sizes
from lapseam.domain.measure.tyre_dates import first_sunday, tyre_date, week_of, weeks
from lapseam.domain.measure.tyre_marks import tread, tyre_mark
from lapseam.domain.measure.tyres import compare_sizes, read_size, tyre_size

SAME = ["205/70R14", "205/70 R 14", "205/70-14", "205/70VR14", "205/70ZR14", "p205/70r14", "205/70R14 95H", "205/70B14"]


@pytest.mark.parametrize("words", SAME)
def test_all_ways_to_write_one_size(words: str) -> None:
    assert float(read_size(words).diameter_mm) == 642.6


def test_flotation_names_the_diameter() -> None:
    read = read_size("31x10,50R15LT")
    assert float(read.diameter_mm) / 25.4 == 31
    assert float(read.section_height_mm) == 203.2
    assert float(read_size("31X10.50-15").diameter_mm) == float(read.diameter_mm)


def test_a_rim_in_millimetres_is_told() -> None:
    worked = tyre_size("190/65R390")
    assert worked.amount("diameter") == 637
    assert any("fits no inch wheel" in words for words in worked.cautions)
    assert not any("fits no inch wheel" in words for words in tyre_size("190/65R15").cautions)


def test_what_stands_behind_the_size_is_not_swallowed() -> None:
    assert "95H M+S" in tyre_size("205/70R14 95H M+S").understood[0]


@pytest.mark.parametrize("words", ["999/70R14", "205/10R14", "205/70R07", "205/70R99", "10x10R15", "31x99R15"])
def test_what_no_car_has_is_refused(words: str) -> None:
    with pytest.raises(Mistake, match="no tyre that a car has"):
        read_size(words)


@given(
    st.sampled_from(["", "P", "LT"]), st.integers(12, 45), st.integers(4, 17), st.sampled_from(["R", "-", "VR"]),
    st.integers(10, 24),
)  # fmt: skip
def test_a_size_is_read_back(use: str, width: int, aspect: int, build: str, rim: int) -> None:
    written = f"{use}{width * 10 + 5}/{aspect * 5}{build}{rim}"
    read = read_size(written)
    assert read.written == written
    assert read.diameter_mm == read.rim_mm + 2 * read.width_mm * aspect * 5 / 100
    assert read_size(read.written) == read


@given(st.sampled_from(SAME), st.sampled_from(["225/70R14", "185/60R14", "31x10.50R15"]))
def test_comparing_is_symmetric(one: str, other: str) -> None:
    there, back = compare_sizes(one, other), compare_sizes(other, one)
    forth = there.amount("difference")
    again = back.amount("difference")
    assert isinstance(forth, float)
    assert isinstance(again, float)
    assert (1 + forth / 100) * (1 + again / 100) == pytest.approx(1)


def test_the_same_size_is_as_large_as_itself() -> None:
    assert "as large as" in compare_sizes("205/70R14", "205/70R14").said


@pytest.mark.parametrize("words", ["F70-14", "f 70-14", "F70x14", "F70 14"])
def test_an_old_size_says_that_the_letter_is_no_width(words: str) -> None:
    worked = sizes(words)
    assert worked.amount("usual substitute") == ("P215/70R14",)
    assert "load class, not the width" in worked.working[0]


def test_an_old_radial_is_told_apart() -> None:
    assert "It is a radial." in sizes("FR78-15").working
    assert "It is a radial." not in sizes("F78-15").working


def test_an_old_size_without_a_substitute_says_measure() -> None:
    worked = sizes("8.25-20")
    assert "no usual modern substitute" in worked.said
    assert "Measure the tyre" in worked.cautions[0]


def test_marks() -> None:
    assert tyre_mark("95H").amount("load of one tyre") == 690
    assert tyre_mark("(95 h)").amount("speed") == 210
    assert tyre_mark("104/101Q").amount("load of one of a pair") == 825
    assert "over 240" in tyre_mark("ZR").said
    assert "1 521 lb" in tyre_mark("95").said
    for words in ("49H", "127", "95I", "95O", "I", "", "🚗", "H95"):
        with pytest.raises(Mistake):
            tyre_mark(words)


def test_tread_needs_a_unit_unless_it_is_a_fraction_of_an_inch() -> None:
    assert tread("5/32").understood
    assert tread("5/32").amount("depth in 32nds") == 5
    assert tread("4 mm").amount("depth") == 4
    for words in ("5", "-5 mm", "5/0", "40 mm", "5 kg"):
        with pytest.raises(Mistake):
            tread(words)


@given(st.dates(date(2000, 7, 2), date(2098, 12, 31)))
def test_the_week_of_a_day_reads_back_to_that_week(day: date) -> None:
    made = week_of(day)
    (read,) = weeks(f"{made.week:02}{made.year % 100:02}")
    assert read == made
    assert read.begins <= day < read.begins + timedelta(weeks=1)
    assert read.begins.weekday() == 6


@given(st.dates(date(1971, 1, 4), date(2000, 6, 24)))
def test_three_figures_hold_the_true_year_but_never_alone(day: date) -> None:
    made = week_of(day)
    may_be = weeks(f"{made.week:02}{made.year % 10}")
    assert made in may_be
    assert len(may_be) > 1
    assert len({one.year // 10 for one in may_be}) == len(may_be)


@given(st.integers(1900, 2100))
def test_the_first_sunday_is_the_first(year: int) -> None:
    day = first_sunday(year)
    assert (day.weekday(), day.month, day.year) == (6, 1, year)
    assert day.day <= 7


@given(st.dates(date(2000, 7, 2), date(2060, 1, 1)), st.integers(0, 40))
def test_age_counts_whole_years(day: date, later: int) -> None:
    made = week_of(day)
    begins = made.begins
    assert made.age(begins) == 0
    assert made.age(begins.replace(year=begins.year + later, day=min(begins.day, 28))) in (later - 1, later)
    assert made.age(begins + timedelta(days=366 * later + 1)) >= later - (1 if later > 4 else 0)


@pytest.mark.parametrize("words", ["DOT U2LL LMLR 3500", "DOTU2LLLMLR3500", "3500"])
def test_the_whole_number_or_its_end(words: str) -> None:
    assert tyre_date(words, on=date(2026, 11, 25)).amount("years") == (2000,)


@pytest.mark.parametrize("words", ["5400", "DOT ABC", "12345", "35 00", "🚗", "0", "12439"])
def test_what_cannot_be_read_is_an_answer(words: str) -> None:
    assert "not readable" in tyre_date(words, on=date(2026, 11, 25)).said


def test_a_week_to_come_is_no_age() -> None:
    worked = tyre_date("3599", on=date(2026, 11, 25))
    assert worked.amount("age") == ()
    assert "read it again" in worked.said


def test_a_week_53_that_the_year_lacks_is_told() -> None:
    assert any("52 such weeks" in words for words in tyre_date("5302", on=date(2026, 1, 1)).cautions)


@given(st.text(max_size=50))
def test_any_words_have_an_answer_or_a_mistake(words: str) -> None:
    for rule in (sizes, tyre_mark, tread, lambda one: tyre_date(one, on=date(2026, 11, 25))):
        try:
            worked = rule(words)
        except Mistake:
            continue
        assert worked.said.endswith(".")
