"""Long work: what is being done, how far it is, and a way to stop it."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QProgressBar, QVBoxLayout, QWidget

from ..theme import px
from ..words import _
from .bay_button import BayButton
from .labels import label


class JobRow(QWidget):
    """One piece of work."""

    def __init__(self, words: str, *, may_stop: bool, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.words: QLabel = label(text=words)
        self.count: QLabel = label("soft")
        self.bar = QProgressBar(textVisible=False, minimum=0, maximum=0)
        self.bar.setAccessibleName(words)
        self.stop = BayButton(_("Stop"), drawing="close")
        self.stop.setAccessibleName(_("Stop: {work}").format(work=words))
        row = QHBoxLayout(self)
        row.setContentsMargins(px(16), px(4), px(16), px(4))
        row.setSpacing(px(14))
        row.addWidget(self.words)
        row.addWidget(self.bar, 1)
        row.addWidget(self.count)
        row.addWidget(self.stop)
        self.stop.setVisible(may_stop)


class JobBar(QFrame):
    """All work that is going on; hidden when there is none.

    Signals:
        stop_wanted(job): the person wants that work stopped; it stays until `end` is called.
    """

    stop_wanted = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent, objectName="jobs")
        self._rows: dict[str, JobRow] = {}
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, px(4), 0, px(4))
        self._column.setSpacing(0)
        self.hide()

    def begin(self, job: str, words: str, *, may_stop: bool = True) -> None:
        """Show a new piece of work under a name of its own."""
        self.end(job)
        row = JobRow(words, may_stop=may_stop)
        row.stop.clicked.connect(lambda: self._stop(job))
        self._rows[job] = row
        self._column.addWidget(row)
        self.show()

    def tell(self, job: str, done: int, total: int) -> None:
        """Say how far it is; a `total` of 0 is not known yet. Work that has ended is passed over."""
        row = self._rows.get(job)
        if row is not None:
            row.bar.setRange(0, total)
            row.bar.setValue(done)
            row.count.setText(_("{done} of {total}").format(done=done, total=total) if total else "")

    def end(self, job: str) -> None:
        """Take the work away."""
        row = self._rows.pop(job, None)
        if row is not None:
            row.hide()
            self._column.removeWidget(row)
            row.deleteLater()
        self.setVisible(bool(self._rows))

    def jobs(self) -> tuple[str, ...]:
        """The names of what is going on."""
        return tuple(self._rows)

    def _stop(self, job: str) -> None:
        row = self._rows.get(job)
        if row is not None:
            row.stop.setEnabled(False)
            row.count.setText(_("Stopping …"))
            self.stop_wanted.emit(job)
