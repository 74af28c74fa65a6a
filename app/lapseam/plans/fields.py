"""The field tables: one description of each shape drives reading, wording, the JSON Schema and the reference.

A `Shape` is a mapping in a file, its `fields` the keys it may have, in the order they are written.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

from .kinds import Defs, Kind, sort_of
from .nodes import Items, Node, Pairs, Scalar
from .problems import did_you_mean, one_of, quoted
from .reading import Row, Spot


@dataclass(frozen=True, slots=True)
class Field:
    """One key of a shape: what it takes, what it means, and what it is if left out."""

    kind: Kind
    words: str
    required: bool = False
    default: Any = None


Rule = Callable[[Row], None]


@dataclass(frozen=True, slots=True)
class Shape:
    """A mapping in a file. `renamed` leads from keys that people try to the right ones; `rules` look across keys."""

    name: str
    words: str
    fields: Mapping[str, Field]
    renamed: Mapping[str, str] = field(default_factory=dict)
    rules: tuple[Rule, ...] = ()

    def read(self, node: Node, spot: Spot) -> Row | None:
        """The mapping as a row, or None if the node is no mapping."""
        if not isinstance(node, Pairs):
            spot.wrong(node, f"a {sort_of(node)} stands here; wanted: {self.words}", "write 'key: value' lines")
            return None
        row = Row({key: entry.default for key, entry in self.fields.items()}, {}, node, spot)
        for key, value in node.pairs:
            self._read_key(key, value, row)
        for name, entry in self.fields.items():
            if entry.required and name not in row.given:
                spot.wrong(node, f"needs {name!r}: {entry.words}", f"wanted: {entry.kind.words()}")
        for rule in self.rules:
            rule(row)
        return row

    def _read_key(self, key: Scalar, value: Node, row: Row) -> None:
        if key.text in row.given:
            row.spot.wrong(key.mark, f"the key {key.text!r} stands twice", "take one of them out")
            return
        entry = self.fields.get(key.text)
        if entry is None:
            row.spot.wrong(key.mark, f"unknown key {quoted(key.text)}", self._remedy(key.text))
            return
        row.given[key.text] = value
        read = entry.kind.read(value, row.spot.inside(key.text))
        row.values[key.text] = entry.default if read is None else read

    def _remedy(self, key: str) -> str:
        if key in self.renamed:
            return f"it is called {self.renamed[key]!r}"
        return did_you_mean(key, self.fields) or f"known keys: {one_of(self.fields, 40)}"

    def schema(self, defs: Defs) -> dict[str, Any]:
        """A reference to this shape among `defs`."""
        if self.name not in defs:
            defs[self.name] = {}
            required = [key for key, entry in self.fields.items() if entry.required]
            defs[self.name] = {
                "type": "object",
                "description": self.words,
                "properties": {
                    key: {**entry.kind.schema(defs), "description": entry.words} for key, entry in self.fields.items()
                },
                **({"required": required} if required else {}),
                "additionalProperties": False,
            }
        return {"$ref": f"#/$defs/{self.name}"}


@dataclass(frozen=True, slots=True)
class One(Kind):
    """One mapping of a shape."""

    shape: Shape

    def read(self, node: Node, spot: Spot) -> Row | None:
        return self.shape.read(node, spot)

    def words(self) -> str:
        return self.shape.words

    def schema(self, defs: Defs) -> dict[str, Any]:
        return self.shape.schema(defs)


@dataclass(frozen=True, slots=True)
class Rows(Kind):
    """A list of mappings of one shape; problems name a row by its id, or by its number."""

    shape: Shape
    least: int = 0
    name_by: str = "id"

    def read(self, node: Node, spot: Spot) -> tuple[Row, ...] | None:
        if not isinstance(node, Items):
            spot.wrong(node, f"a {sort_of(node)} stands here; wanted: {self.words()}", "begin each entry with '- '")
            return None
        if len(node.items) < self.least:
            spot.wrong(node, f"the list is empty; wanted: {self.words()}", "add at least one")
            return None
        rows = [self.shape.read(item, spot.inside(self._name(item, place))) for place, item in enumerate(node.items, 1)]
        return tuple(row for row in rows if row is not None)

    def _name(self, item: Node, place: int) -> str:
        name = item.get(self.name_by) if isinstance(item, Pairs) else None
        return name.text if isinstance(name, Scalar) and name.text else str(place)

    def words(self) -> str:
        return f"a list, each {self.shape.words}"

    def schema(self, defs: Defs) -> dict[str, Any]:
        return {"type": "array", "items": self.shape.schema(defs), "minItems": self.least}
