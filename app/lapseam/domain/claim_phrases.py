"""Phrases of a claim rule: how the vocabulary writes the words that make a claim, and finding them in a sentence.

A phrase is words with single spaces. In it

    paint|finish    stands for any one of these words
    match*          for any word that begins so
    leak~           for the word in any of its forms: leaks, leaked, leaking
    [no one|nobody] for any of these, of one word or several
    the?            may be left out
    .               for up to three words, not over "and", "or", "of", "on" and their like, nor
                    over a mark, unless a comma stands first
    ..              for up to five words or commas
    ...             for up to fourteen words or commas, not over a word that turns the clause ("but", "while")
    <number>        for a number in figures or words
    <size>          for a length: a number with its unit
    <money>         for a sum of money
    <power>         for an engine's output
    <reasons>       for a colon or "because" with something seen, read or dated behind it

"a & b" is two phrases: a and b in one clause, in either order. A hyphen is a space: "rust free" finds rust-free, and
rustfree too.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from types import MappingProxyType
from typing import Final

from .claim_forms import forms
from .claim_text import Sort, Token, wordset

Words = tuple[frozenset[str], ...]
"""For each token of a sentence the words it may stand for: as written, and as meant where it is misspelt."""

_GAPS: Final = {".": 3, "..": 5, "...": 14}
_LONGEST_SLOT: Final = 20
_SHORTEST_JOINED: Final = 5
_JOINS: Final = wordset("and or but nor on under behind inside beside of for with")
_TURNS: Final = wordset("but however yet although though whereas while because so if")
_WRITTEN: Final = re.compile(r"\[[^\[\]]*\]\??|\S+")
_COUNTS: Final = wordset(
    "one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen "
    "eighteen nineteen twenty thirty forty fifty sixty seventy eighty ninety hundred thousand dozen several few"
)
_LENGTHS: Final = wordset(
    "mm cm m um micron microns mil mils millimetre millimetres millimeter millimeters centimetre centimetres "
    "centimeter centimeters metre metres meter meters in inch inches ft foot feet"
)
_POWERS: Final = wordset("hp bhp whp rwhp ps kw horsepower horses horse nm ftlb ftlbs lbft")
_CURRENCIES: Final = wordset("dollar dollars euro euros pound pounds usd eur gbp bucks grand")
_BECAUSE: Final = frozenset(("because", "since", "given", "judging", "as", "for", "from", "based"))
_SHOWN: Final = wordset(
    "reading readings seen measured tested found photo photos dated stamped stamp code codes date marks lines invoice "
    "receipt receipts casting overspray weld welds"
)


@dataclass(frozen=True, slots=True)
class Piece:
    """One place of a phrase: words, beginnings of words, a named class, a gap of so many words at most, or phrases."""

    words: frozenset[str] = frozenset()
    begins: tuple[str, ...] = ()
    named: str = ""
    optional: bool = False
    gap: int = 0
    either: tuple[tuple[Piece, ...], ...] = ()

    def takes(self, words: frozenset[str]) -> bool:
        """Whether a token that stands for `words` fills the place."""
        return not self.words.isdisjoint(words) or any(word.startswith(self.begins) for word in words if self.begins)


@dataclass(frozen=True, slots=True)
class Phrase:
    """A phrase, ready to be looked for. `loose` passes over marks between its words, and its gaps are longer."""

    text: str
    pieces: tuple[Piece, ...]
    loose: bool = False
    needed: tuple[frozenset[str], ...] = ()

    def possible(self, words: frozenset[str]) -> bool:
        """Whether a sentence of those words can hold the phrase at all; a quick look before `find`."""
        return all(not needed.isdisjoint(words) for needed in self.needed)


@dataclass(frozen=True, slots=True)
class Phrases:
    """Several phrases, shelved by the words that each cannot do without, so that few need be looked for."""

    every: tuple[Phrase, ...]
    by_word: Mapping[str, tuple[int, ...]]
    always: tuple[int, ...]

    def possible(self, words: frozenset[str]) -> Iterator[Phrase]:
        """Those that a sentence of these words may hold, in their order."""
        shelved = {at for word in words for at in self.by_word.get(word, ())}
        for at in sorted(shelved.union(self.always)):
            if self.every[at].possible(words):
                yield self.every[at]


def shelved(phrases: Iterable[Phrase]) -> Phrases:
    """The phrases on their shelves."""
    every = tuple(phrases)
    by_word: dict[str, list[int]] = {}
    always = []
    for at, one in enumerate(every):
        if not one.needed:
            always.append(at)
            continue
        for word in min(one.needed, key=len):
            by_word.setdefault(word, []).append(at)
    return Phrases(every, MappingProxyType({word: tuple(at) for word, at in by_word.items()}), tuple(always))


@lru_cache(maxsize=8192)
def phrase(text: str, *, loose: bool = False) -> Phrase:
    """Read a phrase.

    Raises:
        ValueError: it is none; the message says why, in words.
    """
    pieces = _pieces(text)
    if not pieces or all(piece.gap or piece.optional for piece in pieces):
        raise ValueError("a phrase needs a word that may not be left out")
    if pieces[0].gap or pieces[-1].gap:
        raise ValueError("a phrase neither begins nor ends with a gap")
    return Phrase(text, pieces, loose, _needed(pieces))


def written(text: str) -> tuple[str, ...]:
    """The phrases that a text stands for: both orders of 'a & b', else itself."""
    first, both, second = text.partition(" & ")
    return (f"{first} ... {second}", f"{second} ... {first}") if both else (text,)


def _pieces(text: str) -> tuple[Piece, ...]:
    return tuple(_piece(word) for word in _WRITTEN.findall(text))


def every_word(pieces: Iterable[Piece]) -> Iterator[str]:
    """Every word that the pieces look for."""
    for piece in pieces:
        yield from piece.words
        for one in piece.either:
            yield from every_word(one)


def _needed(pieces: Sequence[Piece]) -> tuple[frozenset[str], ...]:
    """For each piece that a sentence must fill word by word the words that do; joined with the next they do too."""
    found = []
    for before, piece, after in zip((Piece(), *pieces), pieces, (*pieces[1:], Piece()), strict=False):
        if piece.words and not (piece.begins or piece.named or piece.optional):
            ahead = {first + second for first in piece.words for second in after.words}
            behind = {first + second for first in before.words for second in piece.words}
            found.append(piece.words | ahead | behind)
        elif piece.either and not piece.optional:
            each = [_needed(one) for one in piece.either]
            if all(each):
                found.append(frozenset().union(*(min(one, key=len) for one in each)))
    return tuple(found)


def _piece(word: str) -> Piece:
    if word in _GAPS:
        return Piece(gap=_GAPS[word])
    optional = len(word) > 1 and word.endswith("?")
    bare = word.removesuffix("?") if optional else word
    if bare.startswith("["):
        return _either(bare, optional=optional)
    if bare.startswith("<"):
        if bare not in _CLASSES:
            raise ValueError(f"{bare!r} is not one of: {', '.join(_CLASSES)}")
        return Piece(named=bare, optional=optional)
    choices = bare.split("|")
    for choice in choices:
        letters = choice.removesuffix("*").removesuffix("~")
        if not letters or (letters not in ",;:" and not letters.isalnum()) or letters != letters.lower():
            raise ValueError(f"{choice!r} is no word in small letters")
    exact = frozenset(choice for choice in choices if not choice.endswith(("*", "~")))
    exact |= {form for choice in choices if choice.endswith("~") for form in forms(choice[:-1])}
    return Piece(exact, tuple(choice[:-1] for choice in choices if choice.endswith("*")), optional=optional)


def _either(written: str, *, optional: bool) -> Piece:
    """Alternatives in brackets; those of one word make one piece together."""
    if not written.endswith("]"):
        raise ValueError(f"{written!r} lacks its closing bracket")
    choices = [choice.strip() for choice in written[1:-1].split("|")]
    if not all(choices):
        raise ValueError(f"{written!r} holds an empty choice")
    single = "|".join(choice for choice in choices if " " not in choice and not choice.startswith("<"))
    several = tuple(_pieces(choice) for choice in choices if " " in choice or choice.startswith("<"))
    if any(one[0].gap or one[-1].gap for one in several):
        raise ValueError("a choice in brackets neither begins nor ends with a gap")
    if not several:
        return replace(_piece(single), optional=optional)
    return Piece(either=((_piece(single),), *several) if single else several, optional=optional)


def find(wanted: Phrase, tokens: Sequence[Token], words: Words) -> Iterator[tuple[int, int]]:
    """Where the phrase stands: first token and the one after its last, one for each beginning, the longest."""
    first = wanted.pieces[0]
    plain = bool(first.words) and not (first.begins or first.optional)
    following = wanted.pieces[1].words if len(wanted.pieces) > 1 else frozenset[str]()
    for start, token in enumerate(tokens):
        if plain and first.words.isdisjoint(words[start]) and not _joined(first, following, words[start]):
            continue
        if token.sort is Sort.MARK and not first.named and token.text not in first.words:
            continue
        end = _match(wanted.pieces, tokens, words, start, loose=wanted.loose)
        if end is not None:
            yield start, end


def _match(
    pieces: tuple[Piece, ...], tokens: Sequence[Token], words: Words, place: int, *, loose: bool, inside: bool = False
) -> int | None:
    """The place after the pieces where they stand at `place`; `inside` once the phrase has begun."""
    if not pieces:
        return place
    piece, rest = pieces[0], pieces[1:]
    if piece.gap:
        return _over_gap(piece.gap, rest, tokens, words, place, loose=loose)
    if loose and inside:
        while place < len(tokens) and tokens[place].sort is Sort.MARK:
            place += 1
    if piece.either:
        for one in piece.either:
            end = _match(one + rest, tokens, words, place, loose=loose, inside=inside)
            if end is not None:
                return end
    else:
        for after, ahead in _filled(pieces, tokens, words, place):
            end = _match(pieces[ahead:], tokens, words, after, loose=loose, inside=True)
            if end is not None:
                return end
    return _match(rest, tokens, words, place, loose=loose, inside=inside) if piece.optional else None


def _filled(pieces: Sequence[Piece], tokens: Sequence[Token], words: Words, place: int) -> Iterator[tuple[int, int]]:
    """Ways to fill the first piece: the place after it, and how many pieces that used up."""
    if place >= len(tokens):
        return
    piece = pieces[0]
    if piece.named:
        end = _CLASSES[piece.named](tokens, words, place)
        if end is not None:
            yield end, 1
        return
    if piece.takes(words[place]):
        yield place + 1, 1
    if len(pieces) > 1 and _joined(piece, pieces[1].words, words[place]):
        yield place + 1, 2


def _joined(piece: Piece, following: frozenset[str], words: frozenset[str]) -> bool:
    """Whether one of the words is a word of the piece and one that follows it, written as one."""
    if not following or not piece.words:
        return False
    for word in words:
        if len(word) >= _SHORTEST_JOINED:
            for cut in range(2, len(word) - 1):
                if word[:cut] in piece.words and word[cut:] in following:
                    return True
    return False


def _over_gap(
    most: int, rest: tuple[Piece, ...], tokens: Sequence[Token], words: Words, place: int, *, loose: bool
) -> int | None:
    if most == _GAPS["."] and not loose and place < len(tokens) and tokens[place].text == ",":
        place += 1
    for skipped in range((_LONGEST_SLOT if loose else most) + 1):
        end = _match(rest, tokens, words, place + skipped, loose=loose, inside=True)
        if end is not None:
            return end
        passed = place + skipped
        if passed >= len(tokens) or (not loose and _bars(tokens[passed], most)):
            return None
    return None


def _bars(token: Token, most: int) -> bool:
    """Whether a gap of at most that many words may not pass over the token."""
    if most == _GAPS["."]:
        return token.sort is Sort.MARK or token.text in _JOINS
    if most == _GAPS["..."]:
        return token.text in _TURNS or (token.sort is Sort.MARK and token.text not in ",()")
    return token.sort is Sort.MARK and token.text != ","


def number(tokens: Sequence[Token], words: Words, place: int) -> int | None:
    """The place after a number in figures or words that begins at `place`."""
    end = place
    while end < len(tokens) and (tokens[end].sort is Sort.NUMBER or not _COUNTS.isdisjoint(words[end])):
        end += 1
    return end if end > place else None


def _unit(units: frozenset[str]) -> Callable[[Sequence[Token], Words, int], int | None]:
    def measured(tokens: Sequence[Token], words: Words, place: int) -> int | None:
        end = number(tokens, words, place)
        if end is None:
            return None
        return end + 1 if end < len(tokens) and tokens[end].text in units else None

    return measured


def _money(tokens: Sequence[Token], words: Words, place: int) -> int | None:
    if tokens[place].text == "$":
        return number(tokens, words, place + 1) if place + 1 < len(tokens) else None
    return _unit(_CURRENCIES)(tokens, words, place)


def _reasons(tokens: Sequence[Token], words: Words, place: int) -> int | None:
    if tokens[place].text != ":" and tokens[place].text not in _BECAUSE:
        return None
    rest = range(place + 1, len(tokens))
    return place + 1 if any(not _SHOWN.isdisjoint(words[at]) for at in rest) else None


_CLASSES: Final[Mapping[str, Callable[[Sequence[Token], Words, int], int | None]]] = MappingProxyType(
    {
        "<number>": number,
        "<size>": _unit(_LENGTHS),
        "<money>": _money,
        "<power>": _unit(_POWERS),
        "<reasons>": _reasons,
    }
)
