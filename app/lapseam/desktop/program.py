"""The program with its window: makes the application, opens the workspace, and shows the Yard or a car."""

from __future__ import annotations

import gc
import sys
from pathlib import Path

from PySide6.QtCore import QSettings
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QApplication, QMessageBox

from lapseam.domain.errors import UserError
from lapseam.places import default_workspace
from lapseam.workflow import Desk

from .front import Front
from .look import Ground
from .theme import dress, text_percent_for
from .words import _, use

_THEME = "theme"
_SWITCH_S = 0.0003
"""How long another thread may hold the interpreter while the window waits for it; Python's own 5 ms add up."""
_GARBAGE = (20_000, 20, 100)
"""How many new objects call for a search, and how many of those for a deeper one."""


def main(folder: Path | None = None, *, stock: str = "") -> int:
    """Open the windows on a workspace (made where there is none), on a car where one is named; the exit code."""
    app = QApplication.instance() or QApplication(sys.argv[:1])
    assert isinstance(app, QApplication)
    app.setApplicationName("Lapseam")
    steady()
    settings = QSettings("Lapseam", "Lapseam")
    _dress(app, settings)
    try:
        desk = Desk.open(folder or default_workspace(), create=True)
    except UserError as error:
        QMessageBox.critical(None, "Lapseam", str(error))
        return 2
    with desk:
        speak_as_the_house(desk)
        front = Front(desk, settings=settings)
        _add_themes(app, front, settings)
        if stock:
            front.open_walk(stock, "")
        front.show_yard() if not stock else front.yard.refresh()
        front.window.showMaximized()
        code = app.exec()
        front.close()
    return code


def speak_as_the_house(desk: Desk) -> None:
    """Show windows, cars and coverage in the house's language; in English, with a word about it, where that fails."""
    try:
        texts, language = desk.window_texts(), desk.language
    except UserError as error:
        QMessageBox.warning(None, "Lapseam", str(error))
        return
    use(texts)
    desk.shown_in = language


def steady() -> None:
    """Keep Python's own pauses short: other threads give way sooner, and what is loaded once is not searched for
    garbage again and again (a full search of the heap stops every thread for a tenth of a second)."""
    sys.setswitchinterval(_SWITCH_S)
    gc.collect()
    gc.freeze()
    gc.set_threshold(*_GARBAGE)


def _dress(app: QApplication, settings: QSettings) -> None:
    screen = QGuiApplication.primaryScreen()
    percent = text_percent_for(screen.availableSize().height()) if screen else 100
    dress(app, _ground(settings), text_percent=percent)


def _ground(settings: QSettings) -> Ground:
    named = str(settings.value(_THEME, Ground.LIGHT.value))
    return Ground(named) if named in set(Ground) else Ground.LIGHT


def _add_themes(app: QApplication, front: Front, settings: QSettings) -> None:
    names = {
        Ground.LIGHT: _("Paper ground"),
        Ground.DARK: _("Dark ground, for the lift bay"),
        Ground.BRIGHT: _("Highest contrast"),
    }

    def take(ground: Ground) -> None:
        settings.setValue(_THEME, ground.value)
        _dress(app, settings)

    for ground, words in names.items():
        front.window.actions.add(f"ground.{ground.value}", words, lambda ground=ground: take(ground), drawing="lamp")
