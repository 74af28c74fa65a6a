"""Answers to facts as a file gives them: `body: hardtop`, `lift: true`, `ad_claims: [restored]`."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from ..domain.condition import Value
from ..domain.plan import FactAsked, FactKind
from .kinds import Defs, Kind, sort_of
from .nodes import Items, Node, Pairs, Scalar
from .problems import did_you_mean, one_of
from .reading import Row, Spot, literal_trouble


@dataclass(frozen=True, slots=True)
class Answers(Kind):
    """A mapping of facts to their answers; which facts there are is checked by `check_answers`."""

    def read(self, node: Node, spot: Spot) -> Row | None:
        if not isinstance(node, Pairs):
            spot.wrong(node, f"a {sort_of(node)} stands here; wanted: {self.words()}", "write 'fact: answer' lines")
            return None
        row = Row({}, {}, node, spot)
        for key, value in node.pairs:
            if key.text in row.given:
                spot.wrong(key.mark, f"the fact {key.text!r} is answered twice", "take one of them out")
                continue
            row.given[key.text] = value
            answer = _answer(value, spot.inside(key.text))
            if answer is not None:
                row.values[key.text] = answer
        return row

    def words(self) -> str:
        return "answers to facts; a fact that nobody has answered is left out"

    def schema(self, defs: Defs) -> dict[str, Any]:
        one: list[dict[str, Any]] = [{"type": ["string", "number", "boolean"]}]
        return {
            "type": "object",
            "additionalProperties": {"anyOf": [*one, {"type": "array", "items": {"type": "string"}}]},
        }


def _answer(node: Node, spot: Spot) -> Value | None:
    if isinstance(node, Items):
        words = [_answer(item, spot) for item in node.items]
        return tuple(word for word in words if word is not None and not isinstance(word, tuple))
    value = node.value() if isinstance(node, Scalar) else None
    if value is None:
        spot.wrong(node, "no answer stands here", "write the answer, or leave the fact out: then it is unknown")
    return value


def check_answers(row: Row, facts: Mapping[str, FactAsked]) -> None:
    """Note every answer to no fact of the list, and every answer that does not fit its fact."""
    for name, value in row.values.items():
        fact = facts.get(name)
        if fact is None:
            remedy = did_you_mean(name, facts) or f"facts: {one_of(facts)}"
            row.wrong(name, f"there is no fact {name!r}", remedy)
        elif isinstance(value, tuple) != (fact.kind is FactKind.LIST):
            wanted = "a list in square brackets" if fact.kind is FactKind.LIST else "one answer"
            row.wrong(name, f"{name!r} takes {wanted}", "write it so")
        else:
            for one in value if isinstance(value, tuple) else (value,):
                trouble = literal_trouble(fact, one)
                if trouble:
                    row.wrong(name, *trouble)
