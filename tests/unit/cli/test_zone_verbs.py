"""`unfinished` and `looked --zone`: exit codes, words and JSON."""

from __future__ import annotations

import io
import json
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from lapseam import cli
from lapseam.places import demo_assets
from lapseam.workflow import Desk, Stop

Told = tuple[int, str]


def sayer(folder: Path) -> Callable[..., Told]:
    """Says verbs about one workspace."""

    def say(*words: str) -> Told:
        out = io.StringIO()
        by = ("--by", "Ann") if words[0] != "unfinished" else ()
        return cli.main([*words, *by, "--workspace", str(folder)], stdout=out), out.getvalue()

    return say


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """One car, whose front is on one frame with everything ticked."""
    folder = tmp_path_factory.mktemp("zones") / "yard"
    photo = sorted((demo_assets() / "card").glob("*.JPG"))[0]
    with Desk.open(folder, create=True) as desk:
        desk.new_car(stock="A-1", plan="hardtop-full", by="Ann").result()
        facts = {"body": "hardtop", "construction": "unibody", "skin": "steel", "lift": True}
        desk.answer(stock="A-1", answers=facts, by="Ann").result()
        desk.take_in(
            stock="A-1", paths=(photo,), by="Ann", progress=lambda *_: None, stop=Stop(), towards="ext-front",
            towards_zone="",
        ).result()  # fmt: skip
        desk.tick(stock="A-1", shot="ext-front", photo=photo.name, items=[], by="Ann").result()
    return folder


@pytest.fixture
def said(made: Path, tmp_path: Path) -> Callable[..., Told]:
    return sayer(Path(shutil.copytree(made, tmp_path / "yard")))


def test_nothing_found_on_a_zone_says_what_was_left_out(said: Callable[..., Told]):
    code, told = said("looked", "A-1", "--zone", "front", "--json")
    answer = json.loads(told)
    assert code == 0
    assert set(answer["parts"]) == {"front-bumper", "grille-nose", "front-lamps"}
    assert {"component": "hood", "why": "no-frame"} in answer["left_out"]
    code, told = said("looked", "A-1", "--zone", "front")
    assert code == 1
    assert "said before" in told


def test_what_is_unfinished_is_listed_zone_by_zone(said: Callable[..., Told]):
    code, told = said("unfinished", "A-1", "--zone", "front", "--json")
    rows = json.loads(told)["unfinished"]
    assert code == 1
    assert {row["zone"] for row in rows} == {"front"}
    assert next(row["name"] for row in rows if row["of"] == "part").startswith("Front bumper")
    said("looked", "A-1", "--zone", "front")
    assert "shown, and nobody" not in said("unfinished", "A-1", "--zone", "front")[1]
    assert said("unfinished", "A-1", "--zone", "roof") == (0, "Nothing left to finish.\n")


def test_half_an_asking_is_refused_in_words(said: Callable[..., Told], capsys: pytest.CaptureFixture[str]):
    assert said("looked", "A-1")[0] == 2
    assert said("looked", "A-1", "hood")[0] == 2
    assert said("looked", "A-1", "--zone", "frnt")[0] == 2
    told = capsys.readouterr().err
    assert "Nothing found on what?" in told
    assert "did you mean 'front'" in told
