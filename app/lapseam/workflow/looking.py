"""Verbs for whoever looks at a car on a screen: one fresh picture of the whole, and the pictures of its photos."""

from __future__ import annotations

from collections.abc import Mapping
from concurrent.futures import Future
from dataclasses import dataclass, replace
from pathlib import Path

from lapseam import intake
from lapseam.domain import coverage as covering
from lapseam.domain.car import Car
from lapseam.domain.coverage import Coverage
from lapseam.domain.language import Language, speaking
from lapseam.domain.photo import PreviewSize
from lapseam.domain.plan_words import in_language
from lapseam.domain.quality import Verdict, verdicts
from lapseam.domain.unfinished import Unfinished, unfinished

from .office import Office


@dataclass(frozen=True, slots=True)
class Whole:
    """A car with its answers at one revision, and what undo and redo would do ("" for nothing)."""

    car: Car
    coverage: Coverage
    verdicts: Mapping[str, Verdict]
    undo: str = ""
    redo: str = ""
    unfinished: tuple[Unfinished, ...] = ()


class Looking(Office):
    """Looking, which changes nothing."""

    def whole(self, *, stock: str) -> Future[Whole]:
        """The car, its coverage and the words for each frame; read on the book's thread, worked out beside it."""
        read = self.runner.on_book(self._read, stock)
        return self.runner.aside(lambda: _answered(*read.result(), self.shown_in))

    def yard(self) -> Future[tuple[tuple[Car, Coverage], ...]]:
        """Every car with its coverage."""
        read = self.runner.on_book(
            lambda: [self._workspace.book.car(line.stock) for line in self._workspace.book.cars()]
        )

        def answered(car: Car) -> tuple[Car, Coverage]:
            with speaking(self.shown_in):
                car = replace(car, plan=in_language(car.plan, self.shown_in))
                return car, covering.check(car)

        return self.runner.aside(lambda: tuple(map(answered, read.result())))

    def picture_file(self, *, sha256: str, longest_px: int) -> Future[Path | None]:
        """An upright JPEG of a photo, at least `longest_px` on its long side where one is kept; None if there is none.

        A preview that the cache has lost is made again from the original.
        """
        return self.runner.aside(self._picture_file, sha256, longest_px)

    def _picture_file(self, sha256: str, longest_px: int) -> Path | None:
        size = PreviewSize.THUMB if longest_px <= PreviewSize.THUMB else PreviewSize.PREVIEW
        previews = self._workspace.previews
        if previews.path(sha256, size) is None and self._workspace.vault.has(sha256):
            intake.remake_previews(self._workspace.vault.path(sha256), sha256, previews)
        return previews.path(sha256, size)

    def _read(self, stock: str) -> tuple[Car, str, str]:
        car = self._car(stock)
        book = self._workspace.book
        undo, redo = book.next_undo(stock), book.next_redo(stock)
        return car, undo.words if undo else "", redo.words if redo else ""


def _answered(car: Car, undo: str, redo: str, language: Language) -> Whole:
    with speaking(language):
        car, judged = replace(car, plan=in_language(car.plan, language)), verdicts(car.photos)
        coverage = covering.check(car, judged)
        return Whole(car, coverage, judged, undo, redo, unfinished(car, coverage))
