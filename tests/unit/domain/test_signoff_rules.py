"""Every sign-off rule: silent on the complete car, speaking where its reason is there, lifted only where it may be."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest

from fakes import cars
from lapseam import places
from lapseam.domain.car import Car, House
from lapseam.domain.coverage import check
from lapseam.domain.decision import PROGRAM, Caption, Closed, Sight, Signoff, Slot, Verdict, WaiverOf
from lapseam.domain.finding import FindingState, Severity
from lapseam.domain.plan import CheckAsked, Claim, Component, Effect, SignoffRule
from lapseam.domain.signoff import (
    EVALUATORS,
    NEVER_LIFTED,
    PublicFacts,
    PublicOutlet,
    PublicSentence,
    RuleAnswer,
    can_sign,
    judge,
)
from lapseam.domain.statement import Basis, CheckResult, CheckVerdict, Evidence, Measurement, Reading
from lapseam.plans import load_vocabulary

SHOTS = {shot.id: shot for shot in cars.shots()}


def report(car: Car, house: House | None = None, public: PublicFacts | None = None, days: int = 1):
    """The answers by rule id, `days` after the photos."""
    answers = judge(car, check(car), house or cars.house(), today=cars.DAY + timedelta(days=days), public=public)
    return {answer.rule.id: answer for answer in answers}


def rule(car: Car, rule_id: str, **more) -> RuleAnswer:
    return report(car, **more)[rule_id]


def with_words(car: Car, **changes) -> Car:
    """The car on a plan whose vocabulary differs."""
    return replace(car, plan=replace(car.plan, vocabulary=replace(car.plan.vocabulary, **changes)))


def test_every_rule_of_the_data_has_an_evaluator_and_every_evaluator_a_rule():
    shipped = load_vocabulary(places.shot_plans() / "vocabulary").signoff
    assert set(shipped) == set(EVALUATORS)
    assert {rule_id for rule_id, one in shipped.items() if not one.liftable} <= NEVER_LIFTED
    assert {rule_id for rule_id, one in shipped.items() if one.effect is Effect.BLOCK} == set(cars.BLOCKS)


def test_a_rule_that_nobody_can_evaluate_speaks():
    car = with_words(cars.complete(), signoff={"so-new": SignoffRule("so-new", Effect.BLOCK, "Tools are put away")})
    assert rule(car, "so-new").reasons == ("The program cannot judge this rule; a person must: Tools are put away.",)
    assert rule(car, "so-new").blocks


def test_no_rule_speaks_on_the_complete_car_and_the_manager_can_sign():
    answers = report(cars.complete())
    assert {rule_id: answer.reasons for rule_id, answer in answers.items() if answer.speaks} == {}
    house = cars.house()
    assert can_sign(tuple(answers.values()), house.person(cars.VERA), house) == ()


def test_missed_shots_block_unless_optional_or_let_stand_by_a_manager():
    missed = rule(cars.car(), "so-missed-required")
    assert missed.reasons[0] == "Left profile: not photographed."
    assert not any("badge" in reason for reason in missed.reasons)
    by_manager = rule(cars.car([], cars.waived(WaiverOf.SHOT, "left-profile")), "so-missed-required")
    by_lister = rule(cars.car([], cars.waived(WaiverOf.SHOT, "left-profile", by=cars.MIREK)), "so-missed-required")
    assert len(by_manager.reasons) == len(missed.reasons) - 1
    assert by_lister.reasons == missed.reasons


def test_a_rust_prone_component_wants_both_frames_or_a_reason_and_a_name():
    def parts(*rows):
        return rule(cars.car([cars.photo("a"), cars.photo("b")], *rows), "so-rust-proof").reasons

    assert [reason.split(":")[0] for reason in parts()] == ["Left rocker", "Front rails", "Front boxes"]
    assert not any("Front rails" in reason for reason in parts(cars.closed("front-rails")))
    assert any("Front rails" in reason for reason in parts(cars.closed("front-rails", reason="")))
    assert not any("Front rails" in reason for reason in parts(cars.closed("front-rails", Closed.NOT_FITTED)))
    assert not any("Front rails" in reason for reason in parts(cars.waived(WaiverOf.COMPONENT, "front-rails")))
    assert not any("Front rails" in reason for reason in parts(cars.waived(WaiverOf.SHOT, "front-rails")))
    one = (cars.placed("front-rails", "a", slot=Slot.CONTEXT), cars.ticked(SHOTS["front-rails"], "a"))
    assert any("Front rails" in reason for reason in parts(*one))
    coated = (
        *one,
        cars.placed("front-rails", "b", slot=Slot.PROOF),
        cars.ticked(SHOTS["front-rails"], "a", sight=Sight.COATED),
        cars.ticked(SHOTS["front-rails"], "b", sight=Sight.COATED),
    )
    assert not any("Front rails" in reason for reason in parts(*coated)), "both frames are there; coating only warns"


def test_coating_over_structure_warns_by_component():
    rocker = SHOTS["left-rocker"]
    both = (
        cars.ticked(rocker, "left-rocker-context", sight=Sight.COATED),
        cars.ticked(rocker, "left-rocker-proof", sight=Sight.COATED),
    )
    answer = rule(cars.complete(*both), "so-hides-metal")
    assert answer.reasons == ("Left rocker: coating hides the metal (Left rocker).",)
    assert answer.warns
    assert not answer.blocks


def test_under_the_car_silence_blocks():
    silent = rule(cars.car(), "so-under-zone")
    assert [reason.split(":")[0] for reason in silent.reasons] == ["Front rails", "Front boxes"]
    dealt = cars.looked("front-rails"), cars.closed("front-boxes")
    assert not rule(cars.car([], *dealt), "so-under-zone").speaks


def test_a_fact_that_something_hangs_on_blocks():
    car = cars.car_from("T-2", cars.plan(), [], cars.facts(**{**cars.ANSWERED, "torque_boxes": True}), 1)
    assert not rule(car, "so-unknown-fact").speaks
    open_fact = cars.car_from("T-2", cars.plan(), [], cars.facts(skin="steel", construction="unibody"), 1)
    assert [reason.split(":")[0] for reason in rule(open_fact, "so-unknown-fact").reasons] == [
        "torque_boxes",
        "vinyl_roof",
    ]


def shown(number: int = 1, **changes):
    """A complete car with one finding whose frames are there."""
    frames = (cars.photo("context"), cars.photo("close"))
    car = cars.complete(cars.finding(number, "left-doors", **changes))
    return replace(car, photos=(*car.photos, *frames))


@pytest.mark.parametrize(
    ("changes", "lacks"),
    [
        ({"context": ()}, "a context frame"),
        ({"close": (cars.sha("elsewhere"),)}, "a close frame"),
        ({"place": " "}, "its place"),
        ({"extent": ""}, "its extent"),
        ({"context": (), "no_photo_reason": "no time"}, "a context frame"),
    ],
)
def test_a_finding_lacks_what_it_lacks(changes, lacks):
    assert rule(shown(**changes), "so-finding-photo").reasons == (f"Finding 1 on left-doors lacks {lacks}.",)


def test_a_smell_needs_no_photo_and_a_corrected_finding_nothing():
    assert not rule(shown(), "so-finding-photo").speaks
    smell = {"kind": "smell", "context": (), "close": (), "extent": "", "no_photo_reason": "a smell"}
    assert not rule(shown(**smell), "so-finding-photo").speaks
    assert rule(shown(**smell, place=""), "so-finding-photo").speaks
    assert not rule(shown(context=(), state=FindingState.CORRECTED), "so-finding-photo").speaks


def test_a_structural_finding_must_be_shown_or_named_at_every_outlet():
    structural = {"severity": Severity.STRUCTURAL}
    assert not rule(shown(**structural), "so-structural-shown").speaks
    assert rule(shown(**structural, context=(), close=()), "so-structural-shown").speaks
    assert not rule(shown(context=(), close=()), "so-structural-shown").speaks, "only cosmetic"
    outlets = {
        "shows": PublicOutlet(frozenset({cars.sha("close")})),
        "names": PublicOutlet(findings=frozenset({1})),
        "hides": PublicOutlet(frozenset({cars.sha("left-profile")})),
    }
    answer = rule(shown(**structural), "so-structural-shown", public=PublicFacts(outlets=outlets))
    assert answer.reasons == ("Finding 1 is structural, and hides neither shows nor names it.",)


def test_a_structural_finding_whose_only_frames_are_held_back_is_not_shown():
    held = cars.released("context", Verdict.HOLD), cars.released("close", Verdict.HOLD)
    car = shown(severity=Severity.STRUCTURAL).with_decisions(held)
    assert rule(car, "so-structural-shown").blocks


CLAIMS = {
    claim.id: claim
    for claim in (
        Claim("rust-free", "Rust-free", "No rust seen in the places photographed (list)", forbidden=True),
        Claim("original-paint", "Original paint", "Origin of the paint not known", ("measured: m-paint (panels)",)),
        Claim("restored", "Restored", "Refurbished; seen: {detail}", ("documented: receipts (dated)",)),
        Claim("unrestored", "Unrestored", "Much appears unrestored: {detail}", ("as for: original-paint",)),
        Claim("one-of", "One of N built", "Leave out", ("documented: factory-paper (figure)",)),
        Claim("works", "Everything works", "Works: (list)", ("tested: all-checks (each)",)),
        Claim("body-off", "Body-off or frame-off restoration", "Seller states it", ("seen: left-doors (bare)",)),
    )
}


def said(claim: str, *rows, **evidence) -> tuple[str, ...]:
    car = with_words(cars.complete(cars.statement(1, claim, **evidence), *rows), claims=CLAIMS)
    return rule(car, "so-claim").reasons


def test_a_forbidden_claim_blocks_however_it_is_written_and_whoever_said_it():
    for claim in ("A rust-free car", "RUST FREE throughout", "The seller calls it rust free."):
        assert "may not be claimed" in said(claim)[0]
    assert said("Rust-free", basis=Basis.TOLD, who_said="owner")[0].startswith("Statement 1: “Rust-free” may not")


def test_a_claim_without_its_evidence_blocks_and_says_what_to_say_instead():
    assert said("Original paint.") == (
        "Statement 1: “Original paint” is not proved; it needs measured: m-paint (panels). "
        "Say instead: Origin of the paint not known.",
    )
    reading = Measurement(
        1, "m-paint", "left-doors", (Reading("middle", "110", "um"),), cars.MIREK, cars.NOON, instrument="gauge"
    )
    assert said("Original paint.", reading) == ()


@pytest.mark.parametrize(
    "claim",
    [
        "Not restored.",
        "Much appears unrestored: seats and dash.",
        "One of the doors was painted.",
        "The left door was painted in 1998.",
        "No rust seen in the places photographed: rockers, floors",
    ],
)
def test_these_sentences_make_no_claim(claim):
    assert said(claim) == ()


@pytest.mark.parametrize("claim", ["Restored in 1998", "One of 500 built", "A frame-off restoration", "Unrestored car"])
def test_these_sentences_do(claim):
    assert [bool(reason) for reason in said(claim, cars.closed("left-profile"))] == [True]


def test_a_caption_is_held_against_the_record_like_a_statement():
    caption = Caption(cars.sha("wide"), "Original paint on the left door", cars.MIREK, cars.NOON)
    car = with_words(cars.complete(caption), claims=CLAIMS)
    against = rule(car, "so-claim").reasons
    assert against
    assert "is not proved; it needs measured: m-paint" in against[0]
    assert against[0].startswith("Caption of ")


def test_a_told_claim_is_the_tellers_and_a_document_proves_what_it_is_about():
    assert said("Restored, states the seller", basis=Basis.TOLD, who_said="owner before last") == ()
    paper = cars.statement(2, "Invoice", Basis.DOCUMENTED, "receipts", document="invoice", document_date="1998")
    assert said("Restored in 1998", paper) == ()
    undated = cars.statement(2, "Invoice", Basis.DOCUMENTED, "receipts", document="invoice")
    assert said("Restored in 1998", undated) != ()


def test_everything_works_only_if_every_check_that_applies_works():
    def horn(verdict):
        return CheckResult("chk-horn", verdict, cars.MIREK, cars.NOON)

    assert said("Everything works") != ()
    assert said("Everything works", horn(CheckVerdict.WORKS)) == ()
    assert said("Everything works", horn(CheckVerdict.INTERMITTENT)) != ()
    assert said("Everything works", horn(CheckVerdict.NOT_FITTED)) != (), "nothing was tested at all"


def test_promise_words_are_never_printed():
    assert said("Runs perfect, needs nothing") == (
        "Statement 1: “needs nothing” is a promise word and may not be printed.",
        "Statement 1: “perfect” is a promise word and may not be printed.",
    )


def test_a_told_statement_names_who_said_it_and_says_so_in_print():
    assert not rule(cars.complete(cars.statement(1, "x", Basis.TOLD, who_said="owner")), "so-told").speaks
    assert rule(cars.complete(cars.statement(1, "x", Basis.TOLD)), "so-told").reasons == (
        "Statement 1 was told, and not by whom.",
    )
    told = cars.finding(3, "left-doors", evidence=Evidence(Basis.TOLD))
    assert rule(cars.complete(told), "so-told").reasons == ("Finding 3 was told, and not by whom.",)
    printed = PublicFacts(
        sentences=(
            PublicSentence("Painted in 1995.", Basis.TOLD),
            PublicSentence("Painted, says the owner.", Basis.TOLD),
        )
    )
    assert len(rule(cars.complete(), "so-told", public=printed).reasons) == 1


def test_what_was_not_seen_or_tested_must_be_on_the_page():
    horn = CheckResult("chk-horn", CheckVerdict.NOT_TESTED, cars.MIREK, cars.NOON)
    assert rule(cars.complete(horn), "so-not-seen-list").reasons == ("Horn: not tested, and no reason is on file.",)
    assert not rule(cars.complete(replace(horn, reason="no-key")), "so-not-seen-list").speaks
    assert rule(cars.complete(replace(horn, reason="no-key")), "so-not-seen-list", public=PublicFacts()).speaks
    bare = rule(cars.car(), "so-not-seen-list", public=PublicFacts())
    listed = PublicFacts(
        not_seen=frozenset(part for part in cars.vocabulary().components()), not_tested=frozenset({"chk-horn"})
    )
    assert len(bare.reasons) == 7
    assert not rule(cars.car(), "so-not-seen-list", public=listed).speaks


@pytest.mark.parametrize(
    ("on_car", "on_paper", "reason"),
    [
        ("T0O1", "T001", "The serials differ at character 3: 'O' on the car, '0' on the paper."),
        ("T1", "T12", "The serials differ at character 3: nothing more on the car, '2' on the paper."),
        ("T1 ", "T1", "The serials differ at character 3: ' ' on the car, nothing more on the paper."),
        ("t1", "T1", "The serials differ at character 1: 't' on the car, 'T' on the paper."),
    ],
)
def test_serials_are_compared_exactly_as_written(on_car, on_paper, reason):
    assert rule(cars.complete(cars.serials(on_car, on_paper)), "so-identity").reasons == (reason,)


def test_a_serial_that_nobody_read_blocks():
    assert rule(cars.car([], cars.serials("T1", "T1")[:1]), "so-identity").reasons == (
        "The serial on the paper has not been read.",
    )


def test_a_withheld_photo_blocks_only_once_it_is_public():
    car = cars.complete()
    unseen = replace(car, releases={})
    public = PublicFacts(photos=frozenset({cars.sha("vin-plate"), cars.sha("left-profile")}))
    assert not rule(unseen, "so-privacy").speaks
    assert rule(unseen, "so-privacy", public=public).reasons == (
        "vin-plate.jpg may show a plate or stamp, and nobody has looked at it for that, and it is in the public files.",
    )
    assert not rule(car, "so-privacy", public=public).speaks
    held = car.with_decisions([cars.released("vin-plate", Verdict.HOLD)])
    assert rule(held, "so-privacy", public=public).speaks


def test_position_data_and_previews_in_public_files_block():
    public = PublicFacts(with_position=("01.jpg",), with_preview=("02.jpg",))
    assert rule(cars.complete(), "so-privacy", public=public).reasons == (
        "01.jpg still holds position data.",
        "02.jpg still holds an embedded preview.",
    )


def test_who_placed_photos_or_wrote_cannot_sign_unless_the_house_rule_says_so():
    house = cars.house()
    both = cars.complete(replace(cars.statement(1, "Blue car"), by=cars.VERA))
    answer = rule(both, "so-two-people")
    assert answer.reasons == ("Vera Lind is a manager and also wrote 1 statement; nobody else can sign.",)
    assert any(cars.VERA in reason for reason in can_sign((answer,), house.person(cars.VERA), house))
    alone = cars.house(one_person_firm=True)
    assert can_sign((rule(both, "so-two-people", house=alone),), alone.person(cars.VERA), alone) == ()
    lifted = rule(both.with_decisions([cars.waived(WaiverOf.RULE, "so-two-people")]), "so-two-people")
    assert can_sign((lifted,), house.person(cars.VERA), house) == ()


def test_an_unfit_signature_of_one_does_not_keep_another_from_signing():
    signed = replace(cars.complete(), signoff=Signoff(cars.ANNA, "manager", cars.NOON, "0" * 64))
    answer = rule(signed, "so-two-people")
    assert answer.reasons == ("Anna Tern signed and also placed 9 photos.",)
    assert can_sign((answer,), cars.house().person(cars.VERA), cars.house()) == ()


def test_a_one_person_firm_says_so_on_the_page():
    own = replace(cars.complete(), signoff=Signoff(cars.ANNA, "manager", cars.NOON, "0" * 64))
    firm = cars.house(one_person_firm=True)
    assert rule(own, "so-two-people", house=firm, public=PublicFacts()).speaks
    assert not rule(own, "so-two-people", house=firm, public=PublicFacts(says_one_person=True)).speaks


def test_a_proposal_of_the_program_is_nobodys_hand():
    rows = cars.placed("left-profile", "a", by=PROGRAM)
    assert rule(cars.car([cars.photo("a")], rows), "so-two-people").bars == ()


def test_photos_of_the_outside_go_stale_by_the_houses_days():
    assert not rule(cars.complete(), "so-stale-photo", days=90).speaks
    stale = rule(cars.complete(), "so-stale-photo", days=91)
    assert stale.reasons == (
        "5 views of the outside or underside are older than 90 days; the oldest is of 2026-05-12.",
    )
    assert not rule(cars.complete(), "so-stale-photo", days=91, house=cars.house(stale_photo_days=120)).speaks


def test_a_car_that_was_driven_since_its_photos_warns():
    def odometer(number, value, unit, days):
        readings = (Reading("dash", value, unit),)
        on = cars.DAY + timedelta(days=days)
        return Measurement(number, "m-odometer", "odometer", readings, cars.ANNA, cars.NOON, on=on)

    far = odometer(1, "48 213", "mi", 0), odometer(2, "48 613", "mi", 5)
    near = odometer(1, "48 213", "mi", 0), odometer(2, "48 413", "mi", 5)
    assert rule(cars.complete(*far), "so-stale-photo", days=6).reasons == (
        "The odometer has moved 644 km since the first of these photos.",
    )
    assert not rule(cars.complete(*near), "so-stale-photo", days=6).speaks
    assert rule(cars.complete(*near), "so-stale-photo", days=6, house=cars.house(stale_km=300)).speaks


def test_checks_and_readings_go_stale_and_untested_ones_do_not():
    horn = CheckResult("chk-horn", CheckVerdict.WORKS, cars.MIREK, cars.NOON, on=cars.DAY)
    assert not rule(cars.complete(horn), "so-stale-run", days=60).speaks
    assert rule(cars.complete(horn), "so-stale-run", days=61).reasons == ("Horn: of 2026-05-12, older than 60 days.",)
    untested = replace(horn, verdict=CheckVerdict.NOT_TESTED, reason="no-key")
    assert not rule(cars.complete(untested), "so-stale-run", days=61).speaks


def test_more_than_one_rust_prone_component_in_ten_out_of_reach_warns():
    assert rule(cars.complete(cars.closed("front-rails")), "so-many-unreached").reasons == (
        "1 of 3 rust-prone components were closed as not reachable.",
    )
    many = cars.complete(cars.closed("front-rails"))
    extra = tuple(Component(f"box-{n}", f"Box {n}", "left-side", rust=True) for n in range(7))
    side = many.plan.vocabulary.zones["left-side"]
    more = {**many.plan.vocabulary.zones, "left-side": replace(side, components=(*side.components, *extra))}
    assert not rule(with_words(many, zones=more), "so-many-unreached").speaks, "one in ten is not more than one in ten"


def test_want_of_time_is_said():
    horn = CheckResult("chk-horn", CheckVerdict.NOT_TESTED, cars.MIREK, cars.NOON, reason="no-time")
    answer = rule(cars.complete(horn, cars.closed("left-badge", reason="no-time")), "so-no-time")
    assert answer.reasons == ("Horn: not tested for want of time.", "left-badge: closed for want of time.")


def test_a_zone_without_a_good_word_warns():
    photo = cars.photo("a")
    quiet = cars.car([photo], cars.placed("left-profile", "a"))
    assert rule(quiet, "so-no-good-words").reasons == ("Left side: photographed, and nothing good recorded.",)
    good = cars.finding(1, "left-doors", kind="seam-good")
    assert not rule(quiet.with_decisions([good]), "so-no-good-words").speaks


def test_a_finding_on_one_side_wants_the_other_side_close():
    car = cars.complete(cars.finding(4, "left-rocker"))
    side = car.plan.vocabulary.zones["left-side"]
    right = Component("right-rocker", "Right rocker", "left-side")
    both = with_words(
        car,
        zones={**car.plan.vocabulary.zones, "left-side": replace(side, components=(*side.components, right))},
    )
    assert rule(both, "so-symmetry").reasons == (
        "Finding 4 is on Left rocker; its twin, Right rocker, has no accepted close frame.",
    )
    rocker = replace(SHOTS["left-rocker"], components=("left-rocker", "right-rocker"))
    shots = tuple(rocker if shot.id == "left-rocker" else shot for shot in both.plan.shots)
    assert not rule(replace(both, plan=replace(both.plan, shots=shots)), "so-symmetry").speaks
    assert not rule(car, "so-symmetry").speaks, "the car has no twin of it"


@pytest.mark.parametrize("rule_id", sorted(cars.BLOCKS))
def test_a_block_is_lifted_by_a_manager_where_it_may_be_and_by_nobody_else(rule_id):
    by_manager = rule(cars.car([], cars.waived(WaiverOf.RULE, rule_id)), rule_id)
    by_lister = rule(cars.car([], cars.waived(WaiverOf.RULE, rule_id, by=cars.MIREK)), rule_id)
    by_stranger = rule(cars.car([], cars.waived(WaiverOf.RULE, rule_id, by="Nobody Known")), rule_id)
    unreasoned = rule(cars.car([], cars.waived(WaiverOf.RULE, rule_id, reason=" ")), rule_id)
    assert by_manager.waived == ("" if rule_id in NEVER_LIFTED else "sold as seen (Vera Lind)")
    assert by_lister.waived == by_stranger.waived == unreasoned.waived == ""


def test_who_can_sign():
    house = cars.house()
    report_of = tuple(report(cars.car()).values())
    assert can_sign((), house.person(cars.MIREK), house) == ("Mirek Osoba is no manager, and only a manager signs.",)
    assert can_sign((), None, house) == ("Only a person of the house's list can sign.",)
    reasons = can_sign(report_of, house.person(cars.VERA), house)
    assert any(reason.startswith("so-identity: ") for reason in reasons)
    assert not any(reason.startswith("so-no-good-words") for reason in reasons), "a warning stops nobody"


def test_the_check_of_a_zone_the_car_does_not_have_is_not_asked():
    top = CheckAsked("chk-top", "Top", "cloth", (), "", "anyone")
    car = with_words(cars.complete(), checks={"chk-top": top})
    assert not rule(car, "so-not-seen-list", public=PublicFacts()).speaks
