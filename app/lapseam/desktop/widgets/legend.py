"""How to read the ribbon: every state once, as a cell and as a word."""

from __future__ import annotations

from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QWidget

from lapseam.domain.coverage import State

from ..ribbon import Cell
from ..theme import inks, px
from ..words import _, state_word
from .cells import paint_cell
from .labels import label

_COLUMNS = 3


class CellPicture(QWidget):
    """One cell of the ribbon, larger."""

    def __init__(self, cell: Cell, *, wide: int = 16, high: int = 34, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._cell = cell
        self.setFixedSize(px(wide), px(high))
        self.setAccessibleName(cell.words)
        self.setToolTip(cell.words)

    def paintEvent(self, event) -> None:
        paint_cell(QPainter(self), QRectF(self.rect()), self._cell, inks())


class Legend(QWidget):
    """All cells with their words, and when each is shown."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        grid = QGridLayout(self)
        grid.setContentsMargins(0, px(16), 0, 0)
        grid.setHorizontalSpacing(px(28))
        grid.setVerticalSpacing(px(14))
        grid.addWidget(label("heading", text=_("How to read the lap ribbon")), 0, 0, 1, _COLUMNS)
        for place, (cell, name, meaning) in enumerate(_entries()):
            row = QWidget()
            line = QHBoxLayout(row)
            line.setContentsMargins(0, 0, 0, 0)
            line.setSpacing(px(12))
            line.addWidget(CellPicture(cell))
            line.addWidget(label(wrap=True, text=f"{name}: {meaning}"), 1)
            grid.addWidget(row, 1 + place // _COLUMNS, place % _COLUMNS)
        for column in range(_COLUMNS):
            grid.setColumnStretch(column, 1)


def _entries() -> tuple[tuple[Cell, str, str], ...]:
    def entry(state: State, meaning: str, **flags: bool) -> tuple[Cell, str, str]:
        return Cell("", "", state, **flags), state_word(state), meaning

    return (
        entry(State.MISSED, _("nobody has dealt with it")),
        (Cell("", "", State.MISSED, urgent=True), _("missed, must be done"), _("required or rust-prone")),
        entry(State.TAKEN, _("frames are there")),
        entry(State.PARTLY, _("something on its list is lacking")),
        entry(State.COVERED, _("a person ticked its list")),
        entry(State.NOT_REACHABLE, _("closed with a reason")),
        entry(State.DECIDE, _("hangs on an unanswered fact")),
        (Cell("", "", State.MISSED, waived=True), _("waived"), _("a named person lets it stand")),
        (Cell("", "", State.NOT_FITTED), _("a gap"), _("the car has no such thing")),
    )
