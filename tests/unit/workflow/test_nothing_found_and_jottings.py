"""Going over a zone through the desk: one step for all parts, jottings that become findings, and the guard beside."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path

import pytest

from lapseam.domain.claims import Verdict
from lapseam.domain.decision import Looked
from lapseam.domain.errors import Mistake, NotFound
from lapseam.domain.finding import Finding, Mark, MarkShape, Severity
from lapseam.domain.statement import Basis, Evidence
from lapseam.domain.unfinished import Todo, Why
from lapseam.places import demo_assets
from lapseam.storage import record_sha256
from lapseam.workflow import Desk, Stop

NOW = datetime.fromisoformat("2026-05-15T10:00:00+00:00")
BY = "Ann"
SHOT = "ext-front"


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A car with one frame on one shot, every item ticked."""
    folder = tmp_path_factory.mktemp("zone") / "yard"
    photo = sorted((demo_assets() / "card").glob("*.JPG"))[0]
    with Desk.open(folder, create=True, clock=lambda: NOW) as desk:
        desk.new_car(stock="A-1", plan="hardtop-full", by=BY).result()
        facts = {"body": "hardtop", "construction": "unibody", "skin": "steel", "lift": True}
        desk.answer(stock="A-1", answers=facts, by=BY).result()
        desk.take_in(
            stock="A-1", paths=(photo,), by=BY, progress=lambda *_: None, stop=Stop(), towards=SHOT, towards_zone=""
        ).result()
        desk.tick(stock="A-1", shot=SHOT, photo=photo.name, items=[], by=BY).result()
    return folder


@pytest.fixture
def desk(made: Path, tmp_path: Path) -> Iterator[Desk]:
    with Desk.open(Path(shutil.copytree(made, tmp_path / "yard")), clock=lambda: NOW) as opened:
        yield opened


def dent(desk: Desk, part: str = "front-bumper", **changes: object) -> Finding:
    sha256 = desk.car(stock="A-1").result().photos[0].sha256
    mark = Mark(sha256, MarkShape.BOX, 0.2, 0.2, 0.1, 0.1)
    whole = {"place": "leading edge", "extent": "20 mm", "context": (sha256,), "close": (sha256,), "marks": (mark,)}
    evidence = Evidence(Basis.SEEN, (sha256,), NOW.date())
    return Finding(
        number=0, component=part, kind="dent", severity=Severity.COSMETIC, evidence=evidence, by=BY, at=NOW,
        **{**whole, **changes},  # type: ignore[arg-type]
    )  # fmt: skip


def test_nothing_found_for_a_zone_is_one_step_and_one_undo(desk: Desk):
    desk.find(stock="A-1", finding=dent(desk)).result()
    swept = desk.nothing_found_in(stock="A-1", zone="front", by=BY).result()
    car = desk.car(stock="A-1").result()
    shown = set(car.plan.shot(SHOT).components)  # type: ignore[union-attr]
    front = {part.id for part in car.plan.vocabulary.zones["front"].components}
    assert set(car.looked) == (shown & front) - {"front-bumper"}
    assert len(car.looked) > 1
    assert {one.photos for one in car.looked.values()} == {(car.photos[0].sha256,)}
    assert swept.done.entry is not None
    assert [type(one) for one in car.looked.values()] == [Looked] * len(car.looked)
    why = {one.component.id: one.why for one in swept.sweep.left_out}
    assert why["front-bumper"] is Why.FINDINGS
    assert {one for part, one in why.items() if part not in shown} == {Why.NO_FRAME}
    desk.undo(stock="A-1", by=BY).result()
    assert desk.car(stock="A-1").result().looked == {}
    again = desk.nothing_found_in(stock="A-1", zone="front", by=BY).result()
    nothing = desk.nothing_found_in(stock="A-1", zone="front", by=BY).result()
    assert again.done.entry is not None
    assert nothing.done.entry is None


def test_a_zone_that_is_none_is_named(desk: Desk):
    with pytest.raises(NotFound, match="No zone is called 'frnt'"):
        desk.nothing_found_in(stock="A-1", zone="frnt", by=BY).result()


def test_a_jotting_becomes_a_finding_in_one_step(desk: Desk):
    desk.jot(stock="A-1", zone="front", text="  dent in the hood,\nleft of the ornament ", by=BY).result()
    car = desk.car(stock="A-1").result()
    assert [one.text for one in car.jottings] == ["dent in the hood,\nleft of the ornament"]
    assert Todo.JOTTING in {one.of for one in desk.unfinished(stock="A-1").result()[1]}
    desk.find(stock="A-1", finding=dent(desk, note=car.jottings[0].text), jotting=1).result()
    after = desk.car(stock="A-1").result()
    assert (after.jottings, after.findings[0].note) == ((), "dent in the hood,\nleft of the ornament")
    desk.undo(stock="A-1", by=BY).result()
    back = desk.car(stock="A-1").result()
    assert (len(back.jottings), back.findings) == (1, ())


def test_a_jotting_is_changed_and_taken_out_and_its_number_is_not_given_again(desk: Desk):
    desk.jot(stock="A-1", zone="front", text="one", by=BY).result()
    desk.jot(stock="A-1", zone="front", text="two", by=BY, number=1).result()
    assert [one.text for one in desk.car(stock="A-1").result().jottings] == ["two"]
    desk.take_out_jotting(stock="A-1", number=1, by=BY).result()
    with pytest.raises(NotFound):
        desk.take_out_jotting(stock="A-1", number=1, by=BY).result()
    desk.jot(stock="A-1", zone="front", text="three", by=BY).result()
    assert [one.number for one in desk.car(stock="A-1").result().jottings] == [2]
    with pytest.raises(Mistake, match="the jotting is empty"):
        desk.jot(stock="A-1", zone="front", text=" ", by=BY).result()


def test_something_jotted_after_the_signature_takes_it_off(desk: Desk):
    before = record_sha256(desk.car(stock="A-1").result())
    desk.jot(stock="A-1", zone="front", text="knock from the front", by=BY).result()
    assert record_sha256(desk.car(stock="A-1").result()) != before


def test_the_guard_judges_what_is_being_written_against_the_record(desk: Desk):
    whole = desk.whole(stock="A-1").result()
    texts = {"note": "Original paint throughout.", "detail": "scratch to primer"}
    judged = desk.judge(whole=whole, texts=texts).result()
    assert [one.verdict for one in judged["note"]] == [Verdict.NEEDS_EVIDENCE]
    assert [one.verdict for one in judged["detail"]] == [Verdict.ALLOWED]
    own = "wording:\n  - {id: no-cherry, name: a word of ours, words: [cherry], why: It says nothing.}\n"
    (desk.folder / "claims.yaml").write_text(own)
    again = desk.judge(whole=whole, texts={"note": "A cherry."}).result()
    assert [one.verdict for one in again["note"]] == [Verdict.REFUSED]


def test_what_a_form_completes_on_is_worked_out_once(desk: Desk):
    whole = desk.whole(stock="A-1").result()
    first = desk.offers(whole=whole).result()
    assert desk.offers(whole=desk.whole(stock="A-1").result()).result() is first
    assert len(first.parts) > 100


def test_the_picture_of_the_whole_brings_what_is_unfinished(desk: Desk):
    whole = desk.whole(stock="A-1").result()
    assert whole.unfinished == desk.unfinished(stock="A-1").result()[1]
    assert {one.zone for one in whole.unfinished if one.of is Todo.PART} >= {"front"}
