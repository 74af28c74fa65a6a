"""The search index: what it finds first, that it follows the book through everything, and that it may be lost."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing
from dataclasses import replace
from datetime import date
from itertools import count
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from fakes import cars
from lapseam.domain import coverage as covering
from lapseam.domain.answers import Entry, EntryKind, entries
from lapseam.domain.call import AnswerBasis, Asked, Call, Wanted
from lapseam.domain.decision import Decision, FactAnswer
from lapseam.domain.errors import MissingExtra, NoRights, NothingToUndo
from lapseam.domain.search_words import Group, Query, SearchWords, Synonym, read_query
from lapseam.domain.statement import CheckResult, CheckVerdict
from lapseam.storage import Book, IndexLost, Search, Workspace, plan_text
from lapseam.storage import search as search_module

DAY = date(2026, 5, 12)
BOOT = Synonym("trunk", (("trunk",), ("boot",)), unless=(("shifter", "and", "boot"),))
WORDS = SearchWords((BOOT,), frozenset(("the", "is")))


def entry(key: str, kind: EntryKind, subject: str, words: str = "", **changes: object) -> Entry:
    return replace(Entry(key, kind, subject, words or subject), **changes)  # type: ignore[arg-type]


@pytest.fixture
def search(tmp_path: Path) -> Iterator[Search]:
    index = Search(tmp_path / "cache" / "search.sqlite")
    yield index
    index.close()


def keys(search: Search, text: str, stock: str | None = None, limit: int = 50) -> list[str]:
    return [one.entry.key for one in search.find(read_query(text, WORDS), stock=stock, limit=limit).found]


PARTS = (
    entry("photo:1", EntryKind.PHOTO, "Trunk floor", answers=False),
    entry("unseen:1", EntryKind.NOT_SEEN, "Trunk floor", about=("trunk-floor",)),
    entry("looked:1", EntryKind.LOOKED, "Trunk floor"),
    entry("statement:1", EntryKind.STATEMENT, "history", "The trunk floor was mended."),
    entry("finding:1", EntryKind.FINDING, "Trunk floor: chip", rank=2, about=("trunk-floor", "group:paint")),
    entry("finding:2", EntryKind.FINDING, "Trunk floor: hole", rank=6, about=("trunk-floor", "group:corrosion")),
    entry("call:1", EntryKind.CALL, "Is the trunk floor good?"),
    entry("finding:3", EntryKind.FINDING, "Console, shifter and boot: tear", rank=3),
)


def test_the_worst_finding_about_the_part_comes_first_and_photos_last(search: Search) -> None:
    search.put("A-1", "m", PARTS)
    assert keys(search, "is the boot floor") == [
        *("finding:2", "finding:1", "looked:1", "call:1", "unseen:1", "photo:1"),
        "statement:1",
    ]


def test_synonyms_find_each_other_but_not_where_the_word_means_something_else(search: Search) -> None:
    search.put("A-1", "m", PARTS)
    assert "finding:3" not in keys(search, "boot")
    assert "finding:2" in keys(search, "boot")
    assert keys(search, "shifter") == ["finding:3"]


def test_endings_and_beginnings_of_words_are_met(search: Search) -> None:
    search.put("A-1", "m", PARTS)
    assert keys(search, "floors") == keys(search, "floor")
    assert keys(search, "shift") == keys(search, "shifters") == ["finding:3"]
    assert keys(search, "conso") == ["finding:3"]
    assert keys(search, "co") == []


def test_where_no_row_meets_every_word_it_is_said(search: Search) -> None:
    search.put("A-1", "m", PARTS)
    some = search.find(read_query("shifter banana", WORDS))
    assert [one.entry.key for one in some.found] == ["finding:3"]
    assert some.loose
    assert not search.find(read_query("shifter", WORDS)).loose
    assert search.find(read_query("banana", WORDS)).found == ()
    assert search.find(Query()).found == ()


def test_one_car_is_asked_alone(search: Search) -> None:
    search.put("A-1", "m", PARTS)
    search.put("A 1.x", "m", PARTS[:1])
    assert keys(search, "trunk", "A 1.x") == ["photo:1"]
    assert len(keys(search, "trunk")) == 8
    assert keys(search, "trunk", "A-2") == []


def test_more_than_the_limit_is_said(search: Search) -> None:
    search.put("A-1", "m", PARTS)
    found = search.find(read_query("trunk", WORDS), limit=3)
    assert ([one.entry.key for one in found.found], found.more) == (["finding:2", "finding:1", "looked:1"], True)
    assert not search.find(read_query("trunk", WORDS), limit=7).more


def test_what_is_about_an_id_is_found_once(search: Search) -> None:
    search.put("A-1", "m", PARTS)
    search.put("A-2", "m", PARTS)
    found = search.about(("group:corrosion", "trunk-floor"), stock="A-2").found
    assert [(one.stock, one.entry.key) for one in found] == [
        *(("A-2", "finding:2"), ("A-2", "finding:1"), ("A-2", "unseen:1")),
    ]
    assert len(search.about(("trunk-floor",)).found) == 6
    assert search.about(("trunk-floor",), limit=5).more
    assert search.about(()).found == ()


def test_an_entry_comes_back_as_it_was_given(search: Search) -> None:
    whole = entry("finding:1", EntryKind.FINDING, "Größe “ẞ” 🚗", day=DAY, about=("a", "a", "b"), more="x", rank=99)
    search.put("A-1", "m", (whole,))
    assert search.about(("b",)).found[0].entry == whole
    assert keys(search, "GROßE") == ["finding:1"], "without its dots"


@pytest.mark.parametrize(
    "text",
    ['"', "trunk NOT floor", "trunk* AND (", "subject : trunk", "NEAR(a b)", "'; DROP TABLE word; --", "\0", "🚗"],
)
def test_no_word_of_a_person_is_a_command(search: Search, text: str) -> None:
    search.put("A-1", "m", PARTS)
    search.find(read_query(text, WORDS))
    assert len(keys(search, "trunk")) == 7


def test_only_what_differs_is_written_and_what_is_gone_goes(search: Search) -> None:
    assert search.put("A-1", "1", PARTS) == len(PARTS)
    assert search.put("A-1", "2", PARTS) == 0
    changed = replace(PARTS[4], subject="Hood: chip", about=("hood",))
    assert search.put("A-1", "3", (*PARTS[:4], changed)) == 2 + 3
    assert keys(search, "hood") == ["finding:1"]
    assert "finding:2" not in keys(search, "trunk")
    assert [one.entry.key for one in search.about(("trunk-floor",)).found] == ["unseen:1"]


def test_cars_that_went_on_are_behind_and_cars_that_are_no_more_are_forgotten(search: Search) -> None:
    assert search.behind({"A-1": "m", "A-2": "m"}) == ("A-1", "A-2")
    search.put("A-1", "m", PARTS)
    search.put("A-2", "m", PARTS)
    assert search.behind({"A-1": "m", "A-2": "n"}) == ("A-2",)
    assert search.behind({"A-1": "m"}) == ()
    assert {one.stock for one in search.find(read_query("trunk", WORDS)).found} == {"A-1"}


def test_an_index_of_another_shape_is_made_anew(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    old, new = Search(tmp_path / "search.sqlite"), Search(tmp_path / "search.sqlite")
    old.put("A-1", "m", PARTS)
    old.close()
    monkeypatch.setattr(search_module, "SHAPE", 99)
    assert new.behind({"A-1": "m"}) == ("A-1",)
    new.close()


@pytest.mark.parametrize("damage", [b"", b"no database at all " * 400])
def test_a_damaged_index_is_thrown_away_and_said(tmp_path: Path, damage: bytes) -> None:
    path = tmp_path / "search.sqlite"
    index = Search(path)
    index.put("A-1", "m", PARTS)
    index.close()
    path.write_bytes(damage)
    if damage:
        with pytest.raises(IndexLost):
            index.behind({"A-1": "m"})
    assert index.behind({"A-1": "m"}) == ("A-1",)
    index.put("A-1", "m", PARTS)
    assert keys(index, "shifter") == ["finding:3"]
    index.close()


def test_an_index_that_lost_a_table_is_thrown_away(tmp_path: Path) -> None:
    path = tmp_path / "search.sqlite"
    index = Search(path)
    index.put("A-1", "m", PARTS)
    index.close()
    with closing(sqlite3.connect(path)) as database:
        database.execute("DROP TABLE about")
    with pytest.raises(IndexLost):
        index.about(("hood",))
    assert index.about(("hood",)).found == ()
    index.close()


def test_a_step_that_fails_leaves_the_index_as_it_was(search: Search) -> None:
    search.put("A-1", "m", PARTS)

    def broken() -> Iterator[Entry]:
        yield PARTS[0]
        raise RuntimeError("half way")

    with pytest.raises(RuntimeError, match="half way"):
        search.put("A-1", "n", broken())
    assert search.behind({"A-1": "m"}) == ()
    assert len(keys(search, "trunk")) == 7


def test_a_folder_that_may_not_be_written_is_said_in_words(tmp_path: Path) -> None:
    (tmp_path / "search.sqlite").mkdir()
    with pytest.raises(NoRights):
        Search(tmp_path / "search.sqlite").behind({})


def test_a_python_without_the_full_text_index_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(search_module, "_TABLES", search_module._TABLES.replace("fts5", "fts5_is_not_here"))
    index = Search(tmp_path / "search.sqlite")
    with pytest.raises(MissingExtra, match="full-text"):
        index.behind({})
    index.close()


# ---- the index and the book ------------------------------------------------------------------------------------------

STOCKS = count(1)
BY, AT = cars.ANNA, cars.NOON
PUTS: dict[str, Decision] = {
    "finding": cars.finding(1, "left-rocker"),
    "other finding": replace(cars.finding(1, "left-rocker"), place="the other end"),
    "fact": FactAnswer("torque_boxes", False, BY, AT),
    "check": CheckResult("own-lamp", CheckVerdict.DOES_NOT_WORK, BY, AT, item="Map lamp", on=DAY),
    "asked": Asked(1, Wanted.COMPONENT, "left-rocker", "How is it?", BY, AT),
    "call": Call(1, "Any rust?", "On the rocker", AnswerBasis.SEEN, BY, AT, known_by="seen", source="finding:1"),
}
DROPS = (("finding", "1"), ("fact", "torque_boxes"), ("check", "own-lamp"), ("asked", "1"), ("call", "1"))
ACTS = st.one_of(
    st.tuples(st.just("put"), st.sampled_from(sorted(PUTS))),
    st.tuples(st.just("drop"), st.sampled_from(DROPS)),
    st.tuples(st.sampled_from(("undo", "redo", "photo", "ask", "lose")), st.none()),
)


@pytest.fixture(scope="module")
def workspace(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Workspace]:
    with Workspace.open(tmp_path_factory.mktemp("search") / "yard", create=True) as opened:
        yield opened


def follow(workspace: Workspace) -> None:
    marks = workspace.book.marks()
    for stock in workspace.search.behind(marks):
        car = workspace.book.car(stock)
        workspace.search.put(stock, marks[stock], entries(car, covering.check(car)))


def act(workspace: Workspace, stock: str, what: str, subject: object, photos: Iterator[int]) -> None:
    book: Book = workspace.book
    if what == "put":
        book.apply(stock, verb="put", words="", by=BY, at=AT, put=[PUTS[str(subject)]])
    elif what == "drop":
        assert isinstance(subject, tuple)
        book.apply(stock, verb="drop", words="", by=BY, at=AT, drop=[subject])
    elif what == "photo":
        book.add_photo(stock, cars.photo(f"{stock}-{next(photos)}"), by=BY, at=AT)
    elif what == "ask":
        follow(workspace)
    elif what == "lose":
        workspace.search.close()
        (workspace.folder / "cache" / "search.sqlite").unlink(missing_ok=True)
    else:
        try:
            (book.undo if what == "undo" else book.redo)(stock, by=BY, at=AT)
        except NothingToUndo:
            return


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(acts=st.lists(ACTS, min_size=3, max_size=15))
def test_the_index_says_what_the_book_says_after_anything(workspace: Workspace, acts: list[tuple[str, object]]) -> None:
    stock, photos = f"S-{next(STOCKS)}", count(1)
    plan = plan_text(cars.plan())
    workspace.book.new_car(stock, plan, "0" * 64, "tiny", by=BY, at=AT)
    for what, subject in acts:
        act(workspace, stock, what, subject, photos)
    follow(workspace)
    car = workspace.book.car(stock)
    wanted = {one.key: one for one in entries(car, covering.check(car))}
    assert rows(workspace, stock) == wanted
    everything = Query((Group((("rocker",), ("rail",), ("lamp",), ("badge",), ("photo",), ("torque",))),))
    found = workspace.search.find(everything, stock=stock, limit=1000).found
    assert {one.entry.key: one.entry for one in found}.items() <= wanted.items()
    assert ("call:1" in wanted) == bool(car.calls)


def rows(workspace: Workspace, stock: str) -> dict[str, Entry]:
    """What the index holds of the car; its full-text half is checked by SQLite against these rows."""
    with closing(sqlite3.connect(workspace.folder / "cache" / "search.sqlite", isolation_level=None)) as database:
        database.execute("INSERT INTO word (word) VALUES ('integrity-check')")
        held = {row[0] for row in database.execute("SELECT key FROM entry WHERE stock = ?", (stock,))}
    found = workspace.search.find(Query((Group((("stock" + stock.encode().hex(),),)),)), limit=10_000).found
    assert {one.entry.key for one in found} == held
    return {one.entry.key: one.entry for one in found}
