"""What the Edition shows, worked out without Qt: groups, captions, reasons, and where a dragged photo goes."""

from __future__ import annotations

from dataclasses import replace

import pytest

from fakes.next_edition import MADE_AT, in_the_making
from lapseam.desktop.screens.edition.outlet_state import OutletChoice, choices, outlet_screen
from lapseam.desktop.screens.edition.state import EditionScreen, edition_screen, moved, no_car
from lapseam.domain.decision import Arranged, Caption
from lapseam.domain.posting import OutletWishes
from lapseam.domain.selection import Chosen, Outlet, Selection, TextForm, Why
from lapseam.workflow.listing import ListingMade
from lapseam.workflow.outlets import OutletSet

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


def outlet_set(car, pins: tuple[str, ...] = ()) -> OutletSet:
    made = in_the_making(car)
    pictures = made.edition.gallery.pictures()[:4]
    chosen = tuple(
        Chosen(place, one.sha256, one.shot, one.number, (), Why.LIST, f"{one.caption.rstrip('.')}: on the list")
        for place, one in enumerate(pictures, 1)
    )
    text = ListingMade(car.stock, "Own page", 0, TextForm.PLAIN, "T", "t", "The text.", False, ())
    wishes = OutletWishes("Own page", BY, MADE_AT, pins=pins) if pins else None
    selection = Selection(4, chosen, unseen=("Odometer close: no photo.",))
    return OutletSet(
        Outlet("Own page", 4), selection, tuple(one.caption for one in pictures), False, text, wishes=wishes
    )


def test_an_outlet_tells_places_reasons_wishes_and_what_is_missing() -> None:
    car = in_the_making().review.car
    first = in_the_making().edition.gallery.pictures()[0].sha256
    choice = OutletChoice("Own page: 4 photos", name="Own page")
    screen = outlet_screen(choice, outlet_set(car, (first,)), car)
    assert [one.place for one in screen.places] == [1, 2, 3, 4]
    assert screen.places[0].wished == "wanted in"
    assert screen.places[0].reason == "on the list"
    assert screen.told == (("Listed, but not shown here", ("Odometer close: no photo.",)),)
    assert not screen.ready
    assert "UNSIGNED" in screen.standing
    order = [one.sha256 for one in screen.places]
    assert screen.moved(order[2], -1) == (order[0], order[2], order[1], order[3])
    assert screen.moved(order[0], -1) == ()
    assert screen.moved("0" * 64, 1) == ()


def test_without_outlets_of_the_house_the_trade_s_limits_are_tried() -> None:
    assert [one.limit for one in choices(())] == [12, 20, 24, 40, 100]
    assert [one.name for one in choices((Outlet("Own page", 30),))] == ["Own page"]
