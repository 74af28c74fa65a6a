"""Completion over the vocabulary: what somebody begins to type, matched by the trade's words and their synonyms.

"boot li" finds the trunk lid: every word typed must begin a word of the name, or of another way to say a part of it.
The best come first: names that begin so, then names that hold the words, then those that only a synonym finds.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from .plan import Vocabulary
from .search_words import Phrase, SearchWords, Synonym, root, words_of


@dataclass(frozen=True, slots=True)
class Offer:
    """One thing that can be chosen: its id, its name, and every word by which it is found beside those of the name."""

    id: str
    name: str
    own: tuple[str, ...]
    also: frozenset[str]


@dataclass(frozen=True, slots=True)
class Offers:
    """Everything that a form completes on: the parts of a car and the kinds of finding."""

    parts: tuple[Offer, ...] = ()
    kinds: tuple[Offer, ...] = ()


def offers_of(vocabulary: Vocabulary, words: SearchWords) -> Offers:
    """The vocabulary's parts and kinds with the trade's other words for them."""
    known = {tuple(root(word) for word in said): one for one in words.synonyms for said in one.same}
    return Offers(
        tuple(_offer(part.id, part.name, (), known) for part in vocabulary.components().values()),
        tuple(
            _offer(kind.id, kind.name, (kind.group, kind.definition), known) for kind in vocabulary.findings.values()
        ),
    )


def _offer(one: str, name: str, more: Iterable[str], known: Mapping[Phrase, Synonym]) -> Offer:
    own = words_of(name)
    also = {word for text in more for word in words_of(text)} | set(words_of(one))
    for synonym in _said_in(own, known):
        also.update(word for said in synonym.same for word in said)
    return Offer(one, name, own, frozenset(also - set(own)))


def _said_in(name: tuple[str, ...], known: Mapping[Phrase, Synonym]) -> Iterator[Synonym]:
    """The synonyms of which a phrase stands in the name and means there what the synonym means."""
    longest = max(map(len, known), default=0)
    roots = tuple(root(word) for word in name)
    for start in range(len(roots)):
        for end in range(start + 1, min(start + longest, len(roots)) + 1):
            found = known.get(roots[start:end])
            if found is not None and not any(_holds(name, unless) for unless in found.unless):
                yield found


def _holds(name: tuple[str, ...], said: Phrase) -> bool:
    return any(name[at : at + len(said)] == said for at in range(len(name) - len(said) + 1))


def completions(typed: str, offers: Sequence[Offer], *, first: Iterable[str] = (), most: int = 12) -> tuple[Offer, ...]:
    """What the words typed may become, best first. Those of `first` (the zone's own parts) go before others as good.

    Nothing typed offers what is first, then the rest in order.
    """
    words = words_of(typed)
    near = set(first)
    ranked = sorted(
        ((rank, one.id not in near, place, one) for place, one in enumerate(offers) if (rank := _rank(words, one)) < 4),
        key=lambda found: found[:3],
    )
    return tuple(one for *_, one in ranked[:most])


def _rank(words: tuple[str, ...], one: Offer) -> int:
    """0 the name itself, 1 its beginning, 2 words of it, 3 found by another word, 4 not found."""
    if words == one.own:
        return 0
    if not words or (
        one.own[: len(words) - 1] == words[:-1] and _begins(words[-1], one.own[len(words) - 1 : len(words)])
    ):
        return 1
    if all(_begins(word, one.own) for word in words):
        return 2
    return 3 if all(_begins(word, one.own) or _begins(word, one.also) for word in words) else 4


def _begins(word: str, of: Iterable[str]) -> bool:
    return any(one.startswith(word) for one in of)


def named(typed: str, offers: Sequence[Offer]) -> Offer | None:
    """The thing whose name was typed, whatever the case and the commas; None where it is none."""
    words = words_of(typed)
    return next((one for one in offers if one.own == words), None) if words else None
