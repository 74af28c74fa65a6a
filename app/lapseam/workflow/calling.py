"""Verbs about callers: log what was asked and told, keep promises, put things on a car's re-shoot list."""

from __future__ import annotations

from collections.abc import Sequence
from concurrent.futures import Future
from dataclasses import dataclass, replace
from datetime import date
from typing import cast

from lapseam.domain import coverage as covering
from lapseam.domain.admission import unknown
from lapseam.domain.answers import Entry, entries
from lapseam.domain.call import AnswerBasis, Asked, Call, Wanted
from lapseam.domain.car import Car
from lapseam.domain.changes import Changes
from lapseam.domain.errors import Mistake, NotFound

from .office import Choice, Done, Office, photo_called

NOT_KNOWN_ANSWER = "I don't know that. I will have it looked at and call you."
"""What is read out where the record is silent."""


@dataclass(frozen=True, slots=True)
class Promise:
    """A promise to call back that nobody has kept yet; `days_late` is below zero while there is time."""

    stock: str
    call: Call
    days_late: int


@dataclass(frozen=True, slots=True)
class ToLookAt:
    """One open line of a car's re-shoot list."""

    stock: str
    asked: Asked


class Calling(Office):
    """What callers ask for and are told."""

    def want(self, *, stock: str, question: str, by: str, about: str = "") -> Future[Done]:
        """Put something on the car's re-shoot list: a shot, check, measurement or component by its id.

        Without an id the question stands for itself, in the caller's words.
        """

        def choose(car: Car) -> Choice:
            number = self._workspace.book.next_number(stock, "asked")
            wanted = _wanted(car, about)
            asked = Asked(number, wanted, about, question, by, self.now())
            return (asked,), (), f"To look at, number {number}: {about or question}"

        return self._decide(stock, verb="want", by=by, choose=choose, changes=Changes.CALLS)

    def dealt_with(self, *, stock: str, number: int, by: str, words: str = "", on: date | None = None) -> Future[Done]:
        """Say that a line of the re-shoot list was dealt with."""

        def choose(car: Car) -> Choice:
            asked = cast(Asked, _numbered(car.asked, number, "line of the re-shoot list", f"lapseam want {stock}"))
            done = replace(asked, done=on or self.now().date(), done_by=by, done_words=words)
            return (done,), (), f"Dealt with number {number} of the re-shoot list"

        return self._decide(stock, verb="want", by=by, choose=choose, changes=Changes.CALLS)

    def to_look_at(self) -> Future[tuple[ToLookAt, ...]]:
        """Every open line of every car's re-shoot list, oldest first."""

        def read() -> tuple[ToLookAt, ...]:
            found = (ToLookAt(stock, cast(Asked, one)) for stock, one in self._workspace.book.every("asked"))
            return tuple(sorted((one for one in found if one.asked.is_open), key=lambda one: one.asked.at))

        return self.runner.on_book(read)

    def log_call(
        self,
        *,
        stock: str,
        question: str,
        by: str,
        answer: str = "",
        basis: AnswerBasis | None = None,
        known_by: str = "",
        source: str = "",
        edition: int | None = None,
        caller: str = "",
        sent: str = "",
        photos: Sequence[str] = (),
        call_back: date | None = None,
        promise: str = "",
    ) -> Future[Done]:
        """Log a question and the answer as it was read out.

        `source` names the entry of the record that was read out ("finding:3"): what is left out of answer, basis and
        `known_by` is taken from it. Without an answer and a source it is logged that nobody knows. The edition is the
        last one unless another is named.

        Raises (in the future):
            NotFound: no such car, photo, entry or edition. Mistake: an answer without its basis.
        """

        def choose(car: Car) -> Choice:
            number = self._workspace.book.next_number(stock, "call")
            told = _told(car, answer, basis, known_by, source)
            call = Call(
                number=number,
                question=question,
                answer=told[0],
                basis=told[1],
                by=by,
                at=self.now(),
                known_by=told[2],
                source=source,
                edition=self._edition_read(stock, edition),
                caller=caller,
                sent=sent,
                photos=tuple(photo_called(car, name).sha256 for name in photos),
                call_back=call_back,
                promise=promise,
            )
            return (call,), (), f"Call {number}: {question}"

        return self._decide(stock, verb="call", by=by, choose=choose, changes=Changes.CALLS)

    def kept(self, *, stock: str, number: int, by: str, words: str = "", on: date | None = None) -> Future[Done]:
        """Say that the promise of a call was kept."""

        def choose(car: Car) -> Choice:
            call = cast(Call, _numbered(car.calls, number, "call", f"lapseam call {stock}"))
            done = replace(call, kept=on or self.now().date(), kept_by=by, kept_words=words)
            return (done,), (), f"Called back about call {number}"

        return self._decide(stock, verb="call", by=by, choose=choose, changes=Changes.CALLS)

    def promises(self) -> Future[tuple[Promise, ...]]:
        """Every promise of every car that is still open, the longest overdue first."""

        def read() -> tuple[Promise, ...]:
            today = self.now().date()
            found = ((stock, cast(Call, one)) for stock, one in self._workspace.book.every("call"))
            open_ones = (
                Promise(stock, call, (today - call.call_back).days)
                for stock, call in found
                if call.call_back is not None and call.promised
            )
            return tuple(sorted(open_ones, key=lambda one: (-one.days_late, one.stock, one.call.number)))

        return self.runner.on_book(read)

    def _edition_read(self, stock: str, edition: int | None) -> int | None:
        """The number of the edition that the answer stood on: the one named, else the last, None without any."""
        known = [row.number for row in self._workspace.book.editions(stock)]
        if edition is not None and edition not in known:
            there = f"It has: {', '.join(map(str, known))}." if known else "It has none yet."
            raise NotFound(f"Car {stock} has no edition {edition}.", effect=there)
        return edition if edition is not None else max(known, default=None)


def _wanted(car: Car, about: str) -> Wanted:
    """On which list of the car's plan the id stands.

    Raises:
        NotFound: on none.
    """
    words = car.plan.vocabulary
    lists: dict[Wanted, Sequence[str]] = {
        Wanted.SHOT: [shot.id for shot in car.plan.shots],
        Wanted.CHECK: tuple(words.checks),
        Wanted.MEASURE: tuple(words.measurements),
        Wanted.COMPONENT: tuple(words.components()),
    }
    if not about:
        return Wanted.OTHER
    found = next((wanted for wanted, ids in lists.items() if about in ids), None)
    if found is None:
        told = unknown(about, "shot, check, measurement or component", [one for ids in lists.values() for one in ids])
        raise NotFound(
            told[0].upper() + told[1:] + ".",
            next_step=f"Take the id that this names: lapseam ask --car {car.stock} WORDS; or leave --about out.",
        )
    return found


def _numbered(rows: Sequence[Asked | Call], number: int, what: str, lists: str) -> Asked | Call:
    found = next((one for one in rows if one.number == number), None)
    if found is None:
        raise NotFound(f"There is no {what} with number {number}.", next_step=f"List them with: {lists}")
    return found


def _told(car: Car, answer: str, basis: AnswerBasis | None, known_by: str, source: str) -> tuple[str, AnswerBasis, str]:
    """Answer, basis and how it is known; from the record's entry where they were left out."""
    entry = _entry(car, source) if source else None
    if entry is not None:
        how = AnswerBasis(entry.how.value) if entry.how is not None else AnswerBasis.NOT_KNOWN
        named = ", ".join((entry.basis, *(photo.name for photo in entry.photos)))
        return answer or entry.words, basis or how, known_by or named.strip(", ")
    if not answer:
        return NOT_KNOWN_ANSWER, basis or AnswerBasis.NOT_KNOWN, known_by
    if basis is None:
        raise Mistake(
            "An answer needs its basis.",
            effect="Nothing was written.",
            next_step="Say how it is known (seen, measured, tested, documented, told, not-checked), or not-known.",
        )
    return answer, basis, known_by


def _entry(car: Car, key: str) -> Entry:
    known = {one.key: one for one in entries(car, covering.check(car))}
    if key not in known:
        told = unknown(key, "entry of this car's record", known)
        raise NotFound(told[0].upper() + told[1:] + ".", next_step=f"Ask first: lapseam ask --car {car.stock} WORDS")
    return known[key]
