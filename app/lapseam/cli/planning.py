"""Verbs about plans: plans, plan-check, reach, ask-again."""

from __future__ import annotations

import argparse
from itertools import groupby
from pathlib import Path

from lapseam.domain.errors import Mistake, NotFound, PlanBroken
from lapseam.domain.reach import ComponentReach, Reach, Reached, Totals
from lapseam.workflow import shelf
from lapseam.workflow.shelf import Grade, PlanFile, Problem

from .cars import workspace_of
from .verb import Ask, Verb

_WORDS = {Reached.PROVED: "proved", Reached.SHOWN: "shown", Reached.NOT_SHOWN: "NOT SHOWN"}


def _plans_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--totals", action="store_true", help="also read each plan: shots, frames, minutes, rust")


def _plans(ask: Ask) -> int:
    found = shelf.plans_on_shelf(workspace_of(ask))
    if not ask.args.totals:
        ask.out.answer(found)
        ask.out.table([(one.id, f"from {one.base}" if one.base else "", one.title) for one in found])
        return 0
    read = [(one, _totals_of(one)) for one in found]
    ask.out.answer([{"id": one.id, "title": one.title, "base": one.base, "totals": sums} for one, sums in read])
    ask.out.table([(one.id, *_columns(sums)) for one, sums in read])
    return 0 if all(sums for _, sums in read) else 1


def _totals_of(plan: PlanFile) -> Totals | None:
    """The plan's totals, or None where it does not load: a broken plan does not hide the others."""
    try:
        return shelf.plan_totals(plan.path)
    except PlanBroken:
        return None


def _columns(sums: Totals | None) -> tuple[str, ...]:
    if sums is None:
        return ("does not load; ask: lapseam plan-check", "", "", "", "")
    return (
        f"{sums.shots} shots",
        f"{sums.required} required",
        f"{sums.frames} frames",
        f"{sums.minutes} min",
        f"{sums.rust_places_proved} of {sums.rust_places} rust-prone places proved",
    )


def _plan_check_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("file", metavar="FILE", help="the plan file")
    parser.add_argument("--keep-ids", action="store_true", help="keep its shot ids, for later checks to compare with")


def _plan_check(ask: Ask) -> int:
    path = Path(ask.args.file)
    if not path.is_file():
        raise NotFound(f"There is no plan file {path}.", next_step="Check the path; list plans with: lapseam plans")
    kept = shelf.keep_ids(path) if ask.args.keep_ids else None
    problems = shelf.check_plan(path)
    ask.out.answer({"problems": [_told(one) for one in problems], "kept": kept})
    if kept:
        ask.out.say(f"The shot ids are kept in {kept}.")
    for problem in problems:
        ask.out.say(str(problem))
    errors = sum(1 for problem in problems if problem.severity is Grade.ERROR)
    ask.out.say(f"{errors} errors, {len(problems) - errors} warnings." if problems else "The plan is sound.")
    return 1 if errors else 0


def _told(problem: Problem) -> dict[str, object]:
    return {
        "file": problem.file,
        "line": problem.line,
        "column": problem.column,
        "word": problem.word,
        "words": problem.words,
        "remedy": problem.remedy,
        "severity": problem.severity.value,
    }


def _reach_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("plan", metavar="PLAN", help="a plan's id, or a plan file")
    parser.add_argument("--where", metavar="FACT=VALUE", action="append", default=[], help="only on such a car; repeat")
    parser.add_argument("--car-file", metavar="FILE", type=Path, help="only on the car that this car file describes")


def _reach(ask: Ask) -> int:
    said: dict[str, str] = {}
    for word in ask.args.where:
        fact, sign, value = word.partition("=")
        if not sign or not fact:
            raise Mistake(f"{word!r} is no answer.", next_step="Write it as FACT=VALUE, for instance lift=true.")
        said[fact.strip()] = value
    found = shelf.reach_of(workspace_of(ask), ask.args.plan, said=said, car_file=ask.args.car_file)
    ask.out.answer(_reach_told(found))
    for zone, parts in groupby(found.components, key=lambda one: one.component.zone):
        ask.out.say(f"{zone}")
        ask.out.table([(f"  {one.component.id}", _WORDS[one.reached], _shots(one)) for one in parts])
    ask.out.say("rust-prone places")
    ask.out.table([(f"  {one.place.id}", _WORDS[one.reached], ", ".join(one.shots)) for one in found.places])
    bare = [part.id for part in found.not_shown()]
    ask.out.say(f"No shot shows: {', '.join(bare)}." if bare else "Every component is shown.")
    unproved = [place.id for place in found.not_proved()]
    ask.out.say(f"No shot proves: {', '.join(unproved)}." if unproved else "Every rust-prone place has its proof.")
    ask.out.say(f"{found.plan}: {', '.join(_columns(found.totals))}.")
    return 0


def _shots(one: ComponentReach) -> str:
    """The shots in a line; a star marks a proof, and brackets say where all of them hang on a condition."""
    words = ", ".join(f"{shot}*" if shot in one.proofs else shot for shot in one.shots)
    return f"{words}  [only where {' / '.join(one.only_where)}]" if one.only_where else words


def _reach_told(found: Reach) -> dict[str, object]:
    return {
        "plan": found.plan,
        "components": [
            {
                "component": one.component.id,
                "zone": one.component.zone,
                "reached": one.reached,
                "shots": one.shots,
                "proofs": one.proofs,
                "only_where": one.only_where,
            }
            for one in found.components
        ],
        "rust_prone": [{"place": one.place.id, "reached": one.reached, "shots": one.shots} for one in found.places],
        "not_shown": [part.id for part in found.not_shown()],
        "not_proved": [place.id for place in found.not_proved()],
        "totals": found.totals,
    }


def _ask_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("name", metavar="NAME", help="the new plan's id, for instance asked-t-114")
    parser.add_argument("components", metavar="COMPONENT", nargs="+", help="what the buyer asked about")
    parser.add_argument("--title", default="", help="the question, in the buyer's own words")
    parser.add_argument("--view", default="", help="a view of the plan buyer-asked; else the usual one for each zone")


def _ask(ask: Ask) -> int:
    args = ask.args
    path = shelf.ask_again(
        workspace_of(ask), name=args.name, title=args.title, components=args.components, view=args.view
    )
    ask.out.answer({"plan": args.name, "path": path})
    ask.out.say(f"The plan {args.name} stands in {path}. Fill in the exact places, then: lapseam plan-check {path}")
    return 0


VERBS: tuple[Verb, ...] = (
    Verb("plans", "list the shot plans", _plans_arguments, _plans, needs_workspace=False, by_somebody=False),
    Verb("plan-check", "check a plan file; every problem at once", _plan_check_arguments, _plan_check,
         needs_workspace=False, by_somebody=False),
    Verb("reach", "what a plan shows and proves, component by component", _reach_arguments, _reach,
         needs_workspace=False, by_somebody=False),
    Verb("ask-again", "make a small plan of what a buyer asked to see again", _ask_arguments, _ask,
         needs_workspace=False, by_somebody=False),
)  # fmt: skip
