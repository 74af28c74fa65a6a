"""Captions and order of our own, by command line on the demo car: seen in the gallery, undone, and refused in words."""

from __future__ import annotations

import io
import json
from pathlib import Path
from typing import Any

import pytest

from lapseam import cli
from lapseam.places import demo_assets
from lapseam.workflow import Desk

STOCK = "T-114"
FEW = ("EXO_4117.JPG", "EXO_4123.JPG", "EXO_4126.JPG", "EXO_4129.JPG", "EXO_4135.JPG")


def ask(workspace: Path, *words: str) -> tuple[int, Any]:
    """Run one command with --json: its exit code and its answer."""
    out = io.StringIO()
    code = cli.main([*words, "--workspace", str(workspace), "--json"], stdout=out)
    return code, json.loads(out.getvalue()) if out.getvalue().strip() else None


@pytest.fixture(scope="module")
def workspace(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo car with a few frames of its card, placed."""
    folder = tmp_path_factory.mktemp("arranging") / "workspace"
    shots = ("ext-front-left", "ext-left-profile", "ext-right-profile", "ext-rear-right", "ext-right-rocker")
    with Desk.open(folder, create=True) as desk:
        desk.car_from_file(path=demo_assets() / "facts.yaml", plan="hardtop-full", by="lister").result()
        paths = [demo_assets() / "card" / name for name in FEW]
        desk.take_in(stock=STOCK, paths=paths, by="lister").result()
    for photo, shot in zip(FEW, shots, strict=True):
        assert ask(folder, "place", STOCK, "--photo", photo, "--shot", shot)[0] == 0
        assert ask(folder, "release", STOCK, photo, "show", "no plate, no paper")[0] == 0
    return folder


def outside(workspace: Path) -> list[str]:
    """Photos of the outside group in gallery order."""
    code, groups = ask(workspace, "arrange", STOCK)
    assert code == 0
    return [row["photo"] for group in groups if group["group"] == "gg-outside" for row in group["pictures"]]


def caption_of(workspace: Path, photo: str) -> str:
    _, groups = ask(workspace, "arrange", STOCK)
    return next(row["caption"] for group in groups for row in group["pictures"] if row["photo"] == photo)


def test_an_order_of_our_own_is_the_gallery_s_until_it_is_undone(workspace: Path) -> None:
    usual = outside(workspace)
    assert len(usual) >= 2
    code, _ = ask(workspace, "arrange", STOCK, "--group", "gg-outside", "--order", *reversed(usual))
    assert code == 0
    assert outside(workspace) == usual[::-1]
    assert ask(workspace, "undo", STOCK)[0] == 0
    assert outside(workspace) == usual
    assert ask(workspace, "arrange", STOCK, "--move", usual[0], "1")[0] == 0
    assert outside(workspace)[1] == usual[0]
    assert ask(workspace, "arrange", STOCK, "--group", "gg-outside", "--usual")[0] == 0
    assert outside(workspace) == usual


def test_a_caption_of_our_own_stands_first_and_goes_again(workspace: Path) -> None:
    before = caption_of(workspace, "EXO_4126.JPG")
    assert ask(workspace, "caption", STOCK, "EXO_4126.JPG", "Right side in the shade of the hall")[0] == 0
    assert caption_of(workspace, "EXO_4126.JPG").startswith("Right side in the shade of the hall")
    assert ask(workspace, "caption", STOCK, "EXO_4126.JPG")[0] == 0
    assert caption_of(workspace, "EXO_4126.JPG") == before


def test_a_word_that_the_house_never_prints_is_no_caption(workspace: Path) -> None:
    rules = workspace / "claims.yaml"
    rules.write_text(
        "claims:\n  - {id: own-shiny, claim: Shiny, words: [shiny], forbidden: true, "
        "say_instead: Gloss as photographed}\n",
        encoding="utf-8",
    )
    code, answer = ask(workspace, "caption", STOCK, "EXO_4126.JPG", "A shiny right side")
    rules.unlink()
    assert code == 2
    assert "This house does not print it" in answer["error"]["problem"]
    assert "Gloss as photographed" in answer["error"]["next_step"]


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("caption", STOCK, "EXO_4126.JPG", "Perfect, rust-free car"), "promise"),
        (("caption", STOCK, "EXO_9999.JPG", "Left side"), "No photo of this car"),
        (("arrange", STOCK, "--order", "EXO_4126.JPG"), "An order needs its group"),
        (("arrange", STOCK, "--move", "EXO_4117.JPG", "x"), "is no number of places"),
        (("arrange", STOCK, "--move", "EXO_4117.JPG", "1"), "follows from the record"),
        (
            ("arrange", STOCK, "--group", "gg-flaws", "--order", "EXO_4117.JPG", "EXO_4126.JPG"),
            "follows from the record",
        ),
    ],
)
def test_what_cannot_be_is_refused_in_words(workspace: Path, words: tuple[str, ...], told: str) -> None:
    code, answer = ask(workspace, *words)
    assert code == 2
    assert told in json.dumps(answer, ensure_ascii=False)
