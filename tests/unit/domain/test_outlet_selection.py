"""Which photos an outlet gets: the optimum against brute force, and the hard rules of the trade on built cars."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fakes import demo_car
from lapseam import places
from lapseam.domain import coverage, sequence
from lapseam.domain.car import Car
from lapseam.domain.errors import Mistake
from lapseam.domain.finding import Finding, Severity
from lapseam.domain.selection import Selection, Why, Wishes, choose
from lapseam.domain.selection_optimum import Candidate, best_fill
from lapseam.domain.selection_pool import pool_of, size_mm
from lapseam.domain.selection_rules import NEVER_DROPPED
from lapseam.plans.outlet_rules import load_outlet_rules

RULES = load_outlet_rules(places.shot_plans() / "vocabulary")
LISTS = [row.limit for row in RULES.limits]


def by_force(candidates: Sequence[Candidate], weights: dict[str, int], most: int, unproving: int) -> tuple[str, ...]:
    """Every subset, tried: the fullest, then the heaviest, then the earliest."""
    tried = []
    for size in range(min(most, len(candidates)) + 1):
        for taken in combinations(range(len(candidates)), size):
            if sum(not candidates[at].proof for at in taken) <= unproving:
                shown = {one for at in taken for one in candidates[at].shows}
                tried.append((-size, -sum(weights.get(one, 0) for one in shown), taken))
    return tuple(candidates[at].id for at in min(tried)[2])


ELEMENTS = "abcdef"


@st.composite
def small_cases(draw: st.DrawFn) -> tuple[list[Candidate], dict[str, int], int, int]:
    shows = st.frozensets(st.sampled_from(ELEMENTS), max_size=4)
    rows = draw(st.lists(st.tuples(shows, st.booleans()), max_size=9))
    weights = {one: draw(st.integers(1, 12)) for one in draw(st.sets(st.sampled_from(ELEMENTS)))}
    candidates = [Candidate(f"p{at}", show, proof) for at, (show, proof) in enumerate(rows)]
    return candidates, weights, draw(st.integers(0, 10)), draw(st.integers(0, 10))


@settings(max_examples=400, deadline=None)
@given(small_cases())
def test_the_fill_is_what_brute_force_finds(case: tuple[list[Candidate], dict[str, int], int, int]) -> None:
    candidates, weights, most, unproving = case
    assert best_fill(candidates, weights, places=most, unproving=unproving) == by_force(*case)


def chosen_for(car: Car, limit: int, wishes: Wishes | None = None) -> Selection:
    covered = coverage.check(car)
    return choose(car, covered, sequence.gallery(car, covered), RULES, limit, wishes or Wishes())


def shas(selection: Selection) -> set[str]:
    return {one.sha256 for one in selection.pictures}


def shots(selection: Selection) -> set[str]:
    return {one.shot for one in selection.pictures}


def worse(car: Car, severities: Sequence[Severity]) -> Car:
    """The car with the severities of its first findings changed."""
    changed = (
        replace(one, severity=severities[at]) if at < len(severities) else one for at, one in enumerate(car.findings)
    )
    return replace(car, findings=tuple(changed))


def thinner(car: Car, keep: Sequence[bool]) -> Car:
    """The car without some of its photos."""
    photos = tuple(one for at, one in enumerate(car.photos) if at >= len(keep) or keep[at])
    return replace(car, photos=photos)


@settings(max_examples=25, deadline=None)
@given(st.lists(st.booleans(), min_size=80, max_size=80), st.integers(8, 16), st.integers(0, 60))
def test_what_the_lists_leave_free_is_used_as_brute_force_would(keep: list[bool], limit: int, offset: int) -> None:
    """On cars of few photos: of all ways to fill the places that no list, finding or proof takes, none shows more."""
    kept = [flag and offset <= at < offset + 22 for at, flag in enumerate(keep)]
    car = thinner(demo_car.noted(), kept)
    car = replace(car, photos=car.photos[: len(kept)])
    covered = coverage.check(car)
    pictures = sequence.gallery(car, covered)
    made = choose(car, covered, pictures, RULES, limit)
    pool = pool_of(car, covered, pictures, Wishes(), NEVER_DROPPED)
    known = {one.sha256: one for one in pool.pictures}
    forced = [known[one.sha256] for one in made.pictures if one.why is not Why.BEST_FILL]
    filled = [known[one.sha256] for one in made.pictures if one.why is Why.BEST_FILL]
    here = {one.sha256 for one in forced}
    left = [
        one for one in pool.pictures if one.sha256 not in here and (not pool.contexts(one) or pool.contexts(one) & here)
    ]

    def worth(chosen: Sequence[sequence.Picture]) -> int:
        shown = {element for one in forced for element in pool.shows(one)}
        return sum(pool.worth(element) for element in {e for one in chosen for e in pool.shows(one)} - shown)

    def plain(chosen: Sequence[sequence.Picture]) -> int:
        return sum(not pool.is_proof(one) for one in chosen)

    ways = combinations(left, min(len(filled), len(left)))
    assert worth(filled) >= max((worth(some) for some in ways if plain(some) <= plain(filled)), default=0)


def test_every_limit_of_the_demo_car_holds_the_one_before() -> None:
    before: set[str] = set()
    for limit in range(1, 101):
        now = shas(chosen_for(demo_car.noted(), limit))
        assert before <= now, limit
        assert len(now) <= limit
        before = now


@settings(max_examples=40, deadline=None)
@given(st.lists(st.sampled_from(Severity), max_size=13), st.lists(st.booleans(), max_size=80))
def test_lists_hold_the_list_before_and_what_is_never_dropped(severities: list[Severity], keep: list[bool]) -> None:
    car = thinner(worse(demo_car.noted(), severities), keep)
    covered = coverage.check(car)
    pictures = sequence.gallery(car, covered)
    before: set[str] = set()
    for limit in LISTS:
        made = choose(car, covered, pictures, RULES, limit)
        assert before <= shas(made)
        assert len(made.pictures) <= limit
        before = shas(made)
        held_to_the_five(car, pictures, made)


def held_to_the_five(car: Car, pictures: Sequence[sequence.Picture], made: Selection) -> None:
    """What the gallery has of the five is in the set; a clip is no picture for an outlet."""
    stills = {one.sha256 for one in car.photos if one.media.value == "still"}
    there = [one for one in pictures if one.sha256 in stills]
    for shot in NEVER_DROPPED:
        if any(one.shot == shot for one in there):
            assert shot in shots(made)
    pictured = {number for one in there for number in one.findings}
    flaws = [one for one in sequence.worst_first(car) if set(one.photos) & {p.sha256 for p in there}]
    ranks = [one.severity.rank for one in flaws if one.severity.rank >= Severity.STRUCTURAL.rank]
    shown = {number for one in made.pictures for number in one.findings}
    if ranks:
        assert any(one.number in shown for one in flaws if one.severity.rank == max(ranks))
    told = " ".join(made.overflow)
    for one in sequence.worst_first(car):
        assert one.number in shown or str(one.number) in told, pictured


def test_structural_findings_push_good_pictures_out_in_the_order_written() -> None:
    car = worse(demo_car.noted(), [Severity.STRUCTURAL] * 13)
    made = chosen_for(car, 12)
    assert "ext-right-profile" not in shots(made)
    assert {"ext-front-left", "under-overall-front", "under-overall-rear"} <= shots(made)
    assert all(f"Finding {one.number}," in " ".join(made.overflow) for one in unshown(car, made))
    assert "more finding" in " ".join(made.pictures[-1].adds)


def unshown(car: Car, made: Selection) -> list[Finding]:
    shown = {number for one in made.pictures for number in one.findings}
    return [one for one in sequence.worst_first(car) if one.number not in shown]


def test_two_underside_pictures_stand_among_the_first_twelve() -> None:
    made = chosen_for(demo_car.noted(), 40)
    assert sum(one.shot.startswith("under-") for one in made.pictures[:12]) >= 2
    assert [one.place for one in made.pictures] == list(range(1, len(made.pictures) + 1))


def test_a_close_frame_never_goes_without_a_context_frame() -> None:
    car = demo_car.noted()
    flaws = sequence.worst_first(car)
    wide = {sha256 for flaw in flaws for sha256 in flaw.context}
    for limit in (2, 5, 12, 20, 40):
        here = shas(chosen_for(car, limit))
        for flaw in flaws:
            if here & set(flaw.close) - wide:
                assert here & set(flaw.context), (limit, flaw.number)


def test_pins_bans_and_order_are_kept_and_the_rest_chosen_again() -> None:
    car = demo_car.noted()
    plain = chosen_for(car, 20)
    outside = next(p for p in sequence.gallery(car, coverage.check(car)) if p.sha256 not in shas(plain))
    banned = next(one for one in plain.pictures if one.shot == "ext-rear-left")
    first = plain.pictures[-1].sha256
    made = chosen_for(car, 20, Wishes(pins=(outside.sha256,), bans=(banned.sha256,), order=(first,)))
    assert next(one for one in made.pictures if one.sha256 == outside.sha256).why is Why.PINNED
    assert banned.sha256 not in shas(made)
    assert made.pictures[0].sha256 == first
    assert len(made.pictures) == 20
    assert made.conflicts == ()


def test_a_ban_on_what_is_never_dropped_is_not_kept_and_says_so() -> None:
    car = demo_car.noted()
    rear = next(one for one in chosen_for(car, 12).pictures if one.shot == "under-overall-rear")
    made = chosen_for(car, 12, Wishes(bans=(rear.sha256,)))
    assert rear.sha256 in shas(made)
    assert len(made.conflicts) == 1
    assert "It stays" in made.conflicts[0]


def test_more_pins_than_places_leave_what_is_never_dropped() -> None:
    car = demo_car.noted()
    pictures = [p.sha256 for p in sequence.gallery(car, coverage.check(car)) if not p.again]
    made = chosen_for(car, 12, Wishes(pins=tuple(pictures)))
    assert len(made.pictures) == 12
    assert {"under-overall-front", "under-overall-rear"} <= shots(made)
    assert any("was pinned" in words for words in made.conflicts)


def test_a_listed_shot_that_nobody_could_show_is_said() -> None:
    made = chosen_for(demo_car.noted(), 12)
    assert any(words.startswith("Odometer close") for words in made.unseen)


def test_what_could_not_be_reached_gives_its_place_to_a_rust_prone_shot_and_is_said() -> None:
    car = demo_car.noted()
    closing = next(one for one in car.closings.values() if one.shot == "floor-inner-sill")
    gone = {p.sha256 for p in car.placements.values() if p.shot == "trunk-floor-bare"}
    car = replace(
        car,
        closings={**car.closings, "trunk-floor-bare": replace(closing, shot="trunk-floor-bare")},
        photos=tuple(one for one in car.photos if one.sha256 not in gone),
    )
    made = chosen_for(car, 12)
    assert any(one.why is Why.PROOF for one in made.pictures)
    said = [words for one in made.pictures for words in one.adds if words.startswith("Not seen: ")]
    assert len(said) == 1
    assert closing.by not in said[0]


def test_no_photo_at_all_gives_an_empty_set_and_none_is_a_mistake() -> None:
    assert chosen_for(replace(demo_car.noted(), photos=()), 12).pictures == ()
    with pytest.raises(Mistake):
        chosen_for(demo_car.noted(), 0)


@pytest.mark.parametrize(
    ("extent", "longest"), [("about 150 × 120 mm", 150), ("12 cm long", 120), ("most of it", 0), ("2 in", 50.8)]
)
def test_sizes_are_read_from_extents(extent: str, longest: float) -> None:
    assert size_mm(extent) == longest
