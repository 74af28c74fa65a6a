"""One picture, whole and never cropped, on a quiet mat."""

from __future__ import annotations

from PySide6.QtCore import QRect, QSize, Qt
from PySide6.QtGui import QPainter, QPixmap
from PySide6.QtWidgets import QSizePolicy, QWidget

from ..pictures import PictureShelf
from ..theme import inks, letter, px
from ..words import _


class Picture(QWidget):
    """Shows the photo of one hash, asking the shelf for the size it needs; without one, a word on the mat."""

    def __init__(self, shelf: PictureShelf, *, longest_px: int, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._shelf = shelf
        self._longest_px = longest_px
        self._sha256 = ""
        self._empty = ""
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        shelf.arrived.connect(self._arrived)

    def show_photo(self, sha256: str, words: str, *, empty: str = "") -> None:
        """Show another photo; `words` say what it is, `empty` stands where there is none."""
        self._sha256, self._empty = sha256, empty
        self.setAccessibleName(words or empty)
        self.setToolTip(words)
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(px(self._longest_px / 2), px(self._longest_px / 3)).boundedTo(QSize(px(480), px(320)))

    def minimumSizeHint(self) -> QSize:
        return QSize(px(80), px(60))

    def paintEvent(self, event) -> None:
        colours = inks()
        painter = QPainter(self)
        painter.fillRect(self.rect(), colours.shade)
        pixmap = self._shelf.picture(self._sha256, self._longest_px) if self._sha256 else None
        if pixmap is not None and not pixmap.isNull():
            self._paint_photo(painter, pixmap)
            return
        words = self._empty
        if self._sha256:
            words = _("Loading …") if pixmap is None else _("This photo cannot be shown.")
        painter.setPen(colours.soft)
        painter.setFont(letter(16))
        room = self.rect().adjusted(px(24), px(8), -px(24), -px(8))
        painter.drawText(room, int(Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap), words)

    def _paint_photo(self, painter: QPainter, pixmap: QPixmap) -> None:
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        painter.drawPixmap(self.photo_box(pixmap), pixmap)

    def photo_box(self, pixmap: QPixmap) -> QRect:
        """Where the picture lies in the widget."""
        size = pixmap.size().scaled(self.size(), Qt.AspectRatioMode.KeepAspectRatio)
        return QRect(
            (self.width() - size.width()) // 2, (self.height() - size.height()) // 2, size.width(), size.height()
        )

    def _arrived(self, sha256: str) -> None:
        if sha256 == self._sha256:
            self.update()
