"""Turns what a person wants with plans into workflow verbs."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject

from lapseam.domain.plan import Plan
from lapseam.domain.reach import Totals
from lapseam.workflow.shelving import PlanOnShelf, PlanRead

from ...notices import Notice
from ...words import _
from .copy_form import PlanCopy
from .form_errands import FormErrands
from .state import compare_screen, plans_screen, read_screen, shot_read
from .view import PlansView

if TYPE_CHECKING:
    from ...front import Front


class PlansErrands(QObject):
    """Wires a `PlansView` to the desk."""

    def __init__(self, front: Front, view: PlansView) -> None:
        super().__init__(view)
        self._front = front
        self._view = view
        self._shelf: tuple[PlanOnShelf, ...] = ()
        self._sums: dict[str, Totals | None] = {}
        self._plan: Plan | None = None
        self._summing = self._closed = False
        self.form = FormErrands(front, view, on_saved=self._saved, on_left=self.show_list)
        view.read_wanted.connect(self.read)
        view.copy_wanted.connect(self._ask_copy)
        view.edit_wanted.connect(self.form.open)
        view.read.left.connect(self.show_list)
        view.read.shot_wanted.connect(self._show_shot)
        view.read.compare_wanted.connect(self._ask_compare)
        view.compare.left.connect(lambda: view.show_page(view.read))
        view.compare.compare_wanted.connect(self._compare)
        view.copy.left.connect(self.show_list)
        view.copy.done.connect(self._copy)

    def refresh(self, then: Callable[[], None] = lambda: None) -> None:
        """Show the list as it is now; what plans come to that were not read yet comes in one by one."""

        def show(shelf: tuple[PlanOnShelf, ...]) -> None:
            self._shelf = shelf
            self._view.list.show_plans(plans_screen(shelf, self._sums))
            then()
            self._ask_sums()

        self._front.bridge.when_done(self._front.desk.shelf(), show)

    def stop(self) -> None:
        """Ask nothing more of the desk; it is about to be closed."""
        self._closed = True
        self.form.stop()

    def show_list(self) -> None:
        """Back to all plans, brought up to date."""
        self.refresh(lambda: self._view.show_page(self._view.list))

    def read(self, plan: str) -> None:
        """Open a plan as the photographer reads it."""

        def show(found: PlanRead) -> None:
            self._plan = found.plan
            self._sums[plan] = found.totals
            screen = read_screen(found)
            first = next((line.shot for line in screen.lines if line.shot), "")
            self._view.read.show_plan(screen, shot_read(found.plan, first) if found.plan else None)
            self._view.show_page(self._view.read)

        self._front.bridge.when_done(self._front.desk.read_shelved(plan=plan), show)

    def _ask_sums(self) -> None:
        """Read the next plan for its sums, while the list is looked at: whoever opens a plan does not wait for all."""
        plan = next((one.file.id for one in self._shelf if one.file.id not in self._sums), "")
        if self._closed or self._summing or not plan or not self._view.list.isVisible():
            return
        self._summing = True

        def came(sums: Totals | None) -> None:
            self._sums[plan] = sums
            self._view.list.show_plans(plans_screen(self._shelf, self._sums))

        def next_one() -> None:
            self._summing = False
            if plan in self._sums:
                self._ask_sums()

        self._front.bridge.when_done(self._front.desk.plan_sums(plan=plan), came, finally_do=next_one)

    def _show_shot(self, shot: str) -> None:
        if self._plan is not None:
            self._view.read.page.show_shot(shot_read(self._plan, shot))

    def _ask_compare(self, plan: str) -> None:
        offered = tuple((one.file.id, one.file.title) for one in self._shelf)
        file = next((one.file for one in self._shelf if one.file.id == plan), None)
        base = file.base if file else ""
        other = next((one for one, _title in offered if one != plan), plan)
        self._view.compare.offer(offered, base or plan, plan if base else other)
        self._view.show_page(self._view.compare)

    def _compare(self, before: str, after: str) -> None:
        coming = self._front.desk.compare_plans(before=before, after=after)
        self._front.bridge.when_done(coming, lambda found: self._view.compare.show_comparison(compare_screen(found)))

    def _ask_copy(self, plan: str) -> None:
        title = next((one.file.title for one in self._shelf if one.file.id == plan), plan)
        self._view.show_page(self._view.copy)
        self._view.copy.begin(plan, title)

    def _copy(self, form: PlanCopy) -> None:
        coming = self._front.desk.copy_plan(
            plan=form.plan, new_id=form.new_id, title=form.title, differences=form.differences
        )

        def copied(plan: str) -> None:
            words = _("{plan} is among the house's plans now.").format(plan=form.title)
            self._front.tell(Notice(words, next_step=_("Change what differs at your house."), trouble=False))
            self._front.yard.offer_plans()
            self.refresh(lambda: self.form.open(plan))

        self._front.bridge.when_done(coming, copied)

    def _saved(self, plan: str) -> None:
        self._sums.clear()
        self._front.yard.offer_plans()
        self.refresh(lambda: self.read(plan))
