"""Whether conditions can hold together on some car: tried on every combination of the answers that matter."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from itertools import combinations, product
from math import prod

from .condition import Condition, Facts, Value
from .plan import FactAsked, FactKind

MOST_TRIES = 50_000


def can_hold(
    conditions: Iterable[Condition | None], facts: Mapping[str, FactAsked], given: Facts | None = None
) -> bool:
    """Whether some car answers all conditions with true; `given` holds the answers that are known of it.

    Exact for choices, flags, and numbers compared with constants. Above `MOST_TRIES` combinations the answer is
    True: an unproved contradiction is not reported.
    """
    asked = [condition for condition in conditions if condition is not None]
    names = list(dict.fromkeys(name for condition in asked for name in condition.names()))
    literals = {pair for condition in asked for pair in condition.literals()}
    known: Facts = given or {}
    answers = [
        [known[name]] if name in known else _answers(facts[name], [value for fact, value in literals if fact == name])
        for name in names
    ]
    if prod(len(values) for values in answers) > MOST_TRIES:
        return True
    return any(
        all(condition.answer(dict(zip(names, values, strict=True))).holds for condition in asked)
        for values in product(*answers)
    )


def always_holds(condition: Condition, given: Condition | None, facts: Mapping[str, FactAsked]) -> bool:
    """Whether the condition is true on every car on which `given` is."""
    return not can_hold([given, Condition(f"not ({condition.text})")], facts)


def _answers(fact: FactAsked, literals: list[str | int | float | bool]) -> list[Value]:
    """The answers of one fact that conditions with these literals can tell apart."""
    if fact.kind is FactKind.FLAG:
        return [True, False]
    if fact.kind is FactKind.CHOICE:
        return list(fact.values)
    if fact.kind is FactKind.LIST:
        words = sorted(str(value) for value in literals)
        return [chosen for many in range(len(words) + 1) for chosen in combinations(words, many)]
    numbers = sorted(value for value in literals if isinstance(value, int | float))
    return sorted({number + step for number in numbers for step in (-0.5, 0, 0.5)}) or [0]
