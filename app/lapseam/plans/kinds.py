"""Kinds of value: what a key may take, how it is read, how it is said, and what it is in JSON Schema (draft 2020-12).

Reading never raises: a bad value is noted and left out, so that all problems come at once.
"""

from __future__ import annotations

import re
from abc import ABC, abstractmethod
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from typing import Any

from .nodes import Items, Node, Pairs, Scalar
from .problems import did_you_mean, one_of, quoted
from .reading import LISTS, Spot

Defs = dict[str, Any]
LONGEST_TEXT = 2_000

_ID = re.compile(r"[a-z0-9]+([-_][a-z0-9]+)*\Z")
_ID_SCHEMA = "^[a-z0-9]+([-_][a-z0-9]+)*$"
_DAY_SCHEMA = "^[0-9]{4}-[0-9]{2}-[0-9]{2}$"
_TRAPS = frozenset(("yes", "no", "on", "off", "y", "n"))


class Kind(ABC):
    """What sort of value a key takes."""

    @abstractmethod
    def read(self, node: Node, spot: Spot) -> Any:
        """The value, or None with the reason noted."""

    @abstractmethod
    def words(self) -> str:
        """What is wanted, to finish the sentence 'wanted: …'."""

    @abstractmethod
    def schema(self, defs: Defs) -> dict[str, Any]:
        """The same as JSON Schema; shapes met on the way are added to `defs`."""

    def scalar(self, node: Node, spot: Spot) -> Scalar | None:
        """The node as one value, or None with a problem noted."""
        if isinstance(node, Scalar) and node.value() is not None:
            return node
        what = "nothing stands here" if isinstance(node, Scalar) else f"a {sort_of(node)} stands here"
        spot.wrong(node, f"{what}; wanted: {self.words()}", "write the value behind the key")
        return None


def sort_of(node: Node) -> str:
    """The word for what stands there."""
    return "list" if isinstance(node, Items) else "mapping" if isinstance(node, Pairs) else "single value"


@dataclass(frozen=True, slots=True)
class Text(Kind):
    """Words. A plain number, true or false must be quoted to be words; `empty` allows "" in quotes."""

    longest: int = LONGEST_TEXT
    empty: bool = False
    loose: bool = False

    def read(self, node: Node, spot: Spot) -> str | None:
        found = self.scalar(node, spot)
        if found is None:
            return None
        if not self.loose and not isinstance(found.value(), str):
            spot.wrong(
                node,
                f"{quoted(found.text)} stands here; wanted: {self.words()}",
                f'write "{found.text[:60]}", in quotes',
            )
            return None
        if found.plain and found.text.lower() in _TRAPS:
            words = f"{quoted(found.text)} is a word here, but many YAML readers take it for true or false"
            spot.doubtful(node, words, f'write "{found.text}", in quotes')
        if not found.text.strip() and not self.empty:
            spot.wrong(node, f"the text is empty; wanted: {self.words()}", "write it, or leave the key out")
            return None
        if len(found.text) > self.longest:
            spot.wrong(node, f"the text has {len(found.text)} characters", f"shorten it to {self.longest}")
            return None
        return found.text

    def words(self) -> str:
        return f"text of at most {self.longest} characters"

    def schema(self, defs: Defs) -> dict[str, Any]:
        least = {} if self.empty else {"minLength": 1}
        kind: Any = ["string", "number"] if self.loose else "string"
        return {"type": kind, **least, "maxLength": self.longest}


@dataclass(frozen=True, slots=True)
class NewId(Kind):
    """An id that this row defines, unique in its list."""

    of: str

    def read(self, node: Node, spot: Spot) -> str | None:
        found = self.scalar(node, spot)
        if found is None:
            return None
        if not isinstance(found.value(), str) or not _ID.match(found.text) or len(found.text) > 60:
            spot.wrong(node, f"{quoted(found.text)} is no id; wanted: {self.words()}", "write it like front-bumper")
            return None
        spot.reading.define(self.of, found, spot.word)
        return found.text

    def words(self) -> str:
        return "an id of small letters, figures and hyphens, unique in its list"

    def schema(self, defs: Defs) -> dict[str, Any]:
        return {"type": "string", "pattern": _ID_SCHEMA, "maxLength": 60}


@dataclass(frozen=True, slots=True)
class Ref(Kind):
    """An id that a row of one of the lists `to` defines. `also` are words that may stand instead."""

    to: tuple[str, ...]
    also: tuple[str, ...] = ()

    def read(self, node: Node, spot: Spot) -> str | None:
        found = self.scalar(node, spot)
        if found is None:
            return None
        if found.text not in self.also:
            spot.reading.referred.append((self.to, found, spot.word))
        return found.text

    def words(self) -> str:
        lists = " or ".join(LISTS[name] for name in self.to)
        return f"the id of a {lists}" + (f", or {one_of(self.also)}" if self.also else "")

    def schema(self, defs: Defs) -> dict[str, Any]:
        return {"type": "string", "pattern": _ID_SCHEMA}


def ref(*to: str, also: tuple[str, ...] = ()) -> Ref:
    """An id of one of those lists."""
    return Ref(to, also)


@dataclass(frozen=True, slots=True)
class Number(Kind):
    """A number between `least` and `most`, whole where `whole`; `unit` is for the words."""

    least: float
    most: float
    whole: bool = False
    unit: str = ""

    def read(self, node: Node, spot: Spot) -> int | float | None:
        found = self.scalar(node, spot)
        if found is None:
            return None
        value = found.value()
        if isinstance(value, bool) or not isinstance(value, int | float) or (self.whole and not isinstance(value, int)):
            remedy = "take the quotes away" if not found.plain else "write figures, with a point for the decimals"
            spot.wrong(node, f"{quoted(found.text)} is not {self.words()}", remedy)
            return None
        if not self.least <= value <= self.most:
            spot.wrong(node, f"{quoted(found.text)} is out of range", f"wanted: {self.words()}")
            return None
        return value

    def words(self) -> str:
        unit = f" {self.unit}" if self.unit else ""
        return f"a {'whole ' if self.whole else ''}number from {self.least:g} to {self.most:g}{unit}"

    def schema(self, defs: Defs) -> dict[str, Any]:
        return {"type": "integer" if self.whole else "number", "minimum": self.least, "maximum": self.most}


@dataclass(frozen=True, slots=True)
class Flag(Kind):
    """true or false."""

    def read(self, node: Node, spot: Spot) -> bool | None:
        found = self.scalar(node, spot)
        if found is None:
            return None
        value = found.value()
        if isinstance(value, bool):
            return value
        trap = found.text.lower() in _TRAPS
        words = f"{quoted(found.text)} is not true or false"
        spot.wrong(node, words, "plans are YAML 1.2: yes, no, on and off are words" if trap else "write true or false")
        return None

    def words(self) -> str:
        return "true or false"

    def schema(self, defs: Defs) -> dict[str, Any]:
        return {"type": "boolean"}


@dataclass(frozen=True, slots=True)
class Choice(Kind):
    """One word of a fixed list."""

    of: tuple[str, ...]

    @classmethod
    def enum(cls, words: type[StrEnum]) -> Choice:
        """The values of an enum of the domain."""
        return cls(tuple(word.value for word in words))

    def read(self, node: Node, spot: Spot) -> str | None:
        found = self.scalar(node, spot)
        if found is None:
            return None
        if found.text not in self.of:
            remedy = did_you_mean(found.text, self.of) or "write one of them"
            spot.wrong(node, f"{quoted(found.text)} is not one of: {one_of(self.of, 40)}", remedy)
            return None
        return found.text

    def words(self) -> str:
        return "one of: " + one_of(self.of, 40)

    def schema(self, defs: Defs) -> dict[str, Any]:
        return {"enum": list(self.of)}


@dataclass(frozen=True, slots=True)
class When(Kind):
    """A condition over facts."""

    def read(self, node: Node, spot: Spot) -> str | None:
        found = self.scalar(node, spot)
        if found is None:
            return None
        spot.reading.conditions.append((found, spot.word))
        return found.text

    def words(self) -> str:
        return "a condition over facts, such as \"body == 'coupe' and not sunroof\""

    def schema(self, defs: Defs) -> dict[str, Any]:
        return {"type": "string", "minLength": 1, "maxLength": LONGEST_TEXT}


@dataclass(frozen=True, slots=True)
class Day(Kind):
    """A calendar day, ISO 8601."""

    def read(self, node: Node, spot: Spot) -> date | None:
        found = self.scalar(node, spot)
        if found is None:
            return None
        try:
            if len(found.text) == 10:
                return date.fromisoformat(found.text)
        except ValueError:
            pass
        spot.wrong(node, f"{quoted(found.text)} is no day", "write it as year-month-day, such as 2026-05-13")
        return None

    def words(self) -> str:
        return "a day as year-month-day"

    def schema(self, defs: Defs) -> dict[str, Any]:
        return {"type": "string", "pattern": _DAY_SCHEMA, "format": "date"}


@dataclass(frozen=True, slots=True)
class ListOf(Kind):
    """A list of one kind, with `least` to `most` entries; `once` refuses an entry given twice."""

    kind: Kind
    least: int = 0
    most: int = 500
    once: bool = True

    def read(self, node: Node, spot: Spot) -> tuple[Any, ...] | None:
        if not isinstance(node, Items):
            spot.wrong(node, f"a {sort_of(node)} stands here; wanted: {self.words()}", "write it as [first, second]")
            return None
        if len(node.items) < self.least:
            what = "the list is empty" if not node.items else f"the list has {len(node.items)} entries"
            spot.wrong(node, f"{what}; wanted: {self.words()}", "add what is missing")
            return None
        if len(node.items) > self.most:
            spot.wrong(node, f"the list has {len(node.items)} entries; wanted: {self.words()}", "shorten it")
            return None
        found = [(item, self.kind.read(item, spot)) for item in node.items]
        values = [value for _, value in found if value is not None]
        if self.once:
            for place, (item, value) in enumerate(found):
                if value is not None and value in [before for _, before in found[:place]]:
                    spot.wrong(item, f"{value!r} stands twice in the list", "take one of them out")
        return tuple(values) if len(values) == len(found) else None

    def words(self) -> str:
        least = f" of at least {self.least}" if self.least else ""
        return f"a list{least}, each {self.kind.words()}"

    def schema(self, defs: Defs) -> dict[str, Any]:
        once = {"uniqueItems": True} if self.once else {}
        return {"type": "array", "items": self.kind.schema(defs), "minItems": self.least, "maxItems": self.most, **once}


@dataclass(frozen=True, slots=True)
class Span(Kind):
    """Two numbers, the smaller first."""

    kind: Number

    def read(self, node: Node, spot: Spot) -> tuple[Any, Any] | None:
        if not isinstance(node, Items) or len(node.items) != 2:
            spot.wrong(node, f"wanted: {self.words()}", "write it as [28, 50]")
            return None
        low, high = (self.kind.read(item, spot) for item in node.items)
        if low is None or high is None:
            return None
        if low > high:
            spot.wrong(node, f"{low:g} is more than {high:g}", "write the smaller number first")
            return None
        return low, high

    def words(self) -> str:
        return f"two numbers in square brackets, the smaller first, each {self.kind.words()}"

    def schema(self, defs: Defs) -> dict[str, Any]:
        return {"type": "array", "items": self.kind.schema(defs), "minItems": 2, "maxItems": 2}
