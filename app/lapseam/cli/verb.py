"""What a verb of the command line is, and what it gets to work with."""

from __future__ import annotations

import argparse
import getpass
import os
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from lapseam.domain.errors import Mistake
from lapseam.domain.measure.reading import whole
from lapseam.workflow import Desk

from .out import Out


@dataclass(frozen=True, slots=True)
class Ask:
    """One asking of a verb: its arguments, where answers go, and the open desk (None where no workspace is needed).

    `open_window` opens the windows on a workspace and a car, None where there is no screen.
    """

    args: argparse.Namespace
    out: Out
    open_desk: Desk | None
    open_window: Callable[[Path, str], int] | None = None

    @property
    def desk(self) -> Desk:
        """The open desk."""
        if self.open_desk is None:
            raise RuntimeError("this verb said that it needs no workspace")
        return self.open_desk

    @property
    def by(self) -> str:
        """Who says so: --by, else LAPSEAM_BY, else the login name."""
        named = self.args.by or os.environ.get("LAPSEAM_BY")
        if named:
            return str(named)
        try:
            return getpass.getuser()
        except (OSError, KeyError):
            return "somebody"


@dataclass(frozen=True, slots=True)
class Verb:
    """One verb: its name, help, arguments and what it does. Its answer is the exit code.

    `needs_workspace` may hang on what was asked.
    """

    name: str
    help: str
    arguments: Callable[[argparse.ArgumentParser], None]
    run: Callable[[Ask], int]
    long: str = ""
    needs_workspace: bool | Callable[[argparse.Namespace], bool] = True
    makes_workspace: bool = False
    by_somebody: bool = True

    def wants_workspace(self, args: argparse.Namespace) -> bool:
        """Whether this asking of it needs an open workspace."""
        return self.needs_workspace(args) if callable(self.needs_workspace) else self.needs_workspace


def number_of(what: str, most: int) -> Callable[[str], int]:
    """An argument that is a whole number from nought to `most`, as people write it: 48,213 or 48 213 too."""

    def read(words: str) -> int:
        try:
            return whole(words, of=what, least=0, most=most)
        except Mistake as mistake:
            raise argparse.ArgumentTypeError(f"{mistake.problem} {mistake.next_step}") from None

    return read
