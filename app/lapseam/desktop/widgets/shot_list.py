"""A list of shots under the headings of their chapters. Up and Down walk the shots and pass the headings over."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QFont
from PySide6.QtWidgets import QFrame, QListWidget, QListWidgetItem, QWidget

from ..theme import letter

_SHOT = Qt.ItemDataRole.UserRole


class ShotList(QListWidget):
    """Shows lines of (shot id, words); a line whose shot is "" is a heading.

    Signals:
        chosen(shot): the keyboard or a press went to that shot.
    """

    chosen = Signal(str)

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(name)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setWordWrap(True)
        self.setTextElideMode(Qt.TextElideMode.ElideNone)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.currentItemChanged.connect(self._moved)

    def show_lines(self, lines: Sequence[tuple[str, str]], chosen: str = "") -> None:
        """Show other lines and stand on a shot, the first where that one is not there. Nothing is signalled."""
        self.blockSignals(True)
        self.clear()
        for shot, words in lines:
            item = QListWidgetItem(words, self)
            item.setData(_SHOT, shot)
            if not shot:
                item.setFlags(Qt.ItemFlag.NoItemFlags)
                item.setFont(letter(14, QFont.Weight.Bold))
        self.stand_on(chosen if chosen in {shot for shot, _words in lines} else next((s for s, _w in lines if s), ""))
        self.blockSignals(False)

    def stand_on(self, shot: str) -> None:
        """Choose a shot's line."""
        for at in range(self.count()):
            if shot and self.item(at).data(_SHOT) == shot:
                self.setCurrentRow(at)
                self.scrollToItem(self.item(at), QListWidget.ScrollHint.PositionAtCenter)

    def say(self, shot: str, words: str) -> None:
        """Change the words of a shot's line."""
        for at in range(self.count()):
            if self.item(at).data(_SHOT) == shot:
                self.item(at).setText(words)

    @property
    def shot(self) -> str:
        """The shot stood on, "" for none."""
        item = self.currentItem()
        return str(item.data(_SHOT)) if item else ""

    def _moved(self, item: QListWidgetItem | None) -> None:
        if item is not None and item.data(_SHOT):
            self.chosen.emit(str(item.data(_SHOT)))
