"""A sheet of big buttons to choose one from, each with a number key: no typing, no small targets."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QVBoxLayout, QWidget

from ..theme import px
from ..words import _
from .bay_button import BayButton
from .labels import clear, label
from .overlay import Overlay

_COLUMNS = 2


class Choices(Overlay):
    """Lies over the middle of its parent until something is chosen or it is put away.

    Signals:
        chosen(subject, choice): what was chosen for the subject that `ask` named.
    """

    chosen = Signal(str, str)

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent, "choices", wide=620)
        self._subject = ""
        self._buttons: list[BayButton] = []
        self.title = label("heading", wrap=True)
        self.about = label("soft", wrap=True)
        self._grid = QGridLayout()
        self._grid.setSpacing(px(8))
        self.never_mind = BayButton(_("Never mind"), key="Esc")
        self.never_mind.clicked.connect(self.put_away)
        column = QVBoxLayout(self.sheet)
        column.setContentsMargins(px(24), px(20), px(24), px(20))
        column.setSpacing(px(10))
        column.addWidget(self.title)
        column.addWidget(self.about)
        column.addLayout(self._grid)
        foot = QHBoxLayout()
        foot.addStretch(1)
        foot.addWidget(self.never_mind)
        column.addLayout(foot)

    def ask(self, subject: str, title: str, about: str, choices: tuple[tuple[str, str], ...]) -> None:
        """Ask for one of `choices` (id and words) for a subject."""
        self._subject = subject
        self.title.setText(title)
        self.about.setText(about)
        self.about.setVisible(bool(about))
        self.setAccessibleName(title)
        clear(self._grid)
        self._buttons = []
        for place, (choice, words) in enumerate(choices):
            button = BayButton(words, key=str(place + 1) if place < 9 else "")
            button.clicked.connect(lambda _checked=False, choice=choice: self._choose(choice))
            self._buttons.append(button)
            self._grid.addWidget(button, place // _COLUMNS, place % _COLUMNS)
        self.come_up()
        (self._buttons or [self.never_mind])[0].setFocus(Qt.FocusReason.OtherFocusReason)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        place = event.key() - Qt.Key.Key_1
        if event.key() == Qt.Key.Key_Escape:
            self.put_away()
        elif 0 <= place < min(9, len(self._buttons)):
            self._buttons[place].click()
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            focus = self.focusWidget()
            if isinstance(focus, BayButton):
                focus.click()
        elif event.key() in (Qt.Key.Key_Down, Qt.Key.Key_Right):
            self.focusNextChild()
        elif event.key() in (Qt.Key.Key_Up, Qt.Key.Key_Left):
            self.focusPreviousChild()
        else:
            super().keyPressEvent(event)

    def _choose(self, choice: str) -> None:
        subject = self._subject
        self.put_away()
        self.chosen.emit(subject, choice)
