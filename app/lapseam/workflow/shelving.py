"""Verbs for whoever keeps the plans: read, compare, copy, edit and save them, and see which cars use one.

A plan that ships is never written to. A car keeps its own copy of its plan, so that no edit moves a car half walked.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from concurrent.futures import Future
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Final

from lapseam import plans
from lapseam.domain.errors import Mistake, NotFound, PlanBroken
from lapseam.domain.plan import Plan
from lapseam.domain.plan_comparison import PlanComparison, compare
from lapseam.domain.plan_edits import PlanEdit
from lapseam.domain.reach import Totals, totals
from lapseam.places import shot_plans
from lapseam.plans import PlanFile, Problem
from lapseam.plans.editing import edit_plan, rename_plan
from lapseam.plans.house_plan import PlanText, Tried, read_text, save_text, try_text
from lapseam.plans.text_spans import written

from .office import Office, plan_path
from .shelf import check_plan, plan_at, plans_on_shelf

__all__ = ["PlanOnShelf", "PlanPage", "PlanRead", "PlanText", "Shelving", "Tried"]

_ID: Final = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")


@dataclass(frozen=True, slots=True)
class PlanOnShelf:
    """A plan of the list. `house` is whether it stands in the workspace; `users` are the stock numbers walked by it."""

    file: PlanFile
    house: bool
    users: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class PlanRead:
    """A plan with what it comes to; without `plan` and `totals` where it does not load, for the `problems`' reasons."""

    shelf: PlanOnShelf
    plan: Plan | None
    totals: Totals | None
    problems: tuple[Problem, ...] = ()


@dataclass(frozen=True, slots=True)
class PlanPage:
    """A plan of the house laid open for editing: its text as on disk, and what that is as a plan."""

    shelf: PlanOnShelf
    page: PlanText
    tried: Tried


class Shelving(Office):
    """Keeping plans. Nothing here touches a car."""

    def shelf(self) -> Future[tuple[PlanOnShelf, ...]]:
        """Every plan, those of the house first, with the cars that use it; cheap, no plan is read in full."""
        users = self.plan_users()
        return self.runner.aside(lambda: self._shelf(users.result()))

    def plan_users(self) -> Future[Mapping[str, tuple[str, ...]]]:
        """Plan id → stock numbers of the cars that were begun with it. They keep the copy they were begun with."""

        def read() -> Mapping[str, tuple[str, ...]]:
            found: dict[str, list[str]] = {}
            for line in self._workspace.book.cars():
                found.setdefault(self._workspace.book.car(line.stock).plan.id, []).append(line.stock)
            return {plan: tuple(stocks) for plan, stocks in found.items()}

        return self.runner.on_book(read)

    def read_shelved(self, *, plan: str) -> Future[PlanRead]:
        """The plan of that id with its totals.

        Raises:
            NotFound: there is none.
        """
        users = self.plan_users()
        return self.runner.aside(lambda: _read(self._on_shelf(plan, users.result())))

    def plan_sums(self, *, plan: str) -> Future[Totals | None]:
        """What the plan of that id comes to, None where it does not load."""
        return self.runner.aside(lambda: _sums(self._on_shelf(plan, {}).file.path))

    def compare_plans(self, *, before: str, after: str) -> Future[PlanComparison]:
        """What one plan adds to another, drops and changes; ids.

        Raises:
            NotFound: there is no such plan. PlanBroken: one of them does not load.
        """
        return self.runner.aside(lambda: compare(*(plan_at(plan_path(self.folder, name)) for name in (before, after))))

    def copy_plan(self, *, plan: str, new_id: str, title: str, differences: bool) -> Future[str]:
        """Copy a plan into the workspace under a new id, and answer with it.

        Args:
            differences: the copy names the plan as its base and holds only what differs, so that it follows the
                base; else it is the whole text and follows nothing more.

        Raises:
            Mistake: the id is none, or taken. NotFound: there is no such plan. NoRights: not written.
        """
        return self.runner.aside(self._copy, plan, new_id, title, differences)

    def open_plan(self, *, plan: str) -> Future[PlanPage]:
        """A plan of the house laid open for editing.

        Raises:
            NotFound: there is none. Mistake: it ships with the program and is only read; copy it first.
        """
        users = self.plan_users()
        return self.runner.aside(lambda: self._open(plan, users.result()))

    def try_edits(self, *, page: PlanText, edits: Iterable[PlanEdit]) -> Future[Tried]:
        """The text as it would be saved, checked; nothing is written.

        Raises:
            Mistake: an edit cannot be laid into this text.
        """
        edits = tuple(edits)
        return self.runner.aside(lambda: try_text(replace(page, text=edit_plan(page.text, edits)), shot_plans()))

    def save_plan(self, *, page: PlanText, edits: Iterable[PlanEdit]) -> Future[PlanText]:
        """Save the text with the edits in it, comments and order kept; answers with the state of the disk.

        Raises:
            Mistake: the plan would not load, or the file was changed on disk meanwhile; nothing was written.
        """
        edits = tuple(edits)
        return self.runner.aside(self._save, page, edits)

    def _shelf(self, users: Mapping[str, tuple[str, ...]]) -> tuple[PlanOnShelf, ...]:
        own = self.folder / "plans"
        return tuple(
            PlanOnShelf(file, file.path.parent == own, users.get(file.id, ())) for file in plans_on_shelf(self.folder)
        )

    def _on_shelf(self, plan: str, users: Mapping[str, tuple[str, ...]]) -> PlanOnShelf:
        found = next((one for one in self._shelf(users) if one.file.id == plan), None)
        if found is None:
            raise NotFound(f"There is no plan {plan} any more.", next_step="Look at the list of plans again.")
        return found

    def _copy(self, plan: str, new_id: str, title: str, differences: bool) -> str:
        source = self._on_shelf(plan, {})
        _look_at_id(new_id, [one.file.id for one in self._shelf({})])
        if differences:
            text = _derived(source.file, new_id, title)
        else:
            text = rename_plan(read_text(source.file.path).text, plan_id=new_id, title=title)
        save_text(PlanText(self.folder / "plans" / f"{new_id}.yaml", text), anew=True)
        return new_id

    def _open(self, plan: str, users: Mapping[str, tuple[str, ...]]) -> PlanPage:
        shelf = self._on_shelf(plan, users)
        if not shelf.house:
            raise Mistake(
                f"{shelf.file.title} ships with the program and is only read.",
                next_step="Copy it into the house's plans, and change the copy.",
            )
        page = read_text(shelf.file.path)
        return PlanPage(shelf, page, try_text(page, shot_plans()))

    def _save(self, page: PlanText, edits: tuple[PlanEdit, ...]) -> PlanText:
        new = replace(page, text=edit_plan(page.text, edits))
        errors = try_text(new, shot_plans()).errors
        if errors:
            raise Mistake(
                f"The plan would not load: {errors[0].words}.",
                effect="Nothing was saved.",
                next_step=errors[0].remedy or "Put it right and save again.",
                detail="\n".join(str(one) for one in errors),
            )
        return save_text(new)


def _look_at_id(new_id: str, known: list[str]) -> None:
    if not _ID.fullmatch(new_id):
        raise Mistake(
            f"{new_id!r} is no plan's id.",
            next_step="Use small letters, figures and hyphens, as in: house-hardtop",
        )
    if new_id in known:
        raise Mistake(f"There is a plan {new_id} already.", next_step="Choose another id.")


def _derived(source: PlanFile, new_id: str, title: str) -> str:
    words = written(title, flow=False, quoted=True)
    return (
        f"# Made from {source.id}: only what differs from it stands here.\n"
        f"plan:\n  id: {new_id}\n  title: {words}\n  base: {source.id}\n"
    )


def _read(shelf: PlanOnShelf) -> PlanRead:
    problems = check_plan(shelf.file.path)
    if any(one.severity is plans.Grade.ERROR for one in problems):
        return PlanRead(shelf, None, None, problems)
    plan = plan_at(shelf.file.path)
    return PlanRead(shelf, plan, totals(plan), problems)


def _sums(path: Path) -> Totals | None:
    try:
        return totals(plan_at(path))
    except PlanBroken:
        return None
