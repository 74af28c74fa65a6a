"""The open copy of each car beside the database: record.json, journal.jsonl and plan.json in cars/<stock>/.

After every committed change the record is written first and the journal's line last. So a journal that ends with the
car's last step tells that everything else is written too, and a killed program leaves at most a gap that the next
opening closes from the database.
"""

from __future__ import annotations

import os
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from sqlalchemy import Connection

from lapseam.domain.errors import WorkspaceBroken

from . import rows
from .durable import PART, append_flushed, flush_folder, refusals, set_aside, write_whole
from .journal import FIRST, Link, link_from
from .layout import EDITIONS, JOURNAL, PLAN_COPY, RECORD
from .record import record_text

_BLOCK = 65_536
_SAFE = "The change itself is safe in the database; the files beside it are completed with the next change or opening."


@dataclass(frozen=True, slots=True)
class Tail:
    """Where a journal file ends: its last whole step and, if its last line was cut off, how long it was before that.

    `step` is 0 for an empty file and None where the last whole line is no step of a journal.
    """

    step: int | None
    sha256: str
    size: int
    torn: bool


class Mirror:
    """The files of all cars of one workspace. Belongs to the thread that owns the database."""

    def __init__(self, cars: Path) -> None:
        self._cars = cars
        self._written: dict[str, int] = {}

    def folder(self, stock: str) -> Path:
        """The car's folder."""
        return self._cars / stock

    def follow(self, connection: Connection, stock: str) -> None:
        """Write what the files of a car lack, in the caller's transaction.

        Raises:
            DiskFull, NoRights: the database has the change all the same.
        """
        row = rows.car(connection, stock)
        if row is None:
            raise RuntimeError(f"there is no car {stock} to write files of")
        folder = self.folder(stock)
        with refusals(f"write the record of car {stock}", effect=_SAFE):
            if not (folder / EDITIONS).is_dir():
                (folder / EDITIONS).mkdir(parents=True, exist_ok=True)
                flush_folder(self._cars)
            if not (folder / PLAN_COPY).exists():
                write_whole(folder / PLAN_COPY, rows.plan_copy(connection, row.plan_copy).encode())
            missing = rows.links(connection, stock, after=self._written.get(stock, 0))
            write_whole(folder / RECORD, record_text(rows.record_rows(connection, row)).encode())
            if missing:
                append_flushed(folder / JOURNAL, b"".join(link.line() for link in missing))
            self._written[stock] = row.revision

    def complete(self, connection: Connection) -> tuple[str, ...]:
        """Bring every car's files up to the database, as after a killed run; says in words what was put right.

        Raises:
            WorkspaceBroken: a car's files know steps that the database does not; nothing was written.
        """
        tails = {row.stock: (row, self._tail(row.stock)) for row in rows.cars(connection)}
        for row, tail in tails.values():
            self._refuse_older_database(connection, row, tail)
        repaired: list[str] = []
        for row, tail in tails.values():
            repaired.extend(self._complete(connection, row, tail))
        repaired.extend(
            f"The folder cars/{name} holds a car that the database does not know; lapseam rebuild brings it in."
            for name in self._strangers(tails)
        )
        return tuple(repaired)

    def _strangers(self, known: Iterable[str]) -> list[str]:
        here = {folder.name for folder in self._cars.iterdir() if (folder / JOURNAL).exists()}
        return sorted(here - set(known))

    def _tail(self, stock: str) -> Tail:
        path = self.folder(stock) / JOURNAL
        with refusals(f"read {path}"):
            return read_tail(path)

    def _refuse_older_database(self, connection: Connection, row: rows.CarRow, tail: Tail) -> None:
        if tail.step is not None and tail.step > row.revision:
            raise WorkspaceBroken(
                f"The database is older than the journal of car {row.stock}: it ends with step {row.revision}, "
                f"the journal with step {tail.step}.",
                effect="Nothing was changed; the later steps are safe in the car's files.",
            )

    def _complete(self, connection: Connection, row: rows.CarRow, tail: Tail) -> list[str]:
        folder = self.folder(row.stock)
        self._remove_parts(folder)
        journal = folder / JOURNAL
        repaired: list[str] = []
        known = self._known(connection, row.stock, tail)
        if not known:
            aside = set_aside(journal)
            repaired.append(
                f"The journal file of car {row.stock} did not agree with the database. It lies aside as {aside.name}, "
                f"and {JOURNAL} was written anew from the database."
            )
            tail = Tail(0, FIRST, 0, torn=False)
        elif tail.torn:
            with refusals(f"mend {journal}"):
                os.truncate(journal, tail.size)
            repaired.append(f"The last line of the journal of car {row.stock} was cut off and has been written again.")
        self._written[row.stock] = tail.step or 0
        whole = tail.step == row.revision and (folder / RECORD).exists() and (folder / PLAN_COPY).exists()
        if not whole:
            self.follow(connection, row.stock)
            repaired.append(f"The files of car {row.stock} were brought up to step {row.revision}.")
        return repaired

    @staticmethod
    def _known(connection: Connection, stock: str, tail: Tail) -> bool:
        """Whether the database knows the journal file's last step, digest and all."""
        if tail.step == 0:
            return True
        link = rows.links(connection, stock, number=tail.step) if tail.step is not None else []
        return bool(link) and link[0].sha256 == tail.sha256

    @staticmethod
    def _remove_parts(folder: Path) -> None:
        for part in folder.glob(f".*{PART}"):
            part.unlink(missing_ok=True)


def read_tail(path: Path) -> Tail:
    """Read where a journal file ends, from its end backwards; a file that is not there is empty."""
    if not path.exists():
        return Tail(0, FIRST, 0, torn=False)
    with path.open("rb") as file:
        size = place = file.seek(0, os.SEEK_END)
        end = b""
        while place > 0 and end.count(b"\n") < 2:
            step = min(_BLOCK, place)
            place -= step
            file.seek(place)
            end = file.read(step) + end
    whole, newline, rest = end.rpartition(b"\n")
    kept = size - len(rest)
    if not newline:
        return Tail(0, FIRST, 0, torn=bool(rest))
    try:
        link: Link = link_from(whole.rpartition(b"\n")[2])
    except ValueError:
        return Tail(None, "", kept, torn=bool(rest))
    return Tail(link.entry.number, link.sha256, kept, torn=bool(rest))
