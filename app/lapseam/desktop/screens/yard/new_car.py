"""A new car in four fields; the plan is chosen from a list, the usual one beforehand."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from ...theme import px
from ...widgets.bay_button import BayButton
from ...widgets.choice_box import ChoiceBox
from ...widgets.labels import label, sheet
from ...words import _

USUAL_PLAN: Final = "hardtop-full"
"""The plan a new car begins with unless another is chosen: the closed car, the commonest of the trade."""


@dataclass(frozen=True, slots=True)
class NewCar:
    """What was filled in. `year` None: not given or not known."""

    stock: str
    plan: str
    year: int | None = None
    make: str = ""
    model: str = ""


def new_car_of(stock: str, year: str, make: str, model: str, plan: str) -> NewCar | str:
    """The car as filled in, or one sentence that says what is lacking."""
    if not stock.strip():
        return _("Give the car a stock number; everything is kept under it.")
    if year.strip() and not (year.strip().isdecimal() and 1880 <= int(year) <= 2100):
        return _("The year is four figures, such as 1968; leave it out where it is not known.")
    if not plan:
        return _("Choose a shot plan.")
    return NewCar(stock.strip(), plan, int(year) if year.strip() else None, make.strip(), model.strip())


class NewCarForm(QWidget):
    """The form. Enter goes on, Escape goes back.

    Signals:
        done(NewCar): it was filled in. left(): never mind.
    """

    done = Signal(object)
    left = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        sheet("sheet", self)
        self.stock, self.year, self.make, self.model = QLineEdit(), QLineEdit(), QLineEdit(), QLineEdit()
        self.plan = ChoiceBox()
        self.trouble = label("signal", wrap=True)
        self.go = BayButton(_("Make the car"), key="Enter", drawing="tick", go=True)
        self.back = BayButton(_("Never mind"), key="Esc", drawing="back")
        self.go.clicked.connect(self._done)
        self.back.clicked.connect(self.left)
        self._lay_out()

    def _lay_out(self) -> None:
        outer = QHBoxLayout(self)
        column = QVBoxLayout()
        column.setContentsMargins(px(24), px(18), px(24), px(18))
        column.setSpacing(px(12))
        column.addWidget(label("heading", text=_("A new car")))
        column.addWidget(
            label("soft", wrap=True, text=_("Only the stock number is needed. The rest may be said later."))
        )
        grid = QGridLayout()
        grid.setHorizontalSpacing(px(16))
        grid.setVerticalSpacing(px(10))
        grid.setColumnStretch(1, 1)
        for row, (name, field) in enumerate(
            (
                (_("&Stock number"), self.stock),
                (_("&Year"), self.year),
                (_("&Make"), self.make),
                (_("M&odel"), self.model),
                (_("Shot &plan"), self.plan),
            )
        ):
            said = label(text=name)
            said.setBuddy(field)
            field.setAccessibleName(name.replace("&", ""))
            grid.addWidget(said, row, 0)
            grid.addWidget(field, row, 1)
        column.addLayout(grid)
        column.addWidget(self.trouble)
        foot = QHBoxLayout()
        foot.addWidget(self.back)
        foot.addStretch(1)
        foot.addWidget(self.go)
        column.addLayout(foot)
        column.addStretch(1)
        outer.addLayout(column, 3)
        outer.addStretch(2)

    def offer_plans(self, plans: tuple[tuple[str, str], ...]) -> None:
        """Fill the list of plans (id and title); the usual one is chosen, wherever it stands."""
        self.plan.clear()
        for plan, title in plans:
            self.plan.addItem(title, plan)
        self._choose_usual()

    def _choose_usual(self) -> None:
        self.plan.setCurrentIndex(max(0, self.plan.findData(USUAL_PLAN)))

    def begin(self) -> None:
        """Empty fields, the keyboard in the first."""
        for field in (self.stock, self.year, self.make, self.model):
            field.clear()
        self._choose_usual()
        self.trouble.setText("")
        self.stock.setFocus()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._done()
        elif event.key() == Qt.Key.Key_Escape:
            self.left.emit()
        else:
            super().keyPressEvent(event)

    def _done(self) -> None:
        plan = str(self.plan.currentData() or "")
        made = new_car_of(self.stock.text(), self.year.text(), self.make.text(), self.model.text(), plan)
        if isinstance(made, str):
            self.trouble.setText(made)
        else:
            self.trouble.setText("")
            self.done.emit(made)
