"""`ask`, `want`, `call` and `promises`: exit codes, words and JSON."""

from __future__ import annotations

import io
import json
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from lapseam import cli

Told = tuple[int, str]


def sayer(folder: Path) -> Callable[..., Told]:
    """Says verbs about one workspace."""

    def said(*words: str) -> Told:
        out = io.StringIO()
        return cli.main([*words, "--workspace", str(folder)], stdout=out), out.getvalue()

    return said


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A workspace with one car, of which one check and one statement are on file."""
    folder = tmp_path_factory.mktemp("phone") / "yard"
    said, by = sayer(folder), ("--by", "Ann")
    assert said("new", "A-1", "--plan", "hardtop-full", *by)[0] == 0
    assert said("check", "A-1", "chk-horn", "works", "--conditions", "parked", "--on", "2026-05-14", *by)[0] == 0
    told = ("--basis", "told", "--who-said", "owner before last", "--on", "2026-05-14")
    assert said("statement", "A-1", "paint", "Repainted once in green", *told, *by)[0] == 0
    return folder


@pytest.fixture
def say(made: Path, tmp_path: Path) -> Callable[..., Told]:
    """Says verbs about a copy of it."""
    return sayer(Path(shutil.copytree(made, tmp_path / "yard")))


def as_json(told: Told) -> Any:
    return json.loads(told[1])


def test_an_answer_has_basis_date_and_exit_0(say: Callable[..., Told]) -> None:
    code, told = say("ask", "does", "the", "horn", "work", "--car", "A-1")
    assert code == 0
    assert "Horn: works.  [check:chk-horn]" in told
    assert "tested on 14 May 2026, parked" in told
    assert "ago" in told


def test_what_is_not_recorded_says_so_and_how_to_put_it_on_the_list(say: Callable[..., Told]) -> None:
    code, told = say("ask", "does the clock work?", "--car", "A-1")
    assert code == 1
    assert "Not recorded." in told
    assert "Clock: not tested, nobody tested it." in told
    command = next(line for line in told.splitlines() if line.startswith("Put it on the list: "))
    assert command.endswith("lapseam want A-1 'does the clock work?' --about chk-clock")
    assert say("want", "A-1", "does the clock work?", "--about", "chk-clock", "--by", "Ann")[0] == 0
    assert "On the re-shoot list" in say("ask", "clock")[1]


def test_what_holds_only_some_of_the_words_is_no_answer(say: Callable[..., Told]) -> None:
    code, told = say("ask", "horn", "banana")
    assert code == 1
    assert "Nothing holds all of these words" in told


def test_words_that_say_nothing_are_not_recorded(say: Callable[..., Told]) -> None:
    code, told = say("ask", "🚗")
    assert (code, told.splitlines()[0]) == (1, "Not recorded.")
    assert "lapseam want STOCK" in told


def test_the_json_of_an_answer(say: Callable[..., Told]) -> None:
    told = as_json(say("ask", "repainted", "--json"))
    (hit,) = told["hits"]
    assert (told["known"], told["question"], told["put_on_list"]) == (True, None, None)
    assert (hit["stock"], hit["key"], hit["kind"], hit["basis"]) == ("A-1", "statement:1", "statement", "told")
    assert hit["basis_words"].startswith("stated by the owner before last, not verified")
    assert (hit["day"], hit["age"]["stale"], hit["photos"]) == ("2026-05-14", False, [])
    told = as_json(say("ask", "q20", "--car", "A-1", "--json"))
    assert (told["known"], told["question"]["id"]) == (False, "q20")
    assert told["put_on_list"].endswith("--about m-compression")


def test_a_long_list_is_cut_unless_all_is_asked_for(say: Callable[..., Told]) -> None:
    short, whole = say("ask", "any rust?")[1], say("ask", "any rust?", "--all")[1]
    assert "more (--all)" in short
    assert len(whole.splitlines()) > 100
    assert "more (--all)" not in whole


def test_the_re_shoot_list(say: Callable[..., Told]) -> None:
    assert say("want", "A-1")[1] == "Nothing is wanted of A-1.\n"
    assert say("want")[1] == "Nothing is wanted of any car.\n"
    say("want", "A-1", "The trunk floor bare, please", "--about", "trunk-floor", "--by", "Ann")
    code, told = say("want", "A-1")
    assert (code, "trunk-floor" in told, "open" in told, "The trunk floor bare" in told) == (0, True, True, True)
    assert "A-1" in say("want")[1]
    assert say("want", "A-1", "--done", "1", "--note", "Sent", "--by", "Vera")[0] == 0
    assert "done 20" in say("want", "A-1")[1]
    assert as_json(say("want", "A-1", "--json"))[0]["done_words"] == "Sent"
    assert as_json(say("want", "--json")) == []


def test_the_call_log_and_its_promises(say: Callable[..., Told]) -> None:
    assert say("promises")[1] == "No promise to call back is open.\n"
    words = ("call", "A-1", "Does the horn work?", "--from", "check:chk-horn", "--caller", "blue notebook")
    assert say(*words, "--call-back", "2999-01-01", "--promise", "the clock", "--by", "Ann")[0] == 0
    told = say("call", "A-1")[1]
    assert "“Does the horn work?”" in told
    assert "Horn: works.  (tested: tested on 14 May 2026, parked)" in told
    assert "call back by 2999-01-01 about the clock: open" in told
    code, waiting = say("promises")
    assert (code, "A-1 call 1: the clock" in waiting, "in time" in waiting) == (0, True, True)
    assert say("promises", "--late")[1] == "No promise to call back is open.\n"
    assert say("call", "A-1", "--kept", "1", "--note", "Told", "--by", "Ann")[0] == 0
    assert as_json(say("promises", "--json")) == []
    assert as_json(say("call", "A-1", "--json"))[0]["caller"] == "blue notebook"
    assert "A caller asked" in say("ask", "horn")[1]
    assert "blue notebook" not in say("ask", "horn", "--json")[1]


@pytest.mark.parametrize(
    ("words", "names"),
    [
        (["ask", "rust", "--car", "A-9"], "A-9"),
        (["call", "A-1", "Any rust?", "--answer", "None"], "needs its basis"),
        (["call", "A-1", "Any rust?", "--answer", "None", "--basis", "seen"], "how it is known"),
        (["call", "A-1", "Any rust?", "--from", "finding:4"], "finding:4"),
        (["call", "A-1", "--answer", "None"], "No question was named"),
        (["call", "A-1", "Any rust?", "--call-back", "soon"], "is no day"),
        (["call", "A-1", "Any rust?", "--call-back", "1999-01-01"], "before the call"),
        (["call", "A-1", "Any rust?", "--promise", "the clock"], "needs its day"),
        (["call", "A-1", "Any rust?", "--basis", "guessed"], "guessed"),
        (["want", "A-1", "--about", "chk-clock"], "Nothing was asked"),
        (["want", "A-1", "Look", "--about", "chk-clokc"], "chk-clock"),
        (["want", "A-9", "Look"], "A-9"),
    ],
    ids=lambda value: " ".join(value) if isinstance(value, list) else "",
)
def test_a_mistake_is_one_sentence_and_exit_2(
    made: Path, capsys: pytest.CaptureFixture[str], words: list[str], names: str
) -> None:
    assert sayer(made)(*words)[0] == 2
    told = capsys.readouterr().err
    assert names in told
    assert "Traceback" not in told
