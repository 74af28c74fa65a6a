"""A notes file as a table (CSV): one row for each finding, check, measurement, statement or part looked at.

The rows become the same tree that a YAML notes file is read into, each value with its row and column, so that both
pass the same checks. What spreadsheets do to a table is undone or refused in words: byte order marks, UTF-16 and
Windows letters, semicolons or tabs for commas, decimal commas, `12.0` for 12, days as 13.05.2026. A cell that begins
with `=` is text like any other; nothing in a table is ever worked out.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from ..domain.car import Car
from .nodes import LARGEST_BYTES, MOST_NODES, Items, Node, Pairs, Scalar
from .notes_cells import Cells, cell_node
from .notes_fields import CHECK, FINDING, LOOKED, MEASUREMENT, READING, STATEMENT
from .problems import Mark, Problem, Problems, did_you_mean, one_of, quoted

SUFFIXES: Final = (".csv", ".tsv")
WHAT: Final = {
    "finding": ("findings", FINDING),
    "check": ("checks", CHECK),
    "measurement": ("measurements", MEASUREMENT),
    "statement": ("statements", STATEMENT),
    "looked": ("looked", LOOKED),
}
"""What a row may be, with its section of the notes file and its field table."""
TOLD: Final = ("zone", "name")
"""Columns that tell a reader what the row is about and are never read."""
BEGUN: Final = frozenset(("what", "car", *TOLD, "component", "check", "item", "measure", "unit"))
"""Columns that a printed form fills in beforehand: a row with nothing else in it is not filled in."""
_OTHER_MARKS: Final = ("marks", "readings")
_DELIMITERS: Final = ",;\t"
_MOST_ROWS: Final = 5_000


def columns_of(what: str) -> tuple[str, ...]:
    """The columns that a row of that sort may fill, in the order in which they are documented."""
    fields = [name for name in WHAT[what][1].fields if name not in _OTHER_MARKS]
    return tuple(dict.fromkeys((*fields, *(READING.fields if what == "measurement" else ()))))


COLUMNS: Final = tuple(dict.fromkeys(("what", "car", *TOLD, *(name for what in WHAT for name in columns_of(what)))))
"""Every column, each once."""


def columns_told() -> str:
    """Every kind of row with its columns, for people who fill a table in without the form."""
    rows = "; ".join(f"{what}: {', '.join(columns_of(what))}" for what in WHAT)
    return f"Every row has 'what' and may have 'car'; {', '.join(TOLD)} are never read. {rows}."


@dataclass(frozen=True, slots=True)
class _Line:
    """One row that was filled in: its sort, its cells by column, and where it stands."""

    what: str
    cells: Mapping[str, Scalar]
    mark: Mark


def read_table(path: Path, problems: Problems, car: Car, by: str) -> Node | None:
    """The table as a tree of a notes file, or None with the reasons among the problems."""
    text = _text(path, problems)
    if text is None:
        return None
    rows = _rows(text, path.name, problems)
    if rows is None:
        return None
    (head, *body), skipped = rows
    names = _head(head, Mark(path.name, 1 + skipped), problems)
    lines = list(_lines(body, names, path.name, 2 + skipped, problems))
    _check_car(lines, car, problems)
    top = Mark(path.name)
    pairs: list[tuple[Scalar, Node]] = [
        (Scalar(top, "notes_for", plain=True), Scalar(top, car.stock, plain=False)),
        (Scalar(top, "by", plain=True), Scalar(top, by, plain=False)),
    ]
    for section, node in _sections(lines, Cells(car), problems).items():
        pairs.append((Scalar(node.mark, section, plain=True), node))
    if not lines and not problems.errors():
        problems.add(top, "", "no row of the table is filled in", "fill in a row, then read it again")
    return Pairs(top, pairs)


def told_by_row(problem: Problem) -> Problem:
    """A problem of a table named as a spreadsheet names the place: 'row 5, column C'."""
    place = f"row {problem.line}, column {letters(problem.column)}"
    key = problem.word.rpartition(".")[2] if "." in problem.word else ""
    return Problem(
        problem.file, problem.line, problem.column, f"{place}{f' ({key})' if key in COLUMNS else ''}", problem.words,
        problem.remedy, problem.severity,
    )  # fmt: skip


def letters(column: int) -> str:
    """A column's letters as spreadsheets count: 1 is A, 27 is AA."""
    found = ""
    while column > 0:
        column, rest = divmod(column - 1, 26)
        found = chr(65 + rest) + found
    return found


def _text(path: Path, problems: Problems) -> str | None:
    mark = Mark(path.name)
    try:
        size = path.stat().st_size
        raw = path.read_bytes() if size <= LARGEST_BYTES else b""
    except OSError as error:
        problems.add(mark, "", f"the file cannot be read: {error.strerror or error}", "check its name and rights")
        return None
    if size > LARGEST_BYTES:
        problems.add(
            mark, "", f"the file has {size / 1e6:.1f} MB; at most 1 MB is read", "check that it is the right file"
        )
        return None
    text = decoded(raw)
    if text is None or "\0" in text:
        problems.add(mark, "", "these are no letters of a text file", "save the sheet as CSV in UTF-8")
        return None
    return text


def decoded(raw: bytes) -> str | None:
    """The letters of a text file: UTF-8, UTF-16 with its mark, else Windows Latin; None where it is none of them."""
    if raw.startswith((b"\xff\xfe", b"\xfe\xff")):
        tries: tuple[str, ...] = ("utf-16",)
    else:
        tries = ("utf-8-sig", "cp1252")
    for encoding in tries:
        try:
            return raw.decode(encoding)
        except UnicodeDecodeError:
            continue
    return None


def _rows(text: str, file: str, problems: Problems) -> tuple[list[list[str]], int] | None:
    """The table's rows, the head first, and how many lines stand before it (a spreadsheet's `sep=;`)."""
    first, _, rest = text.partition("\n")
    named = first.strip().lower()
    skipped = 1 if named.startswith("sep=") and len(named) == 5 else 0
    delimiter = named[4] if skipped else _delimiter(first)
    try:
        rows = list(csv.reader(io.StringIO(rest if skipped else text, newline=""), delimiter=delimiter))
    except csv.Error as error:
        problems.add(Mark(file), "", f"this is no table: {error}", "save the sheet as CSV again")
        return None
    if not rows or not any(cell.strip() for cell in rows[0]):
        problems.add(Mark(file, 1 + skipped), "", "the table has no head", "begin with a row of column names: what, …")
        return None
    if len(rows) > _MOST_ROWS or sum(map(len, rows)) > MOST_NODES * 4:
        problems.add(Mark(file), "", f"the table has {len(rows)} rows; at most {_MOST_ROWS} are read", "split it")
        return None
    return rows, skipped


def _delimiter(head: str) -> str:
    """What parts the head into most known names."""

    def known(mark: str) -> int:
        return sum(_name(cell) in COLUMNS for cell in head.split(mark))

    return max(_DELIMITERS, key=known)


def _name(cell: str) -> str:
    return cell.strip().strip('"').strip().casefold().replace(" ", "_").replace("-", "_")


def _head(cells: list[str], mark: Mark, problems: Problems) -> list[str]:
    """The column names, "" for a column that has none; unknown and doubled ones are noted."""
    names = [_name(cell) for cell in cells]
    for column, (name, cell) in enumerate(zip(names, cells, strict=True), start=1):
        here = Mark(mark.file, mark.line, column)
        if name and name not in COLUMNS:
            remedy = did_you_mean(name, COLUMNS) or f"columns: {one_of(COLUMNS, 60)}"
            problems.add(here, "", f"there is no column {quoted(cell)}", remedy)
        elif name and name in names[: column - 1]:
            problems.add(here, "", f"the column {name!r} stands twice", "take one of them out")
    if "what" not in names:
        problems.add(mark, "", "the table has no column 'what'", f"add it; it says: {', '.join(WHAT)}")
    return names


def _lines(rows: list[list[str]], names: list[str], file: str, first: int, problems: Problems) -> Iterator[_Line]:
    for number, row in enumerate(rows, start=first):
        cells: dict[str, Scalar] = {}
        for column, cell in enumerate(row, start=1):
            text = _plain_cell(cell)
            if not text:
                continue
            mark = Mark(file, number, column)
            if column > len(names) or not names[column - 1]:
                problems.add(
                    mark, "", f"{quoted(text)} stands in a column without a name", "name the column, or clear it"
                )
            elif names[column - 1] in COLUMNS:
                cells.setdefault(names[column - 1], Scalar(mark, text, plain=False))
        if not cells.keys() - BEGUN and not _begun_by_hand(cells):
            continue
        what = _what(cells, Mark(file, number), problems)
        if what:
            yield _Line(what, cells, Mark(file, number))


def _begun_by_hand(cells: Mapping[str, Scalar]) -> bool:
    """A form fills in what checks and measurements are; any other word in 'what' is a person's and is read."""
    return "what" in cells and cells["what"].text.casefold() not in ("check", "measurement")


def _plain_cell(cell: str) -> str:
    """The cell without the blanks round it, and without the apostrophe that keeps a spreadsheet from working it out."""
    text = cell.replace("\u00a0", " ").strip()
    return text[1:] if text[:1] == "'" and text[1:2] in ("=", "+", "-", "@") else text


def _what(cells: Mapping[str, Scalar], mark: Mark, problems: Problems) -> str:
    said = cells.get("what")
    if said is None:
        problems.add(mark, "", "the row does not say what it is", f"write into 'what' one of: {', '.join(WHAT)}")
        return ""
    what = said.text.casefold()
    if what not in WHAT:
        remedy = did_you_mean(what, WHAT) or f"write one of: {', '.join(WHAT)}"
        problems.add(said.mark, "", f"{quoted(said.text)} is nothing that a row can be", remedy)
        return ""
    fitting = columns_of(what)
    for name, cell in cells.items():
        if name not in fitting and name not in BEGUN:
            problems.add(cell.mark, "", f"a row for a {what} has no {name!r}", f"columns for it: {one_of(fitting, 40)}")
    return what


def _check_car(lines: list[_Line], car: Car, problems: Problems) -> None:
    for line in lines:
        said = line.cells.get("car")
        if said is not None and said.text != car.stock:
            words = f"this row is for {said.text!r}, the car is {car.stock!r}"
            problems.add(said.mark, "", words, "open that car, or take the row out")


def _sections(lines: list[_Line], cells: Cells, problems: Problems) -> dict[str, Items]:
    found: dict[str, Items] = {}
    for line in lines:
        section, _shape = WHAT[line.what]
        items = found.setdefault(section, Items(line.mark))
        if line.what == "measurement":
            _add_reading(items, line, cells)
        else:
            items.items.append(Pairs(line.mark, list(_pairs(line, columns_of(line.what), cells))))
    for section, items in found.items():
        _number(section, items, cells)
    return found


def _pairs(line: _Line, columns: tuple[str, ...], cells: Cells) -> Iterator[tuple[Scalar, Node]]:
    fields = {**(READING.fields if line.what == "measurement" else {}), **WHAT[line.what][1].fields}
    for name in columns:
        cell = line.cells.get(name)
        if cell is not None:
            yield Scalar(cell.mark, name, plain=True), cell_node(cell, fields[name].kind, cells)


def _add_reading(items: Items, line: _Line, cells: Cells) -> None:
    """A row is one reading; rows that follow each other with the same number, or with none and of one part, are one."""
    reading = Pairs(line.mark, list(_pairs(line, ("place", "value", "unit"), cells)))
    if reading.get("place") is None:
        told = line.cells.get("name") or line.cells.get("component")
        if told is not None:
            reading.pairs.append(
                (Scalar(told.mark, "place", plain=True), Scalar(told.mark, told.text[:200], plain=False))
            )
    head = tuple(name for name in columns_of("measurement") if name not in READING.fields)
    whole = Pairs(line.mark, list(_pairs(line, head, cells)))
    before = items.items[-1] if items.items else None
    if isinstance(before, Pairs) and _same(before, whole):
        readings = before.get("readings")
        if isinstance(readings, Items):
            readings.items.append(reading)
        return
    whole.pairs.append((Scalar(line.mark, "readings", plain=True), Items(line.mark, [reading])))
    items.items.append(whole)


def _same(before: Pairs, now: Pairs) -> bool:
    """Whether a reading goes on with the measurement before it: nothing that it says differs from what that says."""
    told = {key.text: node.text for key, node in before.pairs if isinstance(node, Scalar)}
    said = {key.text: node.text for key, node in now.pairs if isinstance(node, Scalar)}
    if any(told.get(name) != text for name, text in said.items()):
        return False
    return said.get("measure") is not None and said.get("component") is not None


def _number(section: str, items: Items, cells: Cells) -> None:
    """Give rows without a number the next free ones of the car."""
    if section not in ("findings", "measurements", "statements"):
        return
    given = [node.get("number") for node in items.items if isinstance(node, Pairs)]
    taken = {int(one.text) for one in given if isinstance(one, Scalar) and one.text.isdecimal() and len(one.text) < 6}
    free = max(taken | {cells.last_number(section)}) + 1
    for node in items.items:
        if isinstance(node, Pairs) and node.get("number") is None:
            node.pairs.insert(0, (Scalar(node.mark, "number", plain=True), Scalar(node.mark, str(free), plain=True)))
            free += 1
