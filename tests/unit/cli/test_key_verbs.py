"""key, sign, publish --with-key, time-stamp and verify by command line; a passphrase is never an argument."""

from __future__ import annotations

import io
import json
import sys
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest

from fakes import record
from lapseam import cli, plans
from lapseam.domain.car import House, Person
from lapseam.storage import Workspace, save_house

STOCK = "T-7"
JUN, ADA = "Jun Thornby", "Ada Lindqvar"
WORDS = "corrosion never sleeps"


@pytest.fixture
def workspace(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    folder = tmp_path / "workspace"
    with Workspace.open(folder, create=True) as opened:
        plan = record.plan()
        at = datetime(2026, 5, 12, 9, tzinfo=UTC)
        opened.book.new_car(STOCK, plans.dump_plan(plan), plans.digest(plan), plan.id, by=ADA, at=at, decisions=())
        save_house(folder, House(name="Invented Cars", people=(Person(JUN, ("manager",)), Person(ADA, ("lister",)))))
    monkeypatch.setenv("LAPSEAM_WORKSPACE", str(folder))
    monkeypatch.delenv("LAPSEAM_PASSPHRASE", raising=False)
    return folder


def ask(*words: str, typed: str | None = None, monkeypatch: pytest.MonkeyPatch | None = None) -> tuple[int, Any]:
    if monkeypatch is not None:
        monkeypatch.setattr(sys, "stdin", io.StringIO(typed or ""))
    out = io.StringIO()
    code = cli.main([*words, "--json"], stdout=out)
    return code, json.loads(out.getvalue()) if out.getvalue() else None


def test_the_whole_way_by_command_line(workspace: Path, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    assert ask("key", "list") == (0, [])
    code, made = ask("key", "make", JUN, "--passphrase-stdin", typed=f"{WORDS}\n", monkeypatch=monkeypatch)
    assert code == 0
    assert (made["person"], made["words"]) == (JUN, "signs")
    code, refused = ask("sign", STOCK, "--by", JUN, monkeypatch=monkeypatch)
    assert (code, refused["error"]["ref"]) == (2, "mistake")
    code, refused = ask("sign", STOCK, "--by", JUN, "--passphrase-stdin", typed="wrong\n", monkeypatch=monkeypatch)
    assert (code, refused["error"]["ref"]) == (2, "wrong-passphrase")
    monkeypatch.setenv("LAPSEAM_PASSPHRASE", WORDS)
    assert ask("sign", STOCK, "--by", JUN)[0] == 0
    assert ask("review", STOCK)[1]["signed_with_key"] == made["fingerprint"]
    code, edition = ask("publish", STOCK, "--by", ADA, "--with-key")
    assert code == 0
    code, report = ask("verify", edition["path"])
    assert (code, report["valid"], report["report"]["signature"]["state"]) == (0, True, "good")
    assert report["report"]["signature"]["holder"] == JUN
    code, stamp = ask("time-stamp", STOCK, "1")
    assert (code, Path(stamp["request"]).name) == (0, "0001.tsq")
    assert ask("time-stamp", STOCK, "9")[0] == 2
    code, said = ask("time-stamp", STOCK, "1", "--reply", str(tmp_path / "none.tsr"))
    assert (code, said["error"]["ref"]) == (2, "not-found")
    (Path(edition["path"]) / "data" / "plan.json").write_bytes(b"{}")
    code, report = ask("verify", edition["path"])
    assert (code, report["valid"]) == (1, False)
    assert "data/plan.json was changed: its checksum does not agree." in report["words"]


def test_signing_later_changing_the_passphrase_and_retiring(workspace: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("LAPSEAM_PASSPHRASE", WORDS)
    assert ask("key", "make", JUN)[0] == 0
    assert ask("sign", STOCK, "--by", JUN)[0] == 0
    assert ask("publish", STOCK, "--by", ADA)[0] == 0
    assert ask("sign", STOCK, "--by", JUN, "--edition", "1")[1]["signature"]["beside"] is True
    monkeypatch.setenv("LAPSEAM_NEW_PASSPHRASE", "another dozen letters")
    assert ask("key", "passphrase", JUN)[0] == 0
    assert ask("key", "passphrase", JUN)[1]["error"]["ref"] == "wrong-passphrase"
    assert ask("key", "passphrase", ADA)[1]["error"]["problem"] == f"{ADA} has no key that signs."
    assert ask("key", "retire", JUN)[1]["words"].startswith("retired ")
    assert ask("key", "list")[1][0]["here"] is False
    assert ask("key", "retire")[1]["error"]["problem"].startswith("Whose key?")
    assert ask("key", "make", "Kim")[1]["error"]["ref"] == "not-found"


def test_what_is_said_to_people(
    workspace: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("LAPSEAM_PASSPHRASE", WORDS)
    cli.main(["key", "list"])
    assert "No keys. Whoever signs does so by name." in capsys.readouterr().out
    cli.main(["key", "make", JUN])
    assert "Nobody can recover the passphrase." in capsys.readouterr().out
    cli.main(["sign", STOCK, "--by", JUN])
    cli.main(["review", STOCK])
    assert f"Signed by {JUN}, with the key " in capsys.readouterr().out
    monkeypatch.setenv("LAPSEAM_PASSPHRASE", "short")
    cli.main(["key", "retire", JUN])
    assert cli.main(["key", "make", JUN]) == 2
    assert "A passphrase needs 12 letters or more" in capsys.readouterr().err


@pytest.mark.parametrize("second", [WORDS, "corrosion never sleep"])
def test_at_a_terminal_a_new_one_is_asked_for_twice(
    workspace: Path, monkeypatch: pytest.MonkeyPatch, second: str
) -> None:
    class Terminal(io.StringIO):
        def isatty(self) -> bool:
            return True

    typed = [WORDS, second]
    monkeypatch.setattr(sys, "stdin", Terminal())
    monkeypatch.setattr("getpass.getpass", lambda prompt: typed.pop(0))
    code, said = ask("key", "make", JUN)
    assert code == (0 if second == WORDS else 2)
    assert typed == []
    assert second == WORDS or said["error"]["problem"] == "The two passphrases are not the same."
