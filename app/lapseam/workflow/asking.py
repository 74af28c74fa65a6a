"""The answer desk: a question about one car or all, answered from the record with basis, date, age and photos."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from concurrent.futures import Future
from datetime import date

from lapseam import plans
from lapseam.domain import coverage as covering
from lapseam.domain.answers import Answer, Entry, EntryKind, Hit, PhotoRead, age_of_entry, entries
from lapseam.domain.car import Car, House
from lapseam.domain.search_words import Query, SearchWords, read_query
from lapseam.places import shot_plans
from lapseam.storage import Finds, Found, IndexLost
from lapseam.storage.layout import SYNONYMS

from .office import Office
from .runner import Progress

MOST_ABOUT = 200
"""Entries of one caller's question that are looked at: about as many as a car's longest list, what was not seen."""
_SAID = (EntryKind.STATEMENT, EntryKind.CALL)
_TRIES = 3


LastEdition = tuple[int, Mapping[str, int]]
"""The number of a car's last edition, 0 for none, and its photos' numbers by digest."""
_NONE: LastEdition = (0, {})


def _silent(done: int, total: int) -> None:
    """Nobody listens."""


class Asking(Office):
    """Asking the record."""

    _search_words: tuple[int, SearchWords] | None = None

    def ask(
        self, *, words: str, stock: str | None = None, limit: int = 50, progress: Progress = _silent
    ) -> Future[Answer]:
        """What the record says about these words, best first, in one car or all.

        The words may be a caller's question of the vocabulary (in any order and by any synonym, or its id): then what
        answers it is looked up by the parts, checks and measurements it names. Cars that changed since they were last
        asked are indexed first; `progress` hears of it.

        Raises (in the future):
            NotFound: there is no such car. PlanBroken: the words for searching do not load.
        """
        return self.runner.aside(self._ask, words, stock, limit, progress)

    def caller_questions(self) -> Future[tuple[str, ...]]:
        """The questions that callers ask, in the vocabulary's order.

        Raises (in the future):
            PlanBroken: the words for searching do not load.
        """
        return self.runner.aside(lambda: tuple(one.words for one in self._words_for_search().questions))

    def index(self, *, progress: Progress = _silent) -> Future[int]:
        """Bring the search index up to date with every car; how many cars were indexed."""
        return self.runner.aside(self._refresh, None, progress)

    def entries(self, *, stock: str) -> Future[tuple[Entry, ...]]:
        """Everything that a car's record offers to whoever asks."""
        read = self.runner.on_book(self._car, stock)
        return self.runner.aside(lambda: _entries(read.result()))

    def _ask(self, words: str, stock: str | None, limit: int, progress: Progress) -> Answer:
        query = read_query(words, self._words_for_search())
        for attempt in range(_TRIES):
            try:
                self._refresh(stock, progress)
                finds = self.runner.on_book(self._find, query, stock, limit).result()
                break
            except IndexLost:
                if attempt == _TRIES - 1:
                    raise
        stocks = (stock,) if stock is not None else ()
        editions = {one: self.runner.on_book(self._last_edition, one).result() for one in stocks}
        today, house = self.now().date(), self.house
        hits = tuple(_hit(found, editions.get(found.stock, _NONE), today, house) for found in finds.found)
        last = tuple((one, edition[0]) for one, edition in editions.items())
        return Answer(words, hits, query.question, finds.loose, finds.more, last)

    def _words_for_search(self) -> SearchWords:
        """The words for searching, read again when the house's own were changed on disk."""
        own = self.folder / SYNONYMS
        written = own.stat().st_mtime_ns if own.is_file() else 0
        if self._search_words is None or self._search_words[0] != written:
            words = plans.load_search_words(shot_plans() / "vocabulary", own=own if written else None)
            self._search_words = written, words
        return self._search_words[1]

    def _refresh(self, stock: str | None, progress: Progress) -> int:
        behind = self.runner.on_book(self._behind, stock).result()
        for done, one in enumerate(behind, start=1):
            read = self.runner.on_book(self._read_marked, one).result()
            if read is not None:
                car, mark = read
                self.runner.on_book(self._workspace.search.put, one, mark, _entries(car)).result()
            progress(done, len(behind))
        return len(behind)

    def _behind(self, stock: str | None) -> tuple[str, ...]:
        """Cars that have gone on since they were indexed; of one car only that one."""
        marks = self._workspace.book.marks()
        if stock is not None and stock not in marks:
            self._car(stock)
        behind = self._workspace.search.behind(marks)
        return tuple(one for one in behind if stock is None or one == stock)

    def _read_marked(self, stock: str) -> tuple[Car, str] | None:
        mark = self._workspace.book.marks().get(stock)
        return None if mark is None else (self._workspace.book.car(stock), mark)

    def _find(self, query: Query, stock: str | None, limit: int) -> Finds:
        """By what the caller's question names, with what was said in its words; without a question by the words alone.

        Statements and calls have words of their own and no id that a question could name.
        """
        search = self._workspace.search
        if query.question is None:
            return search.find(query, stock=stock, limit=limit)
        about = search.about(query.question.about, stock=stock, limit=max(limit, MOST_ABOUT))
        said = search.find(query, stock=stock, limit=limit)
        more = [one for one in said.found if one.entry.kind in _SAID and not said.loose]
        answering = [one for one in about.found if one.entry.answers]
        found = {(one.stock, one.entry.key): one for one in (*answering, *more, *about.found)}
        return Finds(tuple(found.values()), more=about.more)

    def _last_edition(self, stock: str) -> LastEdition:
        """Number of the car's last edition and the numbers of its photos by digest; 0 without any."""
        rows = self._workspace.book.editions(stock)
        if not rows:
            return _NONE
        record = self._workspace.editions_folder(stock) / rows[-1].folder / "data" / "record.json"
        try:
            photos: Iterable[Mapping[str, object]] = json.loads(record.read_text(encoding="utf-8"))["photos"]
            return rows[-1].number, {str(one["original_sha256"]): int(str(one["number"])) for one in photos}
        except (OSError, ValueError, KeyError, TypeError):
            return rows[-1].number, {}


def _hit(found: Found, edition: LastEdition, today: date, house: House) -> Hit:
    entry, numbers = found.entry, edition[1]
    photos = tuple(PhotoRead(one.sha256, one.name, numbers.get(one.sha256)) for one in entry.photos)
    return Hit(found.stock, entry, age_of_entry(entry, today=today, house=house), photos)


def _entries(car: Car) -> tuple[Entry, ...]:
    return entries(car, covering.check(car))
