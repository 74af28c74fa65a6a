"""Big buttons for the bay: at least 48 px high and wide, with their key shown on them."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPen
from PySide6.QtWidgets import QPushButton, QSizePolicy, QStyle, QStyleOptionButton, QStylePainter, QWidget

from ..icons import paint_icon
from ..theme import inks, letter, px

TARGET = 48
"""The least side of anything that is pressed in gloves, in pixels at 100 %."""


class BayButton(QPushButton):
    """A push button with words, a drawing, and the key that does the same, in small figures at its right."""

    def __init__(
        self, words: str, *, key: str = "", drawing: str = "", go: bool = False, parent: QWidget | None = None
    ) -> None:
        super().__init__(words, parent)
        self._key = key
        if go:
            self.setProperty("part", "go")
        self._go = go
        self.setAccessibleName(words)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        self._drawing = drawing

    def say(self, words: str) -> None:
        """Change the words, for the eye and for a screen reader."""
        self.setText(words)
        self.setAccessibleName(words)

    @property
    def key(self) -> str:
        """The key shown, "" for none."""
        return self._key

    def show_key(self, key: str) -> None:
        """Change the key shown; "" shows none."""
        self._key = key
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        words = QFontMetricsF(letter(16, letter().Weight.Bold)).horizontalAdvance(self.text())
        width = px(14) + self._drawing_width() + words + (px(10) + self._key_width() if self._key else 0) + px(14)
        return QSize(max(px(TARGET), round(width) + 2), px(TARGET))

    def minimumSizeHint(self) -> QSize:
        return self.sizeHint()

    def _drawing_width(self) -> int:
        if not self._drawing:
            return 0
        return px(22) + px(8) if self.text() else px(22)

    def _key_width(self) -> float:
        return QFontMetricsF(letter(13, numbers=True)).horizontalAdvance(self._key)

    def paintEvent(self, event) -> None:
        option = QStyleOptionButton()
        self.initStyleOption(option)
        words, option.text = option.text, ""
        painter = QStylePainter(self)
        painter.drawControl(QStyle.ControlElement.CE_PushButton, option)
        self._paint_content(painter, words)
        if self._go and self.hasFocus():
            painter.setPen(QPen(inks().sheet, 2))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(self.rect().adjusted(4, 4, -5, -5))

    def _paint_content(self, painter: QPainter, words: str) -> None:
        ink = self._ink()
        left = max(px(12), round((self.width() - self.sizeHint().width()) / 2) + px(14))
        if self._drawing:
            side = px(22)
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            at = left if words else (self.width() - side) / 2
            paint_icon(painter, self._drawing, QRectF(at, (self.height() - side) / 2, side, side), ink)
            left += self._drawing_width()
        weight = letter().Weight.Bold if self.isEnabled() else letter().Weight.Normal
        painter.setPen(ink)
        painter.setFont(letter(16, weight))
        box = self.rect().adjusted(left, 0, 0, 0)
        painter.drawText(box, Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft, words)
        if self._key:
            painter.setFont(letter(13, numbers=True))
            left += round(QFontMetricsF(letter(16, letter().Weight.Bold)).horizontalAdvance(words)) + px(10)
            box = self.rect().adjusted(left, 0, 0, 0)
            painter.drawText(box, Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft, self._key)

    def _ink(self) -> QColor:
        colours = inks()
        if not self.isEnabled():
            return colours.soft
        if self._go:
            return colours.on_signal
        return colours.sheet if self.isChecked() else colours.ink
