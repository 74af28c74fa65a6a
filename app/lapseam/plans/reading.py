"""One reading of one or several files: what they define, what they name, and what is wrong with all of it.

Definitions and names are collected first and compared at the end, so that files may name each other in any order.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from ..domain.condition import Comparison, Condition, ConditionError
from ..domain.condition import Scalar as Literal
from ..domain.plan import FactAsked, FactKind
from .nodes import Node, Scalar
from .problems import Mark, Problems, did_you_mean, one_of, quoted

LISTS = {
    "facts": "fact",
    "zones": "zone",
    "components": "component",
    "rust_places": "rust-prone place",
    "findings": "kind of finding",
    "checks": "check",
    "not_tested_reasons": "reason for not testing",
    "measures": "measurement",
    "bases": "basis",
    "cautions": "caution",
    "signoff": "sign-off rule",
    "gallery_groups": "gallery chapter",
    "claims": "claim",
    "wording": "wording rule",
    "type_tests": "type word",
    "setups": "setup",
    "shots": "shot",
    "reach_reasons": "reason for not reaching",
    "originality": "word of originality",
    "dates": "date rule",
    "titles": "title state",
    "questions": "question",
    "synonyms": "synonym",
}
"""The lists that ids belong to, each with the word for one of it."""


@dataclass(frozen=True, slots=True)
class Spot:
    """Where reading stands: the way in the file's own keys."""

    reading: Reading
    word: str

    def inside(self, name: str) -> Spot:
        """One step further in."""
        return Spot(self.reading, f"{self.word}.{name}" if self.word else name)

    def wrong(self, node: Node | Mark, words: str, remedy: str = "") -> None:
        """Note a problem here."""
        self.reading.problems.add(node if isinstance(node, Mark) else node.mark, self.word, words, remedy)

    def doubtful(self, node: Node, words: str, remedy: str = "") -> None:
        """Note something worth a look here."""
        self.reading.problems.warn(node.mark, self.word, words, remedy)


@dataclass(slots=True)
class Row:
    """One mapping as read: the good values by key, defaults filled in, and the node of each key given."""

    values: dict[str, Any]
    given: dict[str, Node]
    node: Node
    spot: Spot

    def __getitem__(self, key: str) -> Any:
        return self.values.get(key)

    def has(self, key: str) -> bool:
        """Whether the file gives that key, with a good value or a bad one."""
        return key in self.given

    def wrong(self, key: str, words: str, remedy: str = "") -> None:
        """Note a problem at that key, or at the row where the key is not given."""
        spot = self.spot.inside(key) if key in self.given else self.spot
        spot.wrong(self.given.get(key, self.node), words, remedy)

    def doubtful(self, key: str, words: str, remedy: str = "") -> None:
        """Note something worth a look at that key."""
        self.spot.inside(key).doubtful(self.given.get(key, self.node), words, remedy)


@dataclass(slots=True)
class Reading:
    """What has been read so far."""

    problems: Problems = field(default_factory=Problems)
    defined: dict[str, dict[str, Mark | None]] = field(default_factory=dict)
    referred: list[tuple[tuple[str, ...], Scalar, str]] = field(default_factory=list)
    conditions: list[tuple[Scalar, str]] = field(default_factory=list)
    photos: list[tuple[Scalar, str]] = field(default_factory=list)

    def know(self, kind: str, ids: Iterable[str]) -> None:
        """Take ids as defined elsewhere."""
        self.defined.setdefault(kind, {}).update(dict.fromkeys(ids))

    def define(self, kind: str, node: Scalar, word: str) -> None:
        """Note an id; given twice it is a problem."""
        known = self.defined.setdefault(kind, {})
        if node.text in known:
            first = known[node.text]
            where = f"already stands at {first.file}:{first.line}" if first else "is known already"
            self.problems.add(
                node.mark, word, f"the {LISTS[kind]} {node.text!r} {where}", "give one of them another id"
            )
            return
        known[node.text] = node.mark

    def settle_names(self) -> None:
        """Compare every id that was named with those that are defined."""
        for kinds, node, word in self.referred:
            known = [name for kind in kinds for name in self.defined.get(kind, {})]
            if node.text not in known:
                what = " or ".join(LISTS[kind] for kind in kinds)
                remedy = did_you_mean(node.text, known) or f"known: {one_of(known) or 'none'}"
                self.problems.add(node.mark, word, f"there is no {what} {quoted(node.text)}", remedy)

    def settle_conditions(self, facts: Mapping[str, FactAsked]) -> None:
        """Parse every condition and compare its facts and words with the list of facts."""
        for node, word in self.conditions:
            _settle_condition(self.problems, node, word, facts)


def _settle_condition(problems: Problems, node: Scalar, word: str, facts: Mapping[str, FactAsked]) -> None:
    condition = Condition(node.text)
    try:
        names, comparisons = condition.names(), condition.comparisons()
    except ConditionError as error:
        words = f"{error.words}, at character {error.column + 1} of {quoted(node.text)}"
        problems.add(_inside(node, error.column), word, words, "see 'Conditions' in the plan reference")
        return
    for name in names:
        if name not in facts:
            at = _inside(node, _find(node.text, name))
            remedy = did_you_mean(name, facts) or f"facts: {one_of(facts)}"
            problems.add(at, word, f"there is no fact {quoted(name)}", remedy)
    compared = {one.fact for one in comparisons}
    for name in names:
        fact = facts.get(name)
        if fact and name not in compared and fact.kind is not FactKind.FLAG:
            words = f"{name!r} is no yes-or-no fact and stands alone"
            remedy = f"compare it, as in {_example(fact)}"
            problems.add(_inside(node, _find(node.text, name)), word, words, remedy)
    for one in comparisons:
        fact = facts.get(one.fact)
        trouble = (literal_trouble(fact, one.literal) or _sign_trouble(fact, one)) if fact else None
        if trouble:
            written = str(one.literal).lower() if isinstance(one.literal, bool) else str(one.literal)
            problems.add(_inside(node, _find(node.text, written)), word, *trouble)


def _sign_trouble(fact: FactAsked, one: Comparison) -> tuple[str, str] | None:
    """What is wrong with the sign between a fact and a literal that fits it, as (words, remedy), or None."""
    if fact.kind is FactKind.NUMBER:
        return None
    inside = one.sign in ("in", "not in")
    if fact.kind is FactKind.LIST:
        good = inside and not one.fact_first
    else:
        good = one.sign in ("==", "!=") or (inside and one.fact_first)
    return None if good else (f"{one.sign!r} does not fit {fact.id!r} here", f"write it as in {_example(fact)}")


def literal_trouble(fact: FactAsked, value: Literal) -> tuple[str, str] | None:
    """What is wrong with one value for that fact, as (words, remedy), or None."""
    if fact.kind is FactKind.FLAG:
        if isinstance(value, bool):
            return None
        return f"{value!r} does not fit {fact.id!r}, which is true or false", "write true or false"
    if fact.kind is FactKind.NUMBER:
        if isinstance(value, int | float) and not isinstance(value, bool):
            return None
        return f"{value!r} does not fit {fact.id!r}, which is a number", "write a number, without quotes"
    if value in fact.values:
        return None
    remedy = did_you_mean(str(value), fact.values)
    return f"{quoted(str(value))} is not one of the words of {fact.id!r}: {one_of(fact.values)}", remedy


def _example(fact: FactAsked) -> str:
    if fact.kind in (FactKind.NUMBER, FactKind.FLAG):
        return f"{fact.id} > 2" if fact.kind is FactKind.NUMBER else f"not {fact.id}"
    word = fact.values[0] if fact.values else "word"
    return f"'{word}' in {fact.id}" if fact.kind is FactKind.LIST else f"{fact.id} == '{word}'"


def _find(text: str, word: str) -> int:
    return max(text.find(word), 0)


def _inside(node: Scalar, column: int) -> Mark:
    return Mark(node.mark.file, node.mark.line, node.mark.column + column + (0 if node.plain else 1))
