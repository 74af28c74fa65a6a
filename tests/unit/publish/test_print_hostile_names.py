"""Names on paper are words and nothing else: no name breaks a page, and none is taken for the typesetter's language."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fakes import cars
from fakes.printed import bare, needs_poppler, pages
from lapseam.domain.car import Car
from lapseam.domain.coverage import check
from lapseam.domain.decision import CarDetails
from lapseam.domain.plan import Caution, MustSee
from lapseam.publish import Paper, car_shot_list, cards_pdf, plan_shot_list, setup_cards, shot_list_pdf
from lapseam.publish.print_pages import UNSHOWN

ON = date(2026, 11, 25)

SHOWN_AS_THEY_ARE = (
    '#panic("out")',
    '#read("/tokens.json")',
    "#sys.inputs.data",
    "$ x^2 / 0 $",
    "= no heading",
    "*not bold* _not slanted_ `not code`",
    "\"quoted\" 'twice' {braces} [brackets] <label> @reference",
    r"C:\back\slash \u{41} \#",
    "// no comment /* none */",
    "~ --- ... -? 1. + / term: none",
    "]; #pagebreak() #[",
    "Ünïcödé Škoda ½ µm → 90°",
)
CHANGED = (
    *("😀 lamp", "中文 name", "\u202egnp.exe", "a\x00b\x07c\u2066d", "\ud83d half a sign"),
    *("שלום עולם", "سيارة", " ", "x" * 5_000),
)
LONG = ("word " * 4_000, "-" * 3_000, "i" * 41 + " " + "W" * 400)


def everywhere(words: str) -> Car:
    """A car whose every free word is `words`; no workspace lets a stock number be longer than forty signs."""
    plan = cars.plan()
    caution = Caution("danger", words, words)
    shots = tuple(
        replace(
            shot,
            title=words,
            framing=words,
            light=words,
            camera=replace(shot.camera, spot=words, bearing_deg=None),
            must=(MustSee("a", words), MustSee("b", words)),
            cautions=("danger", words),
        )
        for shot in plan.shots
    )
    zones = {key: replace(zone, name=words) for key, zone in plan.vocabulary.zones.items()}
    plan = replace(
        plan,
        title=words,
        setups=tuple(replace(setup, name=words) for setup in plan.setups),
        shots=shots,
        vocabulary=replace(plan.vocabulary, zones=zones, cautions={"danger": caution}),
    )
    details = CarDetails(by="A", at=cars.NOON, make=words, model=words)
    return replace(cars.car(), stock=words[:40], plan=plan, details=details)


def all_sheets(words: str, paper: Paper) -> dict[str, bytes]:
    car = everywhere(words)
    return {
        "plan": shot_list_pdf(plan_shot_list(car.plan, printed_on=ON, house=words), paper=paper, printed_on=ON),
        "car": shot_list_pdf(car_shot_list(car, check(car), printed_on=ON, house=words), paper=paper, printed_on=ON),
        "cards": cards_pdf(setup_cards(car, printed_on=ON, house=words), paper=paper, printed_on=ON),
    }


@needs_poppler
@pytest.mark.parametrize("words", SHOWN_AS_THEY_ARE)
def test_words_that_look_like_the_typesetter_s_language_are_printed_as_they_are(tmp_path: Path, words: str) -> None:
    for name, pdf in all_sheets(words, Paper.A4).items():
        path = tmp_path / f"{name}.pdf"
        path.write_bytes(pdf)
        told = bare(" ".join(pages(path)))
        assert told.count(bare(words)) >= (3 if name == "cards" else 20), name


@pytest.mark.parametrize("words", [*CHANGED, *LONG], ids=lambda words: ascii(words[:12]))
@pytest.mark.parametrize("paper", list(Paper))
def test_signs_that_cannot_be_shown_and_endless_names_still_print(words: str, paper: Paper) -> None:
    assert all(pdf.startswith(b"%PDF") and pdf.rstrip().endswith(b"%%EOF") for pdf in all_sheets(words, paper).values())


@needs_poppler
def test_a_sign_without_a_letter_is_an_open_square_and_turning_signs_are_gone(tmp_path: Path) -> None:
    car = everywhere("😀 lamp \u202eabc")
    path = tmp_path / "list.pdf"
    path.write_bytes(shot_list_pdf(plan_shot_list(car.plan, printed_on=ON), paper=Paper.A4, printed_on=ON))
    assert f"{UNSHOWN} lamp abc" in " ".join(pages(path))


@needs_poppler
def test_no_page_is_left_empty_by_a_name_that_no_line_can_hold(tmp_path: Path) -> None:
    for name, pdf in all_sheets("W" * 4_000, Paper.LETTER).items():
        path = tmp_path / f"{name}.pdf"
        path.write_bytes(pdf)
        assert all("WWWWWWWW" in page for page in pages(path)), name


@settings(max_examples=40, deadline=None)
@given(st.text(min_size=1, max_size=60))
def test_any_words_at_all_can_be_printed(words: str) -> None:
    car = everywhere(words)
    assert shot_list_pdf(plan_shot_list(car.plan, printed_on=ON), paper=Paper.A4, printed_on=ON).startswith(b"%PDF")
    assert cards_pdf(setup_cards(car, printed_on=ON), paper=Paper.A4, printed_on=ON).startswith(b"%PDF")
