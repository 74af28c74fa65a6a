"""A zone's photos in a row, to choose one from; what the finding uses of them is said on each."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from PySide6.QtCore import QRect, QSize, Qt, Signal
from PySide6.QtGui import QFont, QFontMetricsF, QPainter, QPen
from PySide6.QtWidgets import (
    QFrame,
    QListView,
    QListWidget,
    QListWidgetItem,
    QStyle,
    QStyledItemDelegate,
    QWidget,
)

from ..pictures import PictureShelf
from ..screens.findings.state import PhotoRow
from ..theme import inks, letter, px
from ..words import _
from .tray import THUMB_PX

_ROW = Qt.ItemDataRole.UserRole
_USE = Qt.ItemDataRole.UserRole + 1
_WIDE, _HIGH = 124, 106


class Filmstrip(QListWidget):
    """Thumbnails side by side, walked with Left and Right.

    Signals:
        chosen(sha256): the photo to look at.
    """

    chosen = Signal(str)

    def __init__(self, shelf: PictureShelf, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(_("Photos of this zone"))
        self.setFlow(QListView.Flow.LeftToRight)
        self.setWrapping(False)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setUniformItemSizes(True)
        self.setHorizontalScrollMode(QListView.ScrollMode.ScrollPerPixel)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setItemDelegate(_Thumb(shelf, self))
        self.setFixedHeight(px(_HIGH) + px(16))
        shelf.arrived.connect(lambda _sha256: self.viewport().update())
        self.currentItemChanged.connect(self._moved)

    def show_photos(self, rows: Sequence[PhotoRow], uses: Mapping[str, str], chosen: str) -> None:
        """Show these photos; `uses` says in a word what the finding uses a photo for. Nothing is signalled."""
        self.blockSignals(True)
        if [self.item(at).data(_ROW) for at in range(self.count())] != list(rows):
            self.clear()
            for row in rows:
                item = QListWidgetItem(self)
                item.setData(_ROW, row)
                item.setToolTip(row.words)
        for at, row in enumerate(rows):
            use = uses.get(row.sha256, "")
            self.item(at).setData(_USE, use)
            said = _("{photo}, {use}").format(photo=row.words, use=use) if use else row.words
            self.item(at).setData(Qt.ItemDataRole.AccessibleTextRole, said)
        self.blockSignals(False)
        self.stand_on(chosen)
        self.viewport().update()

    def stand_on(self, sha256: str) -> None:
        """Choose a photo; nothing is signalled."""
        self.blockSignals(True)
        for at in range(self.count()):
            if self.item(at).data(_ROW).sha256 == sha256:
                self.setCurrentRow(at)
                self.scrollToItem(self.item(at))
        self.blockSignals(False)

    def step(self, by: int) -> None:
        """Choose a neighbour."""
        if self.count():
            self.setCurrentRow(min(max(self.currentRow() + by, 0), self.count() - 1))

    @property
    def photo(self) -> PhotoRow | None:
        """The photo chosen."""
        item = self.currentItem()
        return item.data(_ROW) if item else None

    def _moved(self, item: QListWidgetItem | None) -> None:
        if item is not None:
            self.chosen.emit(item.data(_ROW).sha256)


class _Thumb(QStyledItemDelegate):
    """A thumbnail with its name, or what the finding uses it for."""

    def __init__(self, shelf: PictureShelf, parent: QWidget) -> None:
        super().__init__(parent)
        self._shelf = shelf

    def sizeHint(self, option, index) -> QSize:
        return QSize(px(_WIDE), px(_HIGH))

    def paint(self, painter: QPainter, option, index) -> None:
        colours = inks()
        row, use = index.data(_ROW), index.data(_USE)
        whole = option.rect.adjusted(px(2), px(2), -px(2), -px(2))
        painter.save()
        if option.state & QStyle.StateFlag.State_Selected:
            painter.setPen(QPen(colours.signal, 3))
            painter.drawRect(whole)
        picture = QRect(whole.x() + px(4), whole.y() + px(4), whole.width() - px(8), whole.height() - px(28))
        painter.fillRect(picture, colours.shade)
        pixmap = self._shelf.picture(row.sha256, THUMB_PX)
        if pixmap is not None and not pixmap.isNull():
            size = pixmap.size().scaled(picture.size(), Qt.AspectRatioMode.KeepAspectRatio)
            across = picture.x() + (picture.width() - size.width()) // 2
            down = picture.y() + (picture.height() - size.height()) // 2
            painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
            painter.drawPixmap(QRect(across, down, size.width(), size.height()), pixmap)
        font = letter(13, QFont.Weight.Bold if use else QFont.Weight.Normal)
        painter.setFont(font)
        painter.setPen(colours.ink if use or row.ticked else colours.soft)
        line = QRect(picture.x(), picture.bottom() + px(2), picture.width(), px(20))
        words = QFontMetricsF(font).elidedText(use or row.name, Qt.TextElideMode.ElideMiddle, line.width())
        painter.drawText(line, Qt.AlignmentFlag.AlignVCenter, words)
        painter.restore()
