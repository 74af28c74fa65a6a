"""Two published records side by side: nothing against itself, a mirror the other way round, no raising for rubbish."""

from __future__ import annotations

import json
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fakes import demo_car
from lapseam.domain import comparison_telling as telling
from lapseam.domain import coverage, edition, signoff
from lapseam.domain.edition_comparison import Comparison, RowTurned, Turn, changes_since, compare
from lapseam.domain.finding import FindingState, Severity

WORDS = st.sampled_from(
    ["", "Hood", "Left door", "seen, photo 1", "photos 1 and 2", "is fitted; seen, photos 1 and 2."]
)
NUMBERS = st.lists(st.integers(1, 4), max_size=3, unique=True)
CODES = st.sampled_from(["cosmetic", "wear", "seen", "told", "works", "covered", "missed", "partly"])


def rows(**fields: Any) -> st.SearchStrategy[list[dict[str, Any]]]:
    return st.lists(st.fixed_dictionaries(fields), max_size=4)


RECORDS = st.fixed_dictionaries(
    {
        "edition": st.integers(1, 9),
        "stock": st.just("T-1"),
        "language": st.just("en"),
        "signed_words": WORDS,
        "plan": CODES,
        "identity": rows(label=WORDS, words=WORDS, basis=CODES),
        "photos": rows(number=st.integers(1, 4), original_sha256=st.sampled_from("abcd"), shot=CODES, caption=WORDS),
        "findings": rows(
            number=st.integers(1, 3),
            severity=CODES,
            basis=CODES,
            part=WORDS,
            sentence=WORDS,
            photos=NUMBERS,
            state=WORDS,
        ),
        "checks": rows(check=CODES, item=WORDS, verdict=CODES, sentence=WORDS, photos=NUMBERS),
        "measurements": rows(
            measure=CODES, part=WORDS, sentence=WORDS, photos=NUMBERS, readings=rows(as_read=WORDS, place=WORDS)
        ),
        "statements": rows(number=st.integers(1, 3), subject=WORDS, sentence=WORDS, basis=CODES, photos=NUMBERS),
        "parts": rows(part=WORDS, origin=WORDS, work=WORDS, sentence=WORDS),
        "nothing_found": rows(part=WORDS, words=WORDS),
        "not_seen": rows(kind=CODES, subject=WORDS, ids=st.lists(CODES, max_size=2), sentence=WORDS),
        "not_tested": rows(kind=CODES, subject=WORDS, ids=st.lists(CODES, max_size=2), sentence=WORDS),
        "withheld": rows(where=WORDS, words=WORDS),
        "let_stand": rows(what=WORDS, words=WORDS),
        "shots": rows(shot=CODES, state=CODES, waived=st.booleans()),
    }
)


def turned(comparison: Comparison) -> dict[str, frozenset[RowTurned]]:
    """The rows of each part without their order, which follows the later edition."""
    return {section.key: frozenset(section.rows) for section in comparison.sections}


@given(RECORDS)
def test_a_record_against_itself_is_the_same(record: dict[str, Any]) -> None:
    comparison = compare(record, json.loads(json.dumps(record)))
    assert comparison.same
    assert comparison.number_of(Turn.ADDED) == 0
    assert changes_since(record, record) == ()


@settings(max_examples=80)
@given(RECORDS, RECORDS)
def test_the_other_way_round_is_the_mirror(one: dict[str, Any], other: dict[str, Any]) -> None:
    there, back = compare(one, other), compare(other, one)
    assert turned(back) == turned(there.mirrored())
    assert there.mirrored().mirrored() == there
    assert (there.same, there.number_of(Turn.CHANGED)) == (back.same, back.number_of(Turn.CHANGED))
    assert there.number_of(Turn.ADDED) == back.number_of(Turn.WITHDRAWN)


@settings(max_examples=80)
@given(RECORDS, RECORDS)
def test_every_row_of_both_is_accounted_for(one: dict[str, Any], other: dict[str, Any]) -> None:
    """Rows before, less the withdrawn, plus the added, are the rows after, in every part."""
    lists = {"gaps": ("not_seen", "not_tested"), "originality": ("parts",), "coverage": ("shots",),
             "nothing-found": ("nothing_found",), "waivers": ("let_stand",)}  # fmt: skip
    for section in compare(one, other).sections:
        if section.key == "edition":
            continue
        names = lists.get(section.key, (section.key,))
        before, after = (sum(len(record[name]) for name in names) for record in (one, other))
        assert before - len(section.of(Turn.WITHDRAWN)) + len(section.of(Turn.ADDED)) == after


RUBBISH = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats(allow_nan=False) | st.text(max_size=6),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=4), inner, max_size=3),
    max_leaves=8,
)


LISTS = ("photos", "findings", "checks", "measurements", "statements", "not_seen", "shots", "identity", "parts")
HEADS = ("car", "language", "plan", "edition", "made_at", "stock", "signed")
FIELDS = ("number", "ids", "photos", "readings", "state", "sentence", "kind", "original_sha256", "severity", "waived")


@given(
    st.dictionaries(st.sampled_from((*LISTS, *HEADS)), RUBBISH)
    | st.dictionaries(
        st.sampled_from(LISTS), st.lists(st.dictionaries(st.sampled_from(FIELDS), RUBBISH, max_size=5), max_size=3)
    ),
    RECORDS,
)
def test_rubbish_is_compared_and_told(rubbish: dict[str, Any], record: dict[str, Any]) -> None:
    assert compare(rubbish, rubbish).same
    for comparison in (compare(rubbish, record), compare(record, rubbish)):
        assert all(isinstance(line, str) for line in telling.lines(comparison))
        json.dumps(telling.as_data(comparison, checked=("", "")))


@given(st.text(alphabet="ab ", max_size=30), st.text(alphabet="ab ", max_size=30))
def test_the_pieces_are_the_sentence_again(one: str, other: str) -> None:
    pieces = telling.differing(one, other)
    assert " ".join(words for words, _ in pieces) == one
    assert not any(new for _, new in telling.differing(one, one))


def published(car: Any, number: int = 1) -> dict[str, Any]:
    covered, house = coverage.check(car), demo_car.house()
    rules = signoff.judge(car, covered, house, today=demo_car.MADE_AT.date())
    made = edition.build(car, covered, rules, house, number=number, made_at=demo_car.MADE_AT, signed=None)
    return json.loads(json.dumps(made.record.as_dict()))  # type: ignore[no-any-return]


@pytest.fixture(scope="module")
def first() -> dict[str, Any]:
    return published(demo_car.noted())


def test_photos_that_only_move_change_nothing(first: dict[str, Any]) -> None:
    """Another photo leads: every number behind it moves, and no sentence is called changed."""
    car = demo_car.noted()
    lead = replace(car.lead, sha256=first["photos"][8]["original_sha256"])  # type: ignore[type-var]
    second = published(replace(car, lead=lead), 2)
    assert [one["original_sha256"] for one in second["photos"]] != [one["original_sha256"] for one in first["photos"]]
    found = compare(first, second)
    assert [(section.key, row) for section in found.sections for row in section.rows if section.key != "photos"] == []


def test_what_was_added_changed_and_withdrawn_is_told_apart(first: dict[str, Any]) -> None:
    car = demo_car.noted()
    worse = replace(car.findings[0], severity=Severity.NEEDS_WORK)
    closed = replace(car.findings[1], state=FindingState.CORRECTED, state_reason="seen twice")
    new = replace(car.findings[2], number=99)
    details = replace(car.details, odometer_reading=48_300)  # type: ignore[type-var]
    findings = (worse, closed, *car.findings[3:], new)
    found = compare(first, published(replace(car, findings=findings, details=details, statements=()), 2))
    sections = {section.key: section for section in found.sections}
    by_key = {row.key: row for row in sections["findings"].rows}
    assert (by_key["99"].turn, by_key["3"].turn) == (Turn.ADDED, Turn.WITHDRAWN)
    assert by_key["1"].told[0].before == "Cosmetic"
    assert by_key["1"].told[0].after == "Needs work"
    assert "severity" in by_key["1"].fields
    assert {"open", "state"} <= set(by_key["2"].fields)
    assert [row.turn for row in sections["statements"].rows] == [Turn.WITHDRAWN] * len(car.statements)
    (odometer,) = sections["identity"].rows
    assert "48 213 mi" in odometer.before
    assert "48 300 mi" in odometer.after
    said = list(telling.lines(found))
    assert said[0].endswith("Edition 1 of 14 May 2026 → Edition 2 of 14 May 2026")
    assert "    Severity: Cosmetic → Needs work" in said
    lines = changes_since(first, published(replace(car, findings=findings, details=details), 2))
    assert any(line.startswith("Odometer: 48 300 mi") and "before: 48 213 mi" in line for line in lines)


def test_shots_that_turned_alike_stand_together(first: dict[str, Any]) -> None:
    second = json.loads(json.dumps(first))
    for shot in second["shots"][:7]:
        shot |= {"state": "covered", "waived": False}
    (section,) = (one for one in compare(first, second).sections if one.key == "coverage")
    groups = telling.compact(section)
    assert sum(len(subjects) for _, subjects in groups) == len(section.rows) > 1
    assert all(words.startswith("From ") and words.endswith("to covered") for words, _ in groups)
    assert "Front three-quarter, left" in {subject for _, subjects in groups for subject in subjects}


def test_gaps_are_open_or_no_longer(first: dict[str, Any]) -> None:
    second = json.loads(json.dumps(first))
    gone = second["not_seen"].pop(0)
    said = list(telling.lines(compare(first, second)))
    assert f"  No longer open: {gone['subject']}: {gone['sentence']}" in said
    assert any(line.startswith("  Newly open: ") for line in telling.lines(compare(second, first)))


def test_two_languages_and_two_cars_are_said(first: dict[str, Any]) -> None:
    second = {**json.loads(json.dumps(first)), "language": "de", "stock": "T-9"}
    for row in second["findings"]:
        row["sentence"] = "Ein Satz."
    found = compare(first, second)
    assert not found.same_language
    assert found.same
    said = list(telling.lines(found))
    assert "These are editions of two cars, T-114 and T-9." in said
    assert "The two editions are in different languages, so sentences were not compared." in said
