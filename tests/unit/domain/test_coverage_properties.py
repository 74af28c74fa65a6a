"""What must hold of any record whatever people did to it: drawn at random over the tiny plan."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from fakes import cars
from lapseam.domain.car import Car, car_from
from lapseam.domain.coverage import Coverage, State, check
from lapseam.domain.decision import PROGRAM, Closed, Placement, Sight, Slot, Sureness, Target, Tick, WaiverOf
from lapseam.domain.finding import FindingState
from lapseam.domain.photo import MediaKind
from lapseam.domain.signoff import NEVER_LIFTED, judge

SHOTS = cars.shots()
NAMES = tuple("abcdefgh")
PARTS = tuple(cars.vocabulary().components())
PEOPLE = st.sampled_from((cars.ANNA, cars.MIREK, cars.VERA, PROGRAM))
BETTER = {State.MISSED: 0, State.NOT_REACHABLE: 0, State.NOT_FITTED: 0, State.DECIDE: 0}
RANK = {**BETTER, State.TAKEN: 1, State.PARTLY: 2, State.COVERED: 3}


@st.composite
def photos(draw):
    """Some of the eight photos: sharp, soft or dark, still or clip, some of them takes of one view."""
    made = []
    for name in draw(st.lists(st.sampled_from(NAMES), unique=True)):
        view = draw(st.sampled_from(("0" * 16, "f" * 16, cars.sha(name)[:16])))
        read = cars.pixels(
            dhash=view,
            sharpness=draw(st.sampled_from((50.0, 2000.0))),
            mean_luma=draw(st.sampled_from((20.0, 100.0))),
        )
        media = draw(st.sampled_from((MediaKind.STILL, MediaKind.STILL, MediaKind.CLIP)))
        made.append(cars.photo(name, pixels=read, media=media))
    return made


@st.composite
def placements(draw):
    """Photos put on shots or aside, by people or the program, with or without a slot."""
    made = []
    for name in draw(st.lists(st.sampled_from(NAMES), unique=True)):
        shot = draw(st.sampled_from(SHOTS))
        slot = draw(st.sampled_from((None, Slot.CONTEXT, Slot.PROOF)))
        sureness = draw(st.sampled_from(Sureness))
        target = draw(st.sampled_from((Target.SHOT, Target.SHOT, Target.ASIDE)))
        by = cars.ANNA if sureness is Sureness.DECIDED else PROGRAM
        on = shot.id if target is Target.SHOT else ""
        made.append(Placement(cars.sha(name), target, by, cars.NOON, sureness, shot=on, slot=slot if on else None))
    return made


@st.composite
def ticks(draw):
    """Ticks on anything, by anybody: many of them worth nothing."""
    made = []
    for shot in draw(st.lists(st.sampled_from(SHOTS), max_size=6)):
        item = draw(st.sampled_from((*(one.id for one in shot.must), "no-such-item")))
        sight = draw(st.sampled_from((Sight.SEEN, Sight.SEEN, Sight.COATED)))
        made.extend(cars.ticked(shot, draw(st.sampled_from(NAMES)), item, sight=sight, by=draw(PEOPLE)))
    return made


@st.composite
def worn(draw) -> Car:
    """A complete car from which some rows are gone and over which some were laid."""
    car = cars.complete()
    rows = car.decisions()
    gone = draw(st.sets(st.integers(0, len(rows) - 1), max_size=4))
    kept = [row for place, row in enumerate(rows) if place not in gone]
    soft = draw(st.sets(st.sampled_from([photo.sha256 for photo in car.photos]), max_size=2))
    items = st.sampled_from(sorted({tick.item for tick in car.ticks}))
    unseen, claimed = draw(st.sets(items, max_size=2)), draw(st.sets(items, max_size=2))
    kept = [row for row in kept if not (isinstance(row, Tick) and row.item in unseen)]
    kept = [replace(row, by=PROGRAM) if isinstance(row, Tick) and row.item in claimed else row for row in kept]
    dark = {photo.sha256: cars.pixels(dhash=photo.pixels.dhash, mean_luma=20.0) for photo in car.photos}
    seen = [replace(photo, pixels=dark[photo.sha256]) if photo.sha256 in soft else photo for photo in car.photos]
    over = draw(st.lists(st.sampled_from(car.ticks), max_size=2, unique=True))
    coated = [replace(tick, sight=Sight.COATED) for tick in over]
    closed = [cars.closed(shot.id) for shot in draw(st.lists(st.sampled_from(SHOTS), max_size=1))]
    return car_from("T-8", car.plan, seen, (*kept, *coated, *closed), revision=1)


@st.composite
def loose(draw) -> Car:
    """A car of the tiny plan with anything decided."""
    answered = draw(st.lists(st.sampled_from(tuple(cars.ANSWERED)), unique=True))
    flags = {"torque_boxes": draw(st.booleans()), "vinyl_roof": draw(st.booleans())}
    rows = list(cars.facts(**{fact: value for fact, value in {**cars.ANSWERED, **flags}.items() if fact in answered}))
    rows += draw(placements())
    rows += draw(ticks())
    closed = draw(st.lists(st.sampled_from(SHOTS), max_size=2, unique=True))
    rows += [cars.closed(shot.id, draw(st.sampled_from(Closed))) for shot in closed]
    rows += [cars.looked(part) for part in draw(st.lists(st.sampled_from(PARTS), max_size=3, unique=True))]
    for number, part in enumerate(draw(st.lists(st.sampled_from(PARTS), max_size=3)), start=1):
        rows.append(cars.finding(number, part, state=draw(st.sampled_from(FindingState))))
    return car_from("T-9", cars.plan(), draw(photos()), rows, revision=len(rows))


def records() -> st.SearchStrategy[Car]:
    """Anything that people may have left behind: nearly complete, or anything at all."""
    return st.one_of(worn(), loose())


def states(coverage: Coverage) -> dict[str, State]:
    """Every state of the answer by what it is of."""
    return {
        **{f"shot {one.shot.id}": one.state for one in coverage.shots},
        **{f"component {one.component.id}": one.state for one in coverage.components},
        **{f"place {one.place.id}": one.state for one in coverage.places},
    }


@given(records())
def test_nothing_is_covered_without_a_persons_tick_on_every_item(car):
    here = {photo.sha256 for photo in car.photos}
    for covered in check(car).shots:
        ticked = {
            tick.item
            for tick in car.ticks
            if tick.shot == covered.shot.id and tick.sight is Sight.SEEN and tick.by != PROGRAM and tick.sha256 in here
        }
        if covered.state is State.COVERED:
            assert {item.id for item in covered.shot.must} <= ticked
            assert covered.accepted >= covered.shot.count


@given(records())
def test_a_covered_place_has_a_context_and_a_proof_frame(car):
    for covered in check(car).places:
        if covered.state is State.COVERED:
            assert covered.context
            assert covered.proof
            assert not set(covered.context) & set(covered.proof)


@given(records(), st.data())
def test_taking_a_tick_away_improves_nothing(car, data):
    if not car.ticks:
        return
    gone = data.draw(st.sampled_from(car.ticks))
    before = states(check(car))
    after = states(check(replace(car, ticks=tuple(tick for tick in car.ticks if tick != gone))))
    assert before.keys() == after.keys()
    worse = {name: (before[name], after[name]) for name in before if RANK[after[name]] > RANK[before[name]]}
    assert worse == {}


@given(records(), st.data())
def test_a_waiver_changes_no_state(car, data):
    subjects = {
        WaiverOf.SHOT: [shot.id for shot in SHOTS],
        WaiverOf.PLACE: list(car.plan.vocabulary.rust_places),
        WaiverOf.COMPONENT: list(PARTS),
        WaiverOf.FACT: list(car.plan.vocabulary.facts),
        WaiverOf.RULE: list(car.plan.vocabulary.signoff),
    }
    of = data.draw(st.sampled_from(WaiverOf))
    waived = car.with_decisions([cars.waived(of, data.draw(st.sampled_from(subjects[of])))])
    assert states(check(waived)) == states(check(car))
    assert len(check(waived).gaps) == len(check(car).gaps)


@given(records(), st.data())
def test_forgetting_a_fact_makes_nothing_vanish(car, data):
    if not car.facts:
        return
    forgotten = data.draw(st.sampled_from(sorted(car.facts)))
    facts = {fact: answer for fact, answer in car.facts.items() if fact != forgotten}
    known, unknown = check(car), check(replace(car, facts=facts))
    assert states(known).keys() <= states(unknown).keys()


@given(records())
def test_what_hangs_on_a_fact_waits_and_names_it(car):
    coverage = check(car)
    for covered in coverage.shots:
        assert (covered.state is State.DECIDE) == bool(covered.asks)
        assert set(covered.asks) <= set(coverage.unanswered)
    assert not set(coverage.unanswered) & set(car.facts)


@given(records())
def test_every_component_of_the_car_appears_once(car):
    ids = [covered.component.id for covered in check(car).components]
    assert len(ids) == len(set(ids))
    gone = {part for part, fact in (("roof-cloth", "vinyl_roof"), ("front-boxes", "torque_boxes")) if _false(car, fact)}
    assert set(ids) == set(PARTS) - gone


def _false(car: Car, fact: str) -> bool:
    return fact in car.facts and car.facts[fact].value is False


@given(records())
def test_every_open_shot_and_place_is_a_gap_and_nothing_else_is(car):
    coverage = check(car)
    settled = (State.COVERED, State.NOT_FITTED, State.NOT_REACHABLE)
    wanted = {("shot", one.shot.id) for one in coverage.shots if one.state not in settled}
    wanted |= {("place", one.place.id) for one in coverage.places if one.state not in settled}
    assert {(gap.of, gap.subject) for gap in coverage.gaps if gap.of != "component"} == wanted
    assert [gap.rank for gap in coverage.gaps] == sorted(gap.rank for gap in coverage.gaps)


@given(records(), st.lists(st.sampled_from(cars.BLOCKS + cars.WARNINGS), unique=True), PEOPLE)
@settings(max_examples=60)
def test_a_rule_is_lifted_only_if_liftable_and_by_a_manager(car, rules, by):
    waived = car.with_decisions([cars.waived(WaiverOf.RULE, rule, by=by) for rule in rules])
    plain = {one.rule.id: one for one in judge(car, check(car), cars.house(), today=cars.DAY)}
    for answer in judge(waived, check(waived), cars.house(), today=cars.DAY):
        lifted = answer.rule.id in rules and by == cars.VERA and answer.rule.id not in NEVER_LIFTED
        assert bool(answer.waived) == lifted
        assert answer.reasons == plain[answer.rule.id].reasons, "lifting hides no reason"
        assert answer.speaks == bool(answer.reasons)
