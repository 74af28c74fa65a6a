"""Tyre geometry, load and speed tables, date groups and old sizes against published figures.

Marks: V1 read in the primary text, V2 in a secondary source, C computed from the formula of the mark, M from memory.
"""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from lapseam.domain.measure.old_tyres import OLD_SIZES, sizes
from lapseam.domain.measure.tyre_dates import tyre_date, week_of, weeks
from lapseam.domain.measure.tyre_marks import LOAD_KG, SPEED_KMH, load_kg, speed_kmh, tread
from lapseam.domain.measure.tyres import read_size, tyre_size
from lapseam.domain.measure.worked import Known

# C: size, section height mm, diameter mm, diameter in, circumference in, turns a mile
GEOMETRY = [
    ("P215/60R15", 129.00, 639.0, 25.16, 79.03, 801.7),
    ("P245/60R15", 147.00, 675.0, 26.57, 83.49, 758.9),
    ("P235/60R15", 141.00, 663.0, 26.10, 82.00, 772.7),
    ("P255/60R15", 153.00, 687.0, 27.05, 84.97, 745.7),
    ("P275/60R15", 165.00, 711.0, 27.99, 87.94, 720.5),
    ("205/70R14", 143.50, 642.6, 25.30, 79.48, 797.2),
    ("P215/70R14", 150.50, 656.6, 25.85, 81.21, 780.2),
    ("P225/70R14", 157.50, 670.6, 26.40, 82.94, 763.9),
    ("P185/75R14", 138.75, 633.1, 24.93, 78.30, 809.1),
    ("P205/75R14", 153.75, 663.1, 26.11, 82.02, 772.5),
    ("P215/75R14", 161.25, 678.1, 26.70, 83.87, 755.4),
    ("P225/75R14", 168.75, 693.1, 27.29, 85.73, 739.1),
    ("P215/75R15", 161.25, 703.5, 27.70, 87.01, 728.2),
    ("P225/70R15", 157.50, 696.0, 27.40, 86.08, 736.0),
    ("P235/75R15", 176.25, 733.5, 28.88, 90.72, 698.4),
    ("185/60R14", 111.00, 577.6, 22.74, 71.44, 886.9),
    ("225/65R17", 146.25, 724.3, 28.52, 89.58, 707.3),
]


@pytest.mark.parametrize(("size", "height", "mm", "inches", "round_in", "turns"), GEOMETRY)
def test_geometry(size: str, height: float, mm: float, inches: float, round_in: float, turns: float) -> None:
    read = read_size(size)
    assert float(read.section_height_mm) == height
    assert float(read.diameter_mm) == mm
    assert float(read.diameter_mm) / 25.4 == pytest.approx(inches, abs=0.00501)
    assert read.circumference_mm / 25.4 == pytest.approx(round_in, abs=0.00501)
    assert read.turns_a_mile == pytest.approx(turns, abs=0.0501)


@pytest.mark.parametrize(
    ("size", "inches", "within"),
    [
        ("185/60R14", 22.74, 0.005),  # V2: a conversion chart, 577.6 mm
        ("215/70-14", 25.85, 0.005),  # V2: a question and answer page
        ("225/65R17", 28.52, 0.005),  # V2: a formulas page
        ("P185/75R14", 25.0, 0.08),  # V2: a tyre retailer's chart lists 25.0, rounded to the half inch or measured
    ],
)
def test_published_diameters(size: str, inches: float, within: float) -> None:
    assert float(read_size(size).diameter_mm) / 25.4 == pytest.approx(inches, abs=within)


@pytest.mark.parametrize(("rim", "code_mm"), [(13, 330), (14, 356), (15, 381), (16, 406), (17, 432), (18, 457)])
def test_design_diameters_with_rounded_rims_stay_within_one_per_cent(rim: int, code_mm: int) -> None:
    """M: UN R30 and ETRTO rim codes; the height rounded to 1 mm. 205/70R14 is 644 mm there."""
    read = read_size(f"205/70R{rim}")
    design = code_mm + 2 * round(float(read.section_height_mm) + 1e-9)
    assert design == pytest.approx(float(read.diameter_mm), rel=0.01)
    assert rim != 14 or design == 644


def test_no_aspect_ratio_is_82_and_says_so() -> None:
    """M: full profile."""
    worked = tyre_size("165R15")
    assert worked.approximate
    assert worked.amount("section height") == pytest.approx(165 * 0.82)
    assert any("from memory" in words for words in worked.cautions)


# V2: load indexes 50 to 126 as printed, seven to a line
LOAD_LINES = """
50 190 51 195 52 200 53 206 54 212 55 218 56 224 57 230 58 236 59 243 60 250 61 257 62 265 63 272
64 280 65 290 66 300 67 307 68 315 69 325 70 335 71 345 72 355 73 365 74 375 75 387 76 400 77 412
78 425 79 437 80 450 81 462 82 475 83 487 84 500 85 515 86 530 87 545 88 560 89 580 90 600 91 615
92 630 93 650 94 670 95 690 96 710 97 730 98 750 99 775 100 800 101 825 102 850 103 875 104 900 105 925
106 950 107 975 108 1000 109 1030 110 1060 111 1090 112 1120 113 1150 114 1180 115 1215 116 1250 117 1285
118 1320 119 1360 120 1400 121 1450 122 1500 123 1550 124 1600 125 1650 126 1700
"""
PRINTED_LOADS = [int(word) for word in LOAD_LINES.split()]


@pytest.mark.parametrize(("index", "kg"), list(zip(PRINTED_LOADS[::2], PRINTED_LOADS[1::2], strict=True)))
def test_load_index(index: int, kg: int) -> None:
    """V2; and C: 45 x 10^(index/80) lies within 1.8 % of every entry."""
    assert load_kg(index) == kg
    assert 45 * 10 ** (index / 80) == pytest.approx(kg, rel=0.018)


def test_the_load_table_has_no_more() -> None:
    assert len(LOAD_KG) == len(PRINTED_LOADS) // 2 == 77


# V2: as printed, H out of the alphabet's order
SPEEDS = """
B 50 C 60 D 65 E 70 F 80 G 90 J 100 K 110 L 120 M 130 N 140 P 150
Q 160 R 170 S 180 T 190 U 200 H 210 V 240 W 270 Y 300
"""


def test_speed_symbols() -> None:
    words = SPEEDS.split()
    printed = {symbol: int(kmh) for symbol, kmh in zip(words[::2], words[1::2], strict=True)}
    printed |= {f"A{step}": 5 * step for step in range(1, 9)}  # V2: A1 to A8 are 5 to 40
    assert printed == dict(SPEED_KMH)
    assert speed_kmh("U") < speed_kmh("H") < speed_kmh("V")
    assert speed_kmh("ZR") == 240


# old size, substitutes, status
OLD: list[tuple[str, tuple[str, ...], Known]] = [
    ("6.95-14", ("P185/75R14",), Known.SECONDARY),  # V2: a tyre retailer's chart, also 25.3 in and 7.0 in
    ("8.00-14", ("P215/75R14",), Known.SECONDARY),  # V2: an owners' club page, correcting a widely copied 205
    ("G78-14", ("P215/75R14",), Known.SECONDARY),  # V2: same
    ("8.50-14", ("P225/75R14",), Known.SECONDARY),  # V2: same
    ("H78-14", ("P225/75R14",), Known.SECONDARY),  # V2: same
    ("G78-15", ("P215/75R15", "P225/75R15"), Known.MEMORY),  # dimensions V2, substitute M
    ("C78-14", ("P185/75R14",), Known.MEMORY),  # M, and all below
    ("E78-14", ("P195/75R14",), Known.MEMORY),
    ("F78-14", ("P205/75R14",), Known.MEMORY),
    ("E70-14", ("P205/70R14",), Known.MEMORY),
    ("F70-14", ("P215/70R14",), Known.MEMORY),
    ("G70-14", ("P225/70R14",), Known.MEMORY),
    ("E60-15", ("P225/60R15",), Known.MEMORY),
    ("F60-15", ("P235/60R15",), Known.MEMORY),
    ("G60-15", ("P245/60R15",), Known.MEMORY),
    ("L60-15", ("P275/60R15",), Known.MEMORY),
    ("F78-15", ("P205/75R15",), Known.MEMORY),
    ("H78-15", ("P225/75R15",), Known.MEMORY),
    ("L78-15", ("P235/75R15",), Known.MEMORY),
]


@pytest.mark.parametrize(("old", "modern", "known"), OLD)
def test_old_sizes_are_approximate_and_say_how_they_are_known(old: str, modern: tuple[str, ...], known: Known) -> None:
    worked = sizes(old)
    assert worked.amount("usual substitute") == modern
    assert worked.known is known
    assert worked.approximate
    assert "common practice" in worked.said
    assert "approximate" in worked.said


def test_the_table_of_old_sizes_is_the_one_above() -> None:
    assert set(OLD_SIZES) == {old for old, _, _ in OLD}


@pytest.mark.parametrize(
    ("old", "inches", "width"),
    [("6.95-14", 25.3, 7.0), ("G78-15", 28.0, 8.4)],  # V2: a tyre retailer's chart
)
def test_listed_dimensions_lie_within_half_an_inch_of_the_substitute(old: str, inches: float, width: float) -> None:
    worked = sizes(old)
    assert worked.amount("listed diameter") == inches
    assert worked.amount("listed width") == width
    for modern in OLD_SIZES[old].modern:
        assert float(read_size(modern).diameter_mm) / 25.4 == pytest.approx(inches, abs=0.5)


@pytest.mark.parametrize(
    ("group", "week", "of"),
    [
        ("3500", 35, (2000,)),  # V1: 49 CFR 574.5, week and year
        ("0301", 3, (2001,)),  # V2: an owner's manual, third week of 2001
        ("031", 3, (1971, 1981, 1991)),  # V2: same page, third week of a year ending in 1; 1971 as the first is M
        ("439", 43, (1979, 1989, 1999)),  # V2: three figures, decade unknown
        ("5301", 53, (2001,)),
        ("010", 1, (1980, 1990, 2000)),  # V1, V2: three figures were used until July 2000
        ("400", 40, (1980, 1990)),
    ],
)
def test_date_groups(group: str, week: int, of: tuple[int, ...]) -> None:
    assert [(one.week, one.year) for one in weeks(group)] == [(week, year) for year in of]


@pytest.mark.parametrize("group", ["0000", "5400", "9900", "000", "540", "35", "35000", "3a00", ""])
def test_anything_else_is_not_readable(group: str) -> None:
    assert weeks(group) == ()


@pytest.mark.parametrize(
    ("year", "first"),
    [(2000, date(2000, 1, 2)), (2001, date(2001, 1, 7)), (2006, date(2006, 1, 1)), (2011, date(2011, 1, 2))],
)
def test_week_one_is_the_first_full_week(year: int, first: date) -> None:
    """V2: first full week. That it runs from Sunday is M. Dates read off a printed calendar."""
    assert weeks(f"01{year % 100:02}")[0].begins == first
    assert week_of(first).week == 1


def test_age_is_years_since_the_week() -> None:
    assert tyre_date("3500", on=date(2026, 8, 26)).amount("age") == (25,)
    assert tyre_date("3500", on=date(2026, 8, 27)).amount("age") == (26,)


@pytest.mark.parametrize(("words", "mm"), [("2/32 in", 1.5875), ("1/16 in", 1.5875), ("10/32", 7.9375)])
def test_tread(words: str, mm: float) -> None:
    """V2: wear bars appear at 1/16 in, that is 2/32 in or 1.5875 mm (FMVSS 109 and 139; clause M)."""
    worked: Any = tread(words)
    assert worked.amount("depth") == pytest.approx(mm)
    told = " ".join([worked.said, *worked.working]).lower()
    assert "legal" not in told
    assert "lawful" not in told


@pytest.mark.parametrize(
    ("number", "year"),
    [
        ("DOT 1AB CDEFGH 3519", 2019),  # V1: 49 CFR 574.5(a), 13 symbols: 3 plant, 6 maker's code, 4 date
        ("ABC 1223", 2023),  # V1: 574.5(b), a retread has 7 symbols
        ("DOT U2LL LMLR 5107", 2007),  # V1: 80 FR 19553 preamble, older numbers have a plant code of 2 symbols
    ],
)
def test_the_date_is_the_last_group_of_the_whole_number(number: str, year: int) -> None:
    assert f"of {year}" in tyre_date(number, on=date(2026, 1, 1)).said
