"""The shipped data as data: every plan and word list that ships loads, holds together and agrees with the program."""

from __future__ import annotations

import json
import re
from collections import Counter
from enum import StrEnum
from pathlib import Path

import pytest

from lapseam.domain.condition import Condition
from lapseam.domain.coverage import Outcome, State
from lapseam.domain.finding import FindingState, PartOrigin, PartWork, Severity
from lapseam.domain.plan import Media, Need, Plan, PrivateSight, RustPlace, Tone
from lapseam.domain.statement import Basis, CheckVerdict
from lapseam.places import demo_assets, shot_plans
from lapseam.plans import check_plan, digest, dump_plan, find_plans, load_lists, load_plan, plan_from, read_car_file
from lapseam.plans.car_file import ROLES
from lapseam.plans.plan_fields import CAMERA_PLACES, CLOSE_SCALES
from lapseam.plans.vocabulary import MOTORCYCLE_ZONES
from lapseam.plans.walk_fields import TESTERS

PLANS = sorted(shot_plans().glob("*.yaml"))
LONGEST_LABEL = 60


@pytest.fixture(scope="module")
def full() -> Plan:
    return load_plan(shot_plans() / "hardtop-full.yaml")


@pytest.mark.parametrize("path", PLANS, ids=lambda path: path.stem)
def test_every_plan_that_ships_passes_without_a_warning(path: Path) -> None:
    assert [str(problem) for problem in check_plan(path)] == []


@pytest.mark.parametrize("path", PLANS, ids=lambda path: path.stem)
def test_every_shot_can_be_followed_in_the_yard(path: Path) -> None:
    plan = load_plan(path)
    assert plan.id == path.stem
    for shot in plan.shots:
        assert len(shot.title) <= LONGEST_LABEL, shot.id
        assert shot.framing, shot.id
        assert shot.light, shot.id
        assert shot.must, shot.id
        assert shot.camera.bearing_deg is not None or (shot.camera.spot and shot.camera.look), shot.id
        assert len({item.id for item in shot.must}) == len(shot.must), shot.id


def test_the_full_walk_has_the_shots_the_trade_asks_for(full: Plan) -> None:
    assert Counter(shot.need for shot in full.shots) == {Need.REQUIRED: 105, Need.CONDITIONAL: 14, Need.OPTIONAL: 3}
    assert sum(shot.count for shot in full.shots if shot.need is Need.REQUIRED) in range(270, 291)
    assert Counter(shot.media for shot in full.shots)[Media.VIDEO] == 4
    assert [setup.minutes for setup in full.setups] == [30, 75, 45, 45, 30, 40, 90, 25, 20]


def test_the_demo_car_walks_between_112_and_118_shots(full: Plan) -> None:
    car = read_car_file(demo_assets() / "facts.yaml", full.vocabulary)
    answers = [shot.when.answer(car.facts).holds if shot.when else True for shot in full.shots]
    assert 100 <= answers.count(True) <= 118
    assert {s.id for s, holds in zip(full.shots, answers, strict=True) if holds is None} >= {
        "floor-front-left",
        "floor-front-right",
    }, "a fact left unanswered is unknown, never false"


def test_every_rust_place_on_a_closed_steel_car_is_proved_by_shots_of_its_own_parts(full: Plan) -> None:
    closed = {"skin": "steel", "body": "hardtop", "construction": "unibody"}
    shots = {shot.id: shot for shot in full.shots}
    places = [place for place in full.vocabulary.rust_places.values() if holds(place, closed)]
    assert len(places) > 30
    for place in places:
        assert place.shots, place.id
        assert all(shots[name].rust for name in place.shots), place.id
        assert any(set(shots[name].components) & set(place.components) for name in place.shots), place.id


def holds(place: RustPlace, facts: dict[str, str]) -> bool:
    return place.when is not None and place.when.answer(facts).holds is True


def test_no_zone_of_a_car_applies_to_a_motorcycle(full: Plan) -> None:
    for zone in full.vocabulary.zones.values():
        answer = zone.when.answer({"body": "motorcycle", "skin": "steel"}).holds if zone.when else True
        assert answer is (zone.id in MOTORCYCLE_ZONES), zone.id


def test_what_may_show_a_plate_a_paper_or_a_stamp_is_marked(full: Plan) -> None:
    marked = {sight: {shot.id for shot in full.shots if sight in shot.private} for sight in PrivateSight}
    assert marked[PrivateSight.PAPER] == {shot.id for shot in full.shots if shot.zone == "documents"}
    assert marked[PrivateSight.STAMP] >= {shot.id for shot in full.shots if shot.zone == "identity"}
    assert marked[PrivateSight.KEY_CODE] == {"doc-keys"}
    assert marked[PrivateSight.PLATE] >= {"ext-front-left", "ext-front-right", "ext-rear-left", "ext-rear-right"}
    whole_ends = {
        shot.id
        for shot in full.shots
        if {"front-bumper", "rear-bumper"} & set(shot.components) and shot.zone in ("front", "rear")
    }
    assert whole_ends <= marked[PrivateSight.PLATE]


def test_four_signoff_rules_cannot_be_lifted(full: Plan) -> None:
    fixed = {rule.id for rule in full.vocabulary.signoff.values() if not rule.liftable}
    assert fixed == {"so-identity", "so-structural-shown", "so-privacy", "so-claim"}


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("severity", Severity),
        ("check_result", CheckVerdict),
        ("finding_tone", Tone),
        ("finding_state", FindingState),
        ("part_origin", PartOrigin),
        ("part_work", PartWork),
        ("component_outcome", Outcome),
        ("need", Need),
        ("media", Media),
    ],
)
def test_the_programs_words_are_the_trades(full: Plan, name: str, words: type[StrEnum]) -> None:
    assert full.vocabulary.words[name] == tuple(word.value for word in words)


def test_the_field_tables_words_are_the_trades(full: Plan) -> None:
    words = full.vocabulary.words
    assert words["camera_place"] == CAMERA_PLACES
    assert words["close_scale"] == CLOSE_SCALES
    assert words["who_may_test"] == TESTERS
    assert words["roles"] == ROLES
    assert set(words["coverage"]) < {state.value for state in State}
    assert tuple(full.vocabulary.bases) == tuple(basis.value for basis in Basis)


def test_skin_only_rust_names_rust_prone_parts_that_carry_no_load(full: Plan) -> None:
    parts = full.vocabulary.components()
    for name in full.vocabulary.words["skin_only_rust"]:
        assert parts[name].rust, name
        assert not parts[name].struct, name


def test_every_finding_sentence_has_known_slots(full: Plan) -> None:
    for kind in full.vocabulary.findings.values():
        slots = set(re.findall(r"\{(\w+)\}", kind.say))
        assert slots <= {"place", "extent", "basis", "detail", "count", "date"}, kind.id
        assert "basis" in slots, kind.id


def test_outlets_name_shots_of_the_full_plan(full: Plan) -> None:
    lists = load_lists(shot_plans() / "vocabulary")
    named = {
        shot
        for row in (*lists["outlet_limits"], *lists["conditional_swaps"], lists["structural_overflow"])
        for key in ("fixed", "identity", "add", "comes_in", "gives_way")
        for shot in row.get(key, ())
    }
    assert named <= {shot.id for shot in full.shots}
    assert [row["limit"] for row in lists["outlet_limits"]] == [12, 20, 24, 40, 100]
    assert len(lists["questions"]) == 40


def test_a_cars_copy_of_its_plan_is_the_plan(full: Plan) -> None:
    text = dump_plan(full)
    assert plan_from(text) == full
    assert dump_plan(plan_from(text)) == text
    assert digest(plan_from(text)) == digest(full)
    assert list(json.loads(text)["vocabulary"]["zones"]) == list(full.vocabulary.zones), "walking order is kept"


def test_the_digest_moves_with_the_plan(full: Plan) -> None:
    changed = plan_from(dump_plan(full).replace('"count":2', '"count":3', 1))
    assert changed != full
    assert digest(changed) != digest(full)


def test_plans_are_found_without_reading_them(tmp_path: Path) -> None:
    own = tmp_path / "plans"
    own.mkdir()
    (own / "short.yaml").write_text(
        "plan:\n  id: short\n  title: 'Short walk'\nshots:\n  - id: a\n  - id: b\n", "utf-8"
    )
    (own / "zones.yaml").write_text("zones: []\n", "utf-8")
    (own / "odd.yaml").write_bytes(b"\xff\xfe")
    found = find_plans(shot_plans(), own, tmp_path / "not-there", shot_plans() / "vocabulary")
    assert {plan.id for plan in found} == {path.stem for path in PLANS} | {"short"}
    told = {plan.id: plan for plan in found}
    assert told["hardtop-full"].title == "Full walkaround, closed car with a lift"
    assert (told["hardtop-full"].base, told["pickup-full"].base) == ("", "hardtop-full")
    assert told["short"].path == own / "short.yaml"


def test_conditions_of_the_shipped_lists_all_parse(full: Plan) -> None:
    words = full.vocabulary
    conditions = [
        one.when
        for rows in (words.zones, words.components(), words.checks, words.rust_places)
        for one in rows.values()
        if one.when is not None
    ]
    assert len(conditions) > 100
    assert all(isinstance(one, Condition) and one.names() for one in conditions)
