"""Calls, promises and the re-shoot list: what goes in, what the record lends, and that none of it is published."""

from __future__ import annotations

import shutil
import zlib
from collections.abc import Iterator
from datetime import date, datetime, timedelta
from pathlib import Path

import pytest

from lapseam.domain.call import AnswerBasis, Wanted
from lapseam.domain.errors import Mistake, NotFound
from lapseam.domain.statement import CheckVerdict
from lapseam.storage import record_sha256
from lapseam.workflow import Desk, Stop, demo
from lapseam.workflow.calling import NOT_KNOWN_ANSWER

STOCK = demo.STOCK
NOW = datetime.fromisoformat("2026-05-15T10:00:00+00:00")
BY = "Ann"


class Clock:
    """A clock that a test can put on."""

    def __init__(self) -> None:
        self.now = NOW

    def __call__(self) -> datetime:
        return self.now


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Two cars without photos, which is enough for words."""
    folder = tmp_path_factory.mktemp("calls") / "yard"
    with Desk.open(folder, create=True, clock=Clock()) as opened:
        for stock in ("A-1", "A-2"):
            opened.new_car(stock=stock, plan="hardtop-full", by=BY).result()
    return folder


@pytest.fixture
def desk(made: Path, tmp_path: Path, clock: Clock) -> Iterator[Desk]:
    """A copy of the two."""
    with Desk.open(Path(shutil.copytree(made, tmp_path / "yard")), clock=clock) as opened:
        yield opened


def test_a_call_takes_over_what_the_record_says(desk: Desk) -> None:
    day = date(2026, 5, 14)
    desk.check(stock="A-1", check="chk-horn", verdict=CheckVerdict.WORKS, by=BY, conditions="parked", on=day).result()
    desk.log_call(stock="A-1", question="Does the horn work?", source="check:chk-horn", by=BY).result()
    (call,) = desk.car(stock="A-1").result().calls
    assert (call.answer, call.basis, call.known_by) == (
        *("Horn: works.", AnswerBasis.TESTED),
        "tested on 14 May 2026, parked",
    )
    assert (call.source, call.edition, call.at, call.by) == ("check:chk-horn", None, NOW, BY)


def test_a_gap_that_is_read_out_is_logged_as_not_known(desk: Desk) -> None:
    desk.log_call(stock="A-1", question="The clock?", source="untested:chk-clock", by=BY).result()
    (call,) = desk.car(stock="A-1").result().calls
    assert (call.basis, call.answer) == (AnswerBasis.NOT_KNOWN, "Clock: not tested, nobody tested it.")


def test_without_an_answer_it_is_logged_that_nobody_knows(desk: Desk) -> None:
    desk.log_call(stock="A-1", question="Was it ever a taxi?", by=BY).result()
    (call,) = desk.car(stock="A-1").result().calls
    assert (call.answer, call.basis) == (NOT_KNOWN_ANSWER, AnswerBasis.NOT_KNOWN)


def test_no_answer_comes_in_without_its_basis(desk: Desk) -> None:
    with pytest.raises(Mistake, match="needs its basis"):
        desk.log_call(stock="A-1", question="Any rust?", answer="None at all", by=BY).result()
    with pytest.raises(Mistake, match="how it is known"):
        desk.log_call(stock="A-1", question="Any rust?", answer="None at all", basis=AnswerBasis.SEEN, by=BY).result()
    assert desk.car(stock="A-1").result().calls == ()


@pytest.mark.parametrize(
    ("words", "problem"),
    [
        ({"source": "finding:9"}, "No entry of this car's record"),
        ({"edition": 3}, "no edition 3"),
        ({"photos": ["IMG.JPG"]}, "IMG.JPG"),
    ],
)
def test_what_is_not_there_is_said(desk: Desk, words: dict[str, object], problem: str) -> None:
    with pytest.raises(NotFound, match=problem):
        desk.log_call(stock="A-1", question="Any rust?", by=BY, **words).result()  # type: ignore[arg-type]


def test_promises_wait_by_their_day_until_they_are_kept(desk: Desk, clock: Clock) -> None:
    for stock, day in (("A-1", date(2026, 5, 20)), ("A-2", date(2026, 5, 17)), ("A-1", None)):
        desk.log_call(stock=stock, question="The clock?", by=BY, call_back=day).result()
    clock.now = NOW + timedelta(days=3)
    waiting = desk.promises().result()
    assert [(one.stock, one.call.number, one.days_late) for one in waiting] == [("A-2", 1, 1), ("A-1", 1, -2)]
    desk.kept(stock="A-2", number=1, by="Vera", words="It ticks").result()
    kept = desk.car(stock="A-2").result().calls[0]
    assert (kept.kept, kept.kept_by, kept.kept_words, kept.by) == (date(2026, 5, 18), "Vera", "It ticks", BY)
    assert [one.stock for one in desk.promises().result()] == ["A-1"]
    with pytest.raises(Mistake, match="nothing was promised"):
        desk.kept(stock="A-1", number=2, by=BY).result()
    with pytest.raises(NotFound, match="no call with number 9"):
        desk.kept(stock="A-1", number=9, by=BY).result()


@pytest.mark.parametrize(
    ("about", "wanted"),
    [
        ("ext-front-left", Wanted.SHOT),
        ("chk-clock", Wanted.CHECK),
        ("m-paint", Wanted.MEASURE),
        ("trunk-floor", Wanted.COMPONENT),
        ("", Wanted.OTHER),
    ],
)
def test_what_is_wanted_is_known_by_its_id(desk: Desk, about: str, wanted: Wanted) -> None:
    desk.want(stock="A-1", question="Could you look?", about=about, by=BY).result()
    (asked,) = desk.car(stock="A-1").result().asked
    assert (asked.wanted, asked.subject, asked.is_open) == (wanted, about, True)


def test_the_re_shoot_list_is_worked_off(desk: Desk) -> None:
    for question in ("The clock?", "The trunk?"):
        desk.want(stock="A-1", question=question, by=BY).result()
    desk.dealt_with(stock="A-1", number=1, by="Vera", words="It ticks").result()
    assert [one.asked.question for one in desk.to_look_at().result()] == ["The trunk?"]
    first = desk.car(stock="A-1").result().asked[0]
    assert (first.done, first.done_by, first.done_words, first.by) == (NOW.date(), "Vera", "It ticks", BY)
    desk.undo(stock="A-1", by=BY).result()
    assert len(desk.to_look_at().result()) == 2
    with pytest.raises(NotFound, match="number 7"):
        desk.dealt_with(stock="A-1", number=7, by=BY).result()
    with pytest.raises(NotFound, match="did you mean 'trunk-floor'"):
        desk.want(stock="A-1", question="?", about="trunk-flor", by=BY).result()


def test_numbers_are_never_given_twice(desk: Desk) -> None:
    desk.log_call(stock="A-1", question="One?", by=BY).result()
    desk.undo(stock="A-1", by=BY).result()
    desk.log_call(stock="A-1", question="Two?", by=BY).result()
    assert [call.number for call in desk.car(stock="A-1").result().calls] == [2]


# ---- nothing of it is published --------------------------------------------------------------------------------------

CANARY = "Zyxcanarywv"


def test_no_word_of_a_call_or_a_wish_leaves_the_house(tmp_path: Path, clock: Clock) -> None:
    with Desk.open(tmp_path / "demo", create=True, clock=clock) as desk:
        demo.open_car(desk, progress=lambda done, total: None, stop=Stop()).result()
        photo = desk.car(stock=STOCK).result().photos[0].name
        desk.log_call(
            stock=STOCK, question=f"{CANARY} question", answer=f"{CANARY} answer", basis=AnswerBasis.TOLD,
            by=f"{CANARY} by", known_by=f"{CANARY} known", caller=f"{CANARY} caller", sent=f"{CANARY} sent",
            photos=[photo], promise=f"{CANARY} promise", call_back=date(2026, 5, 20),
        ).result()  # fmt: skip
        desk.kept(stock=STOCK, number=1, by=f"{CANARY} kept", words=f"{CANARY} words").result()
        desk.want(stock=STOCK, question=f"{CANARY} wish", about="trunk-floor", by=f"{CANARY} wisher").result()
        desk.dealt_with(stock=STOCK, number=1, by=f"{CANARY} done", words=f"{CANARY} deed").result()
        record = (desk.folder / "cars" / STOCK / "record.json").read_text("utf-8")
        assert record.count(CANARY) >= 13, "the record itself holds all of it"
        edition = desk.publish(stock=STOCK, by="Mirek Osoba").result()
        found = [path.name for path in edition.path.rglob("*") if path.is_file() and _holds(path, CANARY)]
        assert found == []
        assert desk.ask(words=CANARY, stock=STOCK).result().editions == ((STOCK, 1),)
        desk.log_call(stock=STOCK, question="And now?", by=BY).result()
        assert desk.car(stock=STOCK).result().calls[1].edition == 1
        hit = desk.ask(words="scratch", stock=STOCK).result().hits[0]
        assert all(shown.number for shown in hit.photos), "photos go by their number in the edition"


def _holds(path: Path, word: str) -> bool:
    """Whether a file holds the word, in its bytes or in a compressed part of a PDF."""
    raw = path.read_bytes()
    parts = [raw, *(_inflated(part) for part in raw.split(b"stream\n")[1:])] if path.suffix == ".pdf" else [raw]
    return any(word.encode() in part or word.encode("utf-16-be") in part for part in parts)


def _inflated(part: bytes) -> bytes:
    try:
        return zlib.decompressobj().decompress(part)
    except zlib.error:
        return b""


def test_the_canary_test_can_fail(tmp_path: Path) -> None:
    (tmp_path / "a.json").write_text(f'"{CANARY}"')
    assert _holds(tmp_path / "a.json", CANARY)


def test_a_telephone_that_rings_takes_no_signature_off(desk: Desk) -> None:
    before = record_sha256(desk.car(stock="A-1").result())
    desk.log_call(stock="A-1", question="Any rust?", by=BY).result()
    desk.want(stock="A-1", question="The clock?", by=BY).result()
    assert record_sha256(desk.car(stock="A-1").result()) == before
    desk.answer(stock="A-1", answers={"lift": "yes"}, by=BY).result()
    assert record_sha256(desk.car(stock="A-1").result()) != before
