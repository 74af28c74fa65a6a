"""Paper and voice: an empty table of the demo car, filled in, read in, undone; a spoken text found by asking."""

from __future__ import annotations

import contextlib
import csv
import io
import json
from datetime import datetime
from pathlib import Path

import pytest

from lapseam import cli
from lapseam.workflow import Desk, Stop, demo

STOCK = demo.STOCK
NOW = datetime.fromisoformat("2026-05-15T10:00:00+00:00")


@pytest.fixture(scope="module")
def workspace(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("paper") / "demo"
    with Desk.open(folder, create=True, clock=lambda: NOW) as desk:
        demo.open_car(desk, progress=lambda done, total: None, stop=Stop()).result()
    return folder


def run(workspace: Path, *words: str) -> tuple[int, str]:
    out, trouble = io.StringIO(), io.StringIO()
    with contextlib.redirect_stderr(trouble):
        code = cli.main([*words, "--workspace", str(workspace)], stdout=out)
    return code, out.getvalue() + trouble.getvalue()


def fill(path: Path, name: str, **cells: str) -> None:
    """Fill in the row of that name, as somebody at a spreadsheet does."""
    with path.open(encoding="utf-8-sig", newline="") as file:
        rows = list(csv.DictReader(file))
    row = next(one for one in rows if one["name"] == name)
    row.update(cells)
    with path.open("w", encoding="utf-8", newline="") as file:
        sheet = csv.DictWriter(file, list(rows[0]))
        sheet.writeheader()
        sheet.writerows(rows)


def test_a_form_is_printed_filled_in_read_and_taken_back_in_one_step(workspace: Path, tmp_path: Path) -> None:
    form = tmp_path / "form.csv"
    assert run(workspace, "print", "notes", STOCK, "--out", str(form))[0] == 0
    fill(form, "Horn", result="works", conditions="engine off", by="Mirek Osoba")
    fill(
        form,
        "Tyre tread depth",
        component="left-front-wheel",
        place="least of nine",
        value="6,5",
        unit="mm",
        instrument="gauge",
    )
    fill(
        form,
        "Hood (bonnet) outer skin",
        what="finding",
        kind="paint-chip",
        place="leading edge",
        extent="12mm",
        severity="awful",
    )
    code, told = run(workspace, "note", STOCK, str(form), "--by", "Mirek Osoba")
    assert code == 2
    assert "'awful' is not one of" in told
    assert "needs" in told
    with Desk.open(workspace) as desk:
        before = desk.car(stock=STOCK).result()
    fill(form, "Hood (bonnet) outer skin", severity="cosmetic", close="EXO_4135.JPG", context="EXO_4136.JPG")
    code, told = run(workspace, "note", STOCK, str(form), "--by", "Mirek Osoba", "--json")
    assert code == 0, told
    assert "1 finding" in json.loads(told)["words"]
    with Desk.open(workspace) as desk:
        after = desk.car(stock=STOCK).result()
        assert len(after.findings) == len(before.findings) + 1
        assert after.findings[-1].number == max(one.number for one in before.findings) + 1
        assert after.checks["chk-horn"].by == "Mirek Osoba"
        assert after.measurements[-1].readings[0].value == "6,5"
        desk.undo(stock=STOCK, by="Mirek Osoba").result()
        assert desk.car(stock=STOCK).result().findings == before.findings


def test_a_spoken_text_is_kept_private_and_found(workspace: Path, tmp_path: Path) -> None:
    assert run(workspace, "new", "T-9", "--plan", "handover", "--by", "Mirek Osoba")[0] == 0
    spoken = tmp_path / "voice.txt"
    spoken.write_text("Loading condition: smells of marzipan\n\nask the owner about a second key", encoding="utf-8")
    assert run(workspace, "note", "T-9", str(spoken), "--by", "Mirek Osoba")[0] == 0
    code, told = run(workspace, "ask", "marzipan", "--car", "T-9")
    assert code == 1, "words without a basis are no answer"
    assert "smells of marzipan" in told
    assert run(workspace, "publish", "T-9", "--by", "Mirek Osoba")[0] == 0
    published = workspace / "cars" / "T-9" / "editions" / "0001"
    pages = [path for path in published.rglob("*") if path.suffix in (".html", ".json", ".txt", ".pdf")]
    assert pages
    assert not [path for path in pages if b"marzipan" in path.read_bytes()]
