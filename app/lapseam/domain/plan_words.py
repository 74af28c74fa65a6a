"""A plan's printed words in the language that is spoken: its shots' and the vocabulary's own.

Which fields are printed stands in one table, which also tells a translator's list what to hold. A house's own words,
which no catalogue knows, stay as the house wrote them.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import fields, is_dataclass, replace
from typing import Any, Final, TypeVar

from .language import Language
from .plan import (
    BasisWord,
    CheckAsked,
    Component,
    FactAsked,
    FindingKind,
    GalleryGroup,
    MeasurementAsked,
    MustSee,
    Plan,
    Reason,
    RustPlace,
    Setup,
    Shot,
    SignoffRule,
    Zone,
)

PRINTED: Final[Mapping[type, Mapping[str, str]]] = {
    Zone: {"name": "zone"},
    Component: {"name": "part"},
    RustPlace: {"where": "rust-prone place"},
    FindingKind: {"name": "finding kind", "definition": "finding kind, defined", "say": "disclosure sentence"},
    CheckAsked: {"item": "function check"},
    Reason: {"name": "why not tested"},
    MeasurementAsked: {"name": "measurement", "uncertainty": "uncertainty"},
    BasisWord: {
        "name": "basis",
        "definition": "basis, defined",
        "proves": "what a basis proves",
        "proves_not": "what a basis does not prove",
    },
    SignoffRule: {"rule": "sign-off rule"},
    GalleryGroup: {"name": "gallery group", "holds": "gallery group, holds"},
    Setup: {"name": "setup"},
    Shot: {"title": "shot"},
    MustSee: {"words": "must be seen"},
}
"""The fields that an edition prints or coverage says, each with the context of its words in the catalogue."""

Value = TypeVar("Value")


def in_language(plan: Plan, language: Language) -> Plan:
    """The plan with every printed word in that language; ids, conditions and lists of ids stay."""
    return _told(plan, language) if language.catalogue else plan


def _told(value: Value, language: Language) -> Value:
    here: Any = value
    if isinstance(here, tuple):
        return tuple(_told(one, language) for one in here)  # type: ignore[return-value]
    if isinstance(here, Mapping):
        return {key: _told(one, language) for key, one in here.items()}  # type: ignore[return-value]
    if not is_dataclass(value) or isinstance(value, type):
        return value
    printed = PRINTED.get(type(here), {})
    changed: dict[str, Any] = {}
    for one in fields(here):
        inner = getattr(here, one.name)
        if one.name in printed:
            changed[one.name] = language.text(inner, context=printed[one.name]) if inner else inner
        elif isinstance(inner, tuple | Mapping) or is_dataclass(inner):
            changed[one.name] = _told(inner, language)
    return replace(value, **changed)


def printed_words(value: object) -> Iterator[tuple[str, str]]:
    """Every printed word of a plan or a part of one, with its context, in the order in which they stand."""
    here: Any = value
    if isinstance(here, tuple):
        for one in here:
            yield from printed_words(one)
    elif isinstance(here, Mapping):
        yield from printed_words(tuple(here.values()))
    elif is_dataclass(here) and not isinstance(here, type):
        printed = PRINTED.get(type(here), {})
        if isinstance(here, FactAsked):
            yield "fact", here.id.replace("-", " ").replace("_", " ")
        for one in fields(here):
            inner = getattr(here, one.name)
            if one.name in printed and inner:
                yield printed[one.name], inner
            elif one.name not in printed:
                yield from printed_words(inner)
