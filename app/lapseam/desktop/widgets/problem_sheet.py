"""Everything that is wrong with a file, one line each with its place and remedy, and the way to try again."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QGuiApplication, QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QListWidget, QVBoxLayout, QWidget

from ..theme import px
from ..words import _, _n
from .bay_button import BayButton
from .labels import label
from .overlay import Overlay
from .wrapped_rows import wrap_rows

_WIDE, _ROWS_HIGH = 860, 320


class ProblemSheet(Overlay):
    """Lies over the window until the file is read again or put away.

    Signals:
        again(): read the file again.
    """

    again = Signal()

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent, "choices", wide=_WIDE)
        self.title = label("heading", wrap=True)
        self.about = label("soft", wrap=True)
        self.list = QListWidget()
        self.list.setAccessibleName(_("Problems of the file"))
        wrap_rows(self.list)
        self.list.setMinimumHeight(px(_ROWS_HIGH))
        self.close_button = BayButton(_("Not now"), key="Esc")
        self.copy = BayButton(_("Copy them"), key="Ctrl+C")
        self.read_again = BayButton(_("Read it again"), key="Enter", drawing="redo", go=True)
        self.close_button.clicked.connect(self.put_away)
        self.copy.clicked.connect(self._copy)
        self.read_again.clicked.connect(self._again)
        column = QVBoxLayout(self.sheet)
        column.setContentsMargins(px(24), px(20), px(24), px(20))
        column.setSpacing(px(10))
        for part in (self.title, self.about):
            column.addWidget(part)
        column.addWidget(self.list, 1)
        foot = QHBoxLayout()
        foot.addWidget(self.close_button)
        foot.addStretch(1)
        foot.addWidget(self.copy)
        foot.addWidget(self.read_again)
        column.addLayout(foot)

    def show_problems(self, file: str, problems: tuple[str, ...], next_step: str) -> None:
        """Show what is wrong with a file."""
        count = _n("{n} problem", "{n} problems", len(problems))
        self.title.setText(_("{file}: {count}").format(file=file, count=count))
        self.about.setText(_("Nothing of it was taken in. {next}").format(next=next_step))
        self.setAccessibleName(self.title.text())
        self.list.clear()
        self.list.addItems(list(problems))
        self.list.setCurrentRow(0)
        self.come_up()
        self.list.setFocus(Qt.FocusReason.OtherFocusReason)

    def _copy(self) -> None:
        QGuiApplication.clipboard().setText("\n".join(self.list.item(at).text() for at in range(self.list.count())))

    def _again(self) -> None:
        self.put_away()
        self.again.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.put_away()
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            focus = self.focusWidget()
            focus.click() if isinstance(focus, BayButton) else self._again()
        elif event.key() == Qt.Key.Key_C and event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            self._copy()
        else:
            super().keyPressEvent(event)
