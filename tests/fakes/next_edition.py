"""The demo car's next edition as it would stand, without a workspace."""

from __future__ import annotations

from datetime import UTC, datetime

from fakes import demo_car
from lapseam.domain import coverage, edition, signoff
from lapseam.domain.car import Car
from lapseam.domain.edition_draft import draft_for
from lapseam.domain.posting import OutletWishes
from lapseam.domain.selection import Outlet, TextForm, Wishes, choose
from lapseam.places import shot_plans
from lapseam.plans.outlet_rules import load_outlet_rules
from lapseam.workflow.arranging import InTheMaking
from lapseam.workflow.listing import ListingMade
from lapseam.workflow.outlets import OutletSet
from lapseam.workflow.signing import Review

MADE_AT = datetime(2026, 5, 14, 9, tzinfo=UTC)


def in_the_making(car: Car | None = None) -> InTheMaking:
    """The edition after none, unsigned, of the demo car or of another."""
    car = car or demo_car.noted()
    house = demo_car.house()
    covered = coverage.check(car)
    rules = signoff.judge(car, covered, house, today=MADE_AT.date())
    made = edition.build(car, covered, rules, house, number=1, made_at=MADE_AT, signed=None)
    return InTheMaking(Review(car, covered, rules, house, None), made)


def outlet_set(photos: int) -> OutletSet:
    """What an outlet called Weekly sheet gets of the demo car: so many photos, one of them wanted in by a person."""
    made = in_the_making()
    car, house = made.review.car, made.review.house
    draft = draft_for(car, made.review.coverage, made.review.rules, house, number=1, made_at=MADE_AT, signed=None)
    last = draft.pictures[9].sha256
    rules = load_outlet_rules(shot_plans() / "vocabulary")
    chosen = choose(draft.car, draft.coverage, draft.pictures, rules, photos, Wishes(pins=(last,)))
    captions = {one.sha256: one.caption for one in made.edition.gallery.pictures()}
    text = ListingMade(car.stock, "Weekly sheet", 0, TextForm.PLAIN, "", "", "1968 Talbrook Vesper", False, ())
    return OutletSet(
        Outlet("Weekly sheet", photos),
        chosen,
        tuple(captions[one.sha256] for one in chosen.pictures),
        False,
        text,
        wishes=OutletWishes("Weekly sheet", "lister", MADE_AT, pins=(last,)),
    )
