"""Wishes that stay, and what outlets showed: kept, replaced, taken down, asked for a day, proved by its copy."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest

from lapseam.domain.decision import Signoff
from lapseam.domain.errors import Mistake, NotAllowed, NotFound
from lapseam.domain.posting import Price
from lapseam.domain.statement import Basis, Evidence
from lapseam.publish import verify
from lapseam.storage import EditionRow, Workspace, record_sha256
from lapseam.workflow import Desk, Stop, demo
from lapseam.workflow.posting import PostingAsked

STOCK, BY = "T-114", "Mirek Osoba"
DAY = datetime(2026, 5, 20, 9, 0, tzinfo=UTC)
OUTLETS = """\
outlets:
  - {name: Weekly sheet, photos: 5, longest_px: 320, max_bytes: 30000, caption_chars: 90, text_chars: 2500}
  - {name: Own page, photos: 6, longest_px: 320, form: html}
"""


@pytest.fixture(scope="module")
def workspace(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo car, signed, with its editions 1 (unsigned) and 2 (signed) in the book."""
    folder = tmp_path_factory.mktemp("posted") / "workspace"
    with demo.Desk.open(folder, create=True) as desk:
        demo.open_car(desk, progress=lambda done, total: None, stop=demo.Stop()).result()
    (folder / "outlets.yaml").write_text(OUTLETS, encoding="utf-8")
    opened = Workspace.open(folder)
    try:
        car = opened.book.car(STOCK)
        digest = record_sha256(car)
        signature = Signoff("Jun Thornby", "manager", DAY, digest, ())
        opened.book.apply(STOCK, verb="sign", words="Sign", by="Jun Thornby", at=DAY, put=[signature])
        for number, role in ((1, ""), (2, "manager")):
            row = EditionRow(number, DAY, BY, 5, f"{number:04d}", digest, "ab" * 32, role, 70)
            (opened.editions_folder(STOCK) / row.folder).mkdir(parents=True)
            opened.book.add_edition(STOCK, row)
    finally:
        opened.close()
    return folder


class Clock:
    """A clock that a test sets."""

    def __init__(self) -> None:
        self.at = DAY

    def __call__(self) -> datetime:
        return self.at


CLOCK = Clock()


@pytest.fixture(scope="module")
def desk(workspace: Path) -> Iterator[Desk]:
    with Desk.open(workspace, clock=CLOCK) as opened:
        yield opened


def shas(desk: Desk, name: str = "Weekly sheet") -> list[str]:
    return [one.sha256 for one in desk.outlet(stock=STOCK, name=name).result().selection.pictures]


def test_wishes_stay_in_the_record_can_be_undone_and_leave_the_signature(desk: Desk) -> None:
    before = shas(desk)
    other = next(one for one in shas(desk, "Own page") if one not in before)
    done = desk.wish(stock=STOCK, outlet="weekly SHEET", by=BY, pins=[other], order=[before[-1]]).result()
    assert done.words == "Wishes for Weekly sheet: 1 in, 1 first"
    after = shas(desk)
    assert other in after
    assert after[0] == before[-1]
    assert len(after) == len(before)
    assert other not in shas(desk, "Weekly sheet")[:1]
    assert desk.outlet(stock=STOCK, name="Weekly sheet").result().signed
    again = desk.wish(stock=STOCK, outlet="Weekly sheet", by=BY, pins=[other]).result()
    assert again.entry is None
    desk.wish(stock=STOCK, outlet="Weekly sheet", by=BY, bans=[other]).result()
    wishes = desk.outlet(stock=STOCK, name="Weekly sheet").result().wishes
    assert wishes is not None
    assert (wishes.pins, wishes.bans) == ((), (other,))
    for _ in range(2):
        desk.undo(stock=STOCK, by=BY).result()
    assert shas(desk) == before
    assert desk.outlet(stock=STOCK, name="Weekly sheet").result().wishes is None


def test_freeing_everything_leaves_no_wishes(desk: Desk) -> None:
    first = shas(desk)[0]
    desk.wish(stock=STOCK, outlet="Own page", by=BY, bans=[first]).result()
    desk.wish(stock=STOCK, outlet="Own page", by=BY, free=[first]).result()
    assert "own page" not in desk.car(stock=STOCK).result().wishes
    with pytest.raises(Mistake, match="both in and out"):
        desk.wish(stock=STOCK, outlet="Own page", by=BY, pins=[first], bans=[first]).result()
    with pytest.raises(NotFound, match="no outlet"):
        desk.wish(stock=STOCK, outlet="Nowhere", by=BY, pins=[first]).result()


def test_a_preview_says_what_the_outlet_will_object_to(desk: Desk) -> None:
    path = desk.folder / "outlets.yaml"
    path.write_text(
        "outlets:\n  - {name: Large, photos: 4, longest_px: 9000, min_px: 8000, photo_list: Own}\n"
        "photo_lists:\n  - name: Own\n    limits:\n      - {limit: 8, flaws: 2, shots: [bay-frnt, under-overall-front,"
        " under-overall-rear, dash-odometer, id-vin-plate]}\n",
        encoding="utf-8",
    )
    try:
        notes = desk.outlet(stock=STOCK, name="Large").result().notes
    finally:
        path.write_text(OUTLETS, encoding="utf-8")
    assert "did you mean 'bay-front'" in notes[0]
    assert len(notes) == 5
    assert all("wants 8000, and nothing is enlarged" in note for note in notes[1:])


def test_the_package_of_a_signed_edition_says_what_each_outlet_gets(desk: Desk) -> None:
    standing = desk.runner.on_book(desk._standing, STOCK).result()
    texts = desk._package_texts(standing)
    assert sorted(texts) == ["listing.html", "listing.md", "listing.txt"]
    assert b"Finding 4 (structural)" in texts["listing.md"]
    sets = desk._package_sets(standing)
    assert sorted(sets) == ["outlets/own-page.json", "outlets/weekly-sheet.json"]
    told = json.loads(sets["outlets/weekly-sheet.json"])
    assert [one["original_sha256"] for one in told["photos"]] == shas(desk)
    assert told["texts"]["text"].startswith("1968 Talbrook Vesper, stock number T-114.")
    unsigned = replace(standing, review=replace(standing.review, signed=None))
    assert desk._package_sets(unsigned) == {}
    assert b"UNSIGNED" in desk._package_texts(unsigned)["listing.txt"]


def test_only_a_signed_edition_goes_out_and_a_price_is_a_price(desk: Desk) -> None:
    with pytest.raises(NotAllowed, match="Edition 1 of T-114 is UNSIGNED"):
        desk.posted(stock=STOCK, asked=PostingAsked("Weekly sheet", edition=1), by=BY).result()
    with pytest.raises(NotFound, match="no edition 9"):
        desk.posted(stock=STOCK, asked=PostingAsked("Weekly sheet", edition=9), by=BY).result()
    with pytest.raises(Mistake, match="is no price"):
        desk.posted(stock=STOCK, asked=PostingAsked("Weekly sheet", price=Price("cheap", "USD")), by=BY).result()
    stop = Stop()
    stop.set()
    with pytest.raises(demo.Cancelled):
        desk.posted(stock=STOCK, asked=PostingAsked("Weekly sheet"), by=BY, stop=stop).result()
    assert desk.car(stock=STOCK).result().postings == ()
    folder = desk.folder / "cars" / STOCK / "outlets"
    assert not [path for path in folder.rglob("*") if path.is_file()]


def test_what_was_shown_is_kept_replaced_taken_down_and_found_again(desk: Desk, tmp_path: Path) -> None:
    page = tmp_path / "page.pdf"
    page.write_bytes(b"%PDF-1.7 as it stood")
    CLOCK.at = DAY
    price = Price("24500", "USD", date(2026, 5, 25))
    asked = PostingAsked("Weekly sheet", price=price, address="page 3", saved=(page,))
    first = desk.posted(stock=STOCK, asked=asked, by=BY).result()
    assert first.posting.edition == 2
    assert first.replaced is None
    assert verify(first.path).complete
    told = json.loads((first.path / "data" / "posting.json").read_text(encoding="utf-8"))
    assert told["price"] == {"amount": "24500", "currency": "USD", "until": "2026-05-25"}
    assert BY not in (first.path / "data" / "posting.json").read_text(encoding="utf-8")
    assert (first.path / "data" / "saved" / "01-page.pdf").read_bytes() == page.read_bytes()
    assert [one.sha256 for one in first.posting.photos] == shas(desk)
    CLOCK.at = DAY + timedelta(days=10)
    second = desk.posted(
        stock=STOCK, asked=replace(asked, price=Price("22900", "USD"), saved=()), by=BY
    ).result()  # fmt: skip
    assert second.replaced is not None
    assert second.replaced.down == CLOCK.at
    CLOCK.at = DAY + timedelta(days=20)
    desk.taken_down(stock=STOCK, outlet="weekly sheet", by=BY, words="sold").result()
    days = {0: [1], 9: [1], 10: [1, 2], 15: [2], 20: [2], 21: [], -1: []}
    for after, numbers in days.items():
        found = desk.shown(stock=STOCK, on=(DAY + timedelta(days=after)).date()).result()
        assert [one.posting.number for one in found] == numbers, after
        assert all(one.whole for one in found)
    late = desk.shown(stock=STOCK, on=(DAY + timedelta(days=9)).date()).result()[0]
    assert late.price_words == "24500 USD, valid until 25 May 2026; on 29 May 2026 that had passed."
    assert late.span_words == "20 May 2026 09:00 to 30 May 2026 09:00, replaced by posting 2"
    with pytest.raises(NotFound, match="not up"):
        desk.taken_down(stock=STOCK, outlet="Weekly sheet", by=BY).result()
    assert desk.outlet(stock=STOCK, name="Weekly sheet").result().signed


def test_a_copy_that_was_touched_is_not_whole(desk: Desk) -> None:
    path = desk.shown(stock=STOCK).result()[0].path / "data" / "text.txt"
    content = path.read_bytes()
    path.write_bytes(content + b"no flaws")
    shown = desk.shown(stock=STOCK).result()
    assert [one.whole for one in shown] == [False, True]
    assert "text.txt" not in shown[0].copy_words
    assert "changed" in shown[0].copy_words
    path.write_bytes(content)


def test_a_folder_as_it_was_taken_there_is_kept_with_what_a_person_changed(desk: Desk, tmp_path: Path) -> None:
    out = tmp_path / "own"
    desk.write_outlet(stock=STOCK, name="Own page", out=out).result()
    with pytest.raises(Mistake, match="not of edition 2"):
        desk.posted(stock=STOCK, asked=PostingAsked("Weekly sheet", made=out), by=BY).result()
    text = (out / "text.html").read_text(encoding="utf-8")
    (out / "text.html").write_text(text.replace("</article>", "<p>Rust-free!</p></article>"), encoding="utf-8")
    with pytest.raises(NotAllowed) as refused:
        desk.posted(stock=STOCK, asked=PostingAsked("Own page", made=out), by=BY).result()
    assert "Rust-free" in refused.value.detail
    assert "Say instead: No rust seen in the places photographed" in refused.value.detail
    (out / "text.html").write_text(text.replace("</article>", "<p>Viewing by appointment.</p></article>"))
    sorted(out.glob("*.jpg"))[-1].unlink()
    with pytest.raises(Mistake, match="places from 1 to 5"):
        desk.posted(stock=STOCK, asked=PostingAsked("Own page", made=out, order=(6,)), by=BY).result()
    kept = desk.posted(stock=STOCK, asked=PostingAsked("Own page", made=out, order=(3, 1)), by=BY).result()
    assert [one.file[:2] for one in kept.posting.photos] == ["03", "01", "02", "04", "05"]
    assert [one.place for one in kept.posting.photos] == [1, 2, 3, 4, 5]
    assert len(kept.changed) == 3
    assert "Viewing by appointment." in kept.posting.text
    desk.undo(stock=STOCK, by=BY).result()
    assert [one.outlet for one in desk.car(stock=STOCK).result().postings] == ["Weekly sheet"] * 2
    assert kept.path.is_dir()


def test_what_may_not_be_said_stops_the_folder_and_the_text(desk: Desk, tmp_path: Path) -> None:
    evidence = Evidence(Basis.SEEN, photos=(shas(desk)[0],), on=DAY.date())
    desk.state(stock=STOCK, subject="engine-assembly", claim="It is rust-free", evidence=evidence, by=BY).result()
    made = desk.listing(stock=STOCK).result()
    assert [one.verdict.value for one in made.refused] == ["refused"]
    with pytest.raises(NotAllowed, match="one sentence that may not be printed"):
        desk.save_text(listing=made, out=tmp_path / "text.txt").result()
    assert not (tmp_path / "text.txt").exists()
    with pytest.raises(Mistake, match="gone on since edition 2"):
        desk.posted(stock=STOCK, asked=PostingAsked("Weekly sheet"), by=BY).result()
    desk.undo(stock=STOCK, by=BY).result()
    made = desk.listing(stock=STOCK).result()
    desk.save_text(listing=made, out=tmp_path / "text.txt").result()
    assert (tmp_path / "text.txt").read_text(encoding="utf-8") == made.text
    assert made.edition == 2
