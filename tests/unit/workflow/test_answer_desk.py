"""The answer desk on the demo car: every caller's question gets an answer or an honest "not recorded"."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from concurrent.futures import wait
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from lapseam import plans
from lapseam.domain.answers import GAPS, EntryKind
from lapseam.domain.call import AnswerBasis
from lapseam.domain.errors import NotFound
from lapseam.domain.search_words import CallerQuestion
from lapseam.places import shot_plans
from lapseam.workflow import Desk, Stop, demo

STOCK = demo.STOCK
NOW = datetime.fromisoformat("2026-05-15T10:00:00+00:00")
QUESTIONS = plans.load_search_words(shot_plans() / "vocabulary").questions

ANSWERED = {
    # id: what the first thing that is read out must hold
    "q01": "right rocker",
    "q02": "Old coating over the",
    "q05": "left door",
    "q07": "Scratch",
    "q10": "TV8-2047731",
    "q12": "48213",
    "q17": "oil pan",
    "q27": "not on this car",
    "q28": "Map light: does not work",
    "q31": "driver's seat cushion",
    "q33": "not on this car",
    "q37": "fuel tank straps",
    "q40": "right rocker",
}
NOT_RECORDED = (
    *("q03", "q04", "q06", "q08", "q11", "q14", "q15", "q18", "q19", "q20", "q21", "q22", "q23", "q25", "q26"),
    *("q29", "q30", "q35", "q36", "q38", "q39"),
)


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("desk") / "demo"
    with Desk.open(folder, create=True, clock=lambda: NOW) as desk:
        demo.open_car(desk, progress=lambda done, total: None, stop=Stop()).result()
    return folder


@pytest.fixture(scope="module")
def desk(made: Path) -> Iterator[Desk]:
    with Desk.open(made, clock=lambda: NOW) as opened:
        yield opened


def test_there_are_forty() -> None:
    assert len(QUESTIONS) == 40
    assert not set(ANSWERED) & set(NOT_RECORDED)


@pytest.mark.parametrize("question", QUESTIONS, ids=lambda one: one.id)
def test_every_callers_question_gets_an_answer_or_an_honest_not_recorded(desk: Desk, question: CallerQuestion) -> None:
    answer = desk.ask(words=question.words, stock=STOCK).result()
    assert answer.question == question
    assert not answer.loose
    for hit in answer.hits:
        assert hit.entry.words.strip()
        if hit.entry.answers:
            assert hit.basis, "an answer says how it is known"
            assert hit.entry.how is not None
            assert hit.entry.kind not in GAPS
            assert hit.entry.kind is not EntryKind.PHOTO
    if not answer.known and question.about != ("list:third-party-inspections",):
        assert answer.gap is not None, "what is not known can be put on the list"
    if question.id in ANSWERED:
        assert answer.known
        assert ANSWERED[question.id] in " ".join(hit.entry.words for hit in answer.answered[:4])
    if question.id in NOT_RECORDED:
        assert not answer.known


def test_the_question_of_rust_starts_from_the_worst_and_then_tells_what_was_not_seen(desk: Desk) -> None:
    hits = desk.ask(words="any rust?", stock=STOCK).result().hits
    kinds = [hit.entry.kind for hit in hits]
    ranks = [hit.entry.rank for hit in hits if hit.entry.kind is EntryKind.FINDING]
    assert hits[0].entry.key == "finding:4"
    assert ranks == sorted(ranks, reverse=True)
    assert kinds.index(EntryKind.NOT_SEEN) > max(at for at, kind in enumerate(kinds) if kind is EntryKind.FINDING)


@pytest.mark.parametrize(
    ("words", "first"),
    [
        ("wing scratch", None),
        ("door scratch", "finding:3"),
        ("scratches", "finding:3"),
        ("torn seat", "finding:7"),
        ("silencers", "finding:10"),
        ("gas tank", "finding:13"),
        ("sill corrosion", "finding:4"),
        ("invoice for the clutch", "statement:2"),
        ("repainted", "statement:1"),
        ("map light", "check:own-map-light"),
        ("air con", "fact:air_con"),
        ("EXO_4135.JPG", "photo"),
    ],
)
def test_any_words_find_the_best_thing_first(desk: Desk, words: str, first: str | None) -> None:
    answer = desk.ask(words=words, stock=STOCK).result()
    if first is None:
        assert not answer.known
    else:
        assert answer.hits[0].entry.key.startswith(first)


def test_what_nobody_ever_heard_of_is_not_recorded(desk: Desk) -> None:
    for words in ("banana", "🚗", "", "the"):
        answer = desk.ask(words=words, stock=STOCK).result()
        assert (answer.known, answer.hits) == (False, ())


def test_an_answer_has_its_age_by_the_houses_settings(made: Path, tmp_path: Path) -> None:
    shutil.copytree(made, tmp_path / "old")
    with Desk.open(tmp_path / "old", clock=lambda: NOW + timedelta(days=100)) as later:
        hit = later.ask(words="scratch", stock=STOCK).result().hits[0]
    assert (hit.age.days, hit.age.stale) == (102, True)
    assert hit.age.renew == "look at it again and take a new photo"


def test_a_car_that_is_not_there_is_said(desk: Desk) -> None:
    with pytest.raises(NotFound, match="T-999"):
        desk.ask(words="rust", stock="T-999").result()


def test_what_was_said_a_moment_ago_is_found_and_what_was_undone_is_not(desk: Desk) -> None:
    assert not desk.ask(words="pumpernickel", stock=STOCK).result().known
    desk.log_call(
        stock=STOCK, question="Does it smell of pumpernickel?", answer="Yes, the carpet", by="Ann",
        known_by="Ann smelt it on 15 May", basis=AnswerBasis.TESTED,
    ).result()  # fmt: skip
    assert desk.ask(words="pumpernickel").result().hits[0].entry.kind is EntryKind.CALL
    desk.undo(stock=STOCK, by="Ann").result()
    assert desk.ask(words="pumpernickel").result().hits == ()


def test_an_index_that_was_lost_or_damaged_is_made_again_unseen(desk: Desk) -> None:
    index = desk.folder / "cache" / "search.sqlite"
    assert desk.ask(words="scratch").result().known
    assert desk.index().result() == 0
    desk.runner.on_book(desk._workspace.search.close).result()
    index.write_bytes(b"nonsense" * 1000)
    assert desk.ask(words="scratch").result().known
    desk.runner.on_book(desk._workspace.search.close).result()
    index.unlink()
    assert desk.index().result() == 1


def test_several_may_ask_at_once(desk: Desk) -> None:
    asked = [desk.ask(words=words) for words in ("rust", "scratch", "clock", "repainted") * 3]
    wait(asked)
    assert all(one.result().hits for one in asked)


def test_progress_is_told_for_cars_that_have_changed(desk: Desk) -> None:
    told: list[tuple[int, int]] = []
    desk.want(stock=STOCK, question="Anything", by="Ann").result()
    desk.ask(words="rust", progress=lambda done, total: told.append((done, total))).result()
    assert told == [(1, 1)]
    desk.undo(stock=STOCK, by="Ann").result()
