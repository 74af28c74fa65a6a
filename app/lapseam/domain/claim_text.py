"""Free text as sentences of plain words, each word with its place in the text.

Looks are folded away before words are read: case, full-width and look-alike letters, soft hyphens and other invisible
characters, curly apostrophes, letters spaced or dotted apart, and figures standing for letters. What is left are words,
numbers and the marks that part clauses. A size in a text is found by its figures and unit, so both stay apart.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache
from typing import Final


class Sort(StrEnum):
    """What a token is."""

    WORD = "word"
    NUMBER = "number"
    MARK = "mark"


def wordset(words: str) -> frozenset[str]:
    """The words of a line as a set."""
    return frozenset(words.split())


@dataclass(frozen=True, slots=True)
class Token:
    """A word in small letters, a number in figures, or one of the marks `, ; : — ( )`. Offsets are into the text."""

    text: str
    sort: Sort
    start: int
    end: int


@dataclass(frozen=True, slots=True)
class Sentence:
    """Tokens from `start` to `end` of the text; `line` counts from 1. `asks` where it ends in a question mark."""

    tokens: tuple[Token, ...]
    start: int
    end: int
    line: int
    asks: bool = False


_LOOKALIKES: Final = str.maketrans("аеорсухіјѕтмнквαοιρντκ", "aeopcyxijstmhkbaoipvtk") | {
    ord(mark): "'" for mark in "’ʼ`´‘"
}
_FIGURES: Final = str.maketrans("013457", "oieast")
_SHORTENED: Final = wordset(
    "approx ca no nos st mr mrs dr vs incl excl max min dia dept est fig figs vol nr e.g i.e etc cyl ref qty "
    "act mi orig eng trans int ext cond pkg opt auto spd pwr reg insp reb rblt cert equip mech elec susp incld w perf "
    "immac exc frt wdshld convt hdtp bbl dr drs blk wht repl recond"
)
_UNITS_SHORTENED: Final = wordset("in ft lb lbs yd mi cu sq")
_TOKEN: Final = re.compile(
    r"""
      (?P<para>\n[ \t]*\n\s*)
    | (?P<line>\n)
    | (?P<money>[$€£¥])
    | (?P<number>\d+(?:[.,]\d+)*)
    | (?P<hash>\#'?s\b)
    | (?P<initials>(?<![a-z'])[a-z](?:[./][a-z])+(?![a-z'])\.?|(?<![a-z0-9'])[a-z](?:[ \-*_.][a-z]){2,}(?![a-z']))
    | (?P<figured>[a-z]+(?:[013457][a-z]+)+)
    | (?P<word>[^\W\d_]+(?:'[^\W\d_]+)*)
    | (?P<stop>[.!?]+)
    | (?P<dash>(?<=\s)-+(?=\s)|--+)
    | (?P<mark>[,;:()\[\]])
    | (?P<sign>[%&×″])
    """,
    re.VERBOSE,
)
_SIGNS: Final = {"%": "percent", "&": "and", "×": "x", "″": "inch"}
_INCHES: Final = re.compile(r"(?<!\d)\d{1,3} ?\"(?!\w)")
_BULLET: Final = re.compile(r"[ \t]*(?:[-*•·–—]|\d{1,2}[.)])[ \t]+")


def sentences(text: str) -> tuple[Sentence, ...]:
    """Every sentence of the text, in order.

    A sentence ends at a full stop, a question or exclamation mark, an empty line, or a line break, unless the next
    line plainly goes on (it begins with a small letter, or the break stands after a comma, hyphen or bracket, or
    both lines are in capitals). The full stop of a common shortening and of a list number ends nothing.
    """
    return tuple(_sentences(text))


def _sentences(text: str) -> Iterator[Sentence]:
    held: list[Token] = []
    for found in _scan(text):
        if isinstance(found, Token):
            held.append(found)
        elif held:
            yield _sentence(text, held, asks=found == "?")
            held = []
    if held:
        yield _sentence(text, held, asks=False)


def _sentence(text: str, tokens: list[Token], *, asks: bool) -> Sentence:
    start, end = tokens[0].start, tokens[-1].end
    return Sentence(tuple(tokens), start, end, text.count("\n", 0, start) + 1, asks)


def _scan(text: str) -> Iterator[Token | str]:
    """Tokens, and between sentences the mark that parts them."""
    folded, places = _folded(text)
    last = ""
    for found in _TOKEN.finditer(folded):
        kind, said = str(found.lastgroup), found.group()
        start, end = places[found.start()], places[found.end() - 1] + 1
        if kind == "para":
            yield "."
        elif kind == "line":
            if not _goes_on(text, start):
                yield "."
        elif kind == "stop":
            if _ends(text, said, end, last):
                yield "?" if "?" in said else "."
        else:
            token = _token(kind, said, start, end)
            last = token.text
            if not _list_number(text, token):
                yield token


def _token(kind: str, said: str, start: int, end: int) -> Token:
    if kind == "number":
        return Token(re.sub(r",(?=\d{3}\b)", "", said), Sort.NUMBER, start, end)
    if kind in ("mark", "dash", "money"):
        mark = {"[": "(", "]": ")"}.get(said, said) if kind == "mark" else "—" if kind == "dash" else "$"
        return Token(mark, Sort.MARK, start, end)
    return Token(_word(kind, said), Sort.WORD, start, end)


def _word(kind: str, said: str) -> str:
    if kind == "hash":
        return "numbers"
    if kind == "sign":
        return _SIGNS[said]
    if kind == "figured":
        return said.translate(_FIGURES)
    return re.sub(r"[^a-z]", "", said) if kind == "initials" else said.replace("'", "")


def _folded(text: str) -> tuple[str, list[int]]:
    """The text with looks folded away, and for each of its characters the place in the text it came from."""
    out, places = [], []
    for place, char in enumerate(text):
        for plain in _plain_char(char):
            out.append(plain)
            places.append(place)
    folded = "".join(out)
    return _INCHES.sub(lambda found: found.group().replace('"', "″"), folded), places


@lru_cache(maxsize=4096)
def _plain_char(char: str) -> str:
    if char == "\n":
        return char
    if unicodedata.category(char) in ("Cf", "Mn", "Cc") and char != "\t":
        return ""
    if unicodedata.category(char) == "Pd" or char == "−":
        return "-"
    plain = unicodedata.normalize("NFKC", char).lower().translate(_LOOKALIKES).replace("μ", "u")
    return "".join(one for one in plain if unicodedata.category(one) != "Mn") if len(plain) > 1 else plain


def _ends(text: str, said: str, end: int, last: str) -> bool:
    """Whether the stop that ends at `end` ends a sentence."""
    if "!" in said or "?" in said or end >= len(text):
        return True
    after = text[end:].lstrip("\"'”’)»")
    if after and not after[0].isspace():
        return after[0].isupper() and text[end - 2 : end - 1].islower()
    following = after.lstrip()[:1]
    if last in _UNITS_SHORTENED:
        return following.isupper()
    return last not in _SHORTENED and not (len(last) == 1 and last.isalpha() and following.islower())


def _list_number(text: str, token: Token) -> bool:
    """Whether the number stands as a list's number at the beginning of its line."""
    if token.sort is not Sort.NUMBER:
        return False
    begins = text.rfind("\n", 0, token.start) + 1
    bullet = _BULLET.match(text, begins)
    return bullet is not None and token.end <= bullet.end() and token.start >= begins


def _goes_on(text: str, newline: int) -> bool:
    before = text[text.rfind("\n", 0, newline) + 1 : newline].rstrip()
    rest = text[newline + 1 :]
    after = rest[: rest.find("\n")] if "\n" in rest else rest
    if _BULLET.match(after) or not after.strip():
        return False
    if before.endswith((",", "-", "(", "/")):
        return True
    first = after.lstrip()[0]
    loud = before.isupper() and after.isupper() and ":" not in after
    return first.islower() or loud
