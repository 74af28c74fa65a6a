"""Words that are meant where others are written: stretched letters, and slips in long words.

A word of the trade's own lists is never taken for a slip. A long word is one of six letters or more: one slip is
forgiven there (a letter too many, missing, wrong, or two changed about), two from nine letters on, and two letters
changed about already from five. The first letter must be right, or a vowel for a vowel.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Final

ONE_SLIP_FROM: Final = 6
TWO_SLIPS_FROM: Final = 9
_CHANGED_ABOUT_FROM: Final = 5
_MOST_SLIPS: Final = 2
_VOWELS: Final = frozenset("aeiou")
_STRETCHED = re.compile(r"(.)\1{2,}")
_DOUBLED = re.compile(r"(.)\1")


@dataclass(frozen=True, slots=True)
class Speller:
    """`looked_for` are the words of all phrases; `known` are real words that are never taken for a slip.

    `short` are shortened and slurred words ("orig", "nuthin") with the word meant;
    `strong` are short words in which one slip is forgiven all the same.
    """

    looked_for: frozenset[str]
    known: frozenset[str]
    short: Mapping[str, str] = field(default_factory=dict)
    strong: frozenset[str] = frozenset()
    _shelves: dict[tuple[str, int], list[str]] = field(default_factory=dict, compare=False, repr=False)
    _seen: dict[str, frozenset[str]] = field(default_factory=dict, compare=False, repr=False)

    def meant(self, word: str) -> frozenset[str]:
        """The word itself and what it may be meant for."""
        found = self._seen.get(word)
        if found is None:
            long = self.short.get(word)
            found = self._seen[word] = frozenset((word, long) if long else (word, *self._forms(word)))
        return found

    def _forms(self, word: str) -> tuple[str, ...]:
        if word in self.looked_for or word in self.known or not word.isalpha() or len(word) > 40:
            return ()
        shorter = {_STRETCHED.sub(r"\1", word), _STRETCHED.sub(r"\1\1", word)}
        shorter |= {_DOUBLED.sub(r"\1", one) for one in shorter if len(one) > 4}
        plain = tuple(one for one in sorted(shorter) if one in self.looked_for)
        return plain or tuple(
            other
            for other in self._alike(word)
            if slip(word, other) or (other in self.strong and distance(word, other) == 1)
        )

    def _alike(self, word: str) -> Iterator[str]:
        """Words looked for that begin alike and are about as long."""
        if not self._shelves:
            for one in self.looked_for:
                self._shelves.setdefault((_begins(one), len(one)), []).append(one)
        for length in range(len(word) - _MOST_SLIPS, len(word) + _MOST_SLIPS + 1):
            yield from self._shelves.get((_begins(word), length), ())


def _begins(word: str) -> str:
    """The first letter; any vowel is as good as another, for "emaculate"."""
    return "a" if word[:1] in _VOWELS else word[:1]


def slip(word: str, other: str) -> bool:
    """Whether `word` may be a slip for the longer-known `other`."""
    if _begins(word) != _begins(other) or len(other) < _CHANGED_ABOUT_FROM or abs(len(word) - len(other)) > 2:
        return False
    if len(other) < ONE_SLIP_FROM:
        return len(word) == len(other) and sorted(word) == sorted(other) and distance(word, other) == 1
    most = _MOST_SLIPS if len(other) >= TWO_SLIPS_FROM else 1
    letters, wanted = set(word), set(other)
    if len(letters - wanted) > most or len(wanted - letters) > most:
        return False
    return distance(word, other) <= most


def distance(word: str, other: str) -> int:
    """How many letters are too many, missing, wrong or changed about with their neighbour (each counts one)."""
    before: list[int] = []
    row = list(range(len(other) + 1))
    for at, letter in enumerate(word, 1):
        new = [at]
        for to, wanted in enumerate(other, 1):
            best = min(row[to] + 1, new[to - 1] + 1, row[to - 1] + (letter != wanted))
            if at > 1 and to > 1 and letter == other[to - 2] and word[at - 2] == wanted:
                best = min(best, before[to - 2] + 1)
            new.append(best)
        before, row = row, new
    return row[-1]
