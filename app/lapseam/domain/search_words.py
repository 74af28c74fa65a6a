"""What a person types into the search box, read as the trade means it: synonyms, silent words, callers' questions.

A question becomes groups. Every group must be met, by any one of its phrases; a phrase is words that stand together.
So "boot floor" is (trunk or boot or luggage compartment) and (floor or floor pan), whatever a car's record calls them.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from unicodedata import normalize

Phrase = tuple[str, ...]
"""Words in lower case that stand together."""

LONGEST_QUESTION = 400
"""Characters of a question that are read; nobody says more in one breath."""
MOST_GROUPS = 12

_WORD = re.compile(r"[^\W_]+")


@dataclass(frozen=True, slots=True)
class Synonym:
    """Words of one meaning. `same` stand for each other; `wider` are found for them too, but do not find them.

    `unless` are phrases in which one of the words means something else ("shifter and boot").
    """

    id: str
    same: tuple[Phrase, ...]
    wider: tuple[Phrase, ...] = ()
    unless: tuple[Phrase, ...] = ()


@dataclass(frozen=True, slots=True)
class CallerQuestion:
    """A question that callers ask, what in the record answers it, and how to answer.

    `about` are ids of components, measurements, checks and facts, and the lists `list:…` and `group:…`.
    """

    id: str
    words: str
    about: tuple[str, ...]
    answer: str


@dataclass(frozen=True, slots=True)
class SearchWords:
    """The trade's words for searching: synonyms, words that say nothing by themselves, and callers' questions."""

    synonyms: tuple[Synonym, ...] = ()
    silent: frozenset[str] = frozenset()
    questions: tuple[CallerQuestion, ...] = ()


@dataclass(frozen=True, slots=True)
class Group:
    """One thing that must be met: `phrases` of which one must stand there, and `unless` none may be all there is."""

    phrases: tuple[Phrase, ...]
    unless: tuple[Phrase, ...] = ()


@dataclass(frozen=True, slots=True)
class Query:
    """A question as it is searched for. `question` is the caller's question that it is, None if it is none."""

    groups: tuple[Group, ...] = ()
    question: CallerQuestion | None = None
    typed: tuple[str, ...] = field(default=(), compare=False)


def words_of(text: str) -> tuple[str, ...]:
    """The words of a text in lower case: letters and digits, everything else parts them."""
    return tuple(_WORD.findall(normalize("NFKC", text).lower()))


def phrase(text: str) -> Phrase:
    """A phrase of the word lists."""
    return words_of(text)


def root(word: str) -> str:
    """A word without the ending of its plural, for comparing words of people with words of a list."""
    if len(word) > 4 and word.endswith(("ches", "shes", "sses", "xes")):
        return word[:-2]
    if len(word) > 4 and word.endswith("ies"):
        return word[:-3] + "y"
    return word[:-1] if len(word) > 3 and word.endswith("s") and not word.endswith(("ss", "us")) else word


def read_query(text: str, words: SearchWords) -> Query:
    """What is searched for when somebody types `text`; without groups when it says nothing that can be looked for."""
    typed = words_of(text[:LONGEST_QUESTION])
    lists = _lists_of(words)
    groups = dict.fromkeys(group for _, group in _grouped(typed, lists))
    question = lists.by_id.get(typed) or lists.by_names.get(_names(typed, lists))
    return Query(tuple(groups)[:MOST_GROUPS], question, typed)


@dataclass(frozen=True, slots=True)
class _Lists:
    """The words for searching, made ready to look up."""

    known: Mapping[Phrase, Synonym]
    longest: int
    silent: frozenset[str]
    by_id: dict[Phrase, CallerQuestion] = field(default_factory=dict)
    by_names: dict[frozenset[str], CallerQuestion] = field(default_factory=dict)


@lru_cache(maxsize=4)
def _lists_of(words: SearchWords) -> _Lists:
    known = {tuple(root(word) for word in said): one for one in words.synonyms for said in one.same}
    lists = _Lists(known, max((len(one) for one in known), default=1), words.silent)
    for one in words.questions:
        lists.by_id[words_of(one.id)] = one
        lists.by_names.setdefault(_names(words_of(one.words), lists), one)
    return lists


def _names(typed: tuple[str, ...], lists: _Lists) -> frozenset[str]:
    """What is named, in whatever words and order; where every word is a silent one, those words themselves."""
    return frozenset(name for name, _ in _grouped(typed, lists)) or frozenset(typed)


def _grouped(typed: tuple[str, ...], lists: _Lists) -> Iterator[tuple[str, Group]]:
    """Each thing that is named, under one name for all its synonyms; the longest phrase goes first."""
    place = 0
    while place < len(typed):
        for length in range(min(lists.longest, len(typed) - place), 0, -1):
            said = tuple(root(word) for word in typed[place : place + length])
            if (found := lists.known.get(said)) is not None:
                yield found.id, Group((*found.same, *found.wider), found.unless)
                place += length
                break
        else:
            word = typed[place]
            if word not in lists.silent:
                yield root(word), Group(((word,),))
            place += 1
