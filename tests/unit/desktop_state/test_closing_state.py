"""Before the car comes down: the list is complete, in the right order, and asks for its reasons."""

from __future__ import annotations

from dataclasses import replace

import pytest

from fakes import cars
from fakes.demo_walk import noted_car
from lapseam.desktop.ribbon import is_open
from lapseam.desktop.screens.walk.closing import closing_screen
from lapseam.domain.coverage import State, check
from lapseam.domain.decision import WaiverOf


def _closing(car, setup="s2-lift", **parts):
    return closing_screen(car, check(car), setup, **parts)


def test_every_open_shot_of_the_setup_is_on_the_list_and_no_other():
    car = noted_car()
    coverage = check(car)
    screen = closing_screen(car, coverage, "s7-lift")
    wanted = {line.shot.id for line in coverage.shots if line.shot.setup == "s7-lift" and is_open(line)}
    assert {row.shot for row in screen.rows} == wanted
    assert len(screen.rows) == 30


def test_rust_prone_before_all_then_missed_before_partly_before_taken():
    rows = _closing(noted_car(), "s7-lift").rows
    rust = [row.rust for row in rows]
    assert rust == sorted(rust, reverse=True)
    rank = {State.MISSED: 0, State.DECIDE: 1, State.PARTLY: 2, State.TAKEN: 3}
    for kind in (True, False):
        states = [rank[row.cell.state] for row in rows if row.rust is kind]
        assert states == sorted(states)


def test_a_reason_is_wanted_for_each_rust_prone_gap_and_for_no_other():
    screen = _closing(cars.car(), "s1-outside")
    assert [row.shot for row in screen.rows if row.needs_reason] == ["left-rocker"]
    assert not screen.may_close
    assert screen.close_words == "1 reason wanted"
    given = screen.with_reason("left-rocker", "no-time")
    assert given.may_close
    assert given.close_words == "Close with 4 gaps"
    assert given.chosen == {"left-rocker": "no-time"}
    assert not given.with_reason("left-rocker", "").may_close


def test_a_waived_or_covered_shot_is_not_on_the_list():
    assert _closing(cars.complete()).clear
    car = cars.car([], cars.waived(WaiverOf.SHOT, "front-rails"))
    assert [row.shot for row in _closing(car).rows] == ["front-boxes"]


def test_a_question_stands_on_the_list_where_the_lift_is_the_moment_to_ask():
    car = replace(cars.car(), facts={})
    row = next(row for row in _closing(car).rows if row.shot == "front-boxes")
    assert row.why == "decide: Has it torque boxes?"


@pytest.mark.parametrize(
    ("left", "words"),
    [(None, ""), (18, "18 minutes left"), (1, "1 minute left"), (0, "0 minutes left"), (-5, "5 minutes over the slot")],
)
def test_the_minutes_of_the_slot_are_said(left: int | None, words: str):
    assert _closing(cars.car(), minutes_left=left).minutes == words


def test_the_headline_counts_and_names_the_rust_prone():
    assert _closing(cars.car()).headline == "2 shots still open, 2 rust-prone"
    assert _closing(cars.complete()).headline == "Nothing open here"


def test_reasons_chosen_before_are_kept_when_the_list_is_made_anew():
    screen = _closing(cars.car(), chosen={"front-rails": "no-lift"})
    assert {row.shot: row.reason for row in screen.rows} == {"front-rails": "no-lift", "front-boxes": ""}
