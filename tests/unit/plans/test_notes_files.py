"""Notes files: a good one becomes decisions, a bad one is refused whole with every problem in its place."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator
from ruamel.yaml import YAML

from fakes.plan_folder import write_plan_folder
from lapseam.domain.car import Car
from lapseam.domain.decision import (
    Closed,
    Closing,
    FactAnswer,
    Lead,
    Looked,
    Placement,
    Release,
    Sight,
    Slot,
    Sureness,
    Target,
    Tick,
    Verdict,
    Waiver,
    WaiverOf,
)
from lapseam.domain.errors import NotesBroken
from lapseam.domain.finding import Finding, FindingState, Mark, MarkShape, Severity
from lapseam.domain.photo import CameraReadings, MediaKind, Photo, PixelReadings
from lapseam.domain.statement import Basis, CheckResult, CheckVerdict, Measurement, SerialReading, Statement
from lapseam.plans import Notes, load_plan, read_notes, schemas

NOON = datetime(2026, 5, 14, 12, 0)
A, B, C, D = ("a1" * 32, "b2" * 32, "c3" * 32, "a1" * 4 + "d4" * 28)

GOOD = """\
notes_for: T-1
by: Mirek Osoba
on: 2026-05-13
facts: {sunroof: true, doors: 2, ad_claims: [restored, as-new]}
placements:
  - {photo: ONE.JPG, shot: front}
  - {photo: TWO.JPG, shot: rail, slot: context}
  - {photo: c3c3c3c3, extra: nose}
  - {photo: a1a1a1a1d4, aside: "shaken", by: Ada Lindqvar}
ticks:
  - {shot: front, photo: ONE.JPG, seen: [bumper level, both-lamps]}
  - {shot: rail, photo: TWO.JPG, seen: [], coated: [bottom edge]}
closed:
  - {shot: sunroof, as: not-reachable, reason: no-time, note: "rain", by: Ada Lindqvar}
looked:
  - {component: rail, photos: [TWO.JPG]}
findings:
  - {number: 1, component: bumper, kind: chip, place: "left end", extent: "12 mm", count: 3, severity: cosmetic,
     context: [ONE.JPG], close: [TWO.JPG],
     marks: [{photo: TWO.JPG, box: [0.2, 0.3, 0.1, 0.1]}, {photo: ONE.JPG, point: [0.5, 1]}]}
  - {number: 2, component: rail, kind: good-seam, place: "front third", severity: note, close: [TWO.JPG]}
checks:
  - {check: chk-clock, result: not-tested, reason: no-time, role: mechanic, conditions: ""}
  - {check: own-horn, item: "Horn", result: works, conditions: "engine off", on: 2026-05-14}
measurements:
  - {number: 1, measure: m-tread, component: bumper, instrument: "depth gauge", uncertainty: "0.3 mm",
     readings: [{place: "left front", value: "6.50", unit: mm}, {place: "right front", value: 7, unit: 1/32 in}]}
statements:
  - {number: 1, subject: "paint", claim: "Repainted once", basis: told, who_said: "owner before last", value: ""}
  - {number: 2, subject: clutch, claim: "New clutch", basis: documented, document: invoice, document_date: 2021,
     issuer_kind: workshop}
serials:
  - {place: car, text: 0012345, photos: [ONE.JPG]}
waivers:
  - {rule: so-missed, reason: "winter"}
  - {place: rp-rail, reason: "undercoat"}
released:
  - {photo: ONE.JPG, verdict: show, words: "plate reads DEMO"}
lead: ONE.JPG
"""


def photo(sha256: str, name: str) -> Photo:
    pixels = PixelReadings(1.0, 1.0, 100.0, 0.0, 0.0, "0" * 16)
    return Photo(sha256, name, 1, MediaKind.STILL, "JPEG", 400, 300, CameraReadings(), pixels)


@pytest.fixture
def car(tmp_path: Path) -> Car:
    plan = load_plan(write_plan_folder(tmp_path / "plans").plan)
    photos = (photo(A, "ONE.JPG"), photo(B, "TWO.JPG"), photo(C, "SAME.JPG"), photo(D, "SAME.JPG"))
    return Car("T-1", plan, photos)


Read = Callable[[str], Notes]


@pytest.fixture
def read(tmp_path: Path, car: Car) -> Read:
    def look(text: str) -> Notes:
        path = tmp_path / "notes.yaml"
        path.write_text(text, encoding="utf-8")
        return read_notes(path, car, at=NOON, people=("Mirek Osoba", "Ada Lindqvar"))

    return look


def test_good_notes_become_decisions(read: Read) -> None:
    made = read(GOOD).decisions
    by = "Mirek Osoba"
    assert [one for one in made if isinstance(one, FactAnswer)] == [
        FactAnswer("sunroof", True, by, NOON),
        FactAnswer("doors", 2, by, NOON),
        FactAnswer("ad_claims", ("restored", "as-new"), by, NOON),
    ]
    sure = Sureness.DECIDED
    assert [one for one in made if isinstance(one, Placement)] == [
        Placement(A, Target.SHOT, by, NOON, sure, shot="front"),
        Placement(B, Target.SHOT, by, NOON, sure, shot="rail", slot=Slot.CONTEXT),
        Placement(C, Target.EXTRA, by, NOON, sure, zone="nose"),
        Placement(D, Target.ASIDE, "Ada Lindqvar", NOON, sure, reasons=("shaken",)),
    ]
    assert [one for one in made if isinstance(one, Tick)] == [
        Tick("front", "bumper-level", A, Sight.SEEN, by, NOON),
        Tick("front", "both-lamps", A, Sight.SEEN, by, NOON),
        Tick("rail", "bottom-edge", B, Sight.COATED, by, NOON),
    ]
    assert [one for one in made if isinstance(one, Closing | Looked | Waiver | Release | Lead)] == [
        Closing("sunroof", Closed.NOT_REACHABLE, "Ada Lindqvar", NOON, "no-time", "rain"),
        Looked("rail", by, NOON, (B,)),
        Waiver(WaiverOf.RULE, "so-missed", "winter", by, NOON),
        Waiver(WaiverOf.PLACE, "rp-rail", "undercoat", by, NOON),
        Release(A, Verdict.SHOW, "plate reads DEMO", by, NOON),
        Lead(A, by, NOON),
    ]


def test_findings_carry_their_photos_marks_and_day(read: Read) -> None:
    first, second = (one for one in read(GOOD).decisions if isinstance(one, Finding))
    assert (first.severity, first.count, first.extent) == (Severity.COSMETIC, 3, "12 mm")
    assert first.evidence.basis is Basis.SEEN
    assert first.evidence.photos == (A, B)
    assert first.evidence.on == date(2026, 5, 13)
    assert first.marks == (Mark(B, MarkShape.BOX, 0.2, 0.3, 0.1, 0.1), Mark(A, MarkShape.POINT, 0.5, 1.0))
    assert (second.context, second.close) == ((), (B,))


def test_values_stay_as_they_were_read(read: Read) -> None:
    made = read(GOOD).decisions
    (measured,) = (one for one in made if isinstance(one, Measurement))
    assert [(one.value, one.unit) for one in measured.readings] == [("6.50", "mm"), ("7", "1/32 in")]
    (serial,) = (one for one in made if isinstance(one, SerialReading))
    assert serial.text == "0012345"
    clutch = [one for one in made if isinstance(one, Statement)][1]
    assert clutch.evidence.document_date == "2021"
    clock, horn = (one for one in made if isinstance(one, CheckResult))
    assert (clock.verdict, clock.reason, clock.on) == (CheckVerdict.NOT_TESTED, "no-time", date(2026, 5, 13))
    assert (horn.item, horn.on) == ("Horn", date(2026, 5, 14))


def test_the_words_count_what_was_taken_over(read: Read) -> None:
    assert read(GOOD).words[:3] == ("3 facts answered", "4 photos placed", "3 must-see items ticked")


def test_the_smallest_notes_say_nothing(read: Read) -> None:
    assert read("notes_for: T-1\nby: Mirek Osoba\n") == Notes((), ())


def test_the_published_schema_accepts_the_good_notes() -> None:
    loaded = YAML(typ="safe", pure=True).load(GOOD)
    loaded["on"] = str(loaded["on"])
    loaded["checks"][1]["on"] = str(loaded["checks"][1]["on"])
    assert [one.message for one in Draft202012Validator(schemas()["notes.schema.json"]).iter_errors(loaded)] == []


# One row a way to break the notes: what stands there, what is put there, and the problem as told.
BROKEN = [
    (
        "notes_for: T-1",
        "notes_for: T-2",
        "1:12: notes_for: these notes are for 'T-2', the car is 'T-1' (open that car)",
    ),
    (
        "by: Mirek Osoba",
        "by: Mirek Osob",
        "2:5: by: 'Mirek Osob' is not on the house's list (did you mean 'Mirek Osoba'?)",
    ),
    (
        "on: 2026-05-13",
        "on: 13.5.2026",
        "3:5: on: '13.5.2026' is no day (write it as year-month-day, such as 2026-05-13)",
    ),
    (
        "on: 2026-05-13",
        "on: 2027-05-13",
        "3:5: on: 2027-05-13 lies after today, 2026-05-14 (mend the day)",
    ),
    (
        "sunroof: true",
        "sunroof: yes",
        "4:18: facts.sunroof: 'yes' does not fit 'sunroof', which is true or false (write true or false)",
    ),
    (
        "doors: 2",
        "dors: 2",
        "4:30: facts.dors: there is no fact 'dors' (did you mean 'doors'?)",
    ),
    (
        "[restored, as-new]",
        "restored",
        "4:45: facts.ad_claims: 'ad_claims' takes a list in square brackets (write it so)",
    ),
    (
        "sunroof: true",
        "sunroof: ",
        "4:9: facts.sunroof: no answer stands here (write the answer, or leave the fact out: then it is unknown)",
    ),
    (
        "photo: ONE.JPG, shot: front}",
        "photo: ONE.JPEG, shot: front}",
        "6:13: placements.ONE.JPEG.photo: the car has no photo 'ONE.JPEG' (did you mean 'ONE.JPG'?)",
    ),
    (
        "photo: c3c3c3c3",
        "photo: c3c3c3",
        "8:13: placements.c3c3c3.photo: the car has no photo 'c3c3c3' (take the photo in first, or look up its name)",
    ),
    (
        "photo: a1a1a1a1d4",
        "photo: a1a1a1a1",
        "9:13: placements.a1a1a1a1.photo: 'a1a1a1a1' names 2 photos (write one of: a1a1a1a1a, a1a1a1a1d)",
    ),
    (
        "photo: c3c3c3c3",
        "photo: SAME.JPG",
        "8:13: placements.SAME.JPG.photo: 'SAME.JPG' names 2 photos (write one of: c3c3c3c3, a1a1a1a1)",
    ),
    (
        "photo: c3c3c3c3",
        "photo: ONE.JPG",
        "8:13: placements.ONE.JPG.photo: the same stands already at line 6 (keep one of the two)",
    ),
    (
        "shot: front}",
        "shot: frnt}",
        "6:28: placements.ONE.JPG.shot: there is no shot 'frnt' (did you mean 'front'?)",
    ),
    (
        "shot: front}",
        "shot: front, extra: nose}",
        "6:42: placements.ONE.JPG.extra: 'extra' stands beside 'shot' (keep one of them)",
    ),
    (
        "extra: nose",
        "slot: proof",
        "8:5: placements.c3c3c3c3: needs one of: shot, extra, aside (add: shot: …)",
    ),
    (
        "extra: nose",
        "extra: nose, slot: proof",
        "8:42: placements.c3c3c3c3.slot: 'slot' is only for a photo on a shot (take it out)",
    ),
    (
        "seen: [bumper level",
        "seen: [bumper levl",
        "11:41: ticks.front.seen: 'bumper levl' is no must-see item of 'front' (did you mean 'bumper level'?)",
    ),
    (
        "photo: ONE.JPG, seen",
        "photo: TWO.JPG, seen",
        "11:26: ticks.front.photo: the photo 'TWO.JPG' is not placed on the shot 'front' (place it there "
        "first, under 'placements')",
    ),
    (
        "coated: [bottom edge]",
        "coated: []",
        "12:40: ticks.rail.seen: nothing is ticked (add: seen: [item, item])",
    ),
    (
        "seen: [], coated",
        "seen: [bottom edge], coated",
        "12:63: ticks.rail.coated: 'bottom edge' is ticked as seen and as coated (keep one of them)",
    ),
    (
        "reason: no-time, note",
        "note",
        "14:25: closed.sunroof.as: not-reachable needs its reason (add: reason: …)",
    ),
    (
        "reason: no-time, note",
        "reason: no-tme, note",
        "14:48: closed.sunroof.reason: there is no reason for not reaching 'no-tme' (did you mean 'no-time'?)",
    ),
    (
        "component: rail, photos",
        "component: bumper, photos",
        "16:17: looked.bumper.component: nothing to report on 'bumper', but finding 1 is on it (take one of them out)",
    ),
    (
        "kind: chip",
        "kind: chop",
        "18:42: findings.1.kind: there is no kind of finding 'chop' (did you mean 'chip'?)",
    ),
    (
        "severity: cosmetic",
        "severity: bad",
        "18:104: findings.1.severity: 'bad' is not one of: note, cosmetic, wear, needs-work, structural, "
        "unsafe (write one of them)",
    ),
    (
        "number: 2, component: rail",
        "number: 1, component: rail",
        "21:14: findings.1.number: the same stands already at line 18 (keep one of the two)",
    ),
    (
        "severity: note, close: [TWO.JPG]",
        "severity: note",
        "21:5: findings.2: seen needs photo (name its photos; what no photo can show (smell, noise) is tested or told)",
    ),
    (
        "box: [0.2, 0.3, 0.1, 0.1]",
        "box: [0.95, 0.3, 0.1, 0.1]",
        "20:36: findings.1.marks.TWO.JPG.box: the box has no size or reaches over the edge (write [left, "
        "top, width, height])",
    ),
    (
        "box: [0.2, 0.3, 0.1, 0.1]",
        "box: [0.2, 0.3]",
        "20:36: findings.1.marks.TWO.JPG.box: wanted: [left, top, width, height], each from 0 to 1 of the "
        "upright picture (write it as [0.2, 0.2, 0.2, 0.2])",
    ),
    (
        "context: [ONE.JPG]",
        "context: [TWO.JPG]",
        "20:67: findings.1.marks.ONE.JPG.photo: the photo 'ONE.JPG' is none of the finding's (name it under "
        "'context' or 'close' too)",
    ),
    (
        "reason: no-time, role",
        "role",
        "23:32: checks.chk-clock.result: not-tested needs its reason (add: reason: …)",
    ),
    (
        "check: chk-clock",
        "check: chk-clok",
        "23:13: checks.chk-clok.check: there is no check 'chk-clok' (did you mean 'chk-clock'?)",
    ),
    (
        'item: "Horn", ',
        "",
        "24:13: checks.own-horn.check: a check of the house's own needs 'item' in words (add: item: …)",
    ),
    (
        'conditions: "engine off", ',
        "",
        "24:45: checks.own-horn.result: tested needs conditions (add: conditions: …)",
    ),
    (
        'instrument: "depth gauge", ',
        "",
        "26:5: measurements.1: needs 'instrument': the instrument (wanted: text of at most 200 characters)",
    ),
    (
        "unit: mm}",
        "unit: cm}",
        "27:60: measurements.1.readings.left front.unit: 'cm' is no unit of 'm-tread' (write mm or 1/32 in)",
    ),
    (
        ', who_said: "owner before last"',
        "",
        "29:67: statements.1.basis: told needs who said (add: who_said: …)",
    ),
    (
        "document: invoice, ",
        "",
        "30:62: statements.2.basis: documented needs document (add: document: …)",
    ),
    (
        " document_date: 2021,\n",
        "\n",
        "30:62: statements.2.basis: documented needs document date (add: document_date: …)",
    ),
    (
        "basis: told,",
        "basis: seen,",
        "29:67: statements.1.basis: seen needs photo (name its photos; what no photo can show (smell, noise) "
        "is tested or told)",
    ),
    (
        "basis: told,",
        "basis: not-checked,",
        "29:67: statements.1.basis: not-checked needs reason (add: reason: …)",
    ),
    (
        "basis: told,",
        "basis: measured,",
        "29:67: statements.1.basis: measured needs value (add: value: …, with its unit)",
    ),
    (
        "basis: told,",
        "basis: heard,",
        "29:67: statements.1.basis: 'heard' is not one of: seen, measured, tested, documented, told, "
        "not-checked (did you mean 'measured'?)",
    ),
    (
        "place: car",
        "place: cra",
        "33:13: serials.cra.place: 'cra' is not one of: car, paper (did you mean 'car'?)",
    ),
    (
        "rule: so-missed",
        "rule: so-claim",
        "35:12: waivers.1.rule: the rule 'so-claim' may not be lifted (put right what it asks for)",
    ),
    (
        "rule: so-missed, ",
        "",
        "35:5: waivers.1: needs one of: rule, shot, place, component, fact (add: rule: …)",
    ),
    (
        "verdict: show",
        "verdict: shw",
        "38:31: released.ONE.JPG.verdict: 'shw' is not one of: show, hold (did you mean 'show'?)",
    ),
    (
        "lead: ONE.JPG",
        "lead: ONE.JPEG",
        "39:7: lead: the car has no photo 'ONE.JPEG' (did you mean 'ONE.JPG'?)",
    ),
    (
        "lead: ONE.JPG",
        "leed: ONE.JPG",
        "39:1: unknown key 'leed' (did you mean 'lead'?)",
    ),
]


@pytest.mark.parametrize(("old", "new", "told"), BROKEN, ids=[str(number) for number in range(len(BROKEN))])
def test_each_break_is_told_with_its_place(read: Read, old: str, new: str, told: str) -> None:
    assert old in GOOD
    with pytest.raises(NotesBroken) as caught:
        read(GOOD.replace(old, new, 1))
    assert f"notes.yaml:{told}" in caught.value.problems
    assert "nothing was taken over" in str(caught.value)


OPEN = "severity: note, close: [TWO.JPG]}"
REPAIRED = 'severity: note, close: [TWO.JPG], state: repaired, state_reason: "new metal"'


def test_a_repair_has_its_day_and_a_photo_of_the_place_since(read: Read) -> None:
    made = read(GOOD.replace(OPEN, f"{REPAIRED}, state_on: 2026-05-10, after: [ONE.JPG]}}", 1)).decisions
    found = next(one for one in made if isinstance(one, Finding) and one.number == 2)
    assert (found.state, found.state_on, found.after) == (FindingState.REPAIRED, date(2026, 5, 10), (A,))
    for given, told in ((", after: [ONE.JPG]", "needs its day"), (", state_on: 2026-05-10", "as it is now")):
        with pytest.raises(NotesBroken, match="1 problem") as caught:
            read(GOOD.replace(OPEN, f"{REPAIRED}{given}}}", 1))
        assert told in caught.value.problems[0]


def test_all_problems_come_at_once(read: Read) -> None:
    text = GOOD
    for old, new in (("sunroof: true", "sunrof: true"), ("kind: chip", "kind: chop"), ("lead: ONE.JPG", "lead: X.JPG")):
        text = text.replace(old, new, 1)
    with pytest.raises(NotesBroken) as caught:
        read(text)
    assert [problem.split(":")[1] for problem in caught.value.problems] == ["4", "18", "39"]


def test_a_tick_may_stand_on_a_photo_placed_before(tmp_path: Path, car: Car) -> None:
    placed = Placement(A, Target.SHOT, "Ada Lindqvar", NOON, Sureness.DECIDED, shot="front")
    before = Car(car.stock, car.plan, car.photos, placements={A: placed})
    path = tmp_path / "notes.yaml"
    ticks = "ticks:\n  - {shot: front, photo: ONE.JPG, seen: [both lamps]}\n"
    path.write_text(f"notes_for: T-1\nby: Mirek Osoba\n{ticks}", encoding="utf-8")
    assert len(read_notes(path, before, at=NOON).decisions) == 1
    moved = "placements:\n  - {photo: ONE.JPG, aside: dark}\n"
    path.write_text(f"notes_for: T-1\nby: Mirek Osoba\n{moved}{ticks}", encoding="utf-8")
    with pytest.raises(NotesBroken, match="1 problem"):
        read_notes(path, before, at=NOON)


@pytest.mark.parametrize("raw", [b"", b"\xff\xfe", b"- a\n", b"a: &x [*x]\n", b"notes_for: [" * 50])
def test_a_hostile_notes_file_is_refused(tmp_path: Path, car: Car, raw: bytes) -> None:
    path = tmp_path / "notes.yaml"
    path.write_bytes(raw)
    with pytest.raises(NotesBroken) as caught:
        read_notes(path, car, at=NOON)
    assert caught.value.problems[0].startswith("notes.yaml:1:")
