"""Closing a setup: the list read at two metres, worst first, with a reason for every rust-prone gap."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QVBoxLayout, QWidget

from ...theme import px
from ...widgets.bay_button import BayButton
from ...widgets.choices import Choices
from ...widgets.labels import clear, label, sheet
from ...widgets.legend import CellPicture
from ...widgets.scroll import ColumnScroll
from ...words import _
from .closing import ClosingRow, ClosingScreen


class GapRow(QFrame):
    """One open shot of the list."""

    def __init__(self, row: ClosingRow, reason_words: str, parent: QWidget | None = None) -> None:
        super().__init__(parent, objectName="gap")
        self.row = row
        self.setProperty("rust", "true" if row.rust else "false")
        self.setAccessibleName(row.words)
        self.title = label("bay", wrap=True, text=row.title)
        self.why = label("lead", wrap=True, text=_why_words(row, reason_words))
        self.go = BayButton(_("Shoot it"), drawing="next")
        self.go.setAccessibleName(_("Shoot it: {title}").format(title=row.title))
        self.reason = BayButton(_("Change reason") if row.reason else _("Give a reason"), drawing="unreachable")
        self.reason.setAccessibleName(_("Reason for: {title}").format(title=row.title))
        line = QHBoxLayout(self)
        line.setContentsMargins(px(16), px(10), px(8), px(10))
        line.setSpacing(px(16))
        words = QVBoxLayout()
        words.setSpacing(px(2))
        words.addWidget(self.title)
        words.addWidget(self.why)
        line.addWidget(CellPicture(row.cell, wide=30, high=46), 0, Qt.AlignmentFlag.AlignTop)
        line.addLayout(words, 1)
        line.addWidget(self.reason)
        line.addWidget(self.go)
        self.reason.setVisible(row.needs_reason)


def _why_words(row: ClosingRow, reason: str) -> str:
    why = _("rust-prone · {why}").format(why=row.why) if row.rust else row.why
    return _("{why} · reason: {reason}").format(why=why, reason=reason) if reason else why


class ClosingView(QWidget):
    """Shows one `ClosingScreen`; the reasons chosen live in it until the setup is closed.

    Signals:
        shot_wanted(shot): go and take that one.
        close_wanted(setup, reasons): close it; `reasons` maps rust-prone gaps to the reasons given.
        stay_wanted(): back to shooting.
    """

    shot_wanted = Signal(str)
    close_wanted = Signal(str, object)
    stay_wanted = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        sheet("sheet", self)
        self._screen: ClosingScreen | None = None
        self.title = label("lead", wrap=True)
        self.headline = label("bay-big", wrap=True)
        self.minutes = label("bay-plain")
        self.list = QWidget()
        self._column = QVBoxLayout(self.list)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(0)
        self.stay = BayButton(_("Back to shooting"), key="Esc", drawing="back")
        self.close_button = BayButton("", drawing="lift-down", go=True)
        self.choices = Choices(self)
        self.choices.chosen.connect(self._reason_chosen)
        self.stay.clicked.connect(self.stay_wanted)
        self.close_button.clicked.connect(self._close)
        self._lay_out()

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(px(24), px(18), px(24), px(14))
        column.setSpacing(px(8))
        head = QHBoxLayout()
        words = QVBoxLayout()
        words.addWidget(self.title)
        words.addWidget(self.headline)
        head.addLayout(words, 1)
        head.addWidget(self.minutes, 0, Qt.AlignmentFlag.AlignBottom)
        column.addLayout(head)
        column.addWidget(ColumnScroll(self.list), 1)
        foot = QHBoxLayout()
        foot.addWidget(self.stay)
        foot.addStretch(1)
        foot.addWidget(self.close_button)
        column.addLayout(foot)

    def sizeHint(self) -> QSize:
        return QSize(px(900), px(600))

    def show_closing(self, screen: ClosingScreen) -> None:
        """Show the list of a setup."""
        self._screen = screen
        self.title.setText(screen.title)
        self.headline.setText(screen.headline)
        self.minutes.setText(screen.minutes)
        self.minutes.setVisible(bool(screen.minutes))
        self.close_button.say(screen.close_words)
        self.close_button.setEnabled(screen.may_close)
        words = dict(screen.reasons)
        clear(self._column)
        for row in screen.rows:
            gap = GapRow(row, words.get(row.reason, ""))
            gap.go.clicked.connect(lambda _checked=False, shot=row.shot: self.shot_wanted.emit(shot))
            gap.reason.clicked.connect(lambda _checked=False, row=row: self._ask(row))
            self._column.addWidget(gap)
        if not screen.rows:
            self._column.addWidget(label("bay-plain", wrap=True, text=_("Every shot of this setup is dealt with.")))
        self._column.addStretch(1)

    def chosen(self, setup: str) -> dict[str, str]:
        """The reasons chosen so far for a setup's gaps, so that a fresh list keeps them."""
        return dict(self._screen.chosen) if self._screen is not None and self._screen.setup == setup else {}

    def gaps(self) -> tuple[GapRow, ...]:
        """The rows as they stand."""
        items = (self._column.itemAt(place).widget() for place in range(self._column.count()))
        return tuple(item for item in items if isinstance(item, GapRow))

    def _ask(self, row: ClosingRow) -> None:
        if self._screen is not None:
            self.choices.ask(row.shot, _("Why is it not shown?"), row.title, self._screen.reasons)

    def _reason_chosen(self, shot: str, reason: str) -> None:
        if self._screen is not None:
            self.show_closing(self._screen.with_reason(shot, reason))
            self.close_button.setFocus() if self._screen.may_close else self._focus_next_reason()

    def _focus_next_reason(self) -> None:
        wanting = next((gap for gap in self.gaps() if gap.row.needs_reason and not gap.row.reason), None)
        if wanting is not None:
            wanting.reason.setFocus()

    def _close(self) -> None:
        if self._screen is not None and self._screen.may_close:
            self.close_wanted.emit(self._screen.setup, dict(self._screen.chosen))
