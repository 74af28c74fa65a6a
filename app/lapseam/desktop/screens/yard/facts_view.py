"""The facts of a car, each a question with its answers in one row, "Unknown" among them."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from lapseam.domain.plan import FactKind

from ...theme import px
from ...widgets.bay_button import BayButton
from ...widgets.fact_answers import FactAnswers
from ...widgets.labels import clear, label, rule, sheet
from ...widgets.scroll import ColumnScroll
from ...words import _
from .state import FactRow, FactsScreen


class FactLine(QWidget):
    """One fact: the question at the left, its answers at the right; where several may be picked, below it.

    Signals:
        answered(fact, value): None is unknown.
    """

    answered = Signal(str, object)

    def __init__(self, row: FactRow, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.row = row
        several = row.question.kind is FactKind.LIST
        line = QVBoxLayout(self) if several else QHBoxLayout(self)
        line.setContentsMargins(0, px(6), 0, px(6))
        line.setSpacing(px(12))
        words = QVBoxLayout()
        words.setSpacing(0)
        words.addWidget(label(wrap=True, text=row.question.words))
        notes = " · ".join(part for part in (row.waiting_words, row.question.note) if part)
        if notes:
            words.addWidget(label("tiny", wrap=True, text=notes))
        line.addLayout(words, 1)
        answers = FactAnswers(row.question)
        answers.answered.connect(self.answered)
        line.addWidget(answers)


class FactsView(QWidget):
    """All facts of a car.

    Signals:
        answered(stock, fact, value), walk_wanted(stock), left().
    """

    answered = Signal(str, str, object)
    walk_wanted = Signal(str)
    left = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        sheet("sheet", self)
        self._stock = ""
        self.headline = label("heading", wrap=True)
        self.about = label("soft", wrap=True, text=_("Unknown is a proper answer: what hangs on it stays on the list."))
        self.back = BayButton(_("All cars"), key="Esc", drawing="back")
        self.walk = BayButton(_("Walk this car"), drawing="walk", go=True)
        self.back.clicked.connect(self.left)
        self.walk.clicked.connect(lambda: self.walk_wanted.emit(self._stock))
        self._rows = QVBoxLayout()
        self._lay_out()

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(px(24), px(18), px(24), px(14))
        column.setSpacing(px(8))
        column.addWidget(self.headline)
        column.addWidget(self.about)
        inner = QWidget()
        inner.setLayout(self._rows)
        self._rows.setContentsMargins(0, 0, px(12), 0)
        self._rows.setSpacing(0)
        self.scroll = ColumnScroll(inner)
        column.addWidget(self.scroll, 1)
        foot = QHBoxLayout()
        foot.addWidget(self.back)
        foot.addStretch(1)
        foot.addWidget(self.walk)
        column.addLayout(foot)

    def show_facts(self, screen: FactsScreen) -> None:
        """Show these facts; the list stays where it was scrolled to, and the keyboard on the answer it was on."""
        held = self._held()
        at = self.scroll.verticalScrollBar().value() if screen.stock == self._stock else 0
        self._stock = screen.stock
        self.headline.setText(_("{stock}: {headline}").format(stock=screen.stock, headline=screen.headline))
        clear(self._rows)
        for row in screen.rows:
            line = FactLine(row)
            line.answered.connect(lambda fact, value: self.answered.emit(self._stock, fact, value))
            self._rows.addWidget(line)
            self._rows.addWidget(rule())
        self._rows.addStretch(1)
        self.scroll.verticalScrollBar().setValue(at)
        if held:
            self._hold(held)

    def _held(self) -> str:
        """The name of the answer that has the keyboard, "" for none in the list."""
        focus = self.focusWidget()
        inside = focus is not None and focus.hasFocus() and self.scroll.isAncestorOf(focus)
        return focus.accessibleName() if focus is not None and inside else ""

    def _hold(self, name: str) -> None:
        """Give the keyboard to the answer of that name."""
        again = next((one for one in self.scroll.findChildren(QWidget) if one.accessibleName() == name), None)
        if again is not None:
            again.setFocus(Qt.FocusReason.OtherFocusReason)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.left.emit()
        else:
            super().keyPressEvent(event)
