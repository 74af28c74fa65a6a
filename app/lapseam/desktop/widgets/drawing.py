"""A drawing of our own as a widget: one icon in one colour of the look."""

from __future__ import annotations

from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QWidget

from ..icons import paint_icon
from ..theme import inks, px


class Drawing(QWidget):
    """One icon, `side` pixels at 100 %. It says nothing to a screen reader; the words beside it do."""

    def __init__(self, name: str, *, side: int = 28, ink: str = "ink", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._name, self._ink = name, ink
        self.setFixedSize(px(side), px(side))

    def show_drawing(self, name: str, ink: str) -> None:
        """Show another one."""
        self._name, self._ink = name, ink
        self.update()

    def paintEvent(self, event) -> None:
        paint_icon(QPainter(self), self._name, QRectF(self.rect()), getattr(inks(), self._ink))
