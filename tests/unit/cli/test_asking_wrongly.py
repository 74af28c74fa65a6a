"""A mistake in what was asked is one clear sentence, exit 2, and never a traceback."""

from __future__ import annotations

import io
import json
from pathlib import Path

import pytest

from lapseam import cli
from lapseam.cli.front import VERBS


@pytest.fixture
def car(tmp_path: Path) -> Path:
    workspace = tmp_path / "workspace"
    assert cli.main(["new", "A-1", "--plan", "hardtop-full", "--by", "Ann", "--workspace", str(workspace)]) == 0
    return workspace


WRONG = [
    (["new", "A-1", "--plan", "hardtop-full"], "A-1"),
    (["new", "../x", "--plan", "hardtop-full"], "../x"),
    (["new", "B-2", "--plan", "hardtop-ful"], "hardtop-full"),
    (["facts", "A-1", "lift=perhaps"], "lift"),
    (["facts", "A-1", "lfit=true"], "lift"),
    (["facts", "A-1", "construction=unibodi"], "unibody"),
    (["facts", "A-1", "lift"], "KEY=VALUE"),
    (["facts", "A-2"], "A-2"),
    (["take-in", "A-1", "nowhere"], "nowhere"),
    (["tick", "A-1", "ext-front-lefft", "X.JPG"], "X.JPG"),
    (["place", "A-1", "--photo", "X.JPG", "--shot", "ext-front-left"], "X.JPG"),
    (["place", "A-1", "--shot", "ext-front-left"], "photo"),
    (["finding", "A-1", "hoood", "paint-chip", "edge", "--severity", "cosmetic"], "hood"),
    (["check", "A-1", "chk-horn", "not-tested"], "reason"),
    (["measure", "A-1", "m-tread", "odometer", "6.5", "--instrument", "gauge"], "PLACE=VALUE UNIT"),
    (["statement", "A-1", "paint", "Repainted once", "--basis", "told"], "who said"),
    (["close", "A-1", "doc-title", "--not-reachable", "bored"], "bored"),
    (["waive", "A-1", "rule", "so-rust-proof", "because"], "manager"),
    (["note", "A-1", "nowhere.yaml"], "nowhere.yaml"),
    (["plan-check", "nowhere.yaml"], "nowhere.yaml"),
    (["verify", "nowhere"], "nowhere"),
    (["bake", "A-1"], "bake"),
    ([], "VERB"),
]


@pytest.mark.parametrize(("words", "names"), WRONG, ids=[" ".join(words) or "nothing" for words, _ in WRONG])
def test_one_clear_sentence_and_exit_2(
    car: Path, words: list[str], names: str, capsys: pytest.CaptureFixture[str]
) -> None:
    where = ["--workspace", str(car)] if words and words[0] != "bake" else []
    assert cli.main([*words, *where]) == 2
    told = capsys.readouterr()
    assert names in told.err
    assert "Traceback" not in told.err


def test_nothing_to_undo_on_a_fresh_car(car: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert cli.main(["undo", "A-1", "--workspace", str(car)]) == 2
    assert "undo" in capsys.readouterr().err


def test_no_workspace_says_how_to_make_one(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert cli.main(["cars", "--workspace", str(tmp_path / "none")]) == 2
    assert "--workspace" in capsys.readouterr().err


def test_an_error_in_json_has_its_parts(car: Path) -> None:
    out = io.StringIO()
    assert cli.main(["facts", "A-9", "--workspace", str(car), "--json"], stdout=out) == 2
    error = json.loads(out.getvalue())["error"]
    assert error["ref"] == "not-found"
    assert error["problem"]
    assert error["next_step"]


@pytest.mark.parametrize("verb", [verb.name for verb in VERBS])
def test_every_verb_explains_itself(verb: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert cli.main([verb, "--help"]) == 0
    told = capsys.readouterr().out
    for option in ("--workspace", "--json"):
        assert option in told


def test_every_verb_is_in_the_readme() -> None:
    readme = (Path(__file__).parents[3] / "README.md").read_text(encoding="utf-8")
    assert [verb.name for verb in VERBS if f"`{verb.name}" not in readme] == []
