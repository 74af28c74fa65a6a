"""Reading and writing the rows of the book. Every function works inside the transaction that its caller began."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Connection, Row, and_, delete, func, insert, select, update

from lapseam.domain.changes import Change, Entry
from lapseam.domain.decision import KINDS

from . import tables as t
from .codec import Json, canonical, entry_from, entry_json
from .journal import FIRST, Link, linked
from .record import SCHEMA, RecordRows

NUMBERED = ("finding", "measurement", "statement", "asked", "call", "jotting", "posting")
"""Kinds whose key is a number that is given out once."""

Key = tuple[str, str]


@dataclass(frozen=True, slots=True)
class CarRow:
    """A car's own row; `plan_copy` is the digest of the text of its plan copy."""

    stock: str
    plan_id: str
    plan_sha256: str
    plan_copy: str
    made_at: str
    changed_at: str
    revision: int


class SomebodyFaster(RuntimeError):
    """Another station changed this car between reading and writing. One desk alone never sees this."""


_CAR = [t.car.c[name] for name in ("stock", "plan_id", "plan_sha256", "plan_copy", "made_at", "changed_at", "revision")]


def car(connection: Connection, stock: str) -> CarRow | None:
    """The row of a car, or None."""
    row = connection.execute(select(*_CAR).where(t.car.c.stock == stock)).first()
    return CarRow(*row) if row else None


def cars(connection: Connection) -> list[CarRow]:
    """All rows of cars, by stock number."""
    return [CarRow(*row) for row in connection.execute(select(*_CAR).order_by(t.car.c.stock))]


def like(connection: Connection, stock: str) -> str | None:
    """The stock number that is `stock` but for capitals, or None: on some disks both would name one folder."""
    return connection.execute(select(t.car.c.stock).where(t.car.c.folded == stock.casefold())).scalar()


def insert_car(connection: Connection, row: CarRow, plan: str) -> None:
    """Add a car at revision 0 with the text of its plan copy."""
    if connection.execute(select(t.plan.c.sha256).where(t.plan.c.sha256 == row.plan_copy)).first() is None:
        connection.execute(insert(t.plan).values(sha256=row.plan_copy, content=plan))
    connection.execute(
        insert(t.car).values(
            stock=row.stock,
            folded=row.stock.casefold(),
            plan_id=row.plan_id,
            plan_sha256=row.plan_sha256,
            plan_copy=row.plan_copy,
            made_at=row.made_at,
            changed_at=row.changed_at,
            revision=0,
            version=1,
        )
    )


def plan_copy(connection: Connection, sha256: str) -> str:
    """The text of the plan copy with that digest."""
    return str(connection.execute(select(t.plan.c.content).where(t.plan.c.sha256 == sha256)).scalar_one())


def photos(connection: Connection, stock: str) -> list[str]:
    """Readings of the car's photos in the order they came in."""
    found = select(t.photo.c.readings).where(t.photo.c.stock == stock).order_by(t.photo.c.place)
    return list(connection.execute(found).scalars())


def digests(connection: Connection, stock: str) -> set[str]:
    """Digests of the car's photos."""
    return set(connection.execute(select(t.photo.c.sha256).where(t.photo.c.stock == stock)).scalars())


def finds(connection: Connection, sha256: str) -> list[tuple[str, str]]:
    """Stock number and readings of every car that holds the photo, by stock number."""
    found = select(t.photo.c.stock, t.photo.c.readings).where(t.photo.c.sha256 == sha256).order_by(t.photo.c.stock)
    return [(stock, readings) for stock, readings in connection.execute(found)]


def photo_counts(connection: Connection) -> dict[str, int]:
    """How many photos each car has; cars without any are absent."""
    found = select(t.photo.c.stock, func.count()).group_by(t.photo.c.stock)
    return {stock: int(number) for stock, number in connection.execute(found)}


def contents(connection: Connection, kind: str) -> dict[str, str]:
    """For each car the content of its last decision of that kind by key."""
    found = select(t.decision.c.stock, t.decision.c.content).where(t.decision.c.kind == kind)
    return {stock: str(text) for stock, text in connection.execute(found.order_by(t.decision.c.key))}


def of_kind(connection: Connection, kind: str) -> list[tuple[str, str]]:
    """Stock number and content of every decision of that kind, by stock number, numbered ones by number."""
    found = select(t.decision.c.stock, t.decision.c.key, t.decision.c.content).where(t.decision.c.kind == kind)
    rows = sorted(connection.execute(found), key=lambda row: (row[0], int(row[1]) if kind in NUMBERED else 0, row[1]))
    return [(str(stock), str(text)) for stock, _, text in rows]


def marks(connection: Connection) -> dict[str, str]:
    """For every car the digest of its last journal step, FIRST for one without any."""
    last = and_(t.entry.c.stock == t.car.c.stock, t.entry.c.number == t.car.c.revision)
    found = select(t.car.c.stock, t.entry.c.sha256).select_from(t.car.outerjoin(t.entry, last)).order_by(t.car.c.stock)
    return {stock: digest or FIRST for stock, digest in connection.execute(found)}


def decisions(connection: Connection, stock: str) -> list[tuple[str, str]]:
    """Kind and content of every decision: kinds in their fixed order, numbered ones by number, others by key."""
    order = {kind: place for place, kind in enumerate(KINDS)}

    def place(row: tuple[Key, str]) -> tuple[int, int, str]:
        (kind, key), _ = row
        return order[kind], int(key) if kind in NUMBERED else 0, key

    return [(kind, text) for (kind, _), text in sorted(decision_texts(connection, stock).items(), key=place)]


def decision_texts(connection: Connection, stock: str) -> dict[Key, str]:
    """The content of every decision by kind and key."""
    found = select(t.decision.c.kind, t.decision.c.key, t.decision.c.content).where(t.decision.c.stock == stock)
    return {(kind, key): str(text) for kind, key, text in connection.execute(found)}


def content(connection: Connection, stock: str, key: Key) -> str | None:
    """The content of one decision, or None."""
    return connection.execute(select(t.decision.c.content).where(_is(stock, key))).scalar()


def _is(stock: str, key: Key) -> Any:
    return and_(t.decision.c.stock == stock, t.decision.c.kind == key[0], t.decision.c.key == key[1])


def numbers(connection: Connection, stock: str) -> dict[str, int]:
    """The last number given out for each numbered kind."""
    found = select(t.numbering.c.kind, t.numbering.c.last).where(t.numbering.c.stock == stock)
    return {kind: int(last) for kind, last in connection.execute(found.order_by(t.numbering.c.kind))}


def note_number(connection: Connection, stock: str, kind: str, number: int) -> None:
    """Remember that `number` was given out."""
    known = numbers(connection, stock).get(kind)
    if known is None:
        connection.execute(insert(t.numbering).values(stock=stock, kind=kind, last=number))
    elif number > known:
        where = and_(t.numbering.c.stock == stock, t.numbering.c.kind == kind)
        connection.execute(update(t.numbering).where(where).values(last=number))


def carry_out(connection: Connection, stock: str, change: Change) -> None:
    """Make the row that a change names what it says it is after it."""
    if change.kind == "car":
        return
    after = None if change.after is None else canonical(change.after)
    if change.kind == "photo":
        _carry_out_photo(connection, stock, change.key, after)
    elif change.kind == "edition":
        connection.execute(insert(t.edition).values(stock=stock, number=int(change.key), content=after))
    else:
        _carry_out_decision(connection, stock, (change.kind, change.key), change.before is None, after)


def _carry_out_photo(connection: Connection, stock: str, sha256: str, readings: str | None) -> None:
    place = select(func.coalesce(func.max(t.photo.c.place), 0) + 1).where(t.photo.c.stock == stock)
    number = int(connection.execute(place).scalar_one())
    connection.execute(insert(t.photo).values(stock=stock, sha256=sha256, place=number, readings=readings, version=1))


def _carry_out_decision(connection: Connection, stock: str, key: Key, new: bool, after: str | None) -> None:
    if after is None:
        connection.execute(delete(t.decision).where(_is(stock, key)))
    elif new:
        connection.execute(insert(t.decision).values(stock=stock, kind=key[0], key=key[1], content=after, version=1))
    else:
        changed = update(t.decision).where(_is(stock, key)).values(content=after, version=t.decision.c.version + 1)
        connection.execute(changed)
    if key[0] in NUMBERED:
        note_number(connection, stock, key[0], int(key[1]))


def write_entry(connection: Connection, entry: Entry) -> Link:
    """Carry out a step's changes and hang it on the car's journal.

    Raises:
        SomebodyFaster: the car's revision is no longer the one before this step.
    """
    link = linked(entry, last_digest(connection, entry.stock))
    for change in entry.changes:
        carry_out(connection, entry.stock, change)
    insert_link(connection, link)
    return link


def insert_link(connection: Connection, link: Link) -> None:
    """Write a journal row as it is and move the car to its revision."""
    entry, body = link.entry, entry_json(link.entry)
    connection.execute(
        insert(t.entry).values(
            stock=entry.stock,
            number=entry.number,
            at=body["at"],
            person=entry.by,
            verb=entry.verb,
            words=entry.words,
            changes=canonical(body["changes"]),
            undoable=int(entry.undoable),
            undoes=entry.undoes,
            redoes=entry.redoes,
            previous=link.previous,
            sha256=link.sha256,
        )
    )
    older = and_(t.car.c.stock == entry.stock, t.car.c.revision < entry.number)
    new = {"revision": entry.number, "changed_at": body["at"], "version": t.car.c.version + 1}
    if connection.execute(update(t.car).where(older).values(**new)).rowcount != 1:
        raise SomebodyFaster(f"car {entry.stock} is already past step {entry.number}")


def last_digest(connection: Connection, stock: str) -> str:
    """The digest that the car's next step hangs on."""
    found = select(t.entry.c.sha256).where(t.entry.c.stock == stock).order_by(t.entry.c.number.desc()).limit(1)
    return connection.execute(found).scalar() or FIRST


def steps(connection: Connection, stock: str) -> list[Row[Any]]:
    """The car's journal as far as undo and redo need it."""
    columns = (t.entry.c.number, t.entry.c.undoable, t.entry.c.undoes, t.entry.c.redoes)
    found = select(*columns).where(t.entry.c.stock == stock).order_by(t.entry.c.number)
    return list(connection.execute(found))


def links(connection: Connection, stock: str, *, after: int = 0, number: int | None = None) -> list[Link]:
    """The car's journal, oldest first: steps after `after`, or only the one with that number."""
    wanted = t.entry.c.number > after if number is None else t.entry.c.number == number
    found = select(t.entry).where(t.entry.c.stock == stock, wanted).order_by(t.entry.c.number)
    return [_link(dict(row._mapping)) for row in connection.execute(found)]


def _link(row: Mapping[str, Any]) -> Link:
    body = {name: row[name] for name in ("stock", "number", "at", "verb", "words", "undoes", "redoes")}
    whole = {**body, "by": row["person"], "changes": json.loads(row["changes"]), "undoable": bool(row["undoable"])}
    return Link(entry_from(whole), row["previous"], row["sha256"])


def editions(connection: Connection, stock: str) -> list[str]:
    """Contents of the car's editions by number."""
    found = select(t.edition.c.content).where(t.edition.c.stock == stock).order_by(t.edition.c.number)
    return list(connection.execute(found).scalars())


def record_rows(connection: Connection, row: CarRow) -> RecordRows:
    """All that record.json is written from."""
    head: Json = {
        "schema": SCHEMA,
        "stock": row.stock,
        "made_at": row.made_at,
        "changed_at": row.changed_at,
        "revision": row.revision,
        "journal_sha256": last_digest(connection, row.stock),
        "plan": {"id": row.plan_id, "sha256": row.plan_sha256, "copy_sha256": row.plan_copy},
        "numbers": numbers(connection, row.stock),
    }
    return RecordRows(
        head,
        photos(connection, row.stock),
        decisions(connection, row.stock),
        editions(connection, row.stock),
    )
