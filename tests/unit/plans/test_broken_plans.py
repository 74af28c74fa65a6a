"""Broken plans: every one is refused with file, line, column, the key and a remedy, and all problems at once."""

from __future__ import annotations

from pathlib import Path

import pytest

from fakes.plan_folder import PlanFolder, write_plan_folder
from lapseam.domain.errors import PlanBroken
from lapseam.plans import Grade, check_plan, load_plan, load_vocabulary, vocabulary_for


@pytest.fixture
def small(tmp_path: Path) -> PlanFolder:
    return write_plan_folder(tmp_path / "plans")


def broken(small: PlanFolder) -> tuple[str, ...]:
    with pytest.raises(PlanBroken) as caught:
        load_plan(small.plan)
    return caught.value.problems


def test_the_small_plan_is_good(small: PlanFolder) -> None:
    plan = load_plan(small.plan)
    assert [shot.id for shot in plan.shots] == ["front", "sunroof", "rail"]
    assert check_plan(small.plan) == ()


# One row a way to break a plan: the file, what stands there, what is put there, and the whole problem as told.
BROKEN = [
    (
        "small.yaml",
        "need: required",
        "need: requird",
        "small.yaml:19:11: shots.front.need: 'requird' is not one of: required, optional, conditional "
        "(did you mean 'required'?)",
    ),
    (
        "small.yaml",
        '    light: "Even."',
        '    lihgt: "Even."',
        "small.yaml:16:5: shots.front: unknown key 'lihgt' (did you mean 'light'?)",
    ),
    (
        "small.yaml",
        '    light: "Even."\n',
        "",
        "small.yaml:9:5: shots.front: needs 'light': how to light it (wanted: text of at most 2000 characters)",
    ),
    (
        "small.yaml",
        "comps: [bumper, valance]",
        "components: [bumper, valance]",
        "small.yaml:13:5: shots.front: unknown key 'components' (it is called 'comps')",
    ),
    (
        "small.yaml",
        "    count: 1\n",
        "    count: 1\n    count: 3\n",
        "small.yaml:19:5: shots.front: the key 'count' stands twice (take one of them out)",
    ),
    (
        "small.yaml",
        "count: 1",
        'count: "1"',
        "small.yaml:18:12: shots.front.count: '1' is not a whole number from 1 to 50 frames (take the quotes away)",
    ),
    (
        "small.yaml",
        "count: 1",
        "count: 0",
        "small.yaml:18:12: shots.front.count: '0' is out of range (wanted: a whole number from 1 to 50 frames)",
    ),
    (
        "small.yaml",
        "count: 1",
        "count: 1.5",
        "small.yaml:18:12: shots.front.count: '1.5' is not a whole number from 1 to 50 frames "
        "(write figures, with a point for the decimals)",
    ),
    (
        "small.yaml",
        "lens: [85, 100]",
        "lens: [100, 85]",
        "small.yaml:14:59: shots.front.cam.lens: 100 is more than 85 (write the smaller number first)",
    ),
    (
        "small.yaml",
        "bearing: 0,",
        "bearing: 360,",
        "small.yaml:14:33: shots.front.cam.bearing: '360' is out of range (wanted: a number from 0 to 359.9 degrees)",
    ),
    (
        "small.yaml",
        "bearing: 0, ",
        "",
        "small.yaml:14:15: shots.front.cam.at: the camera needs 'bearing', or 'spot' with 'look' (add: bearing: 320)",
    ),
    (
        "small.yaml",
        ", look: up-forward",
        "",
        "small.yaml:41:27: shots.rail.cam.spot: needs 'look' beside it (add 'look')",
    ),
    (
        "small.yaml",
        "must: [bumper level, both lamps]",
        "must: []",
        "small.yaml:17:11: shots.front.must: the list is empty; "
        "wanted: a list of at least 1, each text of at most 200 characters (add what is missing)",
    ),
    (
        "small.yaml",
        "must: [bumper level, both lamps]",
        "must: [both lamps, both  lamps]",
        "small.yaml:17:11: shots.front.must: 'both lamps' cannot be told from another item of the list "
        "(word one of them differently)",
    ),
    (
        "small.yaml",
        "must: [bumper level, both lamps]",
        "must: bumper level",
        "small.yaml:17:11: shots.front.must: a single value stands here; "
        "wanted: a list of at least 1, each text of at most 200 characters (write it as [first, second])",
    ),
    (
        "small.yaml",
        "title: Dead front",
        "title: 1968",
        "small.yaml:10:12: shots.front.title: '1968' stands here; wanted: text of at most 60 characters "
        '(write "1968", in quotes)',
    ),
    (
        "small.yaml",
        "title: Dead front",
        "title:",
        "small.yaml:10:5: shots.front.title: nothing stands here; wanted: text of at most 60 characters "
        "(write the value behind the key)",
    ),
    (
        "small.yaml",
        "id: sunroof\n",
        "id: front\n",
        "small.yaml:21:9: shots.front.id: the shot 'front' already stands at small.yaml:9 "
        "(give one of them another id)",
    ),
    (
        "small.yaml",
        "id: front\n",
        "id: Front View\n",
        "small.yaml:9:9: shots.Front View.id: 'Front View' is no id; "
        "wanted: an id of small letters, figures and hyphens, unique in its list (write it like front-bumper)",
    ),
    (
        "small.yaml",
        "setup: raised",
        "setup: rised",
        "small.yaml:38:12: shots.rail.setup: there is no setup 'rised' (did you mean 'raised'?)",
    ),
    (
        "small.yaml",
        "zone: below",
        "zone: belw",
        "small.yaml:39:11: shots.rail.zone: there is no zone 'belw' (did you mean 'below'?)",
    ),
    (
        "small.yaml",
        "comps: [rail, valance]",
        "comps: [rale, valance]",
        "small.yaml:40:13: shots.rail.comps: there is no component 'rale' (did you mean 'rail'?)",
    ),
    (
        "small.yaml",
        "caution: [lift]",
        "caution: [lyft]",
        "small.yaml:49:15: shots.rail.caution: there is no caution 'lyft' (did you mean 'lift'?)",
    ),
    (
        "small.yaml",
        '    when: "sunroof"\n',
        "",
        "small.yaml:31:11: shots.sunroof.need: a conditional shot needs its condition "
        "(add 'when', or make it required or optional)",
    ),
    (
        "small.yaml",
        'when: "sunroof"',
        'when: "sunrof"',
        "small.yaml:32:12: shots.sunroof.when: there is no fact 'sunrof' (did you mean 'sunroof'?)",
    ),
    (
        "small.yaml",
        'when: "sunroof"',
        "when: \"sunroof and body == 'copue'\"",
        "small.yaml:32:33: shots.sunroof.when: 'copue' is not one of the words of 'body': coupe, sedan, pickup, "
        "motorcycle (did you mean 'coupe'?)",
    ),
    (
        "small.yaml",
        'when: "sunroof"',
        'when: "sunroof and"',
        "small.yaml:32:23: shots.sunroof.when: the condition stops in the middle, at character 12 of 'sunroof and' "
        "(see 'Conditions' in the plan reference)",
    ),
    (
        "small.yaml",
        'when: "sunroof"',
        'when: "doors & 2"',
        "small.yaml:32:18: shots.sunroof.when: cannot read '& 2' here, at character 7 of 'doors & 2' "
        "(see 'Conditions' in the plan reference)",
    ),
    (
        "small.yaml",
        'when: "sunroof"',
        'when: "body"',
        "small.yaml:32:12: shots.sunroof.when: 'body' is no yes-or-no fact and stands alone "
        "(compare it, as in body == 'coupe')",
    ),
    (
        "small.yaml",
        'when: "sunroof"',
        "when: \"doors == 'two'\"",
        "small.yaml:32:22: shots.sunroof.when: 'two' does not fit 'doors', which is a number "
        "(write a number, without quotes)",
    ),
    (
        "small.yaml",
        'when: "sunroof"',
        "when: \"sunroof == 'yes'\"",
        "small.yaml:32:24: shots.sunroof.when: 'yes' does not fit 'sunroof', which is true or false "
        "(write true or false)",
    ),
    (
        "small.yaml",
        'when: "sunroof"',
        "when: \"ad_claims == 'restored'\"",
        "small.yaml:32:26: shots.sunroof.when: '==' does not fit 'ad_claims' here "
        "(write it as in 'restored' in ad_claims)",
    ),
    (
        "small.yaml",
        'when: "sunroof"',
        "when: \"body < 'sedan'\"",
        "small.yaml:32:20: shots.sunroof.when: '<' does not fit 'body' here (write it as in body == 'coupe')",
    ),
    (
        "small.yaml",
        "rust: true",
        "rust: yes",
        "small.yaml:33:11: shots.sunroof.rust: 'yes' is not true or false "
        "(plans are YAML 1.2: yes, no, on and off are words)",
    ),
    (
        "small.yaml",
        "private: [plate]",
        "private: [plate, plate]",
        "small.yaml:20:22: shots.front.private: 'plate' stands twice in the list (take one of them out)",
    ),
    (
        "small.yaml",
        "shots:\n",
        "shots: []\nrest:\n",
        "small.yaml:8:8: shots: the list is empty; wanted: a list, each one view that the plan asks for "
        "(add at least one)",
    ),
    (
        "zones.yaml",
        "group: under",
        "group: undr",
        "zones.yaml:15:12: zones.below.group: 'undr' is not one of: outside, inside, engine, under, identity, papers, "
        "drive, handover (did you mean 'under'?)",
    ),
    (
        "zones.yaml",
        "id: bed-floor",
        "id: rail",
        "zones.yaml:23:14: zones.bed.components.rail.id: the component 'rail' already stands at zones.yaml:17 "
        "(give one of them another id)",
    ),
    (
        "facts.yaml",
        "kind: flag",
        "kind: flag, values: [coupe]",
        "facts.yaml:4:39: facts.sunroof.values: a fact of kind 'flag' has no list of words (take 'values' out)",
    ),
    (
        "rust_places.yaml",
        "types: [closed-car, any-lorry]",
        "types: [closed-cra]",
        "rust_places.yaml:6:13: rust_places.rp-rail.types: there is no type word 'closed-cra' "
        "(did you mean 'closed-car'?)",
    ),
    (
        "claims.yaml",
        "needs: [{same_as: fine-paint}], ",
        "",
        "claims.yaml:4:5: claims.as-new: a claim that is allowed names what it needs "
        "(add 'needs', or: forbidden: true)",
    ),
    (
        "outlets.yaml",
        "flaws: 2",
        "flaws: two",
        "outlets.yaml:2:54: outlet_limits.12.flaws: 'two' is not a whole number from 0 to 1000 "
        "(write figures, with a point for the decimals)",
    ),
]


@pytest.mark.parametrize(("file", "old", "new", "told"), BROKEN, ids=[str(number) for number in range(len(BROKEN))])
def test_each_break_is_told_with_its_place(small: PlanFolder, file: str, old: str, new: str, told: str) -> None:
    small.change(file, old, new)
    assert told in broken(small)


def test_all_problems_come_at_once_over_all_files_in_order(small: PlanFolder) -> None:
    small.change("small.yaml", "need: required", "need: requird")
    small.change("small.yaml", "zone: below", "zone: belw")
    small.change("facts.yaml", "kind: flag", "kind: flog")
    small.change("cautions.yaml", "name:", "nam:")
    problems = broken(small)
    assert [problem.split(":")[0] for problem in problems] == [
        "small.yaml",
        "small.yaml",
        "small.yaml",
        "facts.yaml",
        "cautions.yaml",
        "cautions.yaml",
        "zones.yaml",
    ]
    assert "sunroof" in problems[1], "a fact that cannot be read is unknown to conditions too"


def test_a_lost_vocabulary_file_is_named(small: PlanFolder) -> None:
    (small.vocabulary / "cautions.yaml").unlink()
    problems = broken(small)
    assert any(one.startswith("cautions.yaml:1:1: the vocabulary's file vocabulary/cautions.yaml") for one in problems)
    with pytest.raises(PlanBroken):
        load_vocabulary(small.vocabulary)


def test_a_plan_that_is_not_there_is_a_problem_not_a_crash(tmp_path: Path, small: PlanFolder) -> None:
    found = check_plan(tmp_path / "none.yaml", small.vocabulary)
    assert [(one.file, one.line, one.severity) for one in found] == [("none.yaml", 1, Grade.ERROR)]
    assert found[0].remedy


def test_a_vocabulary_from_elsewhere_can_be_handed_in(small: PlanFolder, tmp_path: Path) -> None:
    moved = tmp_path / "other"
    assert vocabulary_for(small.plan, moved) == small.vocabulary
    small.vocabulary.rename(moved)
    assert vocabulary_for(small.plan, moved) == moved
    assert load_plan(small.plan, moved).vocabulary.zones["bed"].when is not None
    with pytest.raises(PlanBroken):
        load_plan(small.plan)


def test_a_stranger_among_the_vocabulary_files_is_only_a_warning(small: PlanFolder) -> None:
    (small.vocabulary / "zone.yaml").write_text("zones: []\n", encoding="utf-8")
    assert [str(one) for one in check_plan(small.plan)] == [
        "zone.yaml:1:1: warning: this file is none of the vocabulary's (did you mean 'zones.yaml'?)"
    ]
    load_plan(small.plan)
