"""Two plans side by side in words: what the second adds, drops and changes."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QVBoxLayout, QWidget

from ...theme import px
from ...widgets.bay_button import BayButton
from ...widgets.choice_box import ChoiceBox
from ...widgets.labels import clear, label, sheet
from ...widgets.scroll import ColumnScroll
from ...words import _
from .state import CompareScreen


class CompareView(QWidget):
    """Asks for two plans and shows one `CompareScreen`.

    Signals:
        compare_wanted(before, after): plan ids. left().
    """

    compare_wanted = Signal(str, str)
    left = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.before, self.after = ChoiceBox(), ChoiceBox()
        self.headline = label("car", wrap=True)
        self.back = BayButton(_("Back to the plan"), key="Esc", drawing="back")
        self.back.clicked.connect(self.left)
        self._sections = QVBoxLayout()
        self._lay_out()
        for box in (self.before, self.after):
            box.activated.connect(self._ask)

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(px(24), px(18), px(24), px(14))
        column.setSpacing(px(8))
        column.addWidget(label("heading", text=_("Compare two plans")))
        grid = QGridLayout()
        grid.setHorizontalSpacing(px(16))
        grid.setColumnStretch(1, 1)
        for row, (name, box) in enumerate(((_("&From"), self.before), (_("&To"), self.after))):
            said = label(text=name)
            said.setBuddy(box)
            box.setAccessibleName(name.replace("&", ""))
            grid.addWidget(said, row, 0)
            grid.addWidget(box, row, 1)
        column.addLayout(grid)
        column.addWidget(self.headline)
        inner = sheet("sheet")
        inner.setLayout(self._sections)
        self._sections.setContentsMargins(0, 0, px(12), 0)
        self._sections.setSpacing(px(4))
        column.addWidget(ColumnScroll(inner), 1)
        foot = QHBoxLayout()
        foot.addWidget(self.back)
        foot.addStretch(1)
        column.addLayout(foot)

    def offer(self, plans: tuple[tuple[str, str], ...], before: str, after: str) -> None:
        """Fill both lists (id and title) and stand on these two."""
        for box, chosen in ((self.before, before), (self.after, after)):
            box.clear()
            for plan, title in plans:
                box.addItem(title, plan)
            box.setCurrentIndex(max(0, box.findData(chosen)))
        self._ask()

    def show_comparison(self, screen: CompareScreen) -> None:
        """Show what differs."""
        self.headline.setText(screen.headline)
        clear(self._sections)
        for name, lines in screen.sections:
            self._sections.addSpacing(px(6))
            self._sections.addWidget(label("car", text=name))
            for words in lines:
                self._sections.addWidget(label(wrap=True, text=words))
        self._sections.addStretch(1)

    def _ask(self) -> None:
        before, after = str(self.before.currentData() or ""), str(self.after.currentData() or "")
        if before and after:
            self.headline.setText(_("Being compared …"))
            self.compare_wanted.emit(before, after)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.left.emit()
        else:
            super().keyPressEvent(event)
