"""The field tables of claim rules: what may not be said without which evidence, and words that may not be printed.

Phrases are written as in `domain.claim_phrases`; `{name}` in one stands for a group of words that the file lists once.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from ..domain.claim_phrases import phrase, written
from ..domain.plan import Claim, WordingRule
from .fields import Field, Rows, Shape
from .kinds import Flag, ListOf, NewId, Text
from .problems import did_you_mean, one_of
from .reading import Row
from .show_fields import NEED, needed_or_forbidden
from .walk_fields import LINE
from .word_lists import Lists

_PHRASE_KEYS = ("words", "unless", "beside")
_GROUP = re.compile(r"\{([^{}]*)\}")
_BRACKET = re.compile(r"\[[^\[\]]*\]")

_PHRASES = ListOf(Text(300))
WORDS = Field(_PHRASES, "phrases that make it", default=())
UNLESS = Field(_PHRASES, "phrases that take it back where they overlap its words", default=())
BESIDE = Field(_PHRASES, "phrases that take it back wherever they stand in the sentence", default=())

CLAIM = Shape(
    "claim",
    "a claim, what it needs, and what to say instead",
    {
        "id": Field(NewId("claims"), "a short name, unique", required=True),
        "claim": Field(LINE, "the claim in words", required=True),
        "words": WORDS,
        "unless": UNLESS,
        "beside": BESIDE,
        "needs": Field(Rows(NEED, least=1), "the evidence that allows it", default=()),
        "not_enough": Field(Text(), "what is often taken for proof and is none", default=""),
        "say_instead": Field(Text(), "the wording that is allowed without it", required=True),
        "forbidden": Field(Flag(), "never to be claimed", default=False),
    },
    rules=(needed_or_forbidden,),
)

WORDING = Shape(
    "wording",
    "words that may not be printed, whoever said them",
    {
        "id": Field(NewId("wording"), "a short name, unique", required=True),
        "name": Field(LINE, "what sort of words they are, after 'is'", required=True),
        "words": Field(ListOf(Text(300), least=1), "the phrases", required=True),
        "unless": UNLESS,
        "beside": BESIDE,
        "why": Field(Text(), "why not, in one sentence", default=""),
        "say_instead": Field(Text(), "what to say instead", default=""),
    },
)


def _phrases_are_good(file: Row) -> None:
    groups = groups_of(file)
    for row in (*(file["claims"] or ()), *(file["wording"] or ())):
        for key in _PHRASE_KEYS:
            for text in row[key] or ():
                for words, remedy in _trouble(text, groups):
                    row.wrong(key, f"{text!r}: {words}", remedy)


def _trouble(text: str, groups: Mapping[str, tuple[str, ...]]) -> Iterator[tuple[str, str]]:
    missing = [name for name in _GROUP.findall(text) if name not in groups]
    if missing:
        yield f"there is no group {missing[0]!r}", did_you_mean(missing[0], groups) or f"groups: {one_of(groups)}"
        return
    try:
        for one in written(opened(text, groups)):
            phrase(one)
    except ValueError as error:
        yield str(error), "write it as the head of the shipped claims.yaml says"


def _file(name: str, words: str, *, own: bool) -> Shape:
    least = 0 if own else 1
    claims = Field(Rows(CLAIM, least=least), "the claims", required=not own, default=())
    lists = {
        "groups": Field(Lists(), "words that stand together for {name} in a phrase", default=None),
        "claims": claims,
        "wording": Field(Rows(WORDING), "words that may not be printed", default=()),
    }
    return Shape(name, words, lists, rules=(_phrases_are_good,))


CLAIMS_FILE = _file("claims.yaml", "claims", own=False)
HOUSE_CLAIMS_FILE = _file("house claims", "claim rules of a house's own", own=True)


def groups_of(file: Row) -> dict[str, tuple[str, ...]]:
    """The file's groups of words by name."""
    return {name: tuple(words) for name, words in file["groups"].values.items()} if file["groups"] else {}


def opened(text: str, groups: Mapping[str, tuple[str, ...]]) -> str:
    """The phrase with its groups written out, in brackets where a group holds several words in one."""
    inner = _BRACKET.sub(lambda found: _GROUP.sub(lambda name: "|".join(groups[name.group(1)]), found.group()), text)
    return _GROUP.sub(lambda found: _listed(groups[found.group(1)]), inner)


def _listed(words: tuple[str, ...]) -> str:
    joined = "|".join(words)
    return f"[{joined}]" if " " in joined else joined


def claim(row: Row, groups: Mapping[str, tuple[str, ...]]) -> Claim:
    """The claim of a row that is known to be good."""
    return Claim(
        id=row["id"],
        claim=row["claim"],
        say_instead=row["say_instead"],
        needs=tuple(_need(need) for need in row["needs"]),
        not_enough=row["not_enough"],
        forbidden=row["forbidden"],
        words=_opened(row, "words", groups),
        unless=_opened(row, "unless", groups),
        beside=_opened(row, "beside", groups),
    )


def wording(row: Row, groups: Mapping[str, tuple[str, ...]]) -> WordingRule:
    """The wording rule of a row that is known to be good."""
    return WordingRule(
        id=row["id"],
        name=row["name"],
        words=_opened(row, "words", groups),
        unless=_opened(row, "unless", groups),
        beside=_opened(row, "beside", groups),
        why=row["why"],
        say_instead=row["say_instead"],
    )


def _opened(row: Row, key: str, groups: Mapping[str, tuple[str, ...]]) -> tuple[str, ...]:
    return tuple(opened(text, groups) for text in row[key])


def _need(row: Row) -> str:
    """One need of a claim on one line: 'seen or documented: body-tag (paint code)', or 'as for: original-paint'."""
    if row["same_as"]:
        return f"as for: {row['same_as']}"
    return f"{' or '.join(row['basis'])}: {row['about']} ({row['what']})"
