"""What was added, changed and withdrawn between two editions, worked out of their published records alone.

Photographs are known by the original's digest: their numbers move from edition to edition and count for nothing. Where
the two records are in different languages, only what stands in no language is compared. A record may come from
anywhere, so a row of another shape is passed over and nothing here raises for it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from enum import StrEnum
from typing import Any, Final

from .language import ENGLISH
from .phrases import count, photos, said, say, section_words, template
from .section_phrases import SECTIONS

Row = Mapping[str, Any]


class Turn(StrEnum):
    """What became of one row from one edition to the other."""

    ADDED = "added"
    CHANGED = "changed"
    WITHDRAWN = "withdrawn"


@dataclass(frozen=True, slots=True)
class FieldTurned:
    """A field of a changed row that its sentence need not tell, in words: severity, basis, how many photographs."""

    field: str
    label: str
    before: str
    after: str


@dataclass(frozen=True, slots=True)
class RowTurned:
    """One row that is not in both editions as it was.

    Attributes:
        key: what makes it the same row in both: a number, an id, a digest.
        subject: what it is about, in a few words.
        before, after: its sentence in each edition as it was printed there, "" where it is not.
        before_photos, after_photos: the numbers that its photographs have in each edition.
        fields: the names of the record's fields that differ, of a changed row.
        told: those of them that are told apart from the sentence.
    """

    turn: Turn
    key: str
    subject: str
    before: str = ""
    after: str = ""
    before_photos: tuple[int, ...] = ()
    after_photos: tuple[int, ...] = ()
    fields: tuple[str, ...] = ()
    told: tuple[FieldTurned, ...] = ()


@dataclass(frozen=True, slots=True)
class SectionCompared:
    """One part of the record and its rows that turned: added and changed ones in the later edition's order, then the
    withdrawn ones. `heading` is in the language that was spoken."""

    key: str
    heading: str
    rows: tuple[RowTurned, ...]

    def of(self, turn: Turn) -> tuple[RowTurned, ...]:
        """The rows of one turn."""
        return tuple(row for row in self.rows if row.turn is turn)


@dataclass(frozen=True, slots=True)
class EditionNamed:
    """One of the two editions, as its record names itself; `made_at` is ISO 8601."""

    stock: str
    number: int
    made_at: str
    house: str
    signed_words: str
    title: str


@dataclass(frozen=True, slots=True)
class Comparison:
    """From `before` to `after`. `same_language` False: sentences were not compared."""

    before: EditionNamed
    after: EditionNamed
    sections: tuple[SectionCompared, ...] = ()
    same_language: bool = True

    @property
    def same(self) -> bool:
        """Whether nothing turned."""
        return not any(section.rows for section in self.sections)

    def number_of(self, turn: Turn) -> int:
        """How many rows turned so."""
        return sum(len(section.of(turn)) for section in self.sections)

    def mirrored(self) -> Comparison:
        """The same, seen from the later edition to the earlier."""
        sections = tuple(replace(one, rows=tuple(map(_mirrored, one.rows))) for one in self.sections)
        return replace(self, before=self.after, after=self.before, sections=sections)


@dataclass(frozen=True, slots=True)
class _Part:
    """How the rows of one part are known again and compared.

    Attributes:
        lists: the record's lists that hold the rows, together.
        known_by: the fields that make a row the same row; a second row with the same ones is the second of that kind.
        compared: the fields that are compared in any language.
        worded: the fields that are compared where both records are in one language.
        subject, sentence: the fields that name and tell it.
    """

    key: str
    lists: tuple[str, ...]
    known_by: tuple[str, ...]
    compared: tuple[str, ...] = ()
    worded: tuple[str, ...] = ()
    subject: str = "subject"
    sentence: str = "sentence"
    worded_only: bool = field(default=False)


_PARTS: Final = (
    _Part("identity", ("identity",), ("label",), worded=("words", "basis"), subject="label", sentence="words",
          worded_only=True),
    _Part("findings", ("findings",), ("number",), ("kind", "tone", "severity", "basis", "open", "photos"),
          ("part", "place", "extent", "state", "origin", "work", "photo_note", "sentence"), subject="part"),
    _Part("checks", ("checks",), ("check",), ("verdict", "photos"), ("conditions", "note", "sentence"), "item"),
    _Part("measurements", ("measurements",), ("measure", "about"), ("read", "photos"),
          ("instrument", "uncertainty", "sentence"), "part"),
    _Part("statements", ("statements",), ("number",), ("basis", "photos"), ("subject", "sentence")),
    _Part("originality", ("parts",), ("part",), worded=("origin", "work", "sentence"), subject="part",
          worded_only=True),
    _Part("gaps", ("not_seen", "not_tested"), ("kind", "ids"), worded=("sentence",)),
    _Part("coverage", ("shots",), ("shot",), ("state", "waived"), subject="shot", sentence="coverage"),
    _Part("nothing-found", ("nothing_found",), ("part",), worded=("words",), subject="part", sentence="words",
          worded_only=True),
    _Part("waivers", ("let_stand",), ("what",), worded=("words",), subject="what", sentence="words", worded_only=True),
    _Part("withheld", ("withheld",), ("where",), worded=("words",), subject="where", sentence="words",
          worded_only=True),
    _Part("photos", ("photos",), ("original_sha256",), ("media", "shot", "zone", "slot"), ("caption",), "caption",
          "caption"),
    _Part("edition", ("edition",), ("what",), ("value",), subject="label", sentence="words"),
)  # fmt: skip
"""In the order that a reader wants them. `about`, `open`, `read` and `coverage` are worked out of a row below."""


def compare(before: Row, after: Row) -> Comparison:
    """What turned from one published record to the other; any mapping will do, and what it lacks is lacking in it."""
    same_language = _text(before, "language", ENGLISH.tag) == _text(after, "language", ENGLISH.tag)
    old, new = _Record(before, bare=not same_language), _Record(after, bare=not same_language)
    sections = tuple(
        SectionCompared(
            part.key, _heading(part.key), tuple(_turned(part, old.rows(part), new.rows(part), bare=not same_language))
        )
        for part in _PARTS
        if same_language or not part.worded_only
    )
    return Comparison(_named(before), _named(after), sections, same_language)


def changes_since(previous: Row, record: Row) -> tuple[str, ...]:
    """What the condition page prints differently from an earlier published record, each one sentence."""
    turned = {section.key: section for section in compare(previous, record).sections}
    lines = [
        say(key, photos=count("count.photos", len(found)))
        for key, turn in (("changed.photos.added", Turn.ADDED), ("changed.photos.gone", Turn.WITHDRAWN))
        if (found := turned["photos"].of(turn))
    ]
    for part, name in _TOLD:
        for row in turned[part].rows if part in turned else ():
            key = f"changed.{name}.{row.turn}"
            if key not in _UNTOLD:
                lines.append(say(key, subject=row.subject, sentence=row.after or row.before, before=row.before))
    return tuple(lines)


_TOLD: Final = (
    ("identity", "identity"),
    ("findings", "finding"),
    ("checks", "check"),
    ("statements", "statement"),
    ("measurements", "measurement"),
    ("originality", "part"),
    ("gaps", "gap"),
    ("waivers", "waiver"),
)
"""What the page's own section tells, and the name that its sentences go by."""
_UNTOLD: Final = ("changed.check.withdrawn",)
"""A check that is tested no more stands among what was not tested."""


class _Record:
    """A published record with its rows made comparable; `bare` leaves out of them what stands in a language."""

    def __init__(self, record: Row, *, bare: bool) -> None:
        self._record = record
        self._bare = bare
        self._digests = {
            row["number"]: _text(row, "original_sha256")
            for row in self._list("photos")
            if type(row.get("number")) is int
        }
        self._titles = {
            str(row["ids"][0]): _text(row, "subject")
            for row in self._list("not_seen")
            if row.get("kind") == "shot" and _items(row, "ids")
        }

    def rows(self, part: _Part) -> dict[str, Row]:
        """The rows of one part by what makes them the same row."""
        if part.key == "edition":
            return {row["what"]: row for row in self._edition()}
        found: dict[str, Row] = {}
        for name in part.lists:
            for row in self._list(name):
                made = self._comparable(part, row)
                key = " ".join(str(made.get(one, "")) for one in part.known_by)
                found[next(one for one in _numbered(key) if one not in found)] = made
        return found

    def _list(self, name: str) -> Sequence[Row]:
        return [row for row in _items(self._record, name) if isinstance(row, Mapping)]

    def _comparable(self, part: _Part, row: Row) -> Row:
        """The row with its photographs by digest, their numbers out of its sentence, and what is worked out of it."""
        numbers = [one for one in _items(row, "photos") if type(one) is int]
        made: dict[str, Any] = {**row, "photos": sorted(self._digests.get(one) or str(one) for one in numbers)}
        shown = _text(row, part.sentence)
        made["shown"] = shown
        made["numbers"] = tuple(numbers)
        made[part.sentence] = without_photos(shown, numbers)
        if part.key == "findings":
            made["open"] = not row.get("state")
        elif part.key == "gaps":
            made["ids"] = " ".join(map(str, _items(row, "ids"))) or _text(row, "subject")
        elif part.key == "measurements":
            made["read"] = [_text(one, "as_read") for one in _items(row, "readings") if isinstance(one, Mapping)]
            made["about"] = "" if self._bare else _text(row, "part")
        elif part.key == "coverage":
            words = say(f"compare.state.{row.get('state')}") if row.get("state") in _STATES else _text(row, "state")
            made["shown"] = say("compare.waived", state=words) if row.get("waived") is True else words
            made["shot_title"] = self._titles.get(_text(row, "shot"), "")
        return made

    def _edition(self) -> Iterator[Row]:
        """The record's own head as rows."""
        for what, words in (("signed", "signed_words"), ("plan", "plan"), ("house", "house")):
            told = _text(self._record, words)
            yield {
                "what": what,
                "label": say(f"compare.edition.{what}"),
                "value": self._record.get(what),
                "shown": told,
            }


_STATES: Final = ("missed", "taken", "partly", "covered", "not-reachable", "not-fitted", "decide")


def _turned(part: _Part, old: Mapping[str, Row], new: Mapping[str, Row], *, bare: bool) -> Iterator[RowTurned]:
    names = part.compared if bare else (*part.compared, *part.worded)
    for key, row in new.items():
        if key not in old:
            yield RowTurned(
                Turn.ADDED, key, _subject(part, row), after=row["shown"], after_photos=row.get("numbers", ())
            )
    for key, row in new.items():
        was = old.get(key, row)
        if fields := tuple(name for name in names if _value(row, name) != _value(was, name)):
            yield RowTurned(
                Turn.CHANGED,
                key,
                _common(part, was, row),
                was["shown"],
                row["shown"],
                was.get("numbers", ()),
                row.get("numbers", ()),
                fields,
                tuple(
                    FieldTurned(one, _label(one), _field(was, one), _field(row, one))
                    for one in fields
                    if one in _TOLD_APART
                ),
            )
    for key, row in old.items():
        if key not in new:
            yield RowTurned(
                Turn.WITHDRAWN, key, _subject(part, row), before=row["shown"], before_photos=row.get("numbers", ())
            )


_TOLD_APART: Final = ("severity", "basis", "photos")


def _label(name: str) -> str:
    return say("print.known") if name == "basis" else say(f"compare.field.{name}")


def _field(row: Row, name: str) -> str:
    """A field in words; a code that this program does not know stays as it is."""
    if name == "photos":
        return count("count.photos", len(row["photos"]))
    code = _text(row, name)
    return said(f"severity.{code}" if name == "severity" else f"basis.word.{code}") or code


def _heading(key: str) -> str:
    return section_words(key)[0] if key in SECTIONS else say(f"compare.{key}")


def _subject(part: _Part, row: Row) -> str:
    named = (row.get("shot_title"), _text(row, part.subject))
    return next((str(one) for one in named if one), "")


def _common(part: _Part, was: Row, row: Row) -> str:
    """What a changed row is about, the same from either side: the shorter name, of equal ones the first by letters."""
    return min((_subject(part, was), _subject(part, row)), key=lambda words: (not words, len(words), words))


def _value(row: Row, name: str) -> Any:
    """A field's value, as what a JSON file can hold and two of which can be compared."""
    value = row.get(name)
    return str(value) if isinstance(value, (Mapping, list, tuple)) else value


def _mirrored(row: RowTurned) -> RowTurned:
    turned = {Turn.ADDED: Turn.WITHDRAWN, Turn.WITHDRAWN: Turn.ADDED, Turn.CHANGED: Turn.CHANGED}
    return replace(
        row,
        turn=turned[row.turn],
        before=row.after,
        after=row.before,
        before_photos=row.after_photos,
        after_photos=row.before_photos,
        told=tuple(replace(one, before=one.after, after=one.before) for one in row.told),
    )


def without_photos(sentence: str, numbers: Sequence[int]) -> str:
    """A sentence without the numbers of its photographs, which move, as this program writes them into it.

    Where the row does not list the numbers, only those at the very end are known for such.
    """
    if told := photos(numbers):
        return sentence.replace(f", {told}", "").replace(told, "")
    for key in ("photos", "photo"):
        begin = re.escape(template(key).partition("{numbers}")[0])
        if found := re.search(rf"(, )?{begin}\d+(\D{{1,6}}\d+)*\Z", sentence):
            return sentence[: found.start()]
    return sentence


def _named(record: Row) -> EditionNamed:
    number = record.get("edition")
    car = record.get("car")
    named = [_text(car, name) for name in ("year", "make", "model")] if isinstance(car, Mapping) else []
    return EditionNamed(
        stock=_text(record, "stock"),
        number=number if type(number) is int else 0,
        made_at=_text(record, "made_at"),
        house=_text(record, "house"),
        signed_words=_text(record, "signed_words"),
        title=" ".join(filter(None, named)) or say("title.plain", stock=_text(record, "stock")),
    )


def _text(record: Row, name: str, missing: str = "") -> str:
    """A field as text; numbers too, anything else as nothing."""
    value = record.get(name, missing)
    return value if isinstance(value, str) else str(value) if type(value) in (int, float) else missing


def _items(record: Row, name: str) -> Sequence[Any]:
    """A field that should be a list; anything else as an empty one."""
    value = record.get(name)
    return value if isinstance(value, (list, tuple)) else ()


def _numbered(key: str) -> Iterator[str]:
    yield key
    at = 2
    while True:
        yield f"{key} #{at}"
        at += 1
