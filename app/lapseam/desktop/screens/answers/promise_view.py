"""Promises to call back: the list of those still open, and one of them, to be kept."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QListWidget, QListWidgetItem, QVBoxLayout, QWidget

from ...theme import px
from ...widgets.bay_button import BayButton
from ...widgets.labels import label, sheet
from ...widgets.wrapped_rows import wrap_rows
from ...words import _, _n
from .state import PromiseLine


class PromiseList(QWidget):
    """The promises still open, the longest overdue first. Enter opens one.

    Signals:
        opened(line): a `PromiseLine` is wanted.
    """

    opened = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.lines: tuple[PromiseLine, ...] = ()
        self.headline = label("car", wrap=True)
        self.none = label("soft", wrap=True)
        self.list = _Rows()
        self.list.setAccessibleName(_("Promises to call back"))
        wrap_rows(self.list)
        self.list.wanted.connect(self.open_chosen)
        self.list.itemDoubleClicked.connect(lambda _item: self.open_chosen())
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(px(6))
        column.addWidget(self.headline)
        column.addWidget(self.none)
        column.addWidget(self.list, 1)
        column.addStretch(0)
        self.show_promises(())

    def show_promises(self, lines: tuple[PromiseLine, ...]) -> None:
        """Show these promises; the row stays."""
        row = max(self.list.currentRow(), 0)
        self.lines = lines
        self.list.clear()
        for line in lines:
            due = line.due.upper() if line.late else line.due
            item = QListWidgetItem(f"{due} · {line.stock}\n{line.what}", self.list)
            item.setData(Qt.ItemDataRole.AccessibleTextRole, line.spoken)
            font = item.font()
            font.setBold(line.late)
            item.setFont(font)
        if lines:
            self.list.setCurrentRow(min(row, len(lines) - 1))
        late = sum(line.late for line in lines)
        words = _n("{n} call promised", "{n} calls promised", len(lines)) if lines else _("No call is promised")
        self.headline.setText(f"{words} · {_n('{n} late', '{n} late', late)}" if late else words)
        self.list.setVisible(bool(lines))
        self.none.setText(
            _("What is promised in a call that is logged stands here until it is kept, the longest overdue first.")
        )
        self.none.setVisible(not lines)

    def open_chosen(self) -> None:
        """Open the promise stood on."""
        at = self.list.currentRow()
        if 0 <= at < len(self.lines):
            self.opened.emit(self.lines[at])


class _Rows(QListWidget):
    wanted = Signal()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.wanted.emit()
        else:
            super().keyPressEvent(event)


class PromisePage(QWidget):
    """One promise: what was asked and told, and that it has been kept.

    Signals:
        kept(line, words): the caller was called back, and what was said. left(): not now.
    """

    kept = Signal(object, str)
    left = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        sheet("sheet", self)
        self._line: PromiseLine | None = None
        self.title = label("heading", text=_("Call back"))
        self.due, self.who = label("signal"), label("soft", wrap=True)
        self.what, self.question = label("lead", wrap=True), label(wrap=True)
        self.told = label("soft", wrap=True)
        self.words = QLineEdit()
        self.words.setPlaceholderText(_("what was said, if it matters"))
        self.words.setAccessibleName(_("What was said"))
        self.words.returnPressed.connect(self._keep)
        self.back = BayButton(_("Not now"), key="Esc")
        self.keep = BayButton(_("Called back"), key="Enter", drawing="tick", go=True)
        self.back.clicked.connect(self.left)
        self.keep.clicked.connect(self._keep)
        column = QVBoxLayout(self)
        column.setContentsMargins(px(18), px(14), px(18), px(14))
        column.setSpacing(px(8))
        for part in (self.title, self.due, self.what, self.question, self.told, self.who, self.words):
            column.addWidget(part)
        column.addStretch(1)
        foot = QHBoxLayout()
        foot.addWidget(self.back)
        foot.addStretch(1)
        foot.addWidget(self.keep)
        column.addLayout(foot)

    def show_promise(self, line: PromiseLine) -> None:
        """Show a promise."""
        self._line = line
        self.due.setText(f"{line.stock} · {line.due}")
        self.what.setText(line.what)
        self.question.setText(_("Asked: {question}").format(question=line.question))
        self.question.setVisible(line.question != line.what)
        self.told.setText(_("Told: {answer}").format(answer=line.told))
        self.who.setText(line.who)
        self.words.clear()
        self.words.setFocus(Qt.FocusReason.OtherFocusReason)

    def _keep(self) -> None:
        if self._line is not None:
            self.kept.emit(self._line, self.words.text().strip())

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.left.emit()
        else:
            super().keyPressEvent(event)
