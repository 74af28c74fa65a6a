"""The camera's projection against sums done by hand, and the plain car's landmarks."""

from __future__ import annotations

from math import isclose

import pytest

from lapseam.domain.condition import Condition
from lapseam.domain.plain_car import PROPORTIONS, BodyForm, fitted, form_for
from lapseam.domain.pose import field_deg, holding, in_frame, look_at, project
from lapseam.domain.space import Box, Place, bearing_of, box, towards

EYE = Place(10.0, 0.0, 1.0)
AHEAD_OF_THE_NOSE = look_at(EYE, Place(0.0, 0.0, 1.0), (50.0, 100.0))


@pytest.mark.parametrize(
    ("lens_mm", "across", "tall"),
    [(18, 90.0, 67.38), (24, 73.74, 53.13), (50, 39.60, 26.99), (85, 23.91, 16.07)],
)
def test_a_lens_sees_what_the_full_frame_gives_it(lens_mm: float, across: float, tall: float) -> None:
    assert field_deg(lens_mm) == pytest.approx((across, tall), abs=0.01)


def test_the_cars_left_falls_right_in_a_picture_taken_from_ahead() -> None:
    # At 10 m a 50 mm lens covers 36/50 · 10 = 7.2 m across and 4.8 m up and down.
    assert project(AHEAD_OF_THE_NOSE, Place(0.0, 0.0, 1.0)) == pytest.approx((0.5, 0.5))
    assert project(AHEAD_OF_THE_NOSE, Place(0.0, 3.6, 1.0)) == pytest.approx((1.0, 0.5))
    assert project(AHEAD_OF_THE_NOSE, Place(0.0, -1.8, 1.0)) == pytest.approx((0.25, 0.5))
    assert project(AHEAD_OF_THE_NOSE, Place(0.0, 0.0, 3.4)) == pytest.approx((0.5, 0.0))


def test_the_long_end_sees_half_as_much() -> None:
    beside = Place(0.0, 2.0, 1.0)
    assert in_frame(AHEAD_OF_THE_NOSE, beside)
    assert not in_frame(AHEAD_OF_THE_NOSE, beside, 100.0)


def test_nothing_is_seen_behind_the_lens() -> None:
    assert project(AHEAD_OF_THE_NOSE, Place(11.0, 0.0, 1.0)) is None
    assert project(AHEAD_OF_THE_NOSE, EYE) is None


@pytest.mark.parametrize("aim", [Place(0, 0, -5), Place(0, 0, 5), Place(3, -2, 1)])
def test_a_pose_is_square_whichever_way_it_looks(aim: Place) -> None:
    pose = look_at(Place(0, 0, 0), aim, (35, 35))
    for one, other in ((pose.ahead, pose.right), (pose.right, pose.up), (pose.up, pose.ahead)):
        assert isclose(one.dot(other), 0.0, abs_tol=1e-9)
    assert all(isclose(way.length(), 1.0) for way in (pose.ahead, pose.right, pose.up))


def test_holding_turns_until_all_are_round_the_middle_or_says_none() -> None:
    wheels = (Place(1.4, 0.9, 0.3), Place(-1.4, 0.9, 0.3))
    pose = holding(Place(2.0, 5.0, 1.0), wheels, (35, 50))
    assert pose is not None
    left, right = (project(pose, wheel) for wheel in wheels)
    assert left
    assert right
    assert left[0] + right[0] == pytest.approx(1.0, abs=0.02)
    assert holding(Place(1.4, 1.4, 0.3), wheels, (85, 100)) is None


@pytest.mark.parametrize(("bearing", "x", "y"), [(0, 1, 0), (90, 0, -1), (180, -1, 0), (270, 0, 1)])
def test_bearings_run_clockwise_from_the_nose(bearing: float, x: float, y: float) -> None:
    way = towards(bearing)
    assert (way.x, way.y) == pytest.approx((x, y), abs=1e-9)
    assert bearing_of(way) == pytest.approx(bearing)


def test_a_boxs_distance_is_to_its_nearest_point() -> None:
    part = box((0, 2), (-1, 1), (0, 1))
    assert part.distance(Place(5, 5, 1)) == pytest.approx(5.0)
    assert part.distance(Place(1, 0, 0.5)) == 0.0
    assert part.mirrored() == part
    assert part.raised(1.5).centre.z == pytest.approx(2.0)


@pytest.mark.parametrize("form", list(BodyForm))
def test_landmarks_of_the_closed_car_land_on_those_of_each_form(form: BodyForm) -> None:
    told, own = PROPORTIONS[BodyForm.CLOSED], PROPORTIONS[form]
    placed = fitted(told.bounds(), form)
    assert (placed.low.x, placed.high.x, placed.high.y, placed.high.z) == pytest.approx(
        (own.tail, own.nose, own.half_width, own.roof)
    )
    axle = Place(told.front_axle, 0, 0)
    assert fitted(Box(axle, axle), form).centre.x == pytest.approx(own.front_axle)


@pytest.mark.parametrize(
    ("applies", "facts", "form"),
    [
        (None, {}, BodyForm.CLOSED),
        ("true", {}, BodyForm.CLOSED),
        ("body in ['convertible', 'roadster']", {}, BodyForm.OPEN),
        ("body == 'motorcycle'", {}, BodyForm.MOTORCYCLE),
        ("body != 'motorcycle' and lift", {}, BodyForm.CLOSED),
        ("skin == 'composite'", {"body": "pickup"}, BodyForm.PICKUP),
        ("body in ['wagon', 'van']", {}, BodyForm.WAGON),
    ],
)
def test_a_plan_is_drawn_on_the_body_it_is_for(applies: str | None, facts: dict[str, str], form: BodyForm) -> None:
    assert form_for(Condition(applies) if applies else None, facts) is form
