"""The Yard's window: all cars, a new car in four fields, and the facts of one."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QStackedWidget, QVBoxLayout, QWidget

from ...actions import Actions
from ...theme import px
from ...widgets.bay_button import BayButton
from ...widgets.labels import clear, label, sheet
from ...widgets.lap_ribbon import LapRibbon
from ...widgets.legend import Legend
from ...widgets.scroll import ColumnScroll
from ...words import _
from .facts_view import FactsView
from .new_car import NewCar, NewCarForm
from .state import CarCard, FactsScreen, YardScreen


class CarRow(QFrame):
    """One car: what it is, its ribbon, and where to go on. Enter opens its walk.

    Signals:
        walk_wanted(stock, shot), facts_wanted(stock).
    """

    walk_wanted = Signal(str, str)
    facts_wanted = Signal(str)

    def __init__(self, card: CarCard, parent: QWidget | None = None) -> None:
        super().__init__(parent, objectName="car")
        self.card = card
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName(card.words)
        self.title = label("car", wrap=True, text=card.title)
        self.ribbon = LapRibbon()
        self.ribbon.show_ribbon(card.ribbon)
        self.ribbon.zone_wanted.connect(lambda zone: self._zone(zone))
        self.ribbon.shot_wanted.connect(lambda shot: self.walk_wanted.emit(card.stock, shot))
        self.walk = BayButton(_("Go on") if card.ribbon.open else _("Look"), drawing="walk", go=card.ribbon.open > 0)
        self.walk.setAccessibleName(_("Walk {stock}").format(stock=card.stock))
        self.walk.clicked.connect(lambda: self.walk_wanted.emit(card.stock, card.resume_shot))
        self.facts = BayButton(_("Facts"), drawing="question")
        self.facts.setAccessibleName(_("Facts of {stock}").format(stock=card.stock))
        self.facts.clicked.connect(lambda: self.facts_wanted.emit(card.stock))
        self._lay_out()

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(px(16), px(12), px(16), px(12))
        column.setSpacing(px(8))
        head = QHBoxLayout()
        head.setSpacing(px(12))
        words = QVBoxLayout()
        words.setSpacing(px(2))
        line = QHBoxLayout()
        line.setSpacing(px(12))
        line.addWidget(label("stock", text=self.card.stock))
        line.addWidget(self.title, 1)
        words.addLayout(line)
        words.addWidget(label("soft", wrap=True, text=f"{self.card.headline} · {self.card.resume_words}"))
        head.addLayout(words, 1)
        head.addWidget(self.facts)
        head.addWidget(self.walk)
        column.addLayout(head)
        column.addWidget(self.ribbon)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.walk_wanted.emit(self.card.stock, self.card.resume_shot)
        elif event.key() in (Qt.Key.Key_Down, Qt.Key.Key_Up):
            down = event.key() == Qt.Key.Key_Down
            rows = self.parentWidget().findChildren(CarRow)
            at = rows.index(self) + (1 if down else -1)
            if 0 <= at < len(rows):
                rows[at].setFocus(Qt.FocusReason.TabFocusReason)
        else:
            super().keyPressEvent(event)

    def _zone(self, zone: str) -> None:
        segment = next(one for one in self.card.ribbon.segments if one.zone == zone)
        self.walk_wanted.emit(self.card.stock, segment.cells[0].shot if segment.cells else "")


class YardView(QWidget):
    """Shows one `YardScreen`, the form for a new car, or the facts of one.

    Signals:
        walk_wanted(stock, shot): open that car's walk at that shot.
        facts_wanted(stock): show its facts.
        new_car_wanted(form): a `NewCar` was filled in.
        demo_wanted(): open the demo car.
        plans_wanted(): look at the plans.
        answered(stock, fact, value): a fact was answered, None for unknown.
    """

    walk_wanted = Signal(str, str)
    facts_wanted = Signal(str)
    new_car_wanted = Signal(object)
    demo_wanted = Signal()
    plans_wanted = Signal()
    answered = Signal(str, str, object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        sheet("sheet", self)
        self.headline = label("heading")
        self.new = BayButton(_("New car"), drawing="plus", go=True)
        self.plans = BayButton(_("Plans"), drawing="plans")
        self.demo = BayButton(_("Open the demo car"), drawing="walk")
        self.empty_title = label("title", wrap=True)
        self.empty_next = label("lead", wrap=True)
        self.legend = Legend()
        self.form = NewCarForm()
        self.facts = FactsView()
        self.pages = QStackedWidget()
        self._cars = QVBoxLayout()
        self._lay_out()
        self.setFocusProxy(self.new)
        self.new.clicked.connect(self.show_form)
        self.plans.clicked.connect(self.plans_wanted)
        self.demo.clicked.connect(self.demo_wanted)
        self.form.done.connect(self.new_car_wanted)
        self.form.left.connect(self.show_cars)
        self.facts.answered.connect(self.answered)
        self.facts.left.connect(self.show_cars)
        self.facts.walk_wanted.connect(lambda stock: self.walk_wanted.emit(stock, ""))

    def _lay_out(self) -> None:
        cars = QWidget()
        column = QVBoxLayout(cars)
        column.setContentsMargins(px(24), px(18), px(24), px(18))
        column.setSpacing(px(12))
        head = QHBoxLayout()
        head.addWidget(self.headline, 1)
        head.addWidget(self.plans)
        head.addWidget(self.demo)
        head.addWidget(self.new)
        column.addLayout(head)
        column.addWidget(self.empty_title)
        column.addWidget(self.empty_next)
        column.addWidget(self.legend)
        inner = QWidget()
        inner.setLayout(self._cars)
        self._cars.setContentsMargins(0, 0, 0, 0)
        self._cars.setSpacing(px(10))
        self.scroll = ColumnScroll(inner)
        column.addWidget(self.scroll, 1)
        column.addStretch(0)
        self.pages.addWidget(cars)
        self.pages.addWidget(self.form)
        self.pages.addWidget(self.facts)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(self.pages)

    def add_actions(self, actions: Actions) -> None:
        """Put what can be done here among the window's actions."""
        actions.add("yard.new", _("Make a new car"), self.show_form, key="Ctrl+N", drawing="plus", where=self)
        actions.add("yard.demo", _("Open the demo car"), self.demo_wanted.emit, drawing="walk", where=self)

    def show_yard(self, screen: YardScreen) -> None:
        """Show these cars."""
        self.headline.setText(screen.headline)
        title, step = screen.empty
        self.legend.setVisible(not screen.cars)
        self.scroll.setVisible(bool(screen.cars))
        for part, words in ((self.empty_title, title), (self.empty_next, step)):
            part.setText(words)
            part.setVisible(bool(words))
        clear(self._cars)
        for card in screen.cars:
            row = CarRow(card)
            row.walk_wanted.connect(self.walk_wanted)
            row.facts_wanted.connect(self.facts_wanted)
            self._cars.addWidget(row)
        self._cars.addStretch(1)

    def show_facts(self, screen: FactsScreen) -> None:
        """Show the facts of a car."""
        self.facts.show_facts(screen)
        self.pages.setCurrentWidget(self.facts)
        self.facts.walk.setFocus()

    def show_form(self) -> None:
        """A new car."""
        self.pages.setCurrentWidget(self.form)
        self.form.begin()

    def show_cars(self) -> None:
        """Back to all cars."""
        self.pages.setCurrentIndex(0)

    def offer_plans(self, plans: tuple[tuple[str, str], ...]) -> None:
        """The plans (id and title) that a new car may be walked by."""
        self.form.offer_plans(plans)


__all__ = ["CarRow", "NewCar", "YardView"]
