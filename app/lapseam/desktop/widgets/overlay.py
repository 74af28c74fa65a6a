"""A sheet over the middle of a window: what lies beneath is veiled until it is put away."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QColor, QMouseEvent, QPainter
from PySide6.QtWidgets import QFrame, QWidget

from ..theme import inks, px

_VEIL = 0.45


class Overlay(QWidget):
    """Covers its parent with a veil; `self.sheet` is what lies on it. A press beside the sheet puts it away."""

    def __init__(self, parent: QWidget, name: str, *, wide: int) -> None:
        super().__init__(parent)
        self.sheet = QFrame(self, objectName=name)
        self._wide = wide
        self._before: QWidget | None = None
        parent.installEventFilter(self)
        self.hide()

    def come_up(self) -> None:
        """Cover the parent and remember who had the keyboard."""
        self._before = self.window().focusWidget()
        self.place()
        self.show()
        self.raise_()

    def put_away(self) -> None:
        """Close it and give the keyboard back."""
        if self.isVisible():
            self.hide()
            if self._before is not None:
                self._before.setFocus()

    def place(self) -> None:
        """Lie over the whole parent, the sheet in its middle and as high as it needs."""
        room = self.parentWidget().size()
        self.setGeometry(0, 0, room.width(), room.height())
        layout = self.sheet.layout()
        width = min(px(self._wide), room.width() - px(32))
        wanted = layout.totalHeightForWidth(width) if layout.hasHeightForWidth() else self.sheet.sizeHint().height()
        height = min(wanted, room.height() - px(32))
        self.sheet.setGeometry((room.width() - width) // 2, max(px(16), (room.height() - height) // 4), width, height)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() == QEvent.Type.Resize and watched is self.parentWidget() and self.isVisible():
            self.place()
        return super().eventFilter(watched, event)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        if not self.sheet.geometry().contains(event.position().toPoint()):
            self.put_away()

    def paintEvent(self, event) -> None:
        colours = inks()
        veil = QColor(colours.ink if colours.ink.lightness() < colours.sheet.lightness() else Qt.GlobalColor.black)
        veil.setAlphaF(_VEIL)
        QPainter(self).fillRect(self.rect(), veil)
