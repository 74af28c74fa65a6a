"""Verbs about two editions side by side; on two folders they need no workspace."""

from __future__ import annotations

from collections.abc import Iterator
from concurrent.futures import Future
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from lapseam import publish
from lapseam.domain import comparison_telling as telling
from lapseam.domain.edition_comparison import Comparison, compare
from lapseam.domain.errors import LanguageBroken, NotFound
from lapseam.domain.language import ENGLISH, Language, speaking
from lapseam.publish import VerifyReport

from .publishing import Publishing


@dataclass(frozen=True, slots=True)
class Compared:
    """Two editions side by side, and whether each is as it was published."""

    comparison: Comparison
    checked: tuple[VerifyReport, VerifyReport]
    language: Language

    @property
    def lines(self) -> tuple[str, ...]:
        """The answer for a terminal."""
        with speaking(self.language):
            return tuple(self._lines())

    @property
    def data(self) -> dict[str, Any]:
        """The answer for a program, in the shape of comparison.schema.json."""
        with speaking(self.language):
            return telling.as_data(self.comparison, checked=(self.checked[0].words, self.checked[1].words))

    def write(self, folder: Path) -> tuple[Path, Path]:
        """Write page and data into a folder; answers with their paths."""
        return publish.write_comparison(folder, self.comparison, self.checked, language=self.language)

    def _lines(self) -> Iterator[str]:
        for edition, report in zip((self.comparison.before, self.comparison.after), self.checked, strict=True):
            if not report.complete:
                yield telling.broken(edition)
        yield from telling.lines(self.comparison)


def compare_folders(before: Path, after: Path, *, language: Language | None = None) -> Compared:
    """Two editions in their folders, wherever they came from.

    Args:
        language: what to tell it in; None takes the later edition's own where a catalogue for it ships.

    Raises:
        NotFound: a folder is not there. Mistake: it holds no record that can be read.
    """
    for folder in (before, after):
        if not folder.is_dir():
            raise NotFound(f"There is no edition folder {folder}.", next_step="List them with: lapseam editions STOCK")
    old, new = publish.read_record(before), publish.read_record(after)
    spoken = language or _language(new)
    with speaking(spoken):
        comparison = compare(old, new)
    return Compared(comparison, (publish.verify(before.absolute()), publish.verify(after.absolute())), spoken)


def _language(record: Any) -> Language:
    try:
        return publish.language(str(record.get("language", ENGLISH.tag))[:40])
    except LanguageBroken:
        return ENGLISH


class Comparing(Publishing):
    """Comparing the editions of one car."""

    def compare_editions(self, *, stock: str, before: int, after: int) -> Future[Compared]:
        """What was added, changed and withdrawn between two editions of a car.

        Raises (in the future):
            NotFound: no such car or edition. Mistake: a record cannot be read.
        """

        def work() -> Compared:
            one, other = self._edition_folder(stock, before), self._edition_folder(stock, after)
            return compare_folders(one, other, language=self.language)

        return self.runner.aside(work)
