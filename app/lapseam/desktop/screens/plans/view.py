"""The Plans' window: the list, one plan, two compared, a copy, and the form."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QStackedWidget, QVBoxLayout, QWidget

from ...actions import Actions
from ...widgets.labels import sheet
from ...words import _
from .compare_view import CompareView
from .copy_form import CopyForm
from .form_view import FormView
from .list_view import PlansList
from .read_view import ReadView


class PlansView(QWidget):
    """Holds the pages of the Plans; `show_page` turns to one and gives it the keyboard.

    Signals:
        read_wanted(plan), copy_wanted(plan), edit_wanted(plan).
    """

    read_wanted = Signal(str)
    copy_wanted = Signal(str)
    edit_wanted = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        sheet("sheet", self)
        self.list, self.read, self.compare = PlansList(), ReadView(), CompareView()
        self.copy, self.form = CopyForm(), FormView()
        self.pages = QStackedWidget()
        for page in (self.list, self.read, self.compare, self.copy, self.form):
            sheet("sheet", page)
            self.pages.addWidget(page)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(self.pages)
        for page in (self.list, self.read):
            page.copy_wanted.connect(self.copy_wanted)
            page.edit_wanted.connect(self.edit_wanted)
        self.list.read_wanted.connect(self.read_wanted)

    def add_actions(self, actions: Actions) -> None:
        """Put what can be done here among the window's actions."""
        form = self.form
        actions.add("plans.save", _("Save the plan"), form.save.click, key="Ctrl+S", drawing="tick", where=form)
        actions.add("plans.add", _("Add a shot after this one"), form.add.click, key="Ctrl+N", where=form)
        actions.add("plans.copy", _("Copy this plan"), self.read.copy.click, key="Ctrl+D", where=self.read)
        actions.add("plans.compare", _("Compare this plan"), self.read.compare.click, key="Ctrl+E", where=self.read)
        actions.add("plans.change", _("Change this plan"), self.read.edit.click, key="Ctrl+R", where=self.read)

    def show_page(self, page: QWidget) -> None:
        """Turn to a page."""
        self.pages.setCurrentWidget(page)
        self.take_keyboard()

    def take_keyboard(self) -> None:
        """The keyboard goes where the page's work begins."""
        page = self.pages.currentWidget()
        if page is self.list:
            self.list.take_keyboard()
        elif page is self.read:
            (self.read.shots if self.read.shots.isVisible() else self.read.back).setFocus()
        elif page is self.form:
            self.form.shots.setFocus()
        elif page is self.compare:
            self.compare.after.setFocus()

    def focusInEvent(self, event) -> None:
        super().focusInEvent(event)
        self.take_keyboard()
