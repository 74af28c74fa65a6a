"""One large picture on which marks are set: a press is a point, a drag a box, the arrow keys move a cross.

Every line is drawn twice, paper under ink, so that it stands out on any ground.
"""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRect, QRectF, Qt, Signal
from PySide6.QtGui import QColor, QFont, QKeyEvent, QMouseEvent, QPainter, QPen, QPixmap
from PySide6.QtWidgets import QWidget

from lapseam.domain.finding import Mark, MarkShape

from ..pictures import PictureShelf
from ..screens.findings.marking import LEAP, STEP, Marking, mark_between, marks_in_words
from ..theme import inks, letter, px
from ..words import _, _n
from .picture import Picture

_PREVIEW_PX = 1600
_DRAGGED_PX = 5
_REACH_PX = 14
_ARROWS = {
    Qt.Key.Key_Left: (-1, 0),
    Qt.Key.Key_Right: (1, 0),
    Qt.Key.Key_Up: (0, -1),
    Qt.Key.Key_Down: (0, 1),
}


class MarkPicture(Picture):
    """Shows a photo with the marks of one finding; it changes nothing by itself but says what is wanted.

    Signals:
        changed(marking): the marks, the cross or what is under way, after a key or the mouse.
        left(): Escape with nothing under way.
    """

    changed = Signal(object)
    left = Signal()

    def __init__(self, shelf: PictureShelf, parent: QWidget | None = None) -> None:
        super().__init__(shelf, longest_px=_PREVIEW_PX, parent=parent)
        self._marking = Marking()
        self._words = ""
        self._box = QRect()
        self._pressed: QPointF | None = None
        self._dragged: QPointF | None = None
        self.may_mark = False
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)

    @property
    def marking(self) -> Marking:
        """The marks as they are now."""
        return self._marking

    @property
    def sha256(self) -> str:
        """The photo that is shown, "" for none."""
        return self._sha256

    def show_photo(self, sha256: str, words: str, *, empty: str = "") -> None:
        """Show another photo; a mark taken up or a box begun on the last one is let go."""
        if sha256 != self._sha256:
            self._marking = self._marking.let_go()
            self._box = QRect()
        self._words = words
        super().show_photo(sha256, words, empty=empty)
        self._say()

    def show_marks(self, marking: Marking, *, may_mark: bool) -> None:
        """Show other marks; without `may_mark` they are only looked at."""
        self._marking, self.may_mark = marking, may_mark
        self._say()
        self.update()

    def set_point(self) -> None:
        """A point where the cross is."""
        self._change(self._marking.pointed(self._sha256))

    def set_box(self) -> None:
        """Begin a box at the cross, or end it there."""
        self._change(self._marking.boxed(self._sha256))

    def take_up(self) -> None:
        """Take up the next mark, so that the arrows move it."""
        self._change(self._marking.next_up(self._sha256))

    def take_away(self) -> None:
        """Take away the mark that is up, or the last one."""
        self._change(self._marking.taken_away(self._sha256))

    def _change(self, marking: Marking) -> None:
        if self._sha256 and self.may_mark:
            self._marking = marking
            self._say()
            self.update()
            self.changed.emit(marking)

    def _say(self) -> None:
        """Name the picture with its marks and the cross, for whoever hears instead of sees."""
        points, boxes = marks_in_words(self._marking.marks, self._sha256)
        parts = [self._words or self._empty]
        if points:
            parts.append(_n("{n} point", "{n} points", points))
        if boxes:
            parts.append(_n("{n} box", "{n} boxes", boxes))
        if self.may_mark and self._sha256:
            at = _("cross at {x} % across, {y} % down")
            parts.append(at.format(x=round(self._marking.x * 100), y=round(self._marking.y * 100)))
        if self._marking.held is not None:
            parts.append(_("mark {n} taken up").format(n=self._marking.held + 1))
        if self._marking.begun is not None:
            parts.append(_("box begun"))
        self.setAccessibleName(", ".join(parts))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        arrow = _ARROWS.get(Qt.Key(event.key()))
        if arrow is not None:
            step = LEAP if event.modifiers() & Qt.KeyboardModifier.ShiftModifier else STEP
            self._change(self._marking.moved(arrow[0] * step, arrow[1] * step))
        elif event.key() in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace):
            self.take_away()
        elif event.key() == Qt.Key.Key_Escape:
            if self._marking.begun is None and self._marking.held is None:
                self.left.emit()
            else:
                self._change(self._marking.let_go())
        else:
            super().keyPressEvent(event)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        self.setFocus(Qt.FocusReason.MouseFocusReason)
        if event.button() != Qt.MouseButton.LeftButton or not self.may_mark or not self._box.contains(_spot(event)):
            return
        x, y = self._share(event.position())
        reach = (px(_REACH_PX) / self._box.width(), px(_REACH_PX) / self._box.height())
        self._pressed = self._dragged = event.position()
        self._change(self._marking.put(x, y).taken_up(self._marking.hit(self._sha256, x, y, reach)))

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        if self._pressed is None or self._dragged is None:
            self.setCursor(Qt.CursorShape.CrossCursor if self.may_mark and self._sha256 else Qt.CursorShape.ArrowCursor)
            return
        before, self._dragged = self._dragged, event.position()
        if self._marking.held is not None:
            (was_x, was_y), (x, y) = self._share(before), self._share(self._dragged)
            self._change(self._marking.moved(x - was_x, y - was_y))
        self.update()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        pressed, self._pressed, self._dragged = self._pressed, None, None
        if pressed is None or self._marking.held is not None:
            return
        end = event.position() if _far(pressed, event.position()) else pressed
        self._change(
            self._marking.put(*self._share(end)).marked(self._sha256, *self._share(pressed), *self._share(end))
        )

    def _share(self, spot: QPointF) -> tuple[float, float]:
        """A place in the widget as shares of the upright picture."""
        box = self._box
        x, y = (spot.x() - box.x()) / max(box.width(), 1), (spot.y() - box.y()) / max(box.height(), 1)
        return min(max(x, 0.0), 1.0), min(max(y, 0.0), 1.0)

    def _paint_photo(self, painter: QPainter, pixmap: QPixmap) -> None:
        super()._paint_photo(painter, pixmap)
        self._box = self.photo_box(pixmap)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        for number, mark in self._marking.on(self._sha256):
            self._paint_mark(painter, mark, str(number), held=self._marking.held == number - 1)
        self._paint_begun(painter)
        if self.may_mark and self.hasFocus() and self._marking.held is None:
            self._paint_cross(painter)

    def paintEvent(self, event) -> None:
        super().paintEvent(event)
        if self.hasFocus():
            painter = QPainter(self)
            painter.setPen(QPen(inks().focus, 3))
            painter.drawRect(self.rect().adjusted(1, 1, -2, -2))

    def _place(self, mark: Mark) -> QRectF:
        box = self._box
        return QRectF(
            box.x() + mark.x * box.width(),
            box.y() + mark.y * box.height(),
            mark.width * box.width(),
            mark.height * box.height(),
        )

    def _paint_mark(self, painter: QPainter, mark: Mark, number: str, *, held: bool) -> None:
        place = self._place(mark)
        ring = px(13)
        if mark.shape is MarkShape.POINT:
            place = QRectF(place.x() - ring, place.y() - ring, 2 * ring, 2 * ring)
        for ink, width in self._strokes(held):
            painter.setPen(QPen(ink, width))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawEllipse(place) if mark.shape is MarkShape.POINT else painter.drawRect(place)
        if number:
            self._paint_number(painter, place, number, held=held)

    def _paint_number(self, painter: QPainter, place: QRectF, number: str, *, held: bool) -> None:
        """The number in a plate at the mark's upper right corner, inside the picture."""
        colours = inks()
        painter.setFont(letter(14, QFont.Weight.Bold, numbers=True))
        wide = max(px(20), painter.fontMetrics().horizontalAdvance(number) + px(10))
        plate = QRectF(place.right() - px(2), place.top() - px(18), wide, px(20))
        plate.moveRight(min(plate.right(), float(self._box.right())))
        plate.moveTop(max(plate.top(), float(self._box.top())))
        painter.setPen(QPen(colours.sheet, px(2)))
        painter.setBrush(colours.signal if held else colours.ink)
        painter.drawRect(plate)
        painter.setPen(colours.on_signal if held else colours.sheet)
        painter.drawText(plate, Qt.AlignmentFlag.AlignCenter, number)

    def _paint_begun(self, painter: QPainter) -> None:
        corner = self._marking.begun
        if self._pressed is not None and self._dragged is not None and self._marking.held is None:
            if _far(self._pressed, self._dragged):
                drawn = mark_between(self._sha256, *self._share(self._pressed), *self._share(self._dragged))
                self._paint_mark(painter, drawn, "", held=True)
        elif corner is not None:
            drawn = mark_between(self._sha256, *corner, self._marking.x, self._marking.y)
            self._paint_mark(painter, drawn, "", held=True)

    def _paint_cross(self, painter: QPainter) -> None:
        box, arm, gap = self._box, px(20), px(5)
        x, y = box.x() + self._marking.x * box.width(), box.y() + self._marking.y * box.height()
        for ink, width in self._strokes(held=False):
            painter.setPen(QPen(ink, width, Qt.PenStyle.SolidLine, Qt.PenCapStyle.FlatCap))
            for across, down in _ARROWS.values():
                begin = QPointF(x + across * gap, y + down * gap)
                painter.drawLine(begin, QPointF(x + across * arm, y + down * arm))

    def _strokes(self, held: bool) -> tuple[tuple[QColor, int], tuple[QColor, int]]:
        """Paper wide, then ink narrow; a mark that is up is in the signal colour."""
        colours = inks()
        return (colours.sheet, px(6)), (colours.signal if held else colours.ink, px(2))


def _spot(event: QMouseEvent):
    return event.position().toPoint()


def _far(one: QPointF, other: QPointF) -> bool:
    return (one - other).manhattanLength() > px(_DRAGGED_PX)
