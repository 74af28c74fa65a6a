"""Proposals: anchors hold, retakes stay together, clocks are put right, and strong ones are honest."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta

import pytest

from bench.matching import anchors, every_fifth, measure, one_a_setup
from fakes import cars, demo_card
from lapseam.domain.capture import name_order, streams
from lapseam.domain.decision import Placement, Slot, Sureness, Target
from lapseam.domain.matching import propose
from lapseam.domain.photo import Photo

START = datetime(2026, 5, 12, 9)


def shot_at(name: str, second: float, *, focal: float | None = 60.0, model: str = "One", dhash: str = "") -> Photo:
    made = cars.photo(name, taken_at=START + timedelta(seconds=second))
    pixels = replace(made.pixels, dhash=dhash or made.pixels.dhash)
    return replace(made, camera=replace(made.camera, focal_35mm=focal, model=model), pixels=pixels)


def placed(photo: Photo, shot: str) -> Placement:
    return Placement(photo.sha256, Target.SHOT, cars.ANNA, START, Sureness.DECIDED, shot=shot)


@pytest.mark.parametrize("placed_by_hand", [[], one_a_setup(), every_fifth()], ids=["none", "setups", "fifth"])
def test_strong_proposals_on_the_demo_card_are_right(placed_by_hand: list[Photo]) -> None:
    figures = measure(anchors(placed_by_hand))
    assert figures.right[Sureness.STRONG] >= 0.95 * figures.given[Sureness.STRONG]
    assert figures.shots_top_5 >= 0.8 * figures.shots
    assert figures.seconds < 1.0


def test_some_proposals_are_strong_once_people_placed_every_fifth_photo() -> None:
    assert measure(anchors(every_fifth())).given[Sureness.STRONG] > 0


def test_one_frame_a_shot_in_order_lands_on_its_shot() -> None:
    photos = [shot_at("a", 0), shot_at("b", 20), shot_at("c", 400), shot_at("d", 425)]
    car = replace(cars.car(), photos=tuple(photos), placements={})
    got = {one.sha256: one.shot for one in propose(car)}
    assert got[photos[0].sha256] == "left-profile"
    assert got[photos[2].sha256] == "front-rails"


def test_decided_placements_hold_and_pull_their_retake_along() -> None:
    first, again = shot_at("a", 0), shot_at("b", 5, dhash=cars.photo("a").pixels.dhash)
    car = replace(cars.car(), photos=(first, again), placements={first.sha256: placed(first, "left-rocker")})
    (proposal,) = propose(car)
    assert proposal.sha256 == again.sha256
    assert (proposal.shot, proposal.slot) == ("left-rocker", Slot.CONTEXT)
    assert "retake" in proposal.reasons[0]


def test_an_anchor_out_of_order_breaks_nothing() -> None:
    photos = [shot_at(name, 20.0 * place) for place, name in enumerate("abcd")]
    wrong = {photos[0].sha256: placed(photos[0], "vin-plate"), photos[3].sha256: placed(photos[3], "left-profile")}
    proposals = propose(replace(cars.car(), photos=tuple(photos), placements=wrong))
    assert [one.sha256 for one in proposals] == [photos[1].sha256, photos[2].sha256]
    assert all(0.0 <= one.score <= 1.0 for one in proposals)


def test_a_longer_lens_on_a_rust_prone_shot_is_offered_as_the_proof() -> None:
    photo = shot_at("a", 0, focal=100.0)
    base = cars.car()
    plan = replace(base.plan, shots=tuple(shot for shot in base.plan.shots if shot.id == "left-rocker"))
    (proposal,) = propose(replace(base, plan=plan, photos=(photo,), placements={}))
    assert (proposal.shot, proposal.slot) == ("left-rocker", Slot.PROOF)
    assert "focal" in proposal.penalties
    assert any("100 mm" in reason for reason in proposal.reasons)


def test_a_plan_without_shots_gives_no_target() -> None:
    car = cars.car()
    car = replace(car, plan=replace(car.plan, shots=()), photos=(shot_at("a", 0),), placements={})
    (proposal,) = propose(car)
    assert proposal.target is None
    assert proposal.sureness is Sureness.WEAK
    assert proposal.reasons


def test_no_photos_no_proposals() -> None:
    assert propose(replace(cars.car(), photos=(), placements={})) == ()


def test_a_setup_card_is_no_shot_and_bounds_its_setup() -> None:
    card, photo = shot_at("card", 0), shot_at("a", 12)
    car = replace(cars.car(), photos=(card, photo), placements={})
    proposals = {one.sha256: one for one in propose(car, cards={card.sha256: "s2-lift"})}
    assert proposals[card.sha256].target is Target.EXTRA
    assert car.plan.shot(proposals[photo.sha256].shot).setup == "s2-lift"  # type: ignore[union-attr]


def test_names_order_by_number() -> None:
    assert sorted(["IMG_10.JPG", "IMG_9.JPG", "img_1.jpg"], key=name_order) == ["img_1.jpg", "IMG_9.JPG", "IMG_10.JPG"]


def test_a_wrong_clock_is_moved_beside_the_other_camera_s_run() -> None:
    main = [shot_at(f"m{n}", 20 * n) for n in range(10)] + [shot_at(f"n{n}", 1500 + 20 * n) for n in range(10)]
    phone = [shot_at(f"p{n}", 60 + 20 * n, model="Two") for n in range(4)]
    (frames,) = streams([*main, *phone])
    models = [frame.photo.camera.model for frame in frames]
    inside = models.index("Two")
    assert models[inside : inside + 4] == ["Two"] * 4
    assert inside in (0, 10)


def test_cameras_that_ran_at_once_are_two_streams() -> None:
    main = [shot_at(f"m{n}", 20 * n) for n in range(200)]
    other = [shot_at(f"p{n}", 10 + 20 * n, model="Two") for n in range(190)]
    assert [len(stream) for stream in streams([*main, *other])] == [200, 190]


def test_a_photo_without_time_stands_beside_its_neighbour_by_name() -> None:
    photos = [shot_at("x1", 0), shot_at("x2", 20), shot_at("x3", 40)]
    timeless = replace(photos[1], camera=replace(photos[1].camera, taken_at=None), modified_at=None)
    (frames,) = streams([photos[0], timeless, photos[2]])
    assert [frame.photo.name for frame in frames] == ["x1.jpg", "x2.jpg", "x3.jpg"]


def test_every_photo_of_the_demo_gets_exactly_one_proposal() -> None:
    figures = measure({})
    assert figures.photos == len(demo_card.photos())
