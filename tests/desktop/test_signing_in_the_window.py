"""A manager signs in the window, by name or with a key's passphrase, and the edition's files are signed with it too."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QLineEdit

from fakes import demo_car
from lapseam import plans
from lapseam.desktop.front import EDITION, Front
from lapseam.domain.car import House, Person
from lapseam.domain.decision import Target, Verdict
from lapseam.places import demo_assets
from lapseam.publish import Signed
from lapseam.storage import Workspace, save_house
from lapseam.workflow import Desk, proving

STOCK, MANAGER, WORDS = "T-114", "Ada Lindqvar", "corrosion never sleeps"
FRAME, SHOT = "EXO_4117.JPG", "ext-front-left"


@pytest.fixture
def workspace(tmp_path: Path, clock) -> Path:
    """A car whose plan asks nothing of the signature, with one frame that may be shown, and a manager at the desk."""
    folder = tmp_path / "workspace"
    whole = demo_car.bare().plan
    plan = replace(whole, vocabulary=replace(whole.vocabulary, signoff={}))
    with Workspace.open(folder, create=True) as opened:
        opened.book.new_car(STOCK, plans.dump_plan(plan), plans.digest(plan), plan.id, by=MANAGER, at=clock())
        save_house(folder, House(name="Invented Cars", people=(Person(MANAGER, ("manager",)),)))
    with Desk.open(folder, clock=clock) as desk:
        desk.take_in(stock=STOCK, paths=[demo_assets() / "card" / FRAME], by=MANAGER).result()
        desk.place(stock=STOCK, photo=FRAME, target=Target.SHOT, shot=SHOT, by=MANAGER).result()
        desk.release(stock=STOCK, photo=FRAME, verdict=Verdict.SHOW, words="no plate", by=MANAGER).result()
    return folder


@pytest.fixture
def until(front: Front, qtbot):
    """Wait for a thing, with the Edition open on the car."""

    def wait(so) -> None:
        qtbot.waitUntil(so, timeout=30_000)

    qtbot.waitExposed(front.window)
    front.window.activateWindow()
    front.open_walk(STOCK, "")
    wait(lambda: front.whole is not None)
    front.window.station_wanted.emit(EDITION)
    wait(lambda: bool(front.edition.screen.groups))
    front._edition_view.sequence.setFocus()
    return wait


def press(front: Front, qtbot, key: Qt.Key, modifier=Qt.KeyboardModifier.NoModifier) -> None:
    qtbot.keyClick(QApplication.focusWidget() or front.window, key, modifier)


def type_passphrase(qtbot, words: str) -> None:
    field = QApplication.focusWidget()
    assert isinstance(field, QLineEdit)
    assert field.echoMode() is QLineEdit.EchoMode.Password
    qtbot.keyClicks(field, words)
    qtbot.keyClick(field, Qt.Key.Key_Return)


def test_without_a_key_a_manager_signs_by_name(front: Front, qtbot, until) -> None:
    press(front, qtbot, Qt.Key.Key_S)
    until(lambda: front.edition.screen.signed)
    assert not front.edition.screen.with_key
    assert "Signed" in front._edition_view.standing.text()
    assert not front._edition_view.signature.sign.isEnabled()


def test_a_key_s_passphrase_signs_record_and_files(front: Front, qtbot, until) -> None:
    front.desk.make_key(person=MANAGER, passphrase=WORDS).result()
    sheet = front._edition_view.passphrase
    press(front, qtbot, Qt.Key.Key_S)
    until(sheet.isVisible)
    type_passphrase(qtbot, "wrong words, all of them")
    until(front.window.notices.isVisible)
    assert "passphrase" in front.window.notices.problem.text()
    assert not front.edition.screen.signed
    front._edition_view.sequence.setFocus()
    press(front, qtbot, Qt.Key.Key_S)
    until(sheet.isVisible)
    assert sheet.field.text() == "", "nothing of the first try is kept"
    type_passphrase(qtbot, WORDS)
    until(lambda: front.edition.screen.with_key)
    front._edition_view.sequence.setFocus()
    press(front, qtbot, Qt.Key.Key_P, Qt.KeyboardModifier.ControlModifier)
    assert sheet.isVisible()
    type_passphrase(qtbot, WORDS)
    until(lambda: front.edition.screen.last is not None)
    assert proving.verify(front.edition.screen.last.path).signature.state is Signed.GOOD


def test_it_is_published_without_the_passphrase_too_and_escape_does_nothing(front: Front, qtbot, until) -> None:
    front.desk.make_key(person=MANAGER, passphrase=WORDS).result()
    front.desk.sign(stock=STOCK, by=MANAGER, passphrase=WORDS).result()
    front.changed(STOCK)
    until(lambda: front.edition.screen.with_key)
    sheet = front._edition_view.passphrase
    front._edition_view.publish.click()
    press(front, qtbot, Qt.Key.Key_Escape)
    assert not sheet.isVisible()
    assert front.edition.screen.last is None
    front._edition_view.publish.click()
    sheet.skip.click()
    until(lambda: front.edition.screen.last is not None)
    assert front.edition.screen.last.signed
