"""The listing's sentences: what is bad and what is not known stays before what pleases, and no gap is silent."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date, datetime
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fakes import demo_car
from lapseam.domain import coverage, signoff
from lapseam.domain.claim_evidence import OnFile
from lapseam.domain.claims import guard_of
from lapseam.domain.decision import Signoff
from lapseam.domain.edition_draft import Draft, draft_for
from lapseam.domain.listing import Listing, Rank, kept, listing_of
from lapseam.domain.listing_draft import gather
from lapseam.domain.selection import Outlet
from lapseam.domain.sequence import worst_first
from lapseam.domain.statement import Basis, Evidence, Statement

AT = datetime(2026, 5, 14, 9)


@cache
def draft(signed: bool = True) -> Draft:
    car, house = demo_car.noted(), demo_car.house()
    covered = coverage.check(car)
    rules = signoff.judge(car, covered, house, today=AT.date())
    signature = Signoff("Jun Thornby", "manager", AT, "ab" * 32) if signed else None
    return draft_for(car, covered, rules, house, number=1, made_at=AT, signed=signature)


@cache
def whole() -> Listing:
    return listing_of(gather(draft(), published=True))


def texts(listing: Listing) -> str:
    return "\n".join(one.text for one in listing.sentences())


@settings(max_examples=60, deadline=None)
@given(st.integers(0, 120))
def test_what_pleases_goes_before_anything_bad_or_unknown(most: int) -> None:
    listing, cut = whole(), kept(whole(), most)
    out, here = cut.left_out, cut.sentences()
    if any(one.rank < Rank.NICE for one in out):
        assert not any(one.rank >= Rank.NICE for one in here)
    staying = [one for one in here if one.rank is not Rank.ALWAYS]
    assert len(staying) == min(most, listing.droppable)
    assert max((one.rank for one in staying), default=Rank.ALWAYS) <= min(
        (one.rank for one in out), default=Rank.FURTHER
    )
    for one in listing.sentences():
        if one.rank is Rank.ALWAYS:
            assert one in here


@pytest.mark.parametrize("most", [0, 1, 3, 7, 12, 20, 40])
def test_what_is_left_out_is_named(most: int) -> None:
    said = texts(kept(whole(), most))
    for flaw in worst_first(draft().car):
        assert f"Finding {flaw.number} " in said or re.search(rf"on the full page.*\b{flaw.number}\b", said)
    assert "not seen" in said
    assert "not tested" in said


def test_the_text_ends_with_what_is_not_known_and_says_how_old_the_car_is_first() -> None:
    listing = whole()
    assert listing.parts[0].sentences[0].text == "1968 Talbrook Vesper, stock number T-114."
    assert [part.id for part in listing.parts][-1] == "not-known"
    assert "13 findings on file" in listing.parts[0].sentences[1].text
    assert "about 77 591 km, converted" in texts(listing)
    gaps = set(draft().coverage.unanswered)
    assert all(gap.replace("_", " ") in texts(listing) for gap in gaps)


def test_every_open_finding_and_every_unseen_shot_stands_in_the_whole_text() -> None:
    said = texts(whole())
    for flaw in worst_first(draft().car):
        assert f"Finding {flaw.number} (" in said
    for shot in draft().coverage.shots:
        if shot.state in (coverage.State.MISSED, coverage.State.NOT_REACHABLE) and shot.shot.need != "optional":
            assert shot.shot.title in said


def test_a_record_without_findings_does_not_say_that_nothing_was_found() -> None:
    empty = replace(draft(), car=replace(draft().car, findings=()))
    said = texts(listing_of(gather(empty, published=True)))
    assert "not the same as nothing found" in said


def test_photos_have_their_places_at_the_outlet_and_what_none_shows_says_so() -> None:
    first, second = draft().car.findings[3], draft().car.findings[7]
    places = {first.photos[0]: 2}
    listing = listing_of(gather(draft(), published=True, places=places), Outlet("Sheet", 12))
    said = {one.about: one for one in listing.sentences() if one.about.isdigit()}
    assert said[f"{first.number}"].text.endswith("seen, photo 2.")
    assert said[f"{second.number}"].text.endswith("on the full page, not pictured here.")
    assert "Not pictured here, but on the full page: findings " in texts(listing)
    unpictured = [one for one in listing.sentences() if "(structural)" in one.text and "not pictured" in one.text]
    assert unpictured
    assert all(one.rank is Rank.ALWAYS for one in unpictured)


def test_title_and_teaser_keep_to_their_lengths_and_are_whole() -> None:
    for title, teaser in ((22, 60), (30, 200), (10, 45)):
        listing = listing_of(gather(draft(), published=True), Outlet("S", 12, title_chars=title, teaser_chars=teaser))
        assert len(listing.title) <= title
        assert len(listing.teaser) <= teaser
        assert listing.teaser[-1] in ".…"
    assert listing_of(gather(draft(), published=True)).title == "1968 Talbrook Vesper, two-door hardtop"


def test_unsigned_stands_in_the_teaser_and_the_flag() -> None:
    listing = listing_of(gather(draft(signed=False), published=False))
    assert listing.flag.startswith("UNSIGNED")
    assert listing.teaser.startswith("UNSIGNED")
    assert "not published yet" in texts(listing)


def test_the_guard_lets_the_program_s_own_words_through() -> None:
    guard, on_file = guard_of(draft().words), OnFile(draft().car, draft().coverage)
    for most in (0, 10, 30, 200):
        refused = [one for one in guard.judge(texts(kept(whole(), most)), on_file=on_file) if one.objections]
        assert refused == []


def test_a_statement_that_may_not_be_said_is_caught_in_the_text() -> None:
    evidence = Evidence(Basis.SEEN, photos=(draft().car.photos[0].sha256,), on=date(2026, 5, 13))
    bold = Statement(9, "engine-assembly", "The car is rust-free and numbers match", evidence, "x", AT)
    car = replace(draft().car, statements=(*draft().car.statements, bold))
    said = texts(listing_of(gather(replace(draft(), car=car), published=True)))
    guard = guard_of(draft().words)
    judged = guard.judge(said, on_file=OnFile(car, draft().coverage))
    rules = {one.rule for sentence in judged for one in sentence.objections}
    assert {"rust-free", "numbers-match"} <= rules
