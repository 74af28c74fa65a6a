"""A field of several lines, from which Tab goes on as from any other."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtGui import QFocusEvent
from PySide6.QtWidgets import QPlainTextEdit, QWidget

from ..theme import px


class LinesField(QPlainTextEdit):
    """Several lines of plain text, as high as `lines` of them.

    Signals:
        typed(words): a person changed it. left(): the keyboard went elsewhere.
    """

    typed = Signal(str)
    left = Signal()

    def __init__(self, lines: int, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._telling = False
        self.setTabChangesFocus(True)
        self.setFixedHeight(px(28) + lines * self.fontMetrics().lineSpacing())
        self.textChanged.connect(self._tell)

    def text(self) -> str:
        """What stands in it."""
        return self.toPlainText()

    def setText(self, words: str) -> None:
        """Show other words; nothing is signalled."""
        self._telling = True
        self.setPlainText(words)
        self._telling = False

    def select(self, start: int, end: int) -> None:
        """Choose the words between two places, and take the keyboard."""
        cursor = self.textCursor()
        cursor.setPosition(start)
        cursor.setPosition(end, cursor.MoveMode.KeepAnchor)
        self.setTextCursor(cursor)
        self.setFocus()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        self.left.emit()

    def _tell(self) -> None:
        if not self._telling:
            self.typed.emit(self.toPlainText())
