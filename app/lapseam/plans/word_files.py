"""The files of a vocabulary folder: for each file its keys."""

from __future__ import annotations

from collections.abc import Mapping

from .claim_fields import CLAIMS_FILE
from .fields import Field, One, Rows, Shape
from .search_fields import SYNONYMS_FILE
from .show_fields import (
    BELOW,
    DATE_RULE,
    GROUP,
    LIMIT,
    ORIGINALITY,
    OVERFLOW,
    QUESTION,
    SIGNOFF,
    SWAP,
    TITLE_STATE,
    ZONE_GALLERY,
)
from .walk_fields import BASIS, CAUTION, CHECK, COMPONENTS, FACT, FINDING, MEASURE, REASON, RUST_PLACE, TYPE_TEST, ZONE
from .word_lists import Lists


def _file(name: str, words: str, **lists: Field) -> tuple[str, Shape]:
    return name, Shape(name, words, lists)


def _rows(shape: Shape, words: str, name_by: str = "id") -> Field:
    return Field(Rows(shape, least=1, name_by=name_by), words, required=True)


FILES: Mapping[str, Shape] = dict(
    (
        _file("facts.yaml", "facts that conditions may ask", facts=_rows(FACT, "the facts")),
        _file(
            "zones.yaml",
            "zones and components",
            zones=_rows(ZONE, "the zones, in walking order"),
            skin_only_rust=Field(COMPONENTS, "rust-prone components that are skin and carry no load", default=()),
        ),
        _file(
            "rust_places.yaml",
            "rust-prone places",
            type_tests=_rows(TYPE_TEST, "the words for constructions"),
            rust_places=_rows(RUST_PLACE, "the places"),
        ),
        _file("findings.yaml", "kinds of finding", findings=_rows(FINDING, "the kinds")),
        _file(
            "checks.yaml",
            "functions to test",
            not_tested_reasons=_rows(REASON, "why one may stay untested"),
            checks=_rows(CHECK, "the functions"),
        ),
        _file("measurements.yaml", "readings to take", measures=_rows(MEASURE, "the readings")),
        _file("bases.yaml", "how a statement is known", evidence_basis=_rows(BASIS, "the six bases")),
        ("claims.yaml", CLAIMS_FILE),
        _file("cautions.yaml", "reminders", cautions=_rows(CAUTION, "the reminders")),
        _file("signoff.yaml", "sign-off rules", signoff_rules=_rows(SIGNOFF, "the rules")),
        _file(
            "gallery.yaml",
            "the gallery's order",
            gallery_groups=_rows(GROUP, "the chapters"),
            zone_gallery=_rows(ZONE_GALLERY, "the chapter of each zone", "zone"),
        ),
        _file("words.yaml", "small word lists", word_lists=Field(Lists(), "lists of words by name", required=True)),
        _file("originality.yaml", "originality", originality=_rows(ORIGINALITY, "the words")),
        _file("dates.yaml", "date rules", date_rules=_rows(DATE_RULE, "the rules")),
        _file("titles.yaml", "title papers", title_states=_rows(TITLE_STATE, "the states")),
        _file("questions.yaml", "questions of callers", questions=_rows(QUESTION, "the questions")),
        ("synonyms.yaml", SYNONYMS_FILE),
        _file(
            "outlets.yaml",
            "which photos survive an outlet's limit",
            outlet_limits=_rows(LIMIT, "the limits", "limit"),
            conditional_swaps=Field(Rows(SWAP, name_by="limit"), "exchanges", default=()),
            structural_overflow=Field(One(OVERFLOW), "when structural findings outnumber the places", required=True),
            below_12=Field(One(BELOW), "below twelve photos", required=True),
        ),
    )
)
"""Every file of a vocabulary folder, in reading order, with its shape."""
