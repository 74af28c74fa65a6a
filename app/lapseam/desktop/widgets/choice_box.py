"""A list that opens downwards, with an arrow of our own in the theme's ink."""

from __future__ import annotations

from PySide6.QtCore import QLineF, Qt
from PySide6.QtGui import QPainter, QPen
from PySide6.QtWidgets import QComboBox

from ..theme import inks, px


class ChoiceBox(QComboBox):
    """A combo box that cannot be typed into."""

    def paintEvent(self, event) -> None:
        super().paintEvent(event)
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(inks().ink, 1.75, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap))
        across, down, arm = self.width() - px(20), self.height() / 2, px(5)
        painter.drawLine(QLineF(across - arm, down - arm / 2, across, down + arm / 2))
        painter.drawLine(QLineF(across, down + arm / 2, across + arm, down - arm / 2))
