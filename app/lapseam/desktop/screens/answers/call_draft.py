"""A call as it is written down: what the form begins with, what it lacks, and which day was meant. No Qt here."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date, timedelta

from lapseam.domain.answers import Hit
from lapseam.domain.call import AnswerBasis
from lapseam.workflow.calling import NOT_KNOWN_ANSWER

from ...words import _

LONGEST_WAIT_DAYS = 366
_AFTER = re.compile(r"\+\s?([0-9]{1,4})\Z")
_DAYS = {"today": 0, "tomorrow": 1}


@dataclass(frozen=True, slots=True)
class CallDraft:
    """One call in the form. `photos` are the answer's, which were sent where `photos_sent`; `call_back` is as typed."""

    stock: str
    question: str
    answer: str
    basis: AnswerBasis
    known_by: str = ""
    source: str = ""
    caller: str = ""
    sent: str = ""
    photos: tuple[str, ...] = ()
    photos_sent: bool = False
    call_back: str = ""
    promise: str = ""


@dataclass(frozen=True, slots=True)
class Lacking:
    """What the form lacks: the field's name and words that say what to write there."""

    field: str
    words: str


def draft_of(asked: str, hit: Hit | None, stock: str) -> CallDraft:
    """What the form begins with: the chosen entry as it is read out, or that nobody knows and will call tomorrow."""
    if hit is None or not hit.entry.answers:
        return CallDraft(
            stock=hit.stock if hit else stock,
            question=asked.strip(),
            answer=NOT_KNOWN_ANSWER,
            basis=AnswerBasis.NOT_KNOWN,
            call_back="tomorrow",
        )
    entry = hit.entry
    return CallDraft(
        stock=hit.stock,
        question=asked.strip(),
        answer=entry.words,
        basis=AnswerBasis(entry.how.value) if entry.how is not None else AnswerBasis.NOT_KNOWN,
        known_by=hit.basis,
        source=entry.key,
        photos=tuple(photo.sha256 for photo in hit.photos),
    )


def day_meant(typed: str, today: date) -> date | None:
    """The day somebody typed: 2026-05-20, today, tomorrow or +3; None where nothing stands there.

    Raises:
        ValueError: it is no day, or one that lies before today or more than a year ahead.
    """
    words = typed.strip().casefold()
    if not words:
        return None
    after = _AFTER.match(words)
    try:
        if words in _DAYS:
            day = today + timedelta(days=_DAYS[words])
        elif after:
            day = today + timedelta(days=int(after[1]))
        else:
            day = date.fromisoformat(words) if len(words) == 10 else _no_day()
    except ValueError:
        raise ValueError(_("Write the day as 2026-05-20, tomorrow, or +3 for in three days.")) from None
    if day < today:
        raise ValueError(_("That day is past. Promise one that is still to come."))
    if day > today + timedelta(days=LONGEST_WAIT_DAYS):
        raise ValueError(_("That is more than a year ahead. Promise a nearer day."))
    return day


def _no_day() -> date:
    raise ValueError


def lacking(draft: CallDraft, today: date) -> Lacking | None:
    """The first thing the form lacks, or None where the call can be logged."""
    if not draft.stock:
        return Lacking("stock", _("Say which car was asked about."))
    if not draft.question.strip():
        return Lacking("question", _("Write what the caller asked, in the caller's words."))
    if not draft.answer.strip():
        return Lacking("answer", _("Write what you read out."))
    if draft.basis is not AnswerBasis.NOT_KNOWN and not draft.known_by.strip():
        return Lacking("known_by", _("Say how it is known (photo, test, paper, who said it), or choose Not known."))
    try:
        day = day_meant(draft.call_back, today)
    except ValueError as error:
        return Lacking("call_back", str(error))
    if day is None and draft.promise.strip():
        return Lacking("call_back", _("A promise to call back needs its day."))
    return None
