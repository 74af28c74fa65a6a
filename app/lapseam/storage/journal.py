"""The journal: which step undo and redo would play next, and the chain of hashes that shows if a line was changed."""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Final, Protocol

from lapseam.domain.changes import Entry

from .codec import canonical, digest, entry_from, entry_json

FIRST: Final = "0" * 64
"""What the first line of a chain names as the one before."""


class Step(Protocol):
    """As much of a journal step as undo and redo need."""

    @property
    def number(self) -> int: ...
    @property
    def undoable(self) -> bool: ...
    @property
    def undoes(self) -> int | None: ...
    @property
    def redoes(self) -> int | None: ...


@dataclass(frozen=True, slots=True)
class Stacks:
    """Numbers of the steps that can be undone and redone, the next one last."""

    undo: tuple[int, ...]
    redo: tuple[int, ...]


def stacks(steps: Iterable[Step]) -> Stacks:
    """Play the whole journal: a new change clears redo; steps that are not undoable are passed over."""
    undo: list[int] = []
    redo: list[int] = []
    for step in steps:
        if step.undoes is not None:
            undo.remove(step.undoes)
            redo.append(step.undoes)
        elif step.redoes is not None:
            redo.remove(step.redoes)
            undo.append(step.redoes)
        elif step.undoable:
            undo.append(step.number)
            redo.clear()
    return Stacks(tuple(undo), tuple(redo))


@dataclass(frozen=True, slots=True)
class Link:
    """A step with its place in the chain: the digest of the line before, and its own over that and all its content."""

    entry: Entry
    previous: str
    sha256: str

    def line(self) -> bytes:
        """The line of journal.jsonl."""
        body = {**entry_json(self.entry), "previous": self.previous, "sha256": self.sha256}
        return (canonical(body) + "\n").encode()


def linked(entry: Entry, previous: str) -> Link:
    """Hang a step on the chain whose last digest is `previous`."""
    return Link(entry, previous, digest(canonical({**entry_json(entry), "previous": previous})))


def link_from(line: bytes) -> Link:
    """Read one line.

    Raises:
        ValueError: it is no line of a journal, or its digest does not fit its content.
    """
    try:
        value = json.loads(line)
        claimed, previous = str(value["sha256"]), str(value["previous"])
        del value["sha256"]
        entry = entry_from(value)
    except (ValueError, KeyError, TypeError, AttributeError) as error:
        raise ValueError("is no step of a journal") from error
    if digest(canonical(value)) != claimed:
        raise ValueError("was changed after it was written: its digest does not fit")
    return Link(entry, previous, claimed)


@dataclass(frozen=True, slots=True)
class JournalReport:
    """What a look through a journal file found.

    `links` are the steps up to the first fault; `problems` are worded with their line; `torn` says that the last
    line was cut off while it was being written, which the next opening of the workspace mends.
    """

    path: Path
    links: tuple[Link, ...]
    problems: tuple[str, ...]
    torn: bool

    @property
    def sound(self) -> bool:
        """Whether every line fits the one before."""
        return not self.problems and not self.torn

    @property
    def entries(self) -> tuple[Entry, ...]:
        """The steps up to the first fault."""
        return tuple(link.entry for link in self.links)


def verify_journal(path: Path) -> JournalReport:
    """Check a journal file line by line.

    Raises:
        FileNotFoundError: there is no such file.
    """
    whole, _, rest = path.read_bytes().rpartition(b"\n")
    links: list[Link] = []
    problems: list[str] = []
    previous, number = FIRST, 0
    for place, line in enumerate(whole.split(b"\n") if whole else (), start=1):
        try:
            link = link_from(line)
        except ValueError as error:
            problems.append(f"line {place} {error}")
            break
        if link.previous != previous:
            problems.append(f"line {place} does not follow the line before: something was taken out or put in")
            break
        if link.entry.number <= number:
            problems.append(f"line {place} has the number {link.entry.number}, which is not after {number}")
            break
        links.append(link)
        previous, number = link.sha256, link.entry.number
    return JournalReport(path, tuple(links), tuple(problems), torn=bool(rest))
