"""The condition page on paper: the same model as the page's, as rows that the template prints as they come.

Small pictures stand beside findings, with the finding's own marks. The fingerprint stands on every page and in a code
that holds its text and no address, so that paper and package can be compared without any network.
"""

from __future__ import annotations

import dataclasses
import json
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Final

from lapseam.domain.edition import (
    CheckShown,
    Edition,
    FindingShown,
    Line,
    MarkShown,
    MeasurementShown,
    PartShown,
    PhotoRef,
    PublishedPhoto,
    SeverityGroup,
    StatementShown,
    ZoneShown,
)
from lapseam.domain.finding import MarkShape
from lapseam.domain.language import speaking
from lapseam.domain.phrases import say, template

from . import section_views, views
from .print_cards import code_svg
from .print_words import fitting, named
from .section_views import SectionView, ZoneGaps
from .typesetting import Paper, typeset
from .views import Pictures

TEMPLATE: Final = "disclosure/disclosure.typ"

_LONG: Final = 4000
_SHORT: Final = 240
_PICTURE_MM: Final = (50.0, 36.0)
"""A small picture is as large as fits this box."""
_POINT_MM: Final = 4.0
_SLOT: Final = re.compile(r"(\{\w+\})")
_TAG: Final = re.compile(r"(?P<language>[a-z]{2,3})(?:-[A-Z][a-z]{3})?(?:-(?P<region>[A-Z]{2}))?(?:-|$)")
"""BCP 47: language, script, region; the typesetter takes the first and the last."""


@dataclass(frozen=True, slots=True)
class MarkPrinted:
    """A mark in millimetres from the picture's top left corner; a point is a circle in its box."""

    number: str
    point: bool
    x: float
    y: float
    width: float
    height: float


@dataclass(frozen=True, slots=True)
class PicturePrinted:
    """A small picture: its file, its size on paper in millimetres, the words that stand for it, and its marks."""

    file: str
    width: float
    height: float
    alt: str
    words: str
    marks: tuple[MarkPrinted, ...]


@dataclass(frozen=True, slots=True)
class ItemPrinted:
    """One entry of a section. `sign` is a finding's number or a box for what is open; notes are label and words."""

    title: str
    level: int
    sign: str = ""
    where: str = ""
    sentences: tuple[str, ...] = ()
    readings: tuple[tuple[str, str, str], ...] = ()
    notes: tuple[tuple[str, str], ...] = ()
    pictures: tuple[PicturePrinted, ...] = ()


@dataclass(frozen=True, slots=True)
class GroupPrinted:
    """Entries under one heading, "" for none."""

    heading: str
    items: tuple[ItemPrinted, ...]


@dataclass(frozen=True, slots=True)
class SectionPrinted:
    """One section: sentences, then lines (label, words, basis), then groups; a section has one of the three."""

    heading: str
    lead: str
    sentences: tuple[str, ...] = ()
    lines: tuple[tuple[str, str, str], ...] = ()
    groups: tuple[GroupPrinted, ...] = ()


@dataclass(frozen=True, slots=True)
class DisclosurePrinted:
    """The whole document as finished words; `code` is an SVG of the fingerprint's text.

    `page` are the words at a page's foot in pieces, two of them the slots "{page}" and "{pages}", in any order.
    """

    title: str
    language: str
    region: str
    direction: str
    house: str
    flag: str
    edition_words: str
    stock_words: str
    signed_words: str
    headlines: tuple[str, ...]
    sections: tuple[SectionPrinted, ...]
    seal: str
    code: str
    page: tuple[str, ...]
    words: Mapping[str, str]


def disclosure_pdf(
    edition: Edition, pictures: Pictures, *, payload: Path, seal: str, paper: Paper, templates: Path
) -> bytes:
    """The condition page as PDF, tagged, dated with the edition's day.

    Args:
        pictures: the picture files of every photo shown, whose addresses are relative to `payload`.
        seal: SHA-256 of `edition.json`.
    """
    shown = disclosure_printed(edition, pictures, seal=seal)
    looks = json.loads((templates / "tokens.json").read_text(encoding="utf-8"))["bright"]
    source = (templates / TEMPLATE).read_bytes()
    on = datetime.fromisoformat(edition.made_at).date()
    return typeset(source, {**dataclasses.asdict(shown), "looks": looks}, root=payload, paper=paper, on=on)


def disclosure_printed(edition: Edition, pictures: Pictures, *, seal: str) -> DisclosurePrinted:
    """The finished words of the document."""
    with speaking(edition.language):
        return _printed(edition, pictures, seal)


def _printed(edition: Edition, pictures: Pictures, seal: str) -> DisclosurePrinted:
    page = edition.disclosure
    printer = _Printer({photo.sha256: photo for photo in edition.photos}, pictures)
    language, region = _subtags(edition.language.tag)
    return DisclosurePrinted(
        title=named(page.title, _SHORT),
        language=language,
        region=region,
        direction="rtl" if edition.language.rtl else "ltr",
        house=fitting(page.house, _SHORT),
        flag=fitting(page.flag, _SHORT),
        edition_words=fitting(page.edition_words, _SHORT),
        stock_words=fitting(page.stock_words, _SHORT),
        signed_words=fitting(page.signed_words, _SHORT),
        headlines=tuple(fitting(words, _LONG) for words in page.headlines),
        sections=tuple(printer.section(section) for section in section_views.sections(page)),
        seal=seal,
        code=code_svg(seal),
        page=tuple(part for part in _SLOT.split(template("print.page")) if part),
        words={
            "contents": say("print.contents"),
            "govern": say("print.govern"),
            "seal": say("print.seal"),
            "seal_words": say("print.seal.words"),
            "code_alt": say("print.code", seal=seal),
        },
    )


def _subtags(tag: str) -> tuple[str, str]:
    """Language and region, "" for none; English for a tag that is none."""
    found = _TAG.match(tag)
    return (found["language"], found["region"] or "") if found else ("en", "")


class _Printer:
    """Turns the page's rows into entries on paper."""

    def __init__(self, photos: Mapping[str, PublishedPhoto], pictures: Pictures) -> None:
        self._photos, self._pictures = photos, pictures

    def section(self, section: SectionView) -> SectionPrinted:
        """One section, by the kind of its rows."""
        heading, lead = named(section.heading, _SHORT), fitting(section.lead, _LONG)
        sentences: list[str] = []
        lines: list[tuple[str, str, str]] = []
        groups: list[GroupPrinted] = []
        alone: list[ItemPrinted] = []
        for row in section.rows:
            match row:
                case str():
                    sentences.append(fitting(row, _LONG))
                case Line():
                    lines.append(_line(row.label, row.words, row.basis))
                case ZoneShown():
                    lines.append(_line(row.zone_name, row.found_words, row.words))
                case PartShown():
                    how = " · ".join(part for part in (row.origin_words, row.work_words) if part)
                    lines.append(_line(row.component, row.sentence, how))
                case SeverityGroup():
                    inside = tuple(self._finding(one, 4) for one in row.findings)
                    groups.append(GroupPrinted(named(row.heading, _SHORT), inside))
                case ZoneGaps():
                    groups.append(_gaps(row))
                case FindingShown():
                    alone.append(self._finding(row, 3))
                case CheckShown() | MeasurementShown() | StatementShown():
                    alone.append(_entry(row))
        if alone:
            groups.append(GroupPrinted("", tuple(alone)))
        return SectionPrinted(heading, lead, tuple(sentences), tuple(lines), tuple(groups))

    def _finding(self, shown: FindingShown, level: int) -> ItemPrinted:
        notes = (
            ("print.extent", shown.extent),
            ("print.known", shown.basis_words),
            ("print.part", shown.origin_words),
            ("print.work", shown.work_words),
            ("print.photos", ", ".join(photo.words for photo in shown.photos)),
        )
        said = (shown.sentence, shown.state_words, shown.photo_note)
        return ItemPrinted(
            title=named(shown.name, _SHORT),
            level=level,
            sign=str(shown.number),
            where=fitting(" · ".join(part for part in (shown.zone_name, shown.place) if part), _SHORT),
            sentences=tuple(fitting(words, _LONG) for words in said if words),
            notes=_notes(notes),
            pictures=tuple(self._small(photo, shown) for photo in shown.photos if self._pictures.get(photo.sha256)),
        )

    def _small(self, photo: PhotoRef, shown: FindingShown) -> PicturePrinted:
        file = views.stills(self._pictures[photo.sha256])[0]
        widest, highest = _PICTURE_MM
        scale = min(widest / file.width, highest / file.height)
        width, height = file.width * scale, file.height * scale
        told = self._photos.get(photo.sha256)
        marks = [mark for mark in told.marks if mark.finding == shown.number] if told else []
        alt = [told.alt if told else "", *(mark.words for mark in marks)]
        return PicturePrinted(
            file=f"/{file.href}",
            width=round(width, 2),
            height=round(height, 2),
            alt=named(". ".join(words.rstrip(".") for words in alt if words), _LONG),
            words=fitting(photo.words, _SHORT),
            marks=tuple(_mark(mark, width, height) for mark in marks),
        )


def _entry(row: CheckShown | MeasurementShown | StatementShown) -> ItemPrinted:
    """A check, a measurement or a statement."""
    title, where = "", ""
    notes: tuple[tuple[str, str], ...] = ()
    readings: Iterable[tuple[str, str, str]] = ()
    match row:
        case CheckShown():
            title, where = f"{row.item}: {row.verdict_words}", row.zone_name
        case MeasurementShown():
            title, where = row.name, row.component
            readings = ((one.place, one.as_read, one.converted) for one in row.readings)
            notes = (("print.instrument", row.instrument), ("print.uncertainty", row.uncertainty))
            notes = (*notes, ("print.note", row.note))
        case StatementShown():
            title, notes = row.subject, (("print.known", row.basis_words),)
    notes = (*notes, ("print.photos", ", ".join(photo.words for photo in row.photos)))
    return ItemPrinted(
        title=named(title, _SHORT),
        level=3,
        sign="–",
        where=fitting(where, _SHORT),
        sentences=(fitting(row.sentence, _LONG),),
        readings=tuple((fitting(a, _SHORT), fitting(b, _SHORT), fitting(c, _SHORT)) for a, b, c in readings),
        notes=_notes(notes),
    )


def _gaps(zone: ZoneGaps) -> GroupPrinted:
    heading = fitting(zone.zone_name, _SHORT)
    level = 4 if heading else 3
    items = tuple(
        ItemPrinted(title=named(subject, _SHORT), level=level, sign="□", sentences=(fitting(words, _LONG),))
        for subject, words in zone.gaps
    )
    return GroupPrinted(heading, items)


def _line(label: str, words: str, basis: str) -> tuple[str, str, str]:
    """Label, words, and how it is known where the words do not say it themselves."""
    return named(label, _SHORT), fitting(words, _LONG), "" if basis in words else fitting(basis, _LONG)


def _notes(notes: Iterable[tuple[str, str]]) -> tuple[tuple[str, str], ...]:
    return tuple((say(key), fitting(words, _LONG)) for key, words in notes if words)


def _mark(mark: MarkShown, width: float, height: float) -> MarkPrinted:
    """Where the mark is drawn: wholly inside the picture."""
    if mark.shape is MarkShape.POINT:
        wide = high = _POINT_MM
        left, top = mark.x * width - wide / 2, mark.y * height - high / 2
    else:
        wide, high = max(1.0, mark.width * width), max(1.0, mark.height * height)
        left, top = mark.x * width, mark.y * height
    left, top = max(0.0, min(left, width - 1)), max(0.0, min(top, height - 1))
    wide, high = min(wide, width - left), min(high, height - top)
    at = (round(left, 2), round(top, 2), round(wide, 2), round(high, 2))
    return MarkPrinted(str(mark.finding), mark.shape is MarkShape.POINT, *at)
