"""What the Edition shows, worked out without Qt: groups, captions, reasons, and where a dragged photo goes."""

from __future__ import annotations

from dataclasses import replace

import pytest

from fakes.next_edition import in_the_making
from lapseam.desktop.screens.edition.state import EditionScreen, edition_screen, moved, no_car
from lapseam.domain.decision import Arranged, Caption

BY, SIDE = "lister", "gg-outside"


@pytest.fixture(scope="module")
def screen() -> EditionScreen:
    return edition_screen(in_the_making(), ())


def group(screen: EditionScreen, name: str) -> list[str]:
    return [one.sha256 for part in screen.groups if part.id == name for one in part.places]


def test_without_a_car_it_says_what_to_do() -> None:
    assert no_car().empty[0] == "No car is open."
    assert "Yard" in no_car().empty[1]


def test_numbers_run_through_and_the_flaws_keep_theirs(screen: EditionScreen) -> None:
    once = [place.number for place in screen.places if not place.again]
    assert once == list(range(1, len(once) + 1))
    again = [place for place in screen.places if place.again]
    assert again
    assert all(place.number in once for place in again)
    assert [place.leads for place in screen.places].count(True) == 1


def test_lead_and_flaws_cannot_be_moved_the_others_can(screen: EditionScreen) -> None:
    assert {place.movable for place in screen.places if place.group in ("gg-lead", "gg-flaws")} == {False}
    assert all(place.movable for place in screen.places if place.group == SIDE)


def test_a_dragged_photo_stands_before_the_one_it_was_dropped_on(screen: EditionScreen) -> None:
    order = group(screen, SIDE)
    assert moved(screen, order[3], order[1]) == (SIDE, (order[0], order[3], order[1], order[2], *order[4:]))
    assert moved(screen, order[0], "") == (SIDE, (*order[1:], order[0]))


def test_a_drop_that_moves_nothing_is_no_step(screen: EditionScreen) -> None:
    order = group(screen, SIDE)
    assert moved(screen, order[1], order[2]) is None
    assert moved(screen, order[1], order[1]) is None
    assert moved(screen, order[-1], "") is None
    assert moved(screen, order[1], group(screen, "gg-inside")[0]) is None
    assert moved(screen, group(screen, "gg-lead")[0], order[0]) is None


def test_reasons_that_stop_come_first(screen: EditionScreen) -> None:
    stops = [reason.stops for reason in screen.reasons]
    assert stops == sorted(stops, reverse=True)
    assert screen.stopped_by == sum(stops) > 0
    assert not screen.signed
    assert "UNSIGNED" in screen.standing


def test_a_caption_and_an_order_of_our_own_are_told() -> None:
    usual = in_the_making()
    order = group(edition_screen(usual, ()), SIDE)
    car = usual.review.car
    words = Caption(order[0], "Left side at the hall door", BY, car.findings[0].at)
    turned = Arranged(SIDE, (order[1], order[0]), BY, words.at)
    car = replace(car, captions={words.key: words}, arranged={turned.key: turned})
    screen = edition_screen(in_the_making(car), ())
    place = screen.place(order[0])
    assert place is not None
    assert place.own == "Left side at the hall door"
    assert place.caption.startswith("Left side at the hall door")
    assert group(screen, SIDE)[:2] == [order[1], order[0]]
    assert [part.id for part in screen.groups if part.arranged] == [SIDE]
