"""Car files: what a house knows at the start becomes details, facts and people; a broken one is refused with places."""

from __future__ import annotations

import hashlib
from datetime import datetime
from pathlib import Path

import pytest

from fakes.plan_folder import write_plan_folder
from lapseam.domain.car import Car, Person
from lapseam.domain.decision import CarDetails, FactAnswer
from lapseam.domain.errors import PlanBroken
from lapseam.domain.photo import CameraReadings, MediaKind, Photo, PixelReadings
from lapseam.domain.plan import Vocabulary
from lapseam.places import demo_assets, shot_plans
from lapseam.plans import load_plan, load_vocabulary, read_car_file, read_notes

NOON = datetime(2026, 5, 14, 12, 0)

GOOD = """\
stock: 0114
car: {year: 1968, make: Talbrook, model: Vesper, trim: two-door hardtop, colour: blue, interior: tan}
serial: 0020477
odometer: {reading: 48213, unit: mi, digits: 5, status: "as shown"}
facts: {body: coupe, doors: 2, sunroof: false, ad_claims: []}
house: {name: Saltmarsh Lane Collector Cars, units: [mi, in], one_person_firm: true}
people:
  - {name: Ada Lindqvar, roles: [photographer, lister]}
"""


@pytest.fixture
def words(tmp_path: Path) -> Vocabulary:
    return load_vocabulary(write_plan_folder(tmp_path / "plans").vocabulary)


def written(tmp_path: Path, text: str) -> Path:
    path = tmp_path / "facts.yaml"
    path.write_text(text, encoding="utf-8")
    return path


def test_a_good_file_becomes_details_facts_and_house(tmp_path: Path, words: Vocabulary) -> None:
    file = read_car_file(written(tmp_path, GOOD), words)
    assert file.stock == "0114", "a stock number is words, however it is written"
    details = file.details("Ada Lindqvar", NOON)
    assert details.title == "1968 Talbrook Vesper"
    assert (details.serial, details.odometer_reading, details.odometer_unit) == ("0020477", 48213, "mi")
    assert file.answers("Ada Lindqvar", NOON)[1] == FactAnswer("doors", 2, "Ada Lindqvar", NOON)
    assert file.house.people == (Person("Ada Lindqvar", ("photographer", "lister")),)
    assert (file.house.one_person_firm, file.house.stale_photo_days) == (True, 90)


def test_what_is_left_out_is_not_invented(tmp_path: Path) -> None:
    file = read_car_file(written(tmp_path, "stock: A-1\n"))
    assert file.details("x", NOON) == CarDetails(by="x", at=NOON)
    assert file.facts == {}


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ("stock: 0114\n", "", "1:1: needs 'stock': the stock number (wanted: text of at most 40 characters)"),
        ("year: 1968", "year: 68", "2:13: car.year: '68' is out of range (wanted: a whole number from 1880 to 2100)"),
        ("colour:", "color:", "2:74: car: unknown key 'color' (it is called 'colour')"),
        ("unit: mi,", "unit: miles,", "4:34: odometer.unit: 'miles' is not one of: mi, km (write one of them)"),
        (
            "body: coupe",
            "body: cope",
            "5:15: facts.body: 'cope' is not one of the words of 'body': coupe, sedan, pickup, motorcycle "
            "(did you mean 'coupe'?)",
        ),
        ("sunroof: false", "sunrof: false", "5:40: facts.sunrof: there is no fact 'sunrof' (did you mean 'sunroof'?)"),
        ("doors: 2", "doors: 2, doors: 4", "5:32: facts: the fact 'doors' is answered twice (take one of them out)"),
        (
            "[photographer,",
            "[fotographer,",
            "8:34: people.Ada Lindqvar.roles: 'fotographer' is not one of: photographer, lister, manager, phone, "
            "mechanic, clerk, dispatcher (did you mean 'photographer'?)",
        ),
    ],
)
def test_a_broken_file_is_told_with_its_place(tmp_path: Path, words: Vocabulary, old: str, new: str, told: str) -> None:
    assert old in GOOD
    with pytest.raises(PlanBroken) as caught:
        read_car_file(written(tmp_path, GOOD.replace(old, new, 1)), words)
    assert caught.value.problems == (f"facts.yaml:{told}",)


def test_the_demo_cars_files_are_good() -> None:
    plan = load_plan(shot_plans() / "hardtop-full.yaml")
    car = read_car_file(demo_assets() / "facts.yaml", plan.vocabulary)
    pixels = PixelReadings(1.0, 1.0, 100.0, 0.0, 0.0, "0" * 16)
    photos = tuple(
        Photo(
            hashlib.sha256(path.read_bytes()).hexdigest(),
            path.name,
            path.stat().st_size,
            MediaKind.STILL,
            "JPEG",
            400,
            300,
            CameraReadings(),
            pixels,
        )
        for path in sorted((demo_assets() / "card").iterdir())
    )
    people = tuple(person.name for person in car.house.people)
    notes = read_notes(demo_assets() / "notes.yaml", Car(car.stock, plan, photos), at=NOON, people=people)
    assert len(notes.decisions) > 50
