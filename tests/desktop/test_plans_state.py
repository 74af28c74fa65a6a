"""The Plans as values: the list, one plan, two compared, and the draft of a form with its undo."""

from __future__ import annotations

from dataclasses import replace

import pytest

from fakes import plan_scenes
from lapseam.desktop.screens.plans.copy_form import PlanCopy, copy_of, id_from
from lapseam.desktop.screens.plans.draft import FIELDS, Draft, said, shown, verdict
from lapseam.desktop.screens.plans.state import compare_screen, plans_screen, read_screen, shot_read
from lapseam.domain.plan_comparison import compare
from lapseam.domain.plan_edits import AddShot, ChangeShot, RemoveShot, ShotSheet, edited, gathered
from lapseam.places import shot_plans
from lapseam.workflow.shelf import plan_at


@pytest.fixture
def draft() -> Draft:
    return Draft(plan_scenes.opened().tried.shots)


def test_the_list_says_whose_a_plan_is_what_it_comes_to_and_who_uses_it():
    screen = plans_screen(plan_scenes.on_shelf(), {plan_scenes.HOUSE: plan_scenes.sums()[plan_scenes.HOUSE]})
    first, second, *_rest = screen.rows
    assert first.house
    assert first.about == "our-pickup · The house's own · made from pickup-full"
    assert "125 shots" in first.sums
    assert first.users == "Used by T-118, T-122"
    assert second.sums == "Being read …"
    assert screen.note == ""


def test_where_the_house_has_no_plan_the_list_says_how_to_get_one():
    shipped = tuple(one for one in plan_scenes.on_shelf() if not one.house)
    assert "Copy one" in plans_screen(shipped, {}).note


def test_a_plan_that_does_not_load_is_listed_and_read_with_its_reasons():
    assert "Does not load" in plans_screen(plan_scenes.on_shelf()[:1], {plan_scenes.HOUSE: None}).rows[0].sums
    screen = read_screen(plan_scenes.broken())
    assert screen.lines == ()
    assert "our-pickup.yaml:8:11" in screen.problems[1]


def test_a_plan_is_read_in_chapters_with_each_shot_once():
    found = plan_scenes.read(plan_scenes.HOUSE)
    screen = read_screen(found)
    assert [line.shot for line in screen.lines if line.shot] == [shot.id for shot in found.plan.shots]
    headings = [line.words for line in screen.lines if not line.shot]
    assert len(headings) == len(found.plan.setups)
    assert headings[1] == "Outside, even light, car washed and dry · 75 minutes"
    assert "keeps the copy" in screen.users


def test_a_shot_is_read_with_all_the_photographer_needs():
    plan = plan_scenes.read(plan_scenes.HOUSE).plan
    shot = shot_read(plan, "bed-whole")
    assert shot.must == ("whole floor", "both sides", "front panel")
    assert dict(shot.facts)["Lens"] == "24–35 mm"
    assert shot.rust
    assert shot.cautions
    assert shot.stand.sketch
    assert shot_read(plan, "nothing") is None


def test_comparing_says_what_is_added_dropped_and_changed():
    one = plan_at(shot_plans() / "pickup-full.yaml")
    first, second = one.shots[:2]
    other = replace(one, id="other", shots=(second, *one.shots[2:-1], replace(first, id="new")))
    other = replace(other, shots=(replace(second, count=second.count + 3), *other.shots[1:]))
    found = compare(one, other)
    assert [shot.id for shot in found.added] == ["new"]
    assert [shot.id for shot in found.dropped] == [first.id, one.shots[-1].id]
    assert [(diff.after.id, diff.fields) for diff in found.changed] == [(second.id, ("count",))]
    assert found.frames == 3 - one.shots[-1].count
    screen = compare_screen(found)
    assert [name for name, _lines in screen.sections] == ["Adds 1 shot", "Drops 2 shots", "Changes 1 shot"]
    assert f"frames {second.count} → {second.count + 3}" in screen.sections[2][1][0]
    assert compare(one, one).same
    assert compare_screen(compare(one, one)).sections == ()


def test_letters_typed_into_one_field_are_one_step(draft):
    for words in ("B", "Be", "Bed"):
        draft = draft.change("bed-whole", "title", words)
    draft = draft.change("bed-whole", "count", 3)
    assert len(draft.past) == 2
    draft = draft.undo()
    assert draft.shot("bed-whole").values["title"] == "Bed"
    assert draft.undo().shot("bed-whole").values["title"] == "Bed from the tailgate"
    assert not draft.undo().changed
    assert draft.undo().redo().redo().shot("bed-whole").values["count"] == 3


def test_a_pause_or_another_step_begins_a_new_one(draft):
    draft = draft.change("bed-whole", "title", "A").pause().change("bed-whole", "title", "AB")
    assert draft.undo().shot("bed-whole").values["title"] == "A"
    draft = draft.undo().change("bed-whole", "title", "AC")
    assert draft.future == ()


def test_what_is_put_back_by_hand_leaves_nothing_to_save(draft):
    was = draft.shot("bed-whole").values["count"]
    assert not draft.change("bed-whole", "count", 9).change("bed-whole", "count", was).changed
    assert draft.change("bed-whole", "count", was) == draft


def test_a_new_shot_is_like_the_one_before_it_and_takes_its_changes_up(draft):
    draft, new = draft.add("bed-whole")
    ids = [one.id for one in draft.shots]
    assert ids.index(new) == ids.index("bed-whole") + 1
    draft = draft.change(new, "count", 4).rename(new, "bed-plate")
    assert draft.edits == (AddShot("bed-whole", draft.edits[0].values),)
    assert (draft.edits[0].values["id"], draft.edits[0].values["count"]) == ("bed-plate", 4)
    assert draft.is_new("bed-plate")
    assert draft.rename("bed-plate", "bed-whole") == draft
    assert draft.id_trouble("bed-plate", "Bed Plate")
    assert not draft.remove("bed-plate").changed
    second, other = draft.add("bed-whole")
    assert other == new
    assert len(second.edits) == 2


def test_what_several_plans_share_is_not_changed_here():
    shared = Draft((ShotSheet({"id": "a", "title": "A"}, "papers.yaml"),))
    assert shared.change("a", "title", "B") == shared.remove("a") == shared.add("a")[0] == shared


def test_every_field_gives_back_what_it_shows(draft):
    for shot in draft.shots:
        for key in FIELDS:
            name, value = said(shot, key, shown(shot, key))
            now = shot.values.get(name)
            assert value == now or (now is None and value in ("", [], None)) or key == "lens"


def test_what_does_not_fit_a_field_stays_as_typed_for_the_check(draft):
    shot = draft.shot("bed-whole")
    assert said(shot, "count", "two") == ("count", "two")
    assert said(shot, "lens", "wide")[1]["lens"] == "wide"
    assert said(shot, "lens", "28 - 50 mm")[1]["lens"] == [28, 50]
    assert said(shot, "when", "  ") == ("when", None)
    assert said(shot, "must", " a \n\n b")[1] == ["a", "b"]


def test_the_verdict_names_the_field(draft):
    page = plan_scenes.opened()
    draft = draft.change("bed-whole", "when", "bed_linr")
    found = verdict(plan_scenes.tried(page, draft.edits), "bed-whole")
    assert found.wrong
    assert "when" in dict(found.fields)
    assert "bed_liner" in found.lines[0]
    assert verdict(None).wrong
    assert not verdict(page.tried).wrong


def test_edits_are_gathered_without_changing_what_they_mean():
    shots = (ShotSheet({"id": "a", "count": 1}), ShotSheet({"id": "b", "count": 1}))
    edits = (
        ChangeShot("a", "count", 2),
        AddShot("a", {"id": "c", "count": 1}),
        ChangeShot("a", "count", 3),
        ChangeShot("c", "count", 5),
        AddShot("c", {"id": "d"}),
        RemoveShot("c"),
        RemoveShot("b"),
    )
    assert edited(shots, gathered(edits)) == edited(shots, edits)
    assert len(gathered(edits)) < len(edits)


def test_a_copy_wants_a_title_and_an_id():
    assert copy_of("p", " our-p ", " Ours ", differences=True) == PlanCopy("p", "our-p", "Ours", True)
    assert "title" in copy_of("p", "our-p", " ", differences=True)
    assert "small letters" in copy_of("p", "Our P", "Ours", differences=True)
    assert id_from("Our: Walk, 2nd") == "our-walk-2nd"
