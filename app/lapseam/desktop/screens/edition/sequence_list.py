"""The sequence: every photo in gallery order under its group's name, moved by dragging or by keys."""

from __future__ import annotations

from PySide6.QtCore import (
    QAbstractListModel,
    QMimeData,
    QModelIndex,
    QPersistentModelIndex,
    QPoint,
    QRect,
    QSize,
    Qt,
    Signal,
)
from PySide6.QtGui import (
    QDrag,
    QDragEnterEvent,
    QDragLeaveEvent,
    QDragMoveEvent,
    QDropEvent,
    QFontMetricsF,
    QKeyEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QResizeEvent,
)
from PySide6.QtWidgets import QListView, QStyle, QStyledItemDelegate, QStyleOptionViewItem, QWidget

from ...pictures import PictureShelf
from ...theme import inks, letter, px
from ...words import _
from .state import EditionScreen, Group, Place

THUMB_PX = 320
_ROLE = Qt.ItemDataRole.UserRole
_WIDTH, _PICTURE, _HEIGHT, _HEADING = 130, 92, 156, 46
_SHA = "application/x-sha256"
Index = QModelIndex | QPersistentModelIndex


class SequenceModel(QAbstractListModel):
    """Group headings and photos as rows; headings cannot be chosen."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._rows: tuple[Group | Place, ...] = ()

    def show_groups(self, groups: tuple[Group, ...]) -> None:
        """Show these groups; the same ones again change nothing."""
        rows = tuple(row for group in groups for row in (group, *group.places))
        if rows != self._rows:
            self.beginResetModel()
            self._rows = rows
            self.endResetModel()

    def row(self, index: Index) -> Group | Place | None:
        """What stands in a row."""
        return self._rows[index.row()] if index.isValid() and index.row() < len(self._rows) else None

    def row_of(self, sha256: str, *, again: bool) -> int:
        """The row of a photo, -1 for none."""
        wanted = (row for row, one in enumerate(self._rows) if isinstance(one, Place) and one.sha256 == sha256)
        rows = list(wanted)
        return -1 if not rows else rows[-1] if again else rows[0]

    def next_place(self, row: int, step: int) -> int:
        """The next row that holds a photo, in that direction; the same where there is none."""
        at = row + step
        while 0 <= at < len(self._rows):
            if isinstance(self._rows[at], Place):
                return at
            at += step
        return row

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        return 0 if parent.isValid() else len(self._rows)

    def flags(self, index: Index) -> Qt.ItemFlag:
        row = self.row(index)
        if not isinstance(row, Place):
            return Qt.ItemFlag.NoItemFlags
        chosen = Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable
        return chosen | Qt.ItemFlag.ItemIsDragEnabled if row.movable else chosen

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        row = self.row(index)
        if row is None:
            return None
        words = row.name if isinstance(row, Group) else row.words
        if role in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.AccessibleTextRole, Qt.ItemDataRole.ToolTipRole):
            return words
        return row if role == _ROLE else None


class _Painter(QStyledItemDelegate):
    """A heading over the whole width, or a thumbnail with its number and the beginning of its caption."""

    def __init__(self, shelf: PictureShelf, view: QListView) -> None:
        super().__init__(view)
        self._shelf, self._view = shelf, view

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        if isinstance(index.data(_ROLE), Group):
            return QSize(max(self._view.viewport().width() - px(4), px(_WIDTH)), px(_HEADING))
        room = self._view.viewport().width() - px(6)
        return QSize(room // max(1, room // px(_WIDTH)), px(_HEIGHT))

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        row = index.data(_ROLE)
        painter.save()
        if isinstance(row, Group):
            self._heading(painter, option.rect, row)
        elif isinstance(row, Place):
            self._place(painter, option.rect, row, bool(option.state & QStyle.StateFlag.State_Selected))
        painter.restore()

    @staticmethod
    def _heading(painter: QPainter, box: QRect, group: Group) -> None:
        colours = inks()
        line = box.adjusted(px(6), px(14), -px(6), -px(4))
        painter.setFont(letter(16, letter().Weight.Bold))
        painter.setPen(colours.ink)
        painter.drawText(line, Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft, group.name)
        if group.arranged:
            left = round(QFontMetricsF(painter.font()).horizontalAdvance(group.name)) + px(12)
            painter.setFont(letter(13))
            painter.setPen(colours.soft)
            painter.drawText(line.adjusted(left, 0, 0, 0), Qt.AlignmentFlag.AlignVCenter, _("in an order of our own"))
        painter.setPen(colours.line)
        painter.drawLine(line.left(), line.bottom() + px(2), line.right(), line.bottom() + px(2))

    def _place(self, painter: QPainter, rect: QRect, place: Place, chosen: bool) -> None:
        colours = inks()
        box = rect.adjusted(px(6), px(6), -px(6), -px(4))
        if chosen:
            painter.fillRect(rect.adjusted(px(1), px(1), -px(1), -px(1)), colours.shade)
            painter.setPen(QPen(colours.signal, px(3)))
            painter.drawRect(rect.adjusted(px(2), px(2), -px(3), -px(3)))
        picture = QRect(box.x(), box.y(), box.width(), px(_PICTURE))
        painter.fillRect(picture, colours.shade)
        pixmap = self._shelf.picture(place.sha256, THUMB_PX)
        if pixmap is not None and not pixmap.isNull():
            size = pixmap.size().scaled(picture.size(), Qt.AspectRatioMode.KeepAspectRatio)
            corner = picture.center() - QPoint(size.width() // 2, size.height() // 2)
            painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
            painter.drawPixmap(QRect(corner, size), pixmap)
        self._number(painter, picture, place)
        words = QRect(box.x(), picture.bottom() + px(5), box.width(), px(38))
        painter.setFont(letter(13))
        painter.setPen(colours.ink)
        flags = int(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop | Qt.TextFlag.TextWordWrap)
        painter.drawText(words, flags, _two_lines(place.caption, painter, words.width()))

    @staticmethod
    def _number(painter: QPainter, picture: QRect, place: Place) -> None:
        colours = inks()
        words = str(place.number) + (" · " + _("lead") if place.leads else "")
        painter.setFont(letter(13, letter().Weight.Bold, numbers=not place.leads))
        width = round(QFontMetricsF(painter.font()).horizontalAdvance(words)) + px(12)
        plate = QRect(picture.x(), picture.y(), width, px(22))
        painter.fillRect(plate, colours.ink)
        painter.setPen(colours.sheet)
        painter.drawText(plate, Qt.AlignmentFlag.AlignCenter, words)


def _two_lines(words: str, painter: QPainter, width: int) -> str:
    """As much as two lines hold, ended by an ellipsis where it is more."""
    metrics = QFontMetricsF(painter.font())
    return metrics.elidedText(words, Qt.TextElideMode.ElideRight, width * 1.75)


class SequenceList(QListView):
    """The photos side by side. Arrow keys walk, Alt with an arrow moves the chosen one, dragging moves it too.

    Signals:
        chosen(sha256): another photo is chosen.
        move_wanted(sha256, before): put it before that photo of its group, "" for the group's end.
        step_wanted(sha256, steps): one place on, or back.
    """

    chosen = Signal(str)
    move_wanted = Signal(str, str)
    step_wanted = Signal(str, int)

    def __init__(self, shelf: PictureShelf, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.places = SequenceModel(self)
        self._drop: tuple[QRect, bool] | None = None
        self._taken: Place | None = None
        self.setModel(self.places)
        self.setItemDelegate(_Painter(shelf, self))
        self.setFlow(QListView.Flow.LeftToRight)
        self.setWrapping(True)
        self.setResizeMode(QListView.ResizeMode.Adjust)
        self.setVerticalScrollMode(QListView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOn)
        self.setDragEnabled(True)
        self.setAcceptDrops(True)
        self.setAccessibleName(_("Photos in gallery order"))
        shelf.arrived.connect(lambda _sha256: self.viewport().update())
        self.selectionModel().currentChanged.connect(self._current_changed)

    def show_screen(self, screen: EditionScreen) -> None:
        """Show the sequence; the chosen photo stays chosen wherever it stands now."""
        old = self.place()
        self.places.show_groups(screen.groups)
        row = self.places.row_of(old.sha256, again=old.again) if old else -1
        if row < 0:
            row = self.places.next_place(-1, 1)
        if row >= 0:
            self.setCurrentIndex(self.places.index(row))

    def place(self) -> Place | None:
        """The chosen place."""
        row = self.places.row(self.currentIndex())
        return row if isinstance(row, Place) else None

    def choose(self, sha256: str) -> None:
        """Choose a photo at its first place."""
        row = self.places.row_of(sha256, again=False)
        if row >= 0:
            self.setCurrentIndex(self.places.index(row))

    def go(self, step: int) -> None:
        """Choose the next photo, or the one before."""
        row = self.places.next_place(self.currentIndex().row(), step)
        if row >= 0:
            self.setCurrentIndex(self.places.index(row))

    def _current_changed(self, now: QModelIndex, _before: QModelIndex) -> None:
        row = self.places.row(now)
        if isinstance(row, Place):
            self.chosen.emit(row.sha256)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        steps = {Qt.Key.Key_Left: -1, Qt.Key.Key_Right: 1}
        step = steps.get(Qt.Key(event.key()))
        place = self.place()
        if step is None or place is None:
            super().keyPressEvent(event)
        elif event.modifiers() & Qt.KeyboardModifier.AltModifier:
            self.step_wanted.emit(place.sha256, step)
        else:
            self.go(step)

    # Dragging

    def startDrag(self, actions: Qt.DropAction) -> None:
        place = self.place()
        if place is None or not place.movable:
            return
        self._taken = place
        drag = QDrag(self)
        data = QMimeData()
        data.setData(_SHA, place.sha256.encode())
        drag.setMimeData(data)
        drag.exec(Qt.DropAction.MoveAction)
        self._taken = None
        self._show_drop(None)

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        if event.mimeData().hasFormat(_SHA):
            event.acceptProposedAction()
        else:
            event.ignore()

    def dragMoveEvent(self, event: QDragMoveEvent) -> None:
        target = self._target(event.position().toPoint())
        taken = self._taken
        if target is None or (taken is not None and target[0].group != taken.group):
            self._show_drop(None)
            event.ignore()
            return
        self._show_drop((self.visualRect(self.places.index(target[1])), target[2]))
        event.acceptProposedAction()

    def dragLeaveEvent(self, event: QDragLeaveEvent) -> None:
        self._show_drop(None)

    def dropEvent(self, event: QDropEvent) -> None:
        self.drop(bytes(event.mimeData().data(_SHA).data()).decode(), event.position().toPoint())
        self._show_drop(None)
        event.accept()

    def drop(self, sha256: str, at: QPoint) -> None:
        """Let a dragged photo go at a point of the list."""
        target = self._target(at)
        if target is None:
            return
        place, row, after = target
        following = self.places.row(self.places.index(row + 1)) if after else place
        same = isinstance(following, Place) and following.group == place.group
        self.move_wanted.emit(sha256, following.sha256 if same and isinstance(following, Place) else "")

    def _target(self, at: QPoint) -> tuple[Place, int, bool] | None:
        """The photo under a point, its row, and whether the point lies behind its middle."""
        index = self.indexAt(at)
        row = self.places.row(index)
        if not isinstance(row, Place):
            return None
        return row, index.row(), at.x() > self.visualRect(index).center().x()

    def _show_drop(self, drop: tuple[QRect, bool] | None) -> None:
        self._drop = drop
        self.viewport().update()

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        if self._drop is None:
            return
        rect, after = self._drop
        x = rect.right() if after else rect.left()
        painter = QPainter(self.viewport())
        painter.fillRect(QRect(x - px(2), rect.top() + px(4), px(4), rect.height() - px(8)), inks().signal)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.scheduleDelayedItemsLayout()
