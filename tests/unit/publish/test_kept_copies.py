"""Kept copies: bags that verify and the reference library accept, and that no single change leaves so."""

from __future__ import annotations

from pathlib import Path

import bagit
import pytest

from lapseam.domain.errors import Cancelled, Mistake, NotFound
from lapseam.publish import verify
from lapseam.publish.kept_copies import keep_copy, outlet_folder, read_posting, sweep_copies


@pytest.fixture
def made(tmp_path: Path) -> Path:
    folder = tmp_path / "made"
    folder.mkdir()
    for name in ("01-front.jpg", "02-rear.jpg", "text.txt", "outlet.json"):
        (folder / name).write_bytes(name.encode() * 50)
    return folder


def kept(made: Path, target: Path, *saved: Path) -> Path:
    info = (("External-Identifier", "T-1/1/Weekly sheet/1"),)
    return keep_copy(
        target, made=made, photos=["02-rear.jpg"], posting={"number": 1}, saved=saved, info=info
    ).folder  # fmt: skip


def test_a_copy_holds_what_was_shown_and_the_reference_library_agrees(made: Path, tmp_path: Path) -> None:
    page = tmp_path / "a page, säved.pdf"
    page.write_bytes(b"%PDF-1.7")
    copy = kept(made, tmp_path / "car" / "weekly-sheet" / "0001", page, page)
    names = sorted(path.relative_to(copy / "data").as_posix() for path in (copy / "data").rglob("*") if path.is_file())
    assert names == [
        "outlet.json", "photos/02-rear.jpg", "posting.json",
        "saved/01-a-page-s-ved.pdf", "saved/02-a-page-s-ved.pdf", "text.txt",
    ]  # fmt: skip
    assert verify(copy).complete
    assert bagit.Bag(str(copy)).is_valid()
    assert read_posting(copy)["number"] == 1
    assert list(copy.parent.iterdir()) == [copy]


def test_any_change_is_found(made: Path, tmp_path: Path) -> None:
    copy = kept(made, tmp_path / "0001")
    for path in sorted(path for path in copy.rglob("*") if path.is_file()):
        content = path.read_bytes()
        path.write_bytes(bytes([content[0] ^ 1]) + content[1:])
        assert not verify(copy).complete, path
        path.write_bytes(content)
    (copy / "data" / "more.txt").write_text("more")
    assert not verify(copy).complete


def test_what_cannot_be_kept_leaves_nothing(made: Path, tmp_path: Path) -> None:
    target = tmp_path / "car" / "0001"
    with pytest.raises(NotFound):
        kept(made, target, tmp_path / "none.pdf")
    with pytest.raises(Cancelled):
        keep_copy(target, made=made, photos=[], posting={}, stop=lambda: True)
    assert not list(target.parent.iterdir()) if target.parent.exists() else True
    kept(made, target)
    with pytest.raises(Mistake, match="never written again"):
        kept(made, target)


def test_a_killed_keeping_is_swept(tmp_path: Path) -> None:
    begun = tmp_path / "weekly-sheet" / ".making-0001-77"
    (begun / "data").mkdir(parents=True)
    (tmp_path / "weekly-sheet" / "0001").mkdir()
    assert sweep_copies(tmp_path) == 1
    assert [path.name for path in (tmp_path / "weekly-sheet").iterdir()] == ["0001"]
    assert sweep_copies(tmp_path / "none") == 0


def test_outlets_of_like_names_get_folders_of_their_own() -> None:
    assert outlet_folder("Weekly sheet") == "weekly-sheet"
    names = ["Weekly: sheet", "Weekly sheet", "../etc", "..", "Wöchentlich", "週刊", "con"]
    folders = [outlet_folder(name) for name in names]
    assert len(set(folders)) == len(names)
    assert all(folder and folder[0] not in ".-" and "/" not in folder for folder in folders)
    assert outlet_folder("WEEKLY sheet") == "weekly-sheet"
