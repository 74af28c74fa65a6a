"""The facts of a car, each a question with its answers in one row, "Unknown" among them."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QComboBox, QFrame, QHBoxLayout, QLineEdit, QScrollArea, QVBoxLayout, QWidget

from lapseam.domain.condition import Value
from lapseam.domain.plan import FactKind

from ...theme import px
from ...widgets.bay_button import BayButton
from ...widgets.labels import clear, label, rule, sheet
from ...words import _
from ..walk.questions import Question
from .state import FactRow, FactsScreen

_BUTTONS_AT_MOST = 3


class FactLine(QWidget):
    """One fact. Flags are three buttons, choices a list, numbers and lists a line to type in.

    Signals:
        answered(fact, value): None is unknown.
    """

    answered = Signal(str, object)

    def __init__(self, row: FactRow, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.row = row
        line = QHBoxLayout(self)
        line.setContentsMargins(0, px(6), 0, px(6))
        line.setSpacing(px(12))
        words = QVBoxLayout()
        words.setSpacing(0)
        words.addWidget(label(wrap=True, text=row.question.words))
        notes = " · ".join(part for part in (row.waiting_words, row.question.note) if part)
        if notes:
            words.addWidget(label("tiny", wrap=True, text=notes))
        line.addLayout(words, 1)
        line.addWidget(self._answers(row.question))

    def _answers(self, question: Question) -> QWidget:
        if question.kind in (FactKind.NUMBER, FactKind.LIST):
            return self._typed(question)
        if len(question.choices) <= _BUTTONS_AT_MOST:
            return self._buttons(question)
        return self._list(question)

    def _buttons(self, question: Question) -> QWidget:
        box = QWidget()
        line = QHBoxLayout(box)
        line.setContentsMargins(0, 0, 0, 0)
        line.setSpacing(px(4))
        for place, choice in enumerate(question.choices):
            button = BayButton(choice.words)
            button.setCheckable(True)
            button.setChecked(place == question.chosen)
            button.setAccessibleName(_("{question} {answer}").format(question=question.words, answer=choice.words))
            button.clicked.connect(lambda _checked=False, value=choice.value: self._say(value))
            line.addWidget(button)
        return box

    def _list(self, question: Question) -> QWidget:
        box = QComboBox()
        box.setMinimumWidth(px(240))
        box.setAccessibleName(question.words)
        for choice in question.choices:
            box.addItem(choice.words, choice.value)
        box.setCurrentIndex(question.chosen)
        box.activated.connect(lambda at: self._say(question.choices[at].value))
        return box

    def _typed(self, question: Question) -> QWidget:
        answer = question.answer
        shown = "" if answer is None else ", ".join(map(str, answer)) if isinstance(answer, tuple) else f"{answer:g}"
        box = QLineEdit(shown, placeholderText=_("Unknown"))
        box.setMinimumWidth(px(240))
        box.setAccessibleName(question.words)
        box.editingFinished.connect(lambda: self._typed_in(box, question, shown))
        return box

    def _typed_in(self, box: QLineEdit, question: Question, before: str) -> None:
        text = box.text().strip()
        if text == before:
            return
        value = value_of(question.kind, text)
        if text and value is None:
            box.setText(before)
        else:
            self._say(value)

    def _say(self, value: Value | None) -> None:
        self.answered.emit(self.row.question.fact, value)


def value_of(kind: FactKind, text: str) -> Value | None:
    """What was typed as an answer; None where the line is empty or no number was typed."""
    if not text:
        return None
    if kind is FactKind.LIST:
        return tuple(part.strip() for part in text.split(",") if part.strip())
    try:
        number = float(text.replace(",", "."))
    except ValueError:
        return None
    return int(number) if number.is_integer() else number


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
        self.scroll = QScrollArea(widgetResizable=True, focusPolicy=Qt.FocusPolicy.NoFocus)
        self.scroll.setFrameShape(QFrame.Shape.NoFrame)
        self.scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.scroll.setWidget(inner)
        column.addWidget(self.scroll, 1)
        foot = QHBoxLayout()
        foot.addWidget(self.back)
        foot.addStretch(1)
        foot.addWidget(self.walk)
        column.addLayout(foot)

    def show_facts(self, screen: FactsScreen) -> None:
        """Show these facts; the list stays where it was scrolled to."""
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

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.left.emit()
        else:
            super().keyPressEvent(event)
