"""The demo car in a language that nobody speaks: a Latin letter on a page is a word that no translator can reach."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import timedelta
from html.parser import HTMLParser
from pathlib import Path

import pikepdf
import pytest
from PIL import Image

from fakes import demo_car, demo_card, printed, pseudo
from lapseam import places
from lapseam.domain import coverage, edition, phrases, signoff
from lapseam.domain.car import Car
from lapseam.domain.decision import Closed, Closing, Release, Signoff, Verdict, Waiver, WaiverOf
from lapseam.domain.edition import Edition
from lapseam.domain.edition_draft import Draft
from lapseam.domain.finding import Finding, FindingState, PartOrigin, PartWork, Severity
from lapseam.domain.language import ENGLISH, Language, speaking
from lapseam.domain.listing import listing_of
from lapseam.domain.listing_draft import gather
from lapseam.domain.selection import Outlet, TextForm, Wishes, choose
from lapseam.domain.statement import Basis, CheckResult, CheckVerdict, Evidence, SerialPlace, SerialReading, Statement
from lapseam.plans.outlet_rules import load_outlet_rules
from lapseam.publish import Recipe, language, make_edition, verify
from lapseam.publish.listing_text import write_text
from lapseam.publish.pages import Pages, render_pages
from lapseam.publish.photo_notes import notes_of
from lapseam.publish.print_disclosure import disclosure_pdf
from lapseam.publish.typesetting import Paper
from lapseam.publish.views import PictureFile

SEAL = "7" * 64
READ = ("alt", "title", "aria-label", "content", "data-all", "data-only", "data-near", "placeholder", "summary")
"""Attributes that a person reads or hears; `content` of a meta element where it describes the page."""
UNITS = re.compile(r"(?<=\d )(?:mm|cm|km|km/h|mi|mil|in|kPa|psi|kg|V|L|kW|A|W|µm|bar|mph|x \d)\b")
"""Units of figures as somebody read them; what the program converts it writes in the reader's language."""
NAMES = re.compile(r"\bT-114\b|\bЕХО_\d+\b")


@dataclass(frozen=True, slots=True)
class Published:
    """Everything of one edition that a person reads."""

    edition: Edition
    pages: Pages
    pdf: Path


def spoken_of() -> Car:
    """The demo car with something in every section and every verdict, basis, origin and severity there is."""
    car = demo_car.noted()
    by, at = "Ines Exemplo", demo_car.MADE_AT
    unseen = coverage.check(car)
    missed = [one.shot for one in unseen.shots if one.state is coverage.State.MISSED]
    parts, photos = list(car.plan.vocabulary.components()), [photo.sha256 for photo in car.photos]
    reasons = (
        "no-lift",
        "lift-arm-in-the-way",
        "undertray-fitted",
        "carpet-fixed",
        "no-endoscope",
        "not-safe",
        "no-time",
    )
    free = dict(
        zip((check for check in car.plan.vocabulary.checks if check not in car.checks), CheckVerdict, strict=False)
    )
    severities = [
        Finding(40 + place, parts[place], kind, "low on the panel", severity, Evidence(basis, **told), by, at, **more)
        for place, (kind, severity, basis, told, more) in enumerate(
            (
                ("rust-surface", Severity.UNSAFE, Basis.SEEN, {}, {"origin": PartOrigin.ORIGINAL}),
                (
                    "rust-structural",
                    Severity.NEEDS_WORK,
                    Basis.TOLD,
                    {"who_said": "owner"},
                    {"work": PartWork.REPAIRED},
                ),
                ("leak", Severity.WEAR, Basis.TESTED, {"instrument": "lamp"}, {"no_photo_reason": "a noise"}),
                ("paint-chip", Severity.NOTE, Basis.DOCUMENTED, {"document": "invoice"}, {"count": 5}),
                ("seep", Severity.COSMETIC, Basis.NOT_CHECKED, {"reason": "too dark"}, {"extent": "40 mm"}),
                ("paint-run", Severity.COSMETIC, Basis.MEASURED, {"on": at.date()}, {"context": tuple(photos[:1])}),
            )
        )
    ]
    bases = (
        Evidence(Basis.TOLD),
        Evidence(Basis.DOCUMENTED, document="invoice", document_date="1971", issuer_kind="a shop"),
        Evidence(Basis.DOCUMENTED),
        Evidence(Basis.TESTED, on=at.date(), conditions="cold"),
        Evidence(Basis.NOT_CHECKED),
    )
    waived = [WaiverOf.SHOT, WaiverOf.PLACE, WaiverOf.FACT, WaiverOf.COMPONENT]
    subjects = [missed[0].id, unseen.places[0].place.id, unseen.unanswered[0], unseen.components[0].component.id]
    return car.with_decisions(
        (
            *(Waiver(of, subject, "as agreed", by, at) for of, subject in zip(waived, subjects, strict=True)),
            *(
                Closing(shot.id, Closed.NOT_REACHABLE, by, at, reason, "seen later")
                for shot, reason in zip(missed[1:], reasons, strict=False)
            ),
            *(CheckResult(check, verdict, by, at, role="clerk", on=at.date()) for check, verdict in free.items()),
            CheckResult("own-horn", CheckVerdict.NOT_TESTED, by, at, item="horn", reason="no-battery"),
            *(Statement(30 + place, "paint", "It was painted", one, by, at) for place, one in enumerate(bases)),
            *(SerialReading(place, "7731", by, at, tuple(photos[:1])) for place in SerialPlace),
            Release(photos[5], Verdict.HOLD, "a face", by, at),
            *severities,
        )
    )


def build(language: Language, *, previous: Edition | None = None, photos: int | None = None) -> Edition:
    """That car as its first edition, unsigned, and as the second: signed, with things added, changed and taken back."""
    car, at = pseudo.typed(spoken_of()), demo_car.MADE_AT
    car, signed = replace(car, photos=car.photos[:photos]), None
    if previous is not None:
        first, second, third, *rest = car.findings
        repaired = replace(first, state=FindingState.REPAIRED, state_reason="αβ", state_on=at.date())
        corrected = replace(second, state=FindingState.CORRECTED, state_reason="αβ")
        third = replace(third, severity=Severity.UNSAFE)
        car = replace(car, findings=(repaired, corrected, third, *rest[1:]), measurements=car.measurements[1:])
        car = replace(car, photos=car.photos[3:], statements=car.statements[2:])
        signed = Signoff(car.findings[0].by, "manager", at, "0" * 64, ())
    house = replace(demo_car.house(), name=pseudo.told(demo_car.house().name), mask_serial=previous is not None)
    covered = coverage.check(car)
    return edition.build(
        car,
        covered,
        signoff.judge(car, covered, house, today=at.date()),
        house,
        number=1 if previous is None else 2,
        made_at=at + timedelta(days=40),
        signed=signed,
        previous=previous.record.as_dict() if previous else None,
        language=language,
    )


def published(made: Edition, folder: Path) -> Published:
    """Pages and paper of it, with one small picture for all."""
    (folder / "photos").mkdir(parents=True)
    Image.new("L", (60, 40)).save(folder / "photos" / "1.jpg")
    pictures = {photo.sha256: (PictureFile("photos/1.jpg", 60, 40),) for photo in made.photos}
    pages = render_pages(made, pictures, templates=places.templates(), seal=SEAL, linked_data=dict(made.json_ld))
    (folder / "d.pdf").write_bytes(
        disclosure_pdf(made, pictures, payload=folder, seal=SEAL, paper=Paper.A4, templates=places.templates())
    )
    return Published(made, pages, folder / "d.pdf")


@pytest.fixture(scope="module")
def both(tmp_path_factory: pytest.TempPathFactory) -> tuple[Published, Published]:
    """A first edition and the one after it."""
    folder = tmp_path_factory.mktemp("words")
    nobodys = pseudo.pseudo(folder / "messages")
    first = build(nobodys)
    second = build(nobodys, previous=first)
    return published(first, folder / "first"), published(second, folder / "second")


class Reader(HTMLParser):
    """The texts of a page that a person reads: nodes, and the attributes that are read aloud or shown."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.texts: list[str] = []
        self.linked_data: list[str] = []
        self.top: dict[str, str | None] = {}
        self._silent, self._linked = 0, False
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = dict(attrs)
        if tag == "html":
            self.top = given
        self._silent += tag in ("script", "style")
        self._linked = given.get("type") == "application/ld+json"
        read = [name for name in READ if name != "content" or given.get("name") == "description"]
        self.texts += [value for name in read if (value := given.get(name))]

    def handle_endtag(self, tag: str) -> None:
        self._silent -= tag in ("script", "style")

    def handle_data(self, data: str) -> None:
        if self._silent and self._linked:
            self.linked_data.append(data)
        if not self._silent and data.strip():
            self.texts.append(data.strip())


def strays(texts: Iterator[str] | list[str]) -> list[str]:
    """The texts that hold a Latin letter outside seals, stock numbers and units as read, each once."""
    found = {}
    for text in texts:
        bare = UNITS.sub("", NAMES.sub("", text.replace(SEAL, "")))
        if latin := re.findall(r"[A-Za-z]+", re.sub(r"\{\w+\}", "", bare)):
            found[f"{latin}: {pseudo.english(text)}"] = None
    return list(found)


def test_both_pages_hold_no_word_outside_the_catalogue(both: tuple[Published, Published]) -> None:
    for one in both:
        assert strays(Reader(one.pages.gallery).texts) == []
        assert strays(Reader(one.pages.disclosure).texts) == []


@printed.needs_poppler
def test_the_paper_holds_no_word_outside_the_catalogue(both: tuple[Published, Published]) -> None:
    for one in both:
        assert strays(list(printed.pages(one.pdf))) == []


def test_what_pictures_say_of_themselves_is_in_the_catalogue(both: tuple[Published, Published]) -> None:
    for one in both:
        notes = [notes_of(one.edition, photo) for photo in one.edition.photos]
        told = [words for note in notes for words in (note.title, note.description, note.alt, note.rights)]
        told += [region.name for note in notes for region in note.regions]
        assert len(told) > 100
        assert strays(told) == []


def test_what_is_said_of_an_outlets_pictures_is_in_the_catalogue(tmp_path: Path) -> None:
    """Reasons, captions' additions, what could not be seen, what does not fit and wishes that could not be kept."""
    rules = load_outlet_rules(places.shot_plans() / "vocabulary")
    nobodys = pseudo.pseudo(tmp_path)
    draft = drafted(nobodys)
    told: list[str] = []
    with speaking(nobodys):
        for limit in (6, 12, 40):
            shown = [one.sha256 for one in draft.pictures]
            wishes = Wishes(pins=tuple(shown[:8]), bans=("f" * 64, *shown[6:9], shown[0]))
            chosen = choose(draft.car, draft.coverage, draft.pictures, rules, limit, wishes)
            told += [*chosen.overflow, *chosen.unseen, *chosen.conflicts]
            told += [words for one in chosen.pictures for words in (one.reason, *one.adds)]
    assert len(told) > 80
    assert strays([words.replace("f" * 8, "") for words in told]) == []


def drafted(language: Language) -> Draft:
    """What an outlet's texts are made from, in that language."""
    car = pseudo.typed(spoken_of())
    house = replace(demo_car.house(), name=pseudo.told(demo_car.house().name))
    with speaking(language):
        return edition.draft_in(
            language, car, coverage.check(car), (), house, number=1, made_at=demo_car.MADE_AT, signed=None
        )


def test_a_listings_text_is_in_the_catalogue_whole_and_cut(tmp_path: Path) -> None:
    """Every sentence in every form, and what is said of those that a limit took."""
    nobodys = pseudo.pseudo(tmp_path)
    draft = drafted(nobodys)
    shown = {one.sha256: place for place, one in enumerate(draft.pictures[:6], start=1)}
    outlet = Outlet("αβ", 6, title_chars=40, teaser_chars=160)
    with speaking(nobodys):
        whole = listing_of(gather(draft, published=False))
        short = listing_of(gather(draft, published=True, places=shown), outlet)
        texts = [write_text(whole, form).plain for form in TextForm]
        texts += [write_text(short, TextForm.PLAIN, limit=limit).text for limit in (600, 2000, 5000)]
    told = [whole.title, whole.teaser, short.title, short.teaser]
    assert strays([*told, *(line for text in texts for line in text.splitlines())]) == []
    assert whole.language == pseudo.TAG


def test_pages_paper_and_pictures_say_their_language(both: tuple[Published, Published]) -> None:
    one = both[0]
    for page in (one.pages.gallery, one.pages.disclosure):
        assert Reader(page).top == {"lang": pseudo.TAG}
    with pikepdf.open(one.pdf) as pdf:
        assert str(pdf.Root.Lang) == pseudo.TAG
    assert {notes_of(one.edition, photo).language for photo in one.edition.photos} == {pseudo.TAG}
    assert one.edition.record.as_dict()["language"] == pseudo.TAG


def test_the_paper_reads_pictures_aloud_in_its_language(both: tuple[Published, Published]) -> None:
    with pikepdf.open(both[0].pdf) as pdf:
        told = [str(one.Alt) for one in pdf.objects if isinstance(one, pikepdf.Dictionary) and "/Alt" in one]
    assert len(told) > 5
    assert strays(told) == []


def test_what_a_search_engine_reads_is_in_the_catalogue(both: tuple[Published, Published]) -> None:
    """Names of properties and of fixed values are schema.org's; what is told in words is in the language."""
    for one in both:
        told = [str(one.edition.json_ld[name]) for name in ("name", "description", "knownVehicleDamages")]
        assert strays(told) == []


def test_a_finding_is_said_by_its_kinds_own_sentence(both: tuple[Published, Published]) -> None:
    """A translated disclosure sentence keeps its slots: what is empty goes, what has no slot is added."""
    rows = [one for group in both[0].edition.disclosure.findings.rows for one in group.findings]
    said = {one.kind: pseudo.english(one.sentence) for one in rows}
    assert said["rust-surface"].startswith("⟦Surface rust on ")
    assert said["paint-chip"].startswith("⟦")
    assert said["paint-chip"].count(";") == 1


def test_figures_dates_and_plurals_follow_the_language(both: tuple[Published, Published]) -> None:
    page = both[0].edition.disclosure
    assert page.edition_words.endswith("23 червня 2026\u202fр.⟧")
    odometer = next(line.words for line in page.identity.rows if pseudo.english(line.label) == "⟦Odometer⟧")
    assert odometer.startswith("⟦48\u00a0213 ")
    assert "0,47 ⟦ин⟧" in str(page.findings), "twelve millimetres in inches, with a comma"
    counts = re.findall(r"⟦(\d+) [^⟧]+⟧(\d)", both[0].edition.gallery.count_words)
    assert [int(form) for _, form in counts] == [form_of(int(n)) for n, _ in counts]
    assert len(counts) == 3


def test_another_language_alone_changes_nothing(tmp_path: Path) -> None:
    """The same car in English and then in the other language: nothing that this page prints has changed."""
    nobodys = pseudo.pseudo(tmp_path)
    car, at = spoken_of(), demo_car.MADE_AT
    covered = coverage.check(car)

    def made(number: int, previous: Edition | None, language: Language) -> Edition:
        return edition.build(
            car,
            covered,
            (),
            demo_car.house(),
            number=number,
            made_at=at,
            signed=None,
            previous=previous.record.as_dict() if previous else None,
            language=language,
        )

    first = made(1, None, ENGLISH)
    assert len(made(2, first, nobodys).disclosure.changed.rows) == 1
    assert made(2, first, ENGLISH).disclosure.changed.rows == (phrases.say("changed.nothing"),)


def form_of(n: int) -> int:
    """Ukrainian's forms: 1, 21, 221 …; 2 to 4, 22 to 24 …; all others ("Plural forms", GNU gettext manual)."""
    if n % 10 == 1 and n % 100 != 11:
        return 0
    return 1 if 2 <= n % 10 <= 4 and not 12 <= n % 100 <= 14 else 2


def test_an_edition_passes_its_own_check_in_any_language(tmp_path: Path) -> None:
    """Published for real, unsigned: the check before it takes its place knows the flag in its own language."""
    made = build(pseudo.pseudo(tmp_path / "messages"), photos=3)
    card = places.demo_assets() / "card"
    files = {photo.sha256: card / photo.name for photo in demo_card.photos()}
    published = make_edition(
        made,
        originals=lambda sha256: files[sha256],
        folder=tmp_path / "editions",
        plan_json="{}\n",
        tool_version="0.1.0",
        recipe=Recipe(widths=(60, 120)),
    )
    assert pseudo.spoken(phrases.WORDS["flag"]) in (published.path / "data" / "index.html").read_text()
    assert verify(published.path).faults == ()
    told = json.loads(Reader((published.path / "data" / "index.html").read_text()).linked_data[0])
    assert strays([one.get("description", "") for one in told["subjectOf"]]) == []


def test_a_language_written_from_the_right_turns_the_page_round(tmp_path: Path) -> None:
    path = tmp_path / "he" / "LC_MESSAGES" / "edition.po"
    path.parent.mkdir(parents=True)
    path.write_text('msgid ""\nmsgstr ""\n\nmsgctxt "basis.seen"\nmsgid "seen"\nmsgstr "נראה"\n', encoding="utf-8")
    made = published(build(language("he", tmp_path)), tmp_path / "out")
    assert Reader(made.pages.gallery).top == {"lang": "he", "dir": "rtl"}
    assert "נראה" in made.pages.disclosure
    with pikepdf.open(made.pdf) as pdf:
        assert str(pdf.Root.Lang) == "he"
