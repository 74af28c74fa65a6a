"""What a verb changed: flags for screens, and the journal's entries for undo and audit."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from enum import Flag, auto
from typing import Any


class Changes(Flag):
    """The kinds of thing that one verb may have changed."""

    NOTHING = 0
    CARS = auto()
    FACTS = auto()
    PHOTOS = auto()
    PLACEMENTS = auto()
    FINDINGS = auto()
    CHECKS = auto()
    STATEMENTS = auto()
    SIGNOFF = auto()
    EDITIONS = auto()
    CALLS = auto()
    OUTLETS = auto()
    EVERYTHING = (
        CARS | FACTS | PHOTOS | PLACEMENTS | FINDINGS | CHECKS | STATEMENTS | SIGNOFF | EDITIONS | CALLS | OUTLETS
    )


@dataclass(frozen=True, slots=True)
class Change:
    """One row before and after, as JSON values. `before` None: the row is new; `after` None: it is gone."""

    kind: str
    key: str
    before: Mapping[str, Any] | None
    after: Mapping[str, Any] | None


@dataclass(frozen=True, slots=True)
class Entry:
    """One step of a car's journal: who did what, when, and what it changed. Nobody edits it.

    `number` counts from 1 for each car; `undoes` and `redoes` name the step that this one plays back or forth;
    a step that is not `undoable` (a photo taken in, an edition published) is passed over by undo.
    """

    stock: str
    number: int
    at: datetime
    by: str
    verb: str
    words: str
    changes: tuple[Change, ...] = ()
    undoable: bool = True
    undoes: int | None = None
    redoes: int | None = None
