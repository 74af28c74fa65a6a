"""Check digits and model years against 49 CFR 565, the published sample numbers, and an independent reader.

Marks: V1 read in the primary text, V2 in a secondary source, C computed from the regulation's tables, M from memory.
"""

from __future__ import annotations

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from lapseam.domain.measure.vin import CheckDigit, Kind, check_sum, vin, years

ALPHABET = "ABCDEFGHJKLMNPRSTUVWXYZ0123456789"

# number, sum, remainder, character: row by row with its status
PUBLISHED = [
    ("1G4AH59H45G118341", 411, 4, "4"),  # V1: the regulation's own sample (49 CFR 565.15(c)), C
    ("LJCPCBLCX11000237", 186, 10, "X"),  # V2: a mathematics page on vehicle numbers, C
    ("1M8GDM9AXKP042788", 351, 10, "X"),  # V2, C
    ("11111111111111111", 89, 1, "1"),  # V2, C: every weight once
    ("1HGCM82633A004352", 311, 3, "3"),  # C
    ("JT2AE92E9J3137546", 284, 9, "9"),  # C
]

# V1: table of 49 CFR 565.15(c), typed column by column as printed there, not as the program builds it
PRINTED = {
    1: "AJ",
    2: "BKS",
    3: "CLT",
    4: "DMU",
    5: "ENV",
    6: "FW",
    7: "GPX",
    8: "HY",
    9: "RZ",
}


def by_the_table(number: str) -> int:
    """An independent sum: from the printed table, with the weights counted down as the regulation lists them."""
    weights = [*range(8, 1, -1), 10, 0, *range(9, 1, -1)]
    value = {char: worth for worth, chars in PRINTED.items() for char in chars}
    return sum(
        weight * (value[char] if char.isalpha() else int(char)) for weight, char in zip(weights, number, strict=True)
    )


@pytest.mark.parametrize(("number", "total", "remainder", "expected"), PUBLISHED)
def test_sample_numbers(number: str, total: int, remainder: int, expected: str) -> None:
    found = check_sum(number)
    assert found is not None
    assert (found.total, found.remainder, found.expected) == (total, remainder, expected)
    assert by_the_table(number) == total
    assert vin(number).amount("check digit") is CheckDigit.AGREES


@given(st.text(ALPHABET, min_size=17, max_size=17))
def test_every_number_sums_as_the_printed_table_says(number: str) -> None:
    found = check_sum(number)
    assert found is not None
    assert found.total == by_the_table(number)


@given(st.text(ALPHABET, min_size=17, max_size=17), st.integers(0, 16), st.sampled_from(ALPHABET))
def test_a_wrong_character_is_seen_unless_it_has_the_same_value(number: str, place: int, char: str) -> None:
    """C: 11 is prime and no weight but position 9's is a multiple of it, so a change of value is always noticed."""
    found = check_sum(number)
    assert found is not None
    good = number[:8] + found.expected + number[9:]
    assume(place != 8)
    changed = good[:place] + char + good[place + 1 :]
    same = by_the_table(good) == by_the_table(changed)
    worth = {letter: value for value, chars in PRINTED.items() for letter in chars} | {str(n): n for n in range(10)}
    assert same is (worth[good[place]] == worth[char])
    expected = CheckDigit.AGREES if same else CheckDigit.DIFFERS
    assert vin(changed).amount("check digit") is expected


@given(st.text(ALPHABET, min_size=14, max_size=14), st.booleans())
def test_an_independent_reader_agrees(tail: str, right: bool) -> None:
    """Oracle: vininfo, a general library for vehicle numbers (BSD). Some makers are exempt there; 000 is nobody."""
    vininfo = pytest.importorskip("vininfo")
    number = f"000{tail}"
    found = check_sum(number)
    assert found is not None
    if right:
        number = number[:8] + found.expected + number[9:]
    assert vininfo.Vin(number).verify_checksum(check_year=False) is (number[8] == found.expected)
    assert (vin(number).amount("check digit") is CheckDigit.AGREES) is (number[8] == found.expected)


@pytest.mark.parametrize("code", "ABCDEFGHJKLMNPRSTVWXY123456789")
def test_the_independent_reader_knows_the_same_years(code: str) -> None:
    """vininfo leaves out years that have not come; ours are a superset and begin alike."""
    vininfo = pytest.importorskip("vininfo")
    number = f"000000000{code}0000000"
    assert set(vininfo.Vin(number).years) <= set(years(number))
    assert min(vininfo.Vin(number).years) == min(years(number))


@pytest.mark.parametrize(
    ("code", "first"),
    [
        ("A", 1980),
        ("B", 1981),
        ("J", 1988),
        ("P", 1993),
        ("T", 1996),
        ("V", 1997),
        ("Y", 2000),
        ("1", 2001),
        ("9", 2009),
    ],
)
def test_year_codes(code: str, first: int) -> None:
    """V2: three agreeing tables of 49 CFR 565.15(d)."""
    assert years(f"1M8GDM9A0{code}P042788") == (first, first + 30)


@pytest.mark.parametrize("code", "IOQUZ0")
def test_codes_that_never_mean_a_year(code: str) -> None:
    """V2: year table of 565.15(d). A web page's '2000 = 0' is wrong."""
    assert years(f"1M8GDM9A0{code}P042788") == ()


def test_1993_is_p_and_not_l() -> None:
    """V2, C: '1993 = L' stands on a web page and is wrong; L is 1990."""
    assert years("1M8GDM9A0LP042788", Kind.LIGHT) == (1990,)
    assert years("1M8GDM9A0PP042788", Kind.LIGHT) == (1993,)


@pytest.mark.parametrize(("seventh", "year"), [("9", 1989), ("A", 2019)])
def test_position_7_decides_for_cars_and_light_trucks(seventh: str, year: int) -> None:
    """V1: 565.15(b), a letter from 2010; old 565.6(b), a figure before. For other vehicles it decides nothing."""
    number = f"1M8GDM{seventh}A0KP042788"
    assert years(number, Kind.LIGHT) == (year,)
    assert years(number, Kind.OTHER) == (1989, 2019)
    assert years(number) == (1989, 2019)


@pytest.mark.parametrize("letter", "IOQ")
def test_letters_that_are_never_used_are_left_as_read_and_named(letter: str) -> None:
    """V2: 49 CFR 565.13 and ISO 3779 leave out I, O and Q; a number with one of them has no check digit to work out."""
    worked = vin(f"1M8GD{letter}9AXKP042788")
    assert worked.amount("check digit") not in (CheckDigit.AGREES, CheckDigit.DIFFERS)
    assert f"read as {letter}" in " ".join(worked.cautions)


def test_a_9_in_position_3_marks_a_maker_of_few() -> None:
    """V1: 49 CFR 565.15(a); positions 12 to 14 then complete the maker's code."""
    assert "12 to 14" in " ".join(vin("1M9GDM9AXKP042788").cautions)
    assert "12 to 14" not in " ".join(vin("1M8GDM9AXKP042788").cautions)


def test_the_weights_sum_to_89() -> None:
    """C: a number of ones sums to the weights, 8 7 6 5 4 3 2 10 0 9 8 7 6 5 4 3 2."""
    found = check_sum("1" * 17)
    assert found is not None
    assert found.total == 89


@pytest.mark.parametrize("number", ["AO12I", "67Q123456", "194379S123", "Z16S100234I", "6T08C1234567O"])
def test_a_serial_from_before_1981_is_taken_as_it_stands(number: str) -> None:
    """V2: no common length or coding before model year 1981, typically 5 to 13 characters, I, O and Q among them."""
    worked = vin(number)
    told = " ".join((worked.said, *worked.cautions))
    assert 5 <= len(number) <= 13
    assert "Nothing was checked" in worked.said
    assert "invalid" not in told
    assert "wrong" not in told
