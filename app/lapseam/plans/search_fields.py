"""The field table of the words that search uses: synonyms, and words that say nothing by themselves."""

from __future__ import annotations

from ..domain.search_words import words_of
from .fields import Field, Rows, Shape
from .kinds import ListOf, NewId, Text
from .reading import Row

_PHRASES = ListOf(Text(60), least=1)


def _phrases_have_words(row: Row) -> None:
    for key in ("same", "wider", "unless"):
        for said in row[key] or ():
            if not words_of(said):
                row.wrong(key, f"{said!r} holds no word", "write letters or digits")


SYNONYM = Shape(
    "synonym",
    "words that mean the same to whoever asks",
    {
        "id": Field(NewId("synonyms"), "a short name, unique", required=True),
        "same": Field(_PHRASES, "words and phrases of one meaning; each finds all of them", required=True),
        "wider": Field(_PHRASES, "what a question by these words is about too", default=()),
        "unless": Field(_PHRASES, "phrases in which one of the words means something else", default=()),
    },
    rules=(_phrases_have_words,),
)

SYNONYMS_FILE = Shape(
    "synonyms.yaml",
    "how people who ask call things",
    {
        "synonyms": Field(Rows(SYNONYM, least=1), "the synonyms", required=True),
        "silent": Field(ListOf(Text(20), least=1), "words that say nothing by themselves", required=True),
    },
)

HOUSE_SYNONYMS_FILE = Shape(
    "house synonyms",
    "how a house and those who call it say things, on top of what ships",
    {
        "synonyms": Field(Rows(SYNONYM), "the synonyms", default=()),
        "silent": Field(ListOf(Text(20)), "more words that say nothing by themselves", default=()),
    },
)
