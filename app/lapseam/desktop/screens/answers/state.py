"""The Answers as values: what was found for a question, and the promises still open. No Qt here."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from lapseam.domain.answers import GAPS, Answer, EntryKind, Hit
from lapseam.domain.call import AnswerBasis
from lapseam.workflow.calling import NOT_KNOWN_ANSWER, Promise

from ...words import _, _n

_BY_ID = frozenset(
    (
        EntryKind.FINDING,
        EntryKind.CHECK,
        EntryKind.MEASUREMENT,
        EntryKind.LOOKED,
        EntryKind.NOT_TESTED,
        EntryKind.NOT_SEEN,
        EntryKind.NOT_MEASURED,
        EntryKind.ASKED,
        EntryKind.PHOTO,
    )
)
"""Kinds of entries whose first id names a part, check, measurement or shot of the car's plan."""


@dataclass(frozen=True, slots=True)
class AnswerLine:
    """One thing found: what it says, how it is known, how old that is, and its photos (digest and words)."""

    stock: str
    key: str
    kind: str
    words: str
    known: str
    age: str
    renew: str
    stale: bool
    gap: bool
    photos: tuple[tuple[str, str], ...]

    @property
    def photo(self) -> str:
        """The digest of the first photo, "" for none."""
        return self.photos[0][0] if self.photos else ""

    @property
    def spoken(self) -> str:
        """For a screen reader."""
        aged = _("stale: {age}").format(age=self.age) if self.stale and self.age else self.age
        return ", ".join(part for part in (self.stock, self.kind, self.words, self.known, aged) if part)


@dataclass(frozen=True, slots=True)
class AnswersScreen:
    """What was found for one question. `say` is what to read out where nothing is known, "" where something is."""

    headline: str
    advice: str
    lines: tuple[AnswerLine, ...] = ()
    say: str = ""


@dataclass(frozen=True, slots=True)
class PromiseLine:
    """One promise to call back; `late` where its day is past."""

    stock: str
    number: int
    what: str
    due: str
    late: bool
    question: str
    told: str
    who: str

    @property
    def spoken(self) -> str:
        """For a screen reader."""
        return ", ".join(part for part in (self.stock, self.what, self.due, self.who) if part)


@dataclass(frozen=True, slots=True)
class Wish:
    """What goes on a car's re-shoot list; `about` is an id of its plan, "" for the caller's words alone."""

    stock: str
    question: str
    about: str


def nothing_asked(scope: str) -> AnswersScreen:
    """Before anything is typed; `scope` is the one car that is asked, "" for every car."""
    where = _("in {stock}").format(stock=scope) if scope else _("in every car")
    return AnswersScreen(
        _("What does the caller ask?"),
        _("Type a word or the whole question. Findings, tests, readings, papers and photos {where} answer.").format(
            where=where
        ),
    )


def answers_screen(answer: Answer, scope: str) -> AnswersScreen:
    """What was found, best first; in plain words that nothing is recorded where that is so."""
    if not answer.asked.strip():
        return nothing_asked(scope)
    lines = tuple(_line(hit) for hit in answer.hits)
    advice = [_("How to answer: {how}.").format(how=answer.question.answer.rstrip("."))] if answer.question else []
    if answer.more:
        advice.append(_("There is more: write one word more, or ask one car."))
    if answer.known:
        found = len(answer.answered)
        headline = answer.question.words if answer.question else _n("{n} answer on file", "{n} answers on file", found)
        return AnswersScreen(headline, " ".join(advice), lines)
    if answer.loose and lines:
        advice.insert(0, _("No entry holds all of these words; those below hold some."))
    elif lines:
        advice.insert(0, _("Nobody has looked or tested; below is what is open."))
    return AnswersScreen(_("Not recorded"), " ".join(advice), lines, NOT_KNOWN_ANSWER)


def _line(hit: Hit) -> AnswerLine:
    entry = hit.entry
    photo = entry.kind is EntryKind.PHOTO
    aged = entry.answers or photo
    return AnswerLine(
        stock=hit.stock,
        key=entry.key,
        kind=kind_word(entry.kind),
        words=entry.words,
        known=entry.basis if photo else hit.basis,
        age=hit.age.words if aged else "",
        renew=hit.age.renew if aged and hit.age.stale else "",
        stale=aged and hit.age.stale,
        gap=entry.kind in GAPS,
        photos=tuple((one.sha256, one.words) for one in hit.photos),
    )


def kind_word(kind: EntryKind) -> str:
    """What sort of thing an entry is, in a word or two."""
    return {
        EntryKind.FINDING: _("Finding"),
        EntryKind.CHECK: _("Test"),
        EntryKind.MEASUREMENT: _("Reading"),
        EntryKind.STATEMENT: _("Statement"),
        EntryKind.SERIAL: _("Serial"),
        EntryKind.DETAILS: _("As the house calls it"),
        EntryKind.FACT: _("Fact"),
        EntryKind.LOOKED: _("Nothing found"),
        EntryKind.CALL: _("Earlier call"),
        EntryKind.JOTTING: _("Jotting"),
        EntryKind.ABSENT: _("Not on this car"),
        EntryKind.NOT_TESTED: _("Not tested"),
        EntryKind.NOT_SEEN: _("Not seen"),
        EntryKind.NOT_MEASURED: _("Not measured"),
        EntryKind.NOT_ANSWERED: _("Not answered"),
        EntryKind.ASKED: _("On the re-shoot list"),
        EntryKind.PHOTO: _("Photo"),
    }.get(kind, kind.value)


def basis_word(basis: AnswerBasis) -> str:
    """How an answer is known, in a word."""
    return {
        AnswerBasis.SEEN: _("Seen"),
        AnswerBasis.MEASURED: _("Measured"),
        AnswerBasis.TESTED: _("Tested"),
        AnswerBasis.DOCUMENTED: _("Documented"),
        AnswerBasis.TOLD: _("Told"),
        AnswerBasis.NOT_CHECKED: _("Not checked"),
        AnswerBasis.NOT_KNOWN: _("Not known"),
    }[basis]


def wish_of(asked: str, hit: Hit | None, scope: str) -> Wish | None:
    """What to put on which car's list: what the line is about, else the question alone; None: no car is meant."""
    if hit is None:
        return Wish(scope, asked.strip(), "") if scope and asked.strip() else None
    by_id = hit.entry.kind in _BY_ID and bool(hit.entry.about)
    return Wish(hit.stock, asked.strip() or hit.entry.subject, hit.entry.about[0] if by_id else "")


def promise_lines(promises: Iterable[Promise]) -> tuple[PromiseLine, ...]:
    """The promises as they come, the longest overdue first."""
    return tuple(_promise(one) for one in promises)


def _promise(one: Promise) -> PromiseLine:
    call = one.call
    if one.days_late > 0:
        due = _n("{n} day late", "{n} days late", one.days_late)
    elif one.days_late == 0:
        due = _("today")
    else:
        due = _n("in {n} day", "in {n} days", -one.days_late)
    who = _("promised by {name}").format(name=call.by)
    if call.caller:
        who = _("{caller}, promised by {name}").format(caller=call.caller, name=call.by)
    return PromiseLine(
        stock=one.stock,
        number=call.number,
        what=call.promise or call.question,
        due=due,
        late=one.days_late > 0,
        question=call.question,
        told=call.answer,
        who=who,
    )
