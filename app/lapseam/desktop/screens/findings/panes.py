"""The smaller panes beside a zone's photos: a function to test, words to keep, frames to look at, nothing left."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from lapseam.domain.statement import CheckVerdict

from ...theme import px
from ...widgets.bay_button import BayButton
from ...widgets.labels import label, sheet
from ...widgets.lines_field import LinesField
from ...widgets.scroll import ColumnScroll
from ...words import _
from .check_state import CheckScreen
from .said import verdict_word


def _column(widget: QWidget) -> QVBoxLayout:
    column = QVBoxLayout(widget)
    column.setContentsMargins(px(16), px(10), px(16), px(10))
    column.setSpacing(px(8))
    return column


class CheckPane(ColumnScroll):
    """One function to test: how, beware of what, and what it gave. 1 to 5 answer.

    Signals:
        answered(verdict): what the test gave, a `CheckVerdict`.
        test_wanted(): write down another one, that the plan does not ask.
        left(): Escape.
    """

    answered = Signal(object)
    test_wanted = Signal()
    left = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        body = sheet("sheet")
        super().__init__(body, parent)
        self.eyebrow = label("eyebrow", text=_("Test of a function"))
        self.title = label("heading", wrap=True)
        self.how, self.now = label(wrap=True), label("small", wrap=True)
        self.caution = QFrame(objectName="caution")
        self.caution.setLayout(QVBoxLayout())
        self.item, self.conditions, self.note = QLineEdit(), QLineEdit(), LinesField(2)
        self.item.setAccessibleName(_("What is tested"))
        self.item.setPlaceholderText(_("seat heater, left"))
        self.another = BayButton(_("Another test"), key="Ctrl+T", drawing="plus")
        self.another.clicked.connect(self.test_wanted)
        self.conditions.setPlaceholderText(_("how, where, how warm"))
        self.buttons = {
            verdict: BayButton(verdict_word(verdict), key=str(place))
            for place, verdict in enumerate(CheckVerdict, start=1)
        }
        self._lay_out(body)
        for verdict, button in self.buttons.items():
            button.clicked.connect(lambda _checked=False, verdict=verdict: self.answered.emit(verdict))

    def _lay_out(self, body: QWidget) -> None:
        column = _column(body)
        for one in (self.eyebrow, self.title, self.now, self.how, self.item, self.caution):
            column.addWidget(one)
        for words, field in ((_("Conditions"), self.conditions), (_("Note"), self.note)):
            said = label("small", text=words)
            said.setBuddy(field)
            field.setAccessibleName(words)
            column.addWidget(said)
            column.addWidget(field)
        for button in self.buttons.values():
            column.addWidget(button)
        column.addStretch(1)
        column.addWidget(self.another)

    def show_check(self, screen: CheckScreen, *, kept: bool) -> None:
        """Show a check; with `kept` what stands in the fields stays."""
        self.title.setText(screen.item or _("A test that the plan does not ask"))
        self.item.setVisible(screen.own)
        self.how.setText(screen.how)
        self.now.setText(screen.now)
        self.now.setVisible(bool(screen.now))
        layout = self.caution.layout()
        while (item := layout.takeAt(0)) is not None:
            item.widget().deleteLater()
        for name, text in screen.cautions:
            layout.addWidget(label(wrap=True, text=f"{name}. {text}"))
        self.caution.setVisible(bool(screen.cautions))
        if not kept:
            self.item.setText(screen.item if screen.own else "")
            self.conditions.setText(screen.conditions)
            self.note.setText(screen.note)
        for verdict, button in self.buttons.items():
            button.setCheckable(True)
            button.setChecked(verdict is screen.verdict)

    def take_keyboard(self) -> None:
        """The keyboard goes to the first answer; before that to what is tested, where that is not said yet."""
        unnamed = self.item.isVisible() and not self.item.text()
        (self.item if unnamed else self.buttons[CheckVerdict.WORKS]).setFocus(Qt.FocusReason.OtherFocusReason)

    def answer(self, place: int) -> None:
        """Give the answer at that place, from 0."""
        self.answered.emit(tuple(CheckVerdict)[place])

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.left.emit()
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and isinstance(self.focusWidget(), BayButton):
            self.focusWidget().click()
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.focusNextChild()
        else:
            super().keyPressEvent(event)


class NotePane(QWidget):
    """Words for a zone, typed, pasted or dictated; kept until they become a finding.

    Signals:
        keep_wanted(), finding_wanted(), take_out_wanted(), left().
    """

    keep_wanted = Signal()
    finding_wanted = Signal()
    take_out_wanted = Signal()
    left = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        sheet("sheet", self)
        self.title = label("heading", wrap=True)
        about = _(
            "Say it as it comes. It is never published; make a finding of it, so that it has its part and photos."
        )
        self.about = label("soft", wrap=True, text=about)
        self.text = LinesField(8)
        self.text.setAccessibleName(_("Words for this zone"))
        self.keep = BayButton(_("Keep it"), key="Ctrl+S", drawing="tick", go=True)
        self.finding = BayButton(_("Make it a finding"), key="Ctrl+F", drawing="finding")
        self.take_out = BayButton(_("Take it out"), drawing="close")
        self.back = BayButton(_("Back"), key="Esc", drawing="back")
        column = _column(self)
        for one in (self.title, self.about, self.text, self.keep, self.finding, self.take_out):
            column.addWidget(one)
        column.addStretch(1)
        line = QHBoxLayout()
        line.addWidget(self.back)
        line.addStretch(1)
        column.addLayout(line)
        self.keep.clicked.connect(self.keep_wanted)
        self.finding.clicked.connect(self.finding_wanted)
        self.take_out.clicked.connect(self.take_out_wanted)
        self.back.clicked.connect(self.left)

    def show_note(self, title: str, text: str, *, kept: bool) -> None:
        """Show words; those that are `kept` in the record can be taken out of it."""
        self.title.setText(title)
        if self.text.text() != text:
            self.text.setText(text)
        self.take_out.setVisible(kept)

    def take_keyboard(self) -> None:
        """The keyboard goes to the words, behind the last."""
        self.text.setFocus()
        cursor = self.text.textCursor()
        cursor.movePosition(cursor.MoveOperation.End)
        self.text.setTextCursor(cursor)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.left.emit()
        else:
            super().keyPressEvent(event)


class WordPane(QWidget):
    """A heading, a sentence, and the one thing to do next.

    Signals:
        wanted(): it is pressed.
    """

    wanted = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        sheet("sheet", self)
        self.title, self.about = label("heading", wrap=True), label(wrap=True)
        self.do = BayButton("", drawing="next", go=True)
        self.do.clicked.connect(self.wanted)
        column = _column(self)
        column.addWidget(self.title)
        column.addWidget(self.about)
        line = QHBoxLayout()
        line.addWidget(self.do)
        line.addStretch(1)
        column.addLayout(line)
        column.addStretch(1)

    def show_words(self, title: str, about: str, do: str, key: str = "Enter") -> None:
        """Show this; without `do` there is nothing to press."""
        self.title.setText(title)
        self.about.setText(about)
        self.do.say(do)
        self.do.show_key(key)
        self.do.setVisible(bool(do))

    def take_keyboard(self) -> None:
        """The keyboard goes to what can be done."""
        self.do.setFocus()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and self.do.isVisible():
            self.wanted.emit()
        else:
            super().keyPressEvent(event)
