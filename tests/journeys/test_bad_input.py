"""What a new user does wrong, or what goes wrong for him: each is named, and the rest goes on."""

from __future__ import annotations

import io
import json
import os
import shutil
import struct
import subprocess
import sys
import zlib
from pathlib import Path
from typing import Any

import pytest
from PIL import Image

from lapseam import cli

STOCK = "B-7"


def ask(*words: str, workspace: Path) -> tuple[int, Any]:
    out = io.StringIO()
    code = cli.main([*words, "--workspace", str(workspace), "--json"], stdout=out)
    return code, json.loads(out.getvalue()) if out.getvalue().strip() else None


@pytest.fixture
def workspace(tmp_path: Path) -> Path:
    folder = tmp_path / "workspace"
    assert ask("new", STOCK, "--plan", "hardtop-full", "--by", "Ann", workspace=folder)[0] == 0
    return folder


def picture(path: Path, shade: int) -> Path:
    """A small JPEG with a pattern of its own, so that no two are alike."""
    image = Image.linear_gradient("L").rotate(shade * 7 % 360).resize((320, 240)).convert("RGB")
    image.putpixel((0, 0), (shade % 256, shade // 256, 0))
    image.save(path, quality=90)
    return path


def half_gigapixel_header() -> bytes:
    """A PNG that claims 25,000 × 20,000 pixels and holds none of them."""
    head = struct.pack(">IIBBBBB", 25_000, 20_000, 8, 2, 0, 0, 0)
    chunk = b"IHDR" + head
    return b"\x89PNG\r\n\x1a\n" + struct.pack(">I", len(head)) + chunk + struct.pack(">I", zlib.crc32(chunk))


def mixed_folder(folder: Path) -> tuple[set[str], set[str]]:
    """A hundred files: the names of the good ones and of the bad ones."""
    folder.mkdir()
    odd = [
        'with "quotes".jpg',
        "two\nlines.jpg",
        "ネジ.jpg",
        "Ünïcode é.jpg",
        " leading space.jpg",
        "semi;colon&$HOME.jpg",
    ]
    good = odd + [f"IMG_{number:04}.JPG" for number in range(84 - len(odd))]
    for number, name in enumerate(good):
        picture(folder / name, number)
    deep = folder / "DCIM" / "deeper"
    deep.mkdir(parents=True)
    picture(deep / "below.jpg", 900)
    good.append("below.jpg")
    whole = (folder / good[-2]).read_bytes()
    (folder / "truncated.jpg").write_bytes(whole[: len(whole) // 2])
    (folder / "zero.jpg").touch()
    (folder / "text.jpg").write_text("this is no picture")
    (folder / "huge.png").write_bytes(half_gigapixel_header())
    (folder / "noise.jpg").write_bytes(os.urandom(4_000))
    bad = {"truncated.jpg", "zero.jpg", "text.jpg", "huge.png", "noise.jpg"}
    for number in range(3):
        (folder / f"broken{number}.jpg").write_bytes(whole[: 50 + number])
        bad.add(f"broken{number}.jpg")
    (folder / "again.jpg").write_bytes(whole)
    (folder / "readme.txt").write_text("not a photo, and not meant to be one")
    (folder / "loop").symlink_to(folder)
    return {name.strip("/") for name in good}, bad


def test_a_mixed_folder_ends_with_every_good_photo_in_and_every_bad_one_named(workspace: Path, tmp_path: Path) -> None:
    good, bad = mixed_folder(tmp_path / "card")
    code, answer = ask("take-in", STOCK, str(tmp_path / "card"), workspace=workspace)
    assert code == 1
    assert answer["kept"] == len(good) == 85
    failed = {
        Path(result["name"]).name
        for result in answer["results"]
        if result["outcome"] not in ("kept", "already here", "not a photo")
    }
    assert failed == bad
    assert all(result["reason"] for result in answer["results"] if Path(result["name"]).name in bad)
    _, photos = ask("photos", STOCK, workspace=workspace)
    assert len({photo["sha256"] for photo in photos}) == len(photos) == 85


def test_a_file_without_read_rights_is_named_and_the_rest_comes_in(workspace: Path, tmp_path: Path) -> None:
    card = tmp_path / "card"
    card.mkdir()
    picture(card / "open.jpg", 1)
    picture(card / "shut.jpg", 2).chmod(0)
    if os.access(card / "shut.jpg", os.R_OK):
        _without_roots_power(workspace, card)
        return
    code, answer = ask("take-in", STOCK, str(card), workspace=workspace)
    assert (code, answer["kept"]) == (1, 1)


def _without_roots_power(workspace: Path, card: Path) -> None:
    """Root may read everything, so the same is asked by a root that gave that power up."""
    setpriv = shutil.which("setpriv")
    if setpriv is None:
        pytest.skip("needs setpriv to give up root's power to read everything")
    powers = "-dac_override,-dac_read_search"
    words = ["take-in", STOCK, str(card), "--workspace", str(workspace), "--by", "Ann", "--json"]
    ran = subprocess.run(
        [setpriv, f"--bounding-set={powers}", f"--inh-caps={powers}", sys.executable, "-m", "lapseam", *words],
        capture_output=True,
        text=True,
        check=False,
    )
    assert ran.returncode == 1, ran.stderr
    answer = json.loads(ran.stdout)
    assert answer["kept"] == 1
    assert {r["outcome"] for r in answer["results"] if r["name"].endswith("shut.jpg")} == {"no rights"}


def test_a_folder_that_is_not_there(workspace: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert ask("take-in", STOCK, str(tmp_path / "none"), workspace=workspace)[0] == 2
    assert "none" in capsys.readouterr().err


def test_an_empty_folder_is_no_error_and_says_so(workspace: Path, tmp_path: Path) -> None:
    (tmp_path / "empty").mkdir()
    code, answer = ask("take-in", STOCK, str(tmp_path / "empty"), workspace=workspace)
    assert (code, answer["kept"], answer["results"]) == (0, 0, [])
    out = io.StringIO()
    cli.main(["take-in", STOCK, str(tmp_path / "empty"), "--workspace", str(workspace)], stdout=out)
    assert "No photo was found there" in out.getvalue()


def test_a_camera_with_a_wrong_clock_is_taken_in_all_the_same(workspace: Path, tmp_path: Path) -> None:
    card = tmp_path / "card"
    card.mkdir()
    for number, stamp in enumerate(("0000:00:00 00:00:00", "2099:13:45 99:99:99", "1970:01:01 00:00:00")):
        image = Image.open(picture(card / f"{number}.jpg", number))
        exif = image.getexif()
        exif.get_ifd(0x8769)[0x9003] = stamp
        image.save(card / f"{number}.jpg", exif=exif)
    assert ask("take-in", STOCK, str(card), workspace=workspace)[1]["kept"] == 3
    _, photos = ask("photos", STOCK, workspace=workspace)
    assert sorted(str(photo["taken_at"]) for photo in photos) == ["1970-01-01T00:00:00", "None", "None"]


def test_a_workspace_that_is_something_else(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "holiday.txt").write_text("not yours")
    assert ask("new", STOCK, "--plan", "hardtop-full", workspace=tmp_path)[0] == 2
    assert "holiday.txt" in capsys.readouterr().err
    assert (tmp_path / "holiday.txt").read_text() == "not yours"
