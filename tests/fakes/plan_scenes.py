"""Plans as the windows show them: those that ship, and one of the house made from the pickup's."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

from lapseam.domain.plan_comparison import PlanComparison, compare
from lapseam.domain.plan_edits import PlanEdit
from lapseam.domain.reach import Totals, totals
from lapseam.places import shot_plans
from lapseam.plans import PlanFile, Problem
from lapseam.plans.editing import edit_plan
from lapseam.plans.house_plan import PlanText, Tried, try_text
from lapseam.workflow.shelf import plan_at, plans_on_shelf
from lapseam.workflow.shelving import PlanOnShelf, PlanPage, PlanRead

HOUSE = "our-pickup"
TITLE = "Our pickup walk"
TEXT = f"""\
# Made from pickup-full: only what differs from it stands here.
plan:
  id: {HOUSE}
  title: "{TITLE}"
  base: pickup-full
"""


def on_shelf() -> tuple[PlanOnShelf, ...]:
    """The house's plan, walked by two cars, and those that ship."""
    own = PlanOnShelf(PlanFile(HOUSE, TITLE, Path(f"{HOUSE}.yaml"), "pickup-full"), True, ("T-118", "T-122"))
    users = {"hardtop-full": ("T-114",)}
    return own, *(PlanOnShelf(one, False, users.get(one.id, ())) for one in plans_on_shelf(None))


@cache
def sums() -> dict[str, Totals]:
    """What each of them comes to."""
    found = {one.id: totals(plan_at(one.path)) for one in plans_on_shelf(None)}
    return {HOUSE: found["pickup-full"], **found}


@cache
def opened() -> PlanPage:
    """The house's plan laid open."""
    with TemporaryDirectory() as folder:
        page = PlanText(Path(folder) / f"{HOUSE}.yaml", TEXT)
        return PlanPage(on_shelf()[0], page, try_text(page, shot_plans()))


def tried(page: PlanPage, edits: tuple[PlanEdit, ...]) -> Tried:
    """That plan with edits, checked."""
    return try_text(PlanText(page.page.path, edit_plan(page.page.text, edits)), shot_plans())


def read(plan: str) -> PlanRead:
    """The house's plan as the photographer reads it."""
    found = opened()
    assert found.tried.plan is not None
    assert plan == HOUSE
    return PlanRead(found.shelf, found.tried.plan, totals(found.tried.plan))


def broken() -> PlanRead:
    """The same with a word that is none."""
    remedy = "did you mean 'bed_liner'?"
    wrong = Problem(f"{HOUSE}.yaml", 8, 11, "add.bed-plate.when", "there is no fact 'bed_linr'", remedy)
    return PlanRead(on_shelf()[0], None, None, (wrong,))


@cache
def compared(before: str, after: str) -> PlanComparison:
    """Two plans that ship."""
    return compare(*(plan_at(shot_plans() / f"{one}.yaml") for one in (before, after)))
