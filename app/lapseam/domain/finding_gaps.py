"""What a finding still lacks before anybody may sign for it. Common trade practice, no source."""

from __future__ import annotations

from enum import StrEnum
from typing import Final

from .car import Car
from .decision import PROGRAM
from .finding import Finding, FindingState

NO_PHOTO_KINDS: Final = frozenset({"smell", "noise"})
"""Kinds of finding that no photo can show: they need a place and a person instead."""


class Lack(StrEnum):
    """One thing that a finding lacks; the value is its word in a sentence."""

    PLACE = "its place"
    PERSON = "the person who noted it"
    CONTEXT = "a context frame"
    CLOSE = "a close frame"
    EXTENT = "its extent"
    REPAIR_DAY = "the day of the repair"
    REPAIR_PHOTO = "a photo after the repair"


def lacks_of(found: Finding, car: Car) -> tuple[Lack, ...]:
    """What the finding lacks on this car; a corrected one lacks nothing, since it no longer says anything."""
    if found.state is FindingState.CORRECTED:
        return ()
    lacks = [] if found.place.strip() else [Lack.PLACE]
    if found.kind in NO_PHOTO_KINDS:
        return (*lacks, *(() if found.by.strip() and found.by != PROGRAM else (Lack.PERSON,)))
    if not any(car.photo(sha256) for sha256 in found.context):
        lacks.append(Lack.CONTEXT)
    if not any(car.photo(sha256) for sha256 in found.close):
        lacks.append(Lack.CLOSE)
    if not found.extent.strip() and found.count is None:
        lacks.append(Lack.EXTENT)
    return (*lacks, *repair_lacks(found, car))


def repair_lacks(found: Finding, car: Car) -> tuple[Lack, ...]:
    """What a repaired finding lacks of its repair: the day, and a photo of the place as it is now."""
    if found.state is not FindingState.REPAIRED:
        return ()
    lacks = [] if found.state_on is not None else [Lack.REPAIR_DAY]
    if not found.no_photo_reason.strip() and not any(car.photo(sha256) for sha256 in found.after):
        lacks.append(Lack.REPAIR_PHOTO)
    return tuple(lacks)
