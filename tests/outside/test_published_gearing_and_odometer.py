"""Turn counts, engine speed, displacement and the odometer exemption against published figures.

Marks: V1 read in the primary text, V2 in a secondary source, C computed from the formula shown, M from memory.
"""

from __future__ import annotations

from typing import Any

import pytest

from lapseam.domain.errors import Mistake
from lapseam.domain.measure import gearing
from lapseam.domain.measure.gearing import Turning
from lapseam.domain.measure.odometer import Status, exempt_by_age, odometer
from lapseam.domain.units import change


@pytest.mark.parametrize(
    ("shaft", "wheel", "turning", "ratio"),
    [
        (20, 12, Turning.ONE_HELD, 3.333),  # V2: an owners' forum, 20 shaft and 12 wheel turns
        (3.25, 1, Turning.BOTH, 3.25),  # V2: a workshop manual, both wheels together
        (3.73, 2, Turning.ONE_HELD, 3.73),  # V2: two wheel turns with one held, the count is the ratio
        (4.10, 1, Turning.BOTH, 4.10),  # V2
    ],
)
def test_axle_ratio(shaft: float, wheel: float, turning: Turning, ratio: float) -> None:
    assert gearing.axle_ratio(shaft, wheel, turning).amount("ratio") == pytest.approx(ratio, abs=0.0005)


def test_both_wheels_free_means_nothing() -> None:
    """C, M: the far wheel may turn backwards."""
    with pytest.raises(Mistake, match="means nothing"):
        gearing.axle_ratio(3.5, 1, Turning.FREE)


@pytest.mark.parametrize(
    ("wheel", "turning", "band"),
    [(1, Turning.BOTH, 0.12), (10, Turning.BOTH, 0.01), (10, Turning.ONE_HELD, 0.03), (20, Turning.ONE_HELD, 0.01)],
)
def test_the_error_band_of_an_eighth_turn(wheel: float, turning: Turning, band: float) -> None:
    """C: counting to an eighth over one turn gives up to 0.12, over ten 0.01 to 0.03."""
    assert gearing.axle_ratio(3.5 * wheel, wheel, turning).amount("give or take") == pytest.approx(band, abs=0.0051)


# C: teeth and ratio of real gear sets
SETS = [
    (43, 14, 3.0714), (40, 13, 3.0769), (42, 13, 3.2308), (39, 12, 3.25), (37, 11, 3.3636), (39, 11, 3.5455),
    (41, 11, 3.7273), (45, 11, 4.0909), (41, 10, 4.10),
]  # fmt: skip


@pytest.mark.parametrize(("ring", "pinion", "ratio"), SETS)
def test_gear_sets(ring: int, pinion: int, ratio: float) -> None:
    assert (ring, pinion) in gearing.GEAR_SETS
    assert ring / pinion == pytest.approx(ratio, abs=0.00005)
    inside: Any = gearing.axle_ratio(ratio * 40, 40, Turning.BOTH).amount("gear sets within")
    assert (ring, pinion) in inside


def test_two_sets_within_the_band_are_both_named() -> None:
    inside: Any = gearing.axle_ratio(3.07, 1, Turning.BOTH).amount("gear sets within")
    assert {(43, 14), (40, 13)} <= set(inside)


def test_the_constant() -> None:
    """V2, C: 63 360 / (60 π) = 336.1352; metric, 5305.165 with km/h and mm."""
    assert pytest.approx(336.1352, abs=0.00005) == gearing.MPH_INCH
    assert gearing.MPH_INCH / change(1, "mi", "km") * 25.4 == pytest.approx(5305.165, abs=0.001)


@pytest.mark.parametrize(
    ("mph", "ratio", "inches", "rpm", "with_336"),
    [
        (65, 3.73, 25.30, 3221.2, 3219.9),
        (55, 3.07, 25.85, 2195.6, 2194.7),
        (60, 3.25, 27.03, 2424.9, 2424.0),
        (70, 0.70 * 3.08, 28, 1811.8, 1811.0),  # a web page prints 1810 from a wrong product
    ],
)
def test_engine_speed(mph: float, ratio: float, inches: float, rpm: float, with_336: float) -> None:
    """C, the formula V2; with the rounded 336 it is 0.04 % less."""
    exact: Any = gearing.engine_speed(mph, ratio, inches * 25.4).amount("engine speed")
    assert exact == pytest.approx(rpm, abs=0.06)
    assert exact * 336 / gearing.MPH_INCH == pytest.approx(with_336, abs=0.06)


def test_an_overdrive_is_the_gear_ratio() -> None:
    assert gearing.engine_speed(70, 3.08, 28 * 25.4, gear=0.7).amount("engine speed") == pytest.approx(1811.8, abs=0.06)


# dimensions M, volumes C: badge, bore in, stroke in, cubic inches, cm3
ENGINES = [
    (426, 4.25, 3.75, 425.59, 6974), (350, 4.00, 3.48, 349.85, 5733), (327, 4.00, 3.25, 326.73, 5354),
    (302, 4.00, 3.00, 301.59, 4942), (289, 4.00, 2.87, 288.52, 4728), (400, 4.12, 3.75, 399.95, 6554),
    (440, 4.32, 3.75, 439.72, 7206), (454, 4.251, 4.00, 454.17, 7442), (455, 4.15, 4.21, 455.57, 7466),
]  # fmt: skip


@pytest.mark.parametrize(("badge", "bore", "stroke", "cubic", "cm3"), ENGINES)
def test_displacement(badge: int, bore: float, stroke: float, cubic: float, cm3: float) -> None:
    worked: Any = gearing.displacement(bore * 25.4, stroke * 25.4, 8)
    assert worked.amount("cubic inches") == pytest.approx(cubic, abs=0.006)
    assert worked.amount("cubic centimetres") == pytest.approx(cm3, abs=0.6)
    assert abs(worked.amount("cubic inches") - badge) < 1
    assert "A badge is a name" in worked.cautions[0]


def test_litres_and_cubic_inches() -> None:
    """C: 1 in³ = 16.387064 cm³; 1 L = 61.0237 in³; 7.0 L = 427.17 in³. One page prints 54.4 for inches."""
    assert change(1, "in³", "cm³") == pytest.approx(16.387064, rel=1e-15) == 2.54**3
    assert change(1, "L", "in³") == pytest.approx(61.0237, abs=0.00005)
    assert change(7, "L", "in³") == pytest.approx(427.17, abs=0.005)
    assert change(1, "in", "mm") == 25.4


@pytest.mark.parametrize(
    ("model", "transfer", "exempt"),
    [
        (2010, 2019, False),
        (2010, 2020, True),  # V1: the regulation's own example
        (1969, 2026, True),
        (2011, 2026, False),
        (2011, 2030, False),
        (2011, 2031, True),  # V1: the regulation's own example
        (2015, 2034, False),
        (2015, 2035, True),
    ],
)
def test_exempt_by_age(model: int, transfer: int, exempt: bool) -> None:
    """V1: 49 CFR 580.17(a), C."""
    assert exempt_by_age(model, transfer) is exempt


def test_the_five_words_for_a_reading() -> None:
    """V1: the choices of 49 CFR 580.5 as a seller's statements, and that nothing is claimed."""
    assert [status.value for status in Status] == [
        "shown on odometer; accuracy not claimed",
        "seller states actual",
        "seller states exceeds limits",
        "seller states not actual",
        "unknown",
    ]


def test_a_five_figure_counter_turns_over_at_99_999() -> None:
    """C."""
    worked = odometer("12345", unit="mi", wheels=5)
    assert worked.amount("most it can show") == 99_999
    assert worked.amount("may stand for") == (12_345, 112_345, 212_345)


def test_tenths_are_no_part_of_the_statement() -> None:
    """V1: 49 CFR 580.5: the reading is disclosed without tenths of a mile."""
    assert "48 213 mi" in odometer("48213.9", unit="mi", wheels=5).said


def test_a_tenth_wheel_is_none_of_the_counter() -> None:
    """C: a counter of five wheels shows at most 99 999, one of six 999 999."""
    assert odometer("12345", unit="mi", wheels=6).amount("most it can show") == 999_999


@pytest.mark.parametrize(("mph", "ratio", "inches", "rpm"), [(65, 3.73, 25.30, 3221.2), (60, 3.25, 27.03, 2424.9)])
def test_engine_speed_in_metric_is_the_same(mph: float, ratio: float, inches: float, rpm: float) -> None:
    """V2, C: rpm = km/h x ratio x 5305.165 / d_mm."""
    kmh, diameter_mm = change(mph, "mph", "km/h"), inches * 25.4
    assert kmh * ratio * 5305.165 / diameter_mm == pytest.approx(rpm, abs=0.06)
    assert gearing.engine_speed(mph, ratio, diameter_mm).amount("engine speed") == pytest.approx(rpm, abs=0.06)
