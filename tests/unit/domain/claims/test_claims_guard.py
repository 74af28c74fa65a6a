"""The claims guard against a record: needs that are met, told facts, the basis printed beside, the allowed wording."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fakes import cars
from lapseam.domain import coverage as covering
from lapseam.domain.car import Car
from lapseam.domain.claim_evidence import OnFile, needs_of
from lapseam.domain.claim_text import wordset
from lapseam.domain.claims import Guard, Verdict, guard_of
from lapseam.domain.plan import Claim, WordingRule
from lapseam.domain.statement import Basis, Measurement, Reading
from lapseam.places import shot_plans
from lapseam.plans import load_plan, load_vocabulary

GUARD = guard_of(load_vocabulary(shot_plans() / "vocabulary"))
CLAIMS = {
    one.id: one
    for one in (
        Claim("original-paint", "Original paint", "Origin of the paint not known", ("measured: m-paint (panels)",)),
        Claim("restored", "Restored", "Refurbished; seen: {detail}", ("documented: receipts (dated)",)),
        Claim("unrestored", "Unrestored", "Much appears unrestored: {detail}", ("as for: original-paint",)),
        Claim("rust-free", "Rust-free", "No rust seen in the places photographed (list)", forbidden=True),
    )
}


def on_file(*rows: object, claims: Mapping[str, Claim] = CLAIMS) -> tuple[Guard, OnFile]:
    whole: Car = cars.complete(*rows)
    vocabulary = replace(whole.plan.vocabulary, claims=claims)
    car = replace(whole, plan=replace(whole.plan, vocabulary=vocabulary))
    return guard_of(vocabulary), OnFile(car, covering.check(car))


def verdicts(text: str, *rows: object) -> list[Verdict]:
    guard, record = on_file(*rows)
    return [one.verdict for one in guard.judge(text, on_file=record)]


def test_a_claim_is_allowed_once_the_record_holds_what_it_needs() -> None:
    invoice = cars.statement(1, "Invoice", Basis.DOCUMENTED, "receipts", document="invoice", document_date="1998")
    assert verdicts("Restored in 1998.") == [Verdict.NEEDS_EVIDENCE]
    assert verdicts("Restored in 1998.", invoice) == [Verdict.ALLOWED]
    assert verdicts("A rust-free car.", invoice) == [Verdict.REFUSED]


def test_as_for_pulls_in_the_other_claims_needs_and_ends_in_a_circle_of_them() -> None:
    gauge = Measurement(
        1, "m-paint", "left-doors", (Reading("middle", "110", "um"),), cars.MIREK, cars.NOON, instrument="gauge"
    )
    assert verdicts("Unrestored.") == [Verdict.NEEDS_EVIDENCE]
    assert verdicts("Unrestored.", gauge) == [Verdict.ALLOWED]
    first, second = (Claim(a, a, "x", (f"as for: {b}",)) for a, b in (("one", "two"), ("two", "one")))
    assert needs_of(first, {"one": first, "two": second})


def test_without_a_record_a_claim_names_all_it_needs() -> None:
    (sentence,) = GUARD.judge("Unrestored.")
    (objection,) = sentence.objections
    assert sentence.verdict is Verdict.NEEDS_EVIDENCE
    assert "measured: m-paint (readings on every panel)" in objection.needs
    assert "seen: front-seats (pattern and material match the code)" in objection.needs
    assert not any(need.startswith("as for") for need in objection.needs)


def test_a_fact_known_only_by_hearsay_must_say_so_in_its_sentence() -> None:
    told = cars.statement(1, "Repainted once in 1995", Basis.TOLD, "paint", who_said="owner before last")
    guard, record = on_file(told)
    (bare,) = guard.judge("It was repainted once, in 1995.", on_file=record)
    assert [one.rule for one in bare.objections] == ["told-unsaid"]
    assert bare.objections[0].say_instead.endswith("stated by the owner before last, not verified")
    (mended,) = guard.judge(bare.objections[0].say_instead, on_file=record)
    assert mended.verdict is Verdict.ALLOWED
    (other,) = guard.judge("The left door is dented, 40 mm.", on_file=record)
    assert other.verdict is Verdict.ALLOWED


def test_the_basis_told_is_printed_beside_a_statement_and_makes_the_claim_the_tellers() -> None:
    assert GUARD.judge("Restored in 1998", basis=Basis.TOLD)[0].verdict is Verdict.ALLOWED
    assert GUARD.judge("Restored in 1998", basis=Basis.NOT_CHECKED)[0].verdict is Verdict.NEEDS_EVIDENCE
    assert GUARD.judge("Rust-free", basis=Basis.TOLD)[0].verdict is Verdict.REFUSED


@pytest.mark.parametrize("claim", sorted(GUARD.claims))
def test_the_wording_allowed_instead_is_allowed(claim: str) -> None:
    instead = GUARD.claims[claim].say_instead
    slots = {
        "detail": "the left side",
        "extent": "90 to 140 µm",
        "count": "9",
        "date": "3 May 2026",
        "place": "the cowl",
    }
    words = re.sub(r"\{(\w+)\}", lambda slot: slots[slot.group(1)], instead).replace("(list)", "horn, lamps")
    objections = [one for sentence in GUARD.judge(words) for one in sentence.objections]
    assert objections == [], words


@pytest.mark.parametrize("claim", sorted(GUARD.claims))
def test_every_claim_is_found_by_its_own_name(claim: str) -> None:
    name = GUARD.claims[claim].claim.replace("One of N built", "One of 37 built")
    name = {"Power figure": "Power figure: 300 hp", "Appraised at, worth": "Appraised at $900"}.get(name, name)
    found = {one.rule for sentence in GUARD.judge(f"{name}.") for one in sentence.objections}
    assert claim in found


def test_a_house_adds_its_own_rules() -> None:
    own = WordingRule("shout", "a word this house never prints", ("stunning|gorgeous",))
    guard = guard_of(load_vocabulary(shot_plans() / "vocabulary"), own)
    (sentence,) = guard.judge("A stunning car.")
    assert [one.rule for one in sentence.objections] == ["shout"]
    assert "is a word this house never prints and may not be printed." in sentence.objections[0].why
    assert GUARD.judge("A stunning car.")[0].verdict is Verdict.ALLOWED


def test_the_same_words_are_refused_once_and_two_places_twice() -> None:
    rules = [one.rule for one in GUARD.judge("Rust-free and mint, a perfect car.")[0].objections]
    assert rules == ["rust-free", "promise", "promise"]


@pytest.mark.parametrize(
    ("text", "rules"),
    [
        ("There is nothing on it that isn't perfect.", ["promise"]),
        ("It isn't perfect.", []),
        ("I wouldn't call it anything less than perfect.", ["promise"]),
        ("Perfect it is not.", []),
        ("Perfect? Hardly.", []),
        ("Where else will you find one this perfect?", ["promise"]),
        ("Is it perfect?", []),
        ("Any rust? None.", ["rust-free"]),
        ("Any rust? None seen in photos 3 to 9.", []),
        ("Is it restored? No.", []),
        ("A caller asked whether it is rust-free.", []),
        ("If you want a perfect car, this is not it.", []),
        ("If you want a perfect car, this is it.", ["promise"]),
        ("It would be wrong to call it perfect.", []),
        ("The plan is to have the engine rebuilt.", []),
        ("The engine was rebuilt, per invoice dated 3 May 1998.", []),
        ("The engine was rebuilt, and there is an invoice.", ["rebuilt-engine"]),
        ("Not answered: road legal, rear seat.", []),
        ("Unknown: numbers match.", []),
        ("It is not known by many: road legal.", ["road-legal-there"]),
        ("Known: road legal.", ["road-legal-there"]),
    ],
)
def test_who_says_it_and_whether_it_is_denied(text: str, rules: list[str]) -> None:
    assert [one.rule for sentence in GUARD.judge(text) for one in sentence.objections] == rules


def test_a_paper_that_a_sentence_names_does_not_stand_in_for_one_on_file() -> None:
    assert verdicts("Restored, per invoice dated 3 May 1998.") == [Verdict.NEEDS_EVIDENCE]


@given(
    st.lists(st.sampled_from(sorted(wordset("rust free no not never mint original paint seller says , ; . : ? 12 mm"))))
)
def test_any_words_can_be_judged_and_objections_quote_the_text(words: list[str]) -> None:
    text = " ".join(words)
    for sentence in GUARD.judge(text):
        assert text[sentence.start : sentence.end] == sentence.text
        for one in sentence.objections:
            assert text[one.start : one.end] == one.words
            assert sentence.start <= one.start < one.end <= sentence.end
            assert one.why
            assert (one.verdict is Verdict.NEEDS_EVIDENCE) is bool(one.needs)


def test_nothing_that_the_shipped_words_say_of_a_car_is_stopped() -> None:
    """Captions and sentences made from the vocabulary and the plan must pass the guard that judges them."""
    plan = load_plan(shot_plans() / "hardtop-full.yaml")
    words = plan.vocabulary
    texts = [part.name for part in words.components().values()]
    texts += [kind.say.format_map(_Filled()) for kind in words.findings.values()]
    texts += [check.item for check in words.checks.values()] + [one.name for one in words.measurements.values()]
    texts += [shot.title for shot in plan.shots] + [must.words for shot in plan.shots for must in shot.must]
    texts += [one.where for one in words.rust_places.values()] + [one.text for one in words.cautions.values()]
    assert len(texts) > 800
    stopped = [(one.rule, s.text) for text in texts for s in GUARD.judge(text) for one in s.objections]
    assert stopped == []


class _Filled(dict[str, str]):
    """Plain words for every slot of a sentence."""

    def __missing__(self, slot: str) -> str:
        return {"extent": "about 40 × 15 mm", "count": "3", "basis": "seen, photo 12"}.get(slot, "the left side")


def test_what_to_say_instead_is_read_out_without_braces() -> None:
    (objection,) = GUARD.judge("Original paint.")[0].objections
    assert "{" in objection.say_instead, "a window fills the places in"
    assert objection.instead.startswith("Readings … on …")
