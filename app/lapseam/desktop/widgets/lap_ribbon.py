"""The lap ribbon: the whole walk in one strip. Navigation, progress and proof at once."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QFont, QFontMetricsF, QKeyEvent, QPainter
from PySide6.QtWidgets import QAbstractButton, QSizePolicy, QToolTip, QWidget

from ..ribbon import Ribbon, Segment
from ..theme import inks, letter, px
from ..words import _
from .cells import paint_cell
from .ribbon_layout import Place, lay

_LABEL = 12
_CELL_HIGH = 22
_UNDER = 6


class RibbonSegment(QAbstractButton):
    """One zone of the ribbon: a button whose cells carry tooltips of their own."""

    def __init__(self, segment: Segment, parent: QWidget) -> None:
        super().__init__(parent)
        self.segment = segment
        self.current = False
        self._pressed: int | None = None
        self._place = Place(0, 0, 4.0, (segment.short,))
        self.setAccessibleName(segment.words)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setFocusPolicy(Qt.FocusPolicy.ClickFocus)

    def lie(self, place: Place) -> None:
        """Take a place in the strip."""
        self._place = place
        self.update()

    def lines(self) -> tuple[str, ...]:
        """The label as it is shown, a line each."""
        return self._place.lines

    def cell_at(self, x: float) -> int | None:
        """Which cell is under a pixel column of this segment; None beside them."""
        index = int(x // self._place.cell) if self._place.cell else -1
        return index if 0 <= index < len(self.segment.cells) else None

    def paintEvent(self, event) -> None:
        colours = inks()
        painter = QPainter(self)
        painter.setFont(_label_font(bold=self.current))
        painter.setPen(colours.ink if self.current or self.underMouse() else colours.soft)
        high = painter.fontMetrics().height()
        top = self._cells_top() - px(4) - high * len(self._place.lines)
        for line in self._place.lines:
            painter.drawText(QRectF(0, top, self.width() + 2, high), Qt.AlignmentFlag.AlignVCenter, line)
            top += high
        self._paint_cells(painter)
        if self.current:
            painter.fillRect(QRectF(0, self.height() - px(3), self.width(), px(3)), colours.signal)
        if self.hasFocus():
            painter.setPen(colours.focus)
            for inset in (0, 1):
                painter.drawRect(self.rect().adjusted(inset, inset, -1 - inset, -1 - inset))

    def _cells_top(self) -> int:
        return self.height() - px(_UNDER) - px(_CELL_HIGH)

    def _paint_cells(self, painter: QPainter) -> None:
        colours = inks()
        step = self._place.cell
        for index, cell in enumerate(self.segment.cells):
            left = round(index * step)
            width = max(2, round((index + 1) * step) - left - 1)
            paint_cell(painter, QRectF(left, self._cells_top(), width, px(_CELL_HIGH)), cell, colours)

    def mousePressEvent(self, event) -> None:
        self._pressed = self._under(event.position())
        super().mousePressEvent(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        self._pressed = None
        if event.key() == Qt.Key.Key_Space:
            super().keyPressEvent(event)
        else:
            event.ignore()

    def pressed_cell(self) -> int | None:
        """The cell that the last press was on; None beside the cells or by key."""
        return self._pressed

    def _under(self, spot: QPointF) -> int | None:
        return self.cell_at(spot.x()) if spot.y() >= self._cells_top() else None

    def event(self, event: QEvent) -> bool:
        if event.type() == QEvent.Type.ToolTip:
            index = self._under(QPointF(event.pos()))
            words = self.segment.words if index is None else self.segment.cells[index].words
            QToolTip.showText(event.globalPos(), words, self)
            return True
        return super().event(event)


class LapRibbon(QWidget):
    """The strip of segments. Arrow keys walk it, Enter or a click goes there.

    Signals:
        zone_wanted(zone): the person wants to go to that zone.
        shot_wanted(shot): the person clicked one cell.
    """

    zone_wanted = Signal(str)
    shot_wanted = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._ribbon = Ribbon()
        self._segments: list[RibbonSegment] = []
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setAccessibleName(_("Lap ribbon"))

    def show_ribbon(self, ribbon: Ribbon) -> None:
        """Show another state of the walk; the keyboard stays on its zone."""
        held = next((one.segment.zone for one in self._segments if one.hasFocus()), "")
        if tuple(s.zone for s in ribbon.segments) != tuple(s.zone for s in self._ribbon.segments):
            self._rebuild(ribbon)
        self._ribbon = ribbon
        for button, segment in zip(self._segments, ribbon.segments, strict=True):
            button.segment = segment
            button.current = segment.zone == ribbon.current
            words = segment.words
            button.setAccessibleName(_("{words}, here now").format(words=words) if button.current else words)
            button.setFocusPolicy(Qt.FocusPolicy.ClickFocus)
            if segment.zone == held:
                button.setFocus()
        self._stop_tab_at(ribbon.current)
        self.setAccessibleDescription(ribbon.words)
        self._lie()

    def segments(self) -> tuple[RibbonSegment, ...]:
        """The segments as they stand, first zone first."""
        return tuple(self._segments)

    def sizeHint(self) -> QSize:
        lines = max((len(button.lines()) for button in self._segments), default=1)
        high = QFontMetricsF(_label_font(bold=True)).height() * max(1, lines)
        return QSize(400, round(high) + px(4) + px(_CELL_HIGH) + px(_UNDER))

    def minimumSizeHint(self) -> QSize:
        return QSize(0, self.sizeHint().height())

    def resizeEvent(self, event) -> None:
        super().resizeEvent(event)
        self._lie()

    def changeEvent(self, event: QEvent) -> None:
        if event.type() in (QEvent.Type.FontChange, QEvent.Type.StyleChange):
            self._lie()
        super().changeEvent(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        steps = {Qt.Key.Key_Left: -1, Qt.Key.Key_Right: 1, Qt.Key.Key_Home: -9999, Qt.Key.Key_End: 9999}
        at = next((i for i, one in enumerate(self._segments) if one.hasFocus()), None)
        if at is None:
            super().keyPressEvent(event)
        elif event.key() in steps:
            to = min(max(at + steps[Qt.Key(event.key())], 0), len(self._segments) - 1)
            self._segments[to].setFocus(Qt.FocusReason.OtherFocusReason)
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.zone_wanted.emit(self._segments[at].segment.zone)
        else:
            super().keyPressEvent(event)

    def _rebuild(self, ribbon: Ribbon) -> None:
        for button in self._segments:
            button.hide()
            button.deleteLater()
        self._segments = [RibbonSegment(segment, self) for segment in ribbon.segments]
        for button in self._segments:
            button.clicked.connect(lambda _checked=False, button=button: self._clicked(button))
            button.show()

    def _clicked(self, button: RibbonSegment) -> None:
        index = button.pressed_cell()
        if index is None:
            self.zone_wanted.emit(button.segment.zone)
        else:
            self.shot_wanted.emit(button.segment.cells[index].shot)

    def _stop_tab_at(self, zone: str) -> None:
        """Tab stops once on the ribbon, at the current zone; the arrow keys do the rest."""
        stop = next((one for one in self._segments if one.segment.zone == zone), None)
        stop = stop or next(iter(self._segments), None)
        if stop is not None:
            stop.setFocusPolicy(Qt.FocusPolicy.StrongFocus)

    def _lie(self) -> None:
        metrics = QFontMetricsF(_label_font(bold=True))
        places = lay(self._ribbon, self.width(), lambda text: metrics.horizontalAdvance(text) + 1, gap=px(9))
        for button, place in zip(self._segments, places, strict=True):
            button.lie(place)
        high = self.sizeHint().height()
        for button, place in zip(self._segments, places, strict=True):
            button.setGeometry(place.left, max(0, self.height() - high), place.width, high)
        self.updateGeometry()


def _label_font(*, bold: bool) -> QFont:
    return letter(_LABEL, QFont.Weight.Bold if bold else QFont.Weight.Normal)
