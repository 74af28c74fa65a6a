"""Verbs about published rules, which need no open workspace: list them, work one out."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from pathlib import Path

from lapseam import plans
from lapseam.domain.measure import catalogue
from lapseam.domain.measure.catalogue import Rule
from lapseam.domain.measure.part_dates import DateWindow
from lapseam.domain.measure.worked import Worked
from lapseam.places import shot_plans

__all__ = ["Rule", "Worked", "date_windows", "rules", "work_out"]


def rules() -> tuple[Rule, ...]:
    """Every rule, in the order to list them."""
    return tuple(catalogue.RULES.values())


def work_out(*, rule: str, words: Sequence[str], today: date, folder: Path | None = None) -> Worked:
    """The answer of a rule to a person's words. A workspace's own date windows win over those that ship.

    Raises:
        NotFound: no such rule. Mistake: words not understood. PlanBroken: the vocabulary's date rules do not load.
    """
    return catalogue.work(rule, words, today=today, windows=lambda: date_windows(folder))


def date_windows(folder: Path | None) -> tuple[DateWindow, ...]:
    """The windows of part dates: of the workspace's own vocabulary if it has one, else those that ship."""
    own = folder / "plans" / "vocabulary" if folder is not None else None
    lists = plans.load_lists(own if own is not None and own.is_dir() else shot_plans() / "vocabulary")
    return tuple(
        DateWindow(
            id=row["id"],
            part=row["part"],
            least=row["normal"][0],
            most=row["normal"][1],
            look_closer_to=row["look_closer_to"],
            note=row["note"],
        )
        for row in lists["date_rules"]
    )
