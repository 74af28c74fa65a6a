"""The one place for messages: what happened, what it means, what to do next."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtGui import QAccessible, QAccessibleEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QVBoxLayout, QWidget

from ..notices import Notice
from ..theme import px
from ..words import _, _n
from .bay_button import BayButton
from .drawing import Drawing
from .labels import label


class NoticeBar(QFrame):
    """Shows one notice at a time, the latest first; earlier ones wait behind it.

    Signals:
        dismissed(notice): the person has read it.
    """

    dismissed = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent, objectName="notice")
        self._notices: list[Notice] = []
        self._drawing = Drawing("word")
        self.problem = label("lead", wrap=True)
        self.effect = label(wrap=True)
        self.next_step = label(wrap=True)
        self.detail = label("tiny", wrap=True)
        self.waiting = label("tiny")
        self.close_button = BayButton(_("Got it"), drawing="tick")
        self.close_button.setAccessibleName(_("Close this notice"))
        self.close_button.clicked.connect(self.dismiss)
        self._lay_out()
        self.hide()

    def _lay_out(self) -> None:
        row = QHBoxLayout(self)
        row.setContentsMargins(px(16), px(10), px(16), px(10))
        row.setSpacing(px(14))
        words = QVBoxLayout()
        words.setSpacing(px(2))
        for part in (self.problem, self.effect, self.next_step, self.detail):
            words.addWidget(part)
        end = QVBoxLayout()
        end.addWidget(self.close_button)
        end.addWidget(self.waiting)
        row.addWidget(self._drawing)
        row.addLayout(words, 1)
        row.addLayout(end)

    def show_notice(self, notice: Notice) -> None:
        """Show a notice and say it to a screen reader; the same one twice is shown once."""
        if notice in self._notices:
            self._notices.remove(notice)
        self._notices.append(notice)
        self._render()
        self.setAccessibleName(notice.spoken)
        QAccessible.updateAccessibility(QAccessibleEvent(self, QAccessible.Event.Alert))

    def notices(self) -> tuple[Notice, ...]:
        """What is shown, last, and what waits behind it."""
        return tuple(self._notices)

    def dismiss(self) -> None:
        """Put the shown notice away and show the one behind it."""
        if self._notices:
            notice = self._notices.pop()
            self._render()
            self.dismissed.emit(notice)

    def _render(self) -> None:
        self.setVisible(bool(self._notices))
        if not self._notices:
            return
        notice = self._notices[-1]
        self.setProperty("trouble", "true" if notice.trouble else "false")
        self.style().unpolish(self)
        self.style().polish(self)
        self._drawing.show_drawing(*(("trouble", "signal") if notice.trouble else ("word", "ink")))
        for part, words in (
            (self.problem, notice.problem),
            (self.effect, notice.effect),
            (self.next_step, _("Next: {step}").format(step=notice.next_step) if notice.next_step else ""),
            (self.detail, notice.detail),
        ):
            part.setText(words)
            part.setVisible(bool(words))
        behind = len(self._notices) - 1
        self.waiting.setText(_n("{n} more", "{n} more", behind) if behind else "")
