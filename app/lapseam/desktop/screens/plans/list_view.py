"""All plans, one row each."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QVBoxLayout, QWidget

from ...theme import px
from ...widgets.bay_button import BayButton
from ...widgets.labels import clear, label, sheet
from ...widgets.scroll import ColumnScroll
from ...words import _
from .state import PlanRow, PlansScreen


class PlanLine(QFrame):
    """One plan. Enter reads it.

    Signals:
        read_wanted(plan), copy_wanted(plan), edit_wanted(plan).
    """

    read_wanted = Signal(str)
    copy_wanted = Signal(str)
    edit_wanted = Signal(str)

    def __init__(self, row: PlanRow, parent: QWidget | None = None) -> None:
        super().__init__(parent, objectName="car")
        self.row = row
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.title = label("car", wrap=True)
        self.about, self.sums = label("soft", wrap=True), label("small", wrap=True)
        self.users = label("tiny", wrap=True)
        self.read = BayButton(_("Read"), drawing="plans")
        self.read.clicked.connect(lambda: self.read_wanted.emit(self.row.id))
        self.copy = BayButton(_("Copy"), drawing="plus")
        self.edit = BayButton(_("Change"), drawing="word")
        self.copy.clicked.connect(lambda: self.copy_wanted.emit(self.row.id))
        self.edit.clicked.connect(lambda: self.edit_wanted.emit(self.row.id))
        self._lay_out()
        self.show_row(row)

    def _lay_out(self) -> None:
        line = QHBoxLayout(self)
        line.setContentsMargins(px(16), px(8), px(12), px(8))
        line.setSpacing(px(12))
        words = QVBoxLayout()
        words.setSpacing(px(1))
        for one in (self.title, self.about, self.sums, self.users):
            words.addWidget(one)
        line.addLayout(words, 1)
        line.addWidget(self.edit)
        line.addWidget(self.read)
        line.addWidget(self.copy)

    def show_row(self, row: PlanRow) -> None:
        """Show the row with other sums."""
        self.row = row
        self.setAccessibleName(row.words)
        self.edit.setVisible(row.house)
        self.read.setAccessibleName(_("Read {plan}").format(plan=row.title))
        self.copy.setAccessibleName(_("Copy {plan}").format(plan=row.title))
        self.edit.setAccessibleName(_("Change {plan}").format(plan=row.title))
        for part, words in (
            (self.title, row.title),
            (self.about, row.about),
            (self.sums, row.sums),
            (self.users, row.users),
        ):
            part.setText(words)
            part.setVisible(bool(words))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.read_wanted.emit(self.row.id)
        elif event.key() in (Qt.Key.Key_Down, Qt.Key.Key_Up):
            rows = self.parentWidget().findChildren(PlanLine)
            at = rows.index(self) + (1 if event.key() == Qt.Key.Key_Down else -1)
            if 0 <= at < len(rows):
                rows[at].setFocus(Qt.FocusReason.TabFocusReason)
        else:
            super().keyPressEvent(event)

    def mouseReleaseEvent(self, event) -> None:
        if self.rect().contains(event.position().toPoint()):
            self.read_wanted.emit(self.row.id)


class PlansList(QWidget):
    """The list of plans.

    Signals:
        read_wanted(plan), copy_wanted(plan), edit_wanted(plan).
    """

    read_wanted = Signal(str)
    copy_wanted = Signal(str)
    edit_wanted = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.headline = label("heading")
        self.note = label("soft", wrap=True)
        self._lines = QVBoxLayout()
        self._lines.setContentsMargins(0, 0, px(12), 0)
        self._lines.setSpacing(px(8))
        inner = QWidget()
        inner.setLayout(self._lines)
        sheet("sheet", inner)
        self.scroll = ColumnScroll(inner)
        column = QVBoxLayout(self)
        column.setContentsMargins(px(24), px(18), px(12), px(14))
        column.setSpacing(px(8))
        column.addWidget(self.headline)
        column.addWidget(self.note)
        column.addWidget(self.scroll, 1)

    def rows(self) -> tuple[PlanLine, ...]:
        """The rows as they stand."""
        return tuple(self._lines.itemAt(at).widget() for at in range(self._lines.count() - 1))

    def show_plans(self, screen: PlansScreen) -> None:
        """Show these plans; where they are the same ones, only their words change and the keyboard stays."""
        self.headline.setText(screen.headline)
        self.note.setText(screen.note)
        self.note.setVisible(bool(screen.note))
        standing = self.rows() if self._lines.count() else ()
        if [one.row.id for one in standing] == [row.id for row in screen.rows]:
            for line, row in zip(standing, screen.rows, strict=True):
                line.show_row(row)
            return
        clear(self._lines)
        for row in screen.rows:
            line = PlanLine(row)
            line.read_wanted.connect(self.read_wanted)
            line.copy_wanted.connect(self.copy_wanted)
            line.edit_wanted.connect(self.edit_wanted)
            self._lines.addWidget(line)
        self._lines.addStretch(1)

    def take_keyboard(self) -> None:
        """The keyboard goes to the first plan."""
        if self.rows():
            self.rows()[0].setFocus(Qt.FocusReason.TabFocusReason)
