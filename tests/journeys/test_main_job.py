"""The main job by command line, on the demo car's real photographs: card in, edition out, every gap named."""

from __future__ import annotations

import io
import json
import re
import shutil
from datetime import UTC, datetime
from functools import partial
from pathlib import Path
from typing import Any

import pytest
import ruamel.yaml

from lapseam import cli
from lapseam.places import demo_assets
from lapseam.workflow import Desk

STOCK = "T-114"
DAY_AFTER = datetime(2026, 5, 14, 9, tzinfo=UTC)
"""Photos and tests go stale; the expected answers are those of the morning after the notes were written."""


def ask(*words: str, workspace: Path | None = None) -> tuple[int, Any]:
    """Run one command with --json: its exit code and its answer."""
    out = io.StringIO()
    where = ("--workspace", str(workspace)) if workspace else ()
    code = cli.main([*words, *where, "--json"], open_desk=partial(Desk.open, clock=lambda: DAY_AFTER), stdout=out)
    return code, json.loads(out.getvalue()) if out.getvalue().strip() else None


def words_of(*words: str, workspace: Path) -> str:
    """Run one command and read what it says to a person."""
    out = io.StringIO()
    cli.main([*words, "--workspace", str(workspace)], stdout=out)
    return out.getvalue()


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo, done once for this module: its workspace."""
    workspace = tmp_path_factory.mktemp("demo") / "workspace"
    code, shown = ask("demo", "--no-window", workspace=workspace)
    assert code == 0
    assert Path(shown["gallery"]).is_file()
    assert Path(shown["disclosure"]).is_file()
    return workspace


@pytest.fixture(scope="module")
def expected() -> Any:
    """What the demo must show, written by looking at the photos, not by running the program."""
    return ruamel.yaml.YAML(typ="safe").load(demo_assets() / "expected.yaml")


def test_every_photo_of_the_card_is_in(demo: Path) -> None:
    code, photos = ask("photos", STOCK, workspace=demo)
    names = sorted(path.name for path in (demo_assets() / "card").iterdir())
    assert code == 0
    assert sorted(photo["name"] for photo in photos) == names
    keys = {"sha256", "taken_at", "make", "model", "orientation", "width", "height", "iso", "exposure_s", "f_number",
            "focal_mm", "sharpness", "clipped_dark", "clipped_light", "placement"}  # fmt: skip
    assert all(keys <= photo.keys() for photo in photos)


def test_coverage_of_shots_is_as_expected_neither_more_nor_less(demo: Path, expected: Any) -> None:
    code, answer = ask("coverage", STOCK, workspace=demo)
    assert code == 1, "there are gaps, so the answer is no"
    assert {shot["id"]: shot["state"] for shot in answer["shots"]} == dict(expected["shots"])


def test_coverage_of_rust_prone_places_is_as_expected(demo: Path, expected: Any) -> None:
    _, answer = ask("coverage", STOCK, workspace=demo)
    assert {place["place"]: place["state"] for place in answer["rust_prone"]} == dict(expected["rust_prone"])


def test_blocked_and_warning_rules_are_as_expected(demo: Path, expected: Any) -> None:
    code, answer = ask("review", STOCK, workspace=demo)
    assert code == 1
    assert sorted(answer["blocked"]) == sorted(expected["blocked"])
    assert sorted(answer["warned"]) == sorted(expected["warned"])


def test_signing_is_refused_with_every_reason(demo: Path) -> None:
    code, answer = ask("sign", STOCK, "--by", "Jun Thornby", workspace=demo)
    assert code == 1
    assert not answer["signed"]
    assert any("so-identity" in reason for reason in answer["reasons"])


def test_the_edition_verifies_and_says_unsigned(demo: Path, expected: Any) -> None:
    _, editions = ask("editions", STOCK, workspace=demo)
    folder = Path(editions[0]["path"])
    code, answer = ask("verify", str(folder))
    assert (code, answer["valid"]) == (0, True)
    for page in (folder / "data").glob("*.html"):
        assert "UNSIGNED" in page.read_text(encoding="utf-8"), page.name
    assert json.loads((folder / "data" / "edition.json").read_text())["signed"] is False


def test_every_finding_stands_on_both_pages(demo: Path, expected: Any) -> None:
    _, editions = ask("editions", STOCK, workspace=demo)
    data = Path(editions[0]["path"]) / "data"
    record = json.loads((data / "record.json").read_text(encoding="utf-8"))
    assert sorted(finding["number"] for finding in record["findings"]) == sorted(expected["findings"])
    for page in ("index.html", "disclosure.html"):
        text = (data / page).read_text(encoding="utf-8")
        shown = {int(number) for number in re.findall(r'id="finding-(\d+)"', text)}
        assert shown == set(expected["findings"]), page


def test_no_person_and_no_private_tag_reaches_the_edition(demo: Path) -> None:
    _, editions = ask("editions", STOCK, workspace=demo)
    private = [b"Ada Lindqvar", b"Mirek Osoba", b"Jun Thornby", b"EXO_41", b"PH_02"]
    for path in Path(editions[0]["path"]).rglob("*"):
        if path.is_file():
            content = path.read_bytes()
            assert not [word for word in private if word in content], path.name


def test_taking_the_card_in_again_copies_nothing(demo: Path) -> None:
    code, answer = ask("take-in", STOCK, str(demo_assets() / "card"), workspace=demo)
    assert code == 0
    assert answer["kept"] == 0
    assert {one["outcome"] for one in answer["results"]} == {"already here"}


def test_undo_and_redo_bring_the_coverage_back(demo: Path) -> None:
    before = ask("coverage", STOCK, workspace=demo)[1]
    assert (
        ask("close", STOCK, "doc-title", "--not-reachable", "no-time", "--by", "Ada Lindqvar", workspace=demo)[0] == 0
    )
    closed = ask("coverage", STOCK, workspace=demo)[1]
    assert closed != before
    assert ask("undo", STOCK, "--by", "Ada Lindqvar", workspace=demo)[0] == 0
    assert ask("coverage", STOCK, workspace=demo)[1] == before
    assert ask("redo", STOCK, "--by", "Ada Lindqvar", workspace=demo)[0] == 0
    assert ask("coverage", STOCK, workspace=demo)[1] == closed
    assert ask("undo", STOCK, "--by", "Ada Lindqvar", workspace=demo)[0] == 0


def test_a_second_edition_leaves_the_first_untouched(demo: Path) -> None:
    _, editions = ask("editions", STOCK, workspace=demo)
    first = Path(editions[0]["path"])
    before = {path: path.read_bytes() for path in first.rglob("*") if path.is_file()}
    code, made = ask("publish", STOCK, "--by", "Mirek Osoba", workspace=demo)
    assert code == 0
    assert made["number"] == 2
    assert {path: path.read_bytes() for path in first.rglob("*") if path.is_file()} == before


def test_a_changed_byte_is_found(demo: Path, tmp_path: Path) -> None:
    _, editions = ask("editions", STOCK, workspace=demo)
    copy = Path(shutil.copytree(editions[0]["path"], tmp_path / "copy"))
    photo = next(iter(sorted((copy / "data" / "photos").iterdir())))
    content = bytearray(photo.read_bytes())
    content[100] ^= 1
    photo.chmod(0o644)
    photo.write_bytes(content)
    code, answer = ask("verify", str(copy))
    assert code == 1
    assert any(photo.name in words for words in answer["words"])


def test_the_journal_tells_who_did_what(demo: Path) -> None:
    said = words_of("log", STOCK, workspace=demo)
    assert "Mirek Osoba" in said
    assert "lapseam" in said


def test_rebuild_after_the_database_is_lost(demo: Path, tmp_path: Path) -> None:
    copy = Path(shutil.copytree(demo, tmp_path / "workspace"))
    before = ask("coverage", STOCK, workspace=copy)[1]
    for path in copy.glob("lapseam.sqlite*"):
        path.unlink()
    assert ask("coverage", STOCK, workspace=copy)[0] == 2
    assert ask("rebuild", workspace=copy)[0] == 0
    assert ask("coverage", STOCK, workspace=copy)[1] == before
    assert ask("editions", STOCK, workspace=copy)[1]
