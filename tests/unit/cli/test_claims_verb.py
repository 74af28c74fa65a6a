"""`lapseam claims`: a text judged line by line, alone, with a house's rules, and against a car's record."""

from __future__ import annotations

import io
import json
from pathlib import Path
from typing import Any

import pytest

from lapseam import cli


def asked(*words: object) -> tuple[int, dict[str, Any]]:
    out = io.StringIO()
    code = cli.main([str(word) for word in words] + ["--json"], stdout=out)
    return code, json.loads(out.getvalue())


@pytest.fixture
def listing(tmp_path: Path) -> Path:
    path = tmp_path / "listing.txt"
    path.write_text("Surface rust, 40 mm.\n\nA mint car.\nThe car was\nrestored in 1998.\n", encoding="utf-8")
    return path


def test_each_line_has_its_verdict_and_refused_words_end_in_1(tmp_path: Path, listing: Path) -> None:
    code, told = asked("claims", listing, "--workspace", tmp_path / "none")
    assert code == 1
    assert [(line["line"], line["verdict"]) for line in told["lines"]] == [
        (1, "allowed"),
        (3, "refused"),
        (4, "allowed"),
        (5, "needs-evidence"),
    ]
    refused, needy = told["lines"][1]["objections"][0], told["lines"][3]["objections"][0]
    assert (refused["rule"], refused["words"], refused["column"]) == ("promise", "mint", 3)
    assert (needy["rule"], needy["sentence"]) == ("restored", "The car was\nrestored in 1998")
    assert needy["needs"] == ["documented: receipts (dated receipts or dated photographs of the work)"]
    assert needy["say_instead"].startswith("Refurbished at a time not documented")
    assert told["summary"] == {"allowed": 2, "needs-evidence": 1, "refused": 1}
    assert not (tmp_path / "none").exists(), "nothing is opened or made"


def test_a_claim_that_only_needs_evidence_ends_in_0_without_a_car(tmp_path: Path) -> None:
    path = tmp_path / "one.txt"
    path.write_text("Restored in 1998.", encoding="utf-8")
    assert asked("claims", path)[0] == 0


def test_against_a_car_what_its_record_holds_decides(tmp_path: Path) -> None:
    place = ("--workspace", str(tmp_path / "w"), "--by", "Ann")
    path = tmp_path / "one.txt"
    path.write_text("Restored in 1998.", encoding="utf-8")
    assert cli.main(["new", "A-1", "--plan", "hardtop-full", *place]) == 0
    code, told = asked("claims", path, "--car", "A-1", *place[:2])
    assert (code, told["lines"][0]["verdict"], told["car"]) == (1, "needs-evidence", "A-1")
    paper = ["--basis", "documented", "--document", "invoice", "--document-date", "1998-05-01"]
    assert cli.main(["statement", "A-1", "receipts", "One invoice for the work", *paper, *place]) == 0
    code, told = asked("claims", path, "--car", "A-1", *place[:2])
    assert (code, told["lines"][0]["verdict"]) == (0, "allowed")


def test_the_houses_own_rules_come_on_top(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path, rules = tmp_path / "one.txt", tmp_path / "claims.yaml"
    path.write_text("A stunning car.", encoding="utf-8")
    rules.write_text('wording:\n  - {id: praise, name: "praise", words: [stunning]}\n', encoding="utf-8")
    code, told = asked("claims", path, "--workspace", tmp_path)
    assert (code, told["lines"][0]["objections"][0]["rule"]) == (1, "praise")
    rules.write_text("wording:\n  - {id: praise, words: [stunning]}\n", encoding="utf-8")
    assert cli.main(["claims", str(path), "--workspace", str(tmp_path)]) == 2
    assert "claims.yaml:2:5" in capsys.readouterr().err


def test_words_for_people_leave_no_slots(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "one.txt"
    path.write_text("Actual miles, and no rust.", encoding="utf-8")
    assert cli.main(["claims", str(path), "--workspace", str(tmp_path / "none")]) == 1
    told = capsys.readouterr().out
    assert "Say instead: Odometer shows …; total distance not known" in told
    assert "refused (rust-free)" in told


@pytest.mark.parametrize(
    ("name", "raw", "says"),
    [("latin.txt", b"caf\xe9", "UTF-8"), ("long.txt", b"x" * 2_000_001, "2 MB"), ("none.txt", None, "no text file")],
)
def test_a_text_that_cannot_be_read_is_one_sentence_and_2(
    tmp_path: Path, name: str, raw: bytes | None, says: str, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / name
    if raw is not None:
        path.write_bytes(raw)
    assert cli.main(["claims", str(path)]) == 2
    assert says in capsys.readouterr().err


def test_an_empty_text_and_windows_line_ends(tmp_path: Path) -> None:
    path = tmp_path / "one.txt"
    path.write_bytes(b"")
    assert asked("claims", path) == (
        0,
        {"file": str(path), "car": None, "lines": [], "summary": {"allowed": 0, "needs-evidence": 0, "refused": 0}},
    )
    path.write_bytes(b"\xef\xbb\xbfClean.\r\nMint.\r\n")
    code, told = asked("claims", path)
    assert (code, told["lines"][1]["text"], told["lines"][1]["verdict"]) == (1, "Mint.", "refused")
