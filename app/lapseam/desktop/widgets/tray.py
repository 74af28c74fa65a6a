"""The tray: photos that are on no shot yet, or not surely; each put somewhere by a key."""

from __future__ import annotations

from PySide6.QtCore import QAbstractListModel, QModelIndex, QPersistentModelIndex, QRect, QSize, Qt, Signal
from PySide6.QtGui import QFontMetricsF, QKeyEvent, QPainter, QPen
from PySide6.QtWidgets import QHBoxLayout, QListView, QStyle, QStyledItemDelegate, QVBoxLayout, QWidget

from ..pictures import PictureShelf
from ..theme import inks, letter, px
from ..waiting import TrayPhoto
from ..words import _, _n
from .bay_button import BayButton
from .labels import label, sheet

THUMB_PX = 320
_ROLE = Qt.ItemDataRole.UserRole
Index = QModelIndex | QPersistentModelIndex


class TrayModel(QAbstractListModel):
    """The photos as rows."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._photos: tuple[TrayPhoto, ...] = ()

    def show_photos(self, photos: tuple[TrayPhoto, ...]) -> None:
        """Show these photos."""
        self.beginResetModel()
        self._photos = photos
        self.endResetModel()

    def photo(self, index: Index) -> TrayPhoto | None:
        """The photo of a row."""
        return self._photos[index.row()] if index.isValid() and index.row() < len(self._photos) else None

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        return 0 if parent.isValid() else len(self._photos)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        photo = self.photo(index)
        if photo is None:
            return None
        if role == Qt.ItemDataRole.DisplayRole:
            return photo.name
        if role in (Qt.ItemDataRole.ToolTipRole, Qt.ItemDataRole.AccessibleTextRole):
            return photo.words
        return photo if role == _ROLE else None


class _Thumb(QStyledItemDelegate):
    """A thumbnail, its name, and the shot it may belong to."""

    def __init__(self, shelf: PictureShelf, parent: QWidget) -> None:
        super().__init__(parent)
        self._shelf = shelf

    def sizeHint(self, option, index: Index) -> QSize:
        return QSize(px(184), px(172))

    def paint(self, painter: QPainter, option, index: Index) -> None:
        colours = inks()
        photo = index.data(_ROLE)
        box = option.rect.adjusted(px(4), px(4), -px(4), -px(4))
        chosen = bool(option.state & QStyle.StateFlag.State_Selected)
        painter.save()
        if chosen:
            painter.fillRect(option.rect.adjusted(px(1), px(1), -px(1), -px(1)), colours.shade)
            painter.setPen(QPen(colours.signal, 3))
            painter.drawRect(option.rect.adjusted(px(2), px(2), -px(3), -px(3)))
        picture = QRect(box.x() + px(4), box.y() + px(4), box.width() - px(8), px(112))
        self._paint_picture(painter, picture, photo.sha256)
        self._paint_words(painter, QRect(picture.x(), picture.bottom() + px(4), picture.width(), px(44)), photo)
        painter.restore()

    def _paint_picture(self, painter: QPainter, box: QRect, sha256: str) -> None:
        painter.fillRect(box, inks().shade)
        pixmap = self._shelf.picture(sha256, THUMB_PX)
        if pixmap is not None and not pixmap.isNull():
            size = pixmap.size().scaled(box.size(), Qt.AspectRatioMode.KeepAspectRatio)
            corner = (box.x() + (box.width() - size.width()) // 2, box.y() + (box.height() - size.height()) // 2)
            painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
            painter.drawPixmap(QRect(*corner, size.width(), size.height()), pixmap)

    def _paint_words(self, painter: QPainter, box: QRect, photo: TrayPhoto) -> None:
        colours = inks()
        where = photo.proposed_title or _("no shot found")
        for row, (words, ink, size) in enumerate(((where, colours.ink, 13), (photo.name, colours.soft, 12))):
            font = letter(size, letter().Weight.Bold if row == 0 and photo.proposed else letter().Weight.Normal)
            painter.setFont(font)
            painter.setPen(ink)
            line = QRect(box.x(), box.y() + row * px(20), box.width(), px(20))
            cut = QFontMetricsF(font).elidedText(words, Qt.TextElideMode.ElideRight, box.width())
            painter.drawText(line, Qt.AlignmentFlag.AlignVCenter, cut)


class _TrayList(QListView):
    """The thumbnails, side by side, walked with the arrow keys."""

    key = Signal(int)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_P, Qt.Key.Key_E, Qt.Key.Key_S):
            self.key.emit(event.key())
        else:
            super().keyPressEvent(event)


class Tray(QWidget):
    """The tray and what can be done with its chosen photo.

    Signals:
        accept_wanted(sha256, shot): the proposal is right.
        place_wanted(sha256): put it on the shot that is open now.
        extra_wanted(sha256): make it an extra of a zone.
        aside_wanted(sha256): set it aside.
    """

    accept_wanted = Signal(str, str)
    place_wanted = Signal(str)
    extra_wanted = Signal(str)
    aside_wanted = Signal(str)

    def __init__(self, shelf: PictureShelf, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        sheet("sheet", self)
        self.headline = label("lead")
        self.model = TrayModel(self)
        self.list = _TrayList()
        self.list.setModel(self.model)
        self.list.setItemDelegate(_Thumb(shelf, self.list))
        self.list.setFlow(QListView.Flow.LeftToRight)
        self.list.setWrapping(True)
        self.list.setResizeMode(QListView.ResizeMode.Adjust)
        self.list.setUniformItemSizes(True)
        self.list.setAccessibleName(_("Photos in the tray"))
        self.list.setMouseTracking(True)
        shelf.arrived.connect(lambda _sha256: self.list.viewport().update())
        self.list.key.connect(self._key)
        self.list.doubleClicked.connect(lambda _index: self._key(Qt.Key.Key_Return))
        self.list.selectionModel().currentChanged.connect(lambda *_rows: self._show_what_can_be_done())
        self.accept = BayButton(_("Accept"), key="Enter", drawing="tick", go=True)
        self.place = BayButton(_("On this shot"), key="P", drawing="place")
        self.extra = BayButton(_("Extra"), key="E", drawing="extra")
        self.aside = BayButton(_("Set aside"), key="S", drawing="aside")
        for button, key in (
            (self.accept, Qt.Key.Key_Return),
            (self.place, Qt.Key.Key_P),
            (self.extra, Qt.Key.Key_E),
            (self.aside, Qt.Key.Key_S),
        ):
            button.clicked.connect(lambda _checked=False, key=key: self._key(key))
        self._lay_out()
        self.show_photos(())

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(px(20), px(14), px(20), px(14))
        column.setSpacing(px(10))
        column.addWidget(self.headline)
        column.addWidget(self.list, 1)
        buttons = QHBoxLayout()
        buttons.setSpacing(px(8))
        for button in (self.accept, self.place, self.extra, self.aside):
            buttons.addWidget(button)
        buttons.addStretch(1)
        column.addLayout(buttons)

    def show_photos(self, photos: tuple[TrayPhoto, ...]) -> None:
        """Show the tray; the keyboard stays where it was, or on the next photo."""
        row = max(0, self.list.currentIndex().row())
        self.model.show_photos(photos)
        if photos:
            self.headline.setText(_n("{n} photo waits for a place", "{n} photos wait for a place", len(photos)))
            self.list.setCurrentIndex(self.model.index(min(row, len(photos) - 1)))
        else:
            self.headline.setText(_("The tray is empty: every photo has its place."))
        self._show_what_can_be_done()

    def chosen(self) -> TrayPhoto | None:
        """The photo that the buttons and keys speak of."""
        return self.model.photo(self.list.currentIndex())

    def _show_what_can_be_done(self) -> None:
        photo = self.chosen()
        self.accept.setEnabled(photo is not None and bool(photo.proposed))
        for button in (self.place, self.extra, self.aside):
            button.setEnabled(photo is not None)

    def _key(self, key: int) -> None:
        photo = self.chosen()
        if photo is None:
            return
        if key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            if photo.proposed:
                self.accept_wanted.emit(photo.sha256, photo.proposed)
        elif key == Qt.Key.Key_P:
            self.place_wanted.emit(photo.sha256)
        elif key == Qt.Key.Key_E:
            self.extra_wanted.emit(photo.sha256)
        elif key == Qt.Key.Key_S:
            self.aside_wanted.emit(photo.sha256)
