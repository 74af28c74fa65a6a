"""Keeping plans by keyboard alone: read, compare, copy, add a shot, mend what the live check names, save, use it."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QWidget

from lapseam.desktop.front import Front
from lapseam.desktop.screens.plans.list_view import PlanLine

CTRL, SHIFT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.ShiftModifier


class Keeper:
    """What a manager's hands do at the Plans."""

    def __init__(self, front: Front, qtbot) -> None:
        self.front, self.qtbot = front, qtbot
        self.view, self.form = front._plans_view, front._plans_view.form

    def press(self, key: Qt.Key, modifier: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier) -> None:
        self.qtbot.keyClick(QApplication.focusWidget() or self.front.window, key, modifier)

    def until(self, so: Callable[[], bool]) -> None:
        self.qtbot.waitUntil(so, timeout=30_000)

    def on(self, page: QWidget) -> bool:
        return self.view.isVisible() and self.view.pages.currentWidget() is page

    def open_plans(self) -> None:
        self.press(Qt.Key.Key_5, CTRL)
        self.until(lambda: self.on(self.view.list) and len(self.view.list.rows()) > 10)

    def row(self, plan: str) -> PlanLine:
        return next(one for one in self.view.list.rows() if one.row.id == plan)

    def write(self, field: str, words: str) -> None:
        """Go to a field of the form and write something else into it."""
        target = self.form.shot.fields[field]
        target.setFocus()
        self.press(Qt.Key.Key_A, CTRL)
        self.qtbot.keyClicks(target, words)

    def checked(self) -> None:
        self.until(lambda: "Checking" not in self.form.check.text())

    def copy_the_handover(self) -> None:
        self.row("handover").copy.setFocus()
        self.press(Qt.Key.Key_Space)
        self.until(lambda: self.on(self.view.copy))
        self.qtbot.keyClicks(QApplication.focusWidget(), "Ours")
        assert self.view.copy.new_id.text() == "ours"
        self.press(Qt.Key.Key_Return)
        self.until(lambda: self.on(self.form))

    @property
    def shot(self) -> str:
        return self.front.plans.form._shot


@pytest.fixture
def keeper(front: Front, qtbot) -> Keeper:
    qtbot.waitExposed(front.window)
    front.window.activateWindow()
    made = Keeper(front, qtbot)
    made.until(lambda: front._yard_view.headline.text() != "")
    return made


def test_from_the_yard_to_a_car_on_a_plan_of_the_house_s_own(keeper: Keeper):
    keeper.front._yard_view.plans.click()
    keeper.until(lambda: keeper.on(keeper.view.list) and len(keeper.view.list.rows()) > 10)
    keeper.copy_the_handover()
    first = keeper.shot
    keeper.press(Qt.Key.Key_N, CTRL)
    assert keeper.shot == f"{first}-new"
    assert QApplication.focusWidget() is keeper.form.shot.fields["title"]
    keeper.qtbot.keyClicks(QApplication.focusWidget(), "Sill plate, close")
    keeper.write("id", "sill-plate")
    assert keeper.shot == "sill-plate"
    keeper.write("when", "vinyl_rof")
    keeper.checked()
    assert keeper.form.shot.wrong["when"].text() == "There is no fact 'vinyl_rof'"
    assert not keeper.form.save.isEnabled()
    keeper.write("when", "vinyl_roof")
    keeper.form.shot.fields["need"].setFocus()
    keeper.press(Qt.Key.Key_End)
    keeper.form.shot.fields["need"].activated.emit(2)
    keeper.write("count", "2")
    keeper.until(lambda: keeper.form.save.isEnabled())
    assert keeper.form.shot.wrong["when"].text() == ""
    keeper.press(Qt.Key.Key_S, CTRL)
    keeper.until(lambda: keeper.on(keeper.view.read))
    text = (keeper.front.desk.folder / "plans" / "ours.yaml").read_text()
    assert "id: sill-plate" in text
    assert 'when: "vinyl_roof"' in text
    assert text.startswith("# Made from handover: only what differs from it stands here.\n")
    boxes = keeper.front._yard_view.form.plan
    assert boxes.findData("ours") >= 0
    keeper.front.desk.new_car(stock="T-9", plan="ours", by="Ada").result()
    shot = keeper.front.desk.car(stock="T-9").result().plan.shot("sill-plate")
    assert (shot.title, shot.count, shot.when.text) == ("Sill plate, close", 2, "vinyl_roof")


def test_undo_in_a_field_is_the_form_s(keeper: Keeper):
    keeper.open_plans()
    keeper.copy_the_handover()
    shot, was = keeper.shot, keeper.form.shot.fields["title"].text()
    keeper.write("title", "One")
    keeper.write("light", "Two")
    keeper.press(Qt.Key.Key_Z, CTRL)
    assert keeper.form.shot.fields["title"].text() == "One"
    assert keeper.form.shot.fields["light"].text() != "Two"
    keeper.press(Qt.Key.Key_Z, CTRL)
    assert keeper.form.shot.fields["title"].text() == was
    assert not keeper.front.plans.form.draft.changed
    keeper.form.shots.setFocus()
    keeper.press(Qt.Key.Key_Z, CTRL | SHIFT)
    assert keeper.form.shot.fields["title"].text() == "One"
    keeper.form.remove.setFocus()
    keeper.press(Qt.Key.Key_Space)
    assert keeper.shot != shot
    keeper.press(Qt.Key.Key_Z, CTRL)
    assert keeper.front.plans.form.draft.shot(shot) is not None


def test_what_is_not_saved_is_not_left_without_a_word(keeper: Keeper):
    keeper.open_plans()
    keeper.copy_the_handover()
    keeper.write("title", "One")
    keeper.press(Qt.Key.Key_Escape)
    assert keeper.on(keeper.form)
    keeper.press(Qt.Key.Key_Escape)
    assert keeper.form.shot.fields["title"].text() == "One"
    keeper.form.back.click()
    keeper.press(Qt.Key.Key_1)
    keeper.until(lambda: keeper.on(keeper.view.list))
    assert "One" not in (keeper.front.desk.folder / "plans" / "ours.yaml").read_text()


def test_a_file_changed_on_disk_meanwhile_is_told_as_a_notice(keeper: Keeper):
    keeper.open_plans()
    keeper.copy_the_handover()
    file = keeper.front.desk.folder / "plans" / "ours.yaml"
    keeper.write("title", "One")
    keeper.until(lambda: keeper.form.save.isEnabled())
    file.write_text(file.read_text() + "# by somebody else\n")
    keeper.press(Qt.Key.Key_S, CTRL)
    keeper.until(lambda: "changed on disk" in keeper.front.window.notices.problem.text())
    assert keeper.on(keeper.form)
    assert "One" not in file.read_text()


def test_a_plan_is_read_shot_by_shot_and_compared_by_keys(keeper: Keeper):
    keeper.open_plans()
    keeper.view.list.take_keyboard()
    keeper.press(Qt.Key.Key_Down)
    asked = QApplication.focusWidget()
    assert isinstance(asked, PlanLine)
    keeper.press(Qt.Key.Key_Return)
    keeper.until(lambda: keeper.on(keeper.view.read))
    read = keeper.view.read
    first = read.page.title.text()
    keeper.press(Qt.Key.Key_Down)
    assert read.page.title.text() not in ("", first)
    keeper.press(Qt.Key.Key_E, CTRL)
    keeper.until(lambda: keeper.on(keeper.view.compare) and "frames" in keeper.view.compare.headline.text())
    assert keeper.view.compare.after.currentData() == asked.row.id
    keeper.press(Qt.Key.Key_Escape)
    assert keeper.on(read)
    keeper.press(Qt.Key.Key_Escape)
    keeper.until(lambda: keeper.on(keeper.view.list))


def test_what_ships_offers_no_change(keeper: Keeper):
    keeper.open_plans()
    keeper.until(lambda: "shots" in keeper.row("handover").row.sums)
    assert not keeper.row("handover").edit.isVisible()
    keeper.view.read_wanted.emit("handover")
    keeper.until(lambda: keeper.on(keeper.view.read))
    assert not keeper.view.read.edit.isVisible()
    assert keeper.view.read.copy.isVisible()
