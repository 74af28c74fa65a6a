"""Verbs about plan files, which need no open workspace."""

from __future__ import annotations

from pathlib import Path

from lapseam import plans
from lapseam.domain.plan import Plan
from lapseam.places import shot_plans
from lapseam.plans import Grade, PlanFile, Problem

from .office import plan_path

__all__ = ["Grade", "PlanFile", "Problem", "check_plan", "plans_on_shelf", "read_plan"]


def plans_on_shelf(folder: Path | None) -> tuple[PlanFile, ...]:
    """The plans of the workspace in `folder` (if there is one), then those that ship."""
    shelves = [shot_plans()]
    if folder is not None and (folder / "plans").is_dir():
        shelves.insert(0, folder / "plans")
    return plans.find_plans(*shelves)


def check_plan(path: Path) -> tuple[Problem, ...]:
    """All problems of one plan file, errors and warnings apart by their severity."""
    return plans.check_plan(path)


def read_plan(folder: Path, name: str) -> Plan:
    """The plan of that id or in that file.

    Raises:
        NotFound: there is none. PlanBroken: it does not load.
    """
    return plans.load_plan(plan_path(folder, name))
