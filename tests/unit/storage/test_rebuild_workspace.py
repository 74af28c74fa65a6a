"""A lost or broken database comes back from the cars' files and the vault, history and all."""

from __future__ import annotations

import shutil
import sqlite3
import threading
from collections.abc import Callable
from contextlib import closing
from hashlib import sha256
from pathlib import Path

import pytest

from fakes.record import BY, every_kind, moment, photo, plan
from lapseam.domain.car import Car
from lapseam.domain.changes import Entry
from lapseam.domain.decision import FactAnswer
from lapseam.domain.errors import NotFound, WorkspaceBusy, WorkspaceNewer
from lapseam.storage import EditionRow, Workspace, plan_text, rebuild, record_sha256, verify_journal

Picture = dict[str, tuple[Car, tuple[Entry, ...], tuple[EditionRow, ...], str, int]]


def original(workspace: Workspace, number: int) -> str:
    """Keep a file in the vault; its digest."""
    spooled = workspace.vault.spool()
    spooled.write_bytes(photo(number).name.encode())
    return workspace.vault.keep(spooled, photo(number).sha256, ".jpg").stem


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    with Workspace.open(tmp_path / "yard", create=True) as workspace:
        book = workspace.book
        book.new_car("T-114", plan_text(plan()), "0" * 64, "tiny", by=BY, at=moment())
        book.new_car("T-2", plan_text(plan()), "0" * 64, "tiny", by=BY, at=moment())
        for number in (3, 1, 2):
            original(workspace, number)
        book.add_photos("T-114", [photo(3), photo(1)], by=BY, at=moment(1))
        book.add_photo("T-2", photo(2), by=BY, at=moment(1))
        book.apply("T-114", verb="all", words="Everything", by=BY, at=moment(2), put=every_kind(moment(2)))
        book.apply("T-114", verb="facts", words="Drop", by=BY, at=moment(3), drop=[("fact", "body"), ("finding", "1")])
        book.apply(
            "T-114", verb="facts", words="No", by=BY, at=moment(4), put=[FactAnswer("runs", False, BY, moment(4))]
        )
        book.undo("T-114", by=BY, at=moment(5))
        book.add_edition("T-114", EditionRow(1, moment(6), BY, 6, "edition-1", photos=2))
    return tmp_path / "yard"


def look(folder: Path) -> Picture:
    """Everything that the workspace knows."""
    with Workspace.open(folder) as workspace:
        book = workspace.book
        return {
            line.stock: (
                book.car(line.stock),
                book.log(line.stock),
                book.editions(line.stock),
                record_sha256(book.car(line.stock)),
                book.next_number(line.stock, "finding"),
            )
            for line in book.cars()
        }


def files(folder: Path) -> dict[str, bytes]:
    return {str(path.relative_to(folder)): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def lose(folder: Path) -> None:
    (folder / "lapseam.sqlite").unlink()


def spoil(folder: Path) -> None:
    (folder / "lapseam.sqlite").write_bytes(b"spoilt " * 2000)


def spoil_pages(folder: Path) -> None:
    content = bytearray((folder / "lapseam.sqlite").read_bytes())
    content[8192:] = b"\x5a" * (len(content) - 8192)
    (folder / "lapseam.sqlite").write_bytes(content)


def keep(folder: Path) -> None:
    """Nothing is wrong with it."""


@pytest.mark.parametrize("mishap", [lose, spoil, spoil_pages, keep])
def test_everything_is_back_as_it_was(folder: Path, mishap: Callable[[Path], None]) -> None:
    before, cars = look(folder), files(folder / "cars")
    mishap(folder)
    there = (folder / "lapseam.sqlite").read_bytes() if mishap is not lose else None
    report = rebuild(folder, at=moment(20))
    assert report.whole
    assert [(car.stock, car.steps, car.photos) for car in report.cars] == [("T-114", 7, 2), ("T-2", 2, 1)]
    assert look(folder) == before
    assert files(folder / "cars") == cars
    if there is None:
        assert report.set_aside is None
    else:
        assert report.set_aside == folder / "lapseam.sqlite.set-aside-1"
        assert report.set_aside.stat().st_size == len(there)


def test_undo_and_redo_go_on_after_it(folder: Path) -> None:
    lose(folder)
    rebuild(folder, at=moment(20))
    with Workspace.open(folder) as workspace:
        book = workspace.book
        assert book.redo("T-114", by=BY, at=moment(21)).redoes == 5
        assert book.car("T-114").facts["runs"].value is False
        assert book.undo("T-114", by=BY, at=moment(22)).undoes == 5
        assert book.undo("T-114", by=BY, at=moment(23)).undoes == 4
        assert [one.number for one in book.car("T-114").findings] == [1]
        assert book.next_number("T-114", "finding") == 2
        assert verify_journal(workspace.car_folder("T-114") / "journal.jsonl").sound


def test_an_older_database_gives_way_to_the_later_files(folder: Path, tmp_path: Path) -> None:
    with Workspace.open(folder):
        pass
    shutil.copy(folder / "lapseam.sqlite", tmp_path / "old.sqlite")
    with Workspace.open(folder) as workspace:
        workspace.book.add_photo("T-2", photo(1), by=BY, at=moment(7))
        workspace.book.new_car("T-3", plan_text(plan()), "0" * 64, "tiny", by=BY, at=moment(8))
    before = look(folder)
    shutil.copy(tmp_path / "old.sqlite", folder / "lapseam.sqlite")
    assert rebuild(folder, at=moment(20)).whole
    assert look(folder) == before


def test_what_only_the_database_knows_is_not_lost(folder: Path) -> None:
    """As after a kill between commit and mirror."""
    before = look(folder)
    journal = folder / "cars" / "T-114" / "journal.jsonl"
    journal.write_bytes(b"".join(journal.read_bytes().splitlines(keepends=True)[:-2]))
    assert rebuild(folder, at=moment(20)).whole
    assert look(folder) == before


def test_a_lost_last_line_is_taken_from_the_record(folder: Path) -> None:
    """As after a kill between record and journal, and a loss of the database."""
    before = look(folder)["T-2"][0]
    journal = folder / "cars" / "T-2" / "journal.jsonl"
    journal.write_bytes(journal.read_bytes()[:-100])
    lose(folder)
    report = rebuild(folder, at=moment(20), by="Jun Thornby")
    assert not report.whole
    assert report.cars[1].notes == ("step 2 is taken from record.json; the journal does not tell how it came about",)
    car, log, *_ = look(folder)["T-2"]
    assert car == before
    assert (log[-1].number, log[-1].verb, log[-1].by, log[-1].at) == (2, "rebuild", "Jun Thornby", moment(20))
    assert verify_journal(journal).entries == log


@pytest.mark.parametrize("line", [0, 2, 6])
def test_a_changed_journal_is_believed_up_to_the_change_and_the_record_after_it(folder: Path, line: int) -> None:
    before = look(folder)["T-114"]
    journal = folder / "cars" / "T-114" / "journal.jsonl"
    lines = journal.read_bytes().splitlines(keepends=True)
    lines[line] = lines[line].replace(BY.encode(), b"Somebody", 1)
    journal.write_bytes(b"".join(lines))
    lose(folder)
    report = rebuild(folder, at=moment(20))
    assert f"line {line + 1} was changed" in report.cars[0].notes[0]
    car, log, editions, digest, number = look(folder)["T-114"]
    assert (car, editions, digest, number) == (before[0], before[2], before[3], before[4])
    assert log[:-1] == before[1][:line]
    assert log[-1].number == 7
    assert journal.with_name("journal.jsonl.set-aside-1").read_bytes() == b"".join(lines)
    assert verify_journal(journal).entries == log


def test_without_a_journal_the_record_is_believed(folder: Path) -> None:
    before = look(folder)["T-114"]
    (folder / "cars" / "T-114" / "journal.jsonl").unlink()
    lose(folder)
    report = rebuild(folder, at=moment(20))
    assert "journal.jsonl is missing" in report.cars[0].notes[0]
    car, log, editions, digest, number = look(folder)["T-114"]
    assert (car, editions, digest, number) == (before[0], before[2], before[3], before[4])
    assert [entry.verb for entry in log] == ["rebuild"]


@pytest.mark.parametrize("content", [None, b"{ half", b'{"schema": 1}'])
def test_without_a_record_the_journal_is_believed(folder: Path, content: bytes | None) -> None:
    before = look(folder)
    record = folder / "cars" / "T-114" / "record.json"
    record.unlink()
    if content is not None:
        record.write_bytes(content)
    lose(folder)
    report = rebuild(folder, at=moment(20))
    assert not report.whole
    assert look(folder) == before
    if content is not None:
        assert record.with_name("record.json.set-aside-1").read_bytes() == content


def test_with_a_changed_journal_and_no_record_the_sound_steps_are_back(folder: Path) -> None:
    before = look(folder)["T-114"]
    journal = folder / "cars" / "T-114" / "journal.jsonl"
    changed = journal.read_bytes().replace(b'"words":"Drop"', b'"words":"Drip"')
    journal.write_bytes(changed)
    (folder / "cars" / "T-114" / "record.json").unlink()
    lose(folder)
    report = rebuild(folder, at=moment(20))
    assert "line 4 was changed after it was written" in report.cars[0].notes[1]
    assert "what follows it is gone" in report.cars[0].notes[1]
    assert look(folder)["T-114"][1] == before[1][:3]
    assert journal.with_name("journal.jsonl.set-aside-1").read_bytes() == changed


def test_a_record_that_contradicts_a_sound_journal_lies_aside(folder: Path) -> None:
    before = look(folder)
    record = folder / "cars" / "T-114" / "record.json"
    record.write_bytes(record.read_bytes().replace(b"garage wall", b"better so"))
    lose(folder)
    report = rebuild(folder, at=moment(20))
    assert "something else than the journal" in report.cars[0].notes[0]
    assert look(folder) == before
    assert record.with_name("record.json.set-aside-1").exists()


def test_a_car_without_its_plan_is_said_to_be_lost_and_its_files_stay(folder: Path) -> None:
    (folder / "cars" / "T-2" / "plan.json").unlink()
    lose(folder)
    before = files(folder / "cars" / "T-2")
    report = rebuild(folder, at=moment(20))
    assert [car.stock for car in report.cars] == ["T-114"]
    assert report.lost[0].startswith("Car T-2: its plan.json is missing")
    assert report.unclaimed == (photo(2).sha256,)
    assert files(folder / "cars" / "T-2") == before
    (folder / "cars" / "T-2" / "plan.json").write_text(plan_text(plan()))
    assert [car.stock for car in rebuild(folder, at=moment(21)).cars] == ["T-114", "T-2"]


def test_a_renamed_folder_is_not_taken_for_another_car(folder: Path) -> None:
    (folder / "cars" / "T-2").rename(folder / "cars" / "T-3")
    lose(folder)
    report = rebuild(folder, at=moment(20))
    assert report.lost == ("Car T-3: its files belong to car T-2; name the folder so and rebuild again",)


def test_missing_and_damaged_originals_are_told(folder: Path) -> None:
    with Workspace.open(folder) as workspace:
        missing, damaged = workspace.vault.path(photo(1).sha256), workspace.vault.path(photo(2).sha256)
    missing.unlink()
    damaged.chmod(0o644)
    damaged.write_bytes(b"other bytes")
    told: list[tuple[int, int]] = []
    report = rebuild(folder, at=moment(20), progress=lambda done, total: told.append((done, total)))
    found = [(one.stock, one.sha256, one.name, one.damaged) for one in report.missing]
    assert found == [
        ("T-114", photo(1).sha256, "IMG_0001.JPG", False),
        ("T-2", photo(2).sha256, "IMG_0002.JPG", True),
    ]
    assert told == [(1, 3), (2, 3), (3, 3)]
    assert len(look(folder)["T-114"][0].photos) == 2


def test_a_newer_record_or_database_is_left_untouched(folder: Path) -> None:
    record = folder / "cars" / "T-2" / "record.json"
    content = record.read_bytes()
    record.write_bytes(content.replace(b'"schema": 1', b'"schema": 2'))
    lose(folder)
    with pytest.raises(WorkspaceNewer):
        rebuild(folder, at=moment(20))
    record.write_bytes(content)
    assert rebuild(folder, at=moment(20)).whole
    with closing(sqlite3.connect(folder / "lapseam.sqlite")) as database, database:
        database.execute("UPDATE alembic_version SET version_num = '9999'")
    before = sha256((folder / "lapseam.sqlite").read_bytes()).digest()
    with pytest.raises(WorkspaceNewer):
        rebuild(folder, at=moment(20))
    assert sha256((folder / "lapseam.sqlite").read_bytes()).digest() == before


def test_it_waits_for_whoever_has_the_workspace_open(folder: Path) -> None:
    with Workspace.open(folder):
        seen: list[BaseException] = []

        def elsewhere() -> None:
            try:
                rebuild(folder, at=moment(20), wait_s=0)
            except WorkspaceBusy as error:
                seen.append(error)

        other = threading.Thread(target=elsewhere)
        other.start()
        other.join()
        assert len(seen) == 1


def test_where_there_is_nothing_nothing_is_rebuilt(tmp_path: Path) -> None:
    with pytest.raises(NotFound):
        rebuild(tmp_path / "nowhere", at=moment())
    assert not (tmp_path / "nowhere").exists()
