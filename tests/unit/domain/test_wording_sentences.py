"""Sentences: every shipped template, filled or half empty, stays one clean sentence that names its basis."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fakes import demo_car
from lapseam.domain import units, wording
from lapseam.domain.finding import Finding, Severity
from lapseam.domain.phrases import WORDS, listed, photos
from lapseam.domain.section_phrases import SECTIONS
from lapseam.domain.statement import (
    Basis,
    CheckResult,
    CheckVerdict,
    Evidence,
    Measurement,
    Reading,
    Statement,
)

AT = datetime(2026, 5, 13, 10)
DAY = date(2026, 5, 13)
WORDS_OF_THE_PLAN = demo_car.bare().plan.vocabulary
NUMBERS = {"a": 12, "b": 13}
COMFORT = ("minor", "slight", "typical", "for its age", "patina", "nothing major", "beautiful", "gorgeous")
BASIS_WORDS = {
    Basis.SEEN: "seen",
    Basis.MEASURED: "measured",
    Basis.TESTED: "tested",
    Basis.DOCUMENTED: "per ",
    Basis.TOLD: "stated by",
    Basis.NOT_CHECKED: "not checked",
}
KINDS = st.sampled_from(list(WORDS_OF_THE_PLAN.findings))
COUNTS = st.none() | st.integers(0, 99)
FREE = st.text(st.characters(codec="utf-8", exclude_categories=("Cs", "Cc")), max_size=30)


def finding(**changes: object) -> Finding:
    made = Finding(1, "hood", "rust-surface", "the hood, left", Severity.WEAR, Evidence(Basis.SEEN, on=DAY), "x", AT)
    return replace(made, **{"context": ("a",), "close": ("b",), **changes})  # type: ignore[arg-type]


def clean(sentence: str) -> None:
    """One sentence without a hole in it."""
    assert sentence.endswith(".")
    assert not sentence.endswith("..")
    assert "  " not in sentence
    assert sentence == sentence.strip()
    assert "{" not in sentence
    assert not re.search(r",\s*,|;\s*;|,\s*;|;\s*,|\(\s*\)|:\s*[;,.]|\s[,;.]", sentence)
    assert not sentence[0].islower()


@pytest.mark.parametrize("kind", list(WORDS_OF_THE_PLAN.findings))
@pytest.mark.parametrize("basis", list(Basis))
def test_every_template_with_every_mix_of_empty_slots(kind: str, basis: Basis) -> None:
    for extent in ("", "about 40 × 15 mm"):
        for count in (None, 3):
            for detail in ("", "to primer"):
                one = finding(kind=kind, evidence=Evidence(basis), extent=extent, count=count, detail=detail)
                sentence = wording.say(one, WORDS_OF_THE_PLAN, NUMBERS)
                clean(sentence)
                assert BASIS_WORDS[basis] in sentence
                assert "the hood, left" in sentence or "The hood, left" in sentence
                assert not detail or detail in sentence.lower()
                assert not extent or "(about 1.6 × 0.59 in)" in sentence
                assert count is None or "3" in sentence
                assert "about about" not in sentence
                assert not any(word in sentence.lower() for word in COMFORT)


@given(
    place=FREE,
    extent=FREE,
    detail=FREE,
    count=st.none() | st.integers(0, 99),
    kind=st.sampled_from(list(WORDS_OF_THE_PLAN.findings)),
)
def test_free_words_never_break_the_sentence(
    place: str, extent: str, detail: str, count: int | None, kind: str
) -> None:
    free = [re.sub(r"[{}(),;:.]", "", text) for text in (place, extent, detail)]
    one = finding(kind=kind, place=free[0], extent=free[1], detail=free[2], count=count)
    sentence = wording.say(one, WORDS_OF_THE_PLAN, NUMBERS)
    assert sentence.endswith("; seen, photos 12 and 13.")
    assert "  " not in sentence
    assert ", ," not in sentence
    assert ",," not in sentence


def test_braces_in_free_words_are_printed_and_never_filled() -> None:
    sentence = wording.say(finding(place="{basis} {extent}", detail="{place} {0.x}"), WORDS_OF_THE_PLAN, NUMBERS)
    assert "{basis} {extent}" in sentence
    assert "{place} {0.x}" in sentence


def test_the_three_chips() -> None:
    chips = finding(
        kind="paint-chip", place="the hood, leading edge, left", extent="about 12 mm", count=3, detail="to primer"
    )
    assert wording.say(chips, WORDS_OF_THE_PLAN, NUMBERS) == (
        "3 paint chips on the hood, leading edge, left, largest about 12 mm (about 0.47 in), to primer; "
        "seen, photos 12 and 13."
    )


def test_a_photo_that_is_not_published_is_said() -> None:
    assert wording.say(finding(), WORDS_OF_THE_PLAN, {}).endswith("; seen, photo not published.")


def test_what_no_photo_can_show_says_why() -> None:
    smell = finding(kind="smell", context=(), close=(), detail="petrol", no_photo_reason="a smell has no picture")
    sentence = wording.say(smell, WORDS_OF_THE_PLAN, NUMBERS)
    assert sentence == "Smell of petrol noted inside, the hood, left; seen, no photo: a smell has no picture."


def test_told_says_so_in_the_same_sentence_and_never_by_name_of_a_basis_alone() -> None:
    told = Statement(1, "paint", "Repainted once.", Evidence(Basis.TOLD, who_said="owner before last"), "x", AT)
    assert wording.statement_sentence(told, {}) == "Repainted once; stated by the owner before last, not verified."
    nobody = replace(told, evidence=Evidence(Basis.TOLD))
    assert wording.statement_sentence(nobody, {}) == "Repainted once; stated by the seller, not verified."


def test_documented_names_paper_and_day() -> None:
    paper = Evidence(Basis.DOCUMENTED, document="invoice", document_date="2021", issuer_kind="a workshop")
    assert wording.basis_words(paper, {}) == "per invoice from a workshop dated 2021"


@pytest.mark.parametrize("verdict", list(CheckVerdict))
def test_checks_carry_result_remark_conditions_and_reason(verdict: CheckVerdict) -> None:
    result = CheckResult(
        "chk-horn", verdict, "x", AT, reason="no-tool", conditions="engine cold", note="slow", on=DAY, photos=("a",)
    )
    sentence = wording.check_sentence(result, WORDS_OF_THE_PLAN.checks.get("chk-horn"), WORDS_OF_THE_PLAN, NUMBERS)
    clean(sentence)
    assert "slow" in sentence
    if verdict is CheckVerdict.NOT_TESTED:
        assert "not tested, instrument or equipment not on hand" in sentence
    else:
        assert "photo 12" in sentence
    if verdict in (CheckVerdict.WORKS, CheckVerdict.DOES_NOT_WORK, CheckVerdict.INTERMITTENT):
        assert "tested on 13 May 2026, engine cold" in sentence


def test_measurements_keep_what_was_read_and_mark_what_was_converted() -> None:
    taken = Measurement(
        1,
        "m-tread",
        "left-front-wheel",
        (Reading("inner groove", "6.5", "mm"), Reading("outer groove", "7", "mm")),
        "x",
        AT,
        instrument="depth gauge",
        on=DAY,
    )
    asked = WORDS_OF_THE_PLAN.measurements["m-tread"]
    sentence = wording.measurement_sentence(taken, asked, None, NUMBERS)
    clean(sentence)
    assert "inner groove 6.5 mm (about 8.2/32 in, converted) and outer groove 7 mm" in sentence
    assert "measured on 13 May 2026, with depth gauge, uncertainty 0.3 mm" in sentence


# 1 in = 25.4 mm and 1 mi = 1.609344 km exactly (international yard and pound, 1959); kPa to psi after NIST SP 811, B.8.
@pytest.mark.parametrize(
    ("value", "unit", "expected", "other"),
    [
        (25.4, "mm", 1.0, "in"),
        (2.0, "in", 50.8, "mm"),
        (127.0, "um", 5.0, "mil"),
        (1.609344, "km", 1.0, "mi"),
        (100.0, "mi", 160.9344, "km"),
        (100.0, "C", 212.0, "°F"),
        (68.0, "F", 20.0, "°C"),
        (6.894757, "kPa", 1.0, "psi"),
    ],
)
def test_conversions(value: float, unit: str, expected: float, other: str) -> None:
    assert units.convert(value, unit) == pytest.approx(expected)
    assert units.other_unit(unit) == other


@pytest.mark.parametrize(
    ("words", "printed"),
    [
        ("about 150 × 120 mm", "about 150 × 120 mm (about 5.9 × 4.7 in)"),
        ("10-12 mm (0.4 in)", "10-12 mm (0.4 in)"),
        ("3 in long", "3 in (about 76 mm) long"),
        ("3 in the area shown", "3 in the area shown"),
        ("in patches along the seam", "in patches along the seam"),
        ("2,5 cm", "2,5 cm (about 0.98 in)"),
        ("10 min", "10 min"),
    ],
)
def test_both_systems_stand_side_by_side(words: str, printed: str) -> None:
    assert units.beside(words, "about {value} {unit}") == printed


@given(st.floats(0.001, 9_999, allow_nan=False))
def test_numbers_are_never_shown_in_powers_of_ten(value: float) -> None:
    assert re.fullmatch(r"\d+(\.\d+)?", units.shown(value))


def test_lists() -> None:
    assert listed([]) == ""
    assert listed([1, 2, 3]) == "1, 2 and 3"
    assert photos([13, 12, 13]) == "photos 12 and 13"
    assert photos([7]) == "photo 7"


def test_our_own_words_promise_and_praise_nothing() -> None:
    banned = (
        "guaranteed",
        "turn-key",
        "no issues",
        "needs nothing",
        "mint",
        "perfect",
        "rust-free",
        "as new",
        *COMFORT,
    )
    texts = [*WORDS.values(), *(text for section in SECTIONS.values() for text in section)]
    assert not [text for text in texts for word in banned if word in text.lower()]


@pytest.mark.parametrize(
    ("typed", "seen"),
    [
        ("40 x 15 mm", "about 40 x 15 mm"),
        ("3 chips, largest 4 mm", "3 chips, largest about 4 mm"),
        ("about 12 mm", "about 12 mm"),
        ("up to 12 mm", "up to 12 mm"),
        ("2 to 3 mm", "2 to 3 mm"),
        ("2-3 mm", "2-3 mm"),
        ("5/32 in", "about 5/32 in"),
        ("1 1/2 in", "about 1 1/2 in"),
        ("most of it", "most of it"),
        ("3rd rib", "3rd rib"),
    ],
)
def test_a_size_taken_from_a_photo_says_that_it_is_approximate(typed: str, seen: str) -> None:
    """Wording rule 3 of the trade: common practice, no published source."""
    assert wording.extent_words(finding(extent=typed)).startswith(seen)
    measured = replace(finding().evidence, basis=Basis.MEASURED, instrument="caliper")
    assert wording.extent_words(finding(extent=typed, evidence=measured)).startswith(typed)
    sentence = wording.say(finding(kind="paint-scratch", extent=typed), WORDS_OF_THE_PLAN, NUMBERS)
    assert "about about" not in sentence


def test_a_repair_says_its_day_and_its_photo_and_is_no_proof_of_the_fault():
    repaired = finding(state_reason="new metal let in", state_on=DAY, after=("b",), close=())
    assert wording.state_reason(repaired, NUMBERS) == "new metal let in, 13 May 2026, photo 13"
    assert wording.state_reason(repaired, {}) == "new metal let in, 13 May 2026"
    assert wording.finding_basis(repaired, NUMBERS).endswith("photo 12")
