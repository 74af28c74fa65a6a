"""One outlet's photos in order with why each is in, what its text must say, and the text to paste."""

from __future__ import annotations

from PySide6.QtCore import QAbstractListModel, QModelIndex, QPersistentModelIndex, QRect, QSize, Qt, Signal
from PySide6.QtGui import QFontMetricsF, QKeyEvent, QPainter
from PySide6.QtWidgets import (
    QHBoxLayout,
    QListView,
    QPlainTextEdit,
    QStackedWidget,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QVBoxLayout,
    QWidget,
)

from ...pictures import PictureShelf
from ...theme import inks, letter, px
from ...widgets.bay_button import BayButton
from ...widgets.choice_box import ChoiceBox
from ...widgets.labels import clear, label, sheet
from ...widgets.scroll import ColumnScroll
from ...words import _
from .outlet_state import OutletChoice, OutletPlace, OutletScreen

_ROLE = Qt.ItemDataRole.UserRole
_ROW, _THUMB, _THUMB_PX = 60, 72, 320
Index = QModelIndex | QPersistentModelIndex


class _Places(QAbstractListModel):
    """The photos of the set as rows."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.rows: tuple[OutletPlace, ...] = ()

    def show_places(self, places: tuple[OutletPlace, ...]) -> None:
        """Show these; the same again change nothing."""
        if places != self.rows:
            self.beginResetModel()
            self.rows = places
            self.endResetModel()

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        return 0 if parent.isValid() else len(self.rows)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        if not index.isValid() or index.row() >= len(self.rows):
            return None
        if role in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.AccessibleTextRole, Qt.ItemDataRole.ToolTipRole):
            return self.rows[index.row()].words
        return self.rows[index.row()] if role == _ROLE else None


class _Painter(QStyledItemDelegate):
    """Place, thumbnail, what is shown, why it is in."""

    def __init__(self, shelf: PictureShelf, parent: QWidget) -> None:
        super().__init__(parent)
        self._shelf = shelf

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        return QSize(px(200), px(_ROW))

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        place, colours = index.data(_ROLE), inks()
        if not isinstance(place, OutletPlace):
            return
        painter.save()
        box = option.rect
        if option.state & QStyle.StateFlag.State_Selected:
            painter.fillRect(box, colours.shade)
            painter.fillRect(QRect(box.left(), box.top(), px(4), box.height()), colours.signal)
        painter.setFont(letter(14, numbers=True))
        painter.setPen(colours.ink)
        number = QRect(box.left() + px(8), box.top(), px(32), box.height())
        painter.drawText(number, int(Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignRight), str(place.place))
        thumb = QRect(number.right() + px(8), box.top() + px(5), px(_THUMB), box.height() - px(10))
        painter.fillRect(thumb, colours.shade)
        pixmap = self._shelf.picture(place.sha256, _THUMB_PX)
        if pixmap is not None and not pixmap.isNull():
            size = pixmap.size().scaled(thumb.size(), Qt.AspectRatioMode.KeepAspectRatio)
            painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
            at = QRect(0, 0, size.width(), size.height())
            at.moveCenter(thumb.center())
            painter.drawPixmap(at, pixmap)
        self._words(painter, box.adjusted(thumb.right() + px(12) - box.left(), px(8), -px(10), -px(8)), place)
        painter.restore()

    @staticmethod
    def _words(painter: QPainter, box: QRect, place: OutletPlace) -> None:
        colours = inks()
        why = " · ".join(part for part in (place.wished, place.reason) if part)
        half = box.height() // 2
        for row, (words, ink, size) in enumerate(((place.title, colours.ink, 15), (why, colours.soft, 13))):
            painter.setFont(letter(size))
            painter.setPen(ink)
            cut = QFontMetricsF(painter.font()).elidedText(words, Qt.TextElideMode.ElideRight, box.width())
            line = QRect(box.left(), box.top() + row * half, box.width(), half)
            painter.drawText(line, Qt.AlignmentFlag.AlignVCenter, cut)


class OutletList(QListView):
    """The set. Alt with Up or Down moves a photo.

    Signals:
        step_wanted(sha256, steps).
    """

    step_wanted = Signal(str, int)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        steps = {Qt.Key.Key_Up: -1, Qt.Key.Key_Down: 1}.get(Qt.Key(event.key()), 0)
        place = self.currentIndex().data(_ROLE)
        if steps and event.modifiers() & Qt.KeyboardModifier.AltModifier and isinstance(place, OutletPlace):
            self.step_wanted.emit(place.sha256, steps)
        else:
            super().keyPressEvent(event)


class OutletPane(QWidget):
    """Shows one `OutletScreen`; pins and bans speak of the photo that is chosen in it or in the sequence.

    Signals:
        outlet_wanted(choice): an `OutletChoice`.
        pin_wanted(), ban_wanted(), free_wanted(): of the chosen photo.
        step_wanted(sha256, steps): move it in this outlet's order.
        chosen(sha256): a photo of the set.
        folder_wanted(), copy_wanted(): write its folder; take its text to the clipboard.
    """

    outlet_wanted = Signal(object)
    pin_wanted = Signal()
    ban_wanted = Signal()
    free_wanted = Signal()
    step_wanted = Signal(str, int)
    chosen = Signal(str)
    folder_wanted = Signal()
    copy_wanted = Signal()

    def __init__(self, shelf: PictureShelf, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        sheet("sheet", self)
        self.which = ChoiceBox()
        self.which.setAccessibleName(_("Outlet"))
        self.headline, self.standing = label("car"), label("signal", wrap=True)
        self.model = _Places(self)
        self.list = OutletList()
        self.list.setModel(self.model)
        self.list.setItemDelegate(_Painter(shelf, self.list))
        self.list.setUniformItemSizes(True)
        self.list.setAccessibleName(_("Photos of this outlet in order"))
        self.text = QPlainTextEdit(readOnly=True)
        self.text.setAccessibleName(_("The text to paste"))
        self.told = QVBoxLayout()
        self.pages = QStackedWidget()
        self.pin, self.ban = BayButton(_("In"), key="P"), BayButton(_("Out"), key="B")
        self.free = BayButton(_("As it comes"), key="F")
        self.turn = BayButton("", key="T", drawing="word")
        self.copy = BayButton(_("Copy"), key="Y")
        self.write = BayButton(_("Write folder"), key="Ctrl+E", drawing="folder", go=True)
        self.pin.setAccessibleName(_("This photo must be in"))
        self.ban.setAccessibleName(_("This photo stays out"))
        self.free.setAccessibleName(_("Neither in nor out by wish"))
        self._lay_out()
        self._connect(shelf)
        self.show_text(False)

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(px(18), px(12), px(18), px(14))
        column.setSpacing(px(8))
        top = QHBoxLayout()
        top.setSpacing(px(12))
        top.addWidget(self.which, 1)
        top.addWidget(self.headline)
        column.addLayout(top)
        column.addWidget(self.standing)
        photos = QWidget()
        inner = QVBoxLayout(photos)
        inner.setContentsMargins(0, 0, 0, 0)
        inner.addWidget(self.list, 5)
        lines = QWidget()
        lines.setLayout(self.told)
        self.told.setContentsMargins(0, 0, 0, 0)
        self.told.setSpacing(px(3))
        self.told_scroll = ColumnScroll(lines)
        inner.addWidget(self.told_scroll, 3)
        self.pages.addWidget(photos)
        self.pages.addWidget(self.text)
        column.addWidget(self.pages, 1)
        for buttons in ((self.pin, self.ban, self.free), (self.turn, self.copy, self.write)):
            row = QHBoxLayout()
            row.setSpacing(px(8))
            for button in buttons:
                row.addWidget(button)
            row.addStretch(1)
            column.addLayout(row)

    def _connect(self, shelf: PictureShelf) -> None:
        shelf.arrived.connect(lambda _sha256: self.list.viewport().update())
        self.which.activated.connect(lambda row: self.outlet_wanted.emit(self.which.itemData(row)))
        self.pin.clicked.connect(self.pin_wanted)
        self.ban.clicked.connect(self.ban_wanted)
        self.free.clicked.connect(self.free_wanted)
        self.turn.clicked.connect(lambda: self.show_text(self.pages.currentIndex() == 0))
        self.copy.clicked.connect(self.copy_wanted)
        self.write.clicked.connect(self.folder_wanted)
        self.list.step_wanted.connect(self.step_wanted)
        self.list.selectionModel().currentChanged.connect(lambda now, _before: self._row_chosen(now))

    def offer(self, offered: tuple[OutletChoice, ...], chosen: OutletChoice) -> None:
        """Offer these outlets with one of them chosen."""
        here = tuple(self.which.itemData(row) for row in range(self.which.count()))
        if here != offered:
            self.which.clear()
            for one in offered:
                self.which.addItem(one.words, one)
        self.which.setCurrentIndex(offered.index(chosen))

    def show_outlet(self, screen: OutletScreen | None) -> None:
        """Show a set; None while it is worked out."""
        self.setEnabled(screen is not None)
        if screen is None:
            self.headline.setText("")
            self.standing.setText(_("Choosing the photos …"))
            return
        self.headline.setText(screen.headline)
        self.standing.setText(screen.standing)
        row = max(0, self.list.currentIndex().row())
        self.model.show_places(screen.places)
        if screen.places:
            self.list.setCurrentIndex(self.model.index(min(row, len(screen.places) - 1), 0))
        self.text.setPlainText(screen.text)
        clear(self.told)
        for heading, lines in screen.told:
            self.told.addWidget(label("signal", text=heading))
            for line in lines:
                self.told.addWidget(label("small", wrap=True, text=line))
        self.told.addStretch(1)
        self.told_scroll.setVisible(bool(screen.told))
        for button in (self.pin, self.ban, self.free):
            button.setEnabled(screen.named and bool(screen.places))
        self.write.setEnabled(screen.ready)

    def show_text(self, text: bool) -> None:
        """Show the text to paste, or the photos."""
        self.pages.setCurrentIndex(1 if text else 0)
        self.turn.say(_("Its photos") if text else _("Its text"))

    def place(self) -> OutletPlace | None:
        """The photo chosen in the set."""
        found = self.list.currentIndex().data(_ROLE)
        return found if isinstance(found, OutletPlace) else None

    def _row_chosen(self, now: QModelIndex) -> None:
        place = now.data(_ROLE)
        if isinstance(place, OutletPlace) and self.list.hasFocus():
            self.chosen.emit(place.sha256)
