"""The verb print: writes a PDF where it was asked to, or says in one sentence why not."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from fakes.printed import needs_poppler, pages, said_of
from lapseam import cli


@pytest.fixture
def workspace(tmp_path: Path) -> Path:
    made = tmp_path / "workspace"
    assert cli.main(["new", "T-7", "--plan", "hardtop-full", "--by", "Ann", "--workspace", str(made)]) == 0
    answers = ["body=coupe", "construction=unibody", "skin=steel", "lift=true"]
    assert cli.main(["facts", "T-7", *answers, "--by", "Ann", "--workspace", str(made)]) == 0
    return made


@needs_poppler
def test_a_plan_is_printed_without_any_workspace(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "list.pdf"
    nowhere = tmp_path / "nowhere"
    asked = ["print", "shot-list", "--plan", "hardtop-full", "--paper", "letter", "--out", str(out)]
    assert cli.main([*asked, "--workspace", str(nowhere)]) == 0
    assert "Full walkaround" in pages(out)[0]
    assert said_of(out)["Page size"].startswith("612 x 792")
    assert str(out) in capsys.readouterr().out
    assert not nowhere.exists()


@needs_poppler
def test_a_car_is_printed_with_its_own_stock_number_on_every_page(tmp_path: Path, workspace: Path) -> None:
    out = tmp_path / "car.pdf"
    assert cli.main(["print", "shot-list", "--car", "T-7", "--out", str(out), "--workspace", str(workspace)]) == 0
    assert all("T-7" in page for page in pages(out))


@needs_poppler
def test_cards_come_in_pairs_and_zones_only_where_asked(
    tmp_path: Path, workspace: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "cards.pdf"
    asked = ["print", "cards", "T-7", "--out", str(out), "--workspace", str(workspace)]
    capsys.readouterr()
    assert cli.main([*asked, "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["path"] == str(out)
    setups = pages(out)
    assert ["FIRST" in page for page in setups] == [True, False] * (len(setups) // 2)
    assert cli.main([*asked, "--zones"]) == 0
    assert len(pages(out)) > len(setups)


WRONG = [
    (["shot-list"], "--plan P or --car STOCK"),
    (["cards"], "STOCK"),
    (["shot-list", "--plan", "hardtop-ful"], "hardtop-full"),
    (["shot-list", "--plan", "hardtop-full", "--car", "T-7"], "at once"),
    (["shot-list", "--car", "T-8"], "T-8"),
    (["shot-list", "--car", "T-7", "--zones"], "--zones"),
    (["cards", "T-7", "--plan", "hardtop-full"], "a car's"),
    (["cards", "T-7", "--paper", "a3"], "a3"),
]


@pytest.mark.parametrize(("words", "names"), WRONG, ids=[" ".join(words) for words, _ in WRONG])
def test_what_is_not_clear_is_asked_back_and_nothing_is_written(
    tmp_path: Path, workspace: Path, words: list[str], names: str, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "wrong.pdf"
    assert cli.main(["print", *words, "--out", str(out), "--workspace", str(workspace)]) == 2
    assert names in capsys.readouterr().err
    assert not out.exists()


@pytest.mark.parametrize(("out", "names"), [("missing/list.pdf", "missing"), ("workspace", "is a folder")])
def test_a_file_that_cannot_be_written_is_named(
    tmp_path: Path, workspace: Path, out: str, names: str, capsys: pytest.CaptureFixture[str]
) -> None:
    asked = ["print", "cards", "T-7", "--out", str(tmp_path / out), "--workspace", str(workspace)]
    assert cli.main(asked) == 2
    assert names in capsys.readouterr().err


def test_an_older_print_is_replaced_whole(tmp_path: Path, workspace: Path) -> None:
    out = tmp_path / "cards.pdf"
    out.write_bytes(b"old")
    assert cli.main(["print", "cards", "T-7", "--out", str(out), "--workspace", str(workspace)]) == 0
    assert out.read_bytes().startswith(b"%PDF")
    assert [path.name for path in tmp_path.iterdir() if path.name.startswith(".")] == []
