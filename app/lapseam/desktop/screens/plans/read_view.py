"""One plan as the photographer reads it: its chapters at the left, the shot stood on at the right."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QFrame, QGridLayout, QHBoxLayout, QVBoxLayout, QWidget

from ...theme import px
from ...widgets.bay_button import BayButton
from ...widgets.labels import clear, label, rule, sheet
from ...widgets.scroll import ColumnScroll
from ...widgets.shot_list import ShotList
from ...widgets.stand_sketch import StandSketch
from ...words import _
from .state import ReadScreen, ShotRead


class ShotPage(ColumnScroll):
    """Shows one `ShotRead`."""

    def __init__(self, parent: QWidget | None = None) -> None:
        body = sheet("sheet")
        super().__init__(body, parent)
        self.eyebrow, self.title = label("eyebrow", wrap=True), label("heading", wrap=True)
        self.rust = label("signal", wrap=True)
        self.sketch = StandSketch()
        self.sketch.setFixedHeight(px(220))
        self._must, self._facts = QVBoxLayout(), QGridLayout()
        self.caution = QFrame(objectName="caution")
        self.caution.setLayout(QVBoxLayout())
        self._facts.setColumnStretch(1, 1)
        self._facts.setHorizontalSpacing(px(16))
        self._facts.setVerticalSpacing(px(6))
        column = QVBoxLayout(body)
        column.setContentsMargins(px(20), px(4), px(16), px(8))
        column.setSpacing(px(8))
        for widget in (self.eyebrow, self.title, self.rust, self.sketch):
            column.addWidget(widget)
        column.addWidget(label("eyebrow", text=_("Must be seen")))
        column.addLayout(self._must)
        column.addWidget(rule())
        column.addLayout(self._facts)
        column.addWidget(self.caution)
        column.addStretch(1)

    def show_shot(self, shot: ShotRead | None) -> None:
        """Show a shot, or nothing."""
        self.widget().setVisible(shot is not None)
        if shot is None:
            return
        self.eyebrow.setText(shot.eyebrow)
        self.title.setText(shot.title)
        self.rust.setText(shot.rust)
        self.rust.setVisible(bool(shot.rust))
        self.sketch.show_stand(shot.stand)
        clear(self._must)
        for words in shot.must:
            self._must.addWidget(label(wrap=True, text=f"– {words}"))
        clear(self._facts)
        for row, (name, words) in enumerate(shot.facts):
            self._facts.addWidget(label("soft", text=name), row, 0, Qt.AlignmentFlag.AlignTop)
            self._facts.addWidget(label("small", wrap=True, text=words), row, 1)
        clear(self.caution.layout())
        self.caution.setVisible(bool(shot.cautions))
        for name, words in shot.cautions:
            self.caution.layout().addWidget(label(wrap=True, text=_("{name}: {words}").format(name=name, words=words)))
        self.verticalScrollBar().setValue(0)


class ReadView(QWidget):
    """Shows one `ReadScreen` and one of its shots.

    Signals:
        shot_wanted(shot), left(), copy_wanted(plan), edit_wanted(plan), compare_wanted(plan).
    """

    shot_wanted = Signal(str)
    left = Signal()
    copy_wanted = Signal(str)
    edit_wanted = Signal(str)
    compare_wanted = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.plan = ""
        self.title, self.about = label("heading", wrap=True), label("soft", wrap=True)
        self.sums, self.users = label("stock", wrap=True), label("soft", wrap=True)
        self.problems = label("signal", wrap=True)
        self.shots = ShotList(_("Shots of the plan"))
        self.page = ShotPage()
        self.back = BayButton(_("All plans"), key="Esc", drawing="back")
        self.compare = BayButton(_("Compare"), drawing="sort")
        self.copy = BayButton(_("Copy"), drawing="plus")
        self.edit = BayButton(_("Change"), drawing="word", go=True)
        self.shots.chosen.connect(self.shot_wanted)
        self.back.clicked.connect(self.left)
        self.compare.clicked.connect(lambda: self.compare_wanted.emit(self.plan))
        self.copy.clicked.connect(lambda: self.copy_wanted.emit(self.plan))
        self.edit.clicked.connect(lambda: self.edit_wanted.emit(self.plan))
        self._lay_out()

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(px(24), px(18), px(24), px(14))
        column.setSpacing(px(6))
        for widget in (self.title, self.about, self.sums, self.users, self.problems):
            column.addWidget(widget)
        middle = QHBoxLayout()
        middle.setSpacing(px(8))
        middle.addWidget(self.shots, 2)
        middle.addWidget(self.page, 3)
        column.addLayout(middle, 1)
        foot = QHBoxLayout()
        foot.setSpacing(px(8))
        foot.addWidget(self.back)
        foot.addStretch(1)
        for button in (self.compare, self.copy, self.edit):
            foot.addWidget(button)
        column.addLayout(foot)

    def show_plan(self, screen: ReadScreen, shot: ShotRead | None) -> None:
        """Show a plan with its first shot."""
        self.plan = screen.id
        for part, words in (
            (self.title, screen.title),
            (self.about, screen.about),
            (self.sums, screen.sums),
            (self.users, screen.users),
            (self.problems, "\n".join(screen.problems)),
        ):
            part.setText(words)
            part.setVisible(bool(words))
        self.shots.show_lines([(line.shot, line.words) for line in screen.lines])
        self.shots.setVisible(bool(screen.lines))
        self.compare.setEnabled(bool(screen.lines))
        self.edit.setVisible(screen.house)
        self.page.show_shot(shot)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.left.emit()
        else:
            super().keyPressEvent(event)
