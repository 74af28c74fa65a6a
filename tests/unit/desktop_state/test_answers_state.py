"""The Answers as values: headline and advice, what goes on the list, and what a call's form lacks."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from fakes import answer_scenes
from lapseam.desktop.screens.answers.call_draft import day_meant, draft_of, lacking
from lapseam.desktop.screens.answers.state import (
    Wish,
    answers_screen,
    basis_word,
    kind_word,
    nothing_asked,
    promise_lines,
    wish_of,
)
from lapseam.domain.answers import Answer, EntryKind
from lapseam.domain.call import AnswerBasis
from lapseam.workflow.calling import NOT_KNOWN_ANSWER

TODAY = answer_scenes.TODAY


def test_nothing_asked_says_where_one_would_ask() -> None:
    assert answers_screen(Answer(" ", ()), "") == nothing_asked("")
    assert "in T-114" in nothing_asked("T-114").advice


def test_what_is_known_is_counted_and_not_told_to_be_unknown() -> None:
    screen = answers_screen(answer_scenes.found("rust", "rust"), "")
    assert screen.headline.endswith("answers on file")
    assert screen.say == ""
    assert all(line.known and not line.gap for line in screen.lines[:3])


def test_what_is_not_known_is_said_and_what_to_read_out() -> None:
    answer = answer_scenes.found("heater", "heater")
    gaps = replace(answer, hits=tuple(hit for hit in answer.hits if not hit.entry.answers))
    screen = answers_screen(gaps, "")
    assert (screen.headline, screen.say) == ("Not recorded", NOT_KNOWN_ANSWER)
    assert "nobody" in screen.advice.casefold()
    loose = answers_screen(replace(answer, loose=True, more=True), "")
    assert "No entry holds all of these words" in loose.advice
    assert "write one word more" in loose.advice


def test_what_is_stale_says_so_and_what_renews_it() -> None:
    fresh = answers_screen(answer_scenes.found("scratch", "scratch"), "").lines[0]
    old = answers_screen(answer_scenes.found("scratch", "scratch", today=answer_scenes.LATER), "").lines[0]
    assert (fresh.stale, fresh.renew) == (False, "")
    assert old.stale
    assert old.renew
    assert "stale" in old.spoken


def test_every_kind_and_basis_has_its_word() -> None:
    assert len({kind_word(kind) for kind in EntryKind}) == len(EntryKind)
    assert len({basis_word(basis) for basis in AnswerBasis}) == len(AnswerBasis)


def test_what_is_wanted_goes_by_its_id_where_the_plan_has_one() -> None:
    scratch = answer_scenes.found("scratch", "scratch").hits[0]
    assert wish_of("Is it scratched?", scratch, "") == Wish("T-114", "Is it scratched?", scratch.entry.about[0])
    said = answer_scenes.found("clutch", "invoice for a clutch").hits[0]
    assert wish_of("", said, "").about == ""
    assert wish_of("zebra", None, "T-9") == Wish("T-9", "zebra", "")
    assert wish_of("zebra", None, "") is None
    assert wish_of(" ", None, "T-9") is None


def test_the_longest_overdue_stands_first_and_says_how_long() -> None:
    lines = promise_lines(answer_scenes.promises())
    assert [line.due for line in lines] == ["3 days late", "today", "in 2 days"]
    assert [line.late for line in lines] == [True, False, False]
    assert lines[1].what == "the heater, after the test"
    assert "promised by Ada Lindqvar" in lines[0].spoken


def test_a_call_begins_with_what_was_read_out() -> None:
    hit = answer_scenes.found("scratch", "scratch").hits[0]
    draft = draft_of("scratched?", hit, "")
    assert (draft.stock, draft.answer, draft.source) == ("T-114", hit.entry.words, hit.entry.key)
    assert draft.basis is AnswerBasis.SEEN
    assert lacking(draft, TODAY) is None
    unknown = draft_of("zebra?", None, "T-9")
    assert (unknown.stock, unknown.basis, unknown.call_back) == ("T-9", AnswerBasis.NOT_KNOWN, "tomorrow")
    assert lacking(unknown, TODAY) is None


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"stock": ""}, "stock"),
        ({"question": "  "}, "question"),
        ({"answer": ""}, "answer"),
        ({"known_by": " "}, "known_by"),
        ({"call_back": "soon"}, "call_back"),
        ({"promise": "the clock"}, "call_back"),
    ],
)
def test_the_form_says_what_it_lacks(change: dict[str, str], field: str) -> None:
    draft = replace(draft_of("scratched?", answer_scenes.found("scratch", "scratch").hits[0], ""), **change)
    lacks = lacking(draft, TODAY)
    assert lacks is not None
    assert lacks.field == field
    assert lacks.words


@pytest.mark.parametrize(
    ("typed", "day"),
    [
        ("", None),
        (" 2026-05-20 ", date(2026, 5, 20)),
        ("Today", TODAY),
        ("tomorrow", date(2026, 5, 16)),
        ("+3", date(2026, 5, 18)),
        ("+ 0", TODAY),
    ],
)
def test_the_day_that_was_meant(typed: str, day: date | None) -> None:
    assert day_meant(typed, TODAY) == day


@pytest.mark.parametrize(
    "typed", ["2026-05-14", "20.5.2026", "20260520", "+9999", "-1", "NaN", "🚗", "2026-13-40", "+99999"]
)
def test_what_is_no_day_to_promise_is_refused_in_words(typed: str) -> None:
    with pytest.raises(ValueError, match=r"[Dd]ay|year"):
        day_meant(typed, TODAY)
