"""Notes a finding at the car, the last frame attached: what, where, how large, how grave. No small targets."""

from __future__ import annotations

from datetime import datetime

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QComboBox, QCompleter, QGridLayout, QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from lapseam.domain.car import Car
from lapseam.domain.errors import UserError
from lapseam.domain.finding import Finding

from ..finding_draft import FindingChoices, choices_for, finding_of, lacking
from ..theme import px
from ..words import _
from .bay_button import BayButton
from .choice_box import ChoiceBox
from .labels import label
from .overlay import Overlay

_WIDE = 760


class FindingForm(Overlay):
    """Lies over the Walk until the finding is recorded or put away.

    Signals:
        done(finding): a `Finding` that may enter the record, number 0.
    """

    done = Signal(object)

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent, "choices", wide=_WIDE)
        self._car: Car | None = None
        self._choices: FindingChoices | None = None
        self._by = ""
        self._now: datetime | None = None
        self.title = label("heading", text=_("Note a finding"))
        self.photo = label("soft", wrap=True)
        self.component, self.kind, self.severity = CompletingBox(), CompletingBox(), ChoiceBox()
        self.where, self.extent, self.detail = QLineEdit(), QLineEdit(), QLineEdit()
        self.trouble = label("signal", wrap=True)
        self.never_mind = BayButton(_("Never mind"), key="Esc", drawing="back")
        self.record = BayButton(_("Record it"), key="Enter", drawing="tick", go=True)
        self.never_mind.clicked.connect(self.put_away)
        self.record.clicked.connect(self._record)
        self._lay_out()

    def _lay_out(self) -> None:
        self.where.setPlaceholderText(_("rear end, ahead of the wheel"))
        self.extent.setPlaceholderText(_("about 40 x 15 mm"))
        column = QVBoxLayout(self.sheet)
        column.setContentsMargins(px(24), px(20), px(24), px(20))
        column.setSpacing(px(10))
        column.addWidget(self.title)
        column.addWidget(self.photo)
        grid = QGridLayout()
        grid.setHorizontalSpacing(px(16))
        grid.setVerticalSpacing(px(8))
        grid.setColumnStretch(1, 1)
        rows: tuple[tuple[str, QWidget], ...] = (
            (_("&Part"), self.component),
            (_("&Kind"), self.kind),
            (_("P&lace on it"), self.where),
            (_("&Size"), self.extent),
            (_("Se&verity"), self.severity),
            (_("&Detail"), self.detail),
        )
        for row, (words, field) in enumerate(rows):
            said = label(text=words)
            said.setBuddy(field)
            field.setAccessibleName(words.replace("&", ""))
            field.setMinimumHeight(px(40))
            grid.addWidget(said, row, 0)
            grid.addWidget(field, row, 1)
        column.addLayout(grid)
        column.addWidget(self.trouble)
        foot = QHBoxLayout()
        foot.addWidget(self.never_mind)
        foot.addStretch(1)
        foot.addWidget(self.record)
        column.addLayout(foot)

    def ask(self, car: Car, shot: str, sha256: str, *, by: str, now: datetime) -> None:
        """Open the form for a finding at this shot."""
        self._car, self._by, self._now = car, by, now
        self._choices = choices_for(car, shot, sha256)
        self.component.offer(self._choices.components)
        self.kind.offer(self._choices.kinds)
        self.severity.clear()
        for one, words in self._choices.severities:
            self.severity.addItem(words, one)
        for field in (self.where, self.extent, self.detail):
            field.clear()
        self.trouble.setText("")
        self.photo.setText(
            _("Shown by {photo}, as its close frame.").format(photo=self._choices.photo_name)
            if self._choices.photo
            else _("No frame of this shot is there yet: take the close frame first, so that the finding has its photo.")
        )
        self.record.setEnabled(bool(self._choices.photo))
        self.come_up()
        self.kind.setFocus()
        self.kind.lineEdit().selectAll()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.put_away()
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._record()
        else:
            super().keyPressEvent(event)

    def _record(self) -> None:
        if self._car is None or self._choices is None or self._now is None or not self.record.isEnabled():
            return
        try:
            finding = self._finding(self._car, self._choices, self._now)
        except UserError as error:
            self.trouble.setText(str(error))
            self.extent.setFocus()
            return
        trouble = lacking(finding, self._car)
        self.trouble.setText(trouble)
        if not trouble:
            self.put_away()
            self.done.emit(finding)
        else:
            self.where.setFocus()

    def _finding(self, car: Car, choices: FindingChoices, now: datetime) -> Finding:
        return finding_of(
            choices,
            car.plan.vocabulary,
            component=self.component.chosen(),
            kind=self.kind.chosen(),
            place=self.where.text(),
            extent=self.extent.text(),
            severity=str(self.severity.currentData()),
            detail=self.detail.text(),
            by=self._by,
            now=now,
        )


class CompletingBox(QComboBox):
    """A list that is typed into: any part of a word finds it."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setEditable(True)
        self.setInsertPolicy(QComboBox.InsertPolicy.NoInsert)
        completer = self.completer()
        completer.setFilterMode(Qt.MatchFlag.MatchContains)
        completer.setCompletionMode(QCompleter.CompletionMode.PopupCompletion)

    def offer(self, choices: tuple[tuple[str, str], ...]) -> None:
        """Offer these (id and words); the first is chosen."""
        self.clear()
        for one, words in choices:
            self.addItem(words, one)
        self.setCurrentIndex(0)

    def chosen(self) -> str:
        """The id of what stands there; what was typed, where it is none of the words offered."""
        typed = self.currentText().strip()
        place = self.findText(typed, Qt.MatchFlag.MatchFixedString)
        if place < 0 and typed:
            place = self.findText(typed, Qt.MatchFlag.MatchContains)
        return str(self.itemData(place)) if place >= 0 else typed
