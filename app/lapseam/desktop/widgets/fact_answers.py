"""The answers to one fact: three buttons, a list, several to pick, or a line for a number. Unknown is always one."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QBoxLayout, QGridLayout, QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from lapseam.domain.condition import Value
from lapseam.domain.plan import FactKind

from ..screens.walk.questions import Choice, Question
from ..theme import px
from ..words import _
from .bay_button import BayButton
from .choice_box import ChoiceBox

_BUTTONS_AT_MOST = 3
_COLUMNS = 4


class FactAnswers(QWidget):
    """Shows one `Question` with its answer.

    Signals:
        answered(fact, value): None is unknown.
    """

    answered = Signal(str, object)

    def __init__(self, question: Question, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.question = question
        if question.kind is FactKind.LIST and len(question.choices) > 1:
            self._several()
        elif question.kind in (FactKind.NUMBER, FactKind.LIST):
            self._typed()
        elif len(question.choices) <= _BUTTONS_AT_MOST:
            self._buttons()
        else:
            self._list()

    def _line(self, layout: QBoxLayout) -> QBoxLayout:
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(px(4))
        return layout

    def _button(self, choice: Choice, *, on: bool) -> BayButton:
        button = BayButton(choice.words)
        button.setCheckable(True)
        button.setChecked(on)
        button.setAccessibleName(_("{question} {answer}").format(question=self.question.words, answer=choice.words))
        return button

    def _buttons(self) -> None:
        line = self._line(QHBoxLayout(self))
        for place, choice in enumerate(self.question.choices):
            button = self._button(choice, on=place == self.question.chosen)
            button.clicked.connect(lambda _checked=False, value=choice.value: self._say(value))
            line.addWidget(button)
        line.addStretch(1)

    def _list(self) -> None:
        line = self._line(QHBoxLayout(self))
        box = ChoiceBox()
        box.setMinimumWidth(px(240))
        box.setAccessibleName(self.question.words)
        for choice in self.question.choices:
            box.addItem(choice.words, choice.value)
        box.setCurrentIndex(self.question.chosen)
        box.activated.connect(lambda at: self._say(self.question.choices[at].value))
        line.addWidget(box, 1)

    def _several(self) -> None:
        """Each may be picked; none of them is an answer too, and so is unknown."""
        column = self._line(QVBoxLayout(self))
        grid = QGridLayout()
        grid.setSpacing(px(4))
        column.addLayout(grid)
        answer = self.question.answer
        picked = answer if isinstance(answer, tuple) else ()
        unknown = self.question.choices[-1]
        for place, choice in enumerate(self.question.choices[:-1]):
            button = self._button(choice, on=choice.value in picked)
            button.clicked.connect(lambda _checked=False, value=choice.value: self._say(_turned(picked, value)))
            grid.addWidget(button, place // _COLUMNS, place % _COLUMNS)
        foot = self._line(QHBoxLayout())
        none = self._button(Choice((), _("None of these")), on=answer == ())
        none.clicked.connect(lambda _checked=False: self._say(()))
        no_answer = self._button(unknown, on=answer is None)
        no_answer.clicked.connect(lambda _checked=False: self._say(None))
        foot.addWidget(none)
        foot.addWidget(no_answer)
        column.addLayout(foot)

    def _typed(self) -> None:
        line = self._line(QHBoxLayout(self))
        answer = self.question.answer
        shown = "" if answer is None else ", ".join(map(str, answer)) if isinstance(answer, tuple) else f"{answer:g}"
        box = QLineEdit(shown, placeholderText=_("Unknown"))
        box.setMinimumWidth(px(240))
        box.setAccessibleName(self.question.words)
        box.editingFinished.connect(lambda: self._typed_in(box, shown))
        line.addWidget(box, 1)

    def _typed_in(self, box: QLineEdit, before: str) -> None:
        text = box.text().strip()
        if text == before:
            return
        value = value_of(self.question.kind, text)
        if text and value is None:
            box.setText(before)
        else:
            self._say(value)

    def _say(self, value: Value | None) -> None:
        self.answered.emit(self.question.fact, value)


def _turned(picked: tuple[object, ...], value: object) -> tuple[object, ...]:
    """The picks with one taken up or put back."""
    return tuple(one for one in picked if one != value) if value in picked else (*picked, value)


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
