"""Claim rules as files: phrases are checked where they stand, groups are opened, a house's rules only add."""

from __future__ import annotations

from pathlib import Path

import pytest

from lapseam.domain.errors import NotFound, PlanBroken
from lapseam.domain.plan import Claim, WordingRule
from lapseam.places import shot_plans
from lapseam.plans import load_claim_rules, load_vocabulary

VOCABULARY = load_vocabulary(shot_plans() / "vocabulary")

HOUSE = """\
groups: {praise: [stunning, gorgeous]}
claims:
  - {id: our-warranty, claim: "Our warranty", words: ["our warranty"], forbidden: true, say_instead: "See the contract"}
  - {id: show-winner, claim: "Show winner", words: ["show winner|winning"], say_instead: "Shown in {detail}",
     needs: [{basis: [documented], about: receipts, what: "the prize paper"}]}
wording:
  - {id: praise, name: "praise", words: ["{praise} car|paint"], unless: ["not {praise} paint"]}
"""


def write(folder: Path, text: str) -> Path:
    path = folder / "claims.yaml"
    path.write_text(text, encoding="utf-8")
    return path


def test_a_houses_rules_are_read_and_its_groups_opened(tmp_path: Path) -> None:
    first, second, third = load_claim_rules(write(tmp_path, HOUSE), beside=VOCABULARY)
    assert isinstance(first, Claim)
    assert first.forbidden
    assert isinstance(second, Claim)
    assert second.needs == ("documented: receipts (the prize paper)",)
    assert third == WordingRule("praise", "praise", ("stunning|gorgeous car|paint",), ("not stunning|gorgeous paint",))


def test_a_group_may_hold_several_words_in_one(tmp_path: Path) -> None:
    text = (
        "groups: {nobody: [no one, nobody], sits: [sat]}\n"
        'wording:\n  - {id: a, name: b, words: ["{nobody} {sits}", "[{nobody}|we] ran"]}\n'
    )
    (rule,) = load_claim_rules(write(tmp_path, text), beside=VOCABULARY)
    assert isinstance(rule, WordingRule)
    assert rule.words == ("[no one|nobody] sat", "[no one|nobody|we] ran")


def test_the_shipped_groups_are_opened() -> None:
    assert not any("{" in text for one in VOCABULARY.claims.values() for text in (*one.words, *one.unless, *one.beside))
    assert set(VOCABULARY.wording) == {"promise", "comfort", "believed", "blanket"}


@pytest.mark.parametrize(
    ("text", "problem"),
    [
        ('wording:\n  - {id: a, name: b, words: ["<sise> x"]}\n', "2:29: wording.a.words: '<sise> x': '<sise>' is not"),
        ('wording:\n  - {id: a, name: b, words: ["Praise"]}\n', "'Praise' is no word in small letters"),
        ('wording:\n  - {id: a, name: b, words: ["{nobody} x"]}\n', "there is no group 'nobody'"),
        ('wording:\n  - {id: a, name: b, words: ["the?"]}\n', "a phrase needs a word that may not be left out"),
        ('wording:\n  - {id: promise, name: b, words: ["x"]}\n', "wording rule 'promise' is known already"),
        ('claims:\n  - {id: restored, claim: "X", forbidden: true, say_instead: "y"}\n', "'restored' is known already"),
        ('claims:\n  - {id: a, claim: "X", say_instead: "y"}\n', "a claim that is allowed names what it needs"),
        (
            'claims:\n  - {id: a, claim: "X", say_instead: "y", needs: [{basis: [seen], about: bonet, what: "z"}]}\n',
            "'bonet'",
        ),
        ("promises: []\n", "unknown key 'promises'"),
    ],
)
def test_a_bad_rule_is_named_with_its_place(tmp_path: Path, text: str, problem: str) -> None:
    with pytest.raises(PlanBroken) as broken:
        load_claim_rules(write(tmp_path, text), beside=VOCABULARY)
    assert any(problem in one and one.startswith("claims.yaml:") for one in broken.value.problems), (
        broken.value.problems
    )


def test_a_file_that_is_not_there_is_named(tmp_path: Path) -> None:
    with pytest.raises(NotFound, match=r"claims\.yaml"):
        load_claim_rules(tmp_path / "claims.yaml", beside=VOCABULARY)
