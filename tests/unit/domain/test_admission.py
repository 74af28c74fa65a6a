"""The one gate into a record: what it lets in and what it refuses, in words."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import get_args

import pytest

from fakes import cars, demo_car
from lapseam.domain.admission import _against, objections, refused
from lapseam.domain.car import Car
from lapseam.domain.decision import (
    PROGRAM,
    Arranged,
    Caption,
    CarDetails,
    Closed,
    Closing,
    Decision,
    FactAnswer,
    Looked,
    Placement,
    Slot,
    Sureness,
    Target,
    Tick,
    Waiver,
    WaiverOf,
)
from lapseam.domain.finding import Mark, MarkShape
from lapseam.domain.plan import Effect, SignoffRule
from lapseam.domain.statement import Basis, CheckResult, CheckVerdict, Evidence, Measurement, Reading, Statement

NOON = cars.NOON
WHO = cars.ANNA


def car() -> Car:
    rocker = cars.plan().shot("left-rocker")
    assert rocker is not None
    frames = [cars.photo("wide"), cars.photo("near")]
    return cars.car(frames, cars.placed("left-rocker", "wide", slot=Slot.CONTEXT), cars.ticked(rocker, "wide"))


def said(decision: Decision) -> str:
    return "; ".join(objections(decision, car()))


def test_every_kind_of_decision_has_a_gate() -> None:
    ungated = [kind.__name__ for kind in get_args(Decision) if _against.dispatch(kind) is _against.dispatch(object)]
    assert ungated == []


@pytest.mark.parametrize("basis", list(Basis))
def test_a_basis_without_its_evidence_is_refused_whatever_it_is(basis: Basis) -> None:
    assert said(Statement(1, "paint", "Repainted once", Evidence(basis), WHO, NOON))


@pytest.mark.parametrize(
    "evidence",
    [
        Evidence(Basis.SEEN, photos=(cars.sha("wide"),), on=date(2026, 5, 12)),
        Evidence(Basis.MEASURED, instrument="tape", on=date(2026, 5, 12)),
        Evidence(Basis.TESTED, conditions="warm, standing", on=date(2026, 5, 12)),
        Evidence(Basis.DOCUMENTED, document="invoice", document_date="2021"),
        Evidence(Basis.TOLD, who_said="owner before last", on=date(2026, 5, 12)),
        Evidence(Basis.NOT_CHECKED, reason="no-time"),
    ],
    ids=lambda evidence: evidence.basis.value,
)
def test_a_basis_with_its_evidence_comes_in(evidence: Evidence) -> None:
    assert said(Statement(1, "paint", "Repainted once", evidence, WHO, NOON)) == ""


def test_a_photo_of_another_car_is_no_evidence() -> None:
    evidence = Evidence(Basis.SEEN, photos=(cars.sha("elsewhere"),), on=date(2026, 5, 12))
    assert "not among this car's photos" in said(Statement(1, "paint", "Blue", evidence, WHO, NOON))


def test_the_program_decides_nothing() -> None:
    assert "only a person" in said(CarDetails(PROGRAM, NOON))
    proposal = Placement(cars.sha("near"), Target.SHOT, PROGRAM, NOON, Sureness.STRONG, shot="left-rocker")
    assert said(proposal) == ""
    assert "only a person" in said(replace(proposal, sureness=Sureness.DECIDED))


def test_nobody_decides_nothing() -> None:
    assert "nobody's name" in said(FactAnswer("lift", True, " ", NOON))


def test_a_tick_needs_the_frame_on_its_shot() -> None:
    rocker = cars.plan().shot("left-rocker")
    assert rocker is not None
    stray = Tick("left-rocker", rocker.must[0].id, cars.sha("near"), cars.Sight.SEEN, WHO, NOON)
    assert "place it there first" in said(stray)


def test_a_batch_may_place_and_tick_together() -> None:
    rocker = cars.plan().shot("left-rocker")
    assert rocker is not None
    batch = [*cars.ticked(rocker, "near"), *cars.placed("left-rocker", "near", slot=Slot.PROOF)]
    assert refused(batch, car()) == ()
    assert len(refused(batch[:-1], car())) == len(rocker.must)


def test_only_a_rust_shot_has_proof_slots() -> None:
    (placement,) = cars.placed("left-profile", "near", slot=Slot.PROOF)
    assert "proves no rust-prone place" in said(placement)


def test_nothing_found_needs_a_ticked_frame() -> None:
    assert "ticked" in said(Looked("left-rocker", WHO, NOON, (cars.sha("near"),)))
    assert "ticked" in said(Looked("left-rocker", WHO, NOON))
    assert said(Looked("left-rocker", WHO, NOON, (cars.sha("wide"),))) == ""


def test_not_reachable_needs_a_reason_of_the_list() -> None:
    assert "reason" in said(Closing("left-rocker", Closed.NOT_REACHABLE, WHO, NOON, reason="bored"))
    assert "reason" in said(Closing("left-rocker", Closed.NOT_REACHABLE, WHO, NOON))


def test_a_rule_that_cannot_be_lifted_is_not() -> None:
    fixed = SignoffRule("so-identity", Effect.BLOCK, "Serials compared", liftable=False)
    words = cars.vocabulary()
    strict = cars.car([], plan=cars.plan(vocabulary=replace(words, signoff={**words.signoff, fixed.id: fixed})))
    lifted = Waiver(WaiverOf.RULE, "so-identity", "in a hurry", WHO, NOON)
    assert "cannot be lifted" in "; ".join(objections(lifted, strict))
    assert said(Waiver(WaiverOf.RULE, "so-rust-proof", "sold as seen", WHO, NOON)) == ""
    assert "empty" in said(Waiver(WaiverOf.RULE, "so-rust-proof", " ", WHO, NOON))


def test_not_tested_says_why() -> None:
    check = next(iter(cars.plan().vocabulary.checks))
    assert "reason" in said(CheckResult(check, CheckVerdict.NOT_TESTED, WHO, NOON))
    assert "day" in said(CheckResult(check, CheckVerdict.WORKS, WHO, NOON))


def test_a_measurement_says_place_unit_and_instrument() -> None:
    bare = Measurement(1, "m-tread", "left-rocker", (Reading("left front", "6.5", ""),), WHO, NOON)
    told = said(bare)
    for word in ("unit", "instrument", "day"):
        assert word in told


@pytest.mark.parametrize("box", [(0.9, 0.1, 0.2, 0.1), (-0.1, 0, 0.2, 0.2), (0.1, 0.1, 0.0, 0.1)])
def test_a_mark_lies_inside_its_picture(box: tuple[float, float, float, float]) -> None:
    whole = cars.finding(1, "left-rocker")
    shown = replace(whole, close=(cars.sha("near"),), marks=(Mark(cars.sha("near"), MarkShape.BOX, *box),))
    assert "mark" in said(shown) or "box" in said(shown)


def test_unknown_words_get_a_suggestion() -> None:
    assert "did you mean" in said(FactAnswer("skni", "steel", WHO, NOON))


@pytest.mark.parametrize(
    ("words", "against"),
    [
        ("Left rocker, rear third, looking forward", ""),
        ("Surface rust behind the left rear wheel", ""),
        ("  ", "is empty"),
        ("x" * 301, "longer than 300 characters"),
        ("Left side\nRight side", "one line"),
        ("Perfect paint, guaranteed rust-free", "promise"),
    ],
)
def test_a_caption_is_one_short_line_that_promises_nothing(words: str, against: str) -> None:
    told = said(Caption(cars.sha("wide"), words, WHO, NOON))
    assert told == "" if not against else against in told


def test_an_order_names_two_photos_or_more_of_a_group_that_people_may_order() -> None:
    both = (cars.sha("wide"), cars.sha("near"))
    shipped = replace(car(), plan=demo_car.bare().plan)

    def told(group: str, photos: tuple[str, ...]) -> str:
        return "; ".join(objections(Arranged(group, photos, WHO, NOON), shipped))

    assert told("gg-outside", both) == ""
    assert "no gallery group is called" in told("gg-outsde", both)
    assert "follows from the record" in told("gg-flaws", both)
    assert "follows from the record" in told("gg-lead", both)
    assert "two photos or more" in told("gg-outside", both[:1])
    assert "two photos or more" in told("gg-outside", (both[0], both[0]))
    assert "not among this car's photos" in told("gg-outside", (both[0], cars.sha("elsewhere")))
