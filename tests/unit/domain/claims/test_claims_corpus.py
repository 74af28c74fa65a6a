"""The claims guard on the labelled sentences: little let by, little stopped wrongly, and for the right reason."""

from __future__ import annotations

from collections import Counter

import pytest

from bench.claims import PARTS, UNSEEN, Rates, corpus, judged
from lapseam.domain.claims import Verdict, guard_of
from lapseam.places import shot_plans
from lapseam.plans import load_vocabulary

MOST_LET_BY = 0.02
MOST_STOPPED = 0.05
TUNED = tuple(part for part in PARTS if part != UNSEEN)
MOST_LET_BY_UNSEEN = 0.10
"""The unseen part was judged once, after the last rule: 8 of 88 let by (9.1 %), 3 of 72 stopped (4.2 %). The aim of
2 % is missed there. Rules are not to be tuned on that part; a worse figure means that they read worse than they did."""


@pytest.fixture(scope="module")
def rates() -> Rates:
    return judged(guard_of(load_vocabulary(shot_plans() / "vocabulary")), corpus())


def test_the_corpus_is_large_and_labelled_and_a_part_of_it_was_held_out() -> None:
    texts = corpus()
    vocabulary = load_vocabulary(shot_plans() / "vocabulary")
    assert len(texts) >= 240
    assert len({one.text for one in texts}) == len(texts)
    labels = Counter(one.label.partition(":")[0] for one in texts)
    assert set(labels) == {"allowed", "forbidden", "needs"}
    assert min(labels.values()) > 80
    needy = {claim.id for claim in vocabulary.claims.values() if not claim.forbidden}
    assert {one.label.removeprefix("needs:") for one in texts if one.label.startswith("needs:")} == needy
    held = Counter(one.held for one in texts)
    assert set(held) <= set(PARTS)
    assert held["true"] * 3 >= held["true"] + held["false"]


def part_of(rates: Rates, *parts: str) -> Rates:
    return Rates(tuple(outcome for outcome in rates.outcomes if outcome.labelled.held in parts))


def test_little_is_let_by_and_little_stopped_of_all_that_rules_were_tuned_on(rates: Rates) -> None:
    rates = part_of(rates, *TUNED)
    assert rates.let_by <= MOST_LET_BY, [one.labelled.text for one in rates.outcomes if one.let_by]
    assert rates.stopped <= MOST_STOPPED, [one.labelled.text for one in rates.outcomes if one.stopped]
    assert rates.misnamed <= MOST_STOPPED, [one.labelled.text for one in rates.outcomes if one.misnamed]


@pytest.mark.parametrize("part", TUNED)
def test_no_part_of_it_pays_for_another(part: str, rates: Rates) -> None:
    one = part_of(rates, part)
    assert one.let_by <= MOST_LET_BY
    assert one.stopped <= MOST_STOPPED


def test_sentences_that_no_rule_was_tuned_on_are_read_as_well_as_when_they_were_first_seen(rates: Rates) -> None:
    unseen = part_of(rates, UNSEEN)
    assert len(unseen.outcomes) == 160
    assert unseen.let_by <= MOST_LET_BY_UNSEEN
    assert unseen.stopped <= MOST_STOPPED
    assert unseen.misnamed <= MOST_STOPPED


def test_a_guard_without_rules_fails_the_corpus() -> None:
    vocabulary = load_vocabulary(shot_plans() / "vocabulary")
    bare = guard_of(type(vocabulary)(zones=vocabulary.zones))
    worst = judged(bare, corpus())
    assert worst.let_by > 0.5
    assert any(one.verdict is Verdict.REFUSED for one in worst.outcomes), "the promise words hold even so"
