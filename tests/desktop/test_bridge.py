"""Answers come back on the window's thread; trouble goes to one place; stopping is silence."""

from __future__ import annotations

import threading
from concurrent.futures import Future, ThreadPoolExecutor

import pytest
from PySide6.QtGui import QImage

from lapseam.desktop.bridge import Bridge
from lapseam.desktop.pictures import PictureShelf
from lapseam.domain.errors import Cancelled, CardGone


@pytest.fixture
def pool():
    with ThreadPoolExecutor(2) as made:
        yield made


def test_an_answer_from_another_thread_arrives_on_this_one(qtbot, pool):
    bridge, seen = Bridge(pytest.fail), []
    bridge.when_done(pool.submit(threading.get_ident), lambda there: seen.append((there, threading.get_ident())))
    qtbot.waitUntil(lambda: bool(seen))
    there, here = seen[0]
    assert there != here == threading.get_ident()


def test_an_answer_that_is_there_already_still_arrives_later_and_not_at_once(qtbot):
    bridge, seen = Bridge(pytest.fail), []
    future: Future = Future()
    future.set_result(1)
    bridge.when_done(future, seen.append)
    assert seen == []
    qtbot.waitUntil(lambda: seen == [1])


def test_trouble_goes_to_the_one_place_and_the_end_is_told_all_the_same(qtbot):
    errors, ended = [], []
    bridge, future = Bridge(errors.append), Future()
    bridge.when_done(future, pytest.fail, finally_do=lambda: ended.append(True))
    future.set_exception(CardGone("The card was taken out."))
    qtbot.waitUntil(lambda: bool(ended))
    assert [str(error.problem) for error in errors] == ["The card was taken out."]


@pytest.mark.parametrize("how", ["stopped", "cancelled"])
def test_stopping_is_silence(qtbot, how: str):
    ended = []
    bridge, future = Bridge(pytest.fail), Future()
    bridge.when_done(future, pytest.fail, finally_do=lambda: ended.append(True))
    if how == "stopped":
        future.set_exception(Cancelled())
    else:
        future.cancel()
        future.set_running_or_notify_cancel()
    qtbot.waitUntil(lambda: bool(ended))


def test_progress_is_told_on_this_thread(qtbot, pool):
    bridge, told = Bridge(pytest.fail), []
    tell = bridge.teller(lambda done, total: told.append((done, total, threading.get_ident())))
    pool.submit(tell, 3, 8)
    qtbot.waitUntil(lambda: bool(told))
    assert told == [(3, 8, threading.get_ident())]


def test_a_picture_is_loaded_once_and_then_kept(qtbot, pool):
    asked = []

    def load(sha256: str, longest_px: int) -> Future:
        asked.append((sha256, longest_px))
        return pool.submit(lambda: QImage(longest_px, 10, QImage.Format.Format_RGB32))

    shelf = PictureShelf(load, Bridge(pytest.fail))
    with qtbot.waitSignal(shelf.arrived) as blocker:
        assert shelf.picture("aa", 64) is None
        assert shelf.picture("aa", 64) is None
    assert blocker.args == ["aa"]
    assert shelf.picture("aa", 64).width() == 64
    assert asked == [("aa", 64)]


def test_the_shelf_lets_the_longest_unseen_picture_go_when_it_is_full(qtbot):
    def load(sha256: str, longest_px: int) -> Future:
        future: Future = Future()
        future.set_result(QImage(500, 500, QImage.Format.Format_RGB32))
        return future

    shelf = PictureShelf(load, Bridge(pytest.fail), room_mb=2)
    for name in ("one", "two", "three"):
        with qtbot.waitSignal(shelf.arrived):
            shelf.picture(name, 500)
    assert shelf.picture("three", 500) is not None
    assert shelf.picture("one", 500) is None
    with qtbot.waitSignal(shelf.arrived):
        pass


def test_a_closed_shelf_asks_for_no_picture(qtbot):
    """A window that is painted once more while it closes must not ask a desk that has gone."""
    asked: list[str] = []

    def load(sha256: str, longest_px: int) -> Future[QImage]:
        asked.append(sha256)
        return Future()

    shelf = PictureShelf(load, Bridge(pytest.fail))
    shelf.picture("a" * 64, 100)
    shelf.close()
    assert shelf.picture("b" * 64, 100) is None
    assert asked == ["a" * 64]
