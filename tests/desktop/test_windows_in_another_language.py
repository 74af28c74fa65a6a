"""The windows in a house's own language: their texts, and the trade's words and coverage's in what they are given."""

from __future__ import annotations

import gettext
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtWidgets import QMessageBox

from fakes import pseudo
from lapseam.desktop import words
from lapseam.desktop.program import speak_as_the_house
from lapseam.desktop.screens.walk.state import walk_screen
from lapseam.workflow import Desk

WINDOWS = 'msgid ""\nmsgstr ""\n"Content-Type: text/plain; charset=UTF-8\\n"\n\nmsgid "missed"\nmsgstr "пропущено"\n'


@pytest.fixture
def desk(workspace: Path, clock) -> Iterator[Desk]:
    """A house of that language with a car and no photo yet; the windows are English again afterwards."""
    with Desk.open(workspace, create=True, clock=clock) as opened:
        (workspace / "settings.yaml").write_text(f"language: {pseudo.TAG}\n")
        opened.new_car(stock="T-1", plan="hardtop-full", by="Ada Lindqvar").result()
        yield opened
    words.use(gettext.NullTranslations())


def test_a_catalogue_in_the_workspace_turns_the_windows(desk: Desk, workspace: Path) -> None:
    folder = pseudo.written(workspace / "messages")
    (folder / pseudo.TAG / "LC_MESSAGES" / "lapseam.po").write_text(WINDOWS, encoding="utf-8")
    speak_as_the_house(desk)
    assert words._("missed") == "пропущено"
    whole = desk.whole(stock="T-1").result()
    screen = walk_screen(whole.car, whole.coverage, "", verdicts=whole.verdicts)
    assert screen.shot is not None
    told = [screen.shot.title, *(item.words for item in whole.car.plan.shots[0].must)]
    told += [gap.words for gap in whole.coverage.gaps]
    assert len(told) > 50
    facts = r"\b(?:" + "|".join(whole.car.plan.vocabulary.facts) + r")\b"
    assert [one for one in told if re.search("[A-Za-z]", re.sub(facts, "", one))] == []


def test_a_catalogue_that_does_not_hold_leaves_the_windows_english_and_says_so(
    desk: Desk, workspace: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    said: list[str] = []
    monkeypatch.setattr(QMessageBox, "warning", lambda _parent, _title, text: said.append(text))
    path = workspace / "messages" / pseudo.TAG / "LC_MESSAGES" / "lapseam.po"
    path.parent.mkdir(parents=True)
    path.write_text(WINDOWS.replace('"missed"', '"{n} missed"'), encoding="utf-8")
    speak_as_the_house(desk)
    assert len(said) == 1
    assert "lapseam.po" in said[0]
    assert words._("missed") == "missed"
    assert desk.whole(stock="T-1").result().coverage.gaps[0].words.isascii()
