"""The book: cars, photos and decisions as rows, each change one step."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing
from dataclasses import replace
from pathlib import Path

import pytest

from fakes.record import BY, every_kind, moment, photo, plan
from lapseam.domain.decision import KINDS, PROGRAM, CarDetails, FactAnswer, Placement, Sureness, Target
from lapseam.domain.errors import Mistake, NotFound, NothingToUndo, WorkspaceBusy
from lapseam.domain.statement import Basis, Evidence, Statement
from lapseam.storage import Book, EditionRow, Workspace, plan_from, plan_text, record_sha256


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    with Workspace.open(tmp_path / "yard", create=True) as workspace:
        new_car(workspace.book, "T-114")
        yield workspace.book


def new_car(book: Book, stock: str) -> None:
    book.new_car(stock, plan_text(plan()), "0" * 64, "tiny", by=BY, at=moment())


def answer(value: bool, second: int = 1) -> FactAnswer:
    return FactAnswer("runs", value, BY, moment(second))


def statement(number: int) -> Statement:
    return Statement(number, "engine", "It runs.", Evidence(Basis.TOLD, who_said="owner"), BY, moment())


def test_a_plan_copy_comes_back_equal() -> None:
    assert plan_from(plan_text(plan())) == plan()


def test_every_kind_of_decision_comes_back_equal(book: Book) -> None:
    given = every_kind(moment(1))
    assert {type(one) for one in given} == set(KINDS.values())
    book.add_photo("T-114", photo(1), by=BY, at=moment())
    book.apply("T-114", verb="all", words="Everything", by=BY, at=moment(1), put=given)
    car = book.car("T-114")
    assert set(car.decisions()) == set(given)
    assert car.photos == (photo(1),)
    assert car.plan == plan()
    assert car.revision == 3


def test_a_car_line_tells_title_photos_and_last_change(book: Book) -> None:
    details = CarDetails(BY, moment(5), year=1968, make="Talbrook", model="Vesper")
    book.apply("T-114", verb="describe", words="Describe", by=BY, at=moment(5), put=[details])
    book.add_photos("T-114", [photo(1), photo(2)], by=BY, at=moment(6))
    (line,) = book.cars()
    assert (line.stock, line.title, line.plan_id) == ("T-114", "1968 Talbrook Vesper", "tiny")
    assert (line.photos, line.revision, line.changed_at) == (2, 3, moment(6))


@pytest.mark.parametrize("stock", ["", "..", "a/b", "a\\b", "con", "LPT1.x", "x.", "x ", "ä-1", "a" * 41, "-1", "a:b"])
def test_a_stock_number_that_cannot_name_a_folder_everywhere_is_refused(book: Book, stock: str) -> None:
    with pytest.raises(Mistake, match="cannot be a stock number"):
        new_car(book, stock)


@pytest.mark.parametrize("stock", ["T-114", "t-114"])
def test_a_stock_number_is_taken_whatever_its_capitals(book: Book, stock: str) -> None:
    with pytest.raises(Mistake, match="already a car T-114"):
        new_car(book, stock)


def test_a_text_that_is_no_plan_makes_no_car(book: Book) -> None:
    with pytest.raises(Mistake, match="no copy of a shot plan"):
        book.new_car("T-2", '{"id": 1}', "0" * 64, "tiny", by=BY, at=moment())
    assert [line.stock for line in book.cars()] == ["T-114"]


def test_an_unknown_car_is_not_found_with_the_nearest_name(book: Book) -> None:
    with pytest.raises(NotFound) as caught:
        book.car("T-115")
    assert "T-114" in caught.value.effect


def test_a_photo_comes_into_a_car_once_and_is_known_in_the_house(book: Book) -> None:
    new_car(book, "T-2")
    assert book.known(photo(1).sha256) is None
    assert book.add_photo("T-114", photo(1), by=BY, at=moment(1))
    assert not book.add_photo("T-114", photo(1), by=BY, at=moment(2))
    assert book.known(photo(1).sha256) == photo(1)
    assert book.add_photos("T-2", [photo(1), photo(2), photo(2)], by=BY, at=moment(3)) == (photo(1), photo(2))
    assert book.cars_with(photo(1).sha256) == ("T-114", "T-2")
    assert [entry.verb for entry in book.log("T-114")] == ["new-car", "take-in"]


def test_photos_stay_in_the_order_they_came_in(book: Book) -> None:
    for number in (3, 1, 2):
        book.add_photo("T-114", photo(number), by=BY, at=moment(number))
    assert [one.name for one in book.car("T-114").photos] == ["IMG_0003.JPG", "IMG_0001.JPG", "IMG_0002.JPG"]


def test_a_step_tells_before_and_after(book: Book) -> None:
    book.apply("T-114", verb="facts", words="Runs", by=BY, at=moment(1), put=[answer(True)])
    entry = book.apply("T-114", verb="facts", words="Runs not", by="Jun", at=moment(2), put=[answer(False, 2)])
    assert entry is not None
    assert (entry.number, entry.by, entry.at, entry.undoable) == (3, "Jun", moment(2), True)
    (change,) = entry.changes
    assert (change.kind, change.key) == ("fact", "runs")
    assert change.before is not None
    assert change.after is not None
    assert (change.before["value"], change.after["value"]) == (True, False)
    assert book.log("T-114")[-1] == entry


def test_what_changes_nothing_is_no_step(book: Book) -> None:
    book.apply("T-114", verb="facts", words="", by=BY, at=moment(1), put=[answer(True)])
    assert book.apply("T-114", verb="facts", words="", by=BY, at=moment(2), put=[answer(True)]) is None
    assert book.apply("T-114", verb="facts", words="", by=BY, at=moment(2), drop=[("fact", "body")]) is None
    assert book.apply("T-114", verb="facts", words="", by=BY, at=moment(2)) is None
    assert book.car("T-114").revision == 2


def test_the_program_proposing_the_same_again_is_no_step_but_a_person_is(book: Book) -> None:
    def placed(by: str, second: int) -> Placement:
        return Placement("ab" * 32, Target.SHOT, by, moment(second), Sureness.STRONG, shot="front-34-left", score=0.5)

    book.apply("T-114", verb="match", words="", by=PROGRAM, at=moment(1), put=[placed(PROGRAM, 1)])
    assert book.apply("T-114", verb="match", words="", by=PROGRAM, at=moment(2), put=[placed(PROGRAM, 2)]) is None
    again = replace(placed(PROGRAM, 3), score=0.75)
    assert book.apply("T-114", verb="match", words="", by=PROGRAM, at=moment(3), put=[again]) is not None
    assert book.apply("T-114", verb="place", words="", by=BY, at=moment(4), put=[placed(BY, 4)]) is not None
    assert book.apply("T-114", verb="place", words="", by=BY, at=moment(5), put=[placed(BY, 5)]) is not None


def test_numbers_are_never_given_twice_even_after_undo(book: Book) -> None:
    assert book.next_number("T-114", "statement") == 1
    book.apply("T-114", verb="say", words="", by=BY, at=moment(1), put=[statement(1), statement(2)])
    assert book.next_number("T-114", "statement") == 3
    book.undo("T-114", by=BY, at=moment(2))
    assert book.car("T-114").statements == ()
    assert book.next_number("T-114", "statement") == 3
    assert book.next_number("T-114", "finding") == 1
    with pytest.raises(ValueError, match="has no numbers"):
        book.next_number("T-114", "tick")


def test_numbered_decisions_stand_by_number(book: Book) -> None:
    book.apply("T-114", verb="say", words="", by=BY, at=moment(1), put=[statement(n) for n in (10, 9, 2)])
    assert [one.number for one in book.car("T-114").statements] == [2, 9, 10]


def test_undo_passes_over_photos_and_redo_survives_them(book: Book) -> None:
    book.apply("T-114", verb="facts", words="Runs", by=BY, at=moment(1), put=[answer(True)])
    book.add_photo("T-114", photo(1), by=BY, at=moment(2))
    undone = book.undo("T-114", by=BY, at=moment(3))
    assert (undone.undoes, undone.words) == (2, "Undo step 2: Runs")
    assert book.car("T-114").photos == (photo(1),)
    book.add_photo("T-114", photo(2), by=BY, at=moment(4))
    assert book.redo("T-114", by=BY, at=moment(5)).redoes == 2
    assert book.car("T-114").facts["runs"].value is True
    assert book.next_redo("T-114") is None
    target = book.next_undo("T-114")
    assert target is not None
    assert target.number == 2


def test_a_new_change_clears_redo_and_undo_goes_further_back_each_time(book: Book) -> None:
    for second, fact in enumerate(("runs", "body", "doors"), start=1):
        one = FactAnswer(fact, "x", BY, moment(second))
        book.apply("T-114", verb="facts", words="", by=BY, at=moment(second), put=[one])
    assert [book.undo("T-114", by=BY, at=moment(9)).undoes for _ in range(2)] == [4, 3]
    assert set(book.car("T-114").facts) == {"runs"}
    book.apply("T-114", verb="facts", words="", by=BY, at=moment(10), put=[FactAnswer("lift", True, BY, moment(10))])
    with pytest.raises(NothingToUndo):
        book.redo("T-114", by=BY, at=moment(11))
    assert [book.undo("T-114", by=BY, at=moment(12)).undoes for _ in range(2)] == [7, 2]
    assert book.car("T-114").facts == {}


def test_another_program_in_the_database_is_worded_and_nothing_is_changed(tmp_path: Path) -> None:
    with Workspace.open(tmp_path / "busy", create=True) as workspace:
        new_car(workspace.book, "T-1")
        workspace.book._connection.exec_driver_sql("PRAGMA busy_timeout=0").close()
        workspace.book._connection.rollback()
        with closing(sqlite3.connect(tmp_path / "busy" / "lapseam.sqlite")) as other:
            other.execute("BEGIN IMMEDIATE")
            with pytest.raises(WorkspaceBusy, match="Another program"):
                workspace.book.apply("T-1", verb="facts", words="", by=BY, at=moment(1), put=[answer(True)])
        assert workspace.book.apply("T-1", verb="facts", words="", by=BY, at=moment(1), put=[answer(True)])


def test_a_new_car_has_nothing_to_undo(book: Book) -> None:
    with pytest.raises(NothingToUndo):
        book.undo("T-114", by=BY, at=moment(1))
    with pytest.raises(NothingToUndo):
        book.redo("T-114", by=BY, at=moment(1))


def test_undo_never_overwrites_what_a_fixed_step_changed_since(book: Book) -> None:
    book.apply("T-114", verb="facts", words="", by=BY, at=moment(1), put=[answer(True)])
    book.apply("T-114", verb="facts", words="", by=BY, at=moment(2), put=[answer(False)], undoable=False)
    with pytest.raises(NothingToUndo, match="fact runs was changed since"):
        book.undo("T-114", by=BY, at=moment(3))
    assert book.car("T-114").facts["runs"].value is False


def test_editions_are_kept_and_numbered_once(book: Book) -> None:
    row = EditionRow(1, moment(9), BY, 1, "edition-1", "ab" * 32, "cd" * 32, "Jun Thornby", 40, "spring sale")
    entry = book.add_edition("T-114", row)
    assert (entry.verb, entry.undoable, entry.by, entry.at) == ("publish", False, BY, moment(9))
    assert book.editions("T-114") == (row,)
    with pytest.raises(Mistake, match="already has an edition 1"):
        book.add_edition("T-114", row)


def test_the_digest_that_is_signed_covers_everything_but_the_signature(book: Book) -> None:
    book.add_photo("T-114", photo(1), by=BY, at=moment())
    *rest, signature = every_kind(moment(1))
    book.apply("T-114", verb="all", words="", by=BY, at=moment(1), put=rest)
    unsigned = record_sha256(book.car("T-114"))
    book.apply("T-114", verb="sign", words="", by=BY, at=moment(2), put=[signature])
    signed = book.car("T-114")
    assert record_sha256(signed) == unsigned
    for field in ("details", "facts", "placements", "ticks", "closings", "looked", "findings", "checks"):
        empty = None if field == "details" else type(getattr(signed, field))()
        assert record_sha256(replace(signed, **{field: empty})) != unsigned, field
    for field in ("measurements", "statements", "serials", "waivers", "releases", "photos"):
        assert record_sha256(replace(signed, **{field: type(getattr(signed, field))()})) != unsigned, field
    assert record_sha256(replace(signed, lead=None)) != unsigned
    assert record_sha256(replace(signed, stock="T-2")) != unsigned
    assert record_sha256(replace(signed, plan=replace(plan(), title="Other"))) != unsigned


def test_words_that_no_file_can_hold_are_made_readable(book: Book) -> None:
    odd = replace(photo(1), name="IMG\udce4.JPG", found_at="DCIM/IMG\udce4.JPG")
    book.add_photo("T-114", odd, by="Zo\udceb", at=moment(1))
    assert book.car("T-114").photos[0].name == "IMG?.JPG"
    assert book.log("T-114")[-1].by == "Zo?"


def test_a_failed_step_leaves_nothing_behind(book: Book) -> None:
    bad = replace(answer(True), value=float("nan"))
    with pytest.raises(ValueError, match="JSON"):
        book.apply("T-114", verb="facts", words="", by=BY, at=moment(1), put=[statement(1), bad])
    assert book.car("T-114").statements == ()
    assert book.car("T-114").revision == 1
    assert book.next_number("T-114", "statement") == 1
