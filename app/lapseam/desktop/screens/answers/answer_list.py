"""What was found, one row each: its photo, what it says, how it is known and how old that is."""

from __future__ import annotations

from PySide6.QtCore import QAbstractListModel, QModelIndex, QPersistentModelIndex, QRect, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QFont, QFontMetrics, QKeyEvent, QPainter, QPen, QPixmap, QTextLayout
from PySide6.QtWidgets import QListView, QStyle, QStyledItemDelegate, QWidget

from ...icons import paint_icon
from ...pictures import PictureShelf
from ...theme import inks, letter, px
from ...words import _
from .state import AnswerLine

THUMB_PX = 320
_ROLE = Qt.ItemDataRole.UserRole
_ROW, _PAD, _PICTURE = 112, 10, 116
Index = QModelIndex | QPersistentModelIndex


class AnswerModel(QAbstractListModel):
    """The lines as rows."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.lines: tuple[AnswerLine, ...] = ()

    def show_lines(self, lines: tuple[AnswerLine, ...]) -> None:
        """Show these lines."""
        self.beginResetModel()
        self.lines = lines
        self.endResetModel()

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        return 0 if parent.isValid() else len(self.lines)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        if not index.isValid() or index.row() >= len(self.lines):
            return None
        line = self.lines[index.row()]
        if role == Qt.ItemDataRole.DisplayRole:
            return line.words
        if role == Qt.ItemDataRole.AccessibleTextRole:
            return line.spoken
        return line if role == _ROLE else None


class _Row(QStyledItemDelegate):
    """Paints one line. What does not fit in two lines of words is read in full beside the list, and by Enter."""

    def __init__(self, shelf: PictureShelf, parent: QWidget) -> None:
        super().__init__(parent)
        self._shelf = shelf

    def sizeHint(self, option, index: Index) -> QSize:
        return QSize(px(320), px(_ROW))

    def paint(self, painter: QPainter, option, index: Index) -> None:
        colours = inks()
        line: AnswerLine = index.data(_ROLE)
        chosen = bool(option.state & QStyle.StateFlag.State_Selected)
        painter.save()
        if chosen:
            painter.fillRect(option.rect, colours.shade)
            painter.fillRect(QRect(option.rect.x(), option.rect.y(), px(4), option.rect.height()), colours.signal)
        painter.fillRect(QRect(option.rect.x(), option.rect.bottom(), option.rect.width(), 1), colours.line)
        box = option.rect.adjusted(px(_PAD + 4), px(_PAD), -px(_PAD), -px(_PAD))
        self._paint_picture(painter, QRect(box.x(), box.y(), px(_PICTURE), box.height()), line, chosen=chosen)
        self._paint_words(painter, box.adjusted(px(_PICTURE + 14), 0, 0, 0), line)
        painter.restore()

    def _paint_picture(self, painter: QPainter, box: QRect, line: AnswerLine, *, chosen: bool) -> None:
        colours = inks()
        painter.fillRect(box, colours.sheet if chosen else colours.shade)
        pixmap = self._shelf.picture(line.photo, THUMB_PX) if line.photo else None
        if pixmap is not None and not pixmap.isNull():
            _paint_whole(painter, box, pixmap)
            return
        painter.setPen(QPen(colours.soft, 1, Qt.PenStyle.DashLine))
        painter.drawRect(box.adjusted(0, 0, -1, -1))
        if line.gap:
            side = px(30)
            place = QRectF(box.center().x() - side / 2, box.center().y() - side / 2, side, side)
            paint_icon(painter, "question", place, colours.soft)
            return
        painter.setFont(letter(13))
        words = _("Loading …") if line.photo else _("No photo")
        painter.drawText(box, int(Qt.AlignmentFlag.AlignCenter), words)

    def _paint_words(self, painter: QPainter, box: QRect, line: AnswerLine) -> None:
        colours = inks()
        small, plain = letter(14), letter(16)
        high = px(20)
        stock = letter(14, numbers=True)
        painter.setFont(stock)
        painter.setPen(colours.soft)
        painter.drawText(QRect(box.x(), box.y(), box.width(), high), Qt.AlignmentFlag.AlignVCenter, line.stock)
        after = QFontMetrics(stock).horizontalAdvance(line.stock) + px(12)
        kind = letter(14, QFont.Weight.Bold) if line.gap else small
        painter.setFont(kind)
        painter.setPen(colours.ink if line.gap else colours.soft)
        painter.drawText(box.adjusted(after, 0, 0, 0), Qt.AlignmentFlag.AlignTop, line.kind)
        painter.setPen(colours.ink)
        _two_lines(painter, QRect(box.x(), box.y() + high + px(2), box.width(), px(46)), line.words, plain)
        self._paint_known(painter, QRect(box.x(), box.bottom() - high + 1, box.width(), high), line, small)

    def _paint_known(self, painter: QPainter, box: QRect, line: AnswerLine, font: QFont) -> None:
        colours = inks()
        age = line.age
        if line.stale:
            font_age, age = letter(14, QFont.Weight.Bold), _("Stale: {age}").format(age=line.age)
        else:
            font_age = font
        wide = QFontMetrics(font_age).horizontalAdvance(age) if age else 0
        room = box.width() - (wide + px(16) if age else 0)
        painter.setFont(font)
        painter.setPen(colours.soft)
        known = QFontMetrics(font).elidedText(line.known, Qt.TextElideMode.ElideRight, max(room, px(60)))
        painter.drawText(box, int(Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft), known)
        if age:
            painter.setFont(font_age)
            painter.setPen(colours.signal if line.stale else colours.soft)
            painter.drawText(box, int(Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignRight), age)


def _paint_whole(painter: QPainter, box: QRect, pixmap: QPixmap) -> None:
    size = pixmap.size().scaled(box.size(), Qt.AspectRatioMode.KeepAspectRatio)
    corner = (box.x() + (box.width() - size.width()) // 2, box.y() + (box.height() - size.height()) // 2)
    painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
    painter.drawPixmap(QRect(*corner, size.width(), size.height()), pixmap)


def _two_lines(painter: QPainter, box: QRect, words: str, font: QFont) -> None:
    """Words broken at most once, cut with an ellipsis where two lines do not hold them."""
    layout = QTextLayout(words, font)
    layout.beginLayout()
    first = layout.createLine()
    first.setLineWidth(box.width())
    layout.endLayout()
    metrics = QFontMetrics(font)
    begin, rest = words[: first.textLength()].rstrip(), words[first.textLength() :].lstrip()
    painter.setFont(font)
    for row, text in enumerate((begin, rest)):
        cut = metrics.elidedText(text, Qt.TextElideMode.ElideRight, box.width())
        line = QRect(box.x(), box.y() + row * metrics.lineSpacing(), box.width(), metrics.lineSpacing())
        painter.drawText(line, int(Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft), cut)


class AnswerList(QListView):
    """The rows. Up from the first goes back to the question, and what is typed goes there too.

    Signals:
        moved(row): another row was chosen.
        opened(row): a row is wanted larger.
        up_and_out(), typed(words).
    """

    moved = Signal(int)
    opened = Signal(int)
    up_and_out = Signal()
    typed = Signal(str)

    def __init__(self, shelf: PictureShelf, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.answers = AnswerModel(self)
        self.setModel(self.answers)
        self.setItemDelegate(_Row(shelf, self))
        self.setUniformItemSizes(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setAccessibleName(_("What the record says, best first"))
        self.doubleClicked.connect(lambda index: self.opened.emit(index.row()))
        shelf.arrived.connect(self._arrived)

    def show_lines(self, lines: tuple[AnswerLine, ...]) -> None:
        """Show other lines; the same entry stays chosen where it is still there, else the first."""
        before = self.line
        at = next(
            (row for row, one in enumerate(lines) if before and (one.stock, one.key) == (before.stock, before.key)), 0
        )
        self.answers.show_lines(lines)
        if lines:
            self.setCurrentIndex(self.answers.index(at))
        self.moved.emit(at if lines else -1)

    @property
    def row(self) -> int:
        """The chosen row, -1 for none."""
        return self.currentIndex().row()

    @property
    def line(self) -> AnswerLine | None:
        """The chosen line."""
        return self.answers.lines[self.row] if 0 <= self.row < len(self.answers.lines) else None

    def step(self, rows: int) -> None:
        """Go so many rows down, or up."""
        if self.answers.lines:
            self.setCurrentIndex(self.answers.index(min(max(self.row + rows, 0), len(self.answers.lines) - 1)))

    def currentChanged(self, now: Index, before: Index) -> None:
        super().currentChanged(now, before)
        self.moved.emit(now.row())

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            if self.row >= 0:
                self.opened.emit(self.row)
        elif event.key() == Qt.Key.Key_Up and self.row <= 0:
            self.up_and_out.emit()
        elif (
            event.text().isprintable() and event.text() and not event.modifiers() & Qt.KeyboardModifier.ControlModifier
        ):
            self.typed.emit(event.text())
        else:
            super().keyPressEvent(event)

    def _arrived(self, sha256: str) -> None:
        if self.isVisible() and any(one.photo == sha256 for one in self.answers.lines):
            self.viewport().update()
