"""Where a passphrase comes from: standard input, the environment, or the terminal without echo; never an argument."""

from __future__ import annotations

import argparse
import getpass
import os
import sys

from lapseam.domain.errors import Mistake

VARIABLE = "LAPSEAM_PASSPHRASE"
NEW_VARIABLE = "LAPSEAM_NEW_PASSPHRASE"


def passphrase_arguments(parser: argparse.ArgumentParser) -> None:
    """The option for scripts. A passphrase is no argument: every other program could read it there."""
    parser.add_argument(
        "--passphrase-stdin",
        action="store_true",
        help=f"read the passphrase from standard input, one line each (else {VARIABLE}, else it is asked for)",
    )


def passphrase(args: argparse.Namespace, whose: str, *, new: bool = False) -> str:
    """The passphrase of a person's key; a new one is asked for twice.

    Raises:
        Mistake: there is nobody to ask, or the two do not agree.
    """
    if args.passphrase_stdin:
        return sys.stdin.readline().rstrip("\r\n")
    if told := os.environ.get(NEW_VARIABLE if new else VARIABLE):
        return told
    if not sys.stdin.isatty():
        raise Mistake(
            f"The passphrase of {whose} is needed, and there is no terminal to ask for it.",
            effect="Nothing was done.",
            next_step=f"Give it with --passphrase-stdin, or in {NEW_VARIABLE if new else VARIABLE}.",
        )
    first = getpass.getpass(f"{'New passphrase' if new else 'Passphrase'} of {whose}: ")
    if new and getpass.getpass("The same again: ") != first:
        raise Mistake("The two passphrases are not the same.", effect="Nothing was done.", next_step="Start again.")
    return first
