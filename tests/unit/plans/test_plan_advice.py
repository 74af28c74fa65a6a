"""What a practised eye asks about a plan that loads: warnings with their place, and none without a cause."""

from __future__ import annotations

from pathlib import Path

import pytest

from fakes.plan_folder import PlanFolder, write_plan_folder
from lapseam.domain.condition import Condition
from lapseam.domain.plan import FactAsked, FactKind
from lapseam.domain.possible import always_holds, can_hold
from lapseam.plans import Grade, check_plan, load_plan


@pytest.fixture
def small(tmp_path: Path) -> PlanFolder:
    return write_plan_folder(tmp_path / "plans")


ADVICE = [
    (
        "small.yaml",
        "comps: [bumper, valance]",
        "comps: [valance]",
        "zones.yaml:6:9: warning: zones.nose.components.bumper: no shot shows it (name it under 'comps' of a shot)",
    ),
    (
        "small.yaml",
        "comps: [rail, valance]",
        "comps: [rail]",
        "zones.yaml:7:9: warning: zones.nose.components.valance: it is rust-prone, but no rust shot shows it close "
        "(add one with close: {dist: 0.3})",
    ),
    (
        "small.yaml",
        "close: {dist: 0.3, scale: both}",
        "close: {scale: both}",
        "zones.yaml:17:9: warning: zones.below.components.rail: it is rust-prone, but no rust shot shows it close "
        "(add one with close: {dist: 0.3})",
    ),
    (
        "small.yaml",
        "    caution: [lift]\n",
        "",
        "small.yaml:36:5: warning: shots.rail.caution: the camera is under a raised car without the caution 'lift' "
        "(add: lift)",
    ),
    (
        "small.yaml",
        'name: "Outside", minutes: 10',
        'name: "Outside", minutes: 1',
        None,
    ),
    (
        "small.yaml",
        "count: 2",
        "count: 40",
        "small.yaml:6:47: warning: plan.setups.outside.minutes: 41 frames in 10 minutes are more than anyone takes "
        "(give at least 11)",
    ),
    (
        "small.yaml",
        'when: "sunroof"',
        "when: \"sunroof and body == 'pickup'\"",
        "small.yaml:32:11: warning: shots.sunroof.when: the condition never holds on a car this plan is for "
        "(take the shot out, or mend the condition)",
    ),
    (
        "small.yaml",
        'when: "sunroof"',
        'when: "doors > 2 and doors < 2"',
        "small.yaml:32:11: warning: shots.sunroof.when: the condition never holds on a car this plan is for "
        "(take the shot out, or mend the condition)",
    ),
    (
        "small.yaml",
        'when: "sunroof"',
        "when: \"body != 'pickup'\"",
        "small.yaml:31:11: warning: shots.sunroof.need: the condition holds on every car this plan is for "
        "(make the shot required)",
    ),
    (
        "small.yaml",
        "setup: outside\n    zone: top",
        "setup: raised\n    zone: top",
        None,
    ),
    (
        "small.yaml",
        "setup: outside\n    zone: nose",
        "setup: raised\n    zone: nose",
        "small.yaml:23:12: warning: shots.sunroof.setup: the walk goes back from 'raised' to 'outside' "
        "(put the shots of one setup together, in the order of the setups)",
    ),
    (
        "small.yaml",
        "setup: raised\n",
        "setup: outside\n",
        "small.yaml:7:12: warning: plan.setups.raised.id: no shot belongs to this setup "
        "(take it out, or add its shots)",
    ),
    (
        "small.yaml",
        "dist: 0.8, h: 1.3",
        "dist: 0.2, h: 1.3",
        "small.yaml:48:12: warning: shots.rail.close: the close frame is farther away than the shot "
        "(mend one of the two distances)",
    ),
    (
        "rust_places.yaml",
        "comps: [rail]",
        "comps: [bumper]",
        "rust_places.yaml:7:12: warning: rust_places.rp-rail.comps: no rust shot proves this place "
        "(add a rust shot of one of its components)",
    ),
]


@pytest.mark.parametrize(("file", "old", "new", "told"), ADVICE, ids=[str(number) for number in range(len(ADVICE))])
def test_a_plan_that_loads_is_still_looked_over(
    small: PlanFolder, file: str, old: str, new: str, told: str | None
) -> None:
    small.change(file, old, new)
    found = check_plan(small.plan)
    load_plan(small.plan)
    assert all(one.severity is Grade.WARNING for one in found)
    if told is None:
        assert found == ()
    else:
        assert told in [str(one) for one in found]


def test_a_zone_the_plan_forgot_is_warned_about_but_not_one_of_other_cars(small: PlanFolder) -> None:
    small.change("small.yaml", "zone: below\n    comps: [rail, valance]", "zone: nose\n    comps: [valance]")
    words = [str(one) for one in check_plan(small.plan)]
    assert any("zones.below.components.rail: no shot shows it" in one for one in words)
    assert not any("bed-floor" in one for one in words), "a closed car has no bed"


def test_errors_come_before_warnings_and_hide_advice(small: PlanFolder) -> None:
    small.change("small.yaml", "must: [bumper level, both lamps]", "must: [no, both lamps]")
    small.change("cautions.yaml", "text:", "txt:")
    found = check_plan(small.plan)
    assert [one.severity for one in found] == [Grade.ERROR, Grade.ERROR, Grade.WARNING]


FACTS = {
    "body": FactAsked("body", FactKind.CHOICE, ("coupe", "sedan")),
    "sunroof": FactAsked("sunroof", FactKind.FLAG),
    "doors": FactAsked("doors", FactKind.NUMBER),
    "ad_claims": FactAsked("ad_claims", FactKind.LIST, ("restored", "rust-free")),
}


@pytest.mark.parametrize(
    ("texts", "can"),
    [
        (["sunroof", "not sunroof"], False),
        (["sunroof or body == 'coupe'", "not sunroof"], True),
        (["body == 'coupe'", "body == 'sedan'"], False),
        (["body not in ['coupe', 'sedan']"], False),
        (["doors > 2", "doors < 3"], True),
        (["doors >= 2", "doors <= 2", "doors != 2"], False),
        (["'restored' in ad_claims", "'rust-free' in ad_claims"], True),
        (["'restored' in ad_claims", "'restored' not in ad_claims"], False),
        ([], True),
    ],
)
def test_whether_conditions_can_hold_together(texts: list[str], can: bool) -> None:
    assert can_hold([Condition(text) for text in texts], FACTS) is can


def test_always_is_under_what_is_given() -> None:
    assert always_holds(Condition("body != 'coupe'"), Condition("body == 'sedan'"), FACTS)
    assert not always_holds(Condition("body != 'coupe'"), None, FACTS)
