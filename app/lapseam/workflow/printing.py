"""Verbs for paper: the shot list of a plan or of a car, a car's setup cards, and an empty form for its notes."""

from __future__ import annotations

from concurrent.futures import Future
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from lapseam import plans, publish
from lapseam.domain import coverage as covering
from lapseam.domain.car import Car, House
from lapseam.domain.errors import Mistake, NotFound
from lapseam.publish import Paper

from .office import Office, plan_path

__all__ = ["Paper", "Printed", "Printing", "print_plan"]


@dataclass(frozen=True, slots=True)
class Printed:
    """A file that can go to the printer."""

    path: Path
    words: str


class Printing(Office):
    """Printing, which changes nothing in the record."""

    def print_shot_list(self, *, stock: str, paper: Paper, out: Path) -> Future[Printed]:
        """Write the car's shot list to `out`: what is open in full, what is covered in one line each.

        Raises:
            NotFound: no such car, or no folder for `out`. DiskFull, NoRights: it could not be written.
        """
        read = self.runner.on_book(self._asked, stock)
        return self.runner.aside(lambda: _car_list(*read.result(), paper=paper, out=out, on=self.now().date()))

    def print_cards(self, *, stock: str, paper: Paper, out: Path, zones: bool = False) -> Future[Printed]:
        """Write the car's setup cards to `out`, first and last of each setup; with `zones` zone cards too.

        Raises: as `print_shot_list`.
        """
        read = self.runner.on_book(self._asked, stock)
        return self.runner.aside(
            lambda: _cards(*read.result(), paper=paper, out=out, on=self.now().date(), zones=zones)
        )

    def write_notes_form(self, *, stock: str, out: Path, semicolons: bool = False) -> Future[Printed]:
        """Write an empty notes table (CSV) of the car to `out`: its parts, and the checks and measurements asked.

        `semicolons` part the cells for spreadsheets that take a comma for decimals. Raises: as `print_shot_list`.
        """
        read = self.runner.on_book(self._car, stock)
        return self.runner.aside(lambda: _form(read.result(), out=out, delimiter=";" if semicolons else ","))

    def _asked(self, stock: str) -> tuple[Car, House]:
        return self._car(stock), self.house


def print_plan(*, folder: Path, plan: str, paper: Paper, out: Path, on: date) -> Printed:
    """Write the shot list of a plan (an id, or a file) to `out`; `folder` is the workspace whose plans come first.

    Raises:
        NotFound: no such plan, or no folder for `out`. PlanBroken: it does not load. DiskFull, NoRights: not written.
    """
    shown = publish.plan_shot_list(plans.load_plan(plan_path(folder, plan)), printed_on=on)
    return _written(out, publish.shot_list_pdf(shown, paper=paper, printed_on=on), f"{shown.plan}: {shown.summary}")


def _car_list(car: Car, house: House, *, paper: Paper, out: Path, on: date) -> Printed:
    shown = publish.car_shot_list(car, covering.check(car), printed_on=on, house=house.name)
    return _written(out, publish.shot_list_pdf(shown, paper=paper, printed_on=on), f"{car.stock}: {shown.summary}")


def _cards(car: Car, house: House, *, paper: Paper, out: Path, on: date, zones: bool) -> Printed:
    shown = publish.setup_cards(car, printed_on=on, house=house.name, zones=zones)
    if not shown.cards:
        raise Mistake(
            f"No setup of its plan applies to {car.stock}, so there is no card to print.",
            next_step=f"Look at what was answered about the car: lapseam facts {car.stock}",
        )
    words = f"{car.stock}: {len(shown.cards)} cards, a first and a last one each"
    return _written(out, publish.cards_pdf(shown, paper=paper, printed_on=on), words)


def _form(car: Car, *, out: Path, delimiter: str) -> Printed:
    text, rows = plans.notes_form(car, delimiter=delimiter)
    words = f"{car.stock}: a form of {rows} rows"
    step = f"fill it in, then read it with: lapseam note {car.stock} {out}"
    return _written(out, text.encode("utf-8-sig"), words, step=step)


def _written(out: Path, content: bytes, words: str, *, step: str = "print it at actual size") -> Printed:
    if out.is_dir():
        raise Mistake(f"{out} is a folder.", next_step="Name the file that is to be written.")
    if not out.parent.is_dir():
        raise NotFound(
            f"There is no folder {out.parent} to write {out.name} in.", next_step="Make it, or name another."
        )
    publish.write_file(out, content)
    return Printed(out, f"{words}. Written to {out}; {step}.")
