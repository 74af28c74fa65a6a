"""journal.jsonl: append-only, each line hanging on the one before, so that a changed line shows."""

from __future__ import annotations

import json
from collections.abc import Callable
from hashlib import sha256
from pathlib import Path

import pytest

from fakes.record import BY, every_kind, moment, photo, plan
from lapseam.storage import Workspace, plan_text, verify_journal

Lines = list[bytes]


@pytest.fixture
def journal(tmp_path: Path) -> Path:
    with Workspace.open(tmp_path / "yard", create=True) as workspace:
        book = workspace.book
        book.new_car("T-114", plan_text(plan()), "0" * 64, "tiny", by=BY, at=moment())
        book.add_photo("T-114", photo(1), by=BY, at=moment(1))
        book.apply("T-114", verb="all", words="größer", by=BY, at=moment(2), put=every_kind(moment(2)))
        book.undo("T-114", by=BY, at=moment(3))
        return workspace.car_folder("T-114") / "journal.jsonl"


def test_each_line_digests_its_content_and_names_the_line_before(journal: Path) -> None:
    previous = "0" * 64
    for line in journal.read_bytes().splitlines():
        body = json.loads(line)
        claimed = body.pop("sha256")
        text = json.dumps(body, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
        assert claimed == sha256(text.encode()).hexdigest()
        assert body["previous"] == previous
        previous = claimed
    report = verify_journal(journal)
    assert report.sound
    assert [entry.verb for entry in report.entries] == ["new-car", "take-in", "all", "undo"]


def _edited(lines: Lines) -> Lines:
    return [lines[0], lines[1].replace(BY.encode(), b"Somebody else"), *lines[2:]]


def _recounted(lines: Lines) -> Lines:
    """Edit a line and give it the digest that fits."""
    body = json.loads(lines[1])
    body["by"] = "Somebody else"
    del body["sha256"]
    text = json.dumps(body, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    body["sha256"] = sha256(text.encode()).hexdigest()
    return [lines[0], json.dumps(body, sort_keys=True, separators=(",", ":")).encode(), *lines[2:]]


@pytest.mark.parametrize(
    ("spoil", "sound_lines", "words"),
    [
        (_edited, 1, "line 2 was changed after it was written"),
        (_recounted, 2, "line 3 does not follow"),
        (lambda lines: [lines[0], *lines[2:]], 1, "line 2 does not follow"),
        (lambda lines: [lines[0], lines[2], lines[1], lines[3]], 1, "line 2 does not follow"),
        (lambda lines: [*lines[:2], b"", *lines[2:]], 2, "line 3 is no step"),
        (lambda lines: [b"[]", *lines], 0, "line 1 is no step"),
        (lambda lines: [lines[0], lines[0]], 1, "line 2 does not follow"),
    ],
)
def test_a_changed_journal_says_where(
    journal: Path, spoil: Callable[[Lines], Lines], sound_lines: int, words: str
) -> None:
    lines = journal.read_bytes().splitlines()
    journal.write_bytes(b"\n".join(spoil(lines)) + b"\n")
    report = verify_journal(journal)
    assert not report.sound
    assert len(report.links) == sound_lines
    assert report.problems[0].startswith(words)


def test_every_byte_of_the_journal_is_covered(journal: Path) -> None:
    content = bytearray(journal.read_bytes())
    for place in range(0, len(content), 41):
        spoiled = bytearray(content)
        spoiled[place] ^= 1
        journal.write_bytes(spoiled)
        assert not verify_journal(journal).sound, place


def test_a_line_cut_off_in_writing_is_torn_not_wrong(journal: Path) -> None:
    journal.write_bytes(journal.read_bytes()[:-20])
    report = verify_journal(journal)
    assert (report.torn, report.problems, len(report.links)) == (True, (), 3)


def test_an_empty_journal_is_sound(tmp_path: Path) -> None:
    (tmp_path / "journal.jsonl").touch()
    assert verify_journal(tmp_path / "journal.jsonl").sound
