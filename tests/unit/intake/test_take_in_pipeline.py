"""The take-in as a whole: what comes first, what happens twice, and what happens when something breaks off."""

from __future__ import annotations

import errno
import hashlib
import io
import shutil
import threading
from contextlib import suppress
from pathlib import Path

import pytest
from PIL import Image

from fakes import card
from fakes.folder_vault import FolderVault
from fakes.take_in_desk import TakeInDesk
from lapseam.domain.errors import CardGone, DiskFull, NoRights, UserError
from lapseam.domain.photo import IntakeOutcome, IntakeResult, MediaKind, Photo, PreviewSize
from lapseam.intake import Found, TakenIn, find, remake_previews

KEPT, ALREADY = IntakeOutcome.KEPT, IntakeOutcome.ALREADY_HERE


@pytest.fixture
def desk(tmp_path: Path) -> TakeInDesk:
    return TakeInDesk(tmp_path)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "card").mkdir()
    return tmp_path / "card"


def _fill(folder: Path, count: int, first: int = 1) -> None:
    for number in range(first, first + count):
        (folder / f"IMG_{number}.JPG").write_bytes(card.jpeg(seed=number, size=(120, 80)))


def _outcomes(taken: TakenIn) -> list[tuple[str, IntakeOutcome]]:
    return [(result.name, result.outcome) for result in taken.results]


def test_a_photo_comes_in_with_original_previews_and_row(desk: TakeInDesk, folder: Path) -> None:
    data = card.jpeg(size=(600, 400), orientation=6, private=True)
    (folder / "IMG_1.JPG").write_bytes(data)
    (result,) = desk.take(folder).results
    sha256 = hashlib.sha256(data).hexdigest()
    photo = result.photo
    assert photo is not None
    assert (result.outcome, photo.sha256, photo.name, photo.size_bytes) == (KEPT, sha256, "IMG_1.JPG", len(data))
    assert (photo.media, photo.format, photo.width, photo.height) == (MediaKind.STILL, "JPEG", 400, 600)
    assert photo.found_at == str(folder / "IMG_1.JPG")
    assert photo.modified_at is not None
    assert photo.modified_at.tzinfo is None
    assert [path.read_bytes() for path in desk.vault.originals()] == [data]
    assert Image.open(io.BytesIO(desk.shelf.jpegs[sha256, PreviewSize.THUMB])).size == (213, 320)
    assert (desk.rows, desk.leftovers()) == ({sha256: photo}, [])


def test_results_come_in_the_order_found_and_callers_are_called_on_their_own_thread(
    desk: TakeInDesk, folder: Path
) -> None:
    _fill(folder, 25)
    taken = desk.take(folder, workers=4)
    assert _outcomes(taken) == [(f"IMG_{number}.JPG", KEPT) for number in range(1, 26)]
    assert desk.threads == {threading.get_ident()}
    assert desk.reports[-1] == (25, 25)


def test_taking_in_again_copies_nothing_twice(desk: TakeInDesk, folder: Path) -> None:
    _fill(folder, 4)
    desk.take(folder)
    desk.shelf.jpegs.clear()
    _fill(folder, 2, first=5)
    taken = desk.take(folder)
    assert [outcome for _, outcome in _outcomes(taken)] == [ALREADY] * 4 + [KEPT] * 2
    assert len(desk.shelf.jpegs) == 4
    assert taken.safe == 6


def test_an_equal_file_in_the_same_run_counts_once(desk: TakeInDesk, folder: Path) -> None:
    _fill(folder, 1)
    shutil.copy(folder / "IMG_1.JPG", folder / "IMG_2 copy.JPG")
    first, second = desk.take(folder).results
    assert (first.outcome, second.outcome, second.reason) == (KEPT, ALREADY, "the same as IMG_1.JPG")
    assert second.photo == first.photo
    assert len(desk.vault.originals()) == 1


def test_equal_files_that_cannot_be_read_both_say_so(desk: TakeInDesk, folder: Path) -> None:
    for name in ("a.jpg", "b.jpg"):
        (folder / name).write_bytes(card.jpeg()[:3000])
    first, second = desk.take(folder).results
    assert first.outcome is second.outcome is IntakeOutcome.UNREADABLE
    assert first.reason == second.reason
    assert "ends too early" in first.reason


def test_a_photo_known_from_another_car_is_new_to_this_one(desk: TakeInDesk, folder: Path) -> None:
    _fill(folder, 1)
    (known,) = (result.photo for result in desk.take(folder).results)
    other = TakeInDesk(folder.parent / "other")
    assert known is not None
    (result,) = other.take(folder, known={known.sha256: known}.get).results
    assert (result.outcome, result.photo) == (KEPT, known)
    assert other.vault.has(known.sha256), "an original that was lost is put back"
    assert not other.shelf.jpegs, "its readings were not made again"


def test_near_photos_are_named_nearest_first(desk: TakeInDesk, folder: Path) -> None:
    picture = card.scene(300, 200, seed=11)
    (folder / "a.jpg").write_bytes(card.encoded(picture, "JPEG", quality=95))
    (folder / "b.jpg").write_bytes(card.encoded(picture, "JPEG", quality=40))
    (folder / "c.jpg").write_bytes(card.encoded(card.scene(300, 200, seed=12), "JPEG"))
    a, b, c = desk.take(folder).results
    assert a.photo is not None
    assert (a.near, b.near, c.near) == ((), (a.photo.sha256,), ())
    (folder / "d.jpg").write_bytes(card.encoded(picture, "JPEG", quality=70))
    d = desk.take(folder).results[-1]
    assert set(d.near) == {result.photo.sha256 for result in (a, b) if result.photo}


def test_even_surfaces_are_near_to_nobody(desk: TakeInDesk, folder: Path) -> None:
    for name, level in (("a.png", 10), ("b.png", 200)):
        (folder / name).write_bytes(card.encoded(Image.new("L", (50, 50), level), "PNG"))
    assert all(result.near == () for result in desk.take(folder).results)


def test_stop_is_asked_between_files_and_what_is_done_is_kept(desk: TakeInDesk, folder: Path) -> None:
    _fill(folder, 20)
    taken = desk.take(folder, stop=lambda: len(desk.rows) >= 3)
    assert taken.stopped
    assert 3 <= len(taken.results) < 20
    assert {result.outcome for result in taken.results} == {KEPT}
    assert len(desk.rows) == len(taken.results) == len(desk.vault.originals())
    assert desk.leftovers() == []
    assert desk.reports[-1] == (len(taken.results), 20)
    assert desk.take(folder).safe == 20


def test_an_empty_card_is_no_error(desk: TakeInDesk, folder: Path) -> None:
    assert desk.take(folder) == TakenIn((), 0)


class Vanishing(FolderVault):
    """The card is pulled when so many originals are in."""

    card: Path
    after = 3

    def keep(self, spooled: Path, sha256: str, suffix: str) -> Path:
        kept = super().keep(spooled, sha256, suffix)
        if len(self.originals()) >= self.after:
            with suppress(FileNotFoundError):
                self.card.rename(self.card.with_name("pulled"))
        return kept


def test_a_card_pulled_in_the_middle_loses_nothing_that_is_safe(desk: TakeInDesk, folder: Path) -> None:
    _fill(folder, 30)
    desk.vault = vault = Vanishing(folder.parent / "vault2")
    vault.card = folder
    with pytest.raises(CardGone) as gone:
        desk.take(folder)
    assert 3 <= len(desk.rows) < 30
    assert len(gone.value.results) == len(desk.rows)
    assert gone.value.effect == f"{len(desk.rows)} of 30 files are safe."
    assert all(isinstance(result, IntakeResult) and result.outcome is KEPT for result in gone.value.results)
    assert desk.leftovers() == []
    folder.with_name("pulled").rename(folder)
    vault.after = 1000
    again = desk.take(folder)
    assert again.safe == again.total == 30
    assert again.count(ALREADY) == len(gone.value.results)


class Full(FolderVault):
    """A disk, or a folder, that takes so many files and then fails."""

    room = 4
    error = OSError(errno.ENOSPC, "No space left on device")

    def keep(self, spooled: Path, sha256: str, suffix: str) -> Path:
        if len(self.originals()) >= self.room:
            raise self.error
        return super().keep(spooled, sha256, suffix)


class Misled(FolderVault):
    """Spools to where nothing can be written."""

    def spool(self) -> Path:
        return self.folder / "no such folder" / "copy"


def test_a_full_disk_ends_the_run_with_what_is_safe(desk: TakeInDesk, folder: Path) -> None:
    _fill(folder, 12)
    desk.vault = Full(folder.parent / "vault2")
    with pytest.raises(DiskFull, match="no room left") as full:
        desk.take(folder)
    safe = len(desk.rows)
    assert 4 <= safe < 12
    assert len(desk.vault.originals()) == len(full.value.results) == safe
    assert full.value.effect == f"{safe} of 12 files are safe."
    assert desk.leftovers() == []


def test_a_twin_of_the_file_that_did_not_fit_is_not_claimed_to_be_here(desk: TakeInDesk, folder: Path) -> None:
    for number in range(12):  # more than are on their way at once, so that twins wait behind the first when it breaks
        (folder / f"{number}.jpg").write_bytes(card.jpeg())
    desk.vault = vault = Full(folder.parent / "vault2")
    vault.room = 0
    with pytest.raises(DiskFull) as full:
        desk.take(folder)
    assert (full.value.results, full.value.effect) == ((), "0 of 12 files are safe.")


@pytest.mark.parametrize(
    ("number", "kind"),
    [(errno.EDQUOT, DiskFull), (errno.EACCES, NoRights), (errno.EROFS, NoRights), (errno.EIO, DiskFull)],
)
def test_other_failed_writes_have_their_own_words(
    desk: TakeInDesk, folder: Path, number: int, kind: type[UserError]
) -> None:
    _fill(folder, 6)
    desk.vault = vault = Full(folder.parent / "vault2")
    vault.room, vault.error = 0, OSError(number, "said so")
    with pytest.raises(kind) as raised:
        desk.take(folder)
    assert raised.value.effect == "0 of 6 files are safe."
    assert raised.value.next_step


def test_a_spool_that_cannot_be_written_ends_the_run(desk: TakeInDesk, folder: Path) -> None:
    _fill(folder, 3)
    desk.vault = Misled(folder.parent / "vault2")
    with pytest.raises(DiskFull, match="did not take"):
        desk.take(folder)


def test_a_broken_row_is_our_own_fault_and_leaves_nothing_behind(desk: TakeInDesk, folder: Path) -> None:
    _fill(folder, 8)

    def keep(photo: Photo, found: Found) -> bool:
        raise RuntimeError("bug")

    with pytest.raises(RuntimeError, match="bug"):
        desk.take(folder, keep=keep)
    assert desk.leftovers() == []
    assert not [thread for thread in threading.enumerate() if thread.name.startswith("intake")]
    assert desk.take(folder).safe == 8, "the originals that lie there without rows are adopted"


def test_a_file_removed_after_the_walk_is_gone_and_no_more(desk: TakeInDesk, folder: Path) -> None:
    _fill(folder, 3)
    found = find([folder])
    (folder / "IMG_2.JPG").unlink()
    assert [result.outcome for result in desk.take(found=found).results] == [KEPT, IntakeOutcome.GONE, KEPT]


def test_previews_are_made_again_from_the_vault(desk: TakeInDesk, folder: Path) -> None:
    _fill(folder, 1)
    (result,) = desk.take(folder).results
    before = dict(desk.shelf.jpegs)
    desk.shelf.jpegs.clear()
    assert result.photo is not None
    remake_previews(desk.vault.originals()[0], result.photo.sha256, desk.shelf)
    assert desk.shelf.jpegs == before
