"""Keeping plans: what ships is only read, copies go into the workspace, cars keep the plan they were begun with."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from lapseam.domain.errors import Mistake, NotFound
from lapseam.domain.plan_edits import ChangeShot, RemoveShot
from lapseam.places import shot_plans
from lapseam.workflow import Desk


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Desk]:
    with Desk.open(tmp_path / "workspace", create=True) as opened:
        yield opened


def copied(desk: Desk, *, differences: bool = True) -> str:
    return desk.copy_plan(plan="handover", new_id="ours", title="Our: handover", differences=differences).result()


def test_the_shelf_tells_the_house_s_plans_and_who_uses_them(desk):
    assert not any(one.house for one in desk.shelf().result())
    copied(desk)
    desk.new_car(stock="T-1", plan="ours", by="Ada").result()
    first, *rest = desk.shelf().result()
    assert (first.file.id, first.file.base, first.house, first.users) == ("ours", "handover", True, ("T-1",))
    assert len(rest) >= 11
    assert not any(one.house or one.users for one in rest)


@pytest.mark.parametrize("differences", [True, False])
def test_a_fresh_copy_says_what_its_source_says(desk, differences):
    copied(desk, differences=differences)
    found = desk.compare_plans(before="handover", after="ours").result()
    assert found.same
    read = desk.read_shelved(plan="ours").result()
    assert read.plan.title == "Our: handover"
    assert read.totals == desk.plan_sums(plan="handover").result()


def test_no_copy_takes_an_id_that_is_taken_or_leads_out_of_the_folder(desk):
    for bad in ("handover", "../ours", "Ours", "", "a b"):
        with pytest.raises(Mistake):
            desk.copy_plan(plan="handover", new_id=bad, title="x", differences=True).result()
    assert not (desk.folder / "plans").exists() or list((desk.folder / "plans").iterdir()) == []


def test_what_ships_is_only_read(desk):
    before = (shot_plans() / "handover.yaml").read_bytes()
    with pytest.raises(Mistake, match="ships with the program"):
        desk.open_plan(plan="handover").result()
    with pytest.raises(NotFound):
        desk.open_plan(plan="nothing").result()
    assert (shot_plans() / "handover.yaml").read_bytes() == before


def test_an_edit_is_tried_then_saved_and_a_car_half_walked_keeps_its_copy(desk):
    copied(desk)
    desk.new_car(stock="T-1", plan="ours", by="Ada").result()
    page = desk.open_plan(plan="ours").result()
    shot = page.tried.plan.shots[0]
    edits = (ChangeShot(shot.id, "count", 9), RemoveShot(page.tried.plan.shots[-1].id))
    tried = desk.try_edits(page=page.page, edits=edits).result()
    assert tried.plan.shot(shot.id).count == 9
    assert page.page.path.read_text() == page.page.text
    saved = desk.save_plan(page=page.page, edits=edits).result()
    assert page.page.path.read_text() == saved.text
    found = desk.compare_plans(before="handover", after="ours").result()
    assert [one.fields for one in found.changed] == [("count",)]
    assert len(found.dropped) == 1
    assert found.frames == 9 - shot.count - page.tried.plan.shots[-1].count
    assert desk.car(stock="T-1").result().plan.shot(shot.id).count == shot.count


def test_a_plan_that_would_not_load_is_not_saved(desk):
    copied(desk)
    page = desk.open_plan(plan="ours").result()
    edits = (ChangeShot(page.tried.shots[0].id, "when", "rnus"),)
    assert "rnus" in desk.try_edits(page=page.page, edits=edits).result().errors[0].words
    with pytest.raises(Mistake, match="would not load"):
        desk.save_plan(page=page.page, edits=edits).result()
    assert page.page.path.read_text() == page.page.text


def test_a_plan_that_does_not_load_is_told_with_its_reasons(desk):
    copied(desk)
    path = desk.folder / "plans" / "ours.yaml"
    path.write_text(path.read_text() + "drop: [nothing-of-the-kind]\n")
    read = desk.read_shelved(plan="ours").result()
    assert read.plan is None
    assert "nothing-of-the-kind" in read.problems[0].words
    assert desk.plan_sums(plan="ours").result() is None
    assert desk.open_plan(plan="ours").result().tried.errors
