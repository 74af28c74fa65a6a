"""The words for searching: synonyms and callers' questions, read by themselves so that an answer need not wait."""

from __future__ import annotations

from pathlib import Path

from ..domain.search_words import CallerQuestion, Phrase, SearchWords, Synonym, phrase, root
from .nodes import read_nodes
from .problems import Mark
from .reading import Reading, Row, Spot
from .search_fields import HOUSE_SYNONYMS_FILE
from .vocabulary import raise_broken
from .word_files import FILES

_SYNONYMS, _QUESTIONS = "synonyms.yaml", "questions.yaml"


def load_search_words(folder: Path, *, own: Path | None = None) -> SearchWords:
    """Read synonyms and callers' questions of a vocabulary folder; names of other files are not compared.

    With `own`, a house's file of synonyms adds its words: a row that shares a word with one that ships becomes one with
    it, and any other is a synonym more.

    Raises:
        PlanBroken: something is wrong; `problems` names every place.
    """
    reading = Reading()
    synonyms, questions = (_read(folder / name, reading) for name in (_SYNONYMS, _QUESTIONS))
    raise_broken(reading, folder.name)
    if synonyms is None or questions is None:
        raise ValueError("files without a problem have rows")
    shipped = tuple(_synonym(row) for row in synonyms["synonyms"])
    silent = frozenset(word for said in synonyms["silent"] for word in phrase(said))
    if own is not None:
        shipped, silent = _with_own(shipped, silent, own)
    return SearchWords(shipped, silent, tuple(_question(row) for row in questions["questions"]))


def _with_own(
    shipped: tuple[Synonym, ...], silent: frozenset[str], own: Path
) -> tuple[tuple[Synonym, ...], frozenset[str]]:
    reading = Reading()
    node = read_nodes(own, reading.problems)
    file = HOUSE_SYNONYMS_FILE.read(node, Spot(reading, "")) if node is not None else None
    words = {one.id: one for one in shipped}
    rows = file["synonyms"] if file is not None and not reading.problems.errors() else ()
    for row in rows:
        made = _synonym(row)
        same = {one.id for one in shipped if _roots(one) & _roots(made)}
        if len(same) > 1:
            told = f"it shares words with {' and '.join(sorted(same))}, which are not the same"
            row.wrong("same", told, "keep the words of one of them")
        elif not same and row["id"] in words:
            row.wrong("id", f"the synonym {row['id']!r} ships with other words", "give it another id")
        else:
            one = words.get(min(same)) if same else None
            words[one.id if one else made.id] = _joined(one, made) if one else made
    raise_broken(reading, own.name, next_step="Mend the lines named and ask again, or take the file away.")
    more = frozenset(word for said in (file["silent"] if file else ()) for word in phrase(said))
    return tuple(words.values()), silent | more


def _roots(one: Synonym) -> set[Phrase]:
    return {tuple(root(word) for word in said) for said in one.same}


def _joined(one: Synonym, more: Synonym) -> Synonym:
    """Both together under the id of the first."""
    return Synonym(
        one.id,
        tuple(dict.fromkeys((*one.same, *more.same))),
        tuple(dict.fromkeys((*one.wider, *more.wider))),
        tuple(dict.fromkeys((*one.unless, *more.unless))),
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
