"""Lists of words by name, as a kind of value."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from .kinds import Defs, Kind, ListOf, Text, sort_of
from .nodes import Node, Pairs
from .reading import Row, Spot


@dataclass(frozen=True, slots=True)
class Lists(Kind):
    """A mapping whose every key names a list of words."""

    def read(self, node: Node, spot: Spot) -> Row | None:
        if not isinstance(node, Pairs):
            spot.wrong(
                node, f"a {sort_of(node)} stands here; wanted: {self.words()}", "write 'name: [word, word]' lines"
            )
            return None
        row = Row({}, {}, node, spot)
        for key, value in node.pairs:
            if key.text in row.given:
                spot.wrong(key.mark, f"the key {key.text!r} stands twice", "take one of them out")
                continue
            row.given[key.text] = value
            row.values[key.text] = ListOf(Text(60), least=1).read(value, spot.inside(key.text)) or ()
        return row

    def words(self) -> str:
        return "lists of words by name"

    def schema(self, defs: Defs) -> dict[str, Any]:
        return {"type": "object", "additionalProperties": ListOf(Text(60), least=1).schema(defs)}
