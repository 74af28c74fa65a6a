"""Gearing, odometer and units: round trips, bounds, and what is said beside the figures."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lapseam.domain import units as sizes
from lapseam.domain.errors import Mistake
from lapseam.domain.measure.gearing import Turning, axle_ratio, displacement, engine_speed, road_speed
from lapseam.domain.measure.odometer import Status, exempt_by_age, exemption, odometer, read_odometer
from lapseam.domain.measure.units import convert
from lapseam.domain.measure.worked import both, either, grouped

AXLES, TYRES, GEARS = st.floats(0.5, 20), st.floats(250, 1600), st.floats(0.1, 20)


@given(st.floats(1, 500), AXLES, TYRES, GEARS)
def test_road_speed_undoes_engine_speed(mph: float, axle: float, tyre: float, gear: float) -> None:
    rpm = engine_speed(mph, axle, tyre, gear=gear).amount("engine speed")
    assert isinstance(rpm, float)
    if rpm <= 20_000:
        assert road_speed(rpm, axle, tyre, gear=gear).amount("road speed") == pytest.approx(mph)


@given(st.floats(2, 6), st.integers(1, 50))
def test_holding_one_wheel_halves_the_count_and_gives_the_same_ratio(ratio: float, turns: int) -> None:
    together = axle_ratio(ratio * turns, turns, Turning.BOTH)
    held = axle_ratio(ratio * turns / 2, turns, Turning.ONE_HELD)
    assert together.amount("ratio") == pytest.approx(ratio)
    assert held.amount("ratio") == pytest.approx(ratio)
    band, wider = together.amount("give or take"), held.amount("give or take")
    assert isinstance(band, float)
    assert wider == pytest.approx(2 * band)


def test_no_gear_set_is_named_where_none_lies_within() -> None:
    assert axle_ratio(20, 12, Turning.ONE_HELD).amount("gear sets within") == ()


def test_which_case_it_was_is_said() -> None:
    assert "One wheel held" in axle_ratio(20, 12, Turning.ONE_HELD).working[0]
    assert "Both wheels turned together" in axle_ratio(20, 6, Turning.BOTH).working[0]


@pytest.mark.parametrize(("shaft", "wheel"), [(0, 1), (3, 0), (-3, 1), (3, -1), (1e9, 1), (float("nan"), 1)])
def test_absurd_counts_are_refused(shaft: float, wheel: float) -> None:
    with pytest.raises(Mistake):
        axle_ratio(shaft, wheel, Turning.BOTH)


@pytest.mark.parametrize(("bore", "stroke", "cylinders"), [(0, 88, 8), (101, -88, 8), (101, 88, 0), (4, 3.48, 8)])
def test_absurd_engines_are_refused(bore: float, stroke: float, cylinders: int) -> None:
    with pytest.raises(Mistake):
        displacement(bore, stroke, cylinders)


@pytest.mark.parametrize("absurd", [(600, 3.7, 640), (65, 0, 640), (65, 3.7, 0), (65, 3.7, float("inf"))])
def test_absurd_gearing_is_refused(absurd: tuple[float, float, float]) -> None:
    with pytest.raises(Mistake):
        engine_speed(*absurd)


@pytest.mark.parametrize(
    ("words", "reading", "tenths"),
    [("45123", 45123, False), ("45,123", 45123, False), ("45 123", 45123, False), ("045123", 45123, False),
     ("45123.6", 45123, True), ("45123,6", 45123, True), ("0", 0, False)],
)  # fmt: skip
def test_a_reading_as_written(words: str, reading: int, tenths: bool) -> None:
    assert read_odometer(words) == (reading, tenths)


@pytest.mark.parametrize("words", ["", "-5", "45123 mi", "1e5", "45123.65", "1/2", "99999999", "🚗", "about 45000"])
def test_a_reading_refused(words: str) -> None:
    with pytest.raises(Mistake):
        read_odometer(words)


@given(st.integers(0, 99_999), st.sampled_from(["mi", "km"]), st.sampled_from(Status))
def test_a_reading_is_no_distance(reading: int, unit: str, status: Status) -> None:
    worked = odometer(str(reading), unit=unit, wheels=5, status=status)
    assert worked.amount("reading") == reading
    may_be = worked.amount("may stand for")
    assert isinstance(may_be, tuple)
    assert [one % 100_000 for one in may_be] == [reading] * 3
    assert status.value in worked.said


def test_leading_noughts_are_kept_as_read() -> None:
    assert odometer("00123", unit="mi", wheels=5).amount("as read") == "00123"


def test_a_counter_cannot_show_more_than_it_has() -> None:
    with pytest.raises(Mistake, match="5 wheels cannot show 123 456"):
        odometer("123456", unit="mi", wheels=5)


def test_without_wheels_turning_over_is_open() -> None:
    assert "is open" in odometer("45123", unit="mi").cautions[0]


def test_actual_is_a_claim() -> None:
    told = odometer("45123", unit="mi", wheels=5, status=Status.ACTUAL).cautions
    assert any("the seller's claim" in words for words in told)


@given(st.integers(1885, 2099), st.integers(1885, 2098))
def test_exempt_once_is_exempt_for_good(model: int, transfer: int) -> None:
    assert exempt_by_age(model, transfer) <= exempt_by_age(model, transfer + 1)
    assert exemption(model, transfer).amount("exempt by age") is exempt_by_age(model, transfer)


def test_the_exemption_is_information() -> None:
    worked = exemption(1969, 2026)
    assert worked.said.startswith("For information")
    assert any("false" in words for words in worked.cautions)


PAIRS = [
    (one, other)
    for one, (kind, _) in sizes.SIZES.items()
    for other, (same, _) in sizes.SIZES.items()
    if kind == same and one != other
]


@given(st.floats(1e-3, 1e6), st.sampled_from(PAIRS))
def test_conversions_are_symmetric(amount: float, pair: tuple[str, str]) -> None:
    one, other = pair
    assert sizes.change(sizes.change(amount, one, other), other, one) == pytest.approx(amount, rel=1e-12)


@pytest.mark.parametrize("unit", [unit for unit in sizes.SIZES if sizes.other_unit(unit)])
def test_the_unit_beside_is_worked_with_the_same_sizes(unit: str) -> None:
    other = sizes.other_unit(unit)
    assert sizes.SIZES[unit][0] == sizes.SIZES[other][0]
    assert sizes.convert(7, unit) == sizes.change(7, unit, other)


def test_another_kind_cannot_be_changed_into() -> None:
    with pytest.raises(ValueError, match="length"):
        sizes.change(1, "in", "kg")


@pytest.mark.parametrize(
    ("words", "into", "amount"),
    [("5/32 in", "mm", 3.96875), ("1 mi", "km", 1.609344), ("1 lb", "kg", 0.45359237), ("28psi", "kPa", 193.053196)],
)
def test_convert(words: str, into: str, amount: float) -> None:
    assert convert(words, into=into).amount(into) == pytest.approx(amount, rel=1e-9)


@pytest.mark.parametrize("words", ["5", "5 %", "5 furlongs", "", "99999999999999 mm"])
def test_convert_refused(words: str) -> None:
    with pytest.raises(Mistake):
        convert(words)


def test_convert_refuses_another_kind() -> None:
    with pytest.raises(Mistake, match="cannot be turned into"):
        convert("5 in", into="kg")


@given(st.floats(-1e6, 1e6), st.sampled_from(list(sizes.SIZES)))
def test_conversion_never_shows_powers_of_ten(amount: float, unit: str) -> None:
    worked = convert(f"{amount:.6f} {unit}")
    assert not [value.shown for value in worked.values if "e" in value.shown.removesuffix("mile")]


def test_numbers_for_reading() -> None:
    assert grouped(63360) == "63 360"
    assert grouped(-0.001, 1) == "0.0"
    assert both(642.6, "mm") == "642.6 mm (25.30 in)"
    assert both(5, "%", 0) == "5 %"
    assert either([1979, 1989, 1999]) == "1979, 1989 or 1999"
    assert either(["one"]) == "one"
    assert either([]) == ""
