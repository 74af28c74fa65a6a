"""An attached camera: its frames go to the shot that is up; without camera or extra a notice says what to do."""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget

from lapseam.desktop import camera
from lapseam.desktop.front import Front
from lapseam.domain.errors import MissingExtra, NotFound
from lapseam.places import demo_assets

FRAME = (demo_assets() / "card" / "EXO_4117.JPG").read_bytes()


class Bench:
    """A camera on the bench: writes a given frame, or refuses."""

    name = "Bench camera"

    def __init__(self, frame: bytes | None = FRAME) -> None:
        self.frame = frame
        self.closed = False
        self._picture = QWidget()

    def picture(self) -> QWidget:
        return self._picture

    def shoot(self, target: Path, done: Callable[[Path], None], failed: Callable[[str], None]) -> None:
        if self.frame is None:
            failed("the battery is flat")
            return
        target.write_bytes(self.frame)
        done(target)

    def close(self) -> None:
        self.closed = True


@pytest.fixture
def walking(front: Front, qtbot) -> Front:
    front.desk.new_car(stock="T-9", plan="hardtop-full", by="Ada Lindqvar").result()
    front.open_walk("T-9", "ext-front-left")
    qtbot.waitUntil(lambda: front.whole is not None, timeout=20_000)
    front._walk_view.show_shooting()
    return front


def test_a_frame_is_proposed_for_the_shot_that_is_up(walking: Front, qtbot, monkeypatch: pytest.MonkeyPatch) -> None:
    bench = Bench()
    monkeypatch.setattr("lapseam.desktop.screens.walk.errands.open_camera", lambda: bench)
    walking.walk.open_camera()
    assert walking.walk.camera.isVisible()
    qtbot.keyClick(walking.walk.camera.shutter, Qt.Key.Key_Space)
    qtbot.waitUntil(lambda: walking.whole is not None and len(walking.whole.car.photos) == 1, timeout=20_000)
    (placement,) = walking.whole.car.frames_of("ext-front-left")
    assert not placement.accepted
    folder = walking.desk.folder / "cache" / "camera"
    qtbot.waitUntil(lambda: list(folder.iterdir()) == [], timeout=20_000)
    walking.walk.camera.put_away()
    assert bench.closed


def test_a_camera_that_gives_no_frame_is_a_notice(walking: Front, qtbot, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("lapseam.desktop.screens.walk.errands.open_camera", lambda: Bench(None))
    walking.walk.open_camera()
    walking.walk.camera.shutter.click()
    qtbot.waitUntil(lambda: "battery is flat" in walking.window.notices.detail.text(), timeout=20_000)
    walking.walk.camera.put_away()


def test_without_the_extra_it_is_named(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "PySide6.QtMultimedia", None)
    with pytest.raises(MissingExtra, match="not installed") as told:
        camera.open_camera()
    assert "camera" in told.value.next_step


@pytest.mark.qt_log_ignore("Couldn't (load|resolve)", extend=True)
def test_without_a_camera_it_says_so(qapp) -> None:
    pytest.importorskip("PySide6.QtMultimedia", reason="the extra `camera` is not installed", exc_type=ImportError)
    from PySide6.QtMultimedia import QMediaDevices

    if QMediaDevices.videoInputs():
        pytest.skip("a camera is attached to this machine")
    with pytest.raises(NotFound, match="No camera"):
        camera.open_camera()
