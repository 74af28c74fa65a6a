"""The edition: one published version of a car, worked out whole before anything is rendered.

The models stand in `page`; import them from here.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import datetime
from typing import Any

from .car import Car, House
from .coverage import Coverage, check
from .decision import Signoff
from .edition_comparison import changes_since
from .edition_disclosure import changed_section, disclosure_page
from .edition_draft import Draft, draft_for
from .edition_gallery import gallery_page
from .edition_gaps import not_seen, not_tested
from .edition_record import json_ld, public_record, published_photos
from .language import ENGLISH, Language, speaking
from .page import (
    Cell,
    Chapter,
    CheckShown,
    Disclosure,
    Edition,
    FindingRef,
    FindingShown,
    Gallery,
    GapShown,
    Line,
    MarkShown,
    MeasurementShown,
    PartShown,
    PhotoRef,
    PictureShown,
    PublicRecord,
    PublishedPhoto,
    ReadingShown,
    Section,
    Segment,
    SeverityGroup,
    StatementShown,
    ZoneShown,
)
from .plan_words import in_language
from .signoff_case import RuleAnswer
from .units import own_units

__all__ = [
    "Cell",
    "Chapter",
    "CheckShown",
    "Disclosure",
    "Edition",
    "FindingRef",
    "FindingShown",
    "Gallery",
    "GapShown",
    "Line",
    "MarkShown",
    "MeasurementShown",
    "PartShown",
    "PhotoRef",
    "PictureShown",
    "PublicRecord",
    "PublishedPhoto",
    "ReadingShown",
    "Section",
    "Segment",
    "SeverityGroup",
    "StatementShown",
    "ZoneShown",
    "build",
    "draft_in",
    "with_own_units",
]


def build(
    car: Car,
    coverage: Coverage,
    rules: tuple[RuleAnswer, ...],
    house: House,
    *,
    number: int,
    made_at: datetime,
    signed: Signoff | None,
    previous: Mapping[str, Any] | None = None,
    language: Language = ENGLISH,
) -> Edition:
    """Work out one edition.

    Args:
        car, coverage, rules, house: the record, what `coverage.check` and `signoff.judge` say of it, and the dealer.
        number: the edition's number, counting from 1.
        made_at: when it is made; printed as a day.
        signed: the signature that stands under exactly this record, None if nobody signed it as it is now.
        previous: the public record of the edition before (as read from its file), None if there is none.
        language: what its words are in. What people typed stays as they typed it.
    """
    with speaking(with_own_units(language, house)):
        draft = draft_in(language, car, coverage, rules, house, number=number, made_at=made_at, signed=signed)
        return _built(draft, previous, language)


def with_own_units(language: Language, house: House) -> Language:
    """The language with the house's own units first, where it wants that."""
    return replace(language, units_first=own_units(house.units) if house.own_units_first else frozenset())


def draft_in(
    language: Language,
    car: Car,
    coverage: Coverage,
    rules: tuple[RuleAnswer, ...],
    house: House,
    *,
    number: int,
    made_at: datetime,
    signed: Signoff | None,
) -> Draft:
    """What an edition's pages and an outlet's texts are made from; call it while that language is spoken."""
    told = in_language(car.plan, language)
    if told is not car.plan:
        car = replace(car, plan=told)
        coverage = check(car)
    return draft_for(car, coverage, rules, house, number=number, made_at=made_at, signed=signed)


def _built(draft: Draft, previous: Mapping[str, Any] | None, language: Language) -> Edition:
    unseen, untested = not_seen(draft), not_tested(draft)
    gallery = gallery_page(draft, unseen, untested)
    page = disclosure_page(draft, unseen, untested)
    record = public_record(draft, gallery, page)
    if previous is not None:
        page = replace(page, changed=changed_section(changes_since(previous, record.data)))
    return Edition(
        number=draft.number,
        stock=draft.car.stock,
        made_at=draft.made_at.isoformat(),
        revision=draft.car.revision,
        signed=draft.signed is not None,
        gallery=gallery,
        disclosure=page,
        record=record,
        json_ld=json_ld(draft, gallery, page),
        photos=published_photos(draft, gallery),
        language=language,
    )
