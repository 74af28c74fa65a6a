"""Verbs about cars: cars, new, facts, describe, undo, redo, log, rebuild."""

from __future__ import annotations

import argparse
import os
from datetime import datetime
from itertools import groupby
from pathlib import Path

from lapseam.domain.errors import Mistake
from lapseam.places import default_workspace
from lapseam.workflow.yard import DETAILS

from .verb import Ask, Verb, number_of


def workspace_of(ask: Ask) -> Path:
    """The workspace folder that was named, or the usual one."""
    return Path(ask.args.workspace or os.environ.get("LAPSEAM_WORKSPACE") or default_workspace()).expanduser()


def _nothing(parser: argparse.ArgumentParser) -> None:
    """A verb without arguments of its own."""


def stock(parser: argparse.ArgumentParser) -> None:
    """The stock number, which nearly every verb wants."""
    parser.add_argument("stock", metavar="STOCK", help="the car's stock number")


def _cars(ask: Ask) -> int:
    lines = ask.desk.cars().result()
    ask.out.answer(lines)
    ask.out.table(
        [(line.stock, line.title or "(not described)", line.plan_id, f"{line.photos} photos") for line in lines]
    )
    if not lines:
        ask.out.say("No cars yet. Make one with: lapseam new STOCK --plan hardtop-full")
    return 0


def _new_arguments(parser: argparse.ArgumentParser) -> None:
    stock(parser)
    parser.add_argument("--plan", metavar="P", required=True, help="a plan's id, or a plan file")
    _detail_arguments(parser)


def _detail_arguments(parser: argparse.ArgumentParser) -> None:
    for name, kind in DETAILS.items():
        parser.add_argument(
            f"--{name.replace('_', '-')}",
            type=kind if kind is str else number_of(f"the {name.replace('_', ' ')}", 9_999_999),
            metavar=name.upper(),
            help=f"the car's {name.replace('_', ' ')}",
        )


def _details(ask: Ask) -> dict[str, object]:
    return {name: getattr(ask.args, name) for name in DETAILS if getattr(ask.args, name) is not None}


def _new(ask: Ask) -> int:
    done = ask.desk.new_car(stock=ask.args.stock, plan=ask.args.plan, by=ask.by, details=_details(ask)).result()
    ask.out.answer({"stock": ask.args.stock, "words": done.words})
    ask.out.say(done.words)
    ask.out.say(f"Next: answer its facts (lapseam facts {ask.args.stock}), then take photos in.")
    return 0


def _describe_arguments(parser: argparse.ArgumentParser) -> None:
    stock(parser)
    _detail_arguments(parser)


def _describe(ask: Ask) -> int:
    done = ask.desk.describe(stock=ask.args.stock, by=ask.by, **_details(ask)).result()
    ask.out.answer({"words": done.words})
    ask.out.say(done.words)
    return 0


def _facts_arguments(parser: argparse.ArgumentParser) -> None:
    stock(parser)
    parser.add_argument("answers", metavar="KEY=VALUE", nargs="*", help="an answer; KEY=unknown takes one back")


def _facts(ask: Ask) -> int:
    answers: dict[str, str] = {}
    for word in ask.args.answers:
        key, sign, value = word.partition("=")
        if not sign or not key:
            raise Mistake(f"{word!r} is no answer.", next_step="Write it as KEY=VALUE, for instance lift=true.")
        answers[key.strip()] = value
    if answers:
        done = ask.desk.answer(stock=ask.args.stock, answers=answers, by=ask.by).result()
        ask.out.say(done.words)
    car = ask.desk.car(stock=ask.args.stock).result()
    values = car.fact_values()
    asked = {name for shot in car.plan.shots if shot.when for name in shot.when.names()}
    ask.out.answer({name: values.get(name) for name in car.plan.vocabulary.facts})
    for name, fact in car.plan.vocabulary.facts.items():
        if not answers and (name in values or name in asked):
            choices = f"  ({', '.join(fact.values)})" if fact.values and name not in values else ""
            ask.out.say(f"{name:24}{_shown(values.get(name))}{choices}")
    return 0


def _shown(value: object) -> str:
    if value is None:
        return "unknown"
    if isinstance(value, bool):
        return "yes" if value else "no"
    return ", ".join(map(str, value)) or "none" if isinstance(value, tuple) else str(value)


def _undo(ask: Ask) -> int:
    done = ask.desk.undo(stock=ask.args.stock, by=ask.by).result()
    ask.out.answer(done.entry)
    ask.out.say(done.words)
    return 0


def _redo(ask: Ask) -> int:
    done = ask.desk.redo(stock=ask.args.stock, by=ask.by).result()
    ask.out.answer(done.entry)
    ask.out.say(done.words)
    return 0


def _log(ask: Ask) -> int:
    entries = ask.desk.log(stock=ask.args.stock).result()
    ask.out.answer(entries)
    for (verb, by), steps in groupby(entries, key=lambda entry: (entry.verb, entry.by)):
        group = list(steps)
        first, last = group[0], group[-1]
        when = first.at.strftime("%Y-%m-%d %H:%M")
        if verb == "take-in" and len(group) > 1:
            ask.out.say(f"{first.number:>4}-{last.number:<4} {when}  {by}: {len(group)} steps of taking in")
            continue
        for entry in group:
            ask.out.say(f"{entry.number:>4}      {entry.at:%Y-%m-%d %H:%M}  {entry.by}: {entry.words}")
    return 0


def _rebuild(ask: Ask) -> int:
    from lapseam.workflow.mending import rebuild

    report = rebuild(workspace_of(ask), at=datetime.now().astimezone())
    ask.out.answer(report)
    for car in report.cars:
        ask.out.say(f"{car.stock} is back: {car.steps} steps of its journal, {car.photos} photos.")
        for note in car.notes:
            ask.out.say(f"  {note}")
    for words in report.lost:
        ask.out.say(words)
    for photo in report.missing:
        ask.out.say(f"{photo.stock}: the original of {photo.name} is not in the vault.")
    if report.unclaimed:
        ask.out.say(f"{len(report.unclaimed)} originals lie in the vault that no car knows.")
    if report.set_aside:
        ask.out.say(f"The old database lies in {report.set_aside}.")
    return 0 if report.whole else 1


VERBS: tuple[Verb, ...] = (
    Verb("cars", "list the cars", _nothing, _cars, by_somebody=False),
    Verb("new", "make a car under its stock number", _new_arguments, _new, makes_workspace=True),
    Verb("describe", "say what the car is called, its serial and odometer", _describe_arguments, _describe),
    Verb("facts", "answer what the plan asks about the car, or list it", _facts_arguments, _facts),
    Verb("undo", "take back the last step", stock, _undo),
    Verb("redo", "do again what was undone", stock, _redo),
    Verb("log", "show the car's journal: who did what, when", stock, _log, by_somebody=False),
    Verb("rebuild", "bring every car back from its files, if the database is lost", _nothing, _rebuild,
         needs_workspace=False, by_somebody=False),
)  # fmt: skip
