"""What the Findings show: zones and their counts, lines, photos, drafts, what a sweep said, what the guard says."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from fakes import cars
from fakes.cars import finding, looked, photo, placed, sha, ticked
from lapseam.desktop.finding_draft import FindingDraft, draft_of, finding_from, lacking
from lapseam.desktop.screens.findings.check_state import check_screen
from lapseam.desktop.screens.findings.form_state import form_title, shown_by, uses_of
from lapseam.desktop.screens.findings.guard import taken_over, warned_of
from lapseam.desktop.screens.findings.state import (
    FindingsScreen,
    draft_for,
    findings_screen,
    first_photo,
    no_car,
    swept_notice,
    with_mark_s_photo,
    with_role,
)
from lapseam.domain import coverage
from lapseam.domain.call import Asked, Wanted
from lapseam.domain.car import Car
from lapseam.domain.claims import Judged, Objection, Verdict
from lapseam.domain.decision import PROGRAM, Placement, Sureness, Target
from lapseam.domain.errors import Mistake
from lapseam.domain.finding import FindingState, Mark, MarkShape
from lapseam.domain.jotting import Jotting
from lapseam.domain.statement import CheckResult, CheckVerdict
from lapseam.domain.unfinished import sweep, unfinished

PROFILE = next(one for one in cars.shots() if one.id == "left-profile")
ROCKER = next(one for one in cars.shots() if one.id == "left-rocker")


def screen(car: Car, zone: str = "left-side") -> FindingsScreen:
    answers = coverage.check(car)
    return findings_screen(car, answers, unfinished(car, answers), zone)


def side(*more: object) -> Car:
    """The side seen from two metres, ticked; the rocker from near, accepted and not ticked; one frame in the tray."""
    rows = (
        placed("left-profile", "side"),
        ticked(PROFILE, "side"),
        placed("left-rocker", "near"),
        Placement(sha("tray"), Target.SHOT, PROGRAM, cars.NOON, Sureness.WEAK, shot="left-badge", score=0.3),
    )
    photos = [photo("near"), photo("side", minute=1), photo("tray"), photo("context"), photo("close")]
    return cars.car(photos, *rows, *more)  # type: ignore[arg-type]


def test_without_a_car_it_says_where_to_open_one():
    assert no_car().empty[0] == "No car is open."
    assert "Ctrl+1" in no_car().empty[1]


def test_zones_in_walking_order_with_what_is_open_in_each():
    zones = screen(side()).zones
    assert [(one.id, one.open) for one in zones] == [("left-side", 4), ("under-front", 0), ("identity", 0)]
    assert zones[0].words == "4 · Left side"


def test_a_zone_that_the_car_does_not_have_gives_way_to_the_first_with_something_open():
    assert screen(side(), "cloth").zone == "left-side"
    assert screen(side(), "").beside(1) == "under-front"
    assert screen(side(), "").beside(-1) == "identity"


def test_unfinished_lines_stand_before_recorded_ones():
    horn = CheckResult("chk-horn", CheckVerdict.INTERMITTENT, cars.MIREK, cars.NOON, on=cars.DAY)
    car = side(looked("left-doors", "side"), finding(3, "left-trim", state=FindingState.CORRECTED), horn)
    lines = screen(car).lines
    assert [(one.key, one.open) for one in lines] == [
        ("", False),
        ("part:left-rocker", True),
        ("shot:left-rocker", True),
        ("", False),
        ("finding:3", False),
        ("check:chk-horn", False),
        ("part:left-doors", False),
    ]
    assert lines[1].words == "Left rocker: shown, nothing said"
    assert lines[4].words.startswith("3 · Surface rust, Left trim")
    assert lines[4].words.endswith("corrected: it was not so")
    assert lines[5].words == "Horn: intermittent"


def test_lines_say_what_is_lacking_and_what_was_noted_and_asked():
    jotting = Jotting(1, "left-side", "knock\nfrom   the left " + "x" * 80, cars.ANNA, cars.NOON)
    asked = Asked(2, Wanted.COMPONENT, "left-doors", "Can I see the door bottoms?", cars.ANNA, cars.NOON)
    words = [one.words for one in screen(side(finding(1, "left-doors", extent="", close=()), jotting, asked)).open]
    assert words[0] == "1 · Surface rust, Left doors lacks a close-up, its size"
    assert words[1].startswith("Note: knock from the left xxx")
    assert words[1].endswith("…")
    assert words[2] == "To look at: Can I see the door bottoms?"


def test_a_wish_of_a_caller_stands_at_the_zone_it_is_about_until_it_is_dealt_with():
    asked = Asked(2, Wanted.OTHER, "", "Something about the front rails", cars.ANNA, cars.NOON)
    assert [one.key for one in screen(side(asked), "under-front").open] == ["asked:2"]
    done = replace(asked, done=cars.DAY, done_by=cars.MIREK)
    assert screen(side(done), "under-front").open == ()


def test_photos_in_shooting_order_without_those_that_wait_in_the_tray():
    rows = screen(side()).photos
    assert [one.name for one in rows] == ["side.jpg", "near.jpg"]
    assert [(one.ticked, one.close) for one in rows] == [(True, False), (False, True)]
    assert rows[1].words == "near.jpg, Left rocker, nobody has ticked it"


def test_a_photo_that_a_finding_of_the_zone_shows_is_there_wherever_it_stands():
    on_the_rail = placed("front-rails", "rail")
    far = finding(1, "left-doors", context=(sha("rail"),), close=(sha("near"),))
    plain = cars.car([photo("near"), photo("rail")], placed("left-rocker", "near"), on_the_rail)
    shown = cars.car([photo("near"), photo("rail")], placed("left-rocker", "near"), on_the_rail, far)
    assert [one.name for one in screen(plain).photos] == ["near.jpg"]
    assert [one.name for one in screen(shown).photos] == ["near.jpg", "rail.jpg"]


def test_the_picture_to_begin_with_shows_the_part_and_was_ticked():
    shown = screen(side())
    assert first_photo(shown, None, "left-rocker") == sha("side")
    assert first_photo(shown, FindingDraft(close=(sha("near"),)), "left-rocker") == sha("near")
    assert first_photo(replace(shown, photos=()), None, "left-rocker") == ""


def test_what_the_form_begins_with():
    jotting = Jotting(7, "left-side", "two\nlines", cars.ANNA, cars.NOON)
    car = side(finding(1, "left-doors", extent=""), jotting)
    shown = screen(car)
    drafts = {one.key: draft_for(car, one) for one in shown.open}
    assert drafts["finding:1"] == draft_of(car.findings[0])
    assert (drafts["jotting:7"].jotting, drafts["jotting:7"].note) == (7, "two\nlines")
    assert drafts["part:left-rocker"].component == "left-rocker"
    assert form_title(car, drafts["finding:1"], shown.line("finding:1")) == "Finding 1 · Surface rust, Left doors"
    assert form_title(car, FindingDraft(), None) == "New finding"


def test_a_finding_goes_through_the_form_unchanged():
    words = cars.vocabulary()
    mark = Mark(sha("close"), MarkShape.BOX, 0.1, 0.2, 0.3, 0.4)
    made = finding(4, "left-doors", marks=(mark,), count=2, state=FindingState.REPAIRED, state_reason="new metal",
                   state_on=date(2026, 5, 10), after=(sha("side"),), note="ask Vera")  # fmt: skip
    assert finding_from(draft_of(made), words, by=made.by, now=made.at) == made


@pytest.mark.parametrize(
    ("changes", "why"),
    [
        ({"extent": "12"}, "mm or in inches"),
        ({"count": "two"}, "how many"),
        ({"state_on": "May"}, "no day"),
        ({"on": "May"}, "no day"),
    ],
)
def test_what_cannot_be_read_is_said(changes: dict[str, str], why: str):
    with pytest.raises(Mistake) as told:
        finding_from(replace(FindingDraft(kind="rust-surface"), **changes), cars.vocabulary(), by="", now=cars.NOON)
    assert why in str(told.value)


def test_what_keeps_a_draft_out_is_one_sentence():
    car = side()
    made = finding_from(FindingDraft(component="left-doors"), car.plan.vocabulary, by=cars.ANNA, now=cars.NOON)
    assert lacking(made, car).startswith("No kind of finding is called ''")


def test_photos_are_turned_on_and_off_and_take_their_marks_with_them():
    mark = Mark(sha("side"), MarkShape.POINT, 0.5, 0.5)
    draft = with_role(with_role(FindingDraft(marks=(mark,)), sha("side"), "context"), sha("side"), "close")
    assert uses_of(draft, screen(side()).photos)[sha("side")] == ("context", "close")
    assert shown_by(draft) == "Shown by 1 context photo, 1 close-up, 1 mark."
    off = with_role(draft, sha("side"), "context")
    assert (off.context, off.close, off.marks) == ((), (sha("side"),), (mark,))
    assert with_role(off, sha("side"), "close").marks == ()
    assert shown_by(FindingDraft()).startswith("No photo yet")


def test_a_mark_brings_its_photo_in_wide_or_close_as_it_was_taken():
    wide, near = screen(side()).photos
    assert with_mark_s_photo(FindingDraft(), wide).context == (sha("side"),)
    assert with_mark_s_photo(FindingDraft(), near).close == (sha("near"),)
    shown = FindingDraft(context=(sha("near"),))
    assert with_mark_s_photo(shown, near) is shown


def test_a_sweep_says_of_how_many_and_which_were_left_out_and_why():
    car = side(finding(1, "left-doors"))
    told = swept_notice(car, sweep(car, coverage.check(car), "left-side"))
    assert told.problem == "Left side: nothing found on 1 part."
    assert told.effect == "2 parts were left out."
    assert told.detail == "Has a finding: Left doors\nNo ticked frame shows it: Left trim"
    bare = cars.car()
    nothing = swept_notice(bare, sweep(bare, coverage.check(bare), "left-side"))
    assert nothing.problem == "Of Left side there is nothing left to say."
    assert "Walk" in nothing.next_step


def test_a_test_is_shown_with_what_is_on_file():
    horn = CheckResult("chk-horn", CheckVerdict.WORKS, cars.MIREK, cars.NOON, conditions="parked", on=cars.DAY)
    shown = check_screen(side(horn), "chk-horn")
    assert (shown.item, shown.verdict, shown.conditions) == ("Horn", CheckVerdict.WORKS, "parked")
    assert shown.now == "On file: works (Mirek Osoba, 2026-05-12)."
    assert check_screen(side(), "chk-horn").now == ""


def objection(verdict: Verdict, start: int, end: int, instead: str, *needs: str) -> Objection:
    return Objection("r", verdict, "words", start, end, "why", needs, instead)


def test_a_refusal_is_shown_before_a_need_and_its_wording_is_taken_over():
    need = objection(Verdict.NEEDS_EVIDENCE, 0, 4, "", "seen: left-doors (both)")
    refusal = objection(Verdict.REFUSED, 2, 6, "seen on {place} only")
    judged = {"place": (Judged("", 1, 0, 4, (need,)),), "note": (Judged("", 1, 0, 9, (refusal,)),)}
    warned = warned_of(judged)
    assert warned is not None
    assert (warned.field, warned.objection, warned.more) == ("note", refusal, 1)
    assert taken_over("a mint car", refusal) == ("a seen on {place} only car", (10, 17))
    assert taken_over("a mint car", replace(refusal, say_instead="clean")) == ("a clean car", (7, 7))
    only_need = warned_of({"place": judged["place"]})
    assert only_need is not None
    assert only_need.why(cars.vocabulary()) == "It needs, on file: seen: Left doors (both)."
    assert warned_of({"place": (Judged("", 1, 0, 4),)}) is None
