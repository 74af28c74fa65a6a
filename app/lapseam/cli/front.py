"""The command line's frame: the verbs, the common options, exit codes, and the one place that words errors.

Exit codes: 0 done; 1 the answer is no, or some files could not be taken in; 2 a mistake in what was asked.
"""

from __future__ import annotations

import argparse
import json
import os
import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any, TextIO

from lapseam import __version__
from lapseam.domain.errors import Cancelled, PlanBroken, UserError
from lapseam.places import default_workspace
from lapseam.workflow import Desk

from . import (
    arranging,
    asking,
    cars,
    claims,
    editions,
    keys,
    listing,
    outlet,
    photos,
    planning,
    posted,
    printing,
    proof,
    record,
    rules,
    zones,
)
from .out import Out
from .verb import Ask, Verb

DONE, NO, MISTAKE = 0, 1, 2

VERBS: tuple[Verb, ...] = (
    *planning.VERBS,
    *cars.VERBS,
    *photos.VERBS,
    *record.VERBS,
    *zones.VERBS,
    *claims.VERBS,
    *asking.VERBS,
    *proof.VERBS,
    *arranging.VERBS,
    *keys.VERBS,
    *editions.VERBS,
    *listing.VERBS,
    *outlet.VERBS,
    *posted.VERBS,
    *printing.VERBS,
    *rules.VERBS,
)

OpenDesk = Callable[..., Desk]
OpenWindow = Callable[[Path, str], int]


def main(
    argv: Sequence[str],
    *,
    open_desk: OpenDesk = Desk.open,
    open_window: OpenWindow | None = None,
    stdout: TextIO | None = None,
) -> int:
    """Run one command. Never lets a person see a traceback for something that is theirs to put right."""
    out = Out(stdout or sys.stdout, sys.stderr)
    try:
        args = _parser().parse_args(argv)
    except SystemExit as asked:
        return DONE if not asked.code else MISTAKE
    out.json = bool(getattr(args, "json", False))
    verb: Verb = args.verb
    try:
        return _run(verb, args, out, open_desk, open_window)
    except UserError as error:
        return _word(error, out)
    except (Cancelled, KeyboardInterrupt):
        out.error("Stopped. What is safe stays safe; say the same again to go on.")
        return NO
    except BrokenPipeError:
        sys.stdout = open(os.devnull, "w")  # noqa: SIM115, PTH123 - the reader has gone; nothing is left to close
        return DONE


def _run(verb: Verb, args: argparse.Namespace, out: Out, open_desk: OpenDesk, open_window: OpenWindow | None) -> int:
    if not verb.wants_workspace(args):
        return verb.run(Ask(args, out, None, open_window))
    folder = Path(args.workspace or os.environ.get("LAPSEAM_WORKSPACE") or default_workspace()).expanduser()
    with open_desk(folder, create=verb.makes_workspace) as desk:
        return verb.run(Ask(args, out, desk, open_window))


def _word(error: UserError, out: Out) -> int:
    if out.json:
        told: dict[str, Any] = {
            "ref": error.ref,
            "problem": error.problem,
            "effect": error.effect,
            "next_step": error.next_step,
            "detail": error.detail,
        }
        if isinstance(error, PlanBroken):
            told["problems"] = [str(problem) for problem in error.problems]
        out.stream.write(json.dumps({"error": told}, ensure_ascii=False, indent=2) + "\n")
    out.error(str(error))
    for line in error.problems if isinstance(error, PlanBroken) else error.detail.splitlines():
        out.error(f"  {line}")
    return MISTAKE


class _Parser(argparse.ArgumentParser):
    """Argparse that names the mistake in one sentence and points to --help."""

    def error(self, message: str) -> Any:
        self.exit(MISTAKE, f"{self.prog}: {message}. Ask: {self.prog} --help\n")


def _parser() -> argparse.ArgumentParser:
    parser = _Parser(
        prog="lapseam",
        description="Guided photo walkaround and condition disclosure for collector cars.",
        epilog="Every verb explains itself: lapseam VERB --help. Exit codes: 0 done, 1 the answer is no, 2 a mistake.",
    )
    parser.add_argument("--version", action="version", version=f"lapseam {__version__}")
    verbs = parser.add_subparsers(title="verbs", metavar="VERB", required=True, parser_class=_Parser)
    for verb in VERBS:
        one = verbs.add_parser(verb.name, help=verb.help, description=verb.long or verb.help)
        verb.arguments(one)
        one.add_argument("--workspace", metavar="DIR", help="the workspace folder (else LAPSEAM_WORKSPACE, else yours)")
        one.add_argument("--json", action="store_true", help="print the answer as JSON")
        if verb.by_somebody:
            one.add_argument("--by", metavar="NAME", help="who says so (else LAPSEAM_BY, else your login name)")
        one.set_defaults(verb=verb)
    return parser
