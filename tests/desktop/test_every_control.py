"""Every control of every window has a name for a screen reader, is reached by the keyboard, and is large enough.

Targets: WCAG 2.2, 2.5.8 asks 24 px; what is pressed in gloves is 48 px here.
"""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QComboBox,
    QFrame,
    QLineEdit,
    QPlainTextEdit,
    QScrollBar,
    QWidget,
)

from desktop.looks import SCENES, Stage
from lapseam.desktop.widgets.bay_button import BayButton
from lapseam.desktop.widgets.lap_ribbon import RibbonSegment
from lapseam.desktop.widgets.tick_row import TickRow
from lapseam.desktop.widgets.word_field import Suggestions

CONTROLS = (QAbstractButton, QLineEdit, QPlainTextEdit, QComboBox, QAbstractItemView)


@pytest.fixture(params=SCENES)
def stage(request, qtbot):
    made = Stage()
    qtbot.addWidget(made.window)
    made.window.resize(1280, 800)
    with qtbot.waitExposed(made.window):
        made.window.show()
    SCENES[request.param](made)
    stations = (made.walk, made.yard, made.findings, made.edition, made.plans, made.answers)
    qtbot.waitUntil(lambda: any(one.isVisible() for one in stations))
    return made


def controls(window: QWidget) -> list[QWidget]:
    """Everything a person can act on that is shown now, without the inner parts of Qt's own lists."""

    def ours(widget: QWidget) -> bool:
        inner = isinstance(widget.parent(), QComboBox) or isinstance(widget, QScrollBar)
        popup = widget.window() is not window
        return not inner and not popup

    found = [one for kind in CONTROLS for one in window.findChildren(kind) if one.isVisible() and ours(one)]
    rows = [
        one for one in window.findChildren(QFrame) if one.isVisible() and one.focusPolicy() & Qt.FocusPolicy.TabFocus
    ]
    return [*found, *(row for row in rows if ours(row) and row not in found)]


def test_every_control_has_a_name(stage):
    nameless = [
        f"{type(one).__name__} at {one.geometry()}" for one in controls(stage.window) if not one.accessibleName()
    ]
    assert nameless == []
    assert len(controls(stage.window)) > 4


def test_what_is_pressed_in_gloves_is_48_pixels_each_way(stage):
    small = [
        f"{one.accessibleName()}: {one.width()} x {one.height()}"
        for one in controls(stage.window)
        if isinstance(one, BayButton | TickRow) and min(one.width(), one.height()) < 48
    ]
    assert small == []


def test_every_control_is_reached_by_keys(stage):
    """By Tab, or inside a strip that the arrow keys walk (the ribbon), or by typing (actions found, words meant)."""
    unreached = [
        one.accessibleName()
        for one in controls(stage.window)
        if one.isEnabled()
        and not one.focusPolicy() & Qt.FocusPolicy.TabFocus
        and not isinstance(one, RibbonSegment)
        and one is not stage.window.find.found
        and not isinstance(one, Suggestions)
    ]
    assert unreached == []


def test_no_word_of_a_button_is_cut(stage):
    cut = [
        one.accessibleName()
        for one in controls(stage.window)
        if isinstance(one, BayButton) and one.width() < one.sizeHint().width()
    ]
    assert cut == []
