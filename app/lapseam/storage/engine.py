"""SQLite itself: the only module that knows which database stands behind the book."""

from __future__ import annotations

import shutil
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any, cast

from sqlalchemy import URL, Connection, Engine, create_engine, event
from sqlalchemy.exc import DBAPIError
from sqlalchemy.pool import StaticPool

from lapseam.domain.errors import DiskFull, NoRights, UserError, WorkspaceBroken, WorkspaceBusy

from .durable import flush_file, flush_folder

COMPANIONS = ("-wal", "-journal")
"""Endings of the files beside a database that hold what is not yet in it."""


def revision_of(path: Path) -> str | None:
    """The migration that the database at `path` stands at, None if it has none yet. Touches nothing, not even a time.

    What a killed program left beside the database is read from a copy, because SQLite would put it in.

    Raises:
        WorkspaceBroken: this is no database, or it is damaged.
    """
    try:
        left = [path.with_name(path.name + end) for end in COMPANIONS]
        if not any(one.exists() and one.stat().st_size for one in left):
            return _revision(f"{path.absolute().as_uri()}?mode=ro&immutable=1")
        with TemporaryDirectory(prefix="lapseam-") as folder:
            for one in (path, *left):
                if one.exists():
                    shutil.copyfile(one, Path(folder) / one.name)
            return _revision((Path(folder) / path.name).as_uri())
    except sqlite3.DatabaseError as error:
        raise broken(path, str(error)) from error


def _revision(address: str) -> str | None:
    with closing(sqlite3.connect(address, uri=True)) as database:
        known = database.execute("SELECT 1 FROM sqlite_master WHERE name = 'alembic_version'").fetchone()
        row = database.execute("SELECT version_num FROM alembic_version").fetchone() if known else None
    return str(row[0]) if row else None


def broken(path: Path, detail: str) -> WorkspaceBroken:
    """The error for a database that cannot be read."""
    return WorkspaceBroken(
        f"The database {path} cannot be read.",
        effect="The photos in the vault and the record and journal of every car lie beside it as files of their own.",
        detail=detail,
    )


def open_engine(path: Path) -> Engine:
    """An engine with one connection that belongs to the calling thread: WAL, foreign keys on, synchronous=FULL."""
    engine = create_engine(
        URL.create("sqlite+pysqlite", database=str(path)),
        poolclass=StaticPool,
        connect_args={"check_same_thread": True, "timeout": 5.0},
    )
    event.listen(engine, "connect", _prepare)
    event.listen(engine, "begin", _begin)
    return engine


def _prepare(connection: sqlite3.Connection, _: Any) -> None:
    connection.isolation_level = None
    for setting in ("foreign_keys=ON", "journal_mode=WAL", "synchronous=FULL", "cell_size_check=ON"):
        connection.execute(f"PRAGMA {setting}").close()


def _begin(connection: Connection) -> None:
    """Begin for writing at once: Python's own habit would leave DDL outside the transaction."""
    connection.exec_driver_sql("BEGIN IMMEDIATE")


def check(connection: Connection, path: Path) -> None:
    """Look through the whole database.

    Raises:
        WorkspaceBroken: something in it does not hold together.
    """
    found = [str(row[0]) for row in _raw(connection).execute("PRAGMA quick_check(3)")]
    if found != ["ok"]:
        raise broken(path, "; ".join(found))


def settle(connection: Connection) -> None:
    """Move everything into the database file itself, so that its revision can be read without opening it."""
    _raw(connection).execute("PRAGMA wal_checkpoint(TRUNCATE)").close()


def _raw(connection: Connection) -> sqlite3.Connection:
    """The driver's own connection, for what must run outside a transaction."""
    return cast(sqlite3.Connection, connection.connection.driver_connection)


def copy_database(source: Path, target: Path) -> None:
    """Copy a database consistently to `target`, a new file, and push it down to the disk."""
    with closing(sqlite3.connect(source)) as old, closing(sqlite3.connect(target)) as new:
        old.backup(new)
    flush_file(target)
    flush_folder(target.parent)


@contextmanager
def speaking(path: Path) -> Iterator[None]:
    """Turn what SQLite refuses into words; a statement of ours that is wrong stays the bug it is."""
    try:
        yield
    except DBAPIError as error:
        told = worded(path, error.orig)
        if told is None:
            raise
        raise told from error


def worded(path: Path, error: BaseException | None) -> UserError | None:
    """What SQLite refuses, in words for people; None where it is a fault of ours."""
    code = getattr(error, "sqlite_errorcode", 0) & 0xFF
    detail = str(error)
    if code in (sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB):
        return broken(path, detail)
    if code == sqlite3.SQLITE_FULL:
        return DiskFull("There was no room on the disk to write the change.", effect="It was not made.", detail=detail)
    if code in (sqlite3.SQLITE_READONLY, sqlite3.SQLITE_CANTOPEN, sqlite3.SQLITE_PERM):
        return NoRights(f"The system did not allow to write {path}.", effect="Nothing was changed.", detail=detail)
    if code in (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED):
        return WorkspaceBusy(
            f"Another program holds the database {path}.",
            effect="Nothing was changed.",
            next_step="Close the program that looks into the database, and do it again.",
            detail=detail,
        )
    if code == sqlite3.SQLITE_IOERR:
        return WorkspaceBroken(
            f"The disk failed while the database {path} was in use.",
            effect="The change was not made.",
            next_step="Check the disk and its cable, then open the workspace again.",
            detail=detail,
        )
    return None
