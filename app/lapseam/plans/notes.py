"""A notes file: one car's decisions as written at a desk, checked against the car and its plan before any is taken.

YAML, a table (CSV), or plain text whose paragraphs become jottings. Strict: either the whole file is good and becomes
decisions, or nothing is taken and every problem is named.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from pathlib import Path

from ..domain.car import Car
from ..domain.decision import Decision
from ..domain.errors import NotesBroken
from ..domain.plan import Vocabulary
from .answers import check_answers
from .nodes import read_nodes
from .notes_build import Desk, decisions_of
from .notes_check import check_notes
from .notes_fields import NOTES_FILE
from .notes_table import SUFFIXES, read_table, told_by_row
from .notes_text import TEXT_SUFFIX, read_jottings
from .problems import did_you_mean
from .reading import Reading, Row, Spot
from .vocabulary import raise_broken

SHORTEST_HASH = 8


@dataclass(frozen=True, slots=True)
class Notes:
    """What a notes file says. `words` counts its decisions for people, one kind a line."""

    decisions: tuple[Decision, ...]
    words: tuple[str, ...]


def read_notes(path: Path, car: Car, *, at: datetime, people: tuple[str, ...] = (), by: str = "") -> Notes:
    """Read a notes file for `car`; its decisions carry the moment `at`. With `people`, every name must be one of them.

    `by` is who takes the file in: a table's rows carry this name where they say no other, jottings always.

    Raises:
        NotesBroken: something is wrong; `problems` names every place, and nothing was taken over.
    """
    if path.suffix.lower() == TEXT_SUFFIX:
        jottings = read_jottings(path, car, at=at, by=by)
        return Notes(jottings, _counted(jottings))
    table = path.suffix.lower() in SUFFIXES
    reading = Reading()
    _know(reading, car.plan.vocabulary, [shot.id for shot in car.plan.shots])
    node = read_table(path, reading.problems, car, by) if table else read_nodes(path, reading.problems)
    row = NOTES_FILE.read(node, Spot(reading, "")) if node is not None else None
    photos = _find_photos(reading, car)
    reading.settle_names()
    if row is not None:
        _check_head(row, car, at.date(), people)
        if row["facts"] is not None:
            check_answers(row["facts"], car.plan.vocabulary.facts)
        check_notes(row, car, photos)
    if table:
        reading.problems.say_otherwise(told_by_row)
    raise_broken(reading, path.name, NotesBroken)
    if row is None:
        raise ValueError("a notes file without a problem has rows")
    decisions = decisions_of(row, Desk(row["by"], at, row["on"] or at.date(), photos, car.plan))
    return Notes(decisions, _counted(decisions))


def _know(reading: Reading, words: Vocabulary, shots: list[str]) -> None:
    reading.know("shots", shots)
    reading.know("facts", words.facts)
    reading.know("zones", words.zones)
    reading.know("components", words.components())
    reading.know("rust_places", words.rust_places)
    reading.know("findings", words.findings)
    reading.know("checks", words.checks)
    reading.know("not_tested_reasons", words.not_tested_reasons)
    reading.know("measures", words.measurements)
    reading.know("signoff", words.signoff)
    reading.know("reach_reasons", words.words.get("not_reachable_reasons", ()))


def _find_photos(reading: Reading, car: Car) -> dict[str, str]:
    """For every photo named in the file its SHA-256; what names none, or several, is noted."""
    by_name: dict[str, list[str]] = {}
    for photo in car.photos:
        by_name.setdefault(photo.name, []).append(photo.sha256)
    found: dict[str, str] = {}
    for node, word in reading.photos:
        hits = list(dict.fromkeys(by_name.get(node.text) or _by_hash(node.text, car)))
        if len(hits) == 1:
            found[node.text] = hits[0]
            continue
        if hits:
            words = f"{node.text!r} names {len(hits)} photos"
            remedy = f"write one of: {', '.join(_told_apart(hits))}"
        else:
            words = f"the car has no photo {node.text!r}"
            remedy = did_you_mean(node.text, by_name) or "take the photo in first, or look up its name"
        reading.problems.add(node.mark, word, words, remedy)
    return found


def _told_apart(hashes: list[str]) -> list[str]:
    """The shortest beginnings, of at least eight digits, that tell the hashes apart."""
    digits = SHORTEST_HASH
    while len({sha256[:digits] for sha256 in hashes}) < len(hashes):
        digits += 1
    return [sha256[:digits] for sha256 in hashes]


def _by_hash(text: str, car: Car) -> list[str]:
    start = text.lower()
    if len(start) < SHORTEST_HASH or set(start) - set("0123456789abcdef"):
        return []
    return [photo.sha256 for photo in car.photos if photo.sha256.startswith(start)]


def _check_head(row: Row, car: Car, today: date, people: tuple[str, ...]) -> None:
    if row["notes_for"] and row["notes_for"] != car.stock:
        row.wrong("notes_for", f"these notes are for {row['notes_for']!r}, the car is {car.stock!r}", "open that car")
    for one in (row, *_all_rows(row)):
        name, day = one["by"], one["on"]
        if people and name and name not in people:
            one.wrong(
                "by", f"{name!r} is not on the house's list", did_you_mean(name, people) or "add the person first"
            )
        if day and day > today + timedelta(days=1):
            one.wrong("on", f"{day} lies after today, {today}", "mend the day")


def _all_rows(row: Row) -> list[Row]:
    return [one for rows in row.values.values() if isinstance(rows, tuple) for one in rows if isinstance(one, Row)]


def _counted(decisions: tuple[Decision, ...]) -> tuple[str, ...]:
    names: Mapping[str, int] = Counter(type(decision).__name__ for decision in decisions)
    return tuple(f"{count} {_WORDS[name][count != 1]}" for name, count in names.items())


_WORDS = {
    "FactAnswer": ("fact answered", "facts answered"),
    "Placement": ("photo placed", "photos placed"),
    "Tick": ("must-see item ticked", "must-see items ticked"),
    "Closing": ("shot closed", "shots closed"),
    "Looked": ("component looked at", "components looked at"),
    "Finding": ("finding", "findings"),
    "CheckResult": ("check", "checks"),
    "Measurement": ("measurement", "measurements"),
    "Statement": ("statement", "statements"),
    "SerialReading": ("serial read", "serials read"),
    "Waiver": ("waiver", "waivers"),
    "Jotting": ("jotting", "jottings"),
    "Release": ("photo looked at for hiding", "photos looked at for hiding"),
    "Lead": ("lead photo", "lead photos"),
}
