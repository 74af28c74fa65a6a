"""Each shot of every plan that ships: its components fall in frame, from the side it says, and no two look alike."""

from __future__ import annotations

from math import cos, radians
from pathlib import Path

import pytest

from lapseam.domain.component_places import PLACED, places_of
from lapseam.domain.framing import Framing, Setting, framing_of
from lapseam.domain.plain_car import PROPORTIONS, BodyForm, form_for
from lapseam.domain.plan import Plan, Shot
from lapseam.domain.pose import in_frame
from lapseam.domain.sketch import View, sketch_of
from lapseam.domain.space import Place, towards
from lapseam.domain.stand_pose import WHOLE_CAR_M
from lapseam.places import shot_plans
from lapseam.plans import load_plan, load_vocabulary

PLANS = sorted(shot_plans().glob("*.yaml"))
OPEN_PANELS = {"hood-underside", "trunk-lid-inner"}
BED = {
    "bed-floor", "bed-front-panel", "bed-sides", "tailgate", "bed-cross-sills",
    "left-cab-corner", "right-cab-corner", "cab-mounts", "cab-steps",
}  # fmt: skip
CYCLE = {name for name in PLACED if name.startswith("mc-")}
NOWHERE_ELSE = BED | CYCLE
ONLY_ON = {BodyForm.PICKUP: CYCLE}
WAYS = {
    "forward": Place(1, 0, 0),
    "rearward": Place(-1, 0, 0),
    "up": Place(0, 0, 1),
    "down": Place(0, 0, -1),
    "left": Place(0, 1, 0),
    "right": Place(0, -1, 0),
}


@pytest.fixture(scope="module", params=PLANS, ids=lambda path: path.stem)
def plan(request: pytest.FixtureRequest) -> Plan:
    path: Path = request.param
    return load_plan(path)


@pytest.fixture(scope="module")
def framings(plan: Plan) -> tuple[Framing, ...]:
    """Every shot of the plan, on the body the plan is for."""
    form = form_for(plan.applies)
    return tuple(framing_of(shot, form) for shot in plan.shots)


def test_every_component_of_the_vocabulary_has_a_place_and_no_place_lacks_its_component() -> None:
    assert set(load_vocabulary(shot_plans() / "vocabulary").components()) == PLACED


@pytest.mark.parametrize("form", [form for form in BodyForm if form is not BodyForm.MOTORCYCLE])
def test_every_place_lies_on_the_car(form: BodyForm) -> None:
    size = PROPORTIONS[form]
    for name in PLACED - ONLY_ON.get(form, NOWHERE_ELSE) - OPEN_PANELS:
        for part in places_of(name, form):
            assert size.tail - 0.1 <= part.centre.x <= size.nose + 0.1, name
            assert abs(part.centre.y) <= size.half_width + 0.15, name
            assert -0.01 <= part.centre.z <= size.roof + 0.1, name


@pytest.mark.parametrize(
    ("component", "ahead", "left"),
    [
        ("front-bumper", True, None),
        ("rear-lamps", False, True),
        ("left-front-wheel", True, True),
        ("right-rear-well", False, False),
        ("instrument-cluster", True, True),
        ("spring-hangers", False, True),
        ("left-quarter", False, True),
        ("right-rocker", None, False),
    ],
)
def test_places_are_where_the_trade_says(component: str, ahead: bool | None, left: bool | None) -> None:
    middle = places_of(component, BodyForm.CLOSED)[0].centre
    assert ahead is None or (middle.x > 0.4) is ahead
    assert (abs(middle.y) < 0.01) if left is None else (middle.y > 0.2 if left else middle.y < -0.2)


def test_each_component_of_each_shot_falls_in_frame(framings: tuple[Framing, ...]) -> None:
    for framing in framings:
        held = set()
        for stand in framing.stands:
            for target in stand.targets:
                assert in_frame(stand.pose, target.box.centre), (framing.shot.id, target.component)
                held.add(target.component)
        assert held == set(framing.shot.components), framing.shot.id


def test_cameras_are_as_far_and_as_high_as_the_plan_says(framings: tuple[Framing, ...]) -> None:
    for framing in framings:
        camera, main = framing.shot.camera, framing.stands[0]
        if camera.bearing_deg is None or camera.distance_m is None or camera.height_m is None:
            continue
        nearest = min(target.box.distance(main.pose.eye) for target in main.targets)
        assert nearest >= camera.distance_m - 0.2, framing.shot.id
        drop = abs(main.targets[0].box.centre.z - camera.height_m)
        assert nearest <= camera.distance_m + drop + 0.05, framing.shot.id


def test_the_main_camera_stands_on_the_bearing_or_its_mirror(framings: tuple[Framing, ...]) -> None:
    for framing in framings:
        camera = framing.shot.camera
        if camera.bearing_deg is None or (camera.distance_m or 0) < WHOLE_CAR_M:
            continue
        told, eye = towards(camera.bearing_deg), framing.stands[0].pose.eye
        level = Place(eye.x, eye.y, 0).unit()
        assert told.dot(level) > cos(radians(25)), framing.shot.id


def test_a_shot_of_one_side_is_taken_from_that_side(framings: tuple[Framing, ...]) -> None:
    for framing in framings:
        shot = framing.shot
        if shot.camera.at not in ("outside", "doorway") or shot.camera.bearing_deg is None:
            continue
        for stand in framing.stands:
            for side, sign in (("left-", 1), ("right-", -1)):
                if all(target.component.startswith(side) for target in stand.targets):
                    assert stand.pose.eye.y * sign > 0, (shot.id, stand.targets[0].component)


def test_the_lens_points_the_way_the_plan_says(framings: tuple[Framing, ...]) -> None:
    for framing in framings:
        look = framing.shot.camera.look
        if not look or framing.setting is Setting.TABLE or {"inward", "outward"} & set(look.split("-")):
            continue
        way = sum((WAYS[word] for word in look.split("-")), Place(0, 0, 0)).unit()
        assert framing.stands[0].pose.ahead.dot(way) > cos(radians(66)), framing.shot.id


def test_a_camera_outside_never_stands_in_the_sheet_metal(framings: tuple[Framing, ...]) -> None:
    for framing in framings:
        if framing.shot.camera.at not in ("outside", "ladder") or framing.form is BodyForm.MOTORCYCLE:
            continue
        size = PROPORTIONS[framing.form]
        for stand in framing.stands:
            eye = stand.pose.eye
            inside = size.tail < eye.x < size.nose and abs(eye.y) < size.half_width
            assert not inside or eye.z - framing.raised_m > size.belt, (framing.shot.id, stand.targets[0].component)


def test_under_the_lift_the_camera_is_below_the_floor_and_never_in_the_ground(framings: tuple[Framing, ...]) -> None:
    for framing in framings:
        for stand in framing.stands:
            assert stand.pose.eye.z > 0, framing.shot.id
        if framing.shot.camera.at == "lift":
            floor = framing.raised_m + PROPORTIONS[framing.form].floor
            assert framing.raised_m >= 1.0
            assert framing.stands[0].pose.eye.z < floor + 0.1, framing.shot.id


def test_no_two_shots_of_a_plan_draw_alike(framings: tuple[Framing, ...]) -> None:
    drawn: dict[tuple[View, View], str] = {}
    for framing in framings:
        views = sketch_of(framing).views
        assert views not in drawn, (framing.shot.id, drawn.get(views))
        drawn[views] = framing.shot.id


def test_a_right_hand_drive_car_has_its_driver_on_the_right() -> None:
    full = load_plan(shot_plans() / "hardtop-full.yaml")
    shot = full.shot("dash-cluster")
    assert isinstance(shot, Shot)
    left, right = (framing_of(shot, driver_left=side).stands[0].pose.eye for side in (True, False))
    assert left.y > 0.2
    assert right.y == pytest.approx(-left.y)


def test_a_component_that_no_table_names_is_taken_for_the_whole_car() -> None:
    assert places_of("house-own-part", BodyForm.WAGON) == (PROPORTIONS[BodyForm.WAGON].bounds(),)
