"""The workspace: one folder with database, vault, cars and the house's own settings, open for one writer at a time."""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import ExitStack
from pathlib import Path
from types import TracebackType

from sqlalchemy import Connection

from lapseam.domain.car import House
from lapseam.domain.errors import Mistake, NotFound, WorkspaceBroken, WorkspaceNewer

from . import layout
from .book import Book
from .durable import PART, flush_folder, free_name, refusals
from .engine import check, copy_database, open_engine, revision_of, settle, speaking
from .house import load_house, save_house
from .keyring import Keyring
from .lock import Lock
from .migrations import HEAD, upgrade
from .mirror import Mirror
from .previews import Previews
from .search import Search
from .vault import Vault


class Workspace:
    """An open workspace. `book` belongs to the opening thread; `vault` and `previews` may be used from any.

    `repaired` says in words what a killed run had left half done and this opening put right.
    """

    def __init__(self, folder: Path, book: Book, repaired: tuple[str, ...], held: ExitStack) -> None:
        self.folder = folder
        self.book = book
        self.vault = Vault(folder / layout.VAULT)
        self.previews = Previews(folder / layout.CACHE / "previews")
        self.keyring = Keyring(folder / layout.KEYS)
        self.search = Search(folder / layout.CACHE / "search.sqlite")
        held.callback(self.search.close)
        self.repaired = repaired
        self._held = held

    @classmethod
    def open(cls, folder: Path, *, create: bool = False, wait_s: float = 2.0) -> Workspace:
        """Open the workspace in `folder`, or with `create` make one there if there is none.

        An older database is copied beside itself and brought up to date; what a killed run left half done is put
        right. `wait_s` is how long to wait for another lapseam to finish.

        Raises:
            NotFound: there is no workspace. Mistake: there is something else, so none is made.
            NoRights: the folder or disk refuses. WorkspaceBusy: another lapseam has it open.
            WorkspaceNewer: a newer lapseam made it; not a byte was touched. WorkspaceBroken: the database is lost,
            damaged or older than the cars' files.
        """
        folder = folder.absolute()
        with refusals(f"open the workspace {folder}"), ExitStack() as held:
            _look(folder, create=create)
            for name in layout.FOLDERS:
                (folder / name).mkdir(parents=True, exist_ok=True)
            lock = Lock(folder / layout.LOCK)
            lock.take(wait_s)
            held.callback(lock.release)
            _look(folder, create=create)
            lock.sign()
            book, repaired = _open_book(folder, held)
            workspace = cls(folder, book, repaired, held.pop_all())
            workspace.vault.empty_spool()
            return workspace

    def close(self) -> None:
        """Close the database and let the next one in; in the opening thread. Closing twice does nothing."""
        self._held.close()

    def __enter__(self) -> Workspace:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    def car_folder(self, stock: str) -> Path:
        """The car's folder with record.json, journal.jsonl and plan.json."""
        return self.folder / layout.CARS / layout.stock_number(stock)

    def editions_folder(self, stock: str) -> Path:
        """Where the car's editions lie, each in a folder of its own."""
        return self.car_folder(stock) / layout.EDITIONS

    def postings_folder(self, stock: str) -> Path:
        """Where copies of what outlets showed lie, each in a folder of its own below one for its outlet."""
        return self.car_folder(stock) / layout.POSTINGS

    def house(self) -> House:
        """The house's settings as they are on disk now.

        Raises:
            SettingsBroken: the file does not hold; `problems` names every line.
        """
        return load_house(self.folder)

    def save_house(self, house: House) -> None:
        """Write the house's settings; a person's comments in the file stay.

        Raises:
            SettingsBroken: the file that is there does not hold. DiskFull, NoRights.
        """
        save_house(self.folder, house)


def _look(folder: Path, *, create: bool) -> None:
    """Decide from outside, touching nothing, whether `folder` may be opened or made a workspace."""
    database = folder / layout.DATABASE
    if database.exists() and database.stat().st_size:
        refuse_newer(folder)
        return
    if folder.exists() and not folder.is_dir():
        raise Mistake(f"{folder} is a file, not a folder.", next_step="Name the folder of a workspace.")
    if folder.is_dir() and layout.has_cars(folder):
        raise WorkspaceBroken(
            f"The database of the workspace {folder} is lost.",
            effect="The cars' records and journals and the photos are still there; nothing was changed.",
        )
    if database.exists() or (create and not folder.exists()):
        return
    if not create:
        raise NotFound(
            f"There is no workspace in {folder}.",
            next_step="Name the folder of one with --workspace, or make the first car there: that makes the workspace.",
        )
    if strangers := layout.foreign(folder):
        raise Mistake(
            f"{folder} holds other things ({', '.join(strangers[:3])}{' …' if len(strangers) > 3 else ''}).",
            effect="No workspace was made in it.",
            next_step="Name an empty folder, or one that does not exist yet.",
        )


def refuse_newer(folder: Path) -> None:
    """Leave a newer lapseam's database alone.

    Raises:
        WorkspaceNewer: it is one. WorkspaceBroken: it is no database.
    """
    revision = revision_of(folder / layout.DATABASE)
    if revision is not None and (not revision.isdigit() or int(revision) > int(HEAD)):
        raise WorkspaceNewer(
            f"The workspace {folder} was made by a newer lapseam (database {revision}, known here: {HEAD}).",
            effect="It was left untouched.",
        )


def _open_book(folder: Path, held: ExitStack) -> tuple[Book, tuple[str, ...]]:
    database = folder / layout.DATABASE
    mirror = Mirror(folder / layout.CARS)
    with speaking(database):
        connection = open_database(database, held)
        with connection.begin():
            repaired = mirror.complete(connection)
    return Book(connection, mirror, database), repaired


def open_database(path: Path, held: ExitStack, *, extra: Sequence[Path] = ()) -> Connection:
    """Open the database at `path`, made if absent, at the revision of this program; `held` closes it.

    Raises:
        WorkspaceBroken: it is damaged.
    """
    revision = revision_of(path) if path.exists() else None
    if revision is not None and (int(revision) < int(HEAD) or extra):
        _back_up(path, revision)
    engine = open_engine(path)
    held.callback(engine.dispose)
    connection = engine.connect()
    held.callback(connection.close)
    if revision is not None:
        check(connection, path)
    if revision != HEAD or extra:
        with connection.begin():
            upgrade(connection, extra=extra)
        settle(connection)
        flush_folder(path.parent)
    return connection


def _back_up(path: Path, revision: str) -> Path:
    """Copy the database beside itself before it is brought up to date; the name tells its revision."""
    target = free_name(path, f"before-upgrade-from-{revision}")
    part = target.with_name(target.name + PART)
    part.unlink(missing_ok=True)
    copy_database(path, part)
    part.rename(target)
    flush_folder(path.parent)
    return target
