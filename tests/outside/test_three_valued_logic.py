"""Conditions against Kleene's strong three-valued logic.

Source of the tables: S. C. Kleene, *Introduction to Metamathematics* (1952), par. 64: the strong tables of
not, and, or over true, false and undefined. Checked a second time against arithmetic on 0, 1/2, 1, where they are
1 - a, min and max (J. Lukasiewicz, 1920; the same tables for these three connectives).
"""

from __future__ import annotations

from fractions import Fraction
from itertools import product

import pytest

from lapseam.domain.condition import Condition

T, F, U = True, False, None

NOT = {T: F, F: T, U: U}
AND = {(T, T): T, (T, F): F, (T, U): U, (F, T): F, (F, F): F, (F, U): F, (U, T): U, (U, F): F, (U, U): U}
OR = {(T, T): T, (T, F): T, (T, U): T, (F, T): T, (F, F): F, (F, U): U, (U, T): T, (U, F): U, (U, U): U}


def facts(**values: bool | None) -> dict[str, bool]:
    return {name: value for name, value in values.items() if value is not None}


def as_number(value: bool | None) -> Fraction:
    return Fraction(1, 2) if value is None else Fraction(int(value))


@pytest.mark.parametrize(("a", "answer"), NOT.items())
def test_not(a: bool | None, answer: bool | None) -> None:
    assert Condition("not a").answer(facts(a=a)).holds is answer
    assert as_number(answer) == 1 - as_number(a)


@pytest.mark.parametrize(("pair", "answer"), AND.items())
def test_and(pair: tuple[bool | None, bool | None], answer: bool | None) -> None:
    a, b = pair
    assert Condition("a and b").answer(facts(a=a, b=b)).holds is answer
    assert as_number(answer) == min(as_number(a), as_number(b))


@pytest.mark.parametrize(("pair", "answer"), OR.items())
def test_or(pair: tuple[bool | None, bool | None], answer: bool | None) -> None:
    a, b = pair
    assert Condition("a or b").answer(facts(a=a, b=b)).holds is answer
    assert as_number(answer) == max(as_number(a), as_number(b))


def test_the_tables_name_every_case_once() -> None:
    assert set(AND) == set(OR) == set(product((T, F, U), repeat=2))


@pytest.mark.parametrize("sign", ["==", "!=", "<", "<=", ">", ">="])
def test_a_comparison_with_the_unknown_is_unknown(sign: str) -> None:
    assert Condition(f"doors {sign} 2").answer({}).holds is None


def test_excluded_middle_does_not_hold_of_the_unknown() -> None:
    assert Condition("a or not a").answer({}).holds is None
    assert Condition("a and not a").answer({}).holds is None
