"""The verb compare: two editions of a car, two folders from anywhere, page and data, refusals in words."""

from __future__ import annotations

import io
import json
import shutil
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from fakes import record
from lapseam import cli, places, plans
from lapseam.storage import Workspace
from lapseam.workflow import Desk

STOCK, ADA = "T-7", "Ada Lindqvar"


@pytest.fixture(scope="module")
def workspace(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("compare") / "workspace"
    with Workspace.open(folder, create=True) as opened:
        plan = record.plan()
        at = datetime(2026, 5, 12, 9, tzinfo=UTC)
        opened.book.new_car(STOCK, plans.dump_plan(plan), plans.digest(plan), plan.id, by=ADA, at=at, decisions=())
    with Desk.open(folder) as desk:
        desk.describe(stock=STOCK, by=ADA, odometer_reading=48_213, odometer_unit="mi").result()
        desk.publish(stock=STOCK, by=ADA).result()
        desk.describe(stock=STOCK, by=ADA, odometer_reading=48_300, colour="blue-green").result()
        desk.publish(stock=STOCK, by=ADA).result()
    return folder


def ask(workspace: Path, *words: str) -> tuple[int, Any]:
    out = io.StringIO()
    code = cli.main(["compare", *words, "--workspace", str(workspace), "--json"], stdout=out)
    return code, json.loads(out.getvalue())


def test_two_editions_of_a_car(workspace: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, found = ask(workspace, STOCK, "1", "2", "--out", str(tmp_path / "out"))
    assert code == 0
    schema = json.loads((places.templates() / "comparison" / "comparison.schema.json").read_text())
    jsonschema.validate(found, schema)
    assert found == json.loads((tmp_path / "out" / "comparison.json").read_bytes())
    turned = {row["key"]: row["turn"] for section in found["sections"] for row in section["rows"]}
    assert (turned["Odometer"], turned["Colour"]) == ("changed", "added")
    assert ask(workspace, STOCK, "2", "2")[1]["same"] is True
    assert cli.main(["compare", STOCK, "2", "1", "--workspace", str(workspace)]) == 0
    said = capsys.readouterr().out
    assert "  Withdrawn: Colour: Blue-green" in said
    assert "Now: 48 213 mi" in said


def test_two_folders_need_no_workspace(workspace: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    editions = workspace / "cars" / STOCK / "editions"
    for name in ("0001", "0002"):
        shutil.copytree(editions / name, tmp_path / name)
    path = tmp_path / "0002" / "data" / "record.json"
    path.write_text(path.read_text().replace("48300", "48301").replace("48 300", "48 301"))
    assert cli.main(["compare", str(tmp_path / "0001"), str(tmp_path / "0002")]) == 0
    said = capsys.readouterr().out
    assert "Edition 2" in said.splitlines()[0]
    assert "is not as it was published" in said.splitlines()[0]
    assert "48 301 mi" in said


@pytest.mark.parametrize(
    ("words", "problem"),
    [
        ((STOCK, "1", "9"), "T-7 has no edition 9."),
        (("T-8", "1", "2"), "There is no car T-8 in this workspace."),
        ((STOCK,), "Name two editions: lapseam compare STOCK 1 2, or two folders: lapseam compare FOLDER FOLDER."),
        (
            (STOCK, "1", "x"),
            "Name two editions: lapseam compare STOCK 1 2, or two folders: lapseam compare FOLDER FOLDER.",
        ),
        (("nowhere", "nowhere"), "There is no edition folder nowhere."),
    ],
)
def test_what_is_not_there_is_said(workspace: Path, words: tuple[str, ...], problem: str) -> None:
    code, said = ask(workspace, *words)
    assert (code, said["error"]["problem"]) == (2, problem)
