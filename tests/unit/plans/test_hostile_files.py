"""Hostile and damaged files: each is refused soon, with a line and a remedy, and none can hang or grow."""

from __future__ import annotations

import time
from collections.abc import Callable
from pathlib import Path

import pytest

from fakes.plan_folder import PLAN, PlanFolder, write_plan_folder
from lapseam.plans import Grade, Problem, check_plan

SOON_S = 5.0
"""Far above what a loaded machine needs for any of these, far below what a person would call hanging."""


@pytest.fixture
def small(tmp_path: Path) -> PlanFolder:
    return write_plan_folder(tmp_path / "plans")


def bomb() -> bytes:
    levels = [f"a{n}: &a{n} [{', '.join(f'*a{n - 1}' for _ in range(9))}]" for n in range(1, 30)]
    return ("a0: &a0 [x, x]\n" + "\n".join(levels)).encode()


HOSTILE: dict[str, tuple[Callable[[], bytes], int, str]] = {
    "a tab before a key": (lambda: PLAN.replace("  title:", "\ttitle:", 1).encode(), 3, "indented with a tab"),
    "latin-1": (lambda: PLAN.replace("Outside", "Düren", 1).encode("latin-1"), 6, "is not UTF-8"),
    "utf-16": (lambda: PLAN.encode("utf-16"), 1, "is not UTF-8"),
    "ten megabytes": (lambda: b"# x\n" * 2_600_000, 1, "10.4 MB"),
    "an alias bomb": (bomb, 1, "anchors and aliases"),
    "an endless alias": (lambda: b"plan: &a\n  x: *a\n", 1, "anchors and aliases"),
    "100 000 open brackets": (lambda: b"shots: " + b"[" * 100_000, 1, "inside each other"),
    "deep block nesting": (lambda: "".join(f"{' ' * n}a:\n" for n in range(500)).encode(), 13, "inside each other"),
    "a program tag": (lambda: b"plan: !!python/object/apply:os.system [true]\n", 1, "the tag"),
    "two documents": (lambda: PLAN.encode() + b"---\nplan: x\n", 50, "a second document"),
    "nothing at all": (lambda: b"", 1, "the file is empty"),
    "only remarks": (lambda: b"# nothing\n", 1, "the file is empty"),
    "a zero byte": (lambda: b"plan:\n  id: a\x00b\n", 2, "U+0000"),
    "an open quote": (lambda: b'plan:\n  id: "small\n', 3, "not YAML"),
    "an open bracket": (lambda: b"plan:\n  setups: [a, b\n", 3, "not YAML"),
    "a list as key": (lambda: b"? [a, b]\n: c\n", 1, "where a key is wanted"),
    "a bare word": (lambda: b"plan\n", 1, "wanted: a shot plan"),
    "a list of nothing": (lambda: b"- 1\n- 2\n", 1, "wanted: a shot plan"),
    "many values": (lambda: b"shots: [" + b"1," * 120_000 + b"]", 1, "more than 30000 values"),
    "a picture": (lambda: b"\xff\xd8\xff\xe0" + bytes(range(256)) * 40, 1, "is not UTF-8"),
    "a very long word": (lambda: b"plan: " + b"x" * 900_000, 1, "wanted: what the plan is"),
    "a very long number": (
        lambda: PLAN.replace("count: 1", f"count: {'9' * 10_000}", 1).encode(),
        18,
        "is not a whole number",
    ),
    "not a number": (lambda: PLAN.replace("dist: 7", "dist: .nan", 1).encode(), 14, "is not a number"),
    "infinity": (lambda: PLAN.replace("dist: 7", "dist: 1e999", 1).encode(), 14, "out of range"),
    "a long condition": (lambda: PLAN.replace('"sunroof"', "not " * 600 + "sunroof", 1).encode(), 32, "longer than"),
    "a deep condition": (lambda: PLAN.replace('"sunroof"', "(" * 500 + "sunroof", 1).encode(), 32, "brackets"),
}


@pytest.mark.parametrize("what", HOSTILE)
def test_hostile_plan_is_refused_with_a_line(small: PlanFolder, what: str) -> None:
    make, line, words = HOSTILE[what]
    small.plan.write_bytes(make())
    begun = time.monotonic()
    found = check_plan(small.plan)
    assert time.monotonic() - begun < SOON_S
    told = [one for one in found if one.file == "small.yaml" and one.severity is Grade.ERROR]
    assert any(words in one.words or words in one.remedy for one in told), [str(one) for one in found]
    first = next(one for one in told if words in one.words or words in one.remedy)
    assert first.line == line, str(first)
    assert all(has_remedy(one) for one in told)


def has_remedy(problem: Problem) -> bool:
    return bool(problem.remedy) and len(str(problem)) < 700


def test_a_folder_in_place_of_the_plan_is_refused(small: PlanFolder) -> None:
    small.plan.unlink()
    small.plan.mkdir()
    assert "cannot be read" in check_plan(small.plan)[0].words


def test_a_byte_order_mark_does_no_harm(small: PlanFolder) -> None:
    small.plan.write_bytes(b"\xef\xbb\xbf" + PLAN.encode())
    assert check_plan(small.plan) == ()


@pytest.mark.parametrize("word", ["yes", "no", "on", "off", "Yes", "NO", "y"])
def test_words_that_other_readers_take_for_truth_are_warned_about(small: PlanFolder, word: str) -> None:
    small.change("small.yaml", "must: [bumper level, both lamps]", f"must: [bumper level, {word}]")
    (found,) = check_plan(small.plan)
    assert found.severity is Grade.WARNING
    assert (found.line, found.column, found.word) == (17, 26, "shots.front.must")
    assert found.remedy == f'write "{word}", in quotes'


def test_quoted_words_are_not_warned_about(small: PlanFolder) -> None:
    small.change("small.yaml", "must: [bumper level, both lamps]", 'must: [bumper level, "no"]')
    assert check_plan(small.plan) == ()


def test_times_and_versions_stay_words(small: PlanFolder) -> None:
    small.change("small.yaml", "must: [bumper level, both lamps]", "must: [1:30, 2026-05-13, 1_000]")
    assert check_plan(small.plan) == ()
