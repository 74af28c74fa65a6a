"""The questions that callers ask, to be asked without typing."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QListWidget, QWidget

from ...widgets.wrapped_rows import wrap_rows
from ...words import _


class QuestionList(QListWidget):
    """Enter asks one; Up from the first goes back to the question.

    Signals:
        chosen(words), up_and_out().
    """

    chosen = Signal(str)
    up_and_out = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(_("Questions that callers ask"))
        wrap_rows(self)
        self.itemClicked.connect(lambda item: self.chosen.emit(item.text()))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        item = self.currentItem()
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and item is not None:
            self.chosen.emit(item.text())
        elif event.key() == Qt.Key.Key_Up and self.currentRow() <= 0:
            self.up_and_out.emit()
        else:
            super().keyPressEvent(event)
