"""The Yard's screen as a value, and the facts of a car."""

from __future__ import annotations

from dataclasses import replace

from fakes import cars
from fakes.demo_walk import new_car, noted_car
from lapseam.desktop.screens.yard.new_car import NewCar, new_car_of
from lapseam.desktop.screens.yard.state import asked_facts, facts_screen, yard_screen
from lapseam.domain.coverage import check


def test_an_empty_yard_says_what_to_do_next():
    screen = yard_screen(())
    assert screen.cars == ()
    assert all(screen.empty)


def test_cars_with_open_shots_come_first_and_say_where_to_go_on():
    done, fresh = cars.complete(), replace(cars.car(), stock="T-2")
    screen = yard_screen([(done, check(done)), (fresh, check(fresh))])
    assert screen.cars[0].stock == "T-2"
    assert screen.cars[0].resume_words == "Begin at: Left profile"
    assert screen.headline == "2 cars"


def test_a_car_without_a_name_says_so_and_one_half_walked_goes_on():
    card = yard_screen([(noted_car(), check(noted_car()))]).cars[0]
    assert card.title == "1968 Talbrook Vesper"
    assert card.resume_words.startswith("Go on at: ")
    bare = cars.car()
    assert yard_screen([(bare, check(bare))]).cars[0].title == "Not named yet"


def test_facts_that_shots_wait_for_come_first_and_unknown_is_chosen_for_them():
    car = new_car()
    rows = facts_screen(car, check(car)).rows
    waiting = [row.waiting for row in rows if len(row.question.choices) <= 3]
    assert waiting == sorted(waiting, reverse=True)
    assert rows[0].question.fact == "carpet_lifts"
    assert rows[0].question.choices[rows[0].question.chosen].words == "Unknown"


def test_facts_that_no_condition_asks_are_left_out_unless_answered():
    car = new_car()
    shown = {row.question.fact for row in facts_screen(car, check(car)).rows}
    assert shown >= set(car.facts)
    assert shown - set(car.facts) <= asked_facts(car.plan)
    assert "carpet_lifts" in asked_facts(car.plan)


def test_a_new_car_needs_its_stock_number_and_a_year_of_four_figures():
    assert new_car_of(" T-9 ", "1968", "Talbrook", "", "p") == NewCar("T-9", "p", 1968, "Talbrook", "")
    assert new_car_of("T-9", "", "", "", "p") == NewCar("T-9", "p")
    assert isinstance(new_car_of("", "1968", "", "", "p"), str)
    assert isinstance(new_car_of("T-9", "68", "", "", "p"), str)
    assert isinstance(new_car_of("T-9", "", "", "", ""), str)
