"""Rust grades against ASTM D610-08 and ISO 4628-3:2016, film units against their definition.

Marks: V1 read in the primary text, V2 in a secondary source, C computed from the table, M from memory.
"""

from __future__ import annotations

from itertools import pairwise
from math import sqrt

import pytest

from lapseam.domain.measure.film import film, panels
from lapseam.domain.measure.rust import PICTURES, Spread, d610_grade, nearest_picture, rusted
from lapseam.domain.units import change

# C from table 1 of ASTM D610-08 (V2: a third-party copy of the text)
D610 = [
    (0, 10), (0.01, 10), (0.011, 9), (0.03, 9), (0.05, 8), (0.1, 8), (0.3, 7), (0.5, 6), (1, 6), (3, 5), (8, 4),
    (10, 4), (16, 3), (33, 2), (50, 1), (50.1, 0), (100, 0),
]  # fmt: skip


@pytest.mark.parametrize(("percent", "grade"), D610)
def test_d610_grade(percent: float, grade: int) -> None:
    assert d610_grade(percent) == grade


@pytest.mark.parametrize(
    ("upper", "grade"),
    [(0.01, 10), (0.03, 9), (0.1, 8), (0.3, 7), (1, 6), (3, 5), (10, 4), (16, 3), (33, 2), (50, 1)],
)
def test_upper_bounds_are_inside_and_the_next_grade_begins_right_above(upper: float, grade: int) -> None:
    """V2: 'p <= upper' in every row."""
    assert d610_grade(upper) == grade
    assert d610_grade(upper * (1 + 1e-9)) == grade - 1


@pytest.mark.parametrize(("spread", "letter"), [("spot", "S"), ("general", "G"), ("pinpoint", "P"), ("hybrid", "H")])
def test_the_letter_of_the_distribution(spread: str, letter: str) -> None:
    """V2: same copy of ASTM D610; grades 9 to 1 carry a letter, written as 6-S, grades 10 and 0 carry none."""
    kind = Spread[spread.upper()]
    assert f"6-{letter}" in rusted(0.5, spread=kind).said
    assert f"9-{letter}" in rusted(0.02, spread=kind).said
    assert f"1-{letter}" in rusted(45, spread=kind).said
    for percent in (0.005, 60):
        assert f"-{letter}" not in rusted(percent, spread=kind).said


# V2: a public secondary table; percent of the picture, D610 by the 2008 ranges, European scale
ISO = [
    ("Ri 0", 0, 10, "Re 0"),
    ("Ri 1", 0.05, 8, "Re 1"),
    ("Ri 2", 0.5, 6, "Re 2"),
    ("Ri 3", 1, 6, "Re 3"),
    ("Ri 4", 8, 4, "Re 5"),
    ("Ri 5", 45, 1, "Re 7"),
]


@pytest.mark.parametrize(("name", "percent", "grade", "european"), ISO)
def test_iso_pictures(name: str, percent: float, grade: int, european: str) -> None:
    picture = nearest_picture(percent)
    assert (picture.name, picture.european, d610_grade(percent)) == (name, european, grade)


@pytest.mark.parametrize(
    ("cut", "below", "above"),
    [(0.158, "Ri 1", "Ri 2"), (0.707, "Ri 2", "Ri 3"), (2.83, "Ri 3", "Ri 4"), (18.97, "Ri 4", "Ri 5")],
)
def test_nearest_picture_turns_at_the_geometric_mean(cut: float, below: str, above: str) -> None:
    """C: the cut points are the program's own convention, not the standard's; 45 % stands for 40 to 50 %."""
    assert nearest_picture(cut * 0.995).name == below
    assert nearest_picture(cut * 1.005).name == above
    pairs = {sqrt(low.percent * high.percent) for low, high in pairwise(PICTURES[1:])}
    assert any(abs(pair - cut) / cut < 0.004 for pair in pairs)


def test_it_cites_the_edition_it_knows_and_owns_its_convention() -> None:
    worked = rusted(1)
    told = " ".join([worked.said, worked.source, *worked.cautions])
    assert "ISO 4628-3:2016" in told
    assert "edition of 2024" in told
    assert "this program's own convention" in told
    assert "not the car" in told


def test_a_mil_is_25_4_micrometres() -> None:
    """V2, C: exactly."""
    assert change(1, "mil", "µm") == 25.4
    assert change(25.4, "µm", "mil") == pytest.approx(1, rel=1e-15)


@pytest.mark.parametrize(("mil", "um"), [(3.1, 80), (5.9, 150), (2.5, 64), (3, 76)])
def test_published_pairs_of_mil_and_micrometres(mil: float, um: float) -> None:
    """V2: pairs as printed on pages about gauges (80 to 150 µm is 3.1 to 5.9 mil; 2.5 to 3 mil is 64 to 76 µm)."""
    assert change(mil, "mil", "µm") == pytest.approx(um, abs=1.5)


def test_a_spot_wants_three_readings() -> None:
    """V2: SSPC-PA 2, section 3: the mean of at least three readings."""
    assert "SSPC-PA 2" in film({"hood": [120, 121]}).cautions[0]
    assert "too few" not in " ".join(film({"hood": [120, 121, 122]}).cautions)
    (one,) = panels({"hood": [33, 18, 15, 48]})  # V2: one published set of layers, 33 + 18 + 15 + 48 = 114
    assert one.mean_um * 4 == 114
