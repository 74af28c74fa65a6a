"""Answering a caller by keyboard alone: ask, look closer, log, promise, put on the list, take back, keep."""

from __future__ import annotations

import shutil
import threading
from collections.abc import Callable, Iterator
from datetime import timedelta
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QFileDialog

from desktop.conftest import Clock
from lapseam.desktop.front import Front
from lapseam.domain.call import AnswerBasis
from lapseam.workflow import Desk, Stop, demo
from lapseam.workflow.calling import NOT_KNOWN_ANSWER

STOCK = demo.STOCK
CTRL = Qt.KeyboardModifier.ControlModifier


@pytest.fixture(scope="module")
def demo_workspace(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo car, taken in and indexed once."""
    folder = tmp_path_factory.mktemp("answers") / "demo"
    with Desk.open(folder, create=True, clock=Clock()) as desk:
        demo.open_car(desk, progress=lambda done, total: None, stop=Stop()).result()
        desk.index().result()
    return folder


@pytest.fixture
def workspace(demo_workspace: Path, tmp_path: Path) -> Path:
    folder = tmp_path / "workspace"
    shutil.copytree(demo_workspace, folder)
    return folder


@pytest.fixture
def clock() -> Clock:
    made = Clock()
    made.moment += timedelta(days=3)
    return made


class Clerk:
    """Whoever answers the phone: hands on the keyboard, eyes on the window."""

    def __init__(self, front: Front, qtbot) -> None:
        self.front, self.qtbot, self.view = front, qtbot, front._answers_view

    def press(self, key: Qt.Key, modifier: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier) -> None:
        self.qtbot.keyClick(QApplication.focusWidget() or self.front.window, key, modifier)

    def type(self, words: str) -> None:
        self.qtbot.keyClicks(QApplication.focusWidget(), words)

    def until(self, so: Callable[[], bool]) -> None:
        self.qtbot.waitUntil(so, timeout=20_000)

    def ask(self, words: str) -> None:
        """F3 from anywhere, and type; the answer comes by itself."""
        self.press(Qt.Key.Key_F3)
        self.until(lambda: QApplication.focusWidget() is self.view.question)
        self.type(words)
        self.until(lambda: (answer := self.front.answers._answer) is not None and answer.asked == words)

    @property
    def lines(self):
        return self.view.list.answers.lines

    @property
    def said(self) -> str:
        return self.view.said.text() if self.view.said.isVisible() else ""

    def record(self):
        return self.front.desk.car(stock=STOCK).result()


@pytest.fixture
def clerk(front: Front, qtbot) -> Iterator[Clerk]:
    qtbot.waitExposed(front.window)
    front.window.activateWindow()
    made = Clerk(front, qtbot)
    made.until(lambda: front.yard.cars == 1)
    return made


def test_an_answer_is_read_out_with_its_basis_and_photo_and_logged_as_it_was_read(clerk: Clerk):
    clerk.ask("scratches")
    best = clerk.lines[0]
    assert best.key == "finding:3"
    assert best.known.startswith("seen on")
    assert "old" in best.age or "day" in best.age
    clerk.press(Qt.Key.Key_Return)
    assert clerk.view.pages.currentWidget() is clerk.view.large
    assert clerk.view.large.words.words.text() == best.words
    clerk.until(lambda: clerk.front.shelf.picture(best.photo, 1280) is not None)
    clerk.press(Qt.Key.Key_Escape)
    assert QApplication.focusWidget() is clerk.view.list
    clerk.press(Qt.Key.Key_Up)
    clerk.press(Qt.Key.Key_F5)
    form = clerk.view.form
    assert form.isVisible()
    assert (form.stock, form.answer.toPlainText(), form.basis.currentData()) == (STOCK, best.words, AnswerBasis.SEEN)
    clerk.until(lambda: "No edition" in form.stood_on.text())
    clerk.press(Qt.Key.Key_S, CTRL)
    clerk.until(lambda: "Call 1" in clerk.said)
    call = clerk.record().calls[0]
    assert (call.question, call.answer, call.source) == ("scratches", best.words, "finding:3")
    assert call.known_by == best.known
    assert call.by == "Ada Lindqvar"
    clerk.until(lambda: any(line.key == "call:1" for line in clerk.lines))


def test_the_answers_are_walked_large_and_small_by_keys(clerk: Clerk):
    clerk.ask("any rust?")
    first, second = clerk.lines[:2]
    clerk.press(Qt.Key.Key_Return)
    clerk.press(Qt.Key.Key_Down)
    large = clerk.view.large
    assert large.words.words.text() == second.words
    clerk.press(Qt.Key.Key_Up)
    many = next(line for line in clerk.lines if len(line.photos) > 1)
    while clerk.view.list.line is not many:
        clerk.press(Qt.Key.Key_Down)
    assert many.photos[0][1] in large.photo.text()
    clerk.press(Qt.Key.Key_Right)
    assert many.photos[1][1] in large.photo.text()
    assert large.picture.accessibleName() == many.photos[1][1]
    clerk.press(Qt.Key.Key_Escape)
    clerk.type(" left")
    clerk.until(lambda: clerk.front.answers._answer.asked == "any rust? left")
    assert first.stock == STOCK


def test_what_nobody_knows_is_said_promised_put_on_the_list_taken_back_and_kept(clerk: Clerk, clock: Clock):
    clerk.ask("does the clock work?")
    view = clerk.view
    assert view.headline.text() == "Not recorded"
    assert NOT_KNOWN_ANSWER in view.say.text()
    assert clerk.lines[0].gap
    clerk.press(Qt.Key.Key_F4)
    clerk.until(lambda: "number 1" in clerk.said)
    asked = clerk.record().asked[0]
    assert asked.question == "does the clock work?"
    assert asked.subject == clerk.front.answers._answer.hits[0].entry.about[0]
    clerk.press(Qt.Key.Key_Z, CTRL)
    clerk.until(lambda: clerk.record().asked == ())
    assert view.question.text() == "does the clock work?"
    clerk.press(Qt.Key.Key_F5)
    assert view.form.basis.currentData() == AnswerBasis.NOT_KNOWN
    view.form.call_back.setFocus()
    clerk.press(Qt.Key.Key_A, CTRL)
    clerk.type("gestern")
    clerk.press(Qt.Key.Key_S, CTRL)
    assert "2026-05-20" in view.form.trouble.text()
    assert QApplication.focusWidget() is view.form.call_back
    clerk.press(Qt.Key.Key_A, CTRL)
    clerk.type("+2")
    clerk.press(Qt.Key.Key_S, CTRL)
    clerk.until(lambda: clerk.front.answers.promised == 1)
    assert (clerk.record().calls[0].call_back - clock().date()).days == 2
    assert clerk.front.window.tabs.tab("answers").station.open == 1
    clock.moment += timedelta(days=5)
    clerk.press(Qt.Key.Key_F3)
    clerk.until(lambda: "late" in view.promises.headline.text())
    clerk.press(Qt.Key.Key_F7)
    clerk.press(Qt.Key.Key_Return)
    assert view.promise.isVisible()
    clerk.type("It runs")
    clerk.press(Qt.Key.Key_Return)
    clerk.until(lambda: clerk.front.answers.promised == 0)
    assert clerk.record().calls[0].kept_words == "It runs"
    assert view.promises.headline.text() == "No call is promised"


def test_a_question_that_callers_ask_is_asked_without_typing(clerk: Clerk):
    clerk.press(Qt.Key.Key_F3)
    clerk.until(lambda: clerk.view.often.count() == 40)
    clerk.press(Qt.Key.Key_Down)
    clerk.press(Qt.Key.Key_Return)
    clerk.until(lambda: clerk.front.answers._answer is not None)
    assert clerk.view.headline.text() == clerk.view.question.text() == clerk.view.often.item(0).text()
    assert clerk.view.advice.text().startswith("How to answer: ")
    clerk.press(Qt.Key.Key_Escape)
    clerk.until(lambda: clerk.view.often.isVisible() and not clerk.view.list.isVisible())


def test_every_car_or_only_the_open_one_is_asked_and_the_open_cars_undo_shows(clerk: Clerk):
    clerk.front.desk.new_car(stock="T-2", plan="hardtop-full", by="Ada").result()
    clerk.front.open_walk("T-2", "")
    clerk.until(lambda: clerk.front.stock == "T-2")
    clerk.ask("scratches")
    assert {line.stock for line in clerk.lines} >= {STOCK}
    clerk.press(Qt.Key.Key_F6)
    clerk.until(lambda: all(line.stock == "T-2" for line in clerk.lines))
    assert clerk.view.headline.text() == "Not recorded"
    clerk.press(Qt.Key.Key_F4)
    clerk.until(lambda: clerk.front.whole is not None and len(clerk.front.whole.car.asked) == 1)
    clerk.press(Qt.Key.Key_Z, CTRL)
    clerk.until(lambda: clerk.front.whole is not None and not clerk.front.whole.car.asked)
    clerk.press(Qt.Key.Key_F6)
    clerk.until(lambda: any(line.stock == STOCK for line in clerk.lines))


def test_a_closed_station_asks_nothing_and_no_record_is_read_on_the_window_s_thread(clerk: Clerk, monkeypatch):
    threads: list[str] = []
    asked = Desk._ask
    monkeypatch.setattr(
        Desk, "_ask", lambda self, *a: (threads.append(threading.current_thread().name), asked(self, *a))[1]
    )
    clerk.front.open_walk(STOCK, "")
    clerk.until(lambda: clerk.front.stock == STOCK)
    clerk.front.changed(STOCK)
    clerk.until(lambda: not clerk.front._looking)
    assert threads == []
    clerk.ask("rust")
    assert threads
    assert all(name.startswith("short") for name in threads)
    assert len(threads) < len("rust"), "letters typed in one go are asked as one question"


def test_where_no_car_is_meant_the_car_is_asked_for(clerk: Clerk):
    clerk.ask("zebra stripes")
    assert clerk.lines == ()
    clerk.press(Qt.Key.Key_F4)
    clerk.press(Qt.Key.Key_1)
    clerk.until(lambda: "number 1" in clerk.said)
    assert clerk.record().asked[0].question == "zebra stripes"


def test_notes_come_in_from_a_file_or_every_problem_is_listed(clerk: Clerk, tmp_path: Path, monkeypatch):
    notes = tmp_path / "notes.csv"
    notes.write_text("what,component,kind,place,severity,close\nfinding,hood,paint-chip,edge,awful,EXO_4135.JPEG\n")
    monkeypatch.setattr(QFileDialog, "getOpenFileName", lambda *_args: (str(notes), ""))
    clerk.press(Qt.Key.Key_N, CTRL | Qt.KeyboardModifier.ShiftModifier)
    assert "No car is open" in clerk.front.window.notices.problem.text()
    clerk.front.open_walk(STOCK, "")
    clerk.until(lambda: clerk.front.stock == STOCK)
    findings = len(clerk.record().findings)
    clerk.press(Qt.Key.Key_N, CTRL | Qt.KeyboardModifier.ShiftModifier)
    sheet = clerk.front.notes.sheet
    clerk.until(sheet.isVisible)
    assert sheet.title.text() == "notes.csv: 2 problems"
    assert "row 2, column F (close)" in sheet.list.item(1).text()
    assert "did you mean 'EXO_4135.JPG'?" in sheet.list.item(1).text()
    assert len(clerk.record().findings) == findings
    notes.write_text(notes.read_text().replace("awful", "cosmetic").replace("JPEG", "JPG"))
    clerk.press(Qt.Key.Key_Return)
    clerk.until(lambda: clerk.front.whole is not None and len(clerk.front.whole.car.findings) == findings + 1)
    assert not sheet.isVisible()
    clerk.press(Qt.Key.Key_Z, CTRL)
    clerk.until(lambda: len(clerk.record().findings) == findings)
