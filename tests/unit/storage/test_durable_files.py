"""Files appear whole or not at all, and are on the disk before they have their name."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from lapseam.storage.durable import append_flushed, free_name, set_aside, write_whole


@pytest.fixture
def calls(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The order in which files are flushed and renamed."""
    seen: list[str] = []
    flush, replace = os.fsync, Path.replace

    def fsync(handle: int) -> None:
        seen.append("flush folder" if os.path.isdir(f"/proc/self/fd/{handle}") else "flush file")  # noqa: PTH112
        flush(handle)

    def renamed(self: Path, target: Path) -> Path:
        seen.append("rename")
        return replace(self, target)

    monkeypatch.setattr(os, "fsync", fsync)
    monkeypatch.setattr(Path, "replace", renamed)
    return seen


linux_only = pytest.mark.skipif(not Path("/proc/self/fd").is_dir(), reason="asks /proc what was flushed")


@linux_only
def test_a_file_is_flushed_then_named_then_its_folder_is_flushed(tmp_path: Path, calls: list[str]) -> None:
    write_whole(tmp_path / "record.json", b"one")
    write_whole(tmp_path / "record.json", b"two")
    assert calls == ["flush file", "rename", "flush folder"] * 2
    assert (tmp_path / "record.json").read_bytes() == b"two"
    assert len(list(tmp_path.iterdir())) == 1


@linux_only
def test_an_appended_line_is_flushed_and_a_new_file_with_its_folder(tmp_path: Path, calls: list[str]) -> None:
    append_flushed(tmp_path / "journal.jsonl", b"one\n")
    append_flushed(tmp_path / "journal.jsonl", b"two\n")
    assert calls == ["flush file", "flush folder", "flush file"]
    assert (tmp_path / "journal.jsonl").read_bytes() == b"one\ntwo\n"


def test_a_write_that_fails_leaves_the_old_file_and_nothing_else(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    write_whole(tmp_path / "record.json", b"one")

    def fail(_handle: int) -> None:
        raise OSError(5, "Input/output error")

    monkeypatch.setattr(os, "fsync", fail)
    with pytest.raises(OSError, match="Input/output"):
        write_whole(tmp_path / "record.json", b"two")
    assert [path.read_bytes() for path in tmp_path.iterdir()] == [b"one"]


def test_setting_aside_never_replaces(tmp_path: Path) -> None:
    for content in (b"one", b"two"):
        (tmp_path / "a").write_bytes(content)
        set_aside(tmp_path / "a")
    assert (tmp_path / "a.set-aside-1").read_bytes() == b"one"
    assert (tmp_path / "a.set-aside-2").read_bytes() == b"two"
    assert free_name(tmp_path / "a", "set-aside").name == "a.set-aside-3"
