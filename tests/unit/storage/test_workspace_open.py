"""Opening and making workspaces: one writer, nothing touched that is not ours to touch, refusals in words."""

from __future__ import annotations

import os
import shutil
import signal
import sqlite3
import subprocess
import sys
import threading
from contextlib import closing
from hashlib import sha256
from pathlib import Path

import pytest
from sqlalchemy.exc import ProgrammingError

from fakes.record import BY, moment, plan
from lapseam.domain.errors import (
    DiskFull,
    Mistake,
    NoRights,
    NotFound,
    UserError,
    WorkspaceBroken,
    WorkspaceBusy,
    WorkspaceNewer,
)
from lapseam.storage import Workspace, plan_text
from lapseam.storage.durable import refusals

HOLD = """
import sys, time
from pathlib import Path
from lapseam.storage import Workspace
workspace = Workspace.open(Path(sys.argv[1]), create=True)
print("open", flush=True)
time.sleep(60)
"""


def picture(folder: Path) -> dict[str, tuple[int, int, str]]:
    """Every file and folder with its size, time and digest."""
    return {
        str(path.relative_to(folder)): (
            path.stat().st_size if path.is_file() else 0,
            path.stat().st_mtime_ns,
            sha256(path.read_bytes()).hexdigest() if path.is_file() else "",
        )
        for path in (folder, *folder.rglob("*"))
    }


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return tmp_path / "yard 100% ours"


@pytest.fixture
def with_car(folder: Path) -> Path:
    with Workspace.open(folder, create=True) as workspace:
        workspace.book.new_car("T-114", plan_text(plan()), "0" * 64, "tiny", by=BY, at=moment())
    return folder


def test_a_new_workspace_has_its_folders_and_opens_again(folder: Path) -> None:
    with Workspace.open(folder, create=True) as workspace:
        assert workspace.book.cars() == ()
    assert {"vault", "cars", "plans", "templates", "cache", "lapseam.sqlite"} <= {p.name for p in folder.iterdir()}
    with Workspace.open(folder) as again:
        assert again.repaired == ()


def test_a_folder_without_a_workspace_is_not_found_and_not_touched(folder: Path) -> None:
    with pytest.raises(NotFound, match="There is no workspace"):
        Workspace.open(folder)
    assert not folder.exists()


def test_no_workspace_is_made_among_other_things(folder: Path) -> None:
    folder.mkdir()
    (folder / "taxes.ods").touch()
    before = picture(folder)
    with pytest.raises(Mistake, match=r"taxes\.ods"):
        Workspace.open(folder, create=True)
    assert picture(folder) == before


def test_a_file_is_no_workspace(folder: Path) -> None:
    folder.touch()
    with pytest.raises(Mistake, match="is a file"):
        Workspace.open(folder, create=True)


def test_settings_laid_out_beforehand_do_not_keep_a_workspace_from_being_made(folder: Path) -> None:
    folder.mkdir()
    (folder / "settings.yaml").write_text("name: Saltmarsh Lane\n")
    with Workspace.open(folder, create=True) as workspace:
        assert workspace.house().name == "Saltmarsh Lane"


def test_a_second_process_is_told_who_has_it_open_and_a_killed_one_leaves_no_lock(folder: Path) -> None:
    with subprocess.Popen([sys.executable, "-c", HOLD, str(folder)], stdout=subprocess.PIPE, text=True) as other:
        assert other.stdout is not None
        assert other.stdout.readline() == "open\n"
        with pytest.raises(WorkspaceBusy, match=f"process {other.pid} on "):
            Workspace.open(folder, wait_s=0.1)
        other.send_signal(signal.SIGKILL)
        other.wait()
    with Workspace.open(folder, wait_s=0) as workspace:
        assert workspace.book.cars() == ()


def test_one_process_cannot_open_it_twice(folder: Path) -> None:
    with Workspace.open(folder, create=True), pytest.raises(WorkspaceBusy):
        Workspace.open(folder, wait_s=0)


def test_waiting_lets_the_next_one_in(folder: Path) -> None:
    first = Workspace.open(folder, create=True)
    opened: list[str] = []

    def second() -> None:
        with Workspace.open(folder, wait_s=10):
            opened.append("in")

    waiting = threading.Thread(target=second)
    waiting.start()
    first.close()
    waiting.join()
    assert opened == ["in"]


def test_the_database_refuses_every_thread_but_its_own(folder: Path) -> None:
    seen: list[BaseException] = []

    def elsewhere(workspace: Workspace) -> None:
        try:
            workspace.book.cars()
        except ProgrammingError as error:
            seen.append(error)

    with Workspace.open(folder, create=True) as workspace:
        other = threading.Thread(target=elsewhere, args=(workspace,))
        other.start()
        other.join()
        assert workspace.book.cars() == ()
    assert len(seen) == 1
    assert "same thread" in str(seen[0])


def test_the_database_is_set_to_lose_nothing(with_car: Path) -> None:
    with Workspace.open(with_car) as workspace:
        connection = workspace.book._connection
        with connection.begin():
            settings = {
                name: connection.exec_driver_sql(f"PRAGMA {name}").scalar()
                for name in ("foreign_keys", "journal_mode", "synchronous")
            }
        strict = connection.exec_driver_sql("SELECT count(*) FROM pragma_table_list WHERE strict").scalar()
        connection.rollback()
    assert settings == {"foreign_keys": 1, "journal_mode": "wal", "synchronous": 2}
    assert strict == 7


def _age(folder: Path, revision: str) -> None:
    with closing(sqlite3.connect(folder / "lapseam.sqlite")) as database, database:
        database.execute("UPDATE alembic_version SET version_num = ?", (revision,))


@pytest.mark.parametrize("revision", ["9999", "some-later-name"])
def test_a_newer_workspace_is_refused_and_not_a_byte_or_time_is_touched(with_car: Path, revision: str) -> None:
    _age(with_car, revision)
    before = picture(with_car)
    with pytest.raises(WorkspaceNewer, match=revision):
        Workspace.open(with_car, create=True)
    assert picture(with_car) == before


def test_a_newer_workspace_is_known_even_if_its_last_run_was_killed(with_car: Path, tmp_path: Path) -> None:
    killed = tmp_path / "killed"
    with closing(sqlite3.connect(with_car / "lapseam.sqlite")) as database:
        database.execute("PRAGMA wal_autocheckpoint=0")
        with database:
            database.execute("UPDATE alembic_version SET version_num = '9999'")
        shutil.copytree(with_car, killed)
    assert (killed / "lapseam.sqlite-wal").stat().st_size > 0
    before = picture(killed)
    with pytest.raises(WorkspaceNewer):
        Workspace.open(killed)
    assert picture(killed) == before


def test_a_database_that_is_none_is_broken_and_says_what_to_run(with_car: Path) -> None:
    (with_car / "lapseam.sqlite").write_bytes(b"no database at all " * 400)
    with pytest.raises(WorkspaceBroken) as caught:
        Workspace.open(with_car)
    assert "lapseam rebuild" in caught.value.next_step


def test_a_damaged_page_is_noticed_at_opening(with_car: Path) -> None:
    path = with_car / "lapseam.sqlite"
    content = bytearray(path.read_bytes())
    for page in range(2, len(content) // 4096):
        content[page * 4096 : page * 4096 + 2000] = b"\x5a" * 2000
    path.write_bytes(content)
    with pytest.raises(WorkspaceBroken):
        Workspace.open(with_car)


@pytest.mark.parametrize("create", [False, True])
@pytest.mark.parametrize("loss", ["gone", "empty"])
def test_a_lost_database_is_never_replaced_by_an_empty_one(with_car: Path, create: bool, loss: str) -> None:
    path = with_car / "lapseam.sqlite"
    path.unlink()
    if loss == "empty":
        path.touch()
    with pytest.raises(WorkspaceBroken, match="is lost"):
        Workspace.open(with_car, create=create)


def test_an_older_database_put_back_is_noticed(with_car: Path, tmp_path: Path) -> None:
    shutil.copy(with_car / "lapseam.sqlite", tmp_path / "old.sqlite")
    with Workspace.open(with_car) as workspace:
        workspace.book.add_edition("T-114", _edition())
    shutil.copy(tmp_path / "old.sqlite", with_car / "lapseam.sqlite")
    journal = with_car / "cars" / "T-114" / "journal.jsonl"
    before = journal.read_bytes()
    with pytest.raises(WorkspaceBroken, match="older than the journal of car T-114"):
        Workspace.open(with_car)
    assert journal.read_bytes() == before


def _edition():  # type: ignore[no-untyped-def]
    from lapseam.storage import EditionRow

    return EditionRow(1, moment(1), BY, 1, "edition-1")


def test_leftover_copies_of_a_killed_take_in_are_cleared(folder: Path) -> None:
    with Workspace.open(folder, create=True) as workspace:
        left = workspace.vault.spool()
        left.write_bytes(b"half a photo")
    with Workspace.open(folder):
        assert not left.exists()


NO_RIGHTS = """
import os, sys
from pathlib import Path
from lapseam.domain.errors import NoRights
from lapseam.storage import Workspace
if os.getuid() == 0:
    os.setgroups([]); os.setgid(65534); os.setuid(65534)
try:
    Workspace.open(Path(sys.argv[1]), create=True)
except NoRights as error:
    print(type(error).__name__, error.next_step)
"""


@pytest.mark.skipif(os.name == "nt", reason="rights of Windows folders are not mode bits")
def test_a_folder_without_rights_is_worded(tmp_path: Path) -> None:
    closed = tmp_path / "closed"
    closed.mkdir()
    with Workspace.open(closed / "yard", create=True):
        pass
    for path in (closed / "yard", *(closed / "yard").rglob("*")):
        path.chmod(0o555 if path.is_dir() else 0o444)
    for path in (closed, *list(closed.parents)[:3]):
        path.chmod(path.stat().st_mode | 0o055)
    done = subprocess.run(
        [sys.executable, "-c", NO_RIGHTS, str(closed / "yard")], capture_output=True, text=True, check=True
    )
    (closed / "yard").chmod(0o755)
    for path in (closed / "yard").rglob("*"):
        path.chmod(0o755 if path.is_dir() else 0o644)
    assert done.stdout.startswith("NoRights Change the rights"), done


@pytest.mark.parametrize(
    ("code", "kind", "word"),
    [("ENOSPC", DiskFull, "no room"), ("EROFS", NoRights, "read-only"), ("EACCES", NoRights, "did not allow")],
)
def test_refusals_of_the_system_are_worded(code: str, kind: type[UserError], word: str) -> None:
    import errno

    with pytest.raises(kind, match=word) as caught, refusals("write record.json"):
        raise OSError(getattr(errno, code), os.strerror(getattr(errno, code)), "record.json")
    assert "write record.json" in caught.value.problem
