"""The open files beside the database after a kill -9 at the worst moments, and after other mishaps."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from fakes.record import BY, moment, photo, plan
from lapseam.domain.decision import FactAnswer
from lapseam.domain.errors import DiskFull
from lapseam.storage import Workspace, mirror, plan_text, verify_journal

KILLED = """
import os, signal, sys
from pathlib import Path
from fakes.record import BY, moment, photo, plan
from lapseam.domain.decision import FactAnswer
from lapseam.storage import Workspace, durable, mirror, plan_text

def die(*_):
    os.kill(os.getpid(), signal.SIGKILL)

def die_within(path, content):
    with path.open("ab") as file:
        file.write(content[:-30])
        file.flush()
    die()

def write_part_and_die(path, content):
    path.with_name(f".{path.name}.0011aabb.part").write_bytes(content[:100])
    die()

folder, moment_of_death, verb = Path(sys.argv[1]), sys.argv[2], sys.argv[3]
book = Workspace.open(folder).book
if moment_of_death == "before the record":
    mirror.Mirror.follow = die
elif moment_of_death == "within the record":
    mirror.write_whole = write_part_and_die
elif moment_of_death == "between record and journal":
    mirror.append_flushed = die
else:
    mirror.append_flushed = die_within
if verb == "new-car":
    book.new_car("T-2", plan_text(plan()), "0" * 64, "tiny", by=BY, at=moment(9))
elif verb == "take-in":
    book.add_photos("T-114", [photo(n) for n in range(5, 400)], by=BY, at=moment(9))
else:
    book.apply("T-114", verb="facts", words="", by=BY, at=moment(9), put=[FactAnswer("runs", True, BY, moment(9))])
"""
DEATHS = ["before the record", "within the record", "between record and journal", "within the journal"]


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    with Workspace.open(tmp_path / "yard", create=True) as workspace:
        workspace.book.new_car("T-114", plan_text(plan()), "0" * 64, "tiny", by=BY, at=moment())
        workspace.book.add_photo("T-114", photo(1), by=BY, at=moment(1))
    return tmp_path / "yard"


def agree(workspace: Workspace, stock: str) -> None:
    """The files say what the database says."""
    folder = workspace.car_folder(stock)
    report = verify_journal(folder / "journal.jsonl")
    assert report.sound
    assert report.entries == workspace.book.log(stock)
    record = json.loads((folder / "record.json").read_text())
    car = workspace.book.car(stock)
    assert record["revision"] == car.revision
    assert record["journal_sha256"] == report.links[-1].sha256
    assert [one["sha256"] for one in record["photos"]] == [one.sha256 for one in car.photos]
    assert {one["fact"] for one in record["decisions"]["fact"]} == set(car.facts)
    assert (folder / "plan.json").read_text() == plan_text(plan())
    assert not list(folder.glob(".*"))


@pytest.mark.parametrize("verb", ["new-car", "take-in", "facts"])
@pytest.mark.parametrize("death", DEATHS)
def test_the_next_opening_completes_what_a_kill_cut_off(folder: Path, death: str, verb: str) -> None:
    done = subprocess.run(
        [sys.executable, "-c", KILLED, str(folder), death, verb],
        cwd=Path(__file__).parents[2],
        env={"PYTHONPATH": os.pathsep.join(sys.path)},
        capture_output=True,
        text=True,
    )
    assert done.returncode == -signal.SIGKILL, done.stderr
    stock = "T-2" if verb == "new-car" else "T-114"
    with Workspace.open(folder) as workspace:
        assert any(stock in words for words in workspace.repaired)
        assert workspace.book.log(stock)[-1].verb == verb
        agree(workspace, stock)
        workspace.book.add_photo(stock, photo(2), by=BY, at=moment(10))
        agree(workspace, stock)
    with Workspace.open(folder) as workspace:
        assert workspace.repaired == ()


@pytest.mark.parametrize("name", ["record.json", "journal.jsonl", "plan.json"])
def test_a_deleted_file_is_written_again(folder: Path, name: str) -> None:
    (folder / "cars" / "T-114" / name).unlink()
    with Workspace.open(folder) as workspace:
        assert len(workspace.repaired) == 1
        agree(workspace, "T-114")


def test_a_journal_that_was_changed_at_its_end_lies_aside_and_is_written_anew(folder: Path) -> None:
    path = folder / "cars" / "T-114" / "journal.jsonl"
    changed = path.read_bytes().replace(b"IMG_0001", b"IMG_0007")
    path.write_bytes(changed)
    with Workspace.open(folder) as workspace:
        assert "lies aside as journal.jsonl.set-aside-1" in workspace.repaired[0]
        agree(workspace, "T-114")
    assert path.with_name("journal.jsonl.set-aside-1").read_bytes() == changed


def test_a_full_disk_beside_the_database_loses_nothing(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(*_: object) -> None:
        raise OSError(28, "No space left on device", "record.json")

    answer = FactAnswer("runs", True, BY, moment(2))
    with Workspace.open(folder) as workspace:
        with monkeypatch.context() as patch:
            patch.setattr(mirror, "write_whole", full)
            with pytest.raises(DiskFull) as caught:
                workspace.book.apply("T-114", verb="facts", words="", by=BY, at=moment(2), put=[answer])
        assert "safe in the database" in caught.value.effect
        workspace.book.add_photo("T-114", photo(2), by=BY, at=moment(3))
        agree(workspace, "T-114")
        assert set(workspace.book.car("T-114").facts) == {"runs"}


def test_a_car_folder_that_the_database_does_not_know_is_told(folder: Path) -> None:
    stray = folder / "cars" / "T-9"
    stray.mkdir()
    (stray / "journal.jsonl").write_bytes((folder / "cars" / "T-114" / "journal.jsonl").read_bytes())
    with Workspace.open(folder) as workspace:
        assert "cars/T-9" in workspace.repaired[0]


def test_the_end_of_a_long_journal_is_read_from_its_end(folder: Path) -> None:
    path = folder / "cars" / "T-114" / "journal.jsonl"
    with Workspace.open(folder) as workspace:
        workspace.book.add_photos("T-114", [photo(n) for n in range(2, 300)], by=BY, at=moment(2))
    assert path.stat().st_size > 2 * 65_536
    tail = mirror.read_tail(path)
    assert (tail.step, tail.torn, tail.size) == (3, False, path.stat().st_size)
    path.write_bytes(path.read_bytes() + b"x" * 70_000)
    tail = mirror.read_tail(path)
    assert (tail.step, tail.torn, tail.size) == (3, True, path.stat().st_size - 70_000)
