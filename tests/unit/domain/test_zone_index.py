"""The condition page's index by zone counts what the page prints, and every photo's treatment is told once."""

from __future__ import annotations

import re
from dataclasses import replace

from fakes import demo_car
from lapseam.domain import coverage, edition, signoff
from lapseam.domain.car import Car
from lapseam.domain.edition import Edition


def built(car: Car) -> Edition:
    covered, house = coverage.check(car), demo_car.house()
    rules = signoff.judge(car, covered, house, today=demo_car.MADE_AT.date())
    return edition.build(car, covered, rules, house, number=1, made_at=demo_car.MADE_AT, signed=None)


def test_every_walked_zone_stands_there_in_walking_order() -> None:
    made = built(demo_car.noted())
    ribbon = [segment.name for segment in made.gallery.ribbon]
    assert [row.zone_name for row in made.disclosure.zones.rows] == ribbon


def test_the_index_names_every_open_finding_once_and_counts_every_gap() -> None:
    page = built(demo_car.noted()).disclosure
    printed = {shown.number: shown.zone_name for group in page.findings.rows for shown in group.findings}
    assert {one.number: row.zone_name for row in page.zones.rows for one in row.findings} == printed
    assert sum(len(row.findings) for row in page.zones.rows) == len(printed)
    named = {row.zone_name for row in page.zones.rows}

    def counted(words: str) -> int:
        return sum(int(n) for row in page.zones.rows for n in re.findall(rf"(\d+) {words}", row.words))

    assert counted("things? not seen") == sum(gap.zone_name in named for gap in page.not_seen.rows)
    assert counted("functions? not tested") == sum(gap.zone_name in named for gap in page.not_tested.rows)
    assert counted("measurements?") == 1
    nothing = counted("parts? looked at with nothing to report")
    assert nothing == len(page.nothing_found.rows) > 5


def test_a_zone_without_anything_says_so() -> None:
    made = built(replace(demo_car.bare(), revision=1))
    row = made.disclosure.zones.rows[0]
    assert row.found_words == "No finding on file"
    assert row.words.startswith("No photo shown; ")
    assert row.first_photo == 0


def test_every_photo_s_treatment_is_told_once() -> None:
    car = demo_car.noted()
    turned = {one.sha256 for one in car.photos if one.camera.orientation not in (None, 1)}
    made = built(car)
    lines = {line.label: line.words for line in made.disclosure.edits.rows}
    assert set(lines) == {"Turned upright, as the camera noted", "Upright as the camera wrote it", "Hidden or masked"}

    def numbers(words: str) -> list[int]:
        found: list[int] = []
        for first, last in re.findall(r"(\d+)(?: to (\d+))?", words):
            found.extend(range(int(first), int(last or first) + 1))
        return found

    told = {label: numbers(words) for label, words in lines.items() if "photo" in words.lower() and label[0] in "TU"}
    by_number = {photo.number: photo.sha256 for photo in made.photos}
    assert sorted(n for every in told.values() for n in every) == sorted(by_number)
    assert {by_number[n] for n in told["Turned upright, as the camera noted"]} == turned & set(by_number.values())
    assert lines["Hidden or masked"].startswith("Nothing in any photo shown")


def test_a_withheld_photo_is_counted() -> None:
    car = demo_car.noted()
    held = replace(car, releases={})
    words = [line.words for line in built(held).disclosure.edits.rows if line.label == "Hidden or masked"]
    assert re.search(r"; (\d+) photos are withheld whole$", words[0])
