"""Conditions: what they answer, which facts they hang on, and where a text that is none stops."""

from __future__ import annotations

from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lapseam.domain.condition import Comparison, Condition, ConditionError

CAR = {
    "body": "hardtop",
    "doors": 2,
    "volts": 12.0,
    "lift": True,
    "sunroof": False,
    "ad_claims": ("restored", "few-owners"),
}


@pytest.mark.parametrize(
    ("text", "holds"),
    [
        ("lift", True),
        ("sunroof", False),
        ("not sunroof", True),
        ("not not lift", True),
        ("true", True),
        ("false or true", True),
        ("body == 'hardtop'", True),
        ("'hardtop' == body", True),
        ("body != 'hardtop'", False),
        ("body in ['hardtop', 'coupe']", True),
        ("body not in ['hardtop', 'coupe']", False),
        ("not body in ['coupe']", True),
        ("body in []", False),
        ("'restored' in ad_claims", True),
        ("'rust-free' not in ad_claims", True),
        ("doors < 3", True),
        ("doors<=2", True),
        ("doors > 2", False),
        ("doors >= 2.0", True),
        ("volts == 12", True),
        ("doors > -1", True),
        ("lift == true", True),
        ("lift and not sunroof and doors == 2", True),
        ("lift and sunroof or doors == 2", True),
        ("lift and (sunroof or doors == 4)", False),
        ("not (lift and sunroof)", True),
        ("(" * 40 + "lift" + ")" * 40, True),
        ("unheard", None),
        ("unheard and sunroof", False),
        ("unheard or lift", True),
        ("unheard and lift", None),
        ("body == unheard", None),
        ("'restored' in unheard", None),
    ],
)
def test_what_a_condition_answers(text: str, holds: bool | None) -> None:
    assert Condition(text).answer(CAR).holds is holds


@pytest.mark.parametrize(
    ("text", "asks"),
    [
        ("a", ("a",)),
        ("a and b", ("a", "b")),
        ("a and lift", ("a",)),
        ("a or (b and sunroof)", ("a",)),
        ("(a and sunroof) or b", ("b",)),
        ("not (b and a)", ("b", "a")),
        ("a and a", ("a",)),
        ("a < b", ("a", "b")),
        ("lift", ()),
        ("a and sunroof", ()),
    ],
)
def test_it_asks_only_the_facts_it_hangs_on(text: str, asks: tuple[str, ...]) -> None:
    assert Condition(text).answer(CAR).asks == asks


@pytest.mark.parametrize(
    ("text", "column", "words"),
    [
        ("", 0, "empty"),
        ("   ", 0, "empty"),
        ("lift and", 8, "stops in the middle"),
        ("and lift", 0, "does not belong here"),
        ("lift lift", 5, "too many"),
        ("lift & runs", 5, "cannot read"),
        ("body == 'hardtop", 8, "cannot read"),
        ('body == "hardtop"', 8, "cannot read"),
        ("(lift", 5, "')' is missing"),
        ("lift)", 4, "too many"),
        ("body in ['a' 'b']", 13, "a list wants ','"),
        ("body in ['a'", 12, "a list wants ','"),
        ("body in [lift]", 9, "a list holds words"),
        ("body not 'a'", 9, "must be 'not in'"),
        ("a == b == c", 7, "too many"),
        ("lift.__class__", 4, "cannot read"),
        ("f(1)", 1, "too many"),
        ("(" * 41 + "a" + ")" * 41, 41, "more than 40 brackets"),
        ("a or " * 500 + "a", 2_000, "longer than"),
    ],
)
def test_a_text_that_is_no_condition_says_where(text: str, column: int, words: str) -> None:
    with pytest.raises(ConditionError) as caught:
        Condition(text).answer({})
    assert caught.value.column == column
    assert words in caught.value.words


def test_names_and_comparisons_for_a_loader() -> None:
    condition = Condition("lift and body in ['coupe', 'sedan'] or 'restored' in ad_claims and doors > 2")
    assert condition.names() == ("lift", "body", "ad_claims", "doors")
    assert condition.comparisons() == (
        Comparison("body", "in", "coupe", True),
        Comparison("body", "in", "sedan", True),
        Comparison("ad_claims", "in", "restored", False),
        Comparison("doors", ">", 2, True),
    )
    assert condition.literals() == (("body", "coupe"), ("body", "sedan"), ("ad_claims", "restored"), ("doors", 2))


NAMES = ("a", "b", "c", "d")
TEXTS = st.recursive(
    st.sampled_from((*NAMES, "true", "false")),
    lambda inner: st.one_of(
        inner.map(lambda one: f"not ({one})"),
        st.tuples(inner, st.sampled_from(("and", "or")), inner).map(
            lambda parts: f"({parts[0]}) {parts[1]} ({parts[2]})"
        ),
    ),
    max_leaves=8,
)
ANSWERS = st.dictionaries(st.sampled_from(NAMES), st.booleans())


@given(TEXTS, ANSWERS)
def test_more_answers_never_take_an_answer_back(text: str, answers: dict[str, bool]) -> None:
    holds = Condition(text).answer(answers).holds
    if holds is None:
        return
    missing = [name for name in NAMES if name not in answers]
    for more in product((True, False), repeat=len(missing)):
        assert Condition(text).answer({**answers, **dict(zip(missing, more, strict=True))}).holds is holds


@given(TEXTS, ANSWERS)
def test_an_unknown_condition_is_settled_by_what_it_asks(text: str, answers: dict[str, bool]) -> None:
    answer = Condition(text).answer(answers)
    assert bool(answer.asks) is (answer.holds is None)
    assert not set(answer.asks) & set(answers)
    filled = {**answers, **dict.fromkeys(answer.asks, True)}
    again = Condition(text).answer(filled)
    assert again.holds is not None or set(again.asks).isdisjoint(answer.asks)


@given(TEXTS, TEXTS, ANSWERS)
def test_de_morgan(left: str, right: str, answers: dict[str, bool]) -> None:
    one = Condition(f"not (({left}) and ({right}))").answer(answers)
    other = Condition(f"not ({left}) or not ({right})").answer(answers)
    assert one == other


@given(TEXTS, st.fixed_dictionaries(dict.fromkeys(NAMES, st.booleans())))
def test_with_every_fact_answered_it_is_ordinary_logic(text: str, answers: dict[str, bool]) -> None:
    python = text.replace("true", "True").replace("false", "False")
    assert Condition(text).answer(answers).holds is bool(eval(python, {"__builtins__": {}}, dict(answers)))


@given(st.text(max_size=60))
def test_no_text_breaks_the_reader(text: str) -> None:
    error = reading_stops(text)
    assert error is None or (0 <= error.column <= len(text) and error.words)


def reading_stops(text: str) -> ConditionError | None:
    try:
        Condition(text).answer({})
    except ConditionError as error:
        return error
    return None
