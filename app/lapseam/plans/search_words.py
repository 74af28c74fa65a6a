"""The words for searching: synonyms and callers' questions, read by themselves so that an answer need not wait."""

from __future__ import annotations

from pathlib import Path

from ..domain.search_words import CallerQuestion, SearchWords, Synonym, phrase
from .nodes import read_nodes
from .problems import Mark
from .reading import Reading, Row, Spot
from .vocabulary import raise_broken
from .word_files import FILES

_SYNONYMS, _QUESTIONS = "synonyms.yaml", "questions.yaml"


def load_search_words(folder: Path) -> SearchWords:
    """Read synonyms and callers' questions of a vocabulary folder; names of other files are not compared.

    Raises:
        PlanBroken: something is wrong; `problems` names every place.
    """
    reading = Reading()
    synonyms, questions = (_read(folder / name, reading) for name in (_SYNONYMS, _QUESTIONS))
    raise_broken(reading, folder.name)
    if synonyms is None or questions is None:
        raise ValueError("files without a problem have rows")
    return SearchWords(
        synonyms=tuple(_synonym(row) for row in synonyms["synonyms"]),
        silent=frozenset(word for said in synonyms["silent"] for word in phrase(said)),
        questions=tuple(_question(row) for row in questions["questions"]),
    )


def _read(path: Path, reading: Reading) -> Row | None:
    if not path.is_file():
        words = f"the vocabulary's file {path.name} is not there"
        reading.problems.add(Mark(path.name), "", words, "copy it from the plans that ship")
        return None
    node = read_nodes(path, reading.problems)
    return FILES[path.name].read(node, Spot(reading, "")) if node is not None else None


def _synonym(row: Row) -> Synonym:
    same, wider, unless = (tuple(phrase(said) for said in row[key]) for key in ("same", "wider", "unless"))
    return Synonym(row["id"], same, wider, unless)


def _question(row: Row) -> CallerQuestion:
    checks = ("list:checks" if check == "all-checks" else check for check in row["checks"])
    lists = (f"list:{name}" for name in row["lists"])
    groups = (f"group:{name}" for name in row["groups"])
    about = (*groups, *lists, *row["comps"], *checks, *row["measures"], *row["facts"])
    return CallerQuestion(row["id"], row["q"], about, row["answer"])
