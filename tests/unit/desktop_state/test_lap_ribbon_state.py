"""The lap ribbon as a value, and where its segments lie."""

from __future__ import annotations

import subprocess
import sys
from itertools import pairwise

import pytest

from fakes import cars
from fakes.demo_walk import noted_car
from lapseam.desktop.ribbon import Cell, Ribbon, Segment, lap_ribbon
from lapseam.desktop.widgets.ribbon_layout import GAP, lay
from lapseam.domain.coverage import State, check
from lapseam.domain.decision import WaiverOf


def _cells(ribbon: Ribbon) -> dict[str, Cell]:
    return {cell.shot: cell for segment in ribbon.segments for cell in segment.cells}


def test_one_segment_a_zone_and_one_cell_a_shot():
    car = cars.car()
    ribbon = lap_ribbon(car.plan, check(car), "identity")
    assert [segment.zone for segment in ribbon.segments] == ["left-side", "under-front", "identity"]
    assert [len(segment.cells) for segment in ribbon.segments] == [3, 2, 1]
    assert ribbon.current == "identity"
    assert ribbon.open == 6
    assert ribbon.words == "6 shots open"


def test_a_complete_car_has_nothing_open():
    car = cars.complete()
    ribbon = lap_ribbon(car.plan, check(car))
    optional = {cell.shot for cell in _cells(ribbon).values() if cell.state is not State.COVERED}
    assert optional <= {"left-badge"}


def test_a_waived_gap_is_no_longer_open_but_keeps_its_state():
    car = cars.car([], cars.waived(WaiverOf.SHOT, "left-profile"))
    cell = _cells(lap_ribbon(car.plan, check(car)))["left-profile"]
    assert (cell.state, cell.waived) == (State.MISSED, True)
    assert cell.words.endswith("missed, waived")


def test_only_an_optional_gap_is_not_urgent():
    car = cars.car()
    urgent = {shot for shot, cell in _cells(lap_ribbon(car.plan, check(car))).items() if cell.urgent}
    assert urgent == {"left-profile", "left-rocker", "front-rails", "front-boxes", "vin-plate"}


def test_no_qt_is_needed():
    screens = "lapseam.desktop.screens.walk.closing, lapseam.desktop.screens.yard.state"
    code = f"import sys, {screens}; print('PySide6' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "False"


def _measure(text: str) -> float:
    return 6.6 * len(text) + 1


@pytest.mark.parametrize("width", [1024, 1248, 1600, 2500])
def test_no_label_of_the_full_plan_is_cut(width: int):
    car = noted_car()
    ribbon = lap_ribbon(car.plan, check(car))
    places = lay(ribbon, width, _measure)
    assert len(places) == len(ribbon.segments) == 20
    for place, segment in zip(places, ribbon.segments, strict=True):
        assert " ".join(place.lines) == segment.short
        assert max(_measure(line) for line in place.lines) <= place.width + 1
    assert places[-1].left + places[-1].width <= width


@pytest.mark.parametrize("width", [1024, 1248, 2500])
def test_cells_are_equally_wide_all_along(width: int):
    car = noted_car()
    ribbon = lap_ribbon(car.plan, check(car))
    places = lay(ribbon, width, _measure)
    assert len({round(place.cell, 6) for place in places}) == 1
    for place, segment in zip(places, ribbon.segments, strict=True):
        assert place.cell * len(segment.cells) <= place.width + 1


def test_in_a_strip_far_too_narrow_labels_are_cut_with_an_ellipsis_and_nothing_overlaps():
    segments = tuple(
        Segment(f"z{n}", f"A very long name {n}", f"Longname{n}", (Cell("s", "S", State.MISSED),) * 5)
        for n in range(10)
    )
    places = lay(Ribbon(segments), 300, _measure)
    assert all(place.lines[0].endswith("…") for place in places)
    for one, other in pairwise(places):
        assert one.left + one.width <= other.left
    assert places[-1].left + places[-1].width <= 300 + GAP


def test_an_empty_ribbon_has_no_places():
    assert lay(Ribbon(), 1000, _measure) == ()
    assert Ribbon().words == "No walk open"
