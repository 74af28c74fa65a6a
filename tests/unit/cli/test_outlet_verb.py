"""The verb outlet: the list for everybody, the folder only of a signed car, refusals in words."""

from __future__ import annotations

import io
import json
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest

from lapseam import cli
from lapseam.domain.decision import Signoff
from lapseam.storage import Workspace, record_sha256
from lapseam.workflow import demo

STOCK = "T-114"


@pytest.fixture(scope="module")
def workspace(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("outlet") / "workspace"
    with demo.Desk.open(folder, create=True) as desk:
        demo.open_car(desk, progress=lambda done, total: None, stop=demo.Stop()).result()
    (folder / "outlets.yaml").write_text(
        "outlets:\n  - {name: Weekly sheet, photos: 12, longest_px: 640, max_bytes: 60000, caption_chars: 80,\n"
        "     text_chars: 2500}\n"
    )
    return folder


def ask(workspace: Path, *words: str) -> tuple[int, Any]:
    out = io.StringIO()
    code = cli.main(["outlet", STOCK, *words, "--workspace", str(workspace), "--json"], stdout=out)
    return code, json.loads(out.getvalue()) if out.getvalue() else None


def sign(workspace: Path, day: datetime) -> None:
    """A manager's signature under the record as it stands; the demo car's own gaps would stop the verb sign."""
    opened = Workspace.open(workspace)
    try:
        car = opened.book.car(STOCK)
        signature = Signoff("Jun Thornby", "manager", day, record_sha256(car), ())
        opened.book.apply(STOCK, verb="sign", words="Sign", by="Jun Thornby", at=day, put=[signature])
    finally:
        opened.close()


def test_the_list_says_why_each_photo_is_in(workspace: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, answer = ask(workspace, "--limit", "12")
    assert code == 0
    pictures = answer["set"]["selection"]["pictures"]
    assert [one["place"] for one in pictures] == list(range(1, 13))
    assert all(one["reason"] for one in pictures)
    assert len(answer["set"]["captions"]) == 12
    assert cli.main(["outlet", STOCK, "--outlet", "weekly sheet", "--workspace", str(workspace)]) == 0
    said = capsys.readouterr().out
    assert "12 photos for Weekly sheet" in said
    assert "Odometer close: no photo." in said


def test_what_is_asked_wrongly_is_refused_in_words(workspace: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert ask(workspace)[0] == 2
    assert ask(workspace, "--limit", "0")[0] == 2
    code, answer = ask(workspace, "--outlet", "Weekly shet")
    assert code == 2
    assert "Weekly sheet" in answer["error"]["effect"]
    assert ask(workspace, "--limit", "12", "--pin", "no-such-photo.jpg")[0] == 2
    capsys.readouterr()


def test_an_unsigned_car_goes_to_no_outlet_and_a_signed_one_does(
    workspace: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "sheet"
    code, answer = ask(workspace, "--outlet", "Weekly sheet", "--out", str(out))
    assert code == 1
    assert "goes to no outlet" in answer["refused"]
    assert len(answer["set"]["selection"]["pictures"]) == 12
    assert not out.exists()
    sign(workspace, datetime(2026, 5, 14, 10, tzinfo=UTC))
    code, answer = ask(workspace, "--outlet", "Weekly sheet", "--out", str(out))
    assert code == 0
    files = sorted(path.name for path in out.glob("*.jpg"))
    assert files == [one["name"] for one in answer["folder"]["photos"]]
    assert files[0].startswith("01-ext-front-left")
    assert all(path.stat().st_size <= 60_000 for path in out.glob("*.jpg"))
    assert all(len(one["caption"]) <= 80 for one in answer["folder"]["photos"])
    text = (out / "text.txt").read_text(encoding="utf-8")
    assert "Not pictured here" in text
    assert text == answer["set"]["listing"]["text"]
    assert len(text) <= 2500
    assert "UNSIGNED" not in text
    assert "Mirek" not in (out / "captions.txt").read_text(encoding="utf-8") + text
    capsys.readouterr()
