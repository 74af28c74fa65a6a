"""The stations as job-card tabs down the left side, each with the count of what is open there."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QFont, QKeyEvent, QPainter, QPainterPath, QPen
from PySide6.QtWidgets import QAbstractButton, QVBoxLayout, QWidget

from ..icons import paint_icon
from ..theme import inks, letter, px
from ..words import _, _n
from .bay_button import TARGET

WIDE = 160
"""Room for the longest name beside a count of three figures."""


@dataclass(frozen=True, slots=True)
class Station:
    """One station: its name, its drawing, and how much is open there (None: nothing to count)."""

    id: str
    name: str
    drawing: str
    open: int | None = None

    @property
    def words(self) -> str:
        """For a screen reader."""
        if not self.open:
            return self.name
        return _("{name}, {count}").format(name=self.name, count=_n("{n} open", "{n} open", self.open))


class StationTab(QAbstractButton):
    """One tab: the chosen one is the same sheet as what it opens."""

    def __init__(self, station: Station, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.station = station
        self.setCheckable(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.show_station(station)

    def show_station(self, station: Station) -> None:
        """Show other counts."""
        self.station = station
        self.setText(station.name)
        self.setAccessibleName(station.words)
        self.setToolTip(station.words)
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(px(WIDE), px(TARGET + 4))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Up, Qt.Key.Key_Down, Qt.Key.Key_Return, Qt.Key.Key_Enter):
            event.ignore()
        else:
            super().keyPressEvent(event)

    def paintEvent(self, event) -> None:
        colours = inks()
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        chosen = self.isChecked()
        if chosen or self.underMouse():
            painter.fillPath(self._card(), colours.sheet if chosen else colours.shade)
        if chosen:
            painter.setPen(QPen(colours.line, 1))
            painter.drawPath(self._card(closed=False))
            painter.fillRect(QRectF(px(8), px(3), px(4), self.height() - px(6)), colours.signal)
        ink = colours.ink if chosen else colours.soft
        side = px(22)
        paint_icon(painter, self.station.drawing, QRectF(px(20), (self.height() - side) / 2, side, side), ink)
        painter.setPen(ink)
        painter.setFont(letter(15, QFont.Weight.Bold if chosen else QFont.Weight.Normal))
        words = self.rect().adjusted(px(50), 0, -px(8), 0)
        painter.drawText(words, Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft, self.station.name)
        if self.station.open:
            painter.setFont(letter(14, numbers=True))
            count = self.rect().adjusted(0, 0, -px(12), 0)
            painter.drawText(count, Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignRight, str(self.station.open))
        if self.hasFocus():
            painter.setPen(QPen(colours.focus, 3))
            painter.drawRect(self.rect().adjusted(px(8), 2, -2, -3))

    def _card(self, *, closed: bool = True) -> QPainterPath:
        """A card that runs into the sheet at its right edge, one corner cut as a job card's is."""
        left, right, top, bottom, cut = px(8) + 0.5, self.width(), 0.5, self.height() - 0.5, px(8)
        path = QPainterPath(QPointF(right, top))
        path.lineTo(left + cut, top)
        path.lineTo(left, top + cut)
        path.lineTo(left, bottom)
        path.lineTo(right, bottom)
        if closed:
            path.closeSubpath()
        return path


class StationTabs(QWidget):
    """The tabs, first the Yard. Up and Down walk them, Enter opens one.

    Signals:
        chosen(station): the person wants that station.
    """

    chosen = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._tabs: dict[str, StationTab] = {}
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, px(12), 0, px(12))
        self._column.setSpacing(px(4))
        self._column.addStretch(1)
        self.setFixedWidth(px(WIDE))
        self.setAccessibleName(_("Stations"))

    def show_stations(self, stations: tuple[Station, ...], chosen: str) -> None:
        """Show these stations with their counts, one of them chosen."""
        for gone in set(self._tabs) - {station.id for station in stations}:
            self._tabs.pop(gone).deleteLater()
        for place, station in enumerate(stations):
            if station.id not in self._tabs:
                tab = StationTab(station)
                tab.clicked.connect(lambda _checked=False, tab=tab: self._pressed(tab))
                self._tabs[station.id] = tab
                self._column.insertWidget(place, tab)
            self._tabs[station.id].show_station(station)
        self.choose(chosen)

    def choose(self, station: str) -> None:
        """Mark the station that is open."""
        for name, tab in self._tabs.items():
            tab.setChecked(name == station)

    def tab(self, station: str) -> StationTab:
        """The tab of a station.

        Raises:
            KeyError: no such station is shown.
        """
        return self._tabs[station]

    def keyPressEvent(self, event: QKeyEvent) -> None:
        tabs = list(self._tabs.values())
        at = next((place for place, tab in enumerate(tabs) if tab.hasFocus()), None)
        steps = {Qt.Key.Key_Up: -1, Qt.Key.Key_Down: 1}
        if at is None:
            super().keyPressEvent(event)
        elif event.key() in steps:
            tabs[min(max(at + steps[Qt.Key(event.key())], 0), len(tabs) - 1)].setFocus(Qt.FocusReason.TabFocusReason)
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            tabs[at].click()
        else:
            super().keyPressEvent(event)

    def _pressed(self, tab: StationTab) -> None:
        tab.setChecked(True)
        self.chosen.emit(tab.station.id)
