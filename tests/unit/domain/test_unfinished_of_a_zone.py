"""What of a zone is unfinished, and of which parts "nothing found" may be said at once."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from fakes import cars
from fakes.cars import finding, looked, photo, placed, sha, ticked
from lapseam.domain import coverage
from lapseam.domain.admission import objections
from lapseam.domain.car import Car
from lapseam.domain.decision import PROGRAM, Closed, Placement, Sight, Sureness, Target
from lapseam.domain.finding import FindingState, Severity
from lapseam.domain.finding_gaps import Lack, lacks_of
from lapseam.domain.jotting import Jotting
from lapseam.domain.signoff_case import Case
from lapseam.domain.signoff_said import RULES
from lapseam.domain.statement import CheckResult, CheckVerdict
from lapseam.domain.unfinished import Sweep, Todo, Why, sweep, ticked_frames, unfinished

SHOTS = {one.id: one for one in cars.shots()}
PROFILE = SHOTS["left-profile"]


def swept(car: Car, zone: str = "left-side") -> Sweep:
    return sweep(car, coverage.check(car), zone)


def parts(car: Car, zone: str = "left-side") -> list[str]:
    return [part for part, _ in swept(car, zone).parts]


def why(car: Car, zone: str = "left-side") -> dict[str, Why]:
    return {one.component.id: one.why for one in swept(car, zone).left_out}


def open_things(car: Car) -> list[str]:
    return [one.key for one in unfinished(car, coverage.check(car))]


def profile(*more: object, sight: Sight = Sight.SEEN, by: str = cars.MIREK) -> Car:
    """The side's overview, placed and ticked: it shows the doors and the rocker, not the trim."""
    rows = (placed("left-profile", "side"), ticked(PROFILE, "side", sight=sight, by=by))
    return cars.car([photo("side"), photo("context"), photo("close")], *rows, *more)  # type: ignore[arg-type]


def test_nothing_found_is_said_of_what_a_ticked_frame_shows_and_of_nothing_else():
    car = profile()
    assert swept(car).parts == (("left-rocker", (sha("side"),)), ("left-doors", (sha("side"),)))
    assert why(car) == {"left-trim": Why.NO_FRAME}


def test_a_frame_that_nobody_ticked_shows_nothing():
    car = cars.car([photo("side")], placed("left-profile", "side"))
    assert parts(car) == []
    assert set(why(car).values()) == {Why.NO_FRAME}


def test_the_program_s_own_tick_shows_nothing():
    assert parts(profile(by=PROGRAM)) == []


def test_a_frame_on_which_coating_hides_the_metal_is_no_sight_of_the_part():
    car = profile(sight=Sight.COATED)
    assert parts(car) == []
    assert why(car) == {"left-rocker": Why.COATED, "left-doors": Why.COATED, "left-trim": Why.NO_FRAME}


def test_a_tick_on_a_frame_that_was_moved_to_another_shot_shows_nothing():
    car = profile(placed("left-badge", "side"))
    assert parts(car) == []


@pytest.mark.parametrize("state", [FindingState.OPEN, FindingState.REPAIRED])
def test_never_of_a_part_that_has_a_finding(state: FindingState):
    car = profile(finding(4, "left-doors", state=state))
    assert parts(car) == ["left-rocker"]
    left = next(one for one in swept(car).left_out if one.component.id == "left-doors")
    assert (left.why, left.findings) == (Why.FINDINGS, (4,))


def test_a_corrected_finding_no_longer_stands_in_the_way():
    assert "left-doors" in parts(profile(finding(4, "left-doors", state=FindingState.CORRECTED)))


def test_never_twice():
    car = profile(looked("left-doors", "side"))
    assert parts(car) == ["left-rocker"]
    assert why(car)["left-doors"] is Why.SAID


def test_parts_the_car_does_not_have_or_may_not_have_are_left_out():
    boxes = SHOTS["front-boxes"]
    rows = (placed("front-boxes", "box"), ticked(boxes, "box"))
    assert parts(cars.car([photo("box")], *rows), "under-front") == ["front-boxes"]
    undecided = cars.car([photo("box")], *rows)
    undecided = replace(undecided, facts={k: v for k, v in undecided.facts.items() if k != "torque_boxes"})
    assert why(undecided, "under-front")["front-boxes"] is Why.DECIDE
    badge = cars.car([], cars.closed("left-badge", Closed.NOT_FITTED))
    assert why(badge)["left-trim"] is Why.NOT_FITTED


def test_what_is_swept_passes_the_gate():
    car = profile()
    for part, frames in swept(car).parts:
        assert objections(replace(looked(part), photos=frames), car) == ()


def test_a_part_that_is_shown_and_not_spoken_of_is_unfinished_and_one_that_nothing_shows_is_not():
    assert open_things(profile()) == ["part:left-rocker", "part:left-doors", "check:chk-horn"]
    assert open_things(profile(looked("left-rocker", "side"), looked("left-doors", "side"))) == ["check:chk-horn"]


def test_the_dearest_comes_first():
    jotting = Jotting(1, "left-side", "knock from the left", cars.ANNA, cars.NOON)
    grave = finding(9, "left-rocker", severity=Severity.STRUCTURAL, close=())
    car = profile(finding(2, "left-doors", extent=""), grave, jotting)
    assert open_things(car) == ["finding:9", "finding:2", "jotting:1", "check:chk-horn"]
    first = unfinished(car, coverage.check(car))[0]
    assert (first.of, first.zone, first.lacks) == (Todo.FINDING, "left-side", (Lack.CLOSE,))


def test_a_checked_function_is_finished_and_one_that_the_car_cannot_have_is_not_asked():
    result = CheckResult("chk-horn", CheckVerdict.WORKS, cars.MIREK, cars.NOON, on=cars.DAY)
    assert "check:chk-horn" not in open_things(cars.car([], result))


def test_frames_that_nobody_looked_at_and_extras_of_which_nothing_is_said():
    extra = Placement(sha("odd"), Target.EXTRA, cars.ANNA, cars.NOON, Sureness.DECIDED, zone="left-side")
    car = cars.car([photo("side"), photo("odd")], placed("left-profile", "side"), extra)
    assert open_things(car)[:2] == ["shot:left-profile", f"photo:{sha('odd')}"]
    said = cars.car([photo("odd")], extra, finding(1, "left-doors", context=(sha("odd"),), close=(sha("odd"),)))
    assert f"photo:{sha('odd')}" not in open_things(said)


def test_ticked_frames_name_every_frame_once():
    car = cars.car(
        [photo("a"), photo("b")],
        placed("left-rocker", "a"),
        placed("left-rocker", "b"),
        ticked(SHOTS["left-rocker"], "a"),
        ticked(SHOTS["left-rocker"], "b", "drain-holes"),
    )
    assert ticked_frames(car, coverage.check(car))["left-rocker"] == (sha("a"), sha("b"))


def repaired(**changes: object):
    made = {"state": FindingState.REPAIRED, "state_reason": "new metal", "state_on": date(2026, 5, 10)}
    return finding(1, "left-doors", **{**made, "after": (sha("after"),), **changes})


def test_a_repair_has_its_day_and_a_photo_of_the_place_since():
    car = cars.car([photo("context"), photo("close"), photo("after")])
    assert objections(repaired(), car) == ()
    assert objections(repaired(state_on=None), car) == ("repaired needs the day of the repair",)
    assert objections(repaired(after=()), car) == ("repaired needs a photo after the repair",)
    assert objections(repaired(state_on=date(2027, 1, 1)), car) == ("the day of the repair lies ahead",)
    assert "repaired needs its reason in words" in objections(repaired(state_reason=" "), car)[0]


def test_what_no_photo_can_show_is_repaired_without_one():
    car = cars.car([photo("context"), photo("close")])
    assert objections(repaired(kind="smell", after=(), no_photo_reason="a smell"), car) == ()


def test_what_is_unfinished_of_a_finding_is_what_stops_the_signature():
    bare = finding(1, "left-doors", place=" ", extent="", close=())
    car = cars.car([photo("context")], bare)
    assert lacks_of(bare, car) == (Lack.PLACE, Lack.CLOSE, Lack.EXTENT)
    told = RULES["so-finding-photo"](Case(car, coverage.check(car), cars.house(), cars.DAY))
    assert told == ("Finding 1 on left-doors lacks its place, a close frame, its extent.",)


def test_a_jotting_has_words_and_a_zone_of_the_plan():
    car = cars.car()
    good = Jotting(1, "left-side", "knock from the left", cars.ANNA, cars.NOON)
    assert objections(good, car) == ()
    assert objections(replace(good, text="  "), car) == ("the jotting is empty",)
    assert "no zone is called 'left-sid'" in objections(replace(good, zone="left-sid"), car)[0]
