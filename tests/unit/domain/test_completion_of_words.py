"""Completion over the shipped vocabulary, with the trade's other words for things."""

from __future__ import annotations

import pytest

from lapseam import places, plans
from lapseam.domain.completion import Offers, completions, named, offers_of


@pytest.fixture(scope="module")
def offers() -> Offers:
    folder = places.shot_plans() / "vocabulary"
    return offers_of(plans.load_vocabulary(folder), plans.load_search_words(folder))


@pytest.mark.parametrize(
    ("typed", "part"),
    [
        ("hoo", "hood"),
        ("bonnet", "hood"),
        ("boot li", "trunk-lid"),
        ("left ro", "left-rocker"),
        ("left side sill", "left-rocker"),
        ("LEFT, front fender", "left-front-fender"),
        ("left wing", "left-front-fender"),
        ("windscr", "windshield"),
    ],
)
def test_parts_are_found_by_either_side_of_the_ocean_s_words(offers: Offers, typed: str, part: str):
    assert part in [one.id for one in completions(typed, offers.parts)][:4]


@pytest.mark.parametrize(("typed", "kind"), [("chi", "paint-chip"), ("hole", "rust-perforation"), ("dent", "dent")])
def test_kinds_are_found_by_their_names_and_what_they_mean(offers: Offers, typed: str, kind: str):
    assert kind in [one.id for one in completions(typed, offers.kinds)]


def test_a_shifter_s_boot_is_no_trunk(offers: Offers):
    shifter = next(one for one in offers.parts if "shifter and boot" in one.name.lower())
    assert "trunk" not in shifter.also


def test_the_zone_s_own_parts_come_first_among_as_good_ones(offers: Offers):
    plain = completions("door", offers.parts)
    own = next(one for one in plain if one.id != plain[0].id)
    assert completions("door", offers.parts, first=[own.id])[0].id == own.id
    assert completions("", offers.parts, first=["trunk-lid"])[0].id == "trunk-lid"


def test_what_is_none_is_not_guessed(offers: Offers):
    assert completions("zebra", offers.parts) == ()
    assert named("zebra", offers.parts) is None
    assert named("dent", offers.kinds) is not None
    assert named("", offers.kinds) is None
