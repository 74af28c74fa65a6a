"""The verb print: shot lists and setup cards as PDF, and an empty form for notes as CSV."""

from __future__ import annotations

import argparse
from datetime import datetime
from pathlib import Path

from lapseam.domain.errors import Mistake
from lapseam.workflow.printing import Paper, Printed, print_plan

from .cars import workspace_of
from .verb import Ask, Verb

_LONG = (
    "Writes a PDF. 'shot-list' prints a plan (--plan) or what is open on a car (--car); 'cards' prints a car's setup "
    "cards, a first and a last one for each setup, in pairs for printing on both sides. Print at actual size. 'notes' "
    "writes a CSV table of the car's parts and of the checks and measurements asked, to be filled in and read by note."
)


def _arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("what", choices=["shot-list", "cards", "notes"], help="what to print")
    parser.add_argument("stock", metavar="STOCK", nargs="?", help="the car's stock number (cards, notes)")
    parser.add_argument("--plan", metavar="P", help="the shot list of this plan: its id, or a plan file")
    parser.add_argument("--car", metavar="STOCK", help="the shot list of this car, with what is covered already")
    parser.add_argument("--zones", action="store_true", help="cards for the zones as well")
    parser.add_argument(
        "--paper", choices=[paper.value for paper in Paper], default=Paper.A4.value, help="A4 by default"
    )
    parser.add_argument("--semicolons", action="store_true", help="notes: semicolons between the cells")
    parser.add_argument("--out", metavar="FILE", required=True, help="the file to write")


def _of_a_plan(args: argparse.Namespace) -> bool:
    return args.what == "shot-list" and bool(args.plan)


def _print(ask: Ask) -> int:
    args = ask.args
    _sound(args)
    paper, out = Paper(args.paper), Path(args.out).expanduser()
    if _of_a_plan(args):
        today = datetime.now().astimezone().date()
        done = print_plan(folder=workspace_of(ask), plan=args.plan, paper=paper, out=out, on=today)
    else:
        done = _of_a_car(ask, paper, out)
    ask.out.answer(done)
    ask.out.say(done.words)
    return 0


def _of_a_car(ask: Ask, paper: Paper, out: Path) -> Printed:
    args = ask.args
    if args.what == "cards":
        return ask.desk.print_cards(stock=args.stock or args.car, paper=paper, out=out, zones=args.zones).result()
    if args.what == "notes":
        form = ask.desk.write_notes_form(stock=args.stock or args.car, out=out, semicolons=args.semicolons)
        return form.result()
    return ask.desk.print_shot_list(stock=args.car or args.stock, paper=paper, out=out).result()


def _sound(args: argparse.Namespace) -> None:
    """Refuse what names no car, or two things at once.

    Raises:
        Mistake: what was asked is not clear.
    """
    named = [one for one in (args.plan, args.car, args.stock) if one]
    of_a_car = {"cards": "Setup cards are a car's.", "notes": "A form for notes is a car's."}
    if args.what in of_a_car and args.plan:
        raise Mistake(of_a_car[args.what], next_step=f"Name the car: lapseam print {args.what} STOCK --out FILE")
    if len(named) != 1:
        wanted = "STOCK" if args.what in of_a_car else "--plan P or --car STOCK"
        many = "nothing to print is named" if not named else f"{' and '.join(named)} are named at once"
        raise Mistake(
            f"{many[:1].upper()}{many[1:]}.", next_step=f"Name one: lapseam print {args.what} {wanted} --out FILE"
        )
    if args.zones and args.what != "cards":
        raise Mistake("--zones goes with cards.", next_step="Leave it out, or print cards.")
    if args.semicolons and args.what != "notes":
        raise Mistake("--semicolons goes with notes.", next_step="Leave it out, or print notes.")


VERBS: tuple[Verb, ...] = (
    Verb("print", "write a shot list, setup cards or an empty form for notes", _arguments, _print, long=_LONG,
         needs_workspace=lambda args: not _of_a_plan(args), by_somebody=False),
)  # fmt: skip
