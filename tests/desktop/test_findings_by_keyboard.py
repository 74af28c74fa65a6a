"""Going over a zone by keyboard alone: a finding with a marked photo, nothing found, a test, a repair, and undo."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QSettings, Qt
from PySide6.QtWidgets import QApplication, QLineEdit, QWidget

from lapseam.desktop.front import Front
from lapseam.domain.car import Car
from lapseam.domain.finding import FindingState, MarkShape
from lapseam.domain.statement import CheckVerdict
from lapseam.places import demo_assets
from lapseam.workflow import Desk, Stop

STOCK, BY, SHOT = "T-9", "Ada Lindqvar", "ext-front"
CTRL, SHIFT, NONE = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.ShiftModifier, Qt.KeyboardModifier(0)


@pytest.fixture(scope="module")
def walked(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A workspace with a car whose front was photographed twice, and every item ticked on both frames."""
    folder = tmp_path_factory.mktemp("findings") / "yard"
    card = sorted((demo_assets() / "card").glob("*.JPG"))[:2]
    with Desk.open(folder, create=True) as desk:
        desk.new_car(stock=STOCK, plan="hardtop-full", by=BY).result()
        facts = {"body": "hardtop", "construction": "unibody", "skin": "steel", "lift": True}
        desk.answer(stock=STOCK, answers=facts, by=BY).result()
        desk.take_in(
            stock=STOCK, paths=card, by=BY, progress=lambda *_: None, stop=Stop(), towards=SHOT, towards_zone=""
        ).result()
        for photo in card:
            desk.tick(stock=STOCK, shot=SHOT, photo=photo.name, items=[], by=BY).result()
    return folder


@pytest.fixture
def front(qtbot, walked: Path, tmp_path: Path) -> Iterator[Front]:
    settings = QSettings(str(tmp_path / "settings.ini"), QSettings.Format.IniFormat)
    settings.setValue("person", BY)
    desk = Desk.open(Path(shutil.copytree(walked, tmp_path / "yard")))
    made = Front(desk, settings=settings)
    qtbot.addWidget(made.window)
    made.window.resize(1280, 800)
    made.open_walk(STOCK, "")
    made.window.show()
    qtbot.waitExposed(made.window)
    made.window.activateWindow()
    qtbot.waitUntil(lambda: made.whole is not None, timeout=20_000)
    yield made
    made.close()
    desk.close()


class Finder:
    """What somebody's hands do at the Findings."""

    def __init__(self, front: Front, qtbot) -> None:
        self.front, self.qtbot = front, qtbot
        self.view, self.errands = front._findings_view, front.findings
        self.form, self.photos = self.view.form, self.view.photos

    def press(self, key: Qt.Key, modifier: Qt.KeyboardModifier = NONE, *, times: int = 1) -> None:
        for _press in range(times):
            self.qtbot.keyClick(QApplication.focusWidget() or self.front.window, key, modifier)

    def type(self, words: str) -> None:
        field = QApplication.focusWidget()
        assert isinstance(field, QLineEdit), field
        self.qtbot.keyClicks(field, words)

    def until(self, so: Callable[[], bool]) -> None:
        self.qtbot.waitUntil(so, timeout=20_000)

    def reach(self, target: QWidget) -> None:
        """Press Tab until the keyboard is there."""
        for _key in range(60):
            if QApplication.focusWidget() is target:
                return
            self.press(Qt.Key.Key_Tab)
        raise AssertionError("no Tab leads there")

    @property
    def car(self) -> Car:
        return self.front.desk.car(stock=STOCK).result()

    def shown(self) -> bool:
        """Whether the window shows the car as it is in the book."""
        return self.front.whole is not None and self.front.whole.car.revision == self.car.revision

    def open(self) -> None:
        self.press(Qt.Key.Key_3, CTRL)
        self.until(lambda: self.view.isVisible() and self.errands._offers is not None)

    def undo(self) -> None:
        revision = self.car.revision
        self.press(Qt.Key.Key_Z, CTRL)
        self.until(lambda: self.car.revision > revision and self.shown())


@pytest.fixture
def finder(front: Front, qtbot) -> Finder:
    made = Finder(front, qtbot)
    made.open()
    return made


def write_the_dent(finder: Finder) -> None:
    """The first unfinished part is the bumper; a dent on it, with a box on one photo and a point on the other."""
    finder.press(Qt.Key.Key_F6)
    finder.press(Qt.Key.Key_F6, SHIFT)
    assert finder.errands.key == "part:front-bumper"
    assert QApplication.focusWidget() is finder.form.kind
    finder.type("den")
    finder.press(Qt.Key.Key_Tab)
    assert finder.form.kind.text() == "Dent"
    finder.type("left guard")
    finder.reach(finder.form.lines["extent"])
    finder.type("5/32in")
    assert finder.form.understood.text() == "5/32 in (about 4 mm)"
    finder.press(Qt.Key.Key_P, CTRL)
    assert QApplication.focusWidget() is finder.photos.picture
    finder.press(Qt.Key.Key_1)
    finder.press(Qt.Key.Key_Left, SHIFT, times=4)
    finder.press(Qt.Key.Key_B)
    finder.press(Qt.Key.Key_Right, SHIFT, times=2)
    finder.press(Qt.Key.Key_Down, times=10)
    finder.press(Qt.Key.Key_B)
    finder.press(Qt.Key.Key_PageDown)
    finder.press(Qt.Key.Key_2)
    finder.press(Qt.Key.Key_P)
    finder.press(Qt.Key.Key_S, CTRL, times=3)
    finder.until(lambda: len(finder.car.findings) == 1 and finder.shown())


def test_a_zone_from_the_first_unfinished_thing_to_a_repair_and_back(finder: Finder):
    write_the_dent(finder)
    dent = finder.car.findings[0]
    first, second = (photo.sha256 for photo in finder.car.photos)
    assert (dent.component, dent.kind, dent.place, dent.extent) == ("front-bumper", "dent", "left guard", "5/32 in")
    assert (dent.context, dent.close, dent.by) == ((first,), (second,), BY)
    box, point = dent.marks
    assert (box.sha256, box.shape, box.x, box.y, box.width, box.height) == (first, MarkShape.BOX, 0.3, 0.5, 0.1, 0.1)
    assert (point.sha256, point.shape, point.x, point.y) == (second, MarkShape.POINT, 0.4, 0.6)

    finder.press(Qt.Key.Key_F9)
    finder.until(lambda: bool(finder.car.looked) and finder.shown())
    assert set(finder.car.looked) == {"grille-nose", "front-lamps"}
    notice = finder.front.window.notices
    assert "nothing found on 2 parts" in notice.problem.text()
    assert "Has a finding: Front bumper" in notice.detail.text()
    assert "No ticked frame shows it: Hood" in notice.detail.text()

    finder.view.list.stand_on("finding:1")
    finder.press(Qt.Key.Key_R, CTRL)
    assert QApplication.focusWidget() is finder.form.lines["state_reason"]
    finder.type("straightened")
    finder.press(Qt.Key.Key_S, CTRL)
    assert "repaired needs a photo after the repair" in finder.form.trouble.text().lower()
    finder.press(Qt.Key.Key_P, CTRL)
    finder.press(Qt.Key.Key_3)
    finder.press(Qt.Key.Key_S, CTRL)
    finder.until(lambda: finder.car.findings[0].state is FindingState.REPAIRED and finder.shown())
    assert finder.car.findings[0].after in ((first,), (second,))
    assert finder.car.findings[0].state_reason == "straightened"

    finder.undo()
    assert (finder.car.findings[0].state, len(finder.car.looked)) == (FindingState.OPEN, 2)
    finder.undo()
    assert (len(finder.car.findings), finder.car.looked) == (1, {})
    finder.undo()
    assert finder.car.findings == ()
    assert "part:front-bumper" in {line.key for line in finder.errands.screen.open}


def test_what_keeps_a_finding_out_is_said_and_nothing_is_lost_by_looking_elsewhere(finder: Finder):
    finder.press(Qt.Key.Key_N, CTRL)
    assert QApplication.focusWidget() is finder.form.component
    finder.type("bonnet")
    finder.press(Qt.Key.Key_Return)
    assert finder.form.draft.component == "hood"
    finder.press(Qt.Key.Key_S, CTRL)
    assert finder.form.trouble.isVisible()
    finder.press(Qt.Key.Key_B, CTRL)
    finder.press(Qt.Key.Key_Down)
    assert finder.form.draft.component != "hood"
    finder.press(Qt.Key.Key_N, CTRL)
    assert finder.form.draft.component == "hood"


def test_tests_are_answered_by_one_key_and_not_tested_wants_its_reason(finder: Finder):
    check = next(line for line in finder.errands.screen.open if line.key.startswith("check:"))
    finder.view.list.stand_on(check.key)
    finder.view.list.setFocus()
    finder.press(Qt.Key.Key_1)
    finder.until(lambda: check.subject in finder.car.checks and finder.shown())
    assert finder.car.checks[check.subject].verdict is CheckVerdict.WORKS
    second = next(line for line in finder.errands.screen.open if line.key.startswith("check:"))
    finder.until(lambda: finder.view.pane.currentWidget() is finder.view.check)
    assert finder.view.list.shot == second.key
    finder.press(Qt.Key.Key_5)
    assert finder.view.choices.isVisible()
    finder.press(Qt.Key.Key_4)
    finder.until(lambda: second.subject in finder.car.checks and finder.shown())
    assert finder.car.checks[second.subject].reason == "no-battery"


def test_a_test_that_the_plan_does_not_ask(finder: Finder):
    finder.press(Qt.Key.Key_T, CTRL)
    assert QApplication.focusWidget() is finder.view.check.item
    finder.type("Hood lamp, 2 bulbs")
    finder.press(Qt.Key.Key_Tab)
    finder.reach(finder.view.check.buttons[CheckVerdict.DOES_NOT_WORK])
    finder.press(Qt.Key.Key_Space)
    finder.until(lambda: "own-hood-lamp-2-bulbs" in finder.car.checks and finder.shown())
    made = finder.car.checks["own-hood-lamp-2-bulbs"]
    assert (made.item, made.verdict) == ("Hood lamp, 2 bulbs", CheckVerdict.DOES_NOT_WORK)
    line = finder.errands.screen.line("check:own-hood-lamp-2-bulbs")
    assert line is not None
    assert line.words == "Hood lamp, 2 bulbs: does not work"
    finder.view.list.stand_on(line.key)
    finder.view.list.setFocus()
    finder.press(Qt.Key.Key_1)
    finder.until(lambda: finder.car.checks["own-hood-lamp-2-bulbs"].verdict is CheckVerdict.WORKS)


def test_words_are_kept_and_become_a_finding(finder: Finder):
    finder.press(Qt.Key.Key_J, CTRL)
    note = QApplication.focusWidget()
    QApplication.clipboard().setText("dent in the hood,\nleft of the ornament")
    finder.press(Qt.Key.Key_V, CTRL)
    assert note.toPlainText().count("\n") == 1
    finder.press(Qt.Key.Key_S, CTRL)
    finder.until(lambda: len(finder.car.jottings) == 1 and finder.shown())
    assert finder.errands.screen.open[0].key == "jotting:1"
    finder.view.list.stand_on("jotting:1")
    finder.press(Qt.Key.Key_F, CTRL)
    assert finder.form.note.text() == "dent in the hood,\nleft of the ornament"
    assert QApplication.focusWidget() is finder.form.component
    finder.type("hood ou")
    finder.press(Qt.Key.Key_Tab)
    finder.type("dent")
    finder.press(Qt.Key.Key_Tab)
    finder.type("left of the ornament")
    finder.press(Qt.Key.Key_P, CTRL)
    finder.press(Qt.Key.Key_P)
    finder.press(Qt.Key.Key_S, CTRL)
    finder.until(lambda: finder.car.jottings == () and finder.shown())
    made = finder.car.findings[0]
    assert (made.component, made.note) == ("hood", "dent in the hood,\nleft of the ornament")
    assert len(made.marks) == 1
    assert finder.errands.screen.open[0].key == "finding:1"


def test_the_guard_speaks_while_one_writes_and_its_wording_is_taken_by_a_key(finder: Finder):
    finder.press(Qt.Key.Key_N, CTRL)
    detail = finder.form.detail
    finder.reach(detail)
    finder.qtbot.keyClicks(detail, "Original paint all over")
    finder.until(finder.form.guard.isVisible)
    assert "Original paint" in finder.form.guard_head.text()
    assert "Paint film thickness" in finder.form.guard_why.text()
    finder.press(Qt.Key.Key_G, CTRL)
    assert "Original paint" not in detail.text()
    assert detail.textCursor().selectedText().startswith("{")
    finder.until(lambda: not finder.form.guard.isVisible())


def test_nothing_is_worked_out_while_another_station_is_open(finder: Finder):
    finder.press(Qt.Key.Key_2, CTRL)
    finder.until(lambda: finder.front.station == "walk")
    before = finder.errands.screen
    finder.front.desk.jot(stock=STOCK, zone="front", text="knock", by=BY).result()
    finder.front.changed(STOCK)
    finder.until(finder.shown)
    assert finder.errands.screen is before
    assert finder.front.window.tabs.tab("findings").station.open == len(finder.front.whole.unfinished)
    finder.press(Qt.Key.Key_3, CTRL)
    finder.until(lambda: finder.errands.screen is not before)
    assert finder.errands.screen.line("jotting:1") is not None


def test_zones_are_walked_by_keys_and_a_finished_one_leads_on(finder: Finder):
    here = finder.errands.zone
    finder.press(Qt.Key.Key_F7)
    assert finder.errands.zone != here
    finder.press(Qt.Key.Key_F7, SHIFT)
    assert finder.errands.zone == here
    finder.errands.go_to_zone("roof")
    assert finder.errands.screen.photos == ()
    assert "No photo of this zone has its place yet" in finder.photos.picture.accessibleName()
    assert finder.view.pane.currentWidget() is finder.view.word
    finder.view.enter_pane()
    finder.press(Qt.Key.Key_Return)
    assert finder.errands.screen.open


def test_what_a_caller_wanted_to_see_is_dealt_with_by_enter(finder: Finder):
    finder.front.desk.want(stock=STOCK, question="Can I see the hood edge?", about="hood", by=BY).result()
    finder.front.changed(STOCK)
    finder.until(lambda: finder.errands.screen.line("asked:1") is not None)
    finder.view.list.stand_on("asked:1")
    finder.view.list.setFocus()
    finder.press(Qt.Key.Key_Return)
    assert finder.view.word.title.text() == "Can I see the hood edge?"
    finder.press(Qt.Key.Key_Return)
    finder.until(lambda: not finder.car.asked[0].is_open and finder.shown())
    assert finder.errands.screen.line("asked:1") is None
