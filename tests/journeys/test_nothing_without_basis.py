"""No path leads a statement without its basis into an edition: every verb, every notes file, every kind of decision.

The lists below name every verb of the command line, every verb of the desk, every section of a notes file and every
kind of decision. What is added to the program and not here fails this test until somebody has asked of it: can it
carry words to a buyer, and if so, does it refuse them without their basis?
"""

from __future__ import annotations

import contextlib
import inspect
import io
import json
import shutil
from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import date, datetime
from functools import partial
from pathlib import Path

import pytest

from lapseam import cli
from lapseam.cli.front import VERBS
from lapseam.domain.call import AnswerBasis
from lapseam.domain.decision import KINDS, Decision
from lapseam.domain.errors import NotAllowed, UserError
from lapseam.domain.finding import Finding, Severity
from lapseam.domain.statement import (
    Basis,
    CheckResult,
    CheckVerdict,
    Evidence,
    Measurement,
    Reading,
    Statement,
)
from lapseam.plans.notes_fields import NOTES_FILE
from lapseam.plans.notes_table import WHAT
from lapseam.workflow import Desk

CANARY = "Quillfeather"
STOCK, BY = "A-1", "Ann"
NOW = datetime.fromisoformat("2026-05-15T10:00:00+00:00")
DAY = date(2026, 5, 14)

WITHOUT = {
    "told by nobody": Evidence(Basis.TOLD, on=DAY),
    "told on no day": Evidence(Basis.TOLD, who_said="owner before last"),
    "documented by nothing": Evidence(Basis.DOCUMENTED, on=DAY),
    "documented without a date": Evidence(Basis.DOCUMENTED, on=DAY, document="invoice"),
    "seen on no photo": Evidence(Basis.SEEN, on=DAY),
    "measured with nothing": Evidence(Basis.MEASURED, on=DAY),
    "tested nohow": Evidence(Basis.TESTED, on=DAY),
    "not checked for no reason": Evidence(Basis.NOT_CHECKED),
}
DAYLESS = "told on no day"
"""The desk's verbs put today for a day that is left out, so only rows can lack it."""
FLAGS = (
    *(["--basis", "told"], ["--basis", "told", "--who-said", " "], ["--basis", "documented"]),
    *(["--basis", "documented", "--document", "invoice"], ["--basis", "seen"], [], ["--basis", "measured"]),
    *(["--basis", "tested"], ["--basis", "not-checked"], ["--basis", "believed"], ["--basis", ""]),
)

READS = "reads, or changes no record"
OWN = "its words are the house's own and are printed as such, or not at all"
PRIVATE = "never published; tests/unit/workflow/test_calls_and_wishes.py and test_notes_on_paper.py hold that"
GATED = "what it writes is judged by the gate as a decision of its kind, below"

CLI_VERBS: dict[str, str | list[list[str]]] = {
    "statement": [["statement", STOCK, "paint", CANARY, *flags] for flags in FLAGS],
    "finding": [
        ["finding", STOCK, "loading-condition", "paint-chip", CANARY, "--severity", "cosmetic", *flags]
        for flags in FLAGS
    ],
    "check": [["check", STOCK, "own-x", "not-tested", "--item", CANARY], ["check", STOCK, "own-x", "works"]],
    "measure": [["measure", STOCK, "m-tread", "loading-condition", f"{CANARY}=6 mm", "--instrument", " "]],
    "looked": [["looked", STOCK, "loading-condition", "NONE.JPG"]],
    "caption": [["caption", STOCK, "NONE.JPG", CANARY]],
    "note": "tried with every notes file, below",
    "rebuild": "tried with edited files, below",
    "call": [["call", STOCK, "?", "--answer", CANARY, "--basis", "seen"], ["call", STOCK, "?", "--answer", CANARY]],
    "want": PRIVATE,
    "demo": "reads the shipped notes through the same reader",
    "new": OWN, "describe": OWN, "facts": OWN, "serial": OWN, "waive": OWN, "close": OWN, "release": OWN,
    "tick": GATED, "place": GATED, "lead": GATED, "arrange": GATED, "sign": GATED, "take-in": GATED,
    **dict.fromkeys(
        ("compare", "unfinished", "outlets", "shown", "plans", "plan-check", "reach", "ask-again", "cars",
         "log", "photos", "claims", "ask", "promises", "coverage",
         "review", "key", "editions", "verify", "time-stamp", "outlet", "print", "rule"), READS),
    "undo": "plays the journal, in which nothing stands that the gate refused",
    "redo": "plays the journal, in which nothing stands that the gate refused",
    "publish": "tried at the end, and with what came past the gate",
    "listing": "tried with what came past the gate",
    "posted": "of signed editions only",
}  # fmt: skip

Attempt = Callable[[Desk, Evidence], object]


def _finding(evidence: Evidence) -> Finding:
    return Finding(0, "loading-condition", "paint-chip", CANARY, Severity.COSMETIC, evidence, BY, NOW)


DESK_VERBS: dict[str, str | Attempt] = {
    "state": lambda desk, ev: desk.state(stock=STOCK, subject="paint", claim=CANARY, evidence=ev, by=BY),
    "find": lambda desk, ev: desk.find(stock=STOCK, finding=_finding(ev)),
    "check": lambda desk, ev: desk.check(
        stock=STOCK, check="own-x", verdict=CheckVerdict.NOT_TESTED, item=CANARY, by=BY
    ),
    "measure": lambda desk, ev: desk.measure(
        stock=STOCK, measure="m-tread", component="loading-condition", readings=(Reading(CANARY, "6", "mm"),),
        instrument="", by=BY,
    ),
    "nothing_found": lambda desk, ev: desk.nothing_found(stock=STOCK, component="loading-condition", photos=(), by=BY),
    "caption": lambda desk, ev: desk.caption(stock=STOCK, photo="NONE.JPG", words=CANARY, by=BY),
    "log_call": lambda desk, ev: desk.log_call(
        stock=STOCK, question="?", answer=CANARY, basis=AnswerBasis(ev.basis.value), by=BY
    ),
    "take_notes": "tried with every notes file, below",
    "nothing_found_in": "says it only of parts that a ticked frame shows; this car has none",
    **dict.fromkeys(("jot", "take_out_jotting", "want", "dealt_with", "kept", "wish"), PRIVATE),
    **dict.fromkeys(
        ("new_car", "car_from_file", "describe", "answer", "close_shot", "close_setup", "reopen_shot", "read_serial",
         "release", "waive", "unwaive"), OWN),
    **dict.fromkeys(
        ("accept_proposals", "arrange", "lead_with", "lift_off", "move", "place", "tick", "take_in", "sign"), GATED),
    "sign_edition": READS,
    "take_stamp": READS,
    "ask_stamp": READS, "undo": "plays the journal", "redo": "plays the journal",
    "publish": "tried at the end, and with what came past the gate",
    "posted": "of signed editions only", "taken_down": "of signed editions only",
}  # fmt: skip
"""Every verb that is said by somebody (`by`), and `find`, whose finding carries the name."""

NOTE_SECTIONS: dict[str, str | list[str]] = {
    "statements": [
        f"{{number: 1, subject: paint, claim: {CANARY}, {basis}}}"
        for basis in (
            "basis: told", "basis: documented", "basis: documented, document: invoice", "basis: seen", "basis: tested",
            "basis: measured", "basis: not-checked", "basis: believed", 'basis: told, who_said: ""', "value: x",
        )
    ],
    "findings": [
        f"{{number: 1, component: loading-condition, kind: paint-chip, place: {CANARY}, severity: note, {basis}}}"
        for basis in ("basis: seen", "basis: told", "basis: documented", "count: 1", "basis: tested")
    ],
    "checks": [f"{{check: own-x, item: {CANARY}, result: {result}}}" for result in ("not-tested", "works")],
    "measurements": [
        f"{{number: 1, measure: m-tread, component: loading-condition, "
        f'readings: [{{place: {CANARY}, value: "6", unit: mm}}]}}'
    ],
    "looked": ["{component: loading-condition}"],
    "jottings": PRIVATE,
    **dict.fromkeys(("notes_for", "by", "on", "facts", "closed", "serials", "waivers", "released"), OWN),
    **dict.fromkeys(("placements", "ticks", "lead"), GATED),
}  # fmt: skip

TABLE_ROWS: dict[str, list[str]] = {
    "statement": [f"statement,paint,{CANARY},{basis},,,,," for basis in ("told", "documented", "seen", "", "tested")],
    "finding": [f"finding,,,{basis},loading-condition,paint-chip,{CANARY},note," for basis in ("", "told", "measured")],
    "check": ["check,,,,,,,,not-tested", "check,,,,,,,,works"],
    "measurement": [f"measurement,,,,loading-condition,,{CANARY},,"],
    "looked": ["looked,,,,loading-condition,,,,"],
}
TABLE_HEAD = "what,subject,claim,basis,component,kind,place,severity,result"

KIND_ATTEMPTS: dict[str, str | Callable[[Evidence], Decision]] = {
    "statement": lambda ev: Statement(1, "paint", CANARY, ev, BY, NOW),
    "finding": lambda ev: replace(_finding(ev), number=1),
    "check": lambda ev: CheckResult("own-x", CheckVerdict.NOT_TESTED, BY, NOW, item=CANARY),
    "measurement": lambda ev: Measurement(
        1, "m-tread", "loading-condition", (Reading(CANARY, "6", "mm"),), BY, NOW, "", on=DAY
    ),
    **dict.fromkeys(("details", "fact", "serial", "closing", "waiver", "release", "posting"), OWN),
    **dict.fromkeys(("placement", "tick", "looked", "lead", "caption", "arranged", "signoff"), GATED),
    **dict.fromkeys(("asked", "call", "jotting", "wishes"), PRIVATE),
}


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("basis") / "yard"
    with Desk.open(folder, create=True, clock=lambda: NOW) as desk:
        desk.new_car(stock=STOCK, plan="handover", by=BY).result()
    return folder


@pytest.fixture
def folder(made: Path, tmp_path: Path) -> Path:
    return shutil.copytree(made, tmp_path / "yard")


@pytest.fixture
def desk(folder: Path) -> Iterator[Desk]:
    with Desk.open(folder, clock=lambda: NOW) as made:
        yield made


def said(folder: Path, *words: str) -> int:
    with contextlib.redirect_stderr(io.StringIO()):
        return cli.main([*words, "--workspace", str(folder), "--by", BY], stdout=io.StringIO())


def holds_canary(folder: Path) -> list[str]:
    return [str(path) for path in folder.rglob("*") if path.is_file() and CANARY.encode() in path.read_bytes()]


def test_the_lists_name_everything_there_is() -> None:
    assert set(CLI_VERBS) == {verb.name for verb in VERBS}
    by_somebody = {
        name
        for name, verb in inspect.getmembers(Desk, inspect.isfunction)
        if not name.startswith("_") and "by" in inspect.signature(verb).parameters
    }
    assert set(DESK_VERBS) == by_somebody | {"find"}
    assert set(NOTE_SECTIONS) - {"jottings"} == set(NOTES_FILE.fields) - {"jottings"}
    assert set(TABLE_ROWS) == set(WHAT)
    assert set(KIND_ATTEMPTS) == set(KINDS)


def test_no_verb_of_the_command_line_takes_it(folder: Path) -> None:
    tried = [words for attempts in CLI_VERBS.values() if isinstance(attempts, list) for words in attempts]
    assert len(tried) > 25
    assert [words for words in tried if said(folder, *words) == 0] == []
    assert said(folder, "publish", STOCK) == 0
    assert holds_canary(folder / "cars") == []


def test_no_verb_of_the_desk_takes_it(desk: Desk) -> None:
    taken = []
    for without, evidence in WITHOUT.items():
        for name, attempt in DESK_VERBS.items():
            if callable(attempt) and without != DAYLESS:
                with contextlib.suppress(UserError):
                    attempt(desk, evidence).result()  # type: ignore[attr-defined]
                    taken.append((name, without))
    assert taken == []
    assert holds_canary(desk.folder / "cars") == []


def test_no_notes_file_brings_it(folder: Path, tmp_path: Path) -> None:
    files = {
        f"{section}{number}.yaml": f"notes_for: {STOCK}\nby: {BY}\n{section}:\n  - {row}\n"
        for section, rows in NOTE_SECTIONS.items()
        if isinstance(rows, list)
        for number, row in enumerate(rows)
    }
    files |= {
        f"{what}{number}.csv": f"{TABLE_HEAD}\n{row}\n"
        for what, rows in TABLE_ROWS.items()
        for number, row in enumerate(rows)
    }
    taken = []
    with Desk.open(folder, clock=lambda: NOW) as desk:
        for name, text in files.items():
            path = tmp_path / name
            path.write_text(text, encoding="utf-8")
            with contextlib.suppress(UserError):
                desk.take_notes(stock=STOCK, path=path, by=BY).result()
                taken.append(name)
    assert taken == []
    assert len(files) > 25
    assert holds_canary(folder / "cars") == []


def test_what_came_past_the_gate_is_neither_signed_nor_published(desk: Desk) -> None:
    """A row written into the database by something else, as a hand on the files could."""
    book = desk._workspace.book
    attempts = [attempt for attempt in KIND_ATTEMPTS.values() if callable(attempt)]
    rows = {str(row): row for row in (attempt(evidence) for attempt in attempts for evidence in WITHOUT.values())}
    assert len(rows) == 2 * len(WITHOUT) + 2
    for row in rows.values():
        put = partial(book.apply, STOCK, verb="note", words="", by=BY, at=NOW, put=(row,), drop=[])
        desk.runner.on_book(put).result()
        for verb in (desk.publish, desk.sign):
            with pytest.raises(NotAllowed, match="has no basis"):
                verb(stock=STOCK, by=BY).result()
        with pytest.raises(NotAllowed, match="has no basis"):
            desk.listing(stock=STOCK).result()
        desk.undo(stock=STOCK, by=BY).result()
    assert holds_canary(desk.folder / "cars" / STOCK / "editions") == []


def test_an_edited_record_that_is_rebuilt_is_not_published(folder: Path) -> None:
    """Whoever edits record.json and loses the database and the journal can say anything there; no edition takes it."""
    assert said(folder, "statement", STOCK, "paint", "Repainted", "--basis", "told", "--who-said", "seller") == 0
    car = folder / "cars" / STOCK
    record = json.loads((car / "record.json").read_text(encoding="utf-8"))
    text = json.dumps(record).replace("Repainted", CANARY).replace('"seller"', '""')
    assert CANARY in text
    (car / "record.json").write_text(text, encoding="utf-8")
    (car / "journal.jsonl").unlink()
    for path in folder.glob("lapseam.sqlite*"):
        path.unlink()
    assert cli.main(["rebuild", "--workspace", str(folder)], stdout=io.StringIO()) in (0, 1)
    with Desk.open(folder, clock=lambda: NOW) as desk:
        assert [one.claim for one in desk.car(stock=STOCK).result().statements] == [CANARY], "the rebuild believed it"
    assert said(folder, "publish", STOCK) == 2
    assert holds_canary(car / "editions") == []


def test_with_its_basis_it_is_published(folder: Path) -> None:
    """The test can fail: the same words with their basis do reach the edition."""
    words = ("statement", STOCK, "paint", CANARY, "--basis", "told", "--who-said", "owner before last")
    assert said(folder, *words) == 0
    assert said(folder, "publish", STOCK) == 0
    assert holds_canary(folder / "cars" / STOCK / "editions") != []
