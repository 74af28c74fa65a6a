"""Wishes and postings enter the record only whole; neither takes a signature off."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest

from fakes import cars
from lapseam.domain.admission import objections
from lapseam.domain.car import Car
from lapseam.domain.posting import OutletWishes, PostedPhoto, Posting, Price, outlet_key
from lapseam.domain.selection_rules import TextForm

WHO, AT = cars.ANNA, cars.NOON
WIDE = cars.photo("wide").sha256
WISHES = OutletWishes("Weekly sheet", WHO, AT, pins=(WIDE,), order=(WIDE,))
POSTING = Posting(
    1, "Weekly sheet", 1, AT, WHO, AT,
    (PostedPhoto(1, WIDE, "01-front.jpg", "ab" * 32, "Front."),),
    "A car", "A car.", "A car.\n", TextForm.PLAIN, "outlets/weekly-sheet/0001", "cd" * 32,
    Price("24500", "USD", date(2030, 1, 1)),
)  # fmt: skip


def car() -> Car:
    return cars.car([cars.photo("wide")])


def said(decision: OutletWishes | Posting) -> str:
    return "; ".join(objections(decision, car()))


def test_what_is_whole_comes_in() -> None:
    assert said(WISHES) == ""
    assert said(POSTING) == ""
    assert said(replace(POSTING, price=None, down=AT, down_by=WHO)) == ""


@pytest.mark.parametrize(
    ("change", "objection"),
    [
        ({"outlet": " "}, "name is empty"),
        ({"outlet": "x" * 61}, "at most 60"),
        ({"pins": ("f" * 64,)}, "not among this car's photos"),
        ({"bans": (WIDE,)}, "both in and out"),
        ({"order": (WIDE, WIDE)}, "named twice"),
        ({"by": ""}, "nobody's name"),
    ],
)
def test_wishes_are_refused_in_words(change: dict[str, object], objection: str) -> None:
    assert objection in said(replace(WISHES, **change))  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("change", "objection"),
    [
        ({"outlet": ""}, "name is empty"),
        ({"edition": 0}, "count from 1"),
        ({"title": " "}, "needs the title"),
        ({"bag_sha256": ""}, "checksums of its kept copy"),
        ({"photos": (replace(POSTING.photos[0], place=2),)}, "without a gap"),
        ({"photos": (replace(POSTING.photos[0], sha256="f" * 64),)}, "not among this car's photos"),
        ({"photos": (replace(POSTING.photos[0], file_sha256="short"),)}, "checksums"),
        ({"price": Price("24,500", "USD")}, "is no price"),
        ({"price": Price("0", "USD")}, "is no price"),
        ({"price": Price("-5", "USD")}, "is no price"),
        ({"price": Price("24500", "dollars")}, "is no currency"),
        ({"price": Price("24500", "USD", date(2020, 1, 1))}, "ends before"),
        ({"down": AT - timedelta(days=1), "down_by": WHO}, "before it was up"),
        ({"down": AT}, "who took it down"),
        ({"by": "lapseam"}, "only a person"),
    ],
)
def test_a_posting_is_refused_in_words(change: dict[str, object], objection: str) -> None:
    assert objection in said(replace(POSTING, **change))  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("first", "days", "seen"), [(-2, 1, False), (-1, 1, False), (0, 1, True), (2, 1, True), (3, 1, True), (4, 1, False)]
)
def test_a_posting_was_seen_between_its_beginning_and_its_end(first: int, days: int, seen: bool) -> None:
    midnight = AT.replace(hour=0)
    posting = replace(POSTING, since=midnight, down=midnight + timedelta(days=3, hours=1), down_by=WHO)
    begin = midnight + timedelta(days=first)
    assert posting.seen_between(begin, begin + timedelta(days=days)) is seen
    assert replace(posting, down=None).seen_between(begin, begin + timedelta(days=days)) is (first >= 0)


def test_one_outlet_is_one_however_it_is_written() -> None:
    assert outlet_key(" Weekly  SHEET") == outlet_key("weekly sheet")
