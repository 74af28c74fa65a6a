"""The Answers' window: a question, what every car's record says to it, the call's log and the promises still open."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtGui import QKeyEvent, QKeySequence
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QSizePolicy, QStackedWidget, QVBoxLayout, QWidget

from ...actions import Actions
from ...pictures import PictureShelf
from ...theme import px
from ...widgets.bay_button import BayButton
from ...widgets.labels import label, rule, sheet
from ...widgets.picture import Picture
from ...words import _
from .answer_list import AnswerList
from .call_form import CallForm
from .large_view import LARGE_PX, AnswerWords, LargeView
from .promise_view import PromiseList, PromisePage
from .question_list import QuestionList
from .state import AnswersScreen, PromiseLine, nothing_asked

_LEAST_HIGH = 400
"""The window need not grow for this station: its lists and pictures give way."""


class AnswersView(QWidget):
    """The question stands on top, the answers below it, and beside them the chosen one, a form or a promise.

    Signals:
        typed(words): the question as it stands now. scope_wanted(): one car, or every car.
        want_wanted(row), log_wanted(row): of the chosen line, -1 for none.
        take_back_wanted(): the last step of this window.
    """

    typed = Signal(str)
    scope_wanted = Signal()
    want_wanted = Signal(int)
    log_wanted = Signal(int)
    take_back_wanted = Signal()

    def __init__(self, shelf: PictureShelf, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        sheet("sheet", self)
        self.question = QLineEdit(placeholderText=_("floor pans · does the clock work · tyre age"))
        self.question.setAccessibleName(_("The caller's question"))
        self.question.setMaxLength(400)
        self.scope = BayButton("", key="F6")
        self.headline, self.advice = label("heading", wrap=True), label("soft", wrap=True)
        self.say = label("lead", wrap=True)
        self.list, self.often = AnswerList(shelf), QuestionList()
        self.larger = BayButton(_("Larger"), key="Enter", drawing="lens")
        self.want = BayButton(_("Re-shoot list"), key="F4", drawing="again")
        self.log = BayButton(_("Log this call"), key="F5", drawing="answers", go=True)
        self.said = label("small", wrap=True)
        self.take_back = BayButton(_("Take it back"), key="Ctrl+Z", drawing="undo")
        self.picture, self.words = Picture(shelf, longest_px=LARGE_PX), AnswerWords("lead")
        self.promises, self.promise = PromiseList(), PromisePage()
        self.form, self.large = CallForm(), LargeView(shelf)
        self.pages, self.beside = QStackedWidget(), QStackedWidget()
        self._lay_out()
        self._connect()
        self.show_answers(nothing_asked(""))
        self.show_scope("", only=False)
        self.show_said("")

    def _lay_out(self) -> None:
        top = QHBoxLayout()
        top.setSpacing(px(8))
        top.addWidget(self.question, 1)
        top.addWidget(self.scope)
        left = QVBoxLayout()
        left.setContentsMargins(px(24), px(16), px(18), px(14))
        left.setSpacing(px(6))
        left.addLayout(top)
        for part in (self.headline, self.advice, self.say):
            left.addWidget(part)
        left.addWidget(self.list, 1)
        left.addWidget(self.often, 1)
        left.addStretch(0)
        said = QHBoxLayout()
        said.addWidget(self.said, 1)
        said.addWidget(self.take_back)
        left.addLayout(said)
        foot = QHBoxLayout()
        foot.setSpacing(px(8))
        for button in (self.larger, self.want):
            foot.addWidget(button)
        foot.addStretch(1)
        foot.addWidget(self.log)
        left.addLayout(foot)
        self.beside.addWidget(self._aside())
        for page in (self.form, self.promise):
            self.beside.addWidget(page)
        desk = sheet("sheet")
        row = QHBoxLayout(desk)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(0)
        row.addLayout(left, 62)
        row.addWidget(rule(standing=True))
        row.addWidget(self.beside, 38)
        self.pages.addWidget(desk)
        self.pages.addWidget(self.large)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(self.pages)
        self.pages.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Ignored)
        self.pages.setMinimumHeight(px(_LEAST_HIGH))

    def _aside(self) -> QWidget:
        page = sheet("sheet")
        column = QVBoxLayout(page)
        column.setContentsMargins(px(18), px(16), px(18), px(14))
        column.setSpacing(px(8))
        column.addWidget(self.picture, 3)
        column.addWidget(self.words)
        self._between = rule()
        column.addWidget(self._between)
        column.addWidget(self.promises, 2)
        return page

    def _connect(self) -> None:
        self.question.textChanged.connect(self.typed)
        self.question.installEventFilter(self)
        self.scope.clicked.connect(self.scope_wanted)
        self.list.moved.connect(self._show_chosen)
        self.list.opened.connect(lambda _row: self.show_large())
        self.list.up_and_out.connect(self.take_keyboard)
        self.list.typed.connect(self._type_on)
        self.larger.clicked.connect(self.show_large)
        self.want.clicked.connect(lambda: self.want_wanted.emit(self.list.row))
        self.log.clicked.connect(lambda: self.log_wanted.emit(self.list.row))
        self.take_back.clicked.connect(self.take_back_wanted)
        self.often.chosen.connect(self._ask_often)
        self.often.up_and_out.connect(self.take_keyboard)
        self.large.left.connect(self.show_list)
        self.large.want_wanted.connect(self.want.click)
        self.large.log_wanted.connect(self.log.click)
        self.large.step_wanted.connect(self._step_large)
        self.form.left.connect(self.show_beside)
        self.promise.left.connect(self.show_beside)
        self.promises.opened.connect(self._show_promise)

    def hasHeightForWidth(self) -> bool:
        """Never: what is read here scrolls or is cut, so the window need not make room for all of its words."""
        return False

    def heightForWidth(self, width: int) -> int:
        """None wanted, whatever the width."""
        return -1

    def add_actions(self, actions: Actions) -> None:
        """Put what can be done here among the window's actions."""
        actions.add(
            "answers.want", _("Put it on the re-shoot list"), self.want.click, key="F4", drawing="again", where=self
        )
        actions.add("answers.log", _("Log this call"), self.log.click, key="F5", drawing="answers", where=self)
        actions.add("answers.scope", _("Ask one car, or every car"), self.scope.click, key="F6", where=self)
        actions.add("answers.promises", _("Go to the promises"), self.go_to_promises, key="F7", where=self)
        actions.add("answers.save", _("Log the call as written"), self.form.log_it, key="Ctrl+S", where=self.form)

    def show_answers(self, screen: AnswersScreen) -> None:
        """Show what was found."""
        for part, words in (
            (self.headline, screen.headline),
            (self.advice, screen.advice),
            (self.say, _("Say: “{words}”").format(words=screen.say) if screen.say else ""),
        ):
            part.setText(words)
            part.setVisible(bool(words))
        self.list.show_lines(screen.lines)
        self.list.setVisible(bool(screen.lines))
        self.often.setVisible(self.often.count() > 0 and not self.question.text().strip())
        if not screen.lines and self.pages.currentWidget() is self.large:
            self.show_list()

    def offer_questions(self, questions: tuple[str, ...]) -> None:
        """The questions that callers ask, to be asked without typing while nothing stands in the question."""
        self.often.clear()
        self.often.addItems(list(questions))
        self.often.setCurrentRow(0)
        self.often.setVisible(bool(questions) and not self.question.text().strip())

    def _ask_often(self, words: str) -> None:
        self.question.setText(words)
        self.question.setFocus(Qt.FocusReason.OtherFocusReason)

    def _show_chosen(self, _row: int) -> None:
        line = self.list.line
        self.larger.setEnabled(line is not None)
        for part in (self.words, self._between):
            part.setVisible(line is not None)
        self.picture.setVisible(line is not None and bool(line.photos))
        self.words.show_line(line)
        sha256, words = line.photos[0] if line and line.photos else ("", "")
        self.picture.show_photo(sha256, words, empty=_("There is no photo of this on file."))
        if line is not None and self.pages.currentWidget() is self.large:
            self.large.show_line(line)

    def show_scope(self, stock: str, *, only: bool) -> None:
        """Say which car can be asked alone ("" for none), and whether it is."""
        self.scope.setVisible(bool(stock))
        self.scope.say(_("Only {stock}").format(stock=stock) if only else _("Every car"))
        self.scope.setAccessibleName(
            _("Asking only {stock}. Press to ask every car.").format(stock=stock)
            if only
            else _("Asking every car. Press to ask only {stock}.").format(stock=stock)
        )
        self.scope.updateGeometry()

    def show_said(self, words: str) -> None:
        """Say what was just written, with the way to take it back; "" for nothing."""
        self.said.setText(words)
        self.said.setVisible(bool(words))
        self.take_back.setVisible(bool(words))

    def show_large(self) -> None:
        """The chosen answer, large."""
        if self.list.line is not None:
            self.large.show_line(self.list.line)
            self.pages.setCurrentWidget(self.large)
            self.large.setFocus(Qt.FocusReason.OtherFocusReason)

    def _step_large(self, rows: int) -> None:
        self.list.step(rows)

    def show_list(self) -> None:
        """Back to the answers."""
        self.pages.setCurrentIndex(0)
        (self.list if self.list.line is not None else self.question).setFocus(Qt.FocusReason.OtherFocusReason)

    def show_form(self) -> None:
        """The form of a call beside the answers."""
        self.pages.setCurrentIndex(0)
        self.beside.setCurrentWidget(self.form)

    def _show_promise(self, line: PromiseLine) -> None:
        self.beside.setCurrentWidget(self.promise)
        self.promise.show_promise(line)

    def show_beside(self) -> None:
        """The chosen answer and the promises again, and the keyboard back to the question."""
        self.beside.setCurrentIndex(0)
        self.take_keyboard()

    def go_to_promises(self) -> None:
        """The keyboard goes to the promises."""
        self.pages.setCurrentIndex(0)
        self.beside.setCurrentIndex(0)
        (self.promises.list if self.promises.list.isVisible() else self.question).setFocus()

    def take_keyboard(self) -> None:
        """The keyboard goes to the question, all of it marked so that the next one writes over it."""
        self.pages.setCurrentIndex(0)
        self.question.setFocus(Qt.FocusReason.OtherFocusReason)
        self.question.selectAll()

    def _type_on(self, words: str) -> None:
        self.question.setFocus(Qt.FocusReason.OtherFocusReason)
        self.question.end(False)
        self.question.insert(words)

    def focusInEvent(self, event) -> None:
        super().focusInEvent(event)
        self.take_keyboard()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """In the question Down goes to the answers, Enter opens one, and undo is the last step's, not the text's."""
        if watched is not self.question or not isinstance(event, QKeyEvent):
            return super().eventFilter(watched, event)
        undo = event.matches(QKeySequence.StandardKey.Undo) and self.take_back.isVisible()
        if event.type() == QEvent.Type.ShortcutOverride and undo:
            event.accept()
            return True
        if event.type() != QEvent.Type.KeyPress:
            return super().eventFilter(watched, event)
        return self._question_key(event, undo=undo) or super().eventFilter(watched, event)

    def _question_key(self, event: QKeyEvent, *, undo: bool) -> bool:
        steps = {Qt.Key.Key_Down: 1, Qt.Key.Key_Up: -1, Qt.Key.Key_PageDown: 5, Qt.Key.Key_PageUp: -5}
        if undo:
            self.take_back_wanted.emit()
        elif event.key() == Qt.Key.Key_Down and (self.list.isVisible() or self.often.isVisible()):
            (self.list if self.list.isVisible() else self.often).setFocus(Qt.FocusReason.OtherFocusReason)
        elif event.key() in steps:
            self.list.step(steps[Qt.Key(event.key())])
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.show_large()
        elif event.key() == Qt.Key.Key_Escape and self.question.text():
            self.question.clear()
        else:
            return False
        return True

    def event(self, event: QEvent) -> bool:
        """Outside a text field Ctrl+Z takes back the last step of this window, where there is one."""
        pressed = event.type() == QEvent.Type.ShortcutOverride and isinstance(event, QKeyEvent)
        if pressed and event.matches(QKeySequence.StandardKey.Undo) and self.take_back.isVisible():
            event.accept()
            return True
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.matches(QKeySequence.StandardKey.Undo) and self.take_back.isVisible():
            self.take_back_wanted.emit()
        else:
            super().keyPressEvent(event)
