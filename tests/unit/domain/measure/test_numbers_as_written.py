"""Numbers as people write them are understood or refused in words; nothing is guessed and nothing crashes."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lapseam.domain import units
from lapseam.domain.errors import Mistake
from lapseam.domain.measure.reading import choice, day, measure, model_year, number, plain, quantity, whole

UNDERSTOOD = [
    ("12mm", Fraction(12), "mm"),
    (" 12 mm ", Fraction(12), "mm"),
    ("12,5 mm", Fraction("12.5"), "mm"),
    ("12.5MM", Fraction("12.5"), "mm"),
    ("5/32 in", Fraction(5, 32), "in"),
    ("5 / 32in", Fraction(5, 32), "in"),
    ('1 1/2"', Fraction(3, 2), "in"),
    ("1-1/2 in.", Fraction(3, 2), "in"),
    ("1½ inches", Fraction(3, 2), "in"),
    ("½”", Fraction(1, 2), "in"),
    ("63 360", Fraction(63360), ""),
    ("63\u00a0360 mi", Fraction(63360), "mi"),
    ("1,234,567", Fraction(1234567), ""),
    ("1,234.5", Fraction("1234.5"), ""),
    ("1.234,5", Fraction("1234.5"), ""),
    ("0,125 in", Fraction(1, 8), "in"),
    (".5", Fraction(1, 2), ""),
    ("12.", Fraction(12), ""),
    ("−5", Fraction(-5), ""),
    ("+3", Fraction(3), ""),
    ("١٢", Fraction(12), ""),
    ("１２mm", Fraction(12), "mm"),
    ("120 μm", Fraction(120), "µm"),
    ("120 microns", Fraction(120), "µm"),
    ("4.7 thou", Fraction("4.7"), "mil"),
    ("426 cu in", Fraction(426), "in³"),
    ("5700 cc", Fraction(5700), "cm³"),
    ("65 kph", Fraction(65), "km/h"),
    ("3 %", Fraction(3), "%"),
]


@pytest.mark.parametrize(("words", "amount", "unit"), UNDERSTOOD)
def test_understood(words: str, amount: Fraction, unit: str) -> None:
    read = quantity(words, of="the size")
    assert (read.amount, read.unit) == (amount, unit)


REFUSED = [
    ("", "Nothing was given"),
    ("   ", "Nothing was given"),
    ("🚗", "no number"),
    ("12🚗", "no unit known"),
    ("twelve", "no number"),
    ("1,250", "1250 or 1.250"),
    ("1e3", "powers of ten"),
    ("2.5E-4 mm", "powers of ten"),
    ("5/0", "divides by nought"),
    ("5'6\"", "not one number"),
    ("1 2", "not one number"),
    ("5-6 mm", "not one number"),
    ("1..2", "not one number"),
    ("--3", "not one number"),
    ("inf", "no number"),
    ("nan", "no number"),
    ("12 parsecs", "no unit known"),
    ("9" * 50, "too long"),
]


@pytest.mark.parametrize(("words", "says"), REFUSED)
def test_refused_in_words(words: str, says: str) -> None:
    with pytest.raises(Mistake) as refused:
        quantity(words, of="the size")
    assert says in str(refused.value)
    assert refused.value.next_step.startswith(("Write", "Use"))


@given(st.text())
def test_any_text_is_a_number_or_a_mistake(words: str) -> None:
    try:
        read = quantity(words, of="the size")
    except Mistake:
        return
    assert read.unit in (*units.SIZES, "%", "")


@given(st.text(alphabet="0123456789.,/ '-+eE½mminµ%\"", max_size=12), st.booleans())
def test_what_looks_like_a_number_is_one_or_a_mistake(words: str, counted: bool) -> None:
    try:
        read = quantity(words, of="the size", counted=counted)
    except Mistake:
        return
    assert isinstance(read.amount, Fraction)


@given(st.decimals(min_value=-(10**6), max_value=10**6, places=3), st.sampled_from(list(units.SIZES)), st.booleans())
def test_a_plain_decimal_is_read_back(amount: object, unit: str, glued: bool) -> None:
    read = quantity(f"{amount}{'' if glued else ' '}{unit}", of="the size")
    assert (read.amount, read.unit) == (Fraction(str(amount)), unit)


@given(st.integers(0, 99), st.integers(0, 63), st.sampled_from([2, 4, 8, 16, 32, 64]))
def test_a_mixed_fraction_is_read_back(ones: int, over: int, under: int) -> None:
    assert quantity(f"{ones} {over}/{under} in", of="the size").amount == ones + Fraction(over, under)


@given(st.integers(0, 9_999_999), st.sampled_from([" ", ",", "\u202f"]))
def test_a_whole_number_in_groups_is_read_back(count: int, mark: str) -> None:
    assert whole(f"{count:,}".replace(",", mark), of="the count", least=0, most=10**7) == count


def test_a_number_without_its_unit_is_asked_for_it() -> None:
    with pytest.raises(Mistake, match="in mm or in"):
        measure("4.25", of="the bore", unit="mm", least=10, most=300)


def test_a_unit_of_another_kind_is_refused() -> None:
    with pytest.raises(Mistake, match="kg is no unit for the bore"):
        measure("4 kg", of="the bore", unit="mm", least=10, most=300)


@pytest.mark.parametrize("words", ["-5 mm", "0 mm", "9000 mm", "99999999999999999999 km"])
def test_what_no_car_has_is_refused(words: str) -> None:
    with pytest.raises(Mistake):
        measure(words, of="the bore", unit="mm", least=10, most=300)


def test_bounds_are_exact_over_units() -> None:
    assert measure("10 in", of="the tyre", unit="mm", least=254, most=254) == 254
    assert measure("25.4 mm", of="the width", unit="in", least=1, most=1) == 1


def test_bare_numbers_have_no_unit() -> None:
    assert number("3,73", of="the ratio", least=0, most=10) == 3.73
    with pytest.raises(Mistake, match="has no unit"):
        number("3.73 in", of="the ratio", least=0, most=10)
    with pytest.raises(Mistake, match="no whole number"):
        whole("7.5", of="the count", least=0, most=10)


def test_names_days_and_years() -> None:
    assert choice(" One Held ", ("both", "one-held"), of="way") == "one-held"
    with pytest.raises(Mistake, match="Did you mean both"):
        choice("boht", ("both", "one-held"), of="way")
    assert day("2026-11-24", of="the age").year == 2026
    with pytest.raises(Mistake, match="year-month-day"):
        day("24.11.2026", of="the age")
    assert model_year("1969") == 1969
    for words in ("69", "19690", "1,969", "MCMLXIX", "0000"):
        with pytest.raises(Mistake):
            model_year(words)


@given(st.text())
def test_plain_is_plain(words: str) -> None:
    assert plain(plain(words)) == plain(words)
