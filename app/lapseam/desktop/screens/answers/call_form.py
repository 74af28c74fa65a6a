"""The form of a call: the question in the caller's words, what was read out, how it is known, and what was promised."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QComboBox,
    QGridLayout,
    QHBoxLayout,
    QLineEdit,
    QPlainTextEdit,
    QVBoxLayout,
    QWidget,
)

from lapseam.domain.call import AnswerBasis

from ...theme import px
from ...widgets.bay_button import BayButton
from ...widgets.choice_box import ChoiceBox
from ...widgets.labels import label, sheet
from ...widgets.scroll import ColumnScroll
from ...words import _, _n
from .call_draft import CallDraft, lacking
from .state import basis_word


class CallForm(QWidget):
    """Stands beside the answers, so that they can be read while the call is written down.

    Signals:
        done(draft): a `CallDraft` that lacks nothing. left(): never mind. car_chosen(stock).
    """

    done = Signal(object)
    left = Signal()
    car_chosen = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        sheet("sheet", self)
        self._draft: CallDraft | None = None
        self._today = date.min
        self.title = label("heading", text=_("Log this call"))
        self.stood_on = label("soft", wrap=True)
        self.car, self.basis = ChoiceBox(), ChoiceBox()
        self.question, self.known_by, self.caller, self.sent = QLineEdit(), QLineEdit(), QLineEdit(), QLineEdit()
        self.call_back, self.promise = QLineEdit(), QLineEdit()
        self.answer = QPlainTextEdit()
        self.answer.setTabChangesFocus(True)
        self.answer.setFixedHeight(px(92))
        self.photos_sent = BayButton("", drawing="lens")
        self.photos_sent.setCheckable(True)
        for basis in AnswerBasis:
            self.basis.addItem(basis_word(basis), basis)
        self.trouble = label("signal", wrap=True)
        self.never_mind = BayButton(_("Never mind"), key="Esc")
        self.log = BayButton(_("Log it"), key="Ctrl+S", drawing="tick", go=True)
        self.never_mind.clicked.connect(self.left)
        self.log.clicked.connect(self.log_it)
        self.car.currentIndexChanged.connect(lambda _at: self.car_chosen.emit(self.stock))
        self._lay_out()

    def _lay_out(self) -> None:
        self.call_back.setPlaceholderText(_("2026-05-20, tomorrow, +3"))
        self.caller.setPlaceholderText(_("never published"))
        self.sent.setPlaceholderText(_("what went out, and how"))
        grid = QGridLayout()
        grid.setHorizontalSpacing(px(12))
        grid.setVerticalSpacing(px(6))
        grid.setColumnStretch(1, 1)
        rows: tuple[tuple[str, QWidget], ...] = (
            (_("Car"), self.car),
            (_("Asked"), self.question),
            (_("Read out"), self.answer),
            (_("Basis"), self.basis),
            (_("Known by"), self.known_by),
            (_("Sent"), self.sent),
            ("", self.photos_sent),
            (_("Caller"), self.caller),
            (_("Call back by"), self.call_back),
            (_("About"), self.promise),
        )
        for row, (words, field) in enumerate(rows):
            if words:
                grid.addWidget(label("soft", text=words), row, 0, Qt.AlignmentFlag.AlignVCenter)
                field.setAccessibleName(words)
            grid.addWidget(field, row, 1)
            field.installEventFilter(self)
        inner = sheet("sheet")
        column = QVBoxLayout(inner)
        column.setContentsMargins(px(18), px(14), px(18), 0)
        column.setSpacing(px(6))
        column.addWidget(self.title)
        column.addWidget(self.stood_on)
        column.addLayout(grid)
        column.addStretch(1)
        said = QHBoxLayout()
        said.setContentsMargins(px(18), px(4), px(18), 0)
        said.addWidget(self.trouble)
        foot = QHBoxLayout()
        foot.setContentsMargins(px(18), px(8), px(18), px(14))
        foot.addWidget(self.never_mind)
        foot.addStretch(1)
        foot.addWidget(self.log)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(ColumnScroll(inner), 1)
        whole.addLayout(said)
        whole.addLayout(foot)

    def offer_cars(self, cars: tuple[tuple[str, str], ...]) -> None:
        """The cars (stock number and words) that a call may be about; the chosen one stays."""
        chosen = self.stock
        self.car.blockSignals(True)
        self.car.clear()
        self.car.addItem(_("Which car?"), "")
        for stock, words in cars:
            self.car.addItem(words, stock)
        self.car.setCurrentIndex(max(self.car.findData(chosen), 0))
        self.car.blockSignals(False)

    def ask(self, draft: CallDraft, *, today: date) -> None:
        """Begin with what is known."""
        self._draft, self._today = draft, today
        self.trouble.setText("")
        self.stood_on.setText("")
        self.question.setText(draft.question)
        self.answer.setPlainText(draft.answer)
        self.basis.setCurrentIndex(self.basis.findData(draft.basis))
        self.known_by.setText(draft.known_by)
        self.known_by.setCursorPosition(0)
        self.call_back.setText(draft.call_back)
        for field in (self.caller, self.sent, self.promise):
            field.clear()
        photos = len(draft.photos)
        self.photos_sent.say(_n("Its photo was sent", "Its {n} photos were sent", photos))
        self.photos_sent.updateGeometry()
        self.photos_sent.setVisible(photos > 0)
        self.photos_sent.setChecked(False)
        self.car.setCurrentIndex(max(self.car.findData(draft.stock), 0))
        self.car_chosen.emit(self.stock)
        (self.question if not draft.question else self.answer).setFocus(Qt.FocusReason.OtherFocusReason)

    def show_edition(self, number: int | None) -> None:
        """Say on which edition the answer stands; None where none was published."""
        words = _("It stands on edition {n}.").format(n=number) if number else _("No edition of this car is out yet.")
        self.stood_on.setText(words if self.stock else "")

    @property
    def stock(self) -> str:
        """The car chosen, "" for none."""
        return str(self.car.currentData() or "")

    def draft(self) -> CallDraft:
        """What stands in the form. An answer about another car than the entry's no longer stands on that entry."""
        begun = self._draft
        assert begun is not None
        same = self.stock == begun.stock
        return replace(
            begun,
            stock=self.stock,
            question=self.question.text(),
            answer=self.answer.toPlainText(),
            basis=AnswerBasis(self.basis.currentData()),
            known_by=self.known_by.text(),
            source=begun.source if same else "",
            caller=self.caller.text(),
            sent=self.sent.text(),
            photos=begun.photos if same else (),
            photos_sent=self.photos_sent.isChecked() and same,
            call_back=self.call_back.text(),
            promise=self.promise.text(),
        )

    def log_it(self) -> None:
        """Hand the call on, or say what it lacks and go there."""
        if self._draft is None:
            return
        draft = self.draft()
        lacks = lacking(draft, self._today)
        self.trouble.setText(lacks.words if lacks else "")
        if lacks is None:
            self.done.emit(draft)
        else:
            getattr(self, "car" if lacks.field == "stock" else lacks.field).setFocus(Qt.FocusReason.OtherFocusReason)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Enter goes on to the next field; in the answer it is a new line."""
        pressed = event.type() == QEvent.Type.KeyPress and isinstance(event, QKeyEvent)
        enter = pressed and event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter)
        if enter and isinstance(watched, QLineEdit | QComboBox):
            self.focusNextChild()
            return True
        return super().eventFilter(watched, event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.left.emit()
        else:
            super().keyPressEvent(event)
