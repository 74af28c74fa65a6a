"""The Walk's screen as a value: what it says for each moment of a walk."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest

from fakes import cars
from fakes.demo_walk import full_plan, new_car, noted_car
from lapseam.desktop.screens.walk.state import (
    close_words,
    frames_words,
    next_open,
    short_setup,
    shot_to_resume,
    twin_of,
    verdict_words,
    walk_screen,
)
from lapseam.domain.coverage import check
from lapseam.domain.decision import PROGRAM, Closed, Sight, Slot
from lapseam.domain.quality import Verdict, Word


def _screen(car, shot="", **parts):
    return walk_screen(car, check(car), shot, **parts)


def test_a_fresh_walk_begins_at_the_first_shot_with_every_box_open():
    screen = _screen(cars.car())
    assert screen.shot is not None
    assert screen.shot.shot == "left-profile"
    assert screen.last is None
    assert [row.sight for row in screen.shot.must] == [None]
    assert screen.headline == "6 of 6 shots open"


def test_setups_stand_as_chapters_with_what_is_open():
    screen = _screen(cars.car(), "front-rails")
    assert [(one.id, one.open, one.shots, one.current) for one in screen.chapters] == [
        ("s1-outside", 4, 4, False),
        ("s2-lift", 2, 2, True),
    ]


def test_ticks_show_on_the_rows_they_belong_to():
    rocker = next(shot for shot in cars.shots() if shot.id == "left-rocker")
    car = cars.car(
        [cars.photo("a")],
        cars.placed("left-rocker", "a", slot=Slot.CONTEXT),
        cars.ticked(rocker, "a", "drain-holes"),
        cars.ticked(rocker, "a", "lower-edge", sight=Sight.COATED),
    )
    screen = _screen(car, "left-rocker")
    assert [(row.words, row.sight, row.key) for row in screen.shot.must] == [
        ("Lower edge", Sight.COATED, "1"),
        ("Drain holes", Sight.SEEN, "2"),
    ]
    assert screen.shot.frames_words == "1 of 1 frames: close proof still wanted"
    assert screen.last.words == "a.jpg, context"


def test_a_tick_on_a_frame_that_nobody_accepted_does_not_count():
    rocker = next(shot for shot in cars.shots() if shot.id == "left-rocker")
    car = cars.car([cars.photo("a")], cars.placed("left-rocker", "a", by=PROGRAM), cars.ticked(rocker, "a"))
    screen = _screen(car, "left-rocker")
    assert {row.sight for row in screen.shot.must} == {None}
    assert screen.shot.frames_words == "0 of 1 frames, 1 proposed: context and close proof still wanted"


def test_next_goes_round_the_setup_and_then_offers_to_close_it():
    car = cars.complete()
    plan = car.plan
    coverage = check(car)
    only = plan.shot("left-badge")
    assert next_open(coverage, only) == ""
    screen = walk_screen(car, coverage, "left-badge")
    assert screen.next_words == "Close setup"
    fresh = check(cars.car())
    assert next_open(fresh, plan.shot("vin-plate")) == "left-profile"
    assert next_open(fresh, plan.shot("left-profile")) == "left-rocker"


def test_going_on_takes_up_after_the_last_frame():
    first, second = cars.placed("left-profile", "a"), cars.placed("front-rails", "b")
    later = tuple(replace(one, at=one.at + timedelta(hours=1)) for one in second)
    car = cars.car([cars.photo("a"), cars.photo("b")], first, later)
    assert shot_to_resume(car, check(car)) == "front-rails"
    assert shot_to_resume(noted_car(), check(noted_car())) != shot_to_resume(new_car(), check(new_car()))


def test_a_shot_that_hangs_on_an_unanswered_fact_asks_it():
    car = replace(cars.car(), facts={})
    screen = _screen(car, "front-boxes")
    assert screen.shot.question.words == "Has it torque boxes?"
    assert [choice.words for choice in screen.shot.question.choices] == ["Yes", "No", "Unknown"]


def test_a_closed_shot_can_be_reopened():
    screen = _screen(cars.car([], cars.closed("front-rails", Closed.NOT_REACHABLE)), "front-rails")
    assert screen.shot.closed


@pytest.mark.parametrize(
    ("verdict", "said", "again"),
    [
        (Verdict(Word.GOOD, Word.GOOD, ("sharp", "light good"), True), ("Sharp", "Light good"), ""),
        (
            Verdict(Word.SOFT, Word.GOOD, ("soft: x", "light good"), False),
            ("Soft", "Light good"),
            "soft: x; light good",
        ),
        (Verdict(Word.CANNOT_JUDGE, Word.DARK, ("dark",), False), ("Sharpness not judged", "Dark"), "dark"),
    ],
)
def test_a_verdict_is_said_in_words(verdict: Verdict, said: tuple[str, str], again: str):
    words = verdict_words(verdict)
    assert (words.sharpness, words.light) == said
    assert words.again == again


def test_the_other_side_is_shown_beside():
    car = noted_car()
    screen = _screen(car, "ext-right-rocker")
    assert twin_of(car.plan, car.plan.shot("ext-right-rocker")).id == "ext-left-rocker"
    assert screen.beside[0].words == "Other side: Left rocker and door lower edge"


def test_an_instruction_that_only_points_to_the_other_side_brings_it_along():
    screen = _screen(noted_car(), "ext-right-rocker")
    there = full_plan().shot("ext-left-rocker").framing
    assert screen.shot.instruction.endswith(there)
    assert screen.shot.instruction != there


def test_every_shot_of_the_shipped_plan_has_a_card():
    car = new_car()
    coverage = check(car)
    for line in coverage.shots:
        shot = walk_screen(car, coverage, line.shot.id).shot
        assert shot.title
        assert shot.instruction
        assert shot.stand.words
        assert len(shot.cautions) == len(line.shot.cautions)
        assert len(shot.must) == len(line.shot.must) <= 9


def test_close_words_name_distance_and_scale():
    assert close_words(full_plan().shot("under-right-sill")) == "from 0.4 m or nearer, with scale card and arrow"
    assert close_words(full_plan().shot("ext-front")) == ""


def test_short_names_of_setups_stop_at_the_first_comma_or_colon():
    assert short_setup("On the lift: wheels, wells, underside") == "On the lift"
    assert short_setup("Road test and leak check") == "Road test and leak check"


def test_a_plan_on_which_nothing_applies_says_what_to_do():
    plan = replace(cars.plan(), shots=())
    screen = _screen(cars.car(plan=plan))
    assert screen.shot is None
    assert all(screen.empty)


def test_frames_words_of_an_ordinary_shot():
    shot = cars.shots()[0]
    assert frames_words(shot, ()) == "0 of 1 frames"
    assert frames_words(shot, cars.placed("left-profile", "a")) == "1 of 1 frames"
