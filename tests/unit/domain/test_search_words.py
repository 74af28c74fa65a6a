"""What a person types, read as the trade means it."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lapseam.domain.search_words import (
    LONGEST_QUESTION,
    MOST_GROUPS,
    CallerQuestion,
    Group,
    SearchWords,
    Synonym,
    read_query,
    root,
    words_of,
)

TRUNK = Synonym("trunk", (("trunk",), ("boot",), ("luggage", "compartment")), unless=(("shifter", "and", "boot"),))
FLOOR = Synonym("floor", (("floor",), ("floor", "pan")), wider=(("toe", "board"),))
RUST = CallerQuestion("q01", "Any rust?", ("group:corrosion",), "Worst first")
DONE = CallerQuestion("q14", "What's been done to it?", ("receipts",), "By paper")
TRUNK_FLOOR = CallerQuestion("q04", "Is the trunk floor solid?", ("trunk-floor",), "Mat out")
WORDS = SearchWords(
    (TRUNK, FLOOR), frozenset(("the", "is", "any", "what", "s", "been", "done", "to", "it")), (RUST, DONE, TRUNK_FLOOR)
)


def groups(text: str) -> tuple[Group, ...]:
    return read_query(text, WORDS).groups


def test_both_sides_of_the_ocean_ask_the_same() -> None:
    assert (
        groups("the boot") == groups("TRUNK?") == groups("luggage compartments") == (Group(TRUNK.same, TRUNK.unless),)
    )


def test_the_longest_phrase_is_taken_and_wider_words_are_found_too() -> None:
    assert groups("floor pans") == (Group((*FLOOR.same, *FLOOR.wider)),)
    assert groups("floor dents") == (Group((*FLOOR.same, *FLOOR.wider)), Group((("dents",),)))


def test_wider_words_alone_do_not_find_what_they_are_wider_for() -> None:
    assert groups("toe board") == (Group((("toe",),)), Group((("board",),)))


def test_silent_words_say_nothing() -> None:
    assert groups("is it the?") == ()


@pytest.mark.parametrize(
    ("said", "question"),
    [
        ("any rust", RUST),
        ("RUST!", RUST),
        ("q01", RUST),
        ("is the boot floor solid", TRUNK_FLOOR),
        ("solid floor pan, trunk", TRUNK_FLOOR),
        ("what's been done to it", DONE),
        ("been to what", None),
        ("rust in boot", None),
        ("", None),
    ],
)
def test_a_callers_question_is_known_in_any_words(said: str, question: CallerQuestion | None) -> None:
    assert read_query(said, WORDS).question == question


@pytest.mark.parametrize(
    ("word", "rooted"),
    [("tyres", "tyre"), ("boxes", "box"), ("switches", "switch"), ("glass", "glass"), ("batteries", "battery"),
     ("gas", "gas"), ("radius", "radius"), ("leaves", "leave")],
)  # fmt: skip
def test_plurals_are_compared_without_their_ending(word: str, rooted: str) -> None:
    assert root(word) == rooted


@given(st.text())
def test_whatever_is_typed_becomes_words_or_nothing(text: str) -> None:
    query = read_query(text, WORDS)
    assert len(query.groups) <= MOST_GROUPS
    assert all(word and word == word.lower() for word in query.typed)
    assert all(said for group in query.groups for said in group.phrases)


def test_a_long_speech_is_cut() -> None:
    assert len("".join(words_of("x" * 10_000))) == 10_000
    assert len(read_query("x" * 10_000, WORDS).typed[0]) == LONGEST_QUESTION
