"""The one window: the lap ribbon on top, the stations at the left, notices and long work where they do not move."""

from __future__ import annotations

from dataclasses import dataclass, field

from PySide6.QtCore import Signal
from PySide6.QtGui import QAction, QCloseEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QMainWindow, QSizePolicy, QStackedWidget, QVBoxLayout, QWidget

from .actions import Actions
from .notices import Notice, notice_of
from .ribbon import Ribbon
from .theme import px
from .widgets.bay_button import BayButton
from .widgets.find_action import FindAnAction, key_words
from .widgets.job_bar import JobBar
from .widgets.labels import label, rule, sheet
from .widgets.lap_ribbon import LapRibbon
from .widgets.notice_bar import NoticeBar
from .widgets.station_tabs import Station, StationTabs
from .words import _


@dataclass(frozen=True, slots=True)
class Head:
    """What stands over the ribbon: the car and where its walk is. Empty where no car is open."""

    stock: str = ""
    title: str = ""
    about: str = ""
    ribbon: Ribbon = field(default_factory=Ribbon)


@dataclass(frozen=True, slots=True)
class Steps:
    """What undo and redo would do now, in words; "" where there is nothing."""

    undo: str = ""
    redo: str = ""


class MainWindow(QMainWindow):
    """The frame in which stations stand.

    Signals:
        station_wanted(station), zone_wanted(zone), shot_wanted(shot): the person wants to go there.
        undo_wanted(), redo_wanted(), stop_wanted(job).
        closing(): the window is about to close.
    """

    station_wanted = Signal(str)
    zone_wanted = Signal(str)
    shot_wanted = Signal(str)
    undo_wanted = Signal()
    redo_wanted = Signal()
    stop_wanted = Signal(str)
    closing = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.setWindowTitle("Lapseam")
        self.setMinimumSize(px(1100), px(660))
        self.resize(px(1280), px(800))
        self.stock = label("stock")
        self.title = label("car")
        self.about = label("soft")
        self.ribbon = LapRibbon()
        self.tabs = StationTabs()
        self.stations = QStackedWidget()
        self.notices = NoticeBar()
        self.jobs = JobBar()
        self.actions = Actions(self)
        self._names: dict[str, QWidget] = {}
        self._chosen = ""
        self._make_buttons()
        self._lay_out()
        self.find = FindAnAction(self)
        self._add_actions()
        self.ribbon.zone_wanted.connect(self.zone_wanted)
        self.ribbon.shot_wanted.connect(self.shot_wanted)
        self.tabs.chosen.connect(self.station_wanted)
        self.jobs.stop_wanted.connect(self.stop_wanted)
        self.show_head(Head())
        self.show_steps(Steps())

    def _make_buttons(self) -> None:
        self.undo_button = BayButton("", drawing="undo")
        self.redo_button = BayButton("", drawing="redo")
        self.find_button = BayButton("", drawing="find")
        for button in (self.undo_button, self.redo_button, self.find_button):
            button.setProperty("part", "quiet")

    def _lay_out(self) -> None:
        whole = QWidget()
        column = QVBoxLayout(whole)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self._header())
        column.addWidget(self.notices)
        middle = QHBoxLayout()
        middle.setSpacing(0)
        middle.addWidget(sheet("ground", self.tabs))
        middle.addWidget(rule(standing=True))
        middle.addWidget(self.stations, 1)
        column.addLayout(middle, 1)
        column.addWidget(self.jobs)
        self.setCentralWidget(whole)

    def _header(self) -> QWidget:
        header = QFrame(objectName="header")
        header.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        column = QVBoxLayout(header)
        column.setContentsMargins(px(20), px(4), px(12), px(6))
        column.setSpacing(px(2))
        line = QHBoxLayout()
        line.setSpacing(px(12))
        line.addWidget(self.stock)
        line.addWidget(self.title)
        line.addWidget(self.about, 1)
        self._head_end = line
        for button in (self.undo_button, self.redo_button, self.find_button):
            line.addWidget(button)
        column.addLayout(line)
        column.addWidget(self.ribbon)
        return header

    def _add_actions(self) -> None:
        undo = self.actions.add("undo", _("Undo"), self.undo_wanted.emit, key="Ctrl+Z", drawing="undo")
        redo = self.actions.add("redo", _("Redo"), self.redo_wanted.emit, key="Ctrl+Shift+Z", drawing="redo")
        find = self.actions.add("find", _("Find an action"), self.open_find, key="F2", drawing="find")
        self.actions.add("read", _("Close the notice"), self.notices.dismiss, key="Ctrl+Return", drawing="tick")
        self.actions.add("keys", _("Turn single keys off or on"), self._turn_keys)
        for action, button in ((undo, self.undo_button), (redo, self.redo_button), (find, self.find_button)):
            button.clicked.connect(action.trigger)
            action.changed.connect(lambda action=action, button=button: _follow(button, action))
            _follow(button, action)

    def add_to_head(self, widget: QWidget) -> None:
        """Stand a small widget at the end of the head, before the buttons."""
        self._head_end.insertWidget(self._head_end.count() - 3, widget)

    def add_station(self, station: str, view: QWidget) -> None:
        """Stand a station's view in the window."""
        self._names[station] = view
        self.stations.addWidget(view)

    def show_stations(self, stations: tuple[Station, ...], chosen: str) -> None:
        """Show the tabs and the chosen station.

        Raises:
            KeyError: `chosen` was never added.
        """
        self.tabs.show_stations(stations, chosen)
        if chosen != self._chosen:
            self._chosen = chosen
            self.stations.setCurrentWidget(self._names[chosen])
            self._names[chosen].setFocus()
        for place, station in enumerate(stations, start=1):
            name = f"go.{station.id}"
            if name not in {action.objectName() for action in self.actions.all()}:
                words = _("Go to {station}").format(station=station.name)
                self.actions.add(
                    name, words, lambda station=station: self.station_wanted.emit(station.id), key=f"Ctrl+{place}"
                )

    def show_head(self, head: Head) -> None:
        """Show another car, or none."""
        self.stock.setText(head.stock)
        self.stock.setVisible(bool(head.stock))
        self.title.setText(head.title or _("Lapseam"))
        self.about.setText(head.about)
        self.ribbon.show_ribbon(head.ribbon)
        self.ribbon.setVisible(bool(head.ribbon.segments))
        self.setWindowTitle(" · ".join(part for part in (head.stock, head.title, "Lapseam") if part))

    def show_steps(self, steps: Steps) -> None:
        """Say what undo and redo would do, and whether they can."""
        for name, plain, words in (("undo", _("Undo"), steps.undo), ("redo", _("Redo"), steps.redo)):
            action = self.actions.action(name)
            action.setText(_("{what}: {step}").format(what=plain, step=words) if words else plain)
            action.setEnabled(bool(words))

    def tell(self, notice: Notice) -> None:
        """Show a notice."""
        self.notices.show_notice(notice)

    def tell_error(self, error: Exception) -> None:
        """Show an error as a notice; the bridge's one way to say that something went wrong."""
        self.tell(notice_of(error))

    def open_find(self) -> None:
        """Open the list of all actions."""
        self.find.open_with(self.actions.all())

    def _turn_keys(self) -> None:
        self.actions.use_single_keys(not self.actions.single_keys)
        words = _("Single keys are on.") if self.actions.single_keys else _("Single keys are off.")
        step = _("Every action is still found with F2.")
        self.tell(Notice(words, next_step=step, trouble=False))

    def closeEvent(self, event: QCloseEvent) -> None:
        self.closing.emit()
        super().closeEvent(event)


def _follow(button: BayButton, action: QAction) -> None:
    """A button that shows only a drawing says its action's words and key in its name and tooltip."""
    key = key_words(action)
    button.setEnabled(action.isEnabled())
    button.setAccessibleName(action.text())
    button.setToolTip(f"{action.text()} ({key})" if key else action.text())
