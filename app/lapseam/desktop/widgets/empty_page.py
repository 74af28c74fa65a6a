"""What a station shows where there is nothing yet: what is so, and what to do next."""

from __future__ import annotations

from PySide6.QtWidgets import QVBoxLayout, QWidget

from ..theme import px
from .labels import label, sheet

_EDGE = 48


class EmptyPage(QWidget):
    """A title and a next step, alone on the sheet."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        sheet("sheet", self)
        self.title, self.step = label("title", wrap=True), label("lead", wrap=True)
        column = QVBoxLayout(self)
        column.setContentsMargins(px(_EDGE), px(_EDGE), px(_EDGE), px(_EDGE))
        column.addWidget(self.title)
        column.addWidget(self.step)
        column.addStretch(1)

    def say(self, title: str, step: str) -> None:
        """Say what is so and what to do next."""
        self.title.setText(title)
        self.step.setText(step)
