"""Big buttons for the bay: at least 48 px high and wide, with their key shown on them."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QFontMetricsF, QIcon, QPainter
from PySide6.QtWidgets import QPushButton, QSizePolicy, QStyle, QStyleOptionButton, QStylePainter, QWidget

from ..icons import icon
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
        if drawing:
            self.setIcon(icon(drawing, "on_signal" if go else "ink"))

    def say(self, words: str) -> None:
        """Change the words, for the eye and for a screen reader."""
        self.setText(words)
        self.setAccessibleName(words)

    def show_key(self, key: str) -> None:
        """Change the key shown; "" shows none."""
        self._key = key
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        words = QFontMetricsF(letter(16, letter().Weight.DemiBold)).horizontalAdvance(self.text())
        drawing = px(24) + px(8) if not self.icon().isNull() else 0
        width = px(14) + drawing + words + (px(10) + self._key_width() if self._key else 0) + px(14)
        return QSize(max(px(TARGET), round(width) + 2), px(TARGET))

    def minimumSizeHint(self) -> QSize:
        return self.sizeHint()

    def _key_width(self) -> float:
        return QFontMetricsF(letter(13, numbers=True)).horizontalAdvance(self._key)

    def paintEvent(self, event) -> None:
        option = QStyleOptionButton()
        self.initStyleOption(option)
        words, option.text = option.text, ""
        drawing, option.icon = option.icon, QIcon()
        painter = QStylePainter(self)
        painter.drawControl(QStyle.ControlElement.CE_PushButton, option)
        self._paint_words(painter, words, drawing)

    def _paint_words(self, painter: QPainter, words: str, drawing: QIcon) -> None:
        colours = inks()
        ink = colours.on_signal if self._go else colours.sheet if self.isChecked() else colours.ink
        if not self.isEnabled():
            ink = colours.soft
        content = self.sizeHint().width() - 2 * px(14)
        left = max(px(14), round((self.width() - content) / 2))
        if not drawing.isNull():
            mode = drawing.Mode.Normal if self.isEnabled() else drawing.Mode.Disabled
            on = drawing.State.On if self.isChecked() else drawing.State.Off
            drawing.paint(
                painter, left, (self.height() - px(24)) // 2, px(24), px(24), Qt.AlignmentFlag.AlignCenter, mode, on
            )
            left += px(24) + px(8)
        painter.setPen(ink)
        weight = letter().Weight.DemiBold if self.isEnabled() else letter().Weight.Normal
        painter.setFont(letter(16, weight))
        box = self.rect().adjusted(left, 0, 0, 0)
        painter.drawText(box, Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft, words)
        if self._key:
            painter.setFont(letter(13, numbers=True))
            left += round(QFontMetricsF(letter(16, letter().Weight.DemiBold)).horizontalAdvance(words)) + px(10)
            box = self.rect().adjusted(left, 0, 0, 0)
            painter.drawText(box, Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft, self._key)
