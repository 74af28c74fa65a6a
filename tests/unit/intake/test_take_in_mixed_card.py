"""A card as it comes from a bad week: a hundred files, every one of them named afterwards with what became of it."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from fakes import card
from fakes.take_in_desk import TakeInDesk
from lapseam.domain.photo import IntakeOutcome

GOOD_NAMES = (
    "front 'left'.jpg", 'rear "right".jpg', "new\nline.jpg", "tab\there.jpg", "-rf.jpg", "$(reboot).jpg", "a;b&c|d.jpg",
    "車の写真.jpg", "фото.JPEG", "صورة.jpg", "e\u0301tage.jpg", "étage.jpg", "emoji \U0001f697.jpg", "no suffix",
    "x" * 240 + ".jpg", "percent%20.jpg", "back\\slash.jpg", "trailing .jpg", "...dots.jpg"[3:],
)  # fmt: skip


def _good(folder: Path) -> None:
    for number, name in enumerate(GOOD_NAMES):
        (folder / name).write_bytes(card.jpeg(seed=100 + number, size=(90, 60)))
    for number in range(60 - len(GOOD_NAMES)):
        (folder / f"IMG_{number:04}.JPG").write_bytes(card.jpeg(seed=200 + number, size=(90, 60)))
    for number, kind in enumerate(("PNG", "TIFF", "WEBP", "AVIF", "HEIF", "GIF", "BMP")):
        (folder / f"other {kind}.dat").write_bytes(card.encoded(card.scene(90, 60, seed=300 + number), kind))
    card.clip(folder / "clip.mp4", seconds=0.4)
    card.clip(folder / "clip.webm", seconds=0.4, codec="libvpx-vp9")
    (folder / "wrong name.png").write_bytes(card.jpeg(seed=400))


def _bad(folder: Path) -> dict[str, IntakeOutcome]:
    whole = card.jpeg(seed=500, size=(400, 300))
    unreadable = {
        "half.jpg": whole[: len(whole) // 2],
        "tenth.jpg": whole[: len(whole) // 10],
        "start only.jpg": whole[:3],
        "zero bytes.jpg": b"",
        "words.jpg": b"these are only words",
        "zeros.jpg": bytes(50_000),
        "page.jpeg": b"<!DOCTYPE html><p>not found</p>",
        "half.png": card.encoded(card.scene(), "PNG")[:9000],
        "half.heic": card.encoded(card.scene(), "HEIF")[:900],
        "half.mp4": (folder / "clip.mp4").read_bytes()[:500],
        "archive.jpg": b"PK\x03\x04" + bytes(500),
        "raw.nef": card.encoded(card.scene(30, 20), "TIFF"),
    }
    others = {
        "notes.txt": b"left front, then right",
        "IMG_0001.xmp": b"<x:xmpmeta/>",
        "list.csv": b"a,b\n",
        "empty": b"",
        "CLIP.THM": card.jpeg(seed=501),
        "sound.wav": b"RIFF\x24\0\0\0WAVEfmt ",
        "track.gpx": b"<gpx/>",
        "INDEX.BDM": b"INDX0100",
    }
    large = {"gigapixel.png": card.huge_png_header(), "gigapixel.jpg": card.huge_png_header(40_000, 40_000)}
    expected: dict[str, IntakeOutcome] = {}
    for outcome, files in (
        (IntakeOutcome.UNREADABLE, unreadable),
        (IntakeOutcome.NOT_A_PHOTO, others),
        (IntakeOutcome.TOO_LARGE, large),
    ):
        for name, data in files.items():
            (folder / name).write_bytes(data)
            expected[name] = outcome
    return expected


def _odd(folder: Path) -> dict[str, IntakeOutcome]:
    """Links and pipes, and a folder that leads back to the card."""
    (folder / "deep").mkdir()
    (folder / "deep/loop").symlink_to(folder)
    (folder / "lost.jpg").symlink_to(folder / "nowhere.jpg")
    (folder / "a copy.jpg").write_bytes((folder / "IMG_0000.JPG").read_bytes())
    (folder / "a link.jpg").symlink_to(folder / "IMG_0001.JPG")
    os.mkfifo(folder / "pipe.jpg")
    for number in range(4):
        (folder / f"deep/D_{number}.JPG").write_bytes(card.jpeg(seed=600 + number, size=(90, 60)))
    kept = {f"deep/D_{number}.JPG": IntakeOutcome.KEPT for number in range(4)}
    return {"lost.jpg": IntakeOutcome.GONE, "pipe.jpg": IntakeOutcome.NOT_A_PHOTO} | kept


@pytest.mark.skipif(os.name == "nt", reason="names with quotes, new lines and pipes: this system allows none of them")
def test_every_file_of_a_mixed_card_is_named_with_what_became_of_it(tmp_path: Path) -> None:
    folder = tmp_path / "card"
    folder.mkdir()
    _good(folder)
    expected = {path.name: IntakeOutcome.KEPT for path in folder.iterdir()}
    expected |= _bad(folder)
    expected |= _odd(folder)
    desk = TakeInDesk(tmp_path)
    taken = desk.take(folder)
    became = {result.name: result.outcome for result in taken.results}
    twins = {name for name in became if name in ("a copy.jpg", "a link.jpg", "IMG_0000.JPG", "IMG_0001.JPG")}
    assert {name: outcome for name, outcome in became.items() if name not in twins} == {
        name: outcome for name, outcome in expected.items() if name not in twins
    }
    assert sorted(became[name] for name in twins) == ["already here"] * 2 + ["kept"] * 2
    assert len(taken.results) == len(became) >= 100
    assert all(result.reason for result in taken.results if result.failed), "a bad file says why"
    assert len(desk.rows) == len(desk.vault.originals()) == taken.count(IntakeOutcome.KEPT)
    assert desk.leftovers() == []
    assert desk.take(folder).count(IntakeOutcome.KEPT) == 0


AS_NOBODY = """
import os, sys
from pathlib import Path
sys.path.insert(0, sys.argv[2])
from fakes.take_in_desk import TakeInDesk
desk = TakeInDesk(Path(sys.argv[1]))
for path in (desk.vault.folder, desk.vault.spooling):
    os.chown(path, 65534, 65534)
os.setgid(65534); os.setuid(65534)
for result in desk.take(Path(sys.argv[1]) / "card").results:
    print(result.name, "|", result.outcome, "|", result.reason)
"""


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() != 0, reason="giving up rights: needs the root user")
def test_a_file_that_may_not_be_read_does_not_stop_the_others() -> None:
    import subprocess
    import sys
    import tempfile

    with tempfile.TemporaryDirectory() as made:
        Path(made).chmod(0o755)
        folder = Path(made) / "card"
        folder.mkdir(mode=0o755)
        for name in ("a.jpg", "b.jpg", "c.jpg"):
            (folder / name).write_bytes(card.jpeg(seed=ord(name[0])))
            (folder / name).chmod(0o644)
        (folder / "b.jpg").chmod(0)
        tests = str(Path(__file__).parents[2])
        run = subprocess.run(
            [sys.executable, "-c", AS_NOBODY, made, tests], capture_output=True, text=True, timeout=60, check=False
        )
    assert run.stdout.splitlines() == [
        "a.jpg | kept | ",
        "b.jpg | no rights | this file may not be read",
        "c.jpg | kept | ",
    ], run.stderr
