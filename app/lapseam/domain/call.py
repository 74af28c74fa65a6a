"""Callers: what they asked, what they were told and promised, and what is to be looked at for them.

Both are private. A call is a statement by word of mouth, so its answer carries its basis like any other; nothing here
is ever published, and neither belongs to what a signature signs.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from enum import StrEnum


class Wanted(StrEnum):
    """What sort of thing somebody is to look at: by an id of the car's plan, or `other` in the caller's words alone."""

    SHOT = "shot"
    CHECK = "check"
    MEASURE = "measure"
    COMPONENT = "component"
    OTHER = "other"


@dataclass(frozen=True, slots=True)
class Asked:
    """One line of the car's re-shoot list. `subject` is the id of what is wanted, "" for `other`.

    `question` stands in the caller's own words; `done` is the day on which it was dealt with, by `done_by`.
    """

    number: int
    wanted: Wanted
    subject: str
    question: str
    by: str
    at: datetime
    done: date | None = None
    done_by: str = ""
    done_words: str = ""

    @property
    def key(self) -> str:
        return str(self.number)

    @property
    def is_open(self) -> bool:
        """Whether it is still to be done."""
        return self.done is None


class AnswerBasis(StrEnum):
    """How the answer that was read out is known: one of the six bases, or that it is not known."""

    SEEN = "seen"
    MEASURED = "measured"
    TESTED = "tested"
    DOCUMENTED = "documented"
    TOLD = "told"
    NOT_CHECKED = "not-checked"
    NOT_KNOWN = "not-known"


@dataclass(frozen=True, slots=True)
class Call:
    """One question of a caller and the answer as it was read out.

    `known_by` says in words how the answer is known ("seen on 12 May 2026, EXO_4134.JPG"), `source` names the entry of
    the record it was read from ("finding:3"), "" if none; `edition` is the number of the edition that it stood on, None
    where none was published. `caller` is a free label that never leaves the house. `sent` says what was sent, `photos`
    are digests of photos that were. `call_back` is the day by which somebody promised to call back, about `promise`;
    `kept` is the day that was done.
    """

    number: int
    question: str
    answer: str
    basis: AnswerBasis
    by: str
    at: datetime
    known_by: str = ""
    source: str = ""
    edition: int | None = None
    caller: str = ""
    sent: str = ""
    photos: tuple[str, ...] = ()
    call_back: date | None = None
    promise: str = ""
    kept: date | None = None
    kept_by: str = ""
    kept_words: str = ""

    @property
    def key(self) -> str:
        return str(self.number)

    @property
    def promised(self) -> bool:
        """Whether somebody still waits for a call."""
        return self.call_back is not None and self.kept is None
