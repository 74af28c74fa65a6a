"""What a car's record offers to whoever asks: every thing once, with its basis, day, photos, and gaps as gaps."""

from __future__ import annotations

from dataclasses import fields, replace
from datetime import date

from fakes import demo_car
from lapseam.domain import coverage as covering
from lapseam.domain.ageing import Lasting
from lapseam.domain.answers import GAPS, Answer, Entry, EntryKind, Hit, PhotoRead, age_of_entry, entries
from lapseam.domain.call import AnswerBasis, Asked, Call, Wanted
from lapseam.domain.car import Car, House
from lapseam.domain.decision import PROGRAM, Sureness
from lapseam.domain.finding import FindingState
from lapseam.domain.statement import Basis

AT = demo_car.MADE_AT


def of(car: Car) -> dict[str, Entry]:
    found = entries(car, covering.check(car))
    keyed = {entry.key: entry for entry in found}
    assert len(keyed) == len(found), "each key once"
    return keyed


DEMO = of(demo_car.noted())


def test_a_finding_says_what_and_how_it_is_known_apart() -> None:
    entry = DEMO["finding:3"]
    assert entry.words.startswith("Scratch about 150 mm")
    assert "seen" not in entry.words
    assert (entry.basis, entry.how, entry.day) == ("seen on 13 May 2026", Basis.SEEN, date(2026, 5, 13))
    assert [photo.name for photo in entry.photos] == ["EXO_4124.JPG", "EXO_4134.JPG", "EXO_4142.JPG"]
    assert {"left-doors", "group:paint", "list:findings"} <= set(entry.about)
    assert entry.lasting is Lasting.LOOK


def test_no_sentence_says_that_photos_are_not_published() -> None:
    """Wording speaks of the gallery; in the house every photo may be named."""
    assert not [one.key for one in DEMO.values() if "not published" in one.words + one.basis]


def test_hearsay_and_paper_say_so() -> None:
    assert DEMO["statement:1"].basis.startswith("stated by the owner before last, not verified")
    assert DEMO["statement:2"].basis.startswith("per invoice dated 2021")


def test_what_is_not_known_is_a_gap_and_no_answer() -> None:
    gaps = [one for one in DEMO.values() if one.kind in GAPS]
    assert len(gaps) > 100
    assert not [one.key for one in gaps if one.answers or one.how]
    assert DEMO["check:chk-clock"].kind is EntryKind.NOT_TESTED
    assert DEMO["check:chk-clock"].words == "Clock: not tested, not done in the time available."
    assert DEMO["unmeasured:m-compression"].words == "Compression: not measured."
    assert DEMO["unseen:trunk-floor"].words.startswith("Trunk floor from above: nobody has said what is there.")
    assert DEMO["untested:chk-horn"].kind is EntryKind.NOT_TESTED


def test_what_the_car_does_not_have_is_said_by_its_facts() -> None:
    assert DEMO["absent:top-fabric"].words == "Top fabric, seams, bindings: not on this car; body: hardtop."
    assert DEMO["absent:chk-ac"].words == "Air-conditioning cools: not on this car; body: hardtop, air con: no."
    assert DEMO["absent:top-fabric"].answers


def test_no_component_is_left_out() -> None:
    car = demo_car.noted()
    told = {subject for entry in DEMO.values() if entry.kind is not EntryKind.PHOTO for subject in entry.about}
    assert set(car.plan.vocabulary.components()) <= told
    assert set(car.plan.vocabulary.checks) <= told
    assert set(car.plan.vocabulary.measurements) <= told


def test_every_photo_is_there_and_a_photo_alone_answers_nothing() -> None:
    car = demo_car.noted()
    photos = [one for one in DEMO.values() if one.kind is EntryKind.PHOTO]
    assert len(photos) == len(car.photos)
    assert not any(one.answers for one in photos)
    floor = next(one for one in photos if one.photos[0].name == "EXO_4186.JPG")
    assert floor.words == (
        "Left floor from below: EXO_4186.JPG; it shows drain plug; "
        "coating hides the metal of rocker to tunnel, cross-brace, patch edges or their absence."
    )


def test_a_frame_that_only_the_program_placed_says_so() -> None:
    car = demo_car.noted()
    sha = next(photo.sha256 for photo in car.photos if photo.name == "EXO_4186.JPG")
    proposed = replace(car.placements[sha], sureness=Sureness.STRONG, by=PROGRAM)
    entry = of(replace(car, placements={**car.placements, sha: proposed}, ticks=()))[f"photo:{sha}"]
    assert entry.words.endswith("put there by the program; nobody has looked yet.")


def test_a_repaired_finding_stays_readable_and_leaves_its_group() -> None:
    car = demo_car.noted()
    closed = replace(car.findings[3], state=FindingState.REPAIRED, state_reason="new metal, 1 June 2026")
    entry = of(replace(car, findings=(closed,)))["finding:4"]
    assert entry.words.endswith("Repaired: new metal, 1 June 2026")
    assert entry.rank == 0
    assert "group:corrosion" not in entry.about


def test_findings_rise_with_their_severity() -> None:
    assert DEMO["finding:4"].rank > DEMO["finding:8"].rank > DEMO["finding:1"].rank > 0


CALL = Call(
    1, "Scratches?", "One on the left door", AnswerBasis.SEEN, "Ada", AT,
    known_by="seen, EXO_4142.JPG", source="finding:3", caller="CANARY", call_back=date(2026, 5, 20), promise="the hood",
)  # fmt: skip


def test_a_call_is_found_where_its_answer_came_from_and_keeps_its_caller() -> None:
    entry = of(replace(demo_car.noted(), calls=(CALL,)))["call:1"]
    assert entry.words == (
        "A caller asked “Scratches?” and was told: One on the left door. "
        "Promised to call back by 20 May 2026 about the hood; still open."
    )
    assert entry.about == DEMO["finding:3"].about
    assert entry.answers
    assert not [name.name for name in fields(entry) if "CANARY" in str(getattr(entry, name.name))]


def test_a_call_that_said_nobody_knows_answers_nobody_else() -> None:
    unknown = replace(CALL, basis=AnswerBasis.NOT_KNOWN, known_by="", source="")
    assert not of(replace(demo_car.noted(), calls=(unknown,)))["call:1"].answers


def test_the_re_shoot_list_is_found_by_what_is_wanted_and_by_its_question() -> None:
    asked = Asked(1, Wanted.CHECK, "chk-clock", "Does it tick?", "Ada", AT)
    entry = of(replace(demo_car.noted(), asked=(asked,)))["asked:1"]
    assert (entry.subject, entry.about, entry.answers) == ("Clock", ("chk-clock",), False)
    assert entry.words == "On the re-shoot list: “Does it tick?”, Clock."
    done = replace(asked, done=date(2026, 5, 16), done_by="Ada", done_words="It ticks.")
    words = of(replace(demo_car.noted(), asked=(done,)))["asked:1"].words
    assert words.endswith("Dealt with on 16 May 2026 by Ada. It ticks.")


def hit(key: str, *photos: PhotoRead) -> Hit:
    return Hit("T-114", DEMO[key], age_of_entry(DEMO[key], today=date(2026, 5, 14), house=House()), photos)


def test_an_answer_is_known_only_by_what_answers_and_meets_every_word() -> None:
    assert Answer("scratch", (hit("finding:3"),)).known
    assert not Answer("scratch banana", (hit("finding:3"),), loose=True).known
    open_check = Answer("clock", (hit("check:chk-clock"),))
    assert not open_check.known
    assert open_check.gap == hit("check:chk-clock")
    assert Answer("nothing", ()).gap is None


def test_photos_are_named_by_their_number_in_the_edition_where_they_have_one() -> None:
    shown = hit("finding:3", PhotoRead("a" * 64, "EXO_4142.JPG", 24), PhotoRead("b" * 64, "EXO_4124.JPG"))
    assert shown.basis == "seen on 13 May 2026, photo 24 (EXO_4142.JPG), EXO_4124.JPG"
    assert shown.age.words == "yesterday"
