"""Plans of the house in a workspace: made from those that ship, and without a vocabulary beside them."""

from __future__ import annotations

import io
import json
from datetime import UTC, datetime
from functools import partial
from pathlib import Path
from typing import Any

import pytest

from lapseam import cli
from lapseam.places import demo_assets, shot_plans
from lapseam.workflow import Desk

NOON = datetime(2026, 5, 14, 12, tzinfo=UTC)
OURS = """\
plan:
  id: ours
  title: "The house's own walk"
  base: hardtop-full
drop: [cab-console]
change:
  - {id: dash-wide, comps: [dash-face, dash-pad, audio, climate-controls, console-shifter, cabin-wood]}
add:
  - use: under-tank
    id: our-tank
    after: under-tank
    title: Tank from the left
"""


def ask(*words: str, workspace: Path) -> tuple[int, Any]:
    out = io.StringIO()
    desk = partial(Desk.open, clock=lambda: NOON)
    code = cli.main([*words, "--workspace", str(workspace), "--json"], open_desk=desk, stdout=out)
    return code, json.loads(out.getvalue())


@pytest.fixture
def house(tmp_path: Path) -> Path:
    (tmp_path / "ws/plans").mkdir(parents=True)
    (tmp_path / "ws/plans/ours.yaml").write_text(OURS, "utf-8")
    return tmp_path / "ws"


def test_a_house_plan_on_a_shipped_base_is_checked_without_a_vocabulary_beside_it(house: Path) -> None:
    path = house / "plans/ours.yaml"
    code, answer = ask("plan-check", str(path), workspace=house)
    assert (code, answer["problems"]) == (0, [])
    path.write_text(OURS.replace("cab-console", "cab-consol"), "utf-8")
    code, answer = ask("plan-check", str(path), workspace=house)
    assert code == 1
    (problem,) = answer["problems"]
    assert (problem["line"], problem["remedy"]) == (5, "did you mean 'cab-console'?")


def test_a_car_is_made_with_a_house_plan_from_a_car_file_or_by_hand(house: Path) -> None:
    code, _ = ask("new", "A-1", "--plan", "ours", workspace=house)
    assert code == 0
    with Desk.open(house, clock=lambda: NOON) as desk:
        done = desk.car_from_file(path=demo_assets() / "facts.yaml", plan="ours", by="Ada Lindqvar").result()
        assert "plan ours" in done.words
        car = desk.car(stock="T-114").result()
        assert (car.plan.id, len(car.plan.shots)) == ("ours", 122)
        assert car.fact_values()["body"] == "hardtop"
        assert car.plan.vocabulary.rust_places["rp-fuel-tank"].shots == ("under-tank", "our-tank")


def test_a_car_file_with_an_unknown_fact_is_refused_with_its_line(house: Path, tmp_path: Path) -> None:
    file = tmp_path / "car.yaml"
    file.write_text("stock: A-2\nfacts:\n  bodi: hardtop\n", "utf-8")
    with Desk.open(house, create=True, clock=lambda: NOON) as desk, pytest.raises(Exception, match="1 problem") as told:
        desk.car_from_file(path=file, plan="ours", by="Ada Lindqvar").result()
    assert "car.yaml:3" in str(told.value.problems)  # type: ignore[attr-defined]


def test_the_list_of_plans_says_what_each_comes_to(house: Path) -> None:
    code, plain = ask("plans", workspace=house)
    assert code == 0
    assert {one["id"]: one["base"] for one in plain}["ours"] == "hardtop-full"
    (house / "plans/broken.yaml").write_text(OURS.replace("id: ours", "id: broken").replace("tank", "tnak"), "utf-8")
    code, answer = ask("plans", "--totals", workspace=house)
    sums = {one["id"]: one["totals"] for one in answer}
    assert code == 1, "one plan does not load"
    assert sums["broken"] is None
    assert sums["ours"]["shots"] == sums["hardtop-full"]["shots"] == 122
    assert sums["ours"]["frames"] == sums["hardtop-full"]["frames"] - 1 + 3


def test_the_reach_of_a_plan_is_told_for_all_cars_and_for_one(house: Path) -> None:
    code, answer = ask("reach", "ours", workspace=house)
    assert code == 0
    told = {one["component"]: one for one in answer["components"]}
    assert told["fuel-tank"]["reached"] == "proved"
    assert told["fuel-tank"]["proofs"] == ["under-tank", "our-tank"]
    assert told["connector-rails"]["only_where"] == ["subframe_connectors"]
    assert "laminate" in answer["not_shown"]
    assert "rp-tubes" in answer["not_proved"]
    _, steel = ask("reach", "ours", "--where", "skin=steel", "--where", "construction=unibody", workspace=house)
    assert [part for part in steel["not_shown"] if part not in HANDOVER] == []
    assert steel["not_proved"] == []
    _, demo = ask("reach", "ours", "--car-file", str(demo_assets() / "facts.yaml"), workspace=house)
    assert "connector-rails" not in {one["component"] for one in demo["components"]}
    assert demo["totals"]["shots"] < answer["totals"]["shots"]
    _, bike = ask("reach", "hardtop-full", "--where", "body=motorcycle", workspace=house)
    assert "mc-tank" in bike["not_shown"], "a car the plan is not made for is asked all the same"


HANDOVER = ("loading-condition", "loading-odometer", "handed-items", "tie-downs")


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("reach", "hardtop-full", "--where", "lift"), "no answer"),
        (("reach", "hardtop-full", "--where", "lfit=true"), "lfit"),
        (("reach", "hardtop-full", "--where", "body=boat"), "boat"),
        (("reach", "nothing"), "nothing"),
        (("ask-again", "asked-1", "left-rockr"), "left-rockr"),
        (("ask-again", "Asked 1", "left-rocker"), "cannot be the new plan's name"),
        (("ask-again", "hardtop-full", "left-rocker"), "cannot be the new plan's name"),
        (("ask-again", "../x", "left-rocker"), "cannot be the new plan's name"),
        (("ask-again", "asked-1", "left-rocker", "--view", "ask-nothing"), "ask-nothing"),
    ],
)
def test_a_wrong_question_is_answered_in_one_sentence(house: Path, words: tuple[str, ...], told: str) -> None:
    code, answer = ask(*words, workspace=house)
    assert code == 2
    assert told in answer["error"]["problem"]
    assert answer["error"]["next_step"]


def test_what_a_buyer_asked_becomes_a_plan_of_its_own(house: Path) -> None:
    title = 'Is the "left" sill hard?'
    parts = ("left-sill-seam", "floor-front-left", "engine-stamp", "receipts", "hood", "hood")
    code, answer = ask("ask-again", "asked-1", *parts, "--title", title, workspace=house)
    assert code == 0
    code, problems = ask("plan-check", answer["path"], workspace=house)
    assert (code, problems["problems"]) == (0, [])
    with Desk.open(house, create=True, clock=lambda: NOON) as desk:
        desk.new_car(stock="A-3", plan="asked-1", by="Ada Lindqvar").result()
        plan = desk.car(stock="A-3").result().plan
    assert plan.title == title
    assert [(shot.id, shot.zone, shot.components) for shot in plan.shots] == [
        ("ask-underside-spot-left-sill-seam", "under-centre", ("left-sill-seam",)),
        ("ask-behind-cover-floor-front-left", "cabin-floor", ("floor-front-left",)),
        ("ask-number-engine-stamp", "identity", ("engine-stamp",)),
        ("ask-paper-receipts", "documents", ("receipts",)),
        ("ask-closer-hood", "front", ("hood",)),
    ]
    assert (shot_plans() / "buyer-asked.yaml").is_file()
