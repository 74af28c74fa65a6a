"""The gallery: its order, which takes are shown, and what is never shown."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

import pytest

from fakes import cars, demo_car
from lapseam.domain import coverage
from lapseam.domain.car import Car
from lapseam.domain.decision import Arranged, Lead, Placement, Release, Sight, Slot, Sureness, Target, Tick, Verdict
from lapseam.domain.finding import FindingState
from lapseam.domain.plan import PrivateSight
from lapseam.domain.sequence import Picture, gallery, numbers, pair_of, side_of
from lapseam.domain.showing import shown, withheld

AT = datetime(2026, 5, 13, 10)


@pytest.fixture
def demo() -> Car:
    return demo_car.noted()


def sequence(car: Car) -> tuple[Picture, ...]:
    return gallery(car, coverage.check(car))


def named(car: Car, picture: Picture) -> str:
    photo = car.photo(picture.sha256)
    assert photo is not None
    return photo.name


def digest(car: Car, name: str) -> str:
    return car.photos_called(name)[0].sha256


def test_hero_is_the_front_three_quarter_of_the_better_side_then_the_rear_from_the_other_corner(demo: Car) -> None:
    pictures = sequence(replace(demo, lead=None))
    assert [picture.shot for picture in pictures[:2]] == ["ext-front-left", "ext-rear-right"]
    assert [picture.group for picture in pictures[:3]] == ["gg-lead", "gg-lead", "gg-outside"]


def test_a_worse_left_side_moves_the_hero_to_the_right(demo: Car) -> None:
    moved = tuple(
        replace(one, component="left-rocker") if one.component == "right-rocker" else one for one in demo.findings
    )
    pictures = sequence(replace(demo, findings=moved, lead=None))
    assert [picture.shot for picture in pictures[:2]] == ["ext-front-right", "ext-rear-left"]


def test_a_person_s_lead_opens_the_gallery_but_never_a_flaw(demo: Car) -> None:
    chosen = replace(demo, lead=Lead(digest(demo, "EXO_4125.JPG"), "x", AT))
    assert named(demo, sequence(chosen)[0]) == "EXO_4125.JPG"
    flaw = replace(demo, lead=Lead(digest(demo, "EXO_4135.JPG"), "x", AT))
    assert named(demo, sequence(flaw)[0]) == "EXO_4117.JPG"


def test_a_person_s_order_holds_within_its_group_and_moves_nothing_else(demo: Car) -> None:
    usual = sequence(demo)
    inside = [one.sha256 for one in usual if one.group == "gg-inside" and not one.again]
    turned = (inside[3], inside[0], "0" * 64)
    pictures = sequence(replace(demo, arranged={"gg-inside": Arranged("gg-inside", turned, "x", AT)}))
    expected = [inside[3], inside[1], inside[2], inside[0], *inside[4:]]
    assert [one.sha256 for one in pictures if one.group == "gg-inside" and not one.again] == expected
    others = [one.sha256 for one in usual if one.group != "gg-inside"]
    assert [one.sha256 for one in pictures if one.group != "gg-inside"] == others


def test_a_close_frame_still_follows_its_context_in_an_order_of_our_own(demo: Car) -> None:
    usual = [one for one in sequence(demo) if not one.again]
    group = next(one.group for one in usual if named(demo, one) == "EXO_4135.JPG")
    inside = [one.sha256 for one in usual if one.group == group]
    order = Arranged(group, tuple(reversed(inside)), "x", AT)
    after = [one.sha256 for one in sequence(replace(demo, arranged={group: order})) if one.group == group]
    assert sorted(after) == sorted(inside)
    assert after != inside


def test_numbers_are_one_a_photo_and_the_flaws_stand_twice(demo: Car) -> None:
    pictures = sequence(demo)
    once = [picture for picture in pictures if not picture.again]
    again = [picture for picture in pictures if picture.again]
    assert [picture.number for picture in once] == list(range(1, len(once) + 1))
    assert {picture.group for picture in again} == {"gg-flaws"}
    table = numbers(once)
    assert all(table[picture.sha256] == picture.number for picture in again)
    shown_flaws = {number for picture in again for number in picture.findings}
    assert shown_flaws == {one.number for one in demo.findings if one.state is FindingState.OPEN}
    assert pictures[-1].again


def test_flaws_stand_by_severity(demo: Car) -> None:
    severities = {one.number: one.severity.rank for one in demo.findings}
    worst = [max(severities[number] for number in picture.findings) for picture in sequence(demo) if picture.again]
    assert worst == sorted(worst, reverse=True)


def test_three_orders_are_three_numbers(demo: Car) -> None:
    pictures = [picture for picture in sequence(demo) if not picture.again]
    orders = [[getattr(p, order) for p in pictures] for order in ("number", "shooting", "walk")]
    assert all(len(set(order)) == len(pictures) for order in orders)
    assert orders[0] != orders[1] != orders[2] != orders[0]


def test_groups_stand_in_order_whole_views_first_and_pairs_together(demo: Car) -> None:
    groups = [picture.group for picture in sequence(demo)]
    wanted = list(demo.plan.vocabulary.gallery_groups)
    assert [group for group in wanted if group in groups] == list(dict.fromkeys(groups))
    shots = [picture.shot for picture in sequence(demo)]
    assert shots.index("ext-left-profile") + 1 == shots.index("ext-right-profile")
    assert shots.index("cab-left-door") + 1 == shots.index("cab-right-door")
    assert shots.index("under-overall-front") < shots.index("well-left-front")


def test_a_close_frame_without_context_of_its_own_follows_its_finding_s_context(demo: Car) -> None:
    names = [named(demo, picture) for picture in sequence(demo) if not picture.again]
    assert names.index("EXO_4136.JPG") + 1 == names.index("EXO_4135.JPG")


def test_set_aside_and_held_photos_are_never_shown(demo: Car) -> None:
    aside = {p.sha256 for p in demo.placements.values() if p.target is Target.ASIDE}
    held = digest(demo, "EXO_4117.JPG")
    car = replace(demo, releases={**demo.releases, held: Release(held, Verdict.HOLD, "a face", "x", AT)})
    seen = {picture.sha256 for picture in sequence(car)}
    assert aside
    assert not aside & seen
    assert held not in seen
    assert [one.sha256 for one in withheld(car)] == [held]


def test_a_photo_that_may_show_a_plate_waits_for_a_person() -> None:
    car = cars.complete()
    plate = cars.sha("vin-plate")
    assert plate in {frame.sha256 for frame in shown(car)}
    waiting = replace(car, releases={})
    assert plate not in {frame.sha256 for frame in shown(waiting)}
    (one,) = withheld(waiting)
    assert (one.sha256, one.held) == (plate, False)
    assert PrivateSight.PLATE in one.sights


def test_an_extra_of_a_zone_whose_every_shot_is_private_waits_too() -> None:
    photo = cars.photo("tag")
    extra = Placement(photo.sha256, Target.EXTRA, cars.ANNA, AT, Sureness.DECIDED, zone="identity")
    car = cars.car([photo], extra)
    assert [one.sha256 for one in withheld(car)] == [photo.sha256]


def test_of_two_takes_of_one_view_the_ticked_one_is_shown() -> None:
    first, second = cars.photo("one", minute=0), cars.photo("two", minute=1)
    second = replace(second, pixels=replace(second.pixels, dhash=first.pixels.dhash, sharpness=9000.0))
    rows = [
        Placement(p.sha256, Target.SHOT, cars.ANNA, AT, Sureness.DECIDED, shot="left-profile") for p in (first, second)
    ]
    untouched = cars.car([first, second], rows)
    assert [frame.sha256 for frame in shown(untouched)] == [second.sha256]
    tick = Tick("left-profile", "whole-side", first.sha256, Sight.SEEN, cars.ANNA, AT)
    assert [frame.sha256 for frame in shown(cars.car([first, second], rows, tick))] == [first.sha256]


def test_where_nobody_decided_the_best_proposal_stands_and_says_so() -> None:
    photos = [cars.photo("one"), cars.photo("two", minute=1)]
    rows = [
        Placement(p.sha256, Target.SHOT, "lapseam", AT, Sureness.WEAK, shot="left-profile", score=score)
        for p, score in zip(photos, (0.2, 0.6), strict=True)
    ]
    (frame,) = shown(cars.car(photos, rows))
    assert (frame.sha256, frame.proposed) == (photos[1].sha256, True)
    decided = replace(rows[0], by=cars.ANNA, sureness=Sureness.DECIDED)
    (frame,) = shown(cars.car(photos, [decided, rows[1]]))
    assert (frame.sha256, frame.proposed) == (photos[0].sha256, False)


def test_context_comes_before_proof() -> None:
    car = cars.complete()
    slots = [picture.slot for picture in sequence(car) if picture.shot == "left-rocker" and not picture.again]
    assert slots in ([Slot.CONTEXT, Slot.PROOF], [])


def test_pairs_and_sides_come_from_the_id() -> None:
    assert pair_of("well-left-front") == pair_of("well-right-front") == "well-front"
    assert [side_of(shot) for shot in ("a-left", "a-right", "a")] == [0, 1, 2]


def test_nothing_to_show_is_an_empty_gallery() -> None:
    assert sequence(cars.car()) == ()
