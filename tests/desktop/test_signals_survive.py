"""Signals may be emitted as often as a long day needs: a Qt binding that loses a reference per emit aborts here.

One release of the binding dropped one reference to True with every emit and aborted the interpreter after some 570; the
pin in pyproject.toml keeps it out, and this test notices if another such release comes in.
"""

from __future__ import annotations

import sys
from concurrent.futures import Future

import pytest
from PySide6.QtCore import QObject, Signal

from fakes import demo_walk
from lapseam.desktop.bridge import Bridge
from lapseam.desktop.pictures import PictureShelf
from lapseam.desktop.screens.walk.view import WalkView
from lapseam.desktop.screens.yard.view import CarRow, YardView
from lapseam.desktop.widgets.choices import Choices
from lapseam.desktop.widgets.job_bar import JobBar
from lapseam.desktop.widgets.lap_ribbon import LapRibbon
from lapseam.desktop.widgets.notice_bar import NoticeBar
from lapseam.desktop.widgets.shot_card import ShotCard
from lapseam.desktop.widgets.tray import Tray
from lapseam.desktop.window import MainWindow

TIMES = 2_000
OWN = "lapseam.desktop"


def own_signals(kind: type[QObject]) -> dict[str, Signal]:
    """The signals that a class of ours declares itself."""
    return {name: value for name, value in vars(kind).items() if isinstance(value, Signal)}


def words_for(signal: Signal) -> tuple[object, ...]:
    """One argument of each type that the signal carries, read from its signature such as `ticked(QString,QString)`."""
    kinds = str(signal).split("(")[1].rstrip(")")
    made = {"QString": "words", "PyObject": True, "int": 7, "bool": True}
    return tuple(made[kind] for kind in kinds.split(",") if kind)


@pytest.fixture
def shelf(qtbot):
    def never(sha256: str, longest_px: int) -> Future:
        return Future()

    return PictureShelf(never, Bridge(pytest.fail))


def _makers(shelf: PictureShelf):
    from PySide6.QtWidgets import QWidget

    from lapseam.desktop.screens.yard.state import yard_screen
    from lapseam.domain.coverage import check

    car = demo_walk.new_car()
    card = yard_screen([(car, check(car))]).cars[0]
    yield from (MainWindow(), WalkView(shelf), YardView(), LapRibbon(), NoticeBar(), JobBar(), ShotCard(), Tray(shelf))
    under = QWidget()
    yield from (CarRow(card), Choices(under), shelf)


def test_two_thousand_emits_of_every_signal_leave_the_interpreter_whole(qtbot, shelf):
    emitted = 0
    for one in _makers(shelf):
        signals = own_signals(type(one))
        assert signals, f"{type(one).__name__} has no signal of its own"
        for name, kind in signals.items():
            bound, words, heard = getattr(one, name), words_for(kind), []
            bound.connect(lambda *given, heard=heard: heard.append(given))
            before = sys.getrefcount(True), sys.getrefcount(None)
            for _turn in range(TIMES):
                bound.emit(*words)
            heard_count = len(heard)
            heard.clear()
            assert heard_count == TIMES
            assert sys.getrefcount(True) > before[0] - TIMES / 2
            assert sys.getrefcount(None) > before[1] - TIMES / 2
            emitted += TIMES
        if hasattr(one, "deleteLater"):
            one.deleteLater()
    assert emitted >= 40 * TIMES


def test_two_thousand_triggers_of_an_action_and_answers_over_the_bridge(qtbot):
    window = MainWindow()
    qtbot.addWidget(window)
    done = []
    action = window.actions.add("count", "Count", lambda: done.append(1))
    for _turn in range(TIMES):
        action.trigger()
    bridge = Bridge(pytest.fail)
    arrived = []
    for _turn in range(TIMES):
        future: Future = Future()
        bridge.when_done(future, arrived.append)
        future.set_result(True)
    qtbot.waitUntil(lambda: len(arrived) == TIMES)
    assert len(done) == TIMES
