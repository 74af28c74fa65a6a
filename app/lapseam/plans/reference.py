"""The reference of the files that people write, as Markdown made from the field tables."""

from __future__ import annotations

from collections.abc import Iterator

from .car_file import CAR_FILE
from .fields import One, Rows, Shape
from .kinds import Kind, ListOf
from .notes_fields import NOTES_FILE
from .plan_fields import PLAN_FILE, SHARED_FILE, Entries, Later
from .word_files import FILES

CONDITIONS = """A condition is a short expression over facts: `==`, `!=`, `<`, `<=`, `>`, `>=`, `in`, `not in`, `and`,
`or`, `not`, brackets, words in single quotes, numbers, `true`, `false` and lists in square brackets. A fact that
nobody has answered is unknown, never false: then the condition may be unknown too, and the shot waits as *decide*."""


def reference() -> str:
    """Plan, vocabulary, car and notes files: every key with what it takes and what it means."""
    parts = ["## Conditions", CONDITIONS]
    chapters = {"Plan files": [PLAN_FILE, SHARED_FILE], "Vocabulary files": [*FILES.values()]}
    chapters |= {"Car files": [CAR_FILE], "Notes files": [NOTES_FILE]}
    for title, roots in chapters.items():
        parts.append(f"## {title}")
        parts.extend(_table(shape) for shape in _unfolded(roots))
    return "\n\n".join(parts) + "\n"


def _unfolded(roots: list[Shape]) -> Iterator[Shape]:
    """The shapes and every shape inside them, each once."""
    waiting, seen = list(roots), set()
    while waiting:
        shape = waiting.pop(0)
        if shape.name in seen:
            continue
        seen.add(shape.name)
        yield shape
        waiting = [found for entry in shape.fields.values() for found in _shapes_in(entry.kind)] + waiting


def _shapes_in(kind: Kind) -> tuple[Shape, ...]:
    if isinstance(kind, ListOf):
        return _shapes_in(kind.kind)
    if isinstance(kind, Entries):
        return kind.shapes
    return (kind.shape,) if isinstance(kind, One | Rows | Later) else ()


def _table(shape: Shape) -> str:
    lines = [f"### `{shape.name}`: {shape.words}", "", "| key | must | takes | means |", "|---|---|---|---|"]
    for key, entry in shape.fields.items():
        takes = entry.kind.words().replace("|", "\\|")
        lines.append(f"| `{key}` | {'yes' if entry.required else ''} | {takes} | {entry.words} |")
    return "\n".join(lines)
