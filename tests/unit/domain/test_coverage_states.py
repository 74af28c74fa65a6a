"""States of shots, components and places, one rule of the docstrings a test."""

from __future__ import annotations

import pytest

from fakes import cars
from lapseam.domain.condition import Condition
from lapseam.domain.coverage import Coverage, Outcome, ShotCoverage, State, check
from lapseam.domain.decision import PROGRAM, Closed, Placement, Sight, Slot, Sureness, Target, WaiverOf
from lapseam.domain.finding import FindingState
from lapseam.domain.photo import MediaKind
from lapseam.domain.plan import Media

SHOTS = {shot.id: shot for shot in cars.shots()}


def shot_of(coverage: Coverage, shot_id: str) -> ShotCoverage:
    return next(covered for covered in coverage.shots if covered.shot.id == shot_id)


def component_of(coverage: Coverage, part: str):
    return next(covered for covered in coverage.components if covered.component.id == part)


def place_of(coverage: Coverage, place: str):
    return next(covered for covered in coverage.places if covered.place.id == place)


def test_the_complete_car_has_no_gap():
    coverage = check(cars.complete())
    assert {covered.state for covered in coverage.shots} == {State.COVERED}
    assert {covered.state for covered in coverage.places} == {State.COVERED}
    assert {covered.outcome for covered in coverage.components} == {Outcome.NOTHING_FOUND}
    assert coverage.gaps == () == coverage.unanswered


def test_a_false_condition_takes_the_shot_off_the_list():
    ids = [covered.shot.id for covered in check(cars.car([], cars.facts(torque_boxes=False))).shots]
    assert "front-boxes" not in ids
    assert "roof-cloth" not in ids, "the zone's condition is false"


def test_an_unknown_fact_leaves_shot_component_and_place_to_decide():
    unanswered = cars.car_from("T-2", cars.plan(), [], cars.facts(skin="steel"), 1)
    coverage = check(unanswered)
    assert (shot_of(coverage, "front-boxes").state, shot_of(coverage, "front-boxes").asks) == (
        State.DECIDE,
        ("torque_boxes",),
    )
    assert shot_of(coverage, "roof-cloth").asks == ("vinyl_roof",)
    assert component_of(coverage, "front-boxes").state is State.DECIDE
    assert place_of(coverage, "rp-rails").asks == ("construction",)
    assert coverage.unanswered == ("construction", "torque_boxes", "vinyl_roof")


def test_a_place_on_a_part_that_the_car_does_not_have_is_left_out():
    plan = cars.plan()
    elsewhere = cars.replace(plan.vocabulary.zones["under-front"], when=Condition("construction == 'ladder-frame'"))
    gone = {**plan.vocabulary.zones, "under-front": elsewhere}
    plan = cars.replace(plan, vocabulary=cars.replace(plan.vocabulary, zones=gone))
    assert [covered.place.id for covered in check(cars.car(plan=plan)).places] == ["rp-rocker"]


def test_a_neighbour_that_the_car_has_does_not_bring_the_place_in():
    plan = cars.plan()
    boxes = cars.replace(plan.vocabulary.rust_places["rp-rails"], components=("front-boxes", "front-rails"))
    plan = cars.replace(plan, vocabulary=cars.replace(plan.vocabulary, rust_places={"rp-rails": boxes}))
    assert check(cars.car([], cars.facts(torque_boxes=False), plan=plan)).places == ()
    assert len(check(cars.car(plan=plan)).places) == 1


def test_a_proposal_and_an_accepted_frame_without_a_tick_are_both_only_taken():
    photo = cars.photo("a")
    proposed = shot_of(check(cars.car([photo], cars.placed("left-profile", "a", by=PROGRAM))), "left-profile")
    accepted = shot_of(check(cars.car([photo], cars.placed("left-profile", "a"))), "left-profile")
    assert (proposed.state, proposed.accepted) == (State.TAKEN, 0)
    assert (accepted.state, accepted.accepted) == (State.TAKEN, 1)


def test_a_tick_by_a_person_accepts_a_proposed_frame():
    rows = cars.placed("left-profile", "a", by=PROGRAM), cars.ticked(SHOTS["left-profile"], "a")
    covered = shot_of(check(cars.car([cars.photo("a")], *rows)), "left-profile")
    assert (covered.state, covered.accepted) == (State.COVERED, 1)


def test_the_program_cannot_tick():
    rows = cars.placed("left-profile", "a"), cars.ticked(SHOTS["left-profile"], "a", by=PROGRAM)
    assert shot_of(check(cars.car([cars.photo("a")], *rows)), "left-profile").state is State.TAKEN


def test_a_tick_on_a_frame_that_moved_elsewhere_is_worth_nothing():
    aside = Placement(cars.sha("a"), Target.ASIDE, cars.ANNA, cars.NOON, Sureness.DECIDED)
    rows = cars.placed("left-profile", "a"), cars.ticked(SHOTS["left-profile"], "a"), aside
    assert shot_of(check(cars.car([cars.photo("a")], *rows)), "left-profile").state is State.MISSED


def test_partly_names_every_missing_thing():
    rows = cars.placed("front-rails", "a", slot=Slot.CONTEXT), cars.ticked(SHOTS["front-rails"], "a", "left-rail")
    covered = shot_of(check(cars.car([cars.photo("a")], *rows)), "front-rails")
    assert covered.state is State.PARTLY
    assert covered.missing == ("right rail", "a frame: 1 of 2", "the proof frame")


def test_coated_metal_is_looked_at_and_still_partly():
    rocker = SHOTS["left-rocker"]
    rows = (
        cars.placed("left-rocker", "a", slot=Slot.CONTEXT),
        cars.placed("left-rocker", "b", slot=Slot.PROOF),
        cars.ticked(rocker, "a", "drain-holes"),
        cars.ticked(rocker, "b", "lower-edge", sight=Sight.COATED),
    )
    photos = [cars.photo("a"), cars.photo("b")]
    covered = shot_of(check(cars.car(photos, *rows)), "left-rocker")
    assert (covered.state, covered.missing) == (State.PARTLY, ("metal under coating",))
    seen = cars.ticked(rocker, "a", "lower-edge")
    assert shot_of(check(cars.car(photos, *rows, seen)), "left-rocker").state is State.COVERED


@pytest.mark.parametrize(("readings", "word"), [({"sharpness": 300.0}, "sharpness"), ({"mean_luma": 20.0}, "light")])
def test_what_stands_on_an_unusable_frame_only_is_partly(readings, word):
    bad = cars.photo("bad", pixels=cars.pixels(dhash="0" * 16, **readings))
    good = cars.photo("good", pixels=cars.pixels(dhash="0" * 16))
    rows = cars.placed("left-profile", "bad"), cars.ticked(SHOTS["left-profile"], "bad")
    covered = shot_of(check(cars.car([bad, good], *rows)), "left-profile")
    assert covered.state is State.PARTLY
    assert covered.missing == ("whole side", "a frame: 0 of 1", word)
    retaken = cars.placed("left-profile", "good"), cars.ticked(SHOTS["left-profile"], "good")
    assert shot_of(check(cars.car([bad, good], *rows, *retaken)), "left-profile").state is State.COVERED


def test_a_video_shot_wants_a_clip():
    film = cars.replace(SHOTS["left-profile"], media=Media.VIDEO)
    plan = cars.plan(shots=(film,))
    rows = cars.placed("left-profile", "a"), cars.ticked(film, "a")
    still = shot_of(check(cars.car([cars.photo("a")], *rows, plan=plan)), "left-profile")
    assert still.missing == ("a clip: 0 of 1",)
    clip = cars.photo("a", media=MediaKind.CLIP)
    assert shot_of(check(cars.car([clip], *rows, plan=plan)), "left-profile").state is State.COVERED


def test_a_closing_says_why_and_who():
    coverage = check(cars.car([], cars.closed("front-rails"), cars.closed("front-boxes", Closed.NOT_FITTED)))
    rails = shot_of(coverage, "front-rails")
    assert (rails.state, rails.reason) == (State.NOT_REACHABLE, "Not reachable: no lift at hand, says Anna Tern.")
    assert shot_of(coverage, "front-boxes").state is State.NOT_FITTED
    assert component_of(coverage, "front-rails").state is State.NOT_REACHABLE
    assert place_of(coverage, "rp-rails").state is State.NOT_REACHABLE


def test_a_place_with_one_half_missing_cannot_hide_behind_the_other():
    photos = [cars.photo("a"), cars.photo("b")]
    rows = (
        cars.placed("front-rails", "a", slot=Slot.CONTEXT),
        cars.placed("front-rails", "b", slot=Slot.PROOF),
        cars.ticked(SHOTS["front-rails"], "a"),
        cars.ticked(SHOTS["front-rails"], "b"),
    )
    place = place_of(check(cars.car(photos, *rows)), "rp-rails")
    assert (place.state, place.reason) == (State.PARTLY, "Still missing: Front boxes (missed).")
    assert (len(place.context), len(place.proof)) == (1, 1)


def test_a_place_needs_its_two_frames_ticked_each():
    rocker = SHOTS["left-rocker"]
    rows = (
        cars.placed("left-rocker", "a", slot=Slot.CONTEXT),
        cars.placed("left-rocker", "b", slot=Slot.PROOF),
        cars.ticked(rocker, "a"),
    )
    coverage = check(cars.car([cars.photo("a"), cars.photo("b")], *rows))
    assert shot_of(coverage, "left-rocker").state is State.COVERED
    place = place_of(coverage, "rp-rocker")
    assert (place.state, place.reason) == (State.PARTLY, "Still missing: the proof frame.")
    assert component_of(coverage, "left-rocker").state is State.PARTLY


def test_an_overview_is_no_proof_of_a_rust_prone_component():
    rows = cars.placed("left-profile", "a"), cars.ticked(SHOTS["left-profile"], "a")
    photos = [cars.photo("a")]
    assert component_of(check(cars.car(photos, *rows)), "left-doors").state is State.COVERED
    rocker = component_of(check(cars.car(photos, *rows)), "left-rocker")
    assert (rocker.state, rocker.reason.split(" Nobody")[0]) == (
        State.PARTLY,
        "Shown, but without the context frame and the proof frame.",
    )
    shut = component_of(check(cars.car(photos, *rows, cars.closed("left-rocker"))), "left-rocker")
    assert shut.state is State.NOT_REACHABLE


def test_a_skin_that_cannot_rust_asks_no_proof_of_its_skin_parts():
    rows = cars.placed("left-profile", "a"), cars.ticked(SHOTS["left-profile"], "a"), cars.facts(skin="composite")
    rocker = component_of(check(cars.car([cars.photo("a")], *rows)), "left-rocker")
    assert (rocker.component.rust, rocker.state) == (False, State.COVERED)
    assert component_of(check(cars.car([], cars.facts(skin="composite"))), "front-rails").component.rust


def test_silence_is_never_nothing_found_and_findings_win():
    def doors(*rows):
        return component_of(check(cars.car([], *rows)), "left-doors")

    outcome = {
        "silence": doors(),
        "looked": doors(cars.looked("left-doors")),
        "both": doors(cars.looked("left-doors"), cars.finding(7, "left-doors")),
        "corrected": doors(cars.finding(7, "left-doors", state=FindingState.CORRECTED)),
        "repaired": doors(cars.finding(7, "left-doors", state=FindingState.REPAIRED)),
    }
    assert {name: covered.outcome for name, covered in outcome.items()} == {
        "silence": Outcome.NOT_SEEN,
        "looked": Outcome.NOTHING_FOUND,
        "both": Outcome.FINDINGS,
        "corrected": Outcome.NOT_SEEN,
        "repaired": Outcome.FINDINGS,
    }
    assert outcome["both"].findings == (7,)
    assert outcome["both"].reason.endswith("Findings: 7. Mirek Osoba saw nothing else to report.")


def test_gaps_stand_by_what_they_cost():
    gaps = check(cars.car([], cars.waived(WaiverOf.SHOT, "front-rails"))).gaps
    assert [(gap.of, gap.subject) for gap in gaps] == [
        ("place", "rp-rails"),
        ("shot", "front-boxes"),
        ("place", "rp-rocker"),
        ("shot", "left-rocker"),
        ("shot", "left-profile"),
        ("shot", "vin-plate"),
        ("shot", "left-badge"),
        ("shot", "front-rails"),
    ]
    assert gaps[-1].words.endswith("Let stand: sold as seen (Vera Lind).")
    assert gaps[3].words == "Left rocker: not photographed yet; it wants a context frame and a proof frame (Outside)."


def test_a_component_that_no_shot_shows_is_a_gap_of_its_own():
    plan = cars.plan(shots=tuple(shot for shot in cars.shots() if shot.id != "left-badge"))
    gaps = {gap.subject: gap for gap in check(cars.car(plan=plan)).gaps if gap.of == "component"}
    assert list(gaps) == ["left-trim"]
    assert gaps["left-trim"].words.startswith("Left trim: No shot of this plan shows it.")


def test_a_zone_the_plan_does_not_walk_is_a_gap_only_where_it_rusts():
    walked = ("left-badge", "front-boxes")
    plan = cars.plan(shots=tuple(shot for shot in cars.shots() if shot.id in walked))
    gaps = [gap.subject for gap in check(cars.car(plan=plan)).gaps if gap.of == "component"]
    assert gaps == ["front-rails", "left-rocker", "left-doors"], "the plate's zone is not walked and does not rust"
