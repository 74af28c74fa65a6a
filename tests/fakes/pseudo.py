"""A language that nobody speaks, to find words that stand outside the catalogue.

Every text of the list is written with Cyrillic letters in place of the Latin ones and in brackets; what people typed on
the car is written with Greek letters. A Latin letter on a page is then a word that somebody wrote into the code. The
language is Ukrainian's tag: three and more plural forms, a decimal comma, and months without a Latin letter.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import fields, is_dataclass, replace
from pathlib import Path
from typing import Any

from babel.messages.catalog import Catalog
from babel.messages.pofile import write_po

from lapseam.domain.car import Car
from lapseam.domain.language import Language
from lapseam.publish import language
from words import catalogue

TAG = "uk"
_LATIN = "abcdefghijklmnopqrstuvwxyz"
_CYRILLIC = "абцдефгхийклмнопярстувшжзю"
_GREEK = "αβψδεφγηιξκλμνοπζρστθωϋχυά"
_TO_CYRILLIC = str.maketrans(_LATIN + _LATIN.upper(), _CYRILLIC + _CYRILLIC.upper())
_TO_GREEK = str.maketrans(_LATIN + _LATIN.upper(), _GREEK + _GREEK.upper())
_BACK = str.maketrans(_CYRILLIC + _CYRILLIC.upper(), _LATIN + _LATIN.upper())
_SLOT = re.compile(r"(\{\w+\})")
_SIZE = re.compile(r"(\d\s*(?:mm|cm|km|mi|mil|in)\b)")
_TYPED = frozenset(
    (
        *("place", "extent", "detail", "state_reason", "no_photo_reason", "note", "who_said", "document", "text"),
        *("document_date", "issuer_kind", "instrument", "conditions", "claim", "uncertainty", "make", "model"),
        *("trim", "colour", "interior", "odometer_status", "item", "serial", "words"),
    )
)
"""Fields of decisions that people fill with words of their own."""


def spoken(words: str) -> str:
    """A text of the list in the language that nobody speaks, its slots kept."""
    parts = _SLOT.split(words)
    return "⟦" + "".join(part if _SLOT.fullmatch(part) else part.translate(_TO_CYRILLIC) for part in parts) + "⟧"


def told(words: str) -> str:
    """What somebody typed, in letters of its own; figures keep their units, which are converted."""
    return "".join(part if _SIZE.fullmatch(part) else part.translate(_TO_GREEK) for part in _SIZE.split(words))


def english(words: str) -> str:
    """The English behind a text, for whoever reads a failing test."""
    return words.translate(_BACK)


def written(folder: Path) -> Path:
    """A folder with the catalogue: every text of the list, in as many forms as the language has."""
    made = Catalog(locale=TAG)
    for one in catalogue.collected():
        if not one.id:
            continue
        if isinstance(one.id, str):
            text: Any = "small" if one.context == "inside" else spoken(one.id)
            if one.context == "disclosure sentence":
                text = text.removesuffix("⟧")
        else:
            text = tuple(f"{spoken(one.id[1])}{form}" for form in range(made.num_plurals))
        made.add(one.id, text, context=one.context)
    path = folder / TAG / "LC_MESSAGES" / "edition.po"
    path.parent.mkdir(parents=True)
    with path.open("wb") as file:
        write_po(file, made, width=0)
    return folder


def pseudo(folder: Path) -> Language:
    """The language, read as any other."""
    return language(TAG, written(folder))


def typed(car: Car) -> Car:
    """The car with all that people typed on it in Greek letters."""
    kept = {part.id for zone in car.plan.vocabulary.zones.values() for part in zone.components}
    return replace(
        car,
        **{one.name: _typed(getattr(car, one.name), kept) for one in fields(car) if one.name not in ("plan", "photos")},
    )


def _typed(value: Any, kept: set[str]) -> Any:
    if isinstance(value, tuple):
        return tuple(_typed(one, kept) for one in value)
    if isinstance(value, dict):
        return {key: _typed(one, kept) for key, one in value.items()}
    if not is_dataclass(value) or isinstance(value, type):
        return value
    free = _free(type(value).__name__)
    changed = {}
    for one in fields(value):
        inner = getattr(value, one.name)
        if type(inner) is str and free(one.name) and inner not in kept:
            changed[one.name] = told(inner)
        elif isinstance(inner, tuple) or is_dataclass(inner):
            changed[one.name] = _typed(inner, kept)
    return replace(value, **changed)


def _free(kind: str) -> Callable[[str], bool]:
    """Which fields of a decision are words: a waiver's and an evidence's reason is, a closing's is an id."""
    more = {"Waiver": {"reason"}, "Evidence": {"reason"}, "Statement": {"subject"}}.get(kind, set())
    return lambda name: name in _TYPED or name in more
