"""Marks being set by keys and by mouse, as values: shares of the upright picture, never outside it."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lapseam.desktop.screens.findings.marking import LEAP, STEP, Marking, mark_between, shifted
from lapseam.domain.finding import Mark, MarkShape

A, B = "a" * 64, "b" * 64
SHARE = st.floats(-0.5, 1.5, allow_nan=False)


def test_a_point_stands_where_the_cross_is():
    marking = Marking().moved(LEAP, 0).moved(0, -STEP).pointed(A)
    assert marking.marks == (Mark(A, MarkShape.POINT, 0.55, 0.49),)


def test_a_box_is_begun_and_ended_by_the_same_key_whichever_way_the_cross_went():
    marking = Marking().boxed(A)
    assert (marking.begun, marking.marks) == ((0.5, 0.5), ())
    marking = marking.moved(-0.2, -0.1).boxed(A)
    assert marking.begun is None
    assert marking.marks == (Mark(A, MarkShape.BOX, 0.3, 0.4, 0.2, 0.1),)


def test_a_box_of_no_size_was_meant_as_a_point():
    assert Marking().boxed(A).boxed(A).marks == (Mark(A, MarkShape.POINT, 0.5, 0.5),)


def test_numbers_count_through_the_finding():
    marking = Marking().pointed(A).pointed(B).put(0.1, 0.1).pointed(A)
    assert [number for number, _mark in marking.on(A)] == [1, 3]
    assert [number for number, _mark in marking.on(B)] == [2]


def test_a_mark_that_is_taken_up_moves_instead_of_the_cross_and_is_let_go():
    marking = Marking().pointed(A).put(0.1, 0.1).next_up(A).moved(0.25, 0)
    assert (marking.marks[0].x, marking.x) == (0.75, 0.1)
    assert marking.let_go().moved(0.1, 0).x == 0.2


def test_taking_up_goes_from_mark_to_mark_and_then_to_none():
    marking = Marking().pointed(A).pointed(B).pointed(A)
    first = marking.next_up(A)
    second = first.next_up(A)
    assert (first.held, second.held, second.next_up(A).held) == (0, 2, None)
    assert Marking().next_up(A).held is None


def test_what_is_up_is_taken_away_else_the_last_of_the_photo():
    marking = Marking().pointed(A).put(0.2, 0.2).pointed(A).pointed(B)
    assert [one.x for one in marking.next_up(A).taken_away(A).marks] == [0.2, 0.2]
    assert [one.sha256 for one in marking.taken_away(A).marks] == [A, B]
    assert Marking().taken_away(A) == Marking()
    assert [one.sha256 for one in marking.without(A).marks] == [B]


def test_the_topmost_mark_under_the_mouse_is_hit():
    marking = Marking().marked(A, 0.2, 0.2, 0.6, 0.6).put(0.4, 0.4).pointed(A)
    assert marking.hit(A, 0.41, 0.4, (0.02, 0.02)) == 1
    assert marking.hit(A, 0.25, 0.25, (0.02, 0.02)) == 0
    assert marking.hit(A, 0.9, 0.9, (0.02, 0.02)) is None
    assert marking.hit(B, 0.4, 0.4, (0.02, 0.02)) is None


@given(SHARE, SHARE, SHARE, SHARE)
def test_whatever_is_drawn_lies_inside_the_picture(x: float, y: float, to_x: float, to_y: float):
    mark = mark_between(A, x, y, to_x, to_y)
    inside(mark)
    inside(shifted(mark, to_x, y))


def inside(mark: Mark) -> None:
    assert 0 <= mark.x <= mark.x + mark.width <= 1.0001
    assert 0 <= mark.y <= mark.y + mark.height <= 1.0001
    assert (mark.shape is MarkShape.POINT) == (mark.width == mark.height == 0)


@pytest.mark.parametrize(("across", "down"), [(5, 0), (-5, 0), (0, 5), (0, -5)])
def test_the_cross_stays_inside(across: float, down: float):
    marking = Marking().moved(across, down)
    assert 0 <= marking.x <= 1
    assert 0 <= marking.y <= 1
