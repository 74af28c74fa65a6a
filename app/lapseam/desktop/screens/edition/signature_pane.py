"""What stops the signature and what only warns, rule by rule in words, and signing."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from ...theme import px
from ...widgets.bay_button import BayButton
from ...widgets.labels import clear, label, rule, sheet
from ...widgets.scroll import ColumnScroll
from ...words import _, _n
from .state import EditionScreen, Reason

_MOST = 8


class SignaturePane(QWidget):
    """Lists the reasons of one `EditionScreen`.

    Signals:
        sign_wanted(): sign the record as it stands.
    """

    sign_wanted = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        sheet("sheet", self)
        self._shown: tuple[Reason, ...] | None = None
        inner = QWidget()
        self._rows = QVBoxLayout(inner)
        self._rows.setContentsMargins(px(18), px(14), px(18), px(14))
        self._rows.setSpacing(px(6))
        self.scroll = ColumnScroll(inner)
        self.sign = BayButton(_("Sign the record"), key="S", drawing="proof", go=True)
        self.sign.clicked.connect(self.sign_wanted)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.scroll, 1)
        foot = QHBoxLayout()
        foot.setContentsMargins(px(18), px(8), px(18), px(14))
        foot.addWidget(self.sign)
        foot.addStretch(1)
        column.addWidget(rule())
        column.addLayout(foot)

    def show_screen(self, screen: EditionScreen) -> None:
        """Show the reasons; the same ones again change nothing."""
        self.sign.setEnabled(bool(screen.groups) and not screen.signed and not screen.stopped_by)
        if screen.reasons == self._shown:
            return
        self._shown = screen.reasons
        clear(self._rows)
        if not screen.reasons:
            self._rows.addWidget(label("lead", wrap=True, text=_("No rule speaks against the signature.")))
        for reason in screen.reasons:
            self._add(reason)
        self._rows.addStretch(1)

    def _add(self, reason: Reason) -> None:
        self._rows.addWidget(label("signal" if reason.stops else "soft", text=_head(reason)))
        self._rows.addWidget(label("car" if reason.stops else "", wrap=True, text=reason.title))
        for words in reason.words[:_MOST]:
            self._rows.addWidget(label("small", wrap=True, text=words))
        more = len(reason.words) - _MOST
        if more > 0:
            self._rows.addWidget(label("soft", text=_n("and {n} more", "and {n} more", more)))
        self._rows.addWidget(rule())


def _head(reason: Reason) -> str:
    return _("Stops the signature") if reason.stops else _("A warning")
