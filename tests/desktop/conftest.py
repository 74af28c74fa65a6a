"""What the window tests share: Qt without a screen, the shipped look, and a front on a real workspace."""

from __future__ import annotations

import os
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

try:
    import PySide6.QtWidgets  # noqa: F401
except ImportError as missing:
    pytest.skip(f"the windows' libraries cannot be had here: {missing}", allow_module_level=True)

from PySide6.QtCore import QEvent, QObject, QSettings, Qt
from PySide6.QtWidgets import QMainWindow, QWidget

from lapseam.desktop.front import Front
from lapseam.desktop.look import Ground
from lapseam.desktop.theme import dress
from lapseam.workflow import Desk

HERE = Path(__file__).parent


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """The offscreen platform warns that it has no window manager to hint to; every other Qt warning fails a test."""
    for item in items:
        if HERE in item.path.parents:
            item.add_marker(pytest.mark.qt_log_ignore("propagateSizeHints", extend=True))


@pytest.fixture(autouse=True)
def dressed(qapp):
    """The application in the light ground at 100 %, as a program on a common screen wears it."""
    dress(qapp, Ground.LIGHT)
    return qapp


class Clock:
    """A clock that a test moves; each look at it is a second later, so that steps have an order."""

    def __init__(self) -> None:
        self.moment = datetime(2026, 5, 12, 8, tzinfo=UTC)

    def __call__(self) -> datetime:
        self.moment += timedelta(seconds=1)
        return self.moment

    def pass_minutes(self, minutes: int) -> None:
        """Let time go by."""
        self.moment += timedelta(minutes=minutes)


class Strays(QObject):
    """Notes every window that is shown beside the main one: a widget shown before it has its place flashes up."""

    def __init__(self) -> None:
        super().__init__()
        self.seen: list[str] = []

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        window = isinstance(watched, QWidget) and watched.isWindow() and not isinstance(watched, QMainWindow)
        if event.type() == QEvent.Type.Show and window and watched.windowType() is Qt.WindowType.Window:
            self.seen.append(repr(watched))
        return False


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def workspace(tmp_path: Path) -> Path:
    return tmp_path / "workspace"


@pytest.fixture
def front(qtbot, qapp, workspace: Path, tmp_path: Path, clock: Clock) -> Iterator[Front]:
    """The whole program on an empty workspace, shown at the size of a small notebook."""
    dress(qapp, Ground.LIGHT)
    settings = QSettings(str(tmp_path / "settings.ini"), QSettings.Format.IniFormat)
    settings.setValue("person", "Ada Lindqvar")
    desk = Desk.open(workspace, create=True, clock=clock)
    strays = Strays()
    qapp.installEventFilter(strays)
    made = Front(desk, settings=settings)
    qtbot.addWidget(made.window)
    made.window.resize(1280, 800)
    made.show_yard()
    made.window.show()
    yield made
    made.close()
    desk.close()
    qapp.removeEventFilter(strays)
    assert strays.seen == []
