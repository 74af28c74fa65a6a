"""The condition page on paper says what the page says, on every sheet whose it is, and nothing can be smuggled in."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pikepdf
import pytest
import zxingcpp
from hypothesis import given, settings
from hypothesis import strategies as st

from fakes import published_car
from fakes.printed import bare, needs_poppler, page_picture, pages, said_of
from lapseam import places
from lapseam.domain.car import House
from lapseam.domain.edition import Edition, FindingShown, MarkShown, PhotoRef, Section, SeverityGroup
from lapseam.domain.finding import MarkShape, Severity
from lapseam.domain.section_phrases import WHAT_IT_IS_NOT
from lapseam.publish import Paper, Recipe, make_edition, verify
from lapseam.publish.print_disclosure import disclosure_pdf, disclosure_printed
from lapseam.publish.views import PictureFile, Pictures
from lapseam.workflow.publishing import paper_of

SEAL = "0123456789abcdef" * 4
HOSTILE = (
    '#panic("out")',
    '#read("/photos/secret.txt")',
    '#image("/etc/hostname")',
    "]; #pagebreak() #[",
    "$ x^2 / 0 $ = *no* _markup_ <half> @half",
    "😀 中文 שלום \u202egnp.exe \x00\x07 \ud83d half",
    "W" * 3_000,
    "word " * 3_000,
    " ",
)


def files_of(folder: Path) -> tuple[dict[str, Path], Pictures]:
    """Three originals, shown as they are."""
    photos = published_car.originals(folder / "photos")
    shown = {sha: (PictureFile(f"photos/{path.name}", 640, 420),) for sha, path in photos.items()}
    return photos, shown


def pdf_of(edition: Edition, pictures: Pictures, folder: Path, paper: Paper = Paper.A4) -> bytes:
    return disclosure_pdf(edition, pictures, payload=folder, seal=SEAL, paper=paper, templates=places.templates())


def many_findings(edition: Edition, count: int) -> Edition:
    """The edition with findings over several sheets, each with two pictures and its marks."""
    first, second = edition.photos[:2]
    marks = tuple(MarkShown(n, shape, 0.9, 0.02, 0.3, 0.2, f"Finding {n}") for n, shape in enumerate(MarkShape, 1))
    refs = (PhotoRef(first.sha256, 1, "photo-1", "photo 1"), PhotoRef(second.sha256, 2, "photo-2", "photo 2"))

    def one(number: int) -> FindingShown:
        found = published_car.finding(f"Found thing {number}", second.sha256)
        return replace(found, number=number, sentence=f"Sentence of finding {number}; seen.", photos=refs)

    group = SeverityGroup(Severity.WEAR, "Wear", tuple(one(n) for n in range(1, count + 1)))
    page = replace(
        edition.disclosure,
        findings=Section("findings", "Findings", "By severity.", (group,)),
        not_seen=replace(edition.disclosure.not_seen, heading="Unseen"),
        not_tested=replace(edition.disclosure.not_tested, heading="Untested"),
    )
    photos = (replace(first, marks=marks), *edition.photos[1:])
    return replace(edition, disclosure=page, photos=photos)


@pytest.fixture(scope="module")
def printed(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Edition]:
    folder = tmp_path_factory.mktemp("printed")
    photos, pictures = files_of(folder)
    edition = many_findings(published_car.edition(photos, words="Left rocker"), 12)
    path = folder / "disclosure.pdf"
    path.write_bytes(pdf_of(edition, pictures, folder))
    return path, edition


@needs_poppler
def test_everything_that_the_page_says_can_be_searched(printed: tuple[Path, Edition]) -> None:
    path, edition = printed
    told = bare(" ".join(pages(path)))
    for number in range(1, 13):
        assert bare(f"Sentence of finding {number}; seen.") in told
    page = edition.disclosure
    for words in (page.title, page.edition_words, page.signed_words, "Unseen", "Untested", "about 4.3 mil, converted"):
        assert bare(words) in told
    assert told.count(bare("Not seen.")) >= 3, "each gap says what follows its own heading"


@needs_poppler
def test_flag_edition_fingerprint_and_what_governs_stand_on_every_sheet(printed: tuple[Path, Edition]) -> None:
    path, edition = printed
    sheets = pages(path)
    assert len(sheets) > 4
    for number, sheet in enumerate(sheets, start=1):
        for words in (edition.disclosure.flag, edition.disclosure.edition_words, SEAL, "the form on the car"):
            assert bare(words) in bare(sheet), (number, words)
        assert f"Page {number} of {len(sheets)}" in sheet


def test_the_page_says_that_form_and_contract_govern() -> None:
    assert any("form on the car and the contract govern" in words for words in WHAT_IT_IS_NOT)


@needs_poppler
def test_a_signed_edition_has_no_flag(tmp_path: Path) -> None:
    photos, pictures = files_of(tmp_path)
    path = tmp_path / "signed.pdf"
    path.write_bytes(pdf_of(published_car.edition(photos, signed=True), pictures, tmp_path))
    assert "UNSIGNED" not in " ".join(pages(path))


@needs_poppler
@pytest.mark.parametrize(("paper", "size"), [(Paper.A4, "595.276 x 841.89 pts (A4)"), (Paper.LETTER, "612 x 792 pts")])
def test_the_sheet_is_the_house_s_own(tmp_path: Path, paper: Paper, size: str) -> None:
    photos, pictures = files_of(tmp_path)
    path = tmp_path / "one.pdf"
    path.write_bytes(pdf_of(published_car.edition(photos), pictures, tmp_path, paper))
    said = said_of(path)
    assert said["Page size"].startswith(size)
    assert (said["Tagged"], said["JavaScript"], said["Title"]) == ("yes", "no", "Left rocker")
    assert said["CreationDate"].startswith("Thu May 14")


@pytest.mark.parametrize(
    ("units", "paper"),
    [(("mi", "in"), Paper.LETTER), (("km", "mm"), Paper.A4), (("mi", "mm"), Paper.A4), ((), Paper.A4)],
)
def test_miles_and_inches_mean_letter(units: tuple[str, ...], paper: Paper) -> None:
    assert paper_of(House(units=units)) is paper


@needs_poppler
def test_the_code_holds_the_fingerprint_and_no_address(printed: tuple[Path, Edition]) -> None:
    (found,) = zxingcpp.read_barcodes(np.asarray(page_picture(printed[0], 1, 150)))
    assert found.text == SEAL


def test_the_same_edition_gives_the_same_bytes(tmp_path: Path, printed: tuple[Path, Edition]) -> None:
    photos, pictures = files_of(tmp_path)
    edition = many_findings(published_car.edition(photos, words="Left rocker"), 12)
    assert pdf_of(edition, pictures, tmp_path) == printed[0].read_bytes()


# ---- ISO 14289-1 (PDF/UA-1), as far as the file's own structure tells ---------------------------------------------


def nodes(one: Any) -> Iterator[Any]:
    """Every element of the structure tree, in reading order."""
    if isinstance(one, pikepdf.Array):
        for part in one:
            yield from nodes(part)
    elif isinstance(one, pikepdf.Dictionary):
        if "/S" in one:
            yield one
        if "/K" in one and one.get("/Type") != "/MCR":
            yield from nodes(one.K)


def test_the_file_is_marked_as_ua_1_with_title_and_language(printed: tuple[Path, Edition]) -> None:
    with pikepdf.open(printed[0]) as pdf, pdf.open_metadata() as said:
        assert said["pdfuaid:part"] == "1"
        assert said["dc:title"] == "Left rocker"
        assert bool(pdf.Root.MarkInfo.Marked)
        assert str(pdf.Root.Lang) == "en"
        assert bool(pdf.Root.ViewerPreferences.DisplayDocTitle)
        assert not {"/JavaScript", "/EmbeddedFiles"} & set(pdf.Root.get("/Names", pikepdf.Dictionary()).keys())
        assert "/OpenAction" not in pdf.Root


def test_pictures_have_words_and_headings_skip_no_level(printed: tuple[Path, Edition]) -> None:
    with pikepdf.open(printed[0]) as pdf:
        every = list(nodes(pdf.Root.StructTreeRoot.K))
        figures = [one for one in every if one.S == "/Figure"]
        assert len(figures) >= 24 + 1
        assert all(str(one.get("/Alt", "")).strip() for one in figures)
        levels = [int(str(one.S)[2:]) for one in every if str(one.S)[:2] == "/H" and str(one.S)[2:].isdigit()]
        assert levels[0] == 1
        assert all(after <= before + 1 for before, after in itertools.pairwise(levels))
        assert {"/Table", "/TD", "/L", "/LI"} <= {str(one.S) for one in every}


def test_letters_are_inside_and_no_link_leads_out(printed: tuple[Path, Edition]) -> None:
    with pikepdf.open(printed[0]) as pdf:
        fonts = [
            one for one in pdf.objects if isinstance(one, pikepdf.Dictionary) and one.get("/Type") == "/FontDescriptor"
        ]
        assert fonts
        assert all({"/FontFile", "/FontFile2", "/FontFile3"} & set(one.keys()) for one in fonts)
        assert all("Plex" in str(one.FontName) for one in fonts)
        for one in pdf.objects:
            assert not (isinstance(one, pikepdf.Dictionary) and "/URI" in one)


# ---- hostile words -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("words", HOSTILE, ids=lambda words: ascii(words[:12]))
def test_hostile_words_are_printed_and_nothing_else(tmp_path: Path, words: str) -> None:
    photos, pictures = files_of(tmp_path)
    (tmp_path / "photos" / "secret.txt").write_text("sealed away")
    content = pdf_of(published_car.edition(photos, words=words), pictures, tmp_path)
    path = tmp_path / "hostile.pdf"
    path.write_bytes(content)
    with pikepdf.open(path) as pdf:
        assert len(pdf.pages) >= 2
    if words.startswith("#"):
        assert bare(words) in bare(" ".join(pages(path)))
    assert "sealed away" not in " ".join(pages(path))


@settings(max_examples=15, deadline=None)
@given(words=st.text(min_size=1, max_size=60))
def test_any_words_at_all_can_be_printed(tmp_path_factory: pytest.TempPathFactory, words: str) -> None:
    folder = tmp_path_factory.mktemp("any")
    photos, pictures = files_of(folder)
    assert pdf_of(published_car.edition(photos, words=words), pictures, folder).startswith(b"%PDF")


# ---- in its place --------------------------------------------------------------------------------------------------


def test_marks_are_those_of_the_finding_and_stay_inside(tmp_path: Path) -> None:
    photos, pictures = files_of(tmp_path)
    shown = disclosure_printed(many_findings(published_car.edition(photos), 3), pictures, seal=SEAL)
    items = [item for section in shown.sections if section.heading == "Findings" for item in section.groups[0].items]
    assert [[mark.number for mark in item.pictures[0].marks] for item in items] == [["1"], ["2"], []]
    assert "Finding 1" in items[0].pictures[0].alt
    for picture in (one for item in items for one in item.pictures):
        assert picture.width <= 50
        assert picture.height <= 36
        for mark in picture.marks:
            assert 0 <= mark.x < mark.x + mark.width <= picture.width + 0.02
            assert 0 <= mark.y < mark.y + mark.height <= picture.height + 0.02


def test_what_was_not_seen_is_set_as_large_as_what_was_found(tmp_path: Path) -> None:
    photos, pictures = files_of(tmp_path)
    shown = disclosure_printed(many_findings(published_car.edition(photos), 3), pictures, seal=SEAL)
    levels = {
        section.heading: {item.level for group in section.groups for item in group.items} for section in shown.sections
    }
    assert levels["Findings"] == levels["Unseen"] == levels["Untested"] == {4}


def test_it_lies_in_the_bag_and_both_pages_lead_to_it(tmp_path: Path) -> None:
    photos = published_car.originals(tmp_path / "originals")
    made = make_edition(
        published_car.edition(photos),
        originals=photos.__getitem__,
        folder=tmp_path / "editions",
        plan_json="{}\n",
        tool_version="0.1.0",
        recipe=Recipe(widths=(60, 120)),
        paper=Paper.LETTER,
    )
    assert verify(made.path).complete
    assert "data/disclosure.pdf" in (made.path / "manifest-sha256.txt").read_text()
    for name in ("index.html", "disclosure.html"):
        assert 'href="disclosure.pdf"' in (made.path / "data" / name).read_text(encoding="utf-8")
    with pikepdf.open(made.path / "data" / "disclosure.pdf") as pdf:
        assert [float(edge) for edge in pdf.pages[0].mediabox] == [0, 0, 612, 792]
