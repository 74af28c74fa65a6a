"""Every shipped plan walked as data: totals, ids, conditions, cautions, and a proof of each rust-prone place."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from lapseam.domain.plan import Need, Plan
from lapseam.domain.reach import Reached, reach, totals
from lapseam.places import shot_plans
from lapseam.plans import load_plan, load_vocabulary
from lapseam.plans.kept_ids import KEPT_IDS
from lapseam.plans.plan import read_plan
from lapseam.plans.reading import Reading

SHELF = shot_plans()
NAMES = sorted(path.stem for path in SHELF.glob("*.yaml"))

TOTALS = {
    # plan: (shots, required, conditional, optional)
    "hardtop-full": (122, 105, 14, 3),
    "convertible-full": (122 - 5 + 10, 109, 14, 4),
    "pickup-full": (122 - 7 + 10, 108, 14, 3),
    "wagon-full": (122 - 6 + 9, 104, 18, 3),
    "composite-full": (122 - 4 + 8, 108, 14, 4),
    "composite-convertible": (122 - 5 + 10 - 4 + 8, 112, 14, 5),
    "motorcycle-full": (31 + 4, 33, 2, 0),
    "quick-36": (36, 35, 1, 0),
    "quick-late": (36 + 5, 38, 3, 0),
    "handover": (22, 22, 0, 0),
    "buyer-asked": (12, 8, 0, 4),
    "rust-proof": (57 + 7, 55, 7, 2),
    "rust-proof-convertible": (58 + 7, 57, 6, 2),
    "rust-proof-pickup": (59 + 7, 58, 6, 2),
    "rust-proof-wagon": (58 + 7, 53, 10, 2),
    "rust-proof-composite": (55 + 6, 52, 7, 2),
}
"""By hand from the trade's lists: 122 shots, what each body drops and adds, the seven tests of the inside (six where a
magnet does not hold), 31 views of a motorcycle and four that it shares."""


@cache
def plan(name: str) -> Plan:
    return load_plan(SHELF / f"{name}.yaml")


def test_the_plans_that_ship_are_those_the_trade_names() -> None:
    assert set(TOTALS) == set(NAMES)
    assert len(NAMES) >= 11


@pytest.mark.parametrize("name", NAMES)
def test_a_plan_comes_to_what_the_trade_says(name: str) -> None:
    needs = [shot.need for shot in plan(name).shots]
    counted = (len(needs), *(needs.count(need) for need in (Need.REQUIRED, Need.CONDITIONAL, Need.OPTIONAL)))
    assert counted == TOTALS[name]


@pytest.mark.parametrize("name", NAMES)
def test_ids_are_unique_and_conditions_parse(name: str) -> None:
    shots = plan(name).shots
    assert len({shot.id for shot in shots}) == len(shots)
    for shot in shots:
        if shot.when is not None:
            assert set(shot.when.names()) <= set(plan(name).vocabulary.facts), shot.id


@pytest.mark.parametrize("name", NAMES)
def test_whoever_works_under_a_car_on_a_ladder_or_by_a_running_engine_is_cautioned(name: str) -> None:
    for shot in plan(name).shots:
        if shot.camera.at == "lift":
            assert "lift" in shot.cautions, shot.id
        if shot.camera.at == "ladder":
            assert "ladder" in shot.cautions, shot.id
        if "cold-start" in shot.components and shot.media == "video":
            assert "exhaust-gas" in shot.cautions, shot.id
        if shot.camera.at == "road":
            assert "road-test" in shot.cautions, shot.id


@pytest.mark.parametrize("name", NAMES)
def test_what_may_show_a_paper_a_stamp_or_a_plate_is_marked(name: str) -> None:
    for shot in plan(name).shots:
        if shot.zone == "documents":
            assert "paper" in shot.private, shot.id
        if shot.zone == "identity":
            assert "stamp" in shot.private, shot.id
        if {"front-bumper", "rear-bumper", "tailgate"} & set(shot.components) and shot.camera.at == "outside":
            assert "plate" in shot.private, shot.id


@pytest.mark.parametrize("name", [name for name in NAMES if name.startswith("rust-proof")])
def test_a_proof_of_rust_takes_every_rust_shot_of_its_base_in_shooting_order(name: str) -> None:
    base = {
        "rust-proof": "hardtop-full",
        "rust-proof-convertible": "convertible-full",
        "rust-proof-pickup": "pickup-full",
        "rust-proof-wagon": "wagon-full",
        "rust-proof-composite": "composite-full",
    }[name]
    wanted = [shot.id for shot in plan(base).shots if shot.rust]
    for setup in plan(name).setups:
        taken = [shot.id for shot in plan(name).shots if shot.setup == setup.id and shot.id in wanted]
        assert taken == [shot for shot in wanted if shot in taken], "shooting order is kept inside a setup"
    assert {shot.id for shot in plan(name).shots if not shot.id.startswith("rust-")} == set(wanted)
    assert all(shot.rust for shot in plan(name).shots)


CARS = {
    "hardtop-full": {"body": "sedan", "skin": "steel"},
    "convertible-full": {"body": "convertible", "skin": "steel"},
    "pickup-full": {"body": "pickup", "skin": "steel"},
    "wagon-full": {"body": "wagon", "skin": "steel"},
    "composite-full": {"body": "coupe", "skin": "composite"},
    "composite-convertible": {"body": "roadster", "skin": "composite"},
    "motorcycle-full": {"body": "motorcycle", "construction": "motorcycle-frame", "skin": "steel"},
}
CONSTRUCTIONS = (
    "unibody",
    "unibody-front-subframe",
    "perimeter-frame",
    "x-frame",
    "ladder-frame",
    "backbone-frame",
    "platform-pan",
    "coachbuilt-wood",
    "late-unibody",
)


@pytest.mark.parametrize("construction", CONSTRUCTIONS)
@pytest.mark.parametrize("name", CARS)
def test_a_full_plan_shows_every_part_and_proves_every_place_of_every_construction(
    name: str, construction: str
) -> None:
    found = reach(plan(name), {"construction": construction, **CARS[name]})
    shown = [part.id for part in found.not_shown() if part.zone != "handover"]
    assert shown == []
    assert [place.id for place in found.not_proved()] == []
    rusty = [one for one in found.components if one.component.rust and one.reached is not Reached.PROVED]
    skin = plan(name).vocabulary.words["skin_only_rust"] if CARS[name]["skin"] == "composite" else ()
    assert [one.component.id for one in rusty if one.component.id not in skin] == []
    assert found.totals.rust_places >= 5


def test_a_tube_frame_under_aluminium_is_proved_too() -> None:
    found = reach(plan("composite-full"), {"construction": "tube-frame", "skin": "aluminium", "body": "coupe"})
    assert {"rp-tubes", "rp-hidden-steel"} <= {one.place.id for one in found.places}
    assert found.not_proved() == ()


def test_every_place_names_its_shots_and_every_such_shot_stands_in_a_plan() -> None:
    ids = {shot.id: shot for name in NAMES for shot in plan(name).shots}
    listed = load_vocabulary(SHELF / "vocabulary").rust_places
    assert len(listed) == 78
    for place in listed.values():
        assert place.shots, place.id
        for shot in place.shots:
            assert ids[shot].rust, f"{place.id} names {shot}, which asks for no proof"
            assert len(ids[shot].must) >= 2 or ids[shot].close_m, f"{shot} does not say what must be visible"


def test_the_tests_of_the_inside_are_written_once() -> None:
    text = {path.name: path.read_text("utf-8") for path in SHELF.rglob("*.yaml")}
    for shot in ("rust-lamp-through", "doc-title", "rust-magnet-walk", "late-hv"):
        assert sum(f"id: {shot}" in one for one in text.values()) == 1, shot


def test_where_the_shots_of_a_plan_were_written_is_known() -> None:
    rows = read_plan(SHELF / "motorcycle-full.yaml", None, Reading())
    files = [row.given["title"].mark.file for row in rows.shots]
    assert (files.count("motorcycle-full.yaml"), files.count("papers.yaml")) == (31, 3)
    assert files.count("hardtop-full.yaml") == 1
    own = [row["id"] for row in rows.shots if row["id"] not in rows.made.base_ids]
    assert len(own) == 31


def test_the_kept_ids_are_those_of_the_plans() -> None:
    kept = (SHELF / KEPT_IDS).read_text("utf-8")
    for name in NAMES:
        assert f"\n{name}:" in kept
    composite_twice = 8 + 8  # a plan of its own, and an overlay of the open composite car
    assert kept.count("\n  ") == 122 + 10 + 10 + 9 + composite_twice + 31 + 22 + 12 + 5 + 7 * 4 + 6


def test_a_plans_frames_fit_its_minutes() -> None:
    assert totals(plan("quick-36")).minutes == 75
    assert totals(plan("handover")).minutes == 15
    for name in NAMES:
        sums = totals(plan(name))
        assert sums.frames <= sums.minutes * 4, name


def test_the_stated_shelf_is_enough_for_a_plan_elsewhere(tmp_path: Path) -> None:
    own = tmp_path / "ours.yaml"
    own.write_text("plan:\n  id: ours\n  title: Ours\n  base: hardtop-full\ndrop: [cab-console]\n", "utf-8")
    found = load_plan(own, shelf=SHELF)
    assert len(found.shots) == 121
    assert found.applies == plan("hardtop-full").applies
    assert found.vocabulary.rust_places.keys() == plan("hardtop-full").vocabulary.rust_places.keys()
