"""A watched folder tells of whole files only, soon, and once."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from pathlib import Path

import pytest

from lapseam.domain.errors import CardGone
from lapseam.intake import Watch, watch


class Heard:
    """What a watch told, to be waited for."""

    def __init__(self) -> None:
        self.names: list[str] = []
        self._more = threading.Condition()

    def __call__(self, paths: tuple[Path, ...]) -> None:
        with self._more:
            self.names.extend(path.name for path in paths)
            self._more.notify_all()

    def wait_for(self, name: str) -> bool:
        with self._more:
            return self._more.wait_for(lambda: name in self.names, timeout=20)


@pytest.fixture
def heard() -> Heard:
    return Heard()


@pytest.fixture
def watched(tmp_path: Path, heard: Heard) -> Iterator[Watch]:
    (tmp_path / "before.jpg").write_bytes(b"was here before")
    one = watch(tmp_path, heard)
    yield one
    one.stop()


def test_a_file_that_is_written_and_closed_is_told(watched: Watch, heard: Heard) -> None:
    (watched.folder / "one.jpg").write_bytes(b"whole")
    assert heard.wait_for("one.jpg")
    assert "before.jpg" not in heard.names


def test_a_growing_file_is_waited_for(watched: Watch, heard: Heard) -> None:
    with (watched.folder / "growing.jpg").open("wb", buffering=0) as file:
        file.write(b"half")
        (watched.folder / "meanwhile.jpg").write_bytes(b"whole")
        assert heard.wait_for("meanwhile.jpg")
        assert "growing.jpg" not in heard.names
        file.write(b"other half")
    assert heard.wait_for("growing.jpg")


def test_a_file_renamed_into_place_is_told(watched: Watch, heard: Heard) -> None:
    part = watched.folder / ".incoming.part"
    part.write_bytes(b"whole")
    part.rename(watched.folder / "renamed.jpg")
    assert heard.wait_for("renamed.jpg")
    assert ".incoming.part" not in heard.names


def test_a_file_is_told_once(watched: Watch, heard: Heard) -> None:
    (watched.folder / "once.jpg").write_bytes(b"whole")
    assert heard.wait_for("once.jpg")
    (watched.folder / "last.jpg").write_bytes(b"whole")
    assert heard.wait_for("last.jpg")
    assert heard.names.count("once.jpg") == 1


def test_a_folder_below_is_watched_too(watched: Watch, heard: Heard) -> None:
    (watched.folder / "DCIM").mkdir()
    (watched.folder / "first.jpg").write_bytes(b"whole")
    assert heard.wait_for("first.jpg")
    (watched.folder / "DCIM" / "below.jpg").write_bytes(b"whole")
    assert heard.wait_for("below.jpg")


def test_a_folder_that_is_not_there(tmp_path: Path, heard: Heard) -> None:
    with pytest.raises(CardGone, match="to watch"):
        watch(tmp_path / "none", heard)
