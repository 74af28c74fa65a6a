"""One must-see item: a box of at least 48 px that can be ticked in gloves."""

from __future__ import annotations

import itertools

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPen
from PySide6.QtWidgets import QAbstractButton, QSizePolicy, QWidget

from lapseam.domain.decision import Sight

from ..theme import inks, letter, px
from ..words import _
from .bay_button import TARGET

_BOX = 30
_WORDS = 17


class TickRow(QAbstractButton):
    """A tick box with its words and its key; the whole row is the target."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._sight: Sight | None = None
        self._key = ""
        self.setCheckable(True)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)

    def show_item(self, words: str, sight: Sight | None, key: str) -> None:
        """Show another item."""
        self._sight, self._key = sight, key
        self.setText(words)
        self.setChecked(sight is not None)
        self.setAccessibleName(words)
        self.setAccessibleDescription(_("metal hidden by coating") if sight is Sight.COATED else "")
        self.updateGeometry()
        self.update()

    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        room = QRectF(0, 0, width - px(_BOX) - px(14) - px(26), 10_000)
        metrics = QFontMetricsF(letter(_WORDS))
        words = metrics.boundingRect(room, int(Qt.TextFlag.TextWordWrap), self.text())
        return max(px(TARGET), round(words.height()) + px(12))

    def sizeHint(self) -> QSize:
        return QSize(px(300), self.heightForWidth(max(self.width(), px(300))))

    def minimumSizeHint(self) -> QSize:
        return QSize(px(200), px(TARGET))

    def paintEvent(self, event) -> None:
        colours = inks()
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if self.underMouse() and self.isEnabled():
            painter.fillRect(self.rect(), colours.shade)
        box = QRectF(px(2), (self.height() - px(_BOX)) / 2, px(_BOX), px(_BOX)).adjusted(1, 1, -1, -1)
        self._paint_box(painter, box)
        painter.setPen(colours.ink if self.isEnabled() else colours.soft)
        painter.setFont(letter(_WORDS))
        words = self.rect().adjusted(px(_BOX) + px(14), 0, -px(26), 0)
        painter.drawText(words, int(Qt.AlignmentFlag.AlignVCenter | Qt.TextFlag.TextWordWrap), self.text())
        painter.setPen(colours.soft)
        painter.setFont(letter(13, numbers=True))
        key = self.rect().adjusted(self.width() - px(24), 0, -px(6), 0)
        painter.drawText(key, Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignRight, self._key)
        painter.fillRect(0, self.height() - 1, self.width(), 1, colours.line)
        if self.hasFocus():
            painter.setPen(QPen(colours.focus, 3))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(self.rect().adjusted(1, 1, -2, -2))

    def _paint_box(self, painter: QPainter, box: QRectF) -> None:
        """Open, ticked solid with a tick, or half with a bar where coating hides the metal."""
        colours = inks()
        dashed = Qt.PenStyle.SolidLine if self.isEnabled() else Qt.PenStyle.DashLine
        ink = colours.ink if self.isEnabled() else colours.soft
        painter.setPen(QPen(ink, 2, dashed))
        painter.setBrush(ink if self.isChecked() and self._sight is not Sight.COATED else Qt.BrushStyle.NoBrush)
        painter.drawRect(box)
        if not self.isChecked():
            return
        if self._sight is Sight.COATED:
            painter.fillRect(box.adjusted(px(5), box.height() / 2 - px(3), -px(5), -box.height() / 2 + px(3)), ink)
            return
        painter.setPen(QPen(colours.sheet, px(3), Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap))
        x, y, side = box.x(), box.y(), box.width()
        corners = ((0.22, 0.52), (0.42, 0.72), (0.78, 0.28))
        spots = [(x + side * across, y + side * down) for across, down in corners]
        for start, end in itertools.pairwise(spots):
            painter.drawLine(*(round(value) for value in (*start, *end)))
