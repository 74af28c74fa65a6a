"""The verb about published rules: rule."""

from __future__ import annotations

import argparse
from datetime import datetime

from lapseam.workflow.rulebook import Worked, rules, work_out

from .cars import workspace_of
from .verb import Ask, Verb


def _rule_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("name", metavar="NAME", nargs="?", help="the rule; without it every rule is listed")
    parser.add_argument("words", metavar="WORD", nargs="*", help="what the rule wants; units may be glued on")


def _rule(ask: Ask) -> int:
    if not ask.args.name:
        return _list(ask)
    today = datetime.now().astimezone().date()
    worked = work_out(rule=ask.args.name, words=ask.args.words, today=today, folder=workspace_of(ask))
    ask.out.answer(worked)
    for line in worked_lines(worked):
        ask.out.say(line)
    return 0


def _list(ask: Ask) -> int:
    known = rules()
    ask.out.answer(
        [{"name": one.name, "title": one.title, "usage": one.usage, "example": one.example} for one in known]
    )
    ask.out.table([(one.name, one.title, one.usage) for one in known])
    ask.out.say("Ask one: lapseam rule NAME and its words, for instance: lapseam rule tyre-size 205/70R14")
    return 0


def worked_lines(worked: Worked) -> list[str]:
    """A worked rule as lines: the answer, how it was understood, values, working, source and cautions."""
    width = max((len(value.name) for value in worked.values), default=0)
    return [
        worked.said,
        *(f"  ({words})" for words in worked.understood),
        *(f"  {value.name:{width}}  {value.shown}" for value in worked.values),
        "Working:",
        *(f"  {step}" for step in worked.working),
        f"Source: {worked.source}; {worked.known.value}.",
        *(["Approximate."] if worked.approximate else []),
        *(["Mind:"] if worked.cautions else []),
        *(f"  {words}" for words in worked.cautions),
    ]


VERBS: tuple[Verb, ...] = (
    Verb("rule", "work out a published rule (VIN, tyres, film, rust, gearing …), or list them", _rule_arguments, _rule,
         needs_workspace=False, by_somebody=False),
)  # fmt: skip
