"""A question as an expression of SQLite's full-text index: quoted phrases only, so no word of a person is a command."""

from __future__ import annotations

from lapseam.domain.search_words import Group, Phrase, Query

_SHORTEST_BEGINNING = 3
"""Letters from which on the beginning of a word is searched for."""


def strict(query: Query, *, prefix: bool = False) -> str:
    """Every group must be met. With `prefix` a single word is met by every word that begins with it."""
    return " AND ".join(f"({_group(group, prefix)})" for group in query.groups)


def loose(query: Query) -> str:
    """Any group is enough, and the beginning of a word is too."""
    return " OR ".join(f"({_group(group, True)})" for group in query.groups)


def in_subject(expression: str) -> str:
    """The expression, met by an entry's subject."""
    return f"subject : ({expression})"


def in_car(expression: str, stock: str) -> str:
    """The expression, in one car."""
    return f'car : "{car_word(stock)}" AND ({expression})'


def car_word(stock: str) -> str:
    """A stock number as one word of the index, whatever signs are in it."""
    return f"stock{stock.encode().hex()}"


def _group(group: Group, prefix: bool) -> str:
    return " OR ".join(_phrase(said, group, prefix) for said in group.phrases)


def _phrase(said: Phrase, group: Group, prefix: bool) -> str:
    """The phrase, but not where it stands only in one of those in which it means something else."""
    beginning = "*" if prefix and len(said) == 1 and len(said[0]) >= _SHORTEST_BEGINNING else ""
    others = [_quoted(other) for other in group.unless if _holds(other, said)]
    wanted = f"{_quoted(said)}{beginning}"
    return f"({wanted} NOT ({' OR '.join(others)}))" if others else wanted


def _holds(other: Phrase, said: Phrase) -> bool:
    """Whether the phrase holds the words, plurals aside, which the index takes for the same too."""
    length = len(said)
    places = range(len(other) - length + 1)
    return any(
        all(there.startswith(word) for there, word in zip(other[at : at + length], said, strict=True)) for at in places
    )


def _quoted(said: Phrase) -> str:
    return f'"{" ".join(said)}"'
