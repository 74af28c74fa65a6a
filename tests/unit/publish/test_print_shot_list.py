"""Shot lists on paper: every applicable shot is there with all its words; what is done takes one line."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from fakes import cars, demo_walk
from fakes.printed import bare, needs_poppler, pages, said_of
from lapseam import places
from lapseam.domain.car import Car
from lapseam.domain.condition import Condition
from lapseam.domain.coverage import State, check
from lapseam.domain.decision import PROGRAM, WaiverOf
from lapseam.plans import load_plan
from lapseam.publish import Paper, car_shot_list, plan_shot_list, shot_list_pdf
from lapseam.publish.print_sketch import Sketches
from lapseam.publish.print_words import condition_words, duration, fitting, metres, stand_words

ON = date(2026, 11, 25)


def printed(folder: Path, shown: object, paper: Paper = Paper.A4) -> Path:
    path = folder / f"list-{paper}.pdf"
    path.write_bytes(shot_list_pdf(shown, paper=paper, printed_on=ON))  # type: ignore[arg-type]
    return path


@needs_poppler
@pytest.mark.parametrize(("paper", "size"), [(Paper.A4, (595.28, 841.89)), (Paper.LETTER, (612.0, 792.0))])
def test_every_shot_of_the_plan_stands_on_the_paper_asked_for(
    tmp_path: Path, paper: Paper, size: tuple[float, float]
) -> None:
    plan = demo_walk.full_plan()
    pdf = printed(tmp_path, plan_shot_list(plan, printed_on=ON), paper)
    text = bare(" ".join(pages(pdf)))
    for shot in plan.shots:
        for words in (shot.title, shot.framing, shot.light, *(item.words for item in shot.must)):
            assert bare(words) in text, (shot.id, words)
    wide, high = map(float, re.findall(r"[\d.]+", said_of(pdf)["Page size"])[:2])
    assert (wide, high) == pytest.approx(size, abs=0.05)


@needs_poppler
def test_pages_are_numbered_of_all_and_headed_by_plan_and_setup(tmp_path: Path) -> None:
    plan = demo_walk.full_plan()
    pdf = printed(tmp_path, plan_shot_list(plan, printed_on=ON))
    told = pages(pdf)
    assert said_of(pdf)["Pages"] == str(len(told))
    assert 30 < len(told) < 60
    for number, page in enumerate(told, 1):
        assert f"Page {number} of {len(told)}" in page
        assert plan.title in page
    for number, setup in enumerate(plan.setups, 1):
        assert any(f"Setup {number} of {len(plan.setups)}: {setup.name}" in page for page in told)


@needs_poppler
def test_the_front_page_names_the_page_on_which_each_setup_begins(tmp_path: Path) -> None:
    plan = demo_walk.full_plan()
    told = pages(printed(tmp_path, plan_shot_list(plan, printed_on=ON)))
    for number, setup in enumerate(plan.setups, 1):
        row = re.search(rf"{number} {re.escape(setup.name)} {duration(setup.minutes)} \d+ (\d+)", told[0])
        assert row is not None, setup.name
        assert f"{number} {setup.name} About {duration(setup.minutes)}" in told[int(row[1]) - 1]


@needs_poppler
def test_a_caution_stands_in_full_on_every_page_that_has_a_shot_with_it(tmp_path: Path) -> None:
    plan = demo_walk.full_plan()
    told = pages(printed(tmp_path, plan_shot_list(plan, printed_on=ON)))
    for number, shot in enumerate(plan.shots, 1):
        page = next(
            page for page in told[1:] if re.search(rf"(?:^| ){number} (?:\d+ )?.*?{re.escape(shot.title)}", page)
        )
        for caution in shot.cautions:
            assert bare(plan.vocabulary.cautions[caution].text) in bare(page), (shot.id, caution)


@needs_poppler
def test_the_pdf_is_tagged_titled_and_dated(tmp_path: Path) -> None:
    pdf = printed(tmp_path, plan_shot_list(demo_walk.full_plan(), printed_on=ON))
    told = said_of(pdf)
    assert told["Tagged"] == "yes"
    assert told["Title"] == "Shot list: Full walkaround, closed car with a lift"
    assert b"pdfuaid:part" in pdf.read_bytes()


def test_the_same_words_day_and_paper_give_the_same_bytes() -> None:
    shown = plan_shot_list(cars.plan(), printed_on=ON)
    made = [shot_list_pdf(shown, paper=Paper.A4, printed_on=ON) for _ in range(2)]
    assert made[0] == made[1]
    assert made[0] != shot_list_pdf(shown, paper=Paper.A4, printed_on=date(2026, 11, 26))


def test_a_car_s_list_holds_what_applies_and_numbers_it_as_the_plan_does() -> None:
    car = demo_walk.until("s7-lift")
    coverage = check(car)
    shown = car_shot_list(car, coverage, printed_on=ON)
    entries = [entry for chapter in shown.chapters for entry in chapter.entries]
    numbers = {shot.title: number for number, shot in enumerate(car.plan.shots, 1)}
    assert [(entry.number, entry.title) for entry in entries] == [
        (numbers[line.shot.title], line.shot.title) for line in coverage.shots
    ]
    assert len(entries) < len(car.plan.shots)


def test_what_is_covered_closed_or_let_stand_takes_one_line() -> None:
    car = demo_walk.until("s7-lift")
    waived = next(line.shot.id for line in check(car).shots if line.state is State.MISSED)
    car = car.with_decisions([cars.waived(WaiverOf.SHOT, waived)])
    coverage = check(car)
    shown = car_shot_list(car, coverage, printed_on=ON)
    entries = {entry.title: entry for chapter in shown.chapters for entry in chapter.entries}
    for line in coverage.shots:
        entry = entries[line.shot.title]
        done = line.state in (State.COVERED, State.NOT_REACHABLE, State.NOT_FITTED) or bool(line.waived)
        assert entry.shut is done
        assert bool(entry.sketch) is not done
        if line.waived:
            assert entry.reason == f"missed, waived: {line.waived}."


def test_items_already_seen_and_frames_already_there_are_filled_in() -> None:
    car = demo_walk.until("s7-lift")
    line = next(line for line in check(car).shots if line.state is State.PARTLY and line.accepted < line.shot.count)
    shown = car_shot_list(car, check(car), printed_on=ON)
    entry = next(e for chapter in shown.chapters for e in chapter.entries if e.title == line.shot.title)
    assert entry.filled == line.accepted
    assert entry.boxes == line.shot.count
    assert [item.words for item in entry.must if not item.seen] == [
        item.words for item in line.shot.must if item.words in line.missing
    ]


def test_facts_that_shots_hang_on_are_asked_on_the_front_page() -> None:
    shown = car_shot_list(unanswered(), check(unanswered()), printed_on=ON)
    assert "torque boxes" in shown.answer_first


def unanswered() -> Car:
    car = demo_walk.until("s7-lift")
    return replace(car, facts={name: fact for name, fact in car.facts.items() if name != "torque_boxes"})


def test_a_plan_with_no_shot_and_a_car_with_nothing_left_still_print() -> None:
    empty = replace(cars.plan(), shots=())
    assert shot_list_pdf(plan_shot_list(empty, printed_on=ON), paper=Paper.A4, printed_on=ON).startswith(b"%PDF")
    done = cars.complete()
    assert shot_list_pdf(car_shot_list(done, check(done), printed_on=ON), paper=Paper.LETTER, printed_on=ON).startswith(
        b"%PDF"
    )


def test_every_open_shot_has_a_sketch_of_its_own() -> None:
    shown = plan_shot_list(demo_walk.full_plan(), printed_on=ON)
    sketches = [entry.sketch for chapter in shown.chapters for entry in chapter.entries]
    assert all(one.startswith("<svg") for one in sketches)
    assert len(set(sketches)) == len(sketches)


def test_the_sketch_is_of_the_car_s_own_form_and_side() -> None:
    car = demo_walk.new_car()
    first = next(shot for shot in car.plan.shots if shot.id == "ext-front-left")
    dash = next(shot for shot in car.plan.shots if shot.id == "dash-odometer")
    closed = Sketches(car.plan, {"body": "coupe"})
    assert closed.of(first) != Sketches(car.plan, {"body": "pickup"}).of(first)
    assert closed.of(dash) != Sketches(car.plan, {"body": "coupe", "steering_side": "right"}).of(dash)


@pytest.mark.parametrize("plan", sorted(places.shot_plans().glob("*.yaml")), ids=lambda path: path.stem)
def test_every_plan_that_ships_can_be_printed(plan: Path) -> None:
    shown = plan_shot_list(load_plan(plan), printed_on=ON)
    assert shot_list_pdf(shown, paper=Paper.LETTER, printed_on=ON).startswith(b"%PDF")


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("runs", "runs"),
        (
            "construction in ['x-frame', 'ladder-frame', 'tube-frame']",
            "construction is x-frame, ladder-frame or tube-frame",
        ),
        ("body not in ['pickup']", "body is not pickup"),
        ("model_year < 1981 or 'numbers-match' in ad_claims", "model year below 1981 or numbers-match in ad claims"),
        ("not vinyl_roof and doors == 2", "not vinyl roof and doors is 2"),
        ("(lift or gauge) and fuel != 'electric'", "(lift or gauge) and fuel is not electric"),
    ],
)
def test_conditions_are_said_as_people_say_them(text: str, words: str) -> None:
    assert condition_words(Condition(text)) == words


def test_lengths_stand_in_both_systems_and_stay_in_one_piece() -> None:
    assert metres(7) == "7\u00a0m (23\u00a0ft)"
    assert metres(0.3) == "0.3\u00a0m (12\u00a0in)"
    assert fitting(metres(0.3), 100) == metres(0.3)


def test_where_to_stand_is_said_in_words() -> None:
    shots = {shot.id: shot for shot in demo_walk.full_plan().shots}
    assert stand_words(shots["ext-front"].camera).startswith("Ahead of the nose, 7")
    assert stand_words(shots["under-tank"].camera).startswith("Under the raised car, below the tank, looking up, 0.6")


def test_a_frame_that_nobody_accepted_fills_no_box() -> None:
    car = cars.car([cars.photo("a")], cars.placed("left-profile", "a", by=PROGRAM))
    shown = car_shot_list(car, check(car), printed_on=ON)
    entry = next(e for chapter in shown.chapters for e in chapter.entries if e.number == 1)
    assert (entry.filled, entry.state) == (0, "taken")
