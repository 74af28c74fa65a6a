"""The catalogue: every rule answers its own example, and no words of any kind make one crash."""

from __future__ import annotations

import shlex
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lapseam.domain.errors import Mistake, NotFound
from lapseam.domain.measure.catalogue import RULES, work
from lapseam.domain.measure.part_dates import DateWindow
from lapseam.domain.measure.worked import Worked

TODAY = date(2026, 11, 25)
WINDOWS = (DateWindow("dr-block-cast", "Block or head casting", 5, 90, 180),)
NAMES = list(RULES)
HOSTILE = st.one_of(
    st.text(max_size=45),
    st.text(alphabet="0123456789.,/ -+=xXRPLT%µmin½?*\u202e\x00", max_size=20),
    st.sampled_from(
        ["", "-1", "0", "nan", "inf", "1e309", "🚗", "=", "year=", "kind=light", "gear=0", "wheels=5", "on=", "into=in",
         "205/70R14", "3.73", "65mph", "mi", "both", "free", "1968-10", "dr-block-cast", "hood=1 um", "9" * 40, "٣/٠"]
    ),
)  # fmt: skip


def ask(name: str, *words: str) -> Worked:
    return work(name, words, today=TODAY, windows=lambda: WINDOWS)


@pytest.mark.parametrize("name", NAMES)
def test_every_rule_answers_its_own_example(name: str) -> None:
    worked = ask(name, *shlex.split(RULES[name].example))
    assert worked.rule == name
    assert worked.said.endswith(".")
    assert worked.values
    assert worked.working
    assert worked.source


@given(st.sampled_from(NAMES), st.lists(HOSTILE, max_size=5))
def test_any_words_are_answered_or_refused_with_what_to_write(name: str, words: list[str]) -> None:
    try:
        worked = ask(name, *words)
    except Mistake as error:
        refused: Mistake | None = error
    else:
        refused = None
        assert isinstance(worked, Worked)
    if refused is not None:
        assert refused.problem
        assert refused.next_step != Mistake.default_next_step
        assert len(str(refused)) < 500


def test_a_rule_that_is_not_there() -> None:
    with pytest.raises(NotFound, match="Did you mean tyre-size"):
        ask("tire-size", "205/70R14")


@pytest.mark.parametrize("name", [name for name in NAMES if RULES[name].wants])
def test_without_words_a_rule_says_what_it_wants(name: str) -> None:
    with pytest.raises(Mistake) as refused:
        ask(name)
    assert RULES[name].usage in str(refused.value)
    assert refused.value.next_step == f"For instance: lapseam rule {name} {RULES[name].example}"


def test_a_misspelt_named_word_is_not_taken_for_a_part_of_the_serial() -> None:
    with pytest.raises(Mistake, match="Did you mean year"):
        ask("vin", "9F02M", "yaer=1969")
    with pytest.raises(Mistake, match="given twice"):
        ask("vin", "9F02M", "year=1969", "year=1970")


def test_a_tyre_may_be_a_size_or_a_length() -> None:
    by_size = ask("engine-speed", "65mph", "3.73", "205/70R14").amount("engine speed")
    by_length = ask("engine-speed", "104.60736 km/h", "3.73", "642.6mm").amount("engine speed")
    assert by_size == pytest.approx(by_length)


def test_today_is_the_day_unless_another_is_named() -> None:
    assert ask("tyre-date", "3500").amount("age") == (26,)
    assert ask("tyre-date", "3500", "on=2010-09-01").amount("age") == (10,)
    assert ask("odometer-exemption", "2011").amount("exempt by age") is False


def test_windows_are_asked_for_by_the_rule_that_needs_them_alone() -> None:
    def never() -> tuple[DateWindow, ...]:
        raise AssertionError

    assert work("tread", ("5/32",), today=TODAY, windows=never).said
    with pytest.raises(AssertionError):
        work("part-date", ("dr-block-cast", "1968-10", "1968-12"), today=TODAY, windows=never)
