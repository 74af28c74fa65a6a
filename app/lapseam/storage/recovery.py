"""One car from its files alone: what record.json, journal.jsonl and plan.json still say, written into a new database.

The journal is believed first, because its chain shows whether it was changed; what only the record knows becomes one
step that says so. So undo and audit go on where they stood.
"""

from __future__ import annotations

import json
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path

from sqlalchemy import Connection

from lapseam.domain.changes import Change, Entry
from lapseam.domain.errors import Mistake, WorkspaceBroken

from . import rows
from .codec import decision_text, digest, dumped, json_of, key_of, photo_text, plan_from
from .durable import set_aside
from .journal import JournalReport, Link, verify_journal
from .layout import JOURNAL, PLAN_COPY, RECORD, stock_number
from .record import RecordFile, read_record


@dataclass(slots=True)
class CarFiles:
    """What was found in one car's folder. `lost` and `notes` are worded for people; a car with no plan is lost."""

    stock: str
    folder: Path
    plan: str = ""
    record: RecordFile | None = None
    links: tuple[Link, ...] = ()
    journal: JournalReport | None = None
    lost: list[str] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)

    @property
    def last(self) -> int:
        """The number of the last step that the journal tells."""
        return self.links[-1].entry.number if self.links else 0

    @property
    def cut(self) -> bool:
        """Whether the journal is missing or tells only a part."""
        return self.journal is None or bool(self.journal.problems) or not self.links

    @property
    def recoverable(self) -> bool:
        """Whether the car can be brought back."""
        return bool(self.plan) and bool(self.record or self.links)


def read_car(folder: Path) -> CarFiles | None:
    """Read a car's folder, changing nothing; None if it holds no car.

    Raises:
        WorkspaceNewer: a newer lapseam wrote its record.
    """
    if not (folder / RECORD).exists() and not (folder / JOURNAL).exists():
        return None
    car = CarFiles(folder.name, folder)
    _read_record(car)
    _read_journal(car)
    _read_plan(car)
    _refuse_renamed(car)
    return car


def _read_record(car: CarFiles) -> None:
    try:
        car.record = read_record(car.folder / RECORD)
    except FileNotFoundError:
        car.notes.append(f"{RECORD} is missing; the journal was believed")
    except WorkspaceBroken:
        car.notes.append(f"{RECORD} cannot be read; it was set aside and the journal was believed")


def _read_journal(car: CarFiles) -> None:
    path = car.folder / JOURNAL
    if not path.exists():
        car.notes.append(f"{JOURNAL} is missing; the record was believed, its history is gone")
        return
    car.journal = verify_journal(path)
    car.links = car.journal.links
    if car.journal.problems:
        what = "the record was believed for what follows" if car.record else "what follows it is gone"
        car.notes.append(f"{JOURNAL}: {car.journal.problems[0]}; it was set aside, and {what}")


def _read_plan(car: CarFiles) -> None:
    path = car.folder / PLAN_COPY
    try:
        text = path.read_text("utf-8")
        plan_from(text)
    except (OSError, UnicodeDecodeError, Mistake):
        car.lost.append(
            f"its {PLAN_COPY} is missing or cannot be read; bring {path} back from a backup and rebuild again"
        )
        return
    car.plan = text
    if car.record and car.record.plan.copy_sha256 != digest(text):
        car.notes.append(f"{PLAN_COPY} is not the copy that the walk began with; it was taken as it is")


def _refuse_renamed(car: CarFiles) -> None:
    names = {link.entry.stock for link in car.links} | ({car.record.stock} if car.record else set())
    if names and names != {car.stock}:
        other = ", ".join(sorted(names - {car.stock}))
        car.lost.append(f"its files belong to car {other}; name the folder so and rebuild again")
        car.plan = ""
        return
    try:
        stock_number(car.stock)
    except Mistake as error:
        car.lost.append(error.problem)
        car.plan = ""


def bring_back(connection: Connection, car: CarFiles, *, by: str, at: datetime) -> None:
    """Write the car into the database: its journal as it is, then what only the record knows as one more step."""
    rows.insert_car(connection, _head(car), car.plan)
    for link in car.links:
        for change in link.entry.changes:
            rows.carry_out(connection, car.stock, change)
        rows.insert_link(connection, link)
    if car.record is None:
        return
    for kind, last in car.record.numbers.items():
        rows.note_number(connection, car.stock, kind, last)
    differing = _differences(connection, car.stock, car.record)
    if car.record.revision > car.last or car.cut:
        number = max(car.record.revision, car.last + 1)
        words = f"Take over from {RECORD} what the journal does not tell"
        entry = Entry(car.stock, number, at, by, "rebuild", words, differing, undoable=False)
        rows.write_entry(connection, entry)
        car.notes.append(f"step {number} is taken from {RECORD}; the journal does not tell how it came about")
    elif differing:
        car.notes.append(
            f"{RECORD} said something else than the journal; it was set aside and the journal was believed"
        )
        car.record = None


def _head(car: CarFiles) -> rows.CarRow:
    """The car's own row, from the journal's first step or else from the record."""
    copy = digest(car.plan)
    first = car.links[0].entry if car.links else None
    made = next((one.after for one in first.changes if one.kind == "car"), None) if first else None
    if first is not None and made is not None:
        at = first.at.isoformat()
        return rows.CarRow(car.stock, str(made["plan_id"]), str(made["plan_sha256"]), copy, at, at, 0)
    if car.record is None:
        raise WorkspaceBroken(f"The journal of car {car.stock} does not begin with its making.")
    plan, at = car.record.plan, car.record.made_at.isoformat()
    return rows.CarRow(car.stock, plan.id, plan.sha256, copy, at, at, 0)


def _differences(connection: Connection, stock: str, record: RecordFile) -> tuple[Change, ...]:
    """What would turn the rows into the record."""
    changes = []
    here = rows.digests(connection, stock)
    for photo in record.photos:
        if photo.sha256 not in here:
            changes.append(Change("photo", photo.sha256, None, json.loads(photo_text(photo))))
    known = {json.loads(text)["number"] for text in rows.editions(connection, stock)}
    for edition in record.editions:
        if edition.number not in known:
            changes.append(Change("edition", str(edition.number), None, dumped(edition)))
    wanted = {key_of(decision): decision_text(decision) for decision in record.decisions.all()}
    before = rows.decision_texts(connection, stock)
    for kind, key in sorted(before.keys() | wanted.keys()):
        old, new = before.get((kind, key)), wanted.get((kind, key))
        if old != new:
            changes.append(Change(kind, key, json_of(old), json_of(new)))
    return tuple(changes)


def make_room(car: CarFiles) -> None:
    """Set aside the files that do not say what the database says now; they are written anew from it."""
    if (car.folder / RECORD).exists() and car.record is None:
        set_aside(car.folder / RECORD)
    if car.journal is not None and (car.journal.problems or not car.links):
        set_aside(car.folder / JOURNAL)
