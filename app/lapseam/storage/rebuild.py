"""Brings a workspace back whose database is lost, damaged or too old: from the cars' files and the vault."""

from __future__ import annotations

import json
from collections.abc import Callable
from contextlib import ExitStack
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from sqlalchemy import Connection
from sqlalchemy.exc import IntegrityError

from lapseam.domain.decision import PROGRAM
from lapseam.domain.errors import NotFound, WorkspaceBroken

from . import layout, rows
from .durable import PART, flush_folder, free_name, refusals
from .engine import speaking
from .lock import Lock
from .mirror import Mirror
from .recovery import CarFiles, bring_back, make_room, read_car
from .vault import Vault
from .workspace import open_database, refuse_newer

Progress = Callable[[int, int], None]
"""Told how many photos are read through, of how many."""


@dataclass(frozen=True, slots=True)
class RebuiltCar:
    """A car that is back: steps of its journal, photos, and in words what is not as it was."""

    stock: str
    steps: int
    photos: int
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class MissingPhoto:
    """A photo on record whose original is not in the vault, or is there but damaged."""

    stock: str
    sha256: str
    name: str
    damaged: bool


@dataclass(frozen=True, slots=True)
class RebuildReport:
    """What a rebuild brought back and what not. `lost` is worded; `unclaimed` are originals that no car knows.

    `set_aside` is where the old database lies now, None if there was none.
    """

    cars: tuple[RebuiltCar, ...]
    lost: tuple[str, ...]
    missing: tuple[MissingPhoto, ...]
    unclaimed: tuple[str, ...]
    set_aside: Path | None

    @property
    def whole(self) -> bool:
        """Whether everything is back as it was."""
        return not self.lost and not self.missing and not any(car.notes for car in self.cars)


def rebuild(
    folder: Path, *, at: datetime, by: str = PROGRAM, wait_s: float = 2.0, progress: Progress | None = None
) -> RebuildReport:
    """Make a new database from the cars' files; the old one is moved aside, never deleted.

    What a still readable database knows and the files do not is written to the files first. Every original on record
    is read through. `at` and `by` stand in the journal where a step had to be taken from record.json.

    Raises:
        NotFound: there is neither a database nor a car. WorkspaceBusy, WorkspaceNewer, NoRights, DiskFull.
    """
    folder = folder.absolute()
    database = folder / layout.DATABASE
    with refusals(f"rebuild the workspace {folder}"), ExitStack() as held:
        if not database.exists() and not (folder.is_dir() and layout.has_cars(folder)):
            raise NotFound(
                f"There is no workspace in {folder}.", next_step="Name the folder that holds the vault and the cars."
            )
        _refuse_newer_only(folder)
        lock = Lock(folder / layout.LOCK)
        lock.take(wait_s)
        held.callback(lock.release)
        lock.sign()
        for name in layout.FOLDERS:
            (folder / name).mkdir(exist_ok=True)
        _complete_files(folder)
        found = [car for car in map(read_car, _car_folders(folder)) if car is not None]
        fresh = database.with_name(f"{database.name}.rebuilding{PART}")
        for car in _build(fresh, found, by=by, at=at):
            make_room(car)
        aside = _exchange(database, fresh)
        return _report(folder, found, aside, progress)


def _refuse_newer_only(folder: Path) -> None:
    try:
        if (folder / layout.DATABASE).exists():
            refuse_newer(folder)
    except WorkspaceBroken:
        return


def _complete_files(folder: Path) -> None:
    """Let a database that can still be read write what the cars' files lack; one that cannot has nothing to give."""
    database = folder / layout.DATABASE
    if not database.exists():
        return
    try:
        with ExitStack() as held, speaking(database):
            connection = open_database(database, held)
            with connection.begin():
                Mirror(folder / layout.CARS).complete(connection)
    except WorkspaceBroken:
        return


def _car_folders(folder: Path) -> list[Path]:
    cars = folder / layout.CARS
    return sorted(one for one in cars.iterdir() if one.is_dir()) if cars.is_dir() else []


def _build(fresh: Path, found: list[CarFiles], *, by: str, at: datetime) -> list[CarFiles]:
    """Write the cars that can be brought back into a new database at `fresh`, each whole or not at all."""
    for left in fresh.parent.glob(f"{fresh.name}*"):
        left.unlink()
    back = []
    with ExitStack() as held, speaking(fresh):
        connection = open_database(fresh, held)
        for car in found:
            if car.recoverable and _brought_back(connection, car, by=by, at=at):
                back.append(car)
    flush_folder(fresh.parent)
    return back


def _brought_back(connection: Connection, car: CarFiles, *, by: str, at: datetime) -> bool:
    try:
        with connection.begin():
            bring_back(connection, car, by=by, at=at)
    except (WorkspaceBroken, IntegrityError) as error:
        car.lost.append(str(error.args[0]) if isinstance(error, WorkspaceBroken) else "its steps contradict each other")
        return False
    return True


def _exchange(database: Path, fresh: Path) -> Path | None:
    """Move the old database aside with what lies beside it, and put the new one in its place."""
    aside = free_name(database, "set-aside")
    there = database.exists()
    for end in ("", "-wal", "-shm", "-journal"):
        old = database.with_name(database.name + end)
        if old.exists():
            old.rename(aside.with_name(aside.name + end))
    fresh.rename(database)
    flush_folder(database.parent)
    return aside if there else None


def _report(folder: Path, found: list[CarFiles], aside: Path | None, progress: Progress | None) -> RebuildReport:
    """Write anew what the files lack, read the originals through, and say how it went."""
    database = folder / layout.DATABASE
    with ExitStack() as held, speaking(database):
        connection = open_database(database, held)
        with connection.begin():
            Mirror(folder / layout.CARS).complete(connection)
            revisions = {row.stock: row.revision for row in rows.cars(connection)}
            photos = {stock: rows.photos(connection, stock) for stock in revisions}
            steps = {stock: len(rows.steps(connection, stock)) for stock in revisions}
    on_record = [(stock, json.loads(text)) for stock, texts in photos.items() for text in texts]
    vault = Vault(folder / layout.VAULT)
    missing = []
    for place, (stock, photo) in enumerate(on_record, start=1):
        sha256 = str(photo["sha256"])
        if not vault.check(sha256):
            missing.append(MissingPhoto(stock, sha256, str(photo["name"]), damaged=vault.has(sha256)))
        if progress is not None:
            progress(place, len(on_record))
    known = {photo["sha256"] for _, photo in on_record}
    cars = tuple(
        RebuiltCar(car.stock, steps[car.stock], len(photos[car.stock]), tuple(car.notes))
        for car in found
        if car.stock in revisions
    )
    lost = tuple(f"Car {car.stock}: {words}" for car in found for words in car.lost)
    unclaimed = tuple(sha256 for sha256 in vault.all() if sha256 not in known)
    return RebuildReport(cars, lost, tuple(missing), unclaimed, aside)
