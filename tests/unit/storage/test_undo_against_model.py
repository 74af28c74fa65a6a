"""Undo and redo against a plain model: any sequence of puts, drops, undos, redos and photos."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import count
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from fakes.record import BY, moment, photo, plan
from lapseam.domain.decision import FactAnswer
from lapseam.domain.errors import NothingToUndo
from lapseam.storage import Book, Workspace, plan_text, verify_journal

KEYS = st.sampled_from(["runs", "body", "doors"])
PUTS = st.dictionaries(KEYS, st.integers(0, 2), max_size=2)
PLAYS = st.sampled_from(["undo", "redo", "undo", "redo", "photo"])
ACTS = st.one_of(
    st.tuples(st.just("apply"), PUTS, st.sets(KEYS, max_size=1)),
    st.tuples(PLAYS, st.none(), st.none()),
)
STOCKS = count(1)


class Model:
    """What undo and redo mean: a list of pictures and a place in it."""

    def __init__(self) -> None:
        self.pictures: list[dict[str, int]] = [{}]
        self.place = 0

    @property
    def facts(self) -> dict[str, int]:
        return self.pictures[self.place]

    def apply(self, put: dict[str, int], drop: set[str]) -> bool:
        after = {key: value for key, value in self.facts.items() if key not in drop} | put
        if after == self.facts:
            return False
        self.pictures[self.place + 1 :] = [after]
        self.place += 1
        return True

    def move(self, by: int) -> bool:
        if not 0 <= self.place + by < len(self.pictures):
            return False
        self.place += by
        return True


@pytest.fixture(scope="module")
def workspace(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Workspace]:
    with Workspace.open(tmp_path_factory.mktemp("undo") / "yard", create=True) as opened:
        yield opened


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(acts=st.lists(ACTS, min_size=4, max_size=20))
def test_the_book_undoes_and_redoes_as_the_model_does(
    workspace: Workspace, acts: list[tuple[str, dict[str, int] | None, set[str] | None]]
) -> None:
    book, model, stock = workspace.book, Model(), f"U-{next(STOCKS)}"
    book.new_car(stock, plan_text(plan()), "0" * 64, "tiny", by=BY, at=moment())
    photos = 0
    for kind, put, drop in acts:
        if kind == "photo":
            photos += 1
            book.add_photo(stock, photo(photos), by=BY, at=moment())
        elif kind == "apply":
            assert put is not None
            assert drop is not None
            assert _apply(book, stock, put, drop) == model.apply(put, drop)
        else:
            assert _play(book, stock, kind) == model.move(-1 if kind == "undo" else 1)
        car = book.car(stock)
        assert {fact.fact: fact.value for fact in car.facts.values()} == model.facts
        assert len(car.photos) == photos
    log = book.log(stock)
    assert [entry.number for entry in log] == list(range(1, len(log) + 1))
    report = verify_journal(Path(workspace.car_folder(stock)) / "journal.jsonl")
    assert report.sound
    assert report.entries == log


def _apply(book: Book, stock: str, put: dict[str, int], drop: set[str]) -> bool:
    decisions = [FactAnswer(key, value, BY, moment()) for key, value in put.items()]
    dropped = [("fact", key) for key in drop]
    return book.apply(stock, verb="facts", words="", by=BY, at=moment(), put=decisions, drop=dropped) is not None


def _play(book: Book, stock: str, kind: str) -> bool:
    try:
        (book.undo if kind == "undo" else book.redo)(stock, by=BY, at=moment())
    except NothingToUndo:
        return False
    return True
