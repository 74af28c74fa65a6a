"""Looking into the book: cars, photos, decisions, journal and editions as they stand. Nothing here changes a row."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime
from difflib import get_close_matches
from pathlib import Path
from typing import cast

from sqlalchemy import Connection

from lapseam.domain.car import Car, car_from
from lapseam.domain.changes import Entry
from lapseam.domain.decision import CarDetails, Decision
from lapseam.domain.errors import NotFound
from lapseam.domain.photo import Photo
from lapseam.domain.plan import Plan

from . import rows
from .codec import adapter, decision_from, photo_from, plan_from
from .engine import speaking
from .journal import stacks
from .mirror import Mirror
from .record import EditionRow


@dataclass(frozen=True, slots=True)
class CarLine:
    """One car in a list: its title ("" until it is described), how many photos, last step and when that was."""

    stock: str
    title: str
    plan_id: str
    photos: int
    revision: int
    changed_at: datetime


class Reading:
    """The looking half of a book. Belongs to the thread that opened the workspace: SQLite refuses every other one."""

    def __init__(self, connection: Connection, mirror: Mirror, path: Path) -> None:
        self._connection = connection
        self._mirror = mirror
        self._path = path
        self._plans: dict[str, Plan] = {}

    def cars(self) -> tuple[CarLine, ...]:
        """Every car, by stock number."""
        with self._turn() as connection:
            found = rows.cars(connection)
            counts = rows.photo_counts(connection)
            details = rows.contents(connection, "details")
        titles = {stock: cast(CarDetails, decision_from("details", text)).title for stock, text in details.items()}
        return tuple(
            CarLine(
                row.stock,
                titles.get(row.stock, ""),
                row.plan_id,
                counts.get(row.stock, 0),
                row.revision,
                datetime.fromisoformat(row.changed_at),
            )
            for row in found
        )

    def car(self, stock: str) -> Car:
        """A fresh picture of the whole car.

        Raises:
            NotFound: there is no such car.
        """
        with self._turn() as connection:
            row = self._row(connection, stock)
            plan = self._plan(connection, row.plan_copy)
            photos = rows.photos(connection, stock)
            decisions = rows.decisions(connection, stock)
        return car_from(
            stock,
            plan,
            [photo_from(text) for text in photos],
            [decision_from(kind, text) for kind, text in decisions],
            row.revision,
        )

    def marks(self) -> dict[str, str]:
        """For every car the digest of its last journal step: the same digest, the same record."""
        with self._turn() as connection:
            return rows.marks(connection)

    def every(self, kind: str) -> tuple[tuple[str, Decision], ...]:
        """Every decision of a kind with its car's stock number, by stock number and as the car has them."""
        with self._turn() as connection:
            found = rows.of_kind(connection, kind)
        return tuple((stock, decision_from(kind, text)) for stock, text in found)

    def known(self, sha256: str) -> Photo | None:
        """The photo with that digest as the first car (by stock number) that holds it has it, or None."""
        with self._turn() as connection:
            found = rows.finds(connection, sha256)
        return photo_from(found[0][1]) if found else None

    def cars_with(self, sha256: str) -> tuple[str, ...]:
        """Stock numbers of the cars that hold the photo."""
        with self._turn() as connection:
            return tuple(stock for stock, _ in rows.finds(connection, sha256))

    def log(self, stock: str) -> tuple[Entry, ...]:
        """The car's journal, oldest first.

        Raises:
            NotFound: there is no such car.
        """
        with self._turn() as connection:
            self._row(connection, stock)
            return tuple(link.entry for link in rows.links(connection, stock))

    def editions(self, stock: str) -> tuple[EditionRow, ...]:
        """The car's published editions, oldest first.

        Raises:
            NotFound: there is no such car.
        """
        with self._turn() as connection:
            self._row(connection, stock)
            return tuple(adapter(EditionRow).validate_json(text) for text in rows.editions(connection, stock))

    def next_number(self, stock: str, kind: str) -> int:
        """The next free number of a numbered kind; taken when a decision with it is put, and never given again.

        Raises:
            NotFound: there is no such car. ValueError: the kind has no numbers.
        """
        if kind not in rows.NUMBERED:
            raise ValueError(f"{kind} has no numbers; these have: {', '.join(rows.NUMBERED)}")
        with self._turn() as connection:
            self._row(connection, stock)
            return rows.numbers(connection, stock).get(kind, 0) + 1

    def next_undo(self, stock: str) -> Entry | None:
        """The step that undo would take back, or None."""
        return self._next(stock, back=True)

    def next_redo(self, stock: str) -> Entry | None:
        """The step that redo would do again, or None."""
        return self._next(stock, back=False)

    def _next(self, stock: str, *, back: bool) -> Entry | None:
        with self._turn() as connection:
            self._row(connection, stock)
            return self._target(connection, stock, back=back)

    @contextmanager
    def _turn(self) -> Iterator[Connection]:
        """One transaction: all of it or nothing."""
        with speaking(self._path), self._connection.begin():
            yield self._connection

    def _row(self, connection: Connection, stock: str) -> rows.CarRow:
        row = rows.car(connection, stock)
        if row is not None:
            return row
        known = [one.stock for one in rows.cars(connection)]
        near = get_close_matches(stock, known, 1)
        hint = f"Did you mean {near[0]}?" if near else ""
        raise NotFound(
            f"There is no car {stock} in this workspace.",
            effect=hint,
            next_step="Check the stock number, or make the car first.",
        )

    def _plan(self, connection: Connection, plan_copy: str) -> Plan:
        """The plan of a copy; read once, because a copy never changes."""
        if plan_copy not in self._plans:
            self._plans[plan_copy] = plan_from(rows.plan_copy(connection, plan_copy))
        return self._plans[plan_copy]

    @staticmethod
    def _target(connection: Connection, stock: str, *, back: bool) -> Entry | None:
        found = stacks(rows.steps(connection, stock))
        numbers = found.undo if back else found.redo
        return rows.links(connection, stock, number=numbers[-1])[0].entry if numbers else None
