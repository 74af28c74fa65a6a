"""Problems of a file: where it stands, what is wrong, and what to do about it."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from difflib import get_close_matches
from enum import StrEnum


class Grade(StrEnum):
    """Whether a problem keeps the file from being used, or is only worth a look."""

    ERROR = "error"
    WARNING = "warning"


@dataclass(frozen=True, slots=True)
class Mark:
    """A place in a file; line and column count from 1."""

    file: str
    line: int = 1
    column: int = 1


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing wrong with a file.

    Attributes:
        file: the file's name, without its folder.
        line, column: counted from 1.
        word: the way to the value in the file's own keys, such as `shots.ext-front.need`; "" for the file as a whole.
        words: what is wrong, in one sentence without a full stop.
        remedy: what to do, "" only where `words` already say it.
    """

    file: str
    line: int
    column: int
    word: str
    words: str
    remedy: str = ""
    severity: Grade = Grade.ERROR

    def __str__(self) -> str:
        place = f"{self.file}:{self.line}:{self.column}: "
        warning = "warning: " if self.severity is Grade.WARNING else ""
        way = f"{self.word}: " if self.word else ""
        remedy = f" ({self.remedy})" if self.remedy else ""
        return f"{place}{warning}{way}{self.words}{remedy}"


class Problems:
    """Collects what is wrong, over all files of one reading."""

    def __init__(self) -> None:
        self._found: list[Problem] = []

    def add(self, mark: Mark, word: str, words: str, remedy: str = "", severity: Grade = Grade.ERROR) -> None:
        """Note one problem at that place; the same words at the same place are noted once."""
        problem = Problem(mark.file, mark.line, mark.column, word, words, remedy, severity)
        if problem not in self._found:
            self._found.append(problem)

    def warn(self, mark: Mark, word: str, words: str, remedy: str = "") -> None:
        """Note something that is only worth a look."""
        self.add(mark, word, words, remedy, Grade.WARNING)

    def say_otherwise(self, told: Callable[[Problem], Problem]) -> None:
        """Word every problem found so far in another way."""
        self._found = [told(problem) for problem in self._found]

    def all(self) -> tuple[Problem, ...]:
        """Everything found, in the order of lines; the file whose first problem was found first comes first."""
        files = {problem.file: place for place, problem in reversed(list(enumerate(self._found)))}
        return tuple(sorted(self._found, key=lambda found: (files[found.file], found.line, found.column)))

    def errors(self) -> tuple[Problem, ...]:
        """Only what keeps the file from being used."""
        return tuple(problem for problem in self.all() if problem.severity is Grade.ERROR)


def did_you_mean(word: str, known: Iterable[str]) -> str:
    """The remedy that names the nearest known word, or "" if none is near."""
    near = get_close_matches(word, list(known), n=1, cutoff=0.6)
    return f"did you mean {near[0]!r}?" if near else ""


def quoted(text: str, most: int = 60) -> str:
    """The text in quotes as it stands in a file, cut where it is long."""
    return repr(text if len(text) <= most else text[: most - 1] + "…")


def one_of(known: Iterable[str], most: int = 14) -> str:
    """The known words for a sentence; a long list is cut and says how many more there are."""
    words = list(known)
    rest = f" and {len(words) - most} more" if len(words) > most else ""
    return ", ".join(words[:most]) + rest
