"""One cell of a notes table as the value its column wants: what a sheet or a person writes, put in the file's form.

Whatever cannot be understood is handed on as it stands, so that the column's own reader refuses it in its own words.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import date
from typing import Final

from ..domain.car import Car
from ..domain.measure.reading import plain
from .kinds import Choice, Day, Kind, ListOf, Number, Ref
from .nodes import Items, Node, Scalar

_PARTS: Final = re.compile(r"[;|\n]")
_DOTTED: Final = re.compile(r"([0-9]{1,2})\.([0-9]{1,2})\.([0-9]{4})\Z")
_WHOLE: Final = re.compile(r"([+-]?[0-9]+)[.,]0+\Z")
_DECIMAL: Final = re.compile(r"[+-]?[0-9]+,[0-9]+\Z")


class Cells:
    """What a table may name by its words instead of its id: parts, kinds, checks, measurements and reasons of a car."""

    def __init__(self, car: Car) -> None:
        words = car.plan.vocabulary
        self._car = car
        self._ids: dict[str, Mapping[str, str]] = {
            "components": _by_name({one.id: one.name for one in words.components().values()}),
            "findings": _by_name({one.id: one.name for one in words.findings.values()}),
            "checks": _by_name({one.id: one.item for one in words.checks.values()}),
            "measures": _by_name({one.id: one.name for one in words.measurements.values()}),
            "not_tested_reasons": _by_name({one.id: one.name for one in words.not_tested_reasons.values()}),
        }

    def named(self, lists: tuple[str, ...], text: str) -> str:
        """The id that is called by these words, or the words where none is, or more than one."""
        wanted = _folded(text)
        found = {self._ids[one][wanted] for one in lists if wanted in self._ids.get(one, {})}
        return found.pop() if len(found) == 1 else text

    def last_number(self, section: str) -> int:
        """The highest number that the car's rows of this section have, 0 where it has none."""
        car = self._car
        numbers = {
            "findings": [one.number for one in car.findings],
            "measurements": [one.number for one in car.measurements],
            "statements": [one.number for one in car.statements],
        }
        return max(numbers[section], default=0)


def _folded(text: str) -> str:
    return " ".join(text.casefold().split())


def _by_name(names: Mapping[str, str]) -> Mapping[str, str]:
    """Ids by their folded names; a name that two have leads to none."""
    found: dict[str, str] = {}
    for one, name in names.items():
        key = _folded(name)
        found[key] = "" if key in found else one
    return {key: one for key, one in found.items() if one} | {one: one for one in names}


def cell_node(cell: Scalar, kind: Kind, cells: Cells) -> Node:
    """The cell as the tree that its column's kind reads."""
    if isinstance(kind, ListOf):
        parts = [part.strip() for part in _PARTS.split(cell.text)]
        return Items(cell.mark, [Scalar(cell.mark, part, plain=False) for part in parts if part])
    return Scalar(cell.mark, _text_for(cell.text, kind, cells), plain=isinstance(kind, Number))


def _text_for(text: str, kind: Kind, cells: Cells) -> str:
    if isinstance(kind, Number):
        return _number(plain(text))
    if isinstance(kind, Day):
        return _day(plain(text))
    if isinstance(kind, Choice):
        word = "-".join(text.casefold().replace("_", " ").replace("-", " ").split())
        return word if word in kind.of else text
    if isinstance(kind, Ref):
        return cells.named(kind.to, text)
    if not isinstance(kind, Kind):
        raise TypeError(f"no column is a {type(kind).__name__}")
    return cells.named(("checks",), text) if kind.words().startswith("the id of a check") else text


def _number(text: str) -> str:
    """Figures as the file writes them: a point for the decimals, and no decimals where a sheet added them."""
    whole = _WHOLE.match(text)
    if whole:
        return whole[1]
    return text.replace(",", ".") if _DECIMAL.match(text) else text


def _day(text: str) -> str:
    """13.05.2026 as 2026-05-13. What has strokes can be read two ways and is refused."""
    found = _DOTTED.match(text)
    if found is None:
        return text
    try:
        return date(int(found[3]), int(found[2]), int(found[1])).isoformat()
    except ValueError:
        return text
