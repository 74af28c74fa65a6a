"""The sketch on its sheet and as SVG: nothing leaves the sheet, words stand clear, text is escaped, sides are true."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import combinations
from xml.etree import ElementTree

import pytest

from lapseam.domain.drawing import CameraSign, Role, Word, hull, smooth
from lapseam.domain.framing import framing_of
from lapseam.domain.plain_car import BodyForm
from lapseam.domain.plan import Plan, Shot
from lapseam.domain.sketch import Side, Sketch, SketchWords, sketch_of
from lapseam.domain.sketch_layout import Placed, PlacedWord, lay_out
from lapseam.domain.sketch_svg import sketch_svg
from lapseam.places import shot_plans
from lapseam.plans import load_plan

SIZES = [(300.0, 150.0), (360.0, 210.0), (220.0, 300.0), (900.0, 420.0)]


@pytest.fixture(scope="module")
def full() -> Plan:
    return load_plan(shot_plans() / "hardtop-full.yaml")


def shot_of(plan: Plan, name: str) -> Shot:
    shot = plan.shot(name)
    assert shot is not None
    return shot


def sketch(plan: Plan, name: str, form: BodyForm = BodyForm.CLOSED) -> Sketch:
    return sketch_of(framing_of(shot_of(plan, name), form))


def overlap(one: PlacedWord, other: PlacedWord) -> bool:
    apart = one.x + one.width <= other.x or other.x + other.width <= one.x
    return not apart and abs(one.baseline - other.baseline) < 0.8 * one.size


def out_of(placed: Placed) -> list[str]:
    points = [(point, path.role) for path in placed.paths for point in path.points()]
    strays = [
        role.value for (x, y), role in points if not (-1 <= x <= placed.width + 1 and -1 <= y <= placed.height + 1)
    ]
    words = (
        word.text
        for word in placed.words
        if word.x < 0 or word.x + word.width > placed.width + 1 or word.baseline > placed.height - 0.2 * word.size
    )
    return [*strays, *words]


@pytest.mark.parametrize(("width", "height"), SIZES)
def test_nothing_leaves_the_sheet_and_no_word_stands_on_another(full: Plan, width: float, height: float) -> None:
    for shot in full.shots:
        placed = lay_out(sketch_of(framing_of(shot)), width, height)
        assert out_of(placed) == [], shot.id
        for one, other in combinations(placed.words, 2):
            assert not overlap(one, other), (shot.id, one.text, other.text)


def test_larger_words_ask_for_room_and_get_it(full: Plan) -> None:
    placed = lay_out(sketch(full, "ext-front-left"), 600, 400, words_size=24)
    assert placed.unit == 2.0
    assert {word.size for word in placed.words} == {24}
    assert out_of(placed) == []


def test_from_above_the_nose_is_left_and_the_cars_left_is_below(full: Plan) -> None:
    above = sketch(full, "ext-front-left").views[0]
    camera = next(shape for shape in above.shapes if isinstance(shape, CameraSign))
    front = next(shape for shape in above.shapes if isinstance(shape, Word) and shape.text == "front")
    assert above.side is Side.ABOVE
    assert front.at[0] < -2.0
    assert camera.at[0] < -2.4
    assert camera.at[1] < -0.9, "a camera at 320 degrees stands off the car's left, which is below the nose"
    assert camera.way[0] > 0 < camera.way[1]


@pytest.mark.parametrize(
    ("shot", "side"),
    [
        ("ext-left-profile", Side.BEHIND),
        ("ext-right-rocker", Side.BEHIND),
        ("ext-front", Side.LEFT),
        ("ext-front-left", Side.LEFT),
        ("under-oil-pan", Side.LEFT),
        ("doc-title", Side.TABLE_SIDE),
    ],
)
def test_the_second_view_is_the_one_that_shows_the_distance(full: Plan, shot: str, side: Side) -> None:
    assert sketch(full, shot).views[1].side is side


def test_from_behind_the_cars_left_is_left(full: Plan) -> None:
    for shot, sign in (("ext-left-rocker", -1), ("ext-right-rocker", 1)):
        view = sketch(full, shot).views[1]
        camera = next(shape for shape in view.shapes if isinstance(shape, CameraSign))
        word = next(shape for shape in view.shapes if isinstance(shape, Word) and shape.text == "left")
        assert word.at[0] < 0
        assert camera.at[0] * sign > 0.9


def test_the_long_end_draws_a_narrower_cone_inside_the_wide_one(full: Plan) -> None:
    roles = [shape.role for shape in sketch(full, "ext-front").views[0].shapes if not isinstance(shape, CameraSign)]
    assert roles.count(Role.WIDE) == roles.count(Role.LONG) == 1
    camera = replace(shot_of(full, "ext-front").camera, lens_mm=(85, 85))
    one = sketch_of(framing_of(replace(shot_of(full, "ext-front"), camera=camera)))
    assert Role.LONG not in {shape.role for shape in one.views[0].shapes if not isinstance(shape, CameraSign)}


def test_the_svg_is_plain_and_well_formed_for_every_shot(full: Plan) -> None:
    for shot in full.shots:
        text = sketch_svg(sketch_of(framing_of(shot)), title=shot.title)
        root = ElementTree.fromstring(text)
        assert {part.tag.rpartition("}")[2] for part in root.iter()} <= {"svg", "title", "path", "text"}
        assert not re.search(r"nan|inf|style=|<script|href|url\(", text)
        assert root.attrib["role"] == "img"


def test_the_svg_escapes_every_word(full: Plan) -> None:
    shot = shot_of(full, "dash-cluster")
    hostile = "</text><script>'\"&"
    spot = replace(shot.camera, spot=hostile)
    words = SketchWords(front=hostile, metres=hostile)
    drawn = sketch_of(framing_of(replace(shot, camera=spot)), words)
    text = sketch_svg(drawn, title=hostile, font='x" onload="y')
    root = ElementTree.fromstring(text)
    assert "<script" not in text
    assert "onload" not in root.attrib
    assert hostile in [part.text for part in root.iter()]


def test_the_svg_takes_a_pages_own_colours_and_refuses_too_few(full: Plan) -> None:
    colours = {name: f"var(--{name})" for name in ("ink", "soft", "line", "signal", "sheet")}
    assert 'stroke="var(--signal)"' in sketch_svg(sketch(full, "ext-front"), colours)
    with pytest.raises(KeyError):
        sketch_svg(sketch(full, "ext-front"), {"ink": "#000"})


def test_a_spot_in_words_is_told_under_the_sketch_or_left_to_the_page(full: Plan) -> None:
    inside = sketch(full, "cold-start-dash")
    assert inside.note == "behind the driver's shoulder"
    assert "behind the driver&#x27;s shoulder" in sketch_svg(inside)
    assert "shoulder" not in sketch_svg(inside, note=False)
    long = replace(inside, note="word " * 80)
    lines = [word.text for word in lay_out(long, 300, 200).words if word.line]
    assert len(lines) == 2
    assert lines[1].endswith("…")


@pytest.mark.parametrize("form", list(BodyForm))
def test_each_body_form_has_its_own_lines(full: Plan, form: BodyForm) -> None:
    drawn = {other: sketch(full, "ext-front-left", other).views for other in BodyForm}
    assert [other for other, views in drawn.items() if views == drawn[form]] == [form]


def test_a_hull_holds_its_points_and_a_smooth_line_passes_through_them() -> None:
    square = ((0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (0.0, 2.0))
    assert set(hull([*square, (1.0, 1.0), (1.0, 0.0)])) == set(square)
    assert [step.points[-1] for step in smooth(Role.FINE, square).steps] == list(square)
