"""Rust grades and film thickness describe; they never judge a car nor say why."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lapseam.domain.errors import Mistake
from lapseam.domain.measure.catalogue import film_readings
from lapseam.domain.measure.film import Beside, film, panels
from lapseam.domain.measure.rust import Spread, d610_grade, nearest_picture, read_percent, rusted
from lapseam.domain.measure.worked import Worked

READINGS = st.lists(st.floats(0, 5000, allow_nan=False), min_size=1, max_size=8)
PANELS = st.dictionaries(st.sampled_from(["hood", "roof", "left door", "trunk lid"]), READINGS, min_size=1)


def told(worked: Worked) -> str:
    shown = (value.shown for value in worked.values)
    return " ".join([worked.said, *worked.working, *worked.cautions, *shown]).lower()


@given(st.floats(0, 100, allow_nan=False), st.floats(0, 100, allow_nan=False))
def test_more_rust_is_never_a_better_grade_nor_an_earlier_picture(one: float, other: float) -> None:
    low, high = sorted((one, other))
    assert d610_grade(low) >= d610_grade(high)
    assert nearest_picture(low).name <= nearest_picture(high).name


@given(st.floats(0, 100, allow_nan=False), st.floats(0, 100, allow_nan=False))
def test_the_uncertainty_holds_the_grade(percent: float, around: float) -> None:
    worked = rusted(percent, give_or_take=around)
    span = worked.amount("D610 grades within the uncertainty")
    assert isinstance(span, tuple)
    assert span[0] <= worked.amount("D610 grade") <= span[1]


@pytest.mark.parametrize(("percent", "written"), [(0.5, "6-S"), (0.001, "10"), (60, "0")])
def test_a_spread_is_written_behind_grades_9_to_1_only(percent: float, written: str) -> None:
    assert rusted(percent, spread=Spread.SPOT).value("D610 grade").shown == written


@pytest.mark.parametrize(("words", "percent"), [("3", 3), ("3 %", 3), ("0,3%", 0.3), ("1/2 %", 0.5), ("100", 100)])
def test_a_share_as_written(words: str, percent: float) -> None:
    assert read_percent(words) == percent


@pytest.mark.parametrize("words", ["1/3", "-1", "101 %", "3 mm", "", "lots", "🟤"])
def test_a_share_refused(words: str) -> None:
    with pytest.raises(Mistake):
        read_percent(words)


@pytest.mark.parametrize("percent", [-1.0, 100.1, float("nan"), float("inf")])
def test_no_grade_for_what_is_no_share(percent: float) -> None:
    with pytest.raises(Mistake):
        rusted(percent)


ACCUSING = re.compile(r"repaint|respray|re-spray|filler|accident|original paint|not original|bad|good paint|fake")


@given(PANELS)
def test_film_never_says_why(readings: dict[str, list[float]]) -> None:
    assert not ACCUSING.search(told(film(readings)))


def test_the_check_on_accusing_words_can_fail() -> None:
    assert ACCUSING.search("hood: repainted")


@given(PANELS)
def test_every_reading_is_kept_and_the_mean_lies_among_them(readings: dict[str, list[float]]) -> None:
    for one in panels(readings):
        assert list(one.readings_um) == readings[one.panel]
        assert min(one.readings_um) - 1e-9 <= one.mean_um <= max(one.readings_um) + 1e-9
        assert one.spread_um == max(one.readings_um) - min(one.readings_um)


@given(PANELS)
def test_thicker_means_above_every_reading_of_every_other_panel(readings: dict[str, list[float]]) -> None:
    for one in panels(readings):
        others = [um for name, read in readings.items() if name != one.panel for um in read]
        assert (one.beside is Beside.ALONE) is (not others)
        if others:
            assert (one.beside is Beside.THICKER) is (one.mean_um > max(others))
            assert (one.beside is Beside.THINNER) is (one.mean_um < min(others))


def test_one_panel_stands_apart() -> None:
    worked = film({"hood": [238, 241, 236], "roof": [118, 121, 115], "left door": [112, 119, 117]})
    assert worked.said == "hood is thicker than the other panels measured."
    assert worked.amount("hood: apart from the others") == pytest.approx(715 / 3 - 117)
    assert worked.value("hood: mean").shown == "238 µm (9.4 mil)"


def test_a_panel_alone_is_not_compared() -> None:
    worked = film({"hood": [120, 121, 122]})
    assert "alone was measured" in worked.said
    with pytest.raises(KeyError):
        worked.value("hood: apart from the others")


@pytest.mark.parametrize("readings", [{}, {"hood": []}, {"hood": [-1]}, {"hood": [6000]}, {"hood": [float("nan")]}])
def test_film_refused(readings: dict[str, list[float]]) -> None:
    with pytest.raises(Mistake):
        film(readings)


def test_readings_as_written() -> None:
    read = film_readings(["hood=118 121, 115 um", "roof=4,5 4.7 mil", "left door=120µm;122µm"])
    assert read["hood"] == (118, 121, 115)
    assert read["roof"] == pytest.approx((114.3, 119.38))
    assert read["left door"] == (120, 122)


@pytest.mark.parametrize(
    "words",
    ["hood=118 121", "hood=118,121,115 um", "hood=118 µm 4.7 mil", "118 121 um", "=118 um", "hood=", "hood=🚗 um"],
)
def test_readings_refused(words: str) -> None:
    with pytest.raises(Mistake):
        film(film_readings([words]))


def test_a_panel_named_twice_is_refused() -> None:
    with pytest.raises(Mistake, match="given twice"):
        film_readings(["hood=118 um", "hood=119 um"])
