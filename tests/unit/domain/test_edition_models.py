"""Editions: whole pages for the demo car, no person's name anywhere, gaps as large as findings, honest JSON-LD."""

from __future__ import annotations

import json
import re
from dataclasses import fields, is_dataclass, replace
from datetime import date, datetime
from typing import Any

import pytest

from fakes import cars, demo_car
from lapseam.domain import coverage, signoff
from lapseam.domain.car import Car, House
from lapseam.domain.coverage import State
from lapseam.domain.decision import (
    CarDetails,
    Closed,
    Closing,
    Looked,
    Placement,
    Release,
    Signoff,
    Sureness,
    Target,
    Verdict,
    Waiver,
    WaiverOf,
)
from lapseam.domain.edition import Edition, build
from lapseam.domain.finding import Finding, FindingState, Mark, MarkShape, PartOrigin, PartWork, Severity
from lapseam.domain.jotting import Jotting
from lapseam.domain.photo import MediaKind
from lapseam.domain.statement import (
    Basis,
    CheckResult,
    CheckVerdict,
    Evidence,
    Measurement,
    Reading,
    SerialPlace,
    SerialReading,
    Statement,
)

AT = demo_car.MADE_AT


def made(car: Car, house: House | None = None, **changes: Any) -> Edition:
    house = house or demo_car.house()
    covered = coverage.check(car)
    rules = signoff.judge(car, covered, house, today=AT.date())
    return build(car, covered, rules, house, **{"number": 1, "made_at": AT, "signed": None, **changes})


@pytest.fixture(scope="module")
def demo() -> Edition:
    return made(demo_car.noted())


def texts(value: Any) -> list[str]:
    """Every text anywhere in a model."""
    if isinstance(value, str):
        return [str(value)]
    if isinstance(value, dict):
        return [text for key, inner in value.items() for text in (*texts(key), *texts(inner))]
    if isinstance(value, list | tuple):
        return [text for inner in value for text in texts(inner)]
    if is_dataclass(value):
        return [text for one in fields(value) for text in texts(getattr(value, one.name))]
    return []


def full_of_names() -> tuple[Car, House]:
    """A car whose every free text holds a person's name."""
    people = cars.house()
    name, photo, at = cars.ANNA, cars.photo("profile"), cars.NOON
    words = f"as {name} said"
    evidence = Evidence(Basis.DOCUMENTED, (photo.sha256,), cars.DAY, words, words, words, words, words, words, words)
    finding = Finding(
        number=1,
        component="left-doors",
        kind="rust-surface",
        place=words,
        severity=Severity.UNSAFE,
        evidence=evidence,
        by=name,
        at=at,
        extent=words,
        count=2,
        detail=words,
        context=(photo.sha256,),
        marks=(Mark(photo.sha256, MarkShape.POINT, 0.5, 0.5),),
        origin=PartOrigin.AFTERMARKET,
        work=PartWork.REPAIRED,
        no_photo_reason=words,
        note=words,
    )
    closed = replace(finding, number=2, state=FindingState.REPAIRED, state_reason=words)
    details = CarDetails(name, at, 1968, words, words, words, words, words, "S-1", 12, "mi", 5, words)
    rows = [
        Placement(photo.sha256, Target.SHOT, name, at, Sureness.DECIDED, shot="left-profile"),
        finding,
        closed,
        details,
        CheckResult("own-horn", CheckVerdict.WORKS, name, at, words, "", words, words, "", cars.DAY, (photo.sha256,)),
        CheckResult("own-clock", CheckVerdict.NOT_TESTED, name, at, words, words, words, words),
        Measurement(1, "m-own", words, (Reading(words, "6", "mm"),), name, at, words, words, "", cars.DAY, words),
        Statement(1, words, words, evidence, name, at, words),
        Statement(2, words, words, replace(evidence, basis=Basis.TOLD), name, at, words),
        Statement(3, words, words, replace(evidence, basis=Basis.NOT_CHECKED), name, at, words),
        Looked("left-trim", name, at, (photo.sha256,)),
        Closing("front-rails", Closed.NOT_REACHABLE, name, at, words, words),
        Waiver(WaiverOf.SHOT, "left-rocker", words, name, at),
        Waiver(WaiverOf.FACT, "vinyl_roof", words, name, at),
        Waiver(WaiverOf.RULE, "so-told", words, cars.VERA, at),
        Release(photo.sha256, Verdict.SHOW, words, name, at),
        SerialReading(SerialPlace.CAR, "T0O1", name, at, (photo.sha256,)),
    ]
    return cars.car([photo], rows), people


def test_no_person_s_name_reaches_any_public_model() -> None:
    car, house = full_of_names()
    signed = Signoff(cars.VERA, "manager", AT, "0" * 64)
    for signature in (None, signed):
        edition = made(car, house, signed=signature)
        everything = "\n".join(
            [*texts(edition), json.dumps(edition.record.as_dict()), json.dumps(dict(edition.json_ld))]
        )
        for person in house.people:
            assert person.name not in everything
        assert "the photographer" in everything


def test_a_note_that_is_no_finding_yet_is_in_no_public_model() -> None:
    car = demo_car.bare()
    noted = car.with_decisions([Jotting(1, "front", "perhaps a zebra sat on it", "Ann", AT)])
    assert not [text for text in texts(made(noted)) if "zebra" in text.lower()]
    assert len(noted.jottings) == 1


def test_positions_camera_serials_and_found_paths_are_nowhere(demo: Edition) -> None:
    everything = " ".join(texts(demo)) + json.dumps(demo.record.as_dict())
    assert "EXO_" not in everything
    assert "has_position" not in everything
    assert "Example Optics" not in everything


def test_the_record_is_plain_json_and_round_trips(demo: Edition) -> None:
    plain = demo.record.as_dict()
    assert json.loads(json.dumps(plain, allow_nan=False)) == plain


def test_unsigned_says_so_and_signed_names_the_role(demo: Edition) -> None:
    assert "UNSIGNED" in demo.gallery.flag
    assert "UNSIGNED" in demo.disclosure.flag
    assert demo.record.data["signed"] is False
    signed = made(demo_car.noted(), signed=Signoff("Jun Thornby", "manager", AT, "0" * 64))
    assert signed.gallery.flag == signed.disclosure.flag == ""
    assert signed.disclosure.signed_words == "Signed by the manager on 14 May 2026, by name, no key."


def test_one_person_who_wrote_and_signed_is_said() -> None:
    signed = made(demo_car.noted(), signed=Signoff("Mirek Osoba", "lister", AT, "0" * 64))
    assert "One person" in signed.disclosure.signed_words


def test_every_picture_has_alt_text_of_at_most_140_characters_and_flaws_are_named(demo: Edition) -> None:
    for chapter in demo.gallery.chapters:
        for picture in chapter.pictures:
            assert 0 < len(picture.alt) <= 140
            assert "image of" not in picture.alt.lower()
            assert picture.caption.endswith(".")
            faults = [one for one in picture.findings if one.tone.value == "fault"]
            assert not faults or "flaw" in picture.alt
            for one in faults[:1]:
                assert f"finding {one.number}" in picture.alt
                assert f"finding {one.number}" in picture.caption


def test_long_titles_and_many_flaws_stay_within_alt_text(demo: Edition) -> None:
    car = demo_car.noted()
    photo = car.photos_called("EXO_4135.JPG")[0].sha256
    many = [replace(car.findings[0], number=100 + n, close=(photo,), context=()) for n in range(9)]
    edition = made(replace(car, findings=(*car.findings, *many)))
    crowded = next(p for p in edition.gallery.pictures() if p.sha256 == photo)
    assert len(crowded.findings) >= 10
    assert len(crowded.alt) <= 140
    assert "more" in crowded.alt


def test_anchors_are_safe_and_unique(demo: Edition) -> None:
    anchors = [p.anchor for chapter in demo.gallery.chapters for p in chapter.pictures]
    anchors += [chapter.anchor for chapter in demo.gallery.chapters]
    anchors += [finding.anchor for group in demo.disclosure.findings.rows for finding in group.findings]
    assert len(set(anchors)) == len(anchors)
    assert all(re.fullmatch(r"[A-Za-z][A-Za-z0-9_-]*", anchor) for anchor in anchors)
    targets = {segment.target for segment in demo.gallery.ribbon} - {""}
    assert targets <= set(anchors)


def test_the_ribbon_has_one_cell_a_shot_in_walking_order(demo: Edition) -> None:
    car = demo_car.noted()
    covered = coverage.check(car)
    cells = [cell for segment in demo.gallery.ribbon for cell in segment.cells]
    assert sorted(cell.shot for cell in cells) == sorted(one.shot.id for one in covered.shots)
    order = list(car.plan.vocabulary.zones)
    assert [segment.zone for segment in demo.gallery.ribbon] == sorted(
        (segment.zone for segment in demo.gallery.ribbon), key=order.index
    )
    states = {one.shot.id: one.state for one in covered.shots}
    assert all(cell.state is states[cell.shot] and cell.words for cell in cells)


def test_a_waived_shot_says_so_in_its_cell_and_below() -> None:
    waiver = Waiver(WaiverOf.SHOT, "cold-drip-sheet", "the car came in on a trailer", "Jun Thornby", AT)
    edition = made(demo_car.noted().with_decisions([waiver]))
    cells = {cell.shot: cell for segment in edition.gallery.ribbon for cell in segment.cells}
    assert cells["cold-drip-sheet"].waived
    assert cells["cold-drip-sheet"].words == "missed, waived"
    (line,) = edition.disclosure.waivers.rows
    assert line.words == "The car came in on a trailer (let stand by the manager)."
    gap = next(row for row in edition.disclosure.not_seen.rows if row.ids == ("cold-drip-sheet",))
    assert "the car came in on a trailer" in gap.sentence


def test_only_a_rule_that_is_really_lifted_prints_as_lifted() -> None:
    waived = [
        Waiver(WaiverOf.RULE, rule, "agreed in writing", "Jun Thornby", AT)
        for rule in ("so-unknown-fact", "so-identity")
    ]
    lines = made(demo_car.noted().with_decisions(waived)).disclosure.waivers.rows
    assert [line.label for line in lines] == [
        "Rule lifted: A fact used by a condition in the plan has not been answered"
    ]


def test_everything_that_is_open_is_listed(demo: Edition) -> None:
    car = demo_car.noted()
    covered = coverage.check(car)
    listed = {one for row in demo.disclosure.not_seen.rows for one in row.ids}
    for shot in covered.shots:
        if shot.state not in (State.COVERED, State.NOT_FITTED) and shot.shot.need.value != "optional":
            assert shot.shot.id in listed
    handover = {part.id for part in car.plan.vocabulary.zones["handover"].components}
    silent = {one.component.id for one in covered.components if one.outcome.value == "not-seen"}
    assert silent - handover <= listed
    assert set(covered.unanswered) <= listed
    tested = {check.check for check in demo.disclosure.checks.rows}
    untested = {one for row in demo.disclosure.not_tested.rows for one in row.ids}
    assert "chk-clock" in untested
    assert not tested & untested


def test_findings_stand_by_severity_with_all_their_words(demo: Edition) -> None:
    ranks = [group.severity.rank for group in demo.disclosure.findings.rows]
    assert ranks == sorted(ranks, reverse=True)
    shown = [finding for group in demo.disclosure.findings.rows for finding in group.findings]
    assert sorted(one.number for one in shown) == [one.number for one in demo_car.noted().findings]
    for finding in shown:
        assert finding.place
        assert finding.basis_words in finding.sentence
        assert finding.photos
    assert "4, 5 and 6" in demo.disclosure.headlines[0]
    assert any("Coating hides metal" in line for line in demo.disclosure.headlines)


def test_told_and_documented_stand_apart(demo: Edition) -> None:
    assert all("not verified" in row.sentence for row in demo.disclosure.told.rows)
    assert demo.disclosure.told.rows
    assert all("not verified" not in row.sentence for row in demo.disclosure.statements.rows)


def test_a_section_without_rows_says_so_in_words() -> None:
    page = made(cars.car(), cars.house()).disclosure
    for one in fields(page):
        value = getattr(page, one.name)
        if hasattr(value, "rows") and not value.rows:
            assert value.lead
    assert "not the same as nothing found" in page.findings.lead


def test_a_bare_car_makes_an_honest_empty_edition() -> None:
    edition = made(cars.car(), cars.house())
    assert edition.gallery.hero is None
    assert edition.photos == ()
    assert edition.gallery.title == "Stock T-1"
    assert edition.disclosure.not_seen.rows


def test_serial_is_whole_or_masked_as_the_house_says() -> None:
    whole = made(demo_car.noted())
    assert "TV8-2047731" in json.dumps(whole.record.as_dict())
    hidden = made(demo_car.noted(), replace(demo_car.house(), mask_serial=True))
    everything = " ".join(texts(hidden)) + json.dumps(hidden.record.as_dict(), ensure_ascii=False)
    assert "TV8-2047731" not in everything
    assert "•••••••7731" in everything
    assert hidden.record.data["car"]["serial_masked"] is True


# schema.org 30.0: terms of Car with Vehicle, Product and Thing; a serial from before 1981 is no VIN in the later sense.
def test_json_ld_uses_terms_that_exist_and_keeps_an_old_serial_apart(demo: Edition) -> None:
    known = {
        *("@context", "@type", "name", "sku", "description", "knownVehicleDamages", "itemCondition", "model", "brand"),
        *("vehicleConfiguration", "color", "vehicleInteriorType", "vehicleModelDate", "mileageFromOdometer"),
        *("additionalProperty", "numberOfDoors", "vehicleTransmission", "bodyType", "steeringPosition"),
    }
    assert set(demo.json_ld) <= known
    assert demo.json_ld["@type"] == "Car"
    assert demo.json_ld["additionalProperty"][0]["value"] == "TV8-2047731"
    assert "Rust in a load-carrying part, " in demo.json_ld["knownVehicleDamages"]
    assert demo.json_ld["knownVehicleDamages"].endswith("things not seen or not tested, each in the linked record.")
    assert demo.json_ld["mileageFromOdometer"]["unitCode"] == "SMI"


def test_a_later_car_s_serial_is_its_identification_number() -> None:
    details = replace(demo_car.noted().details, year=1995, serial="1M8GDM9AXKP042788")  # type: ignore[type-var]
    edition = made(replace(demo_car.noted(), details=details))
    assert edition.json_ld["vehicleIdentificationNumber"] == "1M8GDM9AXKP042788"


def test_photos_withheld_are_counted_with_their_reason() -> None:
    car = replace(cars.complete(), releases={})
    edition = made(car, cars.house())
    (line,) = edition.disclosure.withheld.rows
    assert line.words == "1 photo, not yet looked at for what must be hidden (plates and stamps)"
    assert cars.sha("vin-plate") not in json.dumps(edition.record.as_dict())


def test_what_changed_is_told_against_the_record_before(demo: Edition) -> None:
    before = json.loads(json.dumps(demo.record.as_dict()))
    same = made(demo_car.noted(), number=2, previous=before)
    assert len(same.disclosure.changed.rows) == 1
    assert "has changed" in same.disclosure.changed.rows[0]
    car = demo_car.noted()
    worse = replace(car.findings[0], severity=Severity.NEEDS_WORK)
    gone = replace(car.findings[1], state=FindingState.CORRECTED, state_reason="seen twice")
    new = replace(car.findings[2], number=99)
    changed = made(replace(car, findings=(worse, gone, *car.findings[2:], new)), number=2, previous=before)
    lines = changed.disclosure.changed.rows
    assert [line.split(":")[0] for line in lines][:1] == ["New"]
    assert sum(line.startswith("Reworded or measured again") for line in lines) == 2
    assert changed.disclosure.closed.rows[0].state_words == "Corrected: seen twice"


def test_edition_carries_its_numbers(demo: Edition) -> None:
    assert (demo.number, demo.stock, demo.revision, demo.signed) == (1, "T-114", 7, False)
    assert demo.made_at == "2026-05-14T09:30:00"
    assert demo.gallery.edition_words == "Edition 1 of 14 May 2026"
    assert [photo.number for photo in demo.photos] == list(range(1, len(demo.photos) + 1))
    assert all(photo.taken_on == date(2026, 5, 12).isoformat() for photo in demo.photos)
    assert datetime.fromisoformat(demo.record.data["made_at"]) == AT


def test_only_a_still_whose_camera_says_so_is_called_captured() -> None:
    car = demo_car.noted()
    first, second, third = (photo.sha256 for photo in made(car).photos[:3])
    told = {
        first: {"make": "Example", "model": None, "exposure_s": 0.01},
        second: {"make": None, "model": None, "exposure_s": 0.01},
        third: {"make": "Example", "model": "One", "exposure_s": None},
    }
    none = {"make": None, "model": None, "exposure_s": None}
    photos = tuple(
        replace(photo, camera=replace(photo.camera, **told.get(photo.sha256, none)))  # type: ignore[arg-type]
        for photo in car.photos
    )
    captured = {photo.sha256 for photo in made(replace(car, photos=photos)).photos if photo.captured}
    assert captured == {first}
    clips = tuple(replace(photo, media=MediaKind.CLIP) for photo in photos)
    assert not any(photo.captured for photo in made(replace(car, photos=clips)).photos)
