"""A copy of a plan into the workspace: its title, its id, and whether it follows the plan it is made from."""

from __future__ import annotations

import re
from dataclasses import dataclass

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from ...theme import px
from ...widgets.bay_button import BayButton
from ...widgets.labels import label
from ...words import _


@dataclass(frozen=True, slots=True)
class PlanCopy:
    """What was filled in; with `differences` the copy holds only what differs from its base and follows it."""

    plan: str
    new_id: str
    title: str
    differences: bool


def copy_of(plan: str, new_id: str, title: str, *, differences: bool) -> PlanCopy | str:
    """The copy as filled in, or one sentence that says what is lacking."""
    if not title.strip():
        return _("Give the copy a title; it stands in every list of plans.")
    if not re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", new_id.strip()):
        return _("An id has small letters, figures and hyphens, such as house-hardtop.")
    return PlanCopy(plan, new_id.strip(), title.strip(), differences)


def id_from(title: str) -> str:
    """An id that goes with a title."""
    return re.sub(r"[^a-z0-9]+", "-", title.lower()).strip("-")


class CopyForm(QWidget):
    """The form. Enter goes on, Escape goes back.

    Signals:
        done(PlanCopy): it was filled in. left(): never mind.
    """

    done = Signal(object)
    left = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._plan = ""
        self._own_id = False
        self.heading = label("heading", wrap=True)
        self.title, self.new_id = QLineEdit(), QLineEdit()
        self.follow, self.alone = BayButton(_("Only what differs")), BayButton(_("The whole plan"))
        self.means = label("soft", wrap=True)
        self.trouble = label("signal", wrap=True)
        self.go = BayButton(_("Make the copy"), key="Enter", drawing="tick", go=True)
        self.back = BayButton(_("Never mind"), key="Esc", drawing="back")
        self.go.clicked.connect(self._done)
        self.back.clicked.connect(self.left)
        self.title.textEdited.connect(self._suggest)
        self.new_id.textEdited.connect(self._keep_id)
        for button, differences in ((self.follow, True), (self.alone, False)):
            button.setCheckable(True)
            button.clicked.connect(lambda _checked=False, differences=differences: self._choose(differences))
        self._lay_out()

    def _lay_out(self) -> None:
        outer = QHBoxLayout(self)
        column = QVBoxLayout()
        column.setContentsMargins(px(24), px(18), px(24), px(18))
        column.setSpacing(px(12))
        column.addWidget(self.heading)
        grid = QGridLayout()
        grid.setHorizontalSpacing(px(16))
        grid.setVerticalSpacing(px(10))
        grid.setColumnStretch(1, 1)
        for row, (name, field) in enumerate(((_("&Title"), self.title), (_("&Id"), self.new_id))):
            said = label(text=name)
            said.setBuddy(field)
            field.setAccessibleName(name.replace("&", ""))
            grid.addWidget(said, row, 0)
            grid.addWidget(field, row, 1)
        column.addLayout(grid)
        ways = QHBoxLayout()
        ways.addWidget(self.follow)
        ways.addWidget(self.alone)
        ways.addStretch(1)
        column.addLayout(ways)
        column.addWidget(self.means)
        column.addWidget(self.trouble)
        foot = QHBoxLayout()
        foot.addWidget(self.back)
        foot.addStretch(1)
        foot.addWidget(self.go)
        column.addLayout(foot)
        column.addStretch(1)
        outer.addLayout(column, 3)
        outer.addStretch(2)

    def begin(self, plan: str, title: str) -> None:
        """Ask about a copy of a plan."""
        self._plan, self._own_id = plan, False
        self.heading.setText(_("A copy of {plan}").format(plan=title))
        self.title.setText(_("Our {plan}").format(plan=title[:1].lower() + title[1:]))
        self.new_id.setText(f"our-{plan}")
        self.trouble.setText("")
        self._choose(differences=True)
        self.title.setFocus()
        self.title.selectAll()

    def _choose(self, differences: bool) -> None:
        self.follow.setChecked(differences)
        self.alone.setChecked(not differences)
        words = (
            _("The copy follows its base: what changes there changes here too, but for what you change yourself.")
            if differences
            else _("The copy has what this plan writes out itself; what that takes from a base, it goes on taking.")
        )
        self.means.setText(words)

    def _suggest(self, title: str) -> None:
        if not self._own_id:
            self.new_id.setText(id_from(title))

    def _keep_id(self) -> None:
        self._own_id = True

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._done()
        elif event.key() == Qt.Key.Key_Escape:
            self.left.emit()
        else:
            super().keyPressEvent(event)

    def _done(self) -> None:
        made = copy_of(self._plan, self.new_id.text(), self.title.text(), differences=self.follow.isChecked())
        if isinstance(made, str):
            self.trouble.setText(made)
        else:
            self.trouble.setText("")
            self.done.emit(made)
