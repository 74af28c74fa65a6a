"""A walk at the car by keyboard alone: new car, facts, photos that drop into a watched folder, gaps, undo."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QComboBox, QLineEdit, QWidget

from lapseam.desktop.front import Front
from lapseam.desktop.widgets.chapter_strip import ChapterTab
from lapseam.desktop.words import fact_question
from lapseam.domain.coverage import ShotCoverage, State
from lapseam.domain.decision import Slot
from lapseam.places import demo_assets

CARD = demo_assets() / "card"
STOCK = "T-9"


class Hands:
    """What a person's hands do: press keys, type, and wait until what they see has changed."""

    def __init__(self, front: Front, qtbot) -> None:
        self.front = front
        self.qtbot = qtbot

    def press(self, key: Qt.Key, modifier: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier) -> None:
        """Press a key wherever the keyboard is."""
        target = QApplication.focusWidget() or self.front.window
        self.qtbot.keyClick(target, key, modifier)

    def type(self, words: str) -> None:
        """Type into the field that has the keyboard."""
        field = QApplication.focusWidget()
        assert isinstance(field, QLineEdit), f"the keyboard is in {field!r}"
        self.qtbot.keyClicks(field, words)

    def reach(self, named: Callable[[QWidget], bool]) -> QWidget:
        """Press Tab until the keyboard is where it is wanted."""
        for _key in range(400):
            focus = QApplication.focusWidget()
            if focus is not None and named(focus):
                return focus
            self.press(Qt.Key.Key_Tab)
        raise AssertionError("no Tab leads there")

    def until(self, so: Callable[[], bool]) -> None:
        """Wait for a thing, never for a time."""
        self.qtbot.waitUntil(so, timeout=20_000)

    def shot(self, shot_id: str) -> ShotCoverage:
        """How a shot stands in what the window shows."""
        whole = self.front.whole
        assert whole is not None
        return next(line for line in whole.coverage.shots if line.shot.id == shot_id)

    @property
    def up(self) -> str:
        """The shot whose title is on the card."""
        return self.front.walk._shot

    def notice(self) -> str:
        """What the notice says, "" where none is shown."""
        bar = self.front.window.notices
        return f"{bar.problem.text()} {bar.effect.text()} {bar.detail.text()}" if bar.isVisible() else ""


@pytest.fixture
def hands(front: Front, qtbot) -> Hands:
    qtbot.waitExposed(front.window)
    front.window.activateWindow()
    return Hands(front, qtbot)


def make_the_car(hands: Hands) -> None:
    hands.until(lambda: hands.front.yard.cars == 0 and hands.front._yard_view.headline.text() != "")
    hands.press(Qt.Key.Key_N, Qt.KeyboardModifier.ControlModifier)
    hands.until(lambda: isinstance(QApplication.focusWidget(), QLineEdit))
    hands.type(STOCK)
    hands.press(Qt.Key.Key_Return)
    hands.until(lambda: hands.front.yard.cars == 1)
    hands.until(lambda: hands.front._yard_view.pages.currentWidget() is hands.front._yard_view.facts)


FACTS = {
    "body": "Hardtop",
    "construction": "Unibody",
    "skin": "Steel",
    "runs": "No",
    "vinyl_roof": "No",
}


def begin_the_walk(hands: Hands) -> None:
    for fact, words in FACTS.items():
        answer(hands, fact, words)
    hands.reach(lambda widget: widget is hands.front._yard_view.facts.walk)
    hands.press(Qt.Key.Key_Space)
    hands.until(lambda: hands.front.whole is not None and hands.front.station == "walk")


def answer(hands: Hands, fact: str, words: str) -> None:
    """Answer a fact on its page by Tab and Space, or in a list by the first letter of the word."""
    question = fact_question(fact)

    def known() -> bool:
        return fact in hands.front.desk.car(stock=STOCK).result().facts

    field = hands.reach(lambda w: w.accessibleName() in (question, f"{question} {words}"))
    if isinstance(field, QComboBox):
        hands.press(Qt.Key(ord(words[0])))
    else:
        hands.press(Qt.Key.Key_Space)
    hands.until(known)
    hands.until(lambda: QApplication.focusWidget() is not None)


def go_outside(hands: Hands) -> None:
    hands.reach(lambda widget: "Outside" in widget.accessibleName() and isinstance(widget, ChapterTab))
    hands.press(Qt.Key.Key_Return)
    hands.until(lambda: hands.up == "ext-front-left")


def drop(folder: Path, name: str, source: str) -> None:
    """A camera that is tethered writes a file beside and renames it."""
    part = folder / f".{name}.part"
    part.write_bytes((CARD / source).read_bytes())
    part.rename(folder / name)


def test_the_whole_walk_of_a_setup(hands: Hands, tmp_path: Path, clock) -> None:
    incoming = tmp_path / "incoming"
    incoming.mkdir()
    make_the_car(hands)
    begin_the_walk(hands)
    go_outside(hands)
    hands.front.walk.watch(incoming)

    drop(incoming, "A1.JPG", "EXO_4117.JPG")
    hands.until(lambda: len(hands.shot("ext-front-left").photos) == 1)
    assert hands.shot("ext-front-left").state is State.TAKEN

    hands.press(Qt.Key.Key_1)
    hands.until(lambda: hands.shot("ext-front-left").state is State.PARTLY)
    for key in (Qt.Key.Key_2, Qt.Key.Key_3, Qt.Key.Key_4):
        hands.press(key)
    hands.until(lambda: len(hands.front.whole.car.ticks) == 4)
    assert hands.shot("ext-front-left").missing == ("a frame: 1 of 2",)

    whole = (CARD / "EXO_4118.JPG").read_bytes()
    (incoming / "torn.jpg").write_bytes(whole[: len(whole) // 2])
    hands.until(lambda: "torn.jpg" in hands.notice())
    hands.press(Qt.Key.Key_Return, Qt.KeyboardModifier.ControlModifier)

    drop(incoming, "A1-again.JPG", "EXO_4117.JPG")
    hands.until(lambda: "was here already" in hands.notice())
    assert len(hands.front.whole.car.photos) == 1
    hands.press(Qt.Key.Key_Return, Qt.KeyboardModifier.ControlModifier)

    retake(hands, incoming)
    not_reachable(hands)
    finding(hands, incoming)
    close_with_a_gap(hands, clock)


def retake(hands: Hands, incoming: Path) -> None:
    hands.press(Qt.Key.Key_Return)
    hands.until(lambda: hands.up == "ext-front-right")
    drop(incoming, "B1.JPG", "EXO_4119.JPG")
    hands.until(lambda: len(hands.shot("ext-front-right").photos) == 1)
    hands.press(Qt.Key.Key_A)
    hands.until(lambda: len(hands.shot("ext-front-right").photos) == 0)
    drop(incoming, "B2.JPG", "EXO_4118.JPG")
    hands.until(lambda: len(hands.shot("ext-front-right").photos) == 1)


def not_reachable(hands: Hands) -> None:
    hands.press(Qt.Key.Key_Return)
    hands.until(lambda: hands.up == "ext-rear-right")
    hands.press(Qt.Key.Key_X)
    hands.until(lambda: hands.front._walk_view.choices.isVisible())
    hands.press(Qt.Key.Key_1)
    hands.until(lambda: hands.shot("ext-rear-right").state is State.NOT_REACHABLE)


def finding(hands: Hands, incoming: Path) -> None:
    while hands.up != "ext-right-rocker":
        before = hands.up
        hands.press(Qt.Key.Key_Return)
        hands.until(lambda before=before: hands.up != before)
    drop(incoming, "C1.JPG", "EXO_4135.JPG")
    hands.until(lambda: len(hands.shot("ext-right-rocker").photos) == 1)
    assert hands.front.whole.car.frames_of("ext-right-rocker")[0].slot is Slot.CONTEXT
    hands.press(Qt.Key.Key_F)
    form = hands.front.walk.finding_form
    hands.until(form.isVisible)
    hands.reach(lambda widget: widget is form.where)
    hands.type("rear end, ahead of the wheel")
    hands.press(Qt.Key.Key_Return)
    hands.until(lambda: len(hands.front.whole.car.findings) == 1)
    found = hands.front.whole.car.findings[0]
    assert found.close == (hands.shot("ext-right-rocker").photos[0],)
    assert found.by == "Ada Lindqvar"
    hands.press(Qt.Key.Key_Return, Qt.KeyboardModifier.ControlModifier)


def close_with_a_gap(hands: Hands, clock) -> None:
    clock.pass_minutes(20)
    hands.press(Qt.Key.Key_C)
    view = hands.front._walk_view.closing
    hands.until(lambda: hands.front._walk_view.pages.currentWidget() is view)
    rows = view.gaps()
    rust = [gap.row.rust for gap in rows]
    assert rust == sorted(rust, reverse=True), "rust-prone gaps stand before all others"
    assert not view.close_button.isEnabled()
    assert "minutes left" in view.minutes.text()
    wanted = sum(1 for gap in rows if gap.row.needs_reason)
    for done in range(wanted):
        hands.reach(lambda w: any(w is gap.reason and not gap.row.reason for gap in view.gaps()))
        hands.press(Qt.Key.Key_Space)
        hands.until(view.choices.isVisible)
        hands.press(Qt.Key.Key_9)
        hands.until(lambda done=done: sum(1 for gap in view.gaps() if gap.row.reason) == done + 1)
    hands.until(view.close_button.isEnabled)
    revision = hands.front.whole.car.revision
    hands.reach(lambda widget: widget is view.close_button)
    hands.press(Qt.Key.Key_Space)
    hands.until(lambda: hands.front.whole.car.revision > revision)
    closed = [shot for shot, closing in hands.front.whole.car.closings.items() if closing.reason == "no-time"]
    assert "ext-left-rocker" in closed

    for _step in range(3):
        revision = hands.front.whole.car.revision
        hands.press(Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
        hands.until(lambda revision=revision: hands.front.whole.car.revision > revision)
    car = hands.front.whole.car
    assert not [shot for shot, closing in car.closings.items() if closing.reason == "no-time"]
    assert car.findings == ()
    assert hands.shot("ext-front-left").state is State.PARTLY
    assert hands.shot("ext-rear-right").state is State.NOT_REACHABLE


def test_interrupted_and_resumed_on_another_day(hands: Hands, qtbot, tmp_path: Path, workspace: Path, clock) -> None:
    make_the_car(hands)
    begin_the_walk(hands)
    go_outside(hands)
    hands.front.walk.take_card_in((CARD / "EXO_4117.JPG",))
    hands.until(lambda: len(hands.front.whole.car.photos) == 1 and len(hands.front.whole.car.placements) == 1)
    hands.front._walk_view.tray.accept_wanted.emit(hands.front.whole.car.photos[0].sha256, "ext-front-left")
    hands.until(lambda: hands.shot("ext-front-left").accepted == 1)
    before = hands.front.whole.coverage
    hands.front.close()
    hands.front.desk.close()

    from PySide6.QtCore import QSettings

    from lapseam.workflow import Desk

    clock.pass_minutes(60 * 24)
    desk = Desk.open(workspace, clock=clock)
    settings = QSettings(str(tmp_path / "settings.ini"), QSettings.Format.IniFormat)
    again = Front(desk, settings=settings)
    qtbot.addWidget(again.window)
    again.open_walk(STOCK, "")
    qtbot.waitUntil(lambda: again.whole is not None, timeout=20_000)
    assert again.whole is not None
    assert again.whole.coverage == before
    assert again.walk._shot == "ext-front-left"
    again.close()
    desk.close()


def test_a_whole_card_fills_the_tray(hands: Hands) -> None:
    make_the_car(hands)
    begin_the_walk(hands)
    hands.front.walk.take_card_in((CARD,))
    hands.until(lambda: len(hands.front.whole.car.placements) == 86)
    tray = hands.front._walk_view.tray
    hands.until(lambda: tray.model.rowCount() > 0)
    waiting = tray.model.rowCount()
    hands.front._walk_view.show_tray_page()
    hands.press(Qt.Key.Key_S)
    hands.until(lambda: tray.model.rowCount() == waiting - 1)


def test_a_folder_that_is_not_there_is_a_notice_not_a_crash(hands: Hands, tmp_path: Path) -> None:
    make_the_car(hands)
    begin_the_walk(hands)
    hands.front.walk.watch(tmp_path / "none")
    hands.until(lambda: "none" in hands.notice())
    hands.press(Qt.Key.Key_Return, Qt.KeyboardModifier.ControlModifier)
    hands.front.walk.take_card_in((tmp_path / "nowhere",))
    hands.until(lambda: "nowhere" in hands.notice())
