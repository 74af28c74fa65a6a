"""The front: one window on one open desk. Screens ask here; workflow verbs do it; the window is shown afresh.

Nothing here knows a rule of the trade. A verb's answer brings a fresh picture of the whole car; an answer that is older
than what is shown is dropped.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from itertools import count
from typing import Any

from PySide6.QtCore import QObject, QSettings, QTimer

from lapseam.domain.car import Car
from lapseam.workflow import Desk, Done, Stop
from lapseam.workflow.looking import Whole

from .bridge import Bridge
from .cards import CardWatch
from .notes_in import NotesIn
from .notices import Notice
from .person import PersonChoice
from .pictures import PictureShelf
from .pictures_from_desk import loader
from .ribbon import lap_ribbon
from .screens.answers.errands import AnswersErrands
from .screens.answers.view import AnswersView
from .screens.edition.errands import EditionErrands
from .screens.edition.view import EditionView
from .screens.findings.errands import FindingsErrands
from .screens.findings.view import FindingsView
from .screens.plans.errands import PlansErrands
from .screens.plans.view import PlansView
from .screens.walk.errands import WalkErrands
from .screens.walk.view import WalkView
from .screens.yard.errands import YardErrands
from .screens.yard.view import YardView
from .widgets.station_tabs import Station
from .window import Head, MainWindow, Steps
from .words import _, _n

YARD, WALK, FINDINGS, EDITION, PLANS, ANSWERS = "yard", "walk", "findings", "edition", "plans", "answers"
_SHOW_AFTER_MS = 400
_LOOK_AGAIN_MS = 200


@dataclass(frozen=True, slots=True)
class Job:
    """Long work that the window shows: where it tells how far it is, how it is stopped, and how it ends."""

    tell: Callable[..., None]
    stop: Stop
    end: Callable[[], None]


class Front(QObject):
    """Wires the window, its stations and the desk. `show_yard` or `open_walk` begin; `close` ends."""

    def __init__(self, desk: Desk, *, settings: QSettings | None = None) -> None:
        super().__init__()
        self.desk = desk
        self.window = MainWindow()
        self.bridge = Bridge(self.window.tell_error, self)
        self.shelf = PictureShelf(loader(desk), self.bridge, parent=self)
        self.person = PersonChoice(self.window, desk.house, settings or QSettings("Lapseam", "Lapseam"))
        self.station = YARD
        self._whole: Whole | None = None
        self._looking = self._look_again = ""
        self._stops: dict[str, Stop] = {}
        self._numbers = count(1)
        self._yard_view, self._walk_view, self._plans_view = YardView(), WalkView(self.shelf), PlansView()
        self._findings_view, self._answers_view = FindingsView(self.shelf), AnswersView(self.shelf)
        self._edition_view = EditionView(self.shelf)
        for station, view in (
            (YARD, self._yard_view),
            (WALK, self._walk_view),
            (FINDINGS, self._findings_view),
            (EDITION, self._edition_view),
            (PLANS, self._plans_view),
            (ANSWERS, self._answers_view),
        ):
            view.add_actions(self.window.actions)
            self.window.add_station(station, view)
        self.yard = YardErrands(self, self._yard_view)
        self.walk = WalkErrands(self, self._walk_view)
        self.findings = FindingsErrands(self, self._findings_view)
        self.edition = EditionErrands(self, self._edition_view)
        self.plans = PlansErrands(self, self._plans_view)
        self.answers = AnswersErrands(self, self._answers_view)
        self.notes = NotesIn(self)
        self.cards = CardWatch(self)
        self._connect()

    def _connect(self) -> None:
        window = self.window
        window.station_wanted.connect(self._station)
        window.zone_wanted.connect(self._go_to_zone)
        window.shot_wanted.connect(self.walk.go_to_shot)
        window.undo_wanted.connect(lambda: self._play(self.desk.undo))
        window.redo_wanted.connect(lambda: self._play(self.desk.redo))
        window.stop_wanted.connect(self._stop)
        window.closing.connect(self.close)
        window.actions.add("answers.ask", _("Answer a caller"), self.answer_caller, key="F3", drawing="answers")
        self.cards.card_came.connect(self.walk.card_came)

    @property
    def by(self) -> str:
        """Who is at the desk."""
        return self.person.name

    @property
    def whole(self) -> Whole | None:
        """The open car with its answers, or None."""
        return self._whole

    @property
    def stock(self) -> str:
        """The open car's stock number, or ""."""
        return self._whole.car.stock if self._whole else ""

    def show_yard(self) -> None:
        """Go to the Yard, brought up to date."""
        self.station = YARD
        self.yard.refresh(self.show_frame)
        self.answers.count()

    def show_plans(self) -> None:
        """Go to the Plans, brought up to date; a form that is open stays as it is."""
        self.station = PLANS
        self.plans.refresh(self.show_frame)

    def answer_caller(self) -> None:
        """Go to the Answers with the keyboard in the question, from anywhere."""
        self._station(ANSWERS)
        self._answers_view.take_keyboard()

    def open_walk(self, stock: str, shot: str) -> None:
        """Open a car's Walk at a shot; "" goes on where it was left."""
        self.station = WALK
        self.walk.aim(shot)
        self._look(stock)

    def changed(self, stock: str) -> None:
        """A verb changed that car: show it, and the yard where it is open, as they are now."""
        if stock == self.stock:
            self._look(stock)
        if self.station == YARD:
            self.yard.refresh(self.show_frame)

    def do(self, coming: Any, then: Callable[[Done], None] = lambda done: None) -> None:
        """Wait for a verb on the open car beside the window, then show the car as it is now."""
        stock = self.stock

        def done(answer: Done) -> None:
            then(answer)
            self._look(stock)

        self.bridge.when_done(coming, done)

    def begin_job(self, words: str) -> Job:
        """Begin long work. It is shown once it has lasted a moment, so that short work does not make the window jump.

        Its `tell` may be called on any thread.
        """
        name = f"job{next(self._numbers)}"
        stop = Stop()
        self._stops[name] = stop
        QTimer.singleShot(_SHOW_AFTER_MS, self, lambda: name in self._stops and self.window.jobs.begin(name, words))

        def end() -> None:
            self._stops.pop(name, None)
            self.window.jobs.end(name)

        return Job(self.bridge.teller(lambda done, total: self.window.jobs.tell(name, done, total)), stop, end)

    def tell(self, notice: Notice) -> None:
        """Show a notice."""
        self.window.tell(notice)

    def close(self) -> None:
        """End watches and long work; the desk itself is closed by whoever opened it."""
        self.cards.stop()
        self.walk.stop_watching()
        self.plans.stop()
        self.shelf.close()
        self.answers.stop()
        self.edition.stop()
        for stop in self._stops.values():
            stop.set()

    def _station(self, station: str) -> None:
        if station == WALK and self._whole is None:
            self.tell(
                Notice(_("No car is open."), next_step=_("Open one in the Yard, or make a new one."), trouble=False)
            )
        else:
            self.station = station
        opens = {
            YARD: self.show_yard,
            FINDINGS: self.findings.refresh,
            EDITION: lambda: self.edition.refresh(self.show_frame),
            PLANS: self.show_plans,
            ANSWERS: lambda: self.answers.refresh(self.show_frame),
        }
        opens.get(self.station, lambda: None)()
        self.show_frame()

    def _go_to_zone(self, zone: str) -> None:
        station = self.findings if self.station == FINDINGS else self.walk
        station.go_to_zone(zone)

    def _look(self, stock: str) -> None:
        """Ask for a fresh picture. While one is under way the next asking waits for it, so that a burst of changes
        (two hundred photos coming in) costs as many pictures as the window can draw, not as many as there were."""
        if self._looking:
            self._look_again = stock
            return
        self._looking = stock
        self.bridge.when_done(self.desk.whole(stock=stock), self._seen, finally_do=self._looked)

    def _looked(self) -> None:
        self._looking = ""
        if self._look_again:
            QTimer.singleShot(_LOOK_AGAIN_MS, self, self._look_once_more)

    def _look_once_more(self) -> None:
        again, self._look_again = self._look_again, ""
        if again:
            self._look(again)

    def _seen(self, whole: Whole) -> None:
        older = self._whole
        if older is not None and older.car.stock == whole.car.stock and older.car.revision > whole.car.revision:
            return
        self._whole = whole
        self.walk.show(whole)
        self.findings.show(whole)
        self.show_frame()
        if self.station == EDITION:
            self.edition.refresh(self.show_frame)
        if self.station == ANSWERS:
            self.answers.ask_again()

    def _play(self, verb: Callable[..., Any]) -> None:
        if self._whole is not None:
            self.do(verb(stock=self.stock, by=self.by))

    def show_frame(self) -> None:
        """Head, ribbon, steps and tabs as they are now."""
        whole = self._whole
        if whole is None:
            self.window.show_head(Head())
            self.window.show_steps(Steps())
        else:
            ribbon = lap_ribbon(whole.car.plan, whole.coverage, self._zone())
            self.window.show_head(Head(whole.car.stock, title_of(whole.car), about(whole.car), ribbon))
            self.window.show_steps(Steps(whole.undo, whole.redo))
        open_shots = ribbon.open if whole else None
        stations = (
            Station(YARD, _("Yard"), "yard", self.yard.cars),
            Station(WALK, _("Walk"), "walk", open_shots),
            Station(FINDINGS, _("Findings"), "findings", len(whole.unfinished) if whole else None),
            Station(EDITION, _("Edition"), "edition", self.edition.stopped_by),
            Station(PLANS, _("Plans"), "plans"),
            Station(ANSWERS, _("Calls"), "answers", self.answers.promised),
        )
        self.window.show_stations(stations, self.station)

    def _zone(self) -> str:
        """The zone that the ribbon shows as open."""
        return {WALK: self.walk.zone, FINDINGS: self.findings.zone}.get(self.station, "")

    def _stop(self, job: str) -> None:
        if job in self._stops:
            self._stops[job].set()


def title_of(car: Car) -> str:
    """What the head calls the car."""
    return (car.details.title if car.details else "") or _("Not named yet")


def about(car: Car) -> str:
    """Form, construction and photos in a few words."""
    facts = car.fact_values()
    parts = [str(facts[name]).replace("-", " ") for name in ("body", "construction") if name in facts]
    return " · ".join([*parts, _n("{n} photo", "{n} photos", len(car.photos))])
