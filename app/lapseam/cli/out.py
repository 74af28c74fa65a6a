"""Where answers go: words for people, JSON for programs, progress and errors beside them."""

from __future__ import annotations

import dataclasses
import json
from collections.abc import Iterable, Mapping, Sequence
from datetime import date, datetime
from enum import Enum
from pathlib import Path
from typing import Any, TextIO


class Out:
    """One answer's way out. With `json` set, `answer` prints the value and `say` is silent."""

    def __init__(self, stream: TextIO, errors: TextIO, *, json: bool = False) -> None:
        self.stream = stream
        self.errors = errors
        self.json = json

    def say(self, words: str = "") -> None:
        """Print a line for people."""
        if not self.json:
            self.stream.write(printable(words) + "\n")

    def answer(self, value: Any) -> None:
        """Print the answer for programs."""
        if self.json:
            self.stream.write(json.dumps(plain(value), ensure_ascii=False, indent=2) + "\n")

    def table(self, rows: Sequence[Sequence[str]]) -> None:
        """Print rows in columns; the last column runs free."""
        if not rows:
            return
        widths = [max(len(printable(row[at])) for row in rows) for at in range(len(rows[0]) - 1)]
        for row in rows:
            cells = [printable(cell).ljust(width) for cell, width in zip(row[:-1], widths, strict=True)]
            self.say("  ".join([*cells, row[-1]]).rstrip())

    def error(self, words: str) -> None:
        """Print a line beside the answer."""
        self.errors.write(printable(words) + "\n")

    def progress(self, doing: str) -> Any:
        """A callable (done, total) that keeps one line current on a terminal, and is silent elsewhere."""
        if not self.errors.isatty():
            return lambda done, total: None

        def tell(done: int, total: int) -> None:
            self.errors.write(f"\r{doing} {done} of {total}" + ("\n" if done >= total else ""))
            self.errors.flush()

        return tell


def printable(words: str) -> str:
    """The words with control characters shown as escapes, so that a file's name cannot steer a terminal."""
    return "".join(c if c.isprintable() or c == "\t" else repr(c)[1:-1] for c in words)


def plain(value: Any) -> Any:
    """The value as JSON values: dataclasses by field, enums by value, times in ISO 8601."""
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        return {field.name: plain(getattr(value, field.name)) for field in dataclasses.fields(value)}
    if isinstance(value, Enum):
        return value.value
    if isinstance(value, (datetime, date)):
        return value.isoformat()
    if isinstance(value, Path):
        return str(value)
    if isinstance(value, Mapping):
        return {str(key): plain(one) for key, one in value.items()}
    if isinstance(value, Iterable) and not isinstance(value, (str, bytes)):
        return [plain(one) for one in value]
    return value
