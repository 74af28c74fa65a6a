"""Answers: what a car's record offers to whoever asks about it, and what was found for one question.

Entries are worked out of a car and never stored as truth; search keeps a copy that it can lose. They stay in the house:
they name people and photos by their files, and hold what callers were told.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Final

from .ageing import Age, age
from .car import Car, House
from .coverage import Coverage
from .entry import GAPS, Entry, EntryKind, Named, Shown
from .entry_gaps import gap_entries
from .entry_record import record_entries
from .entry_shown import asked_entries, call_entries, jotting_entries, photo_entries
from .search_words import CallerQuestion

__all__ = ["GAPS", "Answer", "Entry", "EntryKind", "Hit", "Named", "PhotoRead", "age_of_entry", "entries"]


def entries(car: Car, coverage: Coverage) -> tuple[Entry, ...]:
    """Every entry of the car, each key once."""
    shown = Shown(car)
    found = (
        *record_entries(car, shown),
        *gap_entries(car, coverage, shown),
        *photo_entries(car, shown),
        *asked_entries(car),
        *jotting_entries(car),
    )
    return (*found, *call_entries(car, shown, {one.key: one for one in found}))


_OPEN: Final = frozenset((EntryKind.NOT_TESTED, EntryKind.NOT_SEEN, EntryKind.NOT_ANSWERED))


def age_of_entry(entry: Entry, *, today: date, house: House) -> Age:
    """How old an entry's evidence is on a day."""
    return age(entry.lasting, entry.day, today=today, house=house, driven_km=entry.driven_km)


@dataclass(frozen=True, slots=True)
class PhotoRead:
    """A photo as it is named to a caller: by its file, and by its number in the last edition, None if not in it."""

    sha256: str
    name: str
    number: int | None = None

    @property
    def words(self) -> str:
        """'photo 73 (EXO_4135.JPG)', or the file's name alone."""
        return f"photo {self.number} ({self.name})" if self.number is not None else self.name


@dataclass(frozen=True, slots=True)
class Hit:
    """One entry of one car that was found, with its age on the day of asking."""

    stock: str
    entry: Entry
    age: Age
    photos: tuple[PhotoRead, ...] = ()

    @property
    def basis(self) -> str:
        """How it is known, with its photos: 'seen on 13 May 2026, photo 31 (EXO_4135.JPG)'."""
        named = ", ".join(photo.words for photo in self.photos)
        return ", ".join(part for part in (self.entry.basis, named) if part)


@dataclass(frozen=True, slots=True)
class Answer:
    """What was found for one question, best first.

    `question` is the caller's question that was recognised, None if the words were searched for. `loose` says that not
    every word was met. `editions` are the last edition's numbers by car, 0 for none; `more` says that there is more.
    """

    asked: str
    hits: tuple[Hit, ...]
    question: CallerQuestion | None = None
    loose: bool = False
    more: bool = False
    editions: tuple[tuple[str, int], ...] = ()

    @property
    def known(self) -> bool:
        """Whether anything on file answers it. Gaps and bare photos do not, nor do words that are only partly met.

        That the car does not have one of the things asked about is an answer only if nothing is open about the others.
        """
        kinds = {hit.entry.kind for hit in self.answered}
        if self.loose or not kinds:
            return False
        return kinds != {EntryKind.ABSENT} or not any(hit.entry.kind in _OPEN for hit in self.hits)

    @property
    def answered(self) -> tuple[Hit, ...]:
        """What answers it."""
        return tuple(hit for hit in self.hits if hit.entry.answers)

    @property
    def gap(self) -> Hit | None:
        """The first thing nobody knows that has an id of the plan: what to put on the list."""
        return next((hit for hit in self.hits if hit.entry.kind in GAPS and hit.entry.about), None)
