"""Findings: one observation at one place, bad or good."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from enum import StrEnum

from .statement import Evidence


class Severity(StrEnum):
    """Our own plain words, in rising order; no published scale."""

    NOTE = "note"
    COSMETIC = "cosmetic"
    WEAR = "wear"
    NEEDS_WORK = "needs-work"
    STRUCTURAL = "structural"
    UNSAFE = "unsafe"

    @property
    def rank(self) -> int:
        """0 for a note to 5 for unsafe."""
        return tuple(Severity).index(self)


class FindingState(StrEnum):
    """A finding is never deleted: it is open, repaired (with photo and date) or corrected (with reason)."""

    OPEN = "open"
    REPAIRED = "repaired"
    CORRECTED = "corrected"


class PartOrigin(StrEnum):
    """Where the part came from."""

    ORIGINAL = "original"
    NEW_OLD_STOCK = "new-old-stock"
    FACTORY_TYPE = "factory-type-replacement"
    REPRODUCTION = "reproduction"
    AFTERMARKET = "aftermarket"
    UNKNOWN = "unknown"


class PartWork(StrEnum):
    """What was done to the part: another question than where it came from."""

    NONE = "none"
    REPAIRED = "repaired"
    REFINISHED = "refinished"
    REBUILT = "rebuilt"
    MODIFIED = "modified"
    UNKNOWN = "unknown"


class MarkShape(StrEnum):
    """What a mark is drawn as."""

    POINT = "point"
    BOX = "box"


@dataclass(frozen=True, slots=True)
class Mark:
    """A place on a photo, in shares 0..1 of the upright picture, origin top left. A point has no width and height."""

    sha256: str
    shape: MarkShape
    x: float
    y: float
    width: float = 0.0
    height: float = 0.0


@dataclass(frozen=True, slots=True)
class Finding:
    """One observation. `kind` and `component` are ids of the vocabulary; `place` and `extent` are words with units.

    `context` and `close` are SHA-256 digests of the frames that show it. `no_photo_reason` is for what no photo can
    show (smell, noise). `state_on` is the day since which it is no longer open; `after` are frames of the place after
    its repair.
    """

    number: int
    component: str
    kind: str
    place: str
    severity: Severity
    evidence: Evidence
    by: str
    at: datetime
    extent: str = ""
    count: int | None = None
    detail: str = ""
    context: tuple[str, ...] = ()
    close: tuple[str, ...] = ()
    marks: tuple[Mark, ...] = ()
    origin: PartOrigin = PartOrigin.UNKNOWN
    work: PartWork = PartWork.UNKNOWN
    state: FindingState = FindingState.OPEN
    state_reason: str = ""
    state_on: date | None = None
    after: tuple[str, ...] = ()
    no_photo_reason: str = ""
    note: str = ""

    @property
    def key(self) -> str:
        return str(self.number)

    @property
    def photos(self) -> tuple[str, ...]:
        """Context frames, then close ones, then those after a repair, each once."""
        return tuple(dict.fromkeys((*self.context, *self.close, *self.after)))
