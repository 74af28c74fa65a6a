"""Labels and rules that take their looks from the style sheet by a part's name."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QLabel, QLayout, QWidget


def label(part: str = "", *, wrap: bool = False, text: str = "") -> QLabel:
    """A plain-text label; nothing in it is ever read as markup."""
    made = QLabel(text)
    made.setTextFormat(Qt.TextFormat.PlainText)
    made.setWordWrap(wrap)
    if part:
        made.setProperty("part", part)
    return made


def rule(*, standing: bool = False) -> QFrame:
    """A hairline between two things."""
    line = QFrame()
    line.setProperty("part", "stand" if standing else "rule")
    return line


def sheet(part: str, widget: QWidget | None = None) -> QWidget:
    """A widget with one of the grounds behind it."""
    made = widget or QWidget()
    made.setProperty("part", part)
    made.setAttribute(Qt.WidgetAttribute.WA_StyledBackground)
    return made


def clear(layout: QLayout) -> None:
    """Take every widget out of a layout and let it go."""
    while (item := layout.takeAt(0)) is not None:
        widget = item.widget()
        if widget is not None:
            widget.hide()
            widget.setParent(None)
            widget.deleteLater()
        elif item.layout() is not None:
            clear(item.layout())
