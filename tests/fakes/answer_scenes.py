"""What the answer desk found on the demo car and its neighbours, built from the shipped files without a workspace."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from functools import cache

from fakes import demo_walk
from lapseam import places, plans
from lapseam.domain.answers import Answer, Entry, Hit, PhotoRead, age_of_entry, entries
from lapseam.domain.call import AnswerBasis, Call
from lapseam.domain.car import House
from lapseam.domain.coverage import check
from lapseam.workflow.calling import Promise

TODAY = date(2026, 5, 15)
LATER = date(2026, 9, 1)


@cache
def _entries() -> tuple[Entry, ...]:
    car = demo_walk.noted_car()
    return entries(car, check(car))


def questions() -> tuple[str, ...]:
    """The questions that callers ask."""
    return tuple(one.words for one in plans.load_search_words(places.shot_plans() / "vocabulary").questions)


def _hit(entry: Entry, stock: str, today: date) -> Hit:
    photos = tuple(PhotoRead(one.sha256, one.name) for one in entry.photos)
    return Hit(stock, entry, age_of_entry(entry, today=today, house=House()), photos)


def found(asked: str, *words: str, stock: str = "T-114", today: date = TODAY) -> Answer:
    """An answer of every entry that holds one of `words`, in the record's own order."""
    questions = plans.load_search_words(places.shot_plans() / "vocabulary").questions
    hits = [_hit(one, stock, today) for one in _entries() if any(word in one.words.casefold() for word in words)]
    hits.sort(key=lambda hit: (not hit.entry.answers, -hit.entry.rank))
    return Answer(asked, tuple(hits[:40]), next((one for one in questions if one.words == asked), None))


def promises() -> tuple[Promise, ...]:
    """Three callers who wait: one too long, one today, one in time."""
    at = datetime(2026, 5, 11, 10)
    asked = (
        ("T-114", "Are the floor pans dry under the carpet?", "", 3),
        ("T-120", "Does the heater blow warm?", "the heater, after the test", 0),
        ("T-117", "Is there an invoice for the clutch?", "", -2),
    )
    return tuple(
        Promise(
            stock,
            Call(
                number,
                question,
                "I don't know that. I will have it looked at and call you.",
                AnswerBasis.NOT_KNOWN,
                "Ada Lindqvar",
                at,
                caller="Caller from the north",
                call_back=TODAY - timedelta(days=late),
                promise=promise,
            ),
            late,
        )
        for number, (stock, question, promise, late) in enumerate(asked, 1)
    )
