"""A comparison of two editions told: as lines for a terminal, and as data with a published shape."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import asdict
from datetime import date
from difflib import SequenceMatcher
from typing import Any, Final

from .edition_comparison import Comparison, EditionNamed, RowTurned, SectionCompared, Turn
from .phrases import count, day, listed, say

FORMAT: Final = "lapseam-edition-comparison"
VERSION: Final = 1

_COMPACT: Final = ("coverage", "photos", "nothing-found")
"""Parts of which many rows turn alike and need no sentence each."""


def named(edition: EditionNamed) -> str:
    """'Edition 2 of 14 May 2026' in the language that is spoken."""
    try:
        on = day(date.fromisoformat(edition.made_at[:10]))
    except ValueError:
        on = say("compare.day.unknown")
    return say("edition", number=edition.number or "?", date=on)


def broken(edition: EditionNamed) -> str:
    """That an edition is not as it was published."""
    return say("compare.broken", edition=named(edition))


def state(files: int, faults: int) -> str:
    """Whether an edition is as it was published, in one sentence."""
    return count("compare.faults", faults) if faults else count("compare.whole", files)


def totals(comparison: Comparison) -> str:
    """How many rows turned, in one sentence."""
    if comparison.same:
        return say("compare.same")
    numbers = ((turn, comparison.number_of(turn)) for turn in Turn)
    return say("compare.totals", counts=listed(count(f"compare.count.{turn}", n) for turn, n in numbers if n))


def turned(section: str, turn: Turn) -> str:
    """What became of a row, in the words of its part: a gap is not withdrawn, it is open no longer."""
    return say(f"compare.turn.gaps.{turn}" if section == "gaps" else f"compare.turn.{turn}")


def compact(section: SectionCompared) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Rows that turned alike under one heading, where a part is told so; empty where each row is told by itself."""
    if section.key not in _COMPACT:
        return ()
    groups: dict[str, list[str]] = {}
    for row in section.rows:
        groups.setdefault(_alike(section.key, row), []).append(row.subject or row.key)
    return tuple((words, tuple(subjects)) for words, subjects in groups.items())


def _alike(key: str, row: RowTurned) -> str:
    words = turned(key, row.turn)
    if key != "coverage":
        return words
    if row.turn is Turn.CHANGED:
        return say("compare.from-to", before=row.before, after=row.after)
    return say("compare.turned", turn=words, words=row.after or row.before)


def lines(comparison: Comparison) -> Iterator[str]:
    """The whole comparison for a terminal."""
    before, after = comparison.before, comparison.after
    yield f"{after.title}: {named(before)} → {named(after)}"
    if (before.stock, before.title) != (after.stock, after.title):
        yield say("compare.other-car", before=before.stock, after=after.stock)
    if not comparison.same_language:
        yield say("compare.languages")
    yield totals(comparison)
    for section in comparison.sections:
        if section.rows:
            yield ""
            yield f"{section.heading}"
            yield from _of_section(section)


def _of_section(section: SectionCompared) -> Iterator[str]:
    if groups := compact(section):
        for words, subjects in groups:
            yield f"  {words} ({len(subjects)}): {', '.join(subjects)}"
        return
    for row in section.rows:
        words = turned(section.key, row.turn)
        if row.turn is not Turn.CHANGED:
            yield f"  {words}: {row.subject}: {row.after or row.before}"
            continue
        yield f"  {words}: {row.subject}"
        yield f"    {say('compare.before')}: {row.before}"
        yield f"    {say('compare.now')}: {row.after}"
        for one in row.told:
            yield f"    {one.label}: {one.before} → {one.after}"


def as_data(comparison: Comparison, *, checked: tuple[str, str]) -> dict[str, Any]:
    """The comparison as JSON values. `checked` says of each edition in words whether it is as it was published."""
    return {
        "format": FORMAT,
        "version": VERSION,
        "before": {**asdict(comparison.before), "checked": checked[0]},
        "after": {**asdict(comparison.after), "checked": checked[1]},
        "same": comparison.same,
        "same_language": comparison.same_language,
        "counts": {turn.value: comparison.number_of(turn) for turn in Turn},
        "words": totals(comparison),
        "sections": [
            {
                "key": section.key,
                "heading": section.heading,
                "rows": [{**asdict(row), "turn": row.turn.value} for row in section.rows],
            }
            for section in comparison.sections
        ],
    }


def differing(one: str, other: str) -> tuple[tuple[str, bool], ...]:
    """`one` in pieces, each with whether it stands otherwise in `other`; joined by spaces they are `one` again."""
    words, others = one.split(" "), other.split(" ")
    steps = SequenceMatcher(None, words, others, autojunk=False).get_opcodes()
    return tuple((" ".join(words[start:end]), tag != "equal") for tag, start, end, _, _ in steps if start < end)
