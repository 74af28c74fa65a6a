"""The words of claim rules: phrases of a rule that lists none, the allowed wording as phrases, and known words."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from typing import Final

from .claim_phrases import Phrase, every_word, phrase, written
from .claim_text import Sort, sentences, wordset
from .plan import Claim, Vocabulary

SPELT_RIGHT: Final = "spelt_right"
"""The list of `words.yaml` whose words are never taken for a slip."""
SHORT_FORMS: Final = "short_forms"
"""The list of `words.yaml` whose rows are a shortened or slurred word and the word meant."""
STRONG: Final = "strong_words"
"""The list of `words.yaml` of short words in which a slip is forgiven."""
_LITTLE: Final = 3
_LEAST_TOLD: Final = 3
_EMPTY: Final = wordset(
    "a an the of in on at to by for with from and or is are was were be been has have had it its this that as there "
    "once"
)


def phrases(texts: Iterable[str]) -> tuple[Phrase, ...]:
    """The phrases of a list."""
    return tuple(phrase(one) for text in texts for one in written(text))


def plain(text: str) -> str:
    """The words and numbers of the text, folded, with single spaces."""
    return " ".join(token.text for one in sentences(text) for token in one.tokens if token.sort is not Sort.MARK)


def content(text: str) -> frozenset[str]:
    """The words and numbers of the text that carry its meaning."""
    return frozenset(plain(text).split()) - _EMPTY


def wordings(claim: Claim) -> tuple[str, ...]:
    """Phrases of a claim that lists none: those between its commas, both readings of each 'one or other', its id.

    An id of little words only ('one-of') says nothing alone and is passed over. The word 'N' stands for any number.
    """
    name = plain(claim.id)
    found = [name] if any(len(word) > _LITTLE for word in name.split()) else []
    for part in claim.claim.split(","):
        first, _, second = (plain(piece).split() for piece in part.partition(" or "))
        if not second:
            found.append(" ".join(first))
        elif len(second) == 1:
            found += [" ".join(first), " ".join((*first[:-1], *second))]
        else:
            found += [" ".join((*first, second[-1])), " ".join(second)]
    numbered = (re.sub(r"\bn\b", "<number>", wording) for wording in found if wording)
    return tuple(dict.fromkeys(numbered))


def allowed_phrases(say_instead: str) -> tuple[Phrase, ...]:
    """The allowed wording as a phrase; slots and '(list)' stand for any words. None where it is too short to tell."""
    pieces = [plain(piece) for piece in re.split(r"\{[^}]*\}|\(list\)", say_instead)]
    told = [piece for piece in pieces if piece]
    if len(" ".join(told).split()) < _LEAST_TOLD:
        return ()
    return (phrase(" .. ".join(told), loose=True),)


def looked_for(wanted: Iterable[Phrase]) -> Iterator[str]:
    """Every word that the phrases look for."""
    for one in wanted:
        yield from every_word(one.pieces)


def known_words(vocabulary: Vocabulary) -> frozenset[str]:
    """Every word of the vocabulary's own texts, and those it lists as spelt right."""
    texts: list[str] = [*vocabulary.words.get(SPELT_RIGHT, ())]
    texts += [part.name for part in vocabulary.components().values()]
    texts += [f"{kind.name} {kind.definition} {kind.photo} {kind.say}" for kind in vocabulary.findings.values()]
    texts += [f"{check.item} {check.how}" for check in vocabulary.checks.values()]
    texts += [f"{one.name} {one.tool} {one.method} {one.range}" for one in vocabulary.measurements.values()]
    texts += [f"{one.where} {one.why} {one.photo} {one.good} {one.bad}" for one in vocabulary.rust_places.values()]
    texts += [f"{claim.say_instead} {claim.not_enough} {' '.join(claim.needs)}" for claim in vocabulary.claims.values()]
    return frozenset(word for text in texts for word in plain(text).split())


def short_forms(vocabulary: Vocabulary) -> dict[str, str]:
    """Shortened and slurred words with the word meant."""
    pairs = (row.split() for row in vocabulary.words.get(SHORT_FORMS, ()))
    return {pair[0]: pair[1] for pair in pairs if len(pair) == 2}


def strong_words(vocabulary: Vocabulary) -> frozenset[str]:
    """Short words in which one slip is forgiven all the same."""
    return frozenset(vocabulary.words.get(STRONG, ()))
