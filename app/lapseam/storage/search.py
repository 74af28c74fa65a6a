"""Search: an index of every car's entries that can be lost at any time, in a database of its own in the cache.

It is SQLite's full-text index whatever database the book stands in, so a book on a server searches the same way. Each
car carries the digest of the journal step it was indexed at; a car whose journal has gone on is indexed anew before it
is asked, and only what differs is written. A damaged or older index is thrown away and made again.

Rows are numbered so that the best come first in the index itself: by kind, by rank within it, then as they came.
"""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final, TypeVar

from lapseam.domain.entry import Entry, EntryKind
from lapseam.domain.errors import MissingExtra
from lapseam.domain.search_words import Query

from .codec import adapter, canonical, dumped
from .durable import refusals
from .engine import COMPANIONS, worded
from .search_match import car_word, in_car, in_subject, loose, strict

T = TypeVar("T")

SHAPE: Final = 3
"""The version of the index and of what entries say; an index of another is made anew."""

_TIERS: Final = (
    (EntryKind.FINDING,),
    (
        *(EntryKind.CHECK, EntryKind.MEASUREMENT, EntryKind.STATEMENT, EntryKind.SERIAL),
        *(EntryKind.DETAILS, EntryKind.FACT),
    ),
    (EntryKind.LOOKED,),
    (EntryKind.CALL, EntryKind.JOTTING),
    (EntryKind.NOT_TESTED, EntryKind.NOT_SEEN, EntryKind.NOT_MEASURED, EntryKind.NOT_ANSWERED),
    (EntryKind.ABSENT,),
    (EntryKind.ASKED,),
    (EntryKind.PHOTO,),
)
_TIER: Final = {kind: place for place, kinds in enumerate(_TIERS) for kind in kinds}
_RANKS: Final = 8
_PLACES: Final = 1 << 40

_TABLES: Final = """
CREATE TABLE car (stock TEXT PRIMARY KEY, mark TEXT NOT NULL) WITHOUT ROWID;
CREATE TABLE counter (last INTEGER NOT NULL);
INSERT INTO counter VALUES (0);
CREATE TABLE entry (
    id INTEGER PRIMARY KEY, stock TEXT NOT NULL, key TEXT NOT NULL, content TEXT NOT NULL,
    car TEXT NOT NULL, subject TEXT NOT NULL, words TEXT NOT NULL, more TEXT NOT NULL, UNIQUE (stock, key)
);
CREATE TABLE about (subject TEXT, stock TEXT, id INTEGER, PRIMARY KEY (subject, stock, id)) WITHOUT ROWID;
CREATE VIRTUAL TABLE word USING fts5(
    car, subject, words, more, content='entry', content_rowid='id', columnsize=0, prefix='3',
    tokenize='porter unicode61 remove_diacritics 2'
);
"""


@dataclass(frozen=True, slots=True)
class Found:
    """One entry of one car."""

    stock: str
    entry: Entry


@dataclass(frozen=True, slots=True)
class Finds:
    """What was found, best first. `loose` says that not every word was met; `more` that there is more."""

    found: tuple[Found, ...]
    loose: bool = False
    more: bool = False


class IndexLost(RuntimeError):
    """The index was damaged and has been thrown away: index the cars again, and ask again."""


class Search:
    """The index in the file `path`, opened when first needed. Belongs to the thread that first uses it."""

    def __init__(self, path: Path) -> None:
        self._path = path
        self._database: sqlite3.Connection | None = None

    def close(self) -> None:
        """Close the file; closing twice does nothing, and the next use opens it again."""
        if self._database is not None:
            self._database.close()
            self._database = None

    def behind(self, marks: Mapping[str, str]) -> tuple[str, ...]:
        """Cars that the index does not know at their present mark; those that are no more are forgotten at once."""

        def look(database: sqlite3.Connection) -> tuple[str, ...]:
            known = dict(database.execute("SELECT stock, mark FROM car"))
            for stock in known.keys() - marks.keys():
                _write(database, stock, {})
                database.execute("DELETE FROM car WHERE stock = ?", (stock,))
            return tuple(stock for stock, mark in marks.items() if known.get(stock) != mark)

        return self._safely(look)

    def put(self, stock: str, mark: str, entries: Iterable[Entry]) -> int:
        """Index the car as it is at `mark`, writing only what differs; how many rows that were."""
        wanted = {entry.key: entry for entry in entries}

        def write(database: sqlite3.Connection) -> int:
            changed = _write(database, stock, wanted)
            database.execute("INSERT OR REPLACE INTO car VALUES (?, ?)", (stock, mark))
            return changed

        return self._safely(write)

    def find(self, query: Query, *, stock: str | None = None, limit: int = 50) -> Finds:
        """What holds every group of the query, in one car or all; where nothing does, what holds some of them.

        Whole words go before beginnings of words, and entries that are about the thing before those that name it.
        """
        if not query.groups:
            return Finds(())

        def look(database: sqlite3.Connection) -> Finds:
            exact, begun, some = strict(query), strict(query, prefix=True), loose(query)
            for expression, is_loose in ((exact, False), (begun, False), (some, True)):
                rows = _matches(database, expression, stock, limit + 1)
                if rows:
                    return Finds(_loaded(rows[:limit]), is_loose and len(query.groups) > 1, len(rows) > limit)
            return Finds(())

        return self._safely(look)

    def about(self, subjects: Sequence[str], *, stock: str | None = None, limit: int = 200) -> Finds:
        """What is about any of these ids, in one car or all; best kinds first."""

        def look(database: sqlite3.Connection) -> Finds:
            asked = ",".join("?" * len(subjects))
            one_car = " AND stock = ?" if stock is not None else ""
            rows = database.execute(
                f"SELECT entry.stock, entry.content FROM entry WHERE entry.id IN"
                f" (SELECT id FROM about WHERE subject IN ({asked}){one_car}) ORDER BY entry.id LIMIT ?",
                (*subjects, *((stock,) if stock is not None else ()), limit + 1),
            ).fetchall()
            return Finds(_loaded(rows[:limit]), more=len(rows) > limit)

        return self._safely(look) if subjects else Finds(())

    def _safely(self, job: Callable[[sqlite3.Connection], T]) -> T:
        """Do the job as one transaction.

        Raises:
            IndexLost: the index was damaged. DiskFull, NoRights, MissingExtra.
        """
        with refusals(f"use the index {self._path}"):
            try:
                database = self._opened()
                with database:
                    database.execute("BEGIN IMMEDIATE")
                    return job(database)
            except sqlite3.DatabaseError as error:
                if _is_damage(error):
                    self._throw_away()
                    raise IndexLost(str(error)) from error
                told = worded(self._path, error)
                if told is None:
                    raise
                raise told from error

    def _opened(self) -> sqlite3.Connection:
        if self._database is not None:
            return self._database
        self._path.parent.mkdir(parents=True, exist_ok=True)
        self._database = sqlite3.connect(self._path, isolation_level=None)
        shape = int(self._database.execute("PRAGMA user_version").fetchone()[0])
        if shape not in (0, SHAPE):
            self._throw_away()
            self._database = sqlite3.connect(self._path, isolation_level=None)
            shape = 0
        self._database.execute("PRAGMA journal_mode=WAL").close()
        self._database.execute("PRAGMA synchronous=NORMAL").close()
        if shape == 0:
            _make(self._database)
        return self._database

    def _throw_away(self) -> None:
        self.close()
        for end in ("", "-shm", *COMPANIONS):
            self._path.with_name(self._path.name + end).unlink(missing_ok=True)


def _is_damage(error: sqlite3.DatabaseError) -> bool:
    code = getattr(error, "sqlite_errorcode", 0) & 0xFF
    return code in (sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB) or "no such table" in str(error)


def _make(database: sqlite3.Connection) -> None:
    """Make the tables, all or none.

    Raises:
        MissingExtra: this SQLite has no full-text index.
    """
    try:
        database.executescript(f"BEGIN IMMEDIATE; {_TABLES} PRAGMA user_version = {SHAPE}; COMMIT;")
    except sqlite3.OperationalError as error:
        if "fts5" not in str(error):
            raise
        raise MissingExtra(
            "The SQLite of this Python has no full-text index (fts5), so nothing can be searched.",
            effect="The records themselves are whole.",
            next_step="Run lapseam with a Python whose sqlite3 has fts5.",
            detail=str(error),
        ) from error


def _write(database: sqlite3.Connection, stock: str, wanted: Mapping[str, Entry]) -> int:
    """Make the car's rows what is wanted; how many were taken out or put in."""
    here = {
        str(row[0]): row
        for row in database.execute(
            "SELECT key, id, content, car, subject, words, more FROM entry WHERE stock = ?", (stock,)
        )
    }
    contents = {key: canonical(dumped(entry)) for key, entry in wanted.items()}
    gone = [row for key, row in here.items() if contents.get(key) != row[2]]
    new = [key for key, content in contents.items() if key not in here or here[key][2] != content]
    for row in gone:
        _take_out(database, stock, row)
    if new:
        last = int(database.execute("SELECT last FROM counter").fetchone()[0])
        for place, key in enumerate(new, start=last + 1):
            _put_in(database, stock, place, wanted[key], contents[key])
        database.execute("UPDATE counter SET last = ?", (last + len(new),))
    return len(gone) + len(new)


def _take_out(database: sqlite3.Connection, stock: str, row: Sequence[Any]) -> None:
    _, number, content, *columns = row
    database.execute(
        "INSERT INTO word (word, rowid, car, subject, words, more) VALUES ('delete', ?, ?, ?, ?, ?)",
        (number, *columns),
    )
    database.execute("DELETE FROM entry WHERE id = ?", (number,))
    for subject in json.loads(content)["about"]:
        database.execute("DELETE FROM about WHERE subject = ? AND stock = ? AND id = ?", (subject, stock, number))


def _put_in(database: sqlite3.Connection, stock: str, place: int, entry: Entry, content: str) -> None:
    number = (_TIER[entry.kind] * _RANKS + _RANKS - 1 - min(entry.rank, _RANKS - 1)) * _PLACES + place
    columns = (car_word(stock), entry.subject, entry.words, entry.more)
    database.execute("INSERT INTO entry VALUES (?, ?, ?, ?, ?, ?, ?, ?)", (number, stock, entry.key, content, *columns))
    database.execute("INSERT INTO word (rowid, car, subject, words, more) VALUES (?, ?, ?, ?, ?)", (number, *columns))
    for subject in dict.fromkeys(entry.about):
        database.execute("INSERT INTO about VALUES (?, ?, ?)", (subject, stock, number))


_MATCHING: Final = """
SELECT word.rowid, entry.stock, entry.content FROM word JOIN entry ON entry.id = word.rowid
WHERE word MATCH ? ORDER BY word.rowid LIMIT ?
"""


def _matches(database: sqlite3.Connection, expression: str, stock: str | None, limit: int) -> list[tuple[str, str]]:
    """Stock number and content: those whose subject matches first, then the others; each in the rows' own order."""
    rows: dict[int, tuple[str, str]] = {}
    for wanted in (in_subject(expression), expression):
        if len(rows) < limit:
            said = in_car(wanted, stock) if stock is not None else wanted
            for number, car, content in database.execute(_MATCHING, (said, limit)):
                rows.setdefault(number, (car, content))
    return list(rows.values())[:limit]


def _loaded(rows: Iterable[tuple[str, str]]) -> tuple[Found, ...]:
    return tuple(Found(stock, adapter(Entry).validate_json(content)) for stock, content in rows)
