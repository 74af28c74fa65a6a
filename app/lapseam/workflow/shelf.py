"""Verbs about plan files, which need no open workspace.

A plan of the house stands in `<workspace>/plans`. It may be made from a plan that ships, and reads the vocabulary that
ships unless a folder `vocabulary` lies beside it.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from pathlib import Path

from lapseam import plans
from lapseam.domain.admission import fact_value_objection, unknown
from lapseam.domain.condition import Value
from lapseam.domain.errors import Mistake
from lapseam.domain.plan import Plan
from lapseam.domain.reach import Reach, Totals, reach, totals
from lapseam.places import shot_plans
from lapseam.plans import Grade, PlanFile, Problem

from .office import plan_path, typed_fact

__all__ = [
    "Grade",
    "PlanFile",
    "Problem",
    "ask_again",
    "check_plan",
    "keep_ids",
    "plan_at",
    "plan_totals",
    "plans_on_shelf",
    "reach_of",
    "read_plan",
]


_PLAN_NAME = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")


def plans_on_shelf(folder: Path | None) -> tuple[PlanFile, ...]:
    """The plans of the workspace in `folder` (if there is one), then those that ship."""
    shelves = [shot_plans()]
    if folder is not None and (folder / "plans").is_dir():
        shelves.insert(0, folder / "plans")
    return plans.find_plans(*shelves)


def check_plan(path: Path) -> tuple[Problem, ...]:
    """All problems of one plan file, errors and warnings apart by their severity."""
    return plans.check_plan(path, _vocabulary(path), shot_plans())


def keep_ids(path: Path) -> Path:
    """Keep the shot ids of the plan as they are now, for the next check to compare with. Answers with the file.

    Raises:
        PlanBroken: the plan does not load.
    """
    return plans.keep_ids(path, _vocabulary(path), shot_plans())


def plan_at(path: Path) -> Plan:
    """The plan in that file.

    Raises:
        PlanBroken: it does not load.
    """
    return plans.load_plan(path, _vocabulary(path), shot_plans())


def read_plan(folder: Path, name: str) -> Plan:
    """The plan of that id or in that file.

    Raises:
        NotFound: there is none. PlanBroken: it does not load.
    """
    return plan_at(plan_path(folder, name))


def reach_of(folder: Path, name: str, *, said: Mapping[str, str] | None = None, car_file: Path | None = None) -> Reach:
    """What the plan of that id or in that file shows and proves.

    Of the car that `said` (facts as a person writes them) and the car file describe; with neither, of every car that
    the plan is made for.

    Raises:
        NotFound: there is no such plan. PlanBroken: it or the car file does not load. Mistake: a fact or its answer
        is none.
    """
    plan = read_plan(folder, name)
    if not said and car_file is None:
        return reach(plan)
    facts: dict[str, Value] = {}
    if car_file is not None:
        facts.update(plans.read_car_file(car_file, plan.vocabulary).facts)
    for fact, word in (said or {}).items():
        asked = plan.vocabulary.facts.get(fact)
        if asked is None:
            words = unknown(fact, "fact", plan.vocabulary.facts)
            raise Mistake(words[0].upper() + words[1:] + ".", next_step="They stand in vocabulary/facts.yaml.")
        facts[fact] = typed_fact(asked, word.strip())
        if objection := fact_value_objection(asked, facts[fact]):
            raise Mistake(objection + ".", next_step="Give one of the values.")
    return reach(plan, facts)


def plan_totals(path: Path) -> Totals:
    """What the plan in that file comes to, on every car that it is made for.

    Raises:
        PlanBroken: it does not load.
    """
    return totals(plan_at(path))


def ask_again(folder: Path, *, name: str, title: str, components: Sequence[str], view: str = "") -> Path:
    """Write a small plan into the workspace that asks for the chosen components again. Answers with its file.

    Raises:
        Mistake: there is such a plan already, the name is no id, or a component or view is none.
    """
    views = plan_at(shot_plans() / f"{plans.ASKED_BASE}.yaml")
    known = views.vocabulary.components()
    for part in components:
        if part not in known:
            words = unknown(part, "component", known)
            raise Mistake(words[0].upper() + words[1:] + ".", next_step="They stand in vocabulary/zones.yaml.")
    if view and views.shot(view) is None:
        words = unknown(view, "view", [shot.id for shot in views.shots])
        raise Mistake(words[0].upper() + words[1:] + ".", next_step=f"Read them with: lapseam reach {views.id}")
    path = folder / "plans" / f"{name}.yaml"
    if not _PLAN_NAME.fullmatch(name) or path.exists() or name in [one.id for one in plans_on_shelf(folder)]:
        raise Mistake(f"{name!r} cannot be the new plan's name.", next_step="Take a new one, such as asked-t-114.")
    path.parent.mkdir(parents=True, exist_ok=True)
    chosen = [known[part] for part in dict.fromkeys(components)]
    plans.write_whole(path, plans.asked_plan(name, title or f"Asked for: {name}", chosen, views, view))
    return path


def _vocabulary(path: Path) -> Path:
    return plans.vocabulary_for(path, shot_plans() / "vocabulary")
