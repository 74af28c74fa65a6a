"""Asks for a key's passphrase on a sheet over the window; it is handed on once and kept nowhere."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from ..theme import px
from ..words import _
from .bay_button import BayButton
from .labels import label
from .overlay import Overlay


class PassphraseSheet(Overlay):
    """Lies over its parent until a passphrase is given, or it is done without, or it is put away.

    Signals:
        given(purpose, passphrase), without(purpose): for the purpose that `ask` named.
    """

    given = Signal(str, str)
    without = Signal(str)

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent, "choices", wide=560)
        self._purpose = ""
        self.title, self.about = label("heading", wrap=True), label("soft", wrap=True)
        self.field = QLineEdit(echoMode=QLineEdit.EchoMode.Password)
        self.field.setAccessibleName(_("Passphrase"))
        self.field.returnPressed.connect(self._give)
        self.go = BayButton("", key="Enter", go=True)
        self.go.clicked.connect(self._give)
        self.skip = BayButton("")
        self.skip.clicked.connect(self._skip)
        self.never_mind = BayButton(_("Never mind"), key="Esc")
        self.never_mind.clicked.connect(self.put_away)
        column = QVBoxLayout(self.sheet)
        column.setContentsMargins(px(24), px(20), px(24), px(20))
        column.setSpacing(px(10))
        for part in (self.title, self.about, self.field):
            column.addWidget(part)
        foot = QHBoxLayout()
        foot.setSpacing(px(8))
        foot.addWidget(self.never_mind)
        foot.addStretch(1)
        foot.addWidget(self.skip)
        foot.addWidget(self.go)
        column.addLayout(foot)

    def ask(self, purpose: str, title: str, about: str, *, go: str, without: str = "") -> None:
        """Ask for the passphrase; `without` are the words of the button that goes on without one, "" for no button."""
        self._purpose = purpose
        self.title.setText(title)
        self.about.setText(about)
        self.go.say(go)
        self.skip.say(without)
        self.skip.setVisible(bool(without))
        self.field.clear()
        self.setAccessibleName(title)
        self.come_up()
        self.field.setFocus(Qt.FocusReason.OtherFocusReason)

    def put_away(self) -> None:
        """Close it and forget what was typed."""
        self.field.clear()
        super().put_away()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.put_away()
        else:
            super().keyPressEvent(event)

    def _give(self) -> None:
        passphrase = self.field.text()
        if passphrase:
            self.put_away()
            self.given.emit(self._purpose, passphrase)

    def _skip(self) -> None:
        self.put_away()
        self.without.emit(self._purpose)
