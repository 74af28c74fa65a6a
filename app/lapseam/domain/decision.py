"""Decisions: what people said about a car, each a row with who and when, each of which can be undone.

Findings, checks, measurements, statements, serial readings, jottings, what callers asked and what outlets showed are
decisions too; they have modules of their own.
`KINDS` names every kind; a decision's `key` is unique within its kind and car.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from typing import Final

from .call import Asked, Call
from .condition import Value
from .finding import Finding
from .jotting import Jotting
from .posting import OutletWishes, Posting
from .statement import CheckResult, Measurement, SerialReading, Statement

PROGRAM: Final = "lapseam"
"""The name under which the program itself proposes; never a person's."""


@dataclass(frozen=True, slots=True)
class CarDetails:
    """What the house calls the car. Free words; nothing here is a claim until a statement makes it one."""

    by: str
    at: datetime
    year: int | None = None
    make: str = ""
    model: str = ""
    trim: str = ""
    colour: str = ""
    interior: str = ""
    serial: str = ""
    odometer_reading: int | None = None
    odometer_unit: str = ""
    odometer_digits: int | None = None
    odometer_status: str = ""

    @property
    def key(self) -> str:
        return "details"

    @property
    def title(self) -> str:
        """Year, make and model as a headline; the parts that are not known are left out."""
        return " ".join(str(part) for part in (self.year, self.make, self.model) if part)


@dataclass(frozen=True, slots=True)
class FactAnswer:
    """The answer to one fact of the plan's list."""

    fact: str
    value: Value
    by: str
    at: datetime

    @property
    def key(self) -> str:
        return self.fact


class Target(StrEnum):
    """Where a placement puts a photo: on a shot, as an extra of a zone, or set aside."""

    SHOT = "shot"
    EXTRA = "extra"
    ASIDE = "aside"


class Slot(StrEnum):
    """The two named frames of a rust-prone proof."""

    CONTEXT = "context"
    PROOF = "proof"


class Sureness(StrEnum):
    """How sure a placement is. `decided` is a person's word; the others are the program's."""

    DECIDED = "decided"
    STRONG = "strong"
    LIKELY = "likely"
    WEAK = "weak"


@dataclass(frozen=True, slots=True)
class Placement:
    """Which shot a photo answers, how sure that is, and who said so.

    Only a `decided` placement accepts a frame. `score` is 0 (no fit) to 1; `reasons` are words for a person.
    """

    sha256: str
    target: Target
    by: str
    at: datetime
    sureness: Sureness
    shot: str = ""
    zone: str = ""
    slot: Slot | None = None
    score: float | None = None
    reasons: tuple[str, ...] = ()

    @property
    def key(self) -> str:
        return self.sha256

    @property
    def accepted(self) -> bool:
        """Whether a person put this frame on its shot."""
        return self.target is Target.SHOT and self.sureness is Sureness.DECIDED


class Sight(StrEnum):
    """What a person saw of a must-see item on a frame."""

    SEEN = "seen"
    COATED = "coated"


@dataclass(frozen=True, slots=True)
class Tick:
    """A person looked at a frame and saw a must-see item, or saw that coating hides its metal."""

    shot: str
    item: str
    sha256: str
    sight: Sight
    by: str
    at: datetime

    @property
    def key(self) -> str:
        return f"{self.shot}/{self.item}/{self.sha256}"


class Closed(StrEnum):
    """Why a shot will have no frame."""

    NOT_REACHABLE = "not-reachable"
    NOT_FITTED = "not-fitted"


@dataclass(frozen=True, slots=True)
class Closing:
    """A shot closed without a frame: not reachable (with a reason of the list) or not fitted, by a named person."""

    shot: str
    closed: Closed
    by: str
    at: datetime
    reason: str = ""
    note: str = ""

    @property
    def key(self) -> str:
        return self.shot


@dataclass(frozen=True, slots=True)
class Looked:
    """Somebody looked at a component and saw nothing to report. Silence never says this."""

    component: str
    by: str
    at: datetime
    photos: tuple[str, ...] = ()

    @property
    def key(self) -> str:
        return self.component


class WaiverOf(StrEnum):
    """What a waiver lets stand."""

    SHOT = "shot"
    PLACE = "place"
    COMPONENT = "component"
    FACT = "fact"
    RULE = "rule"


@dataclass(frozen=True, slots=True)
class Waiver:
    """A named person's reason why a gap may stand; laid over a state, never replacing it."""

    of: WaiverOf
    subject: str
    reason: str
    by: str
    at: datetime

    @property
    def key(self) -> str:
        return f"{self.of}:{self.subject}"


class Verdict(StrEnum):
    """What a look for plates, papers and stamps decided."""

    SHOW = "show"
    HOLD = "hold"


@dataclass(frozen=True, slots=True)
class Release:
    """A person looked at a photo for what must be hidden, and shows it or holds it back. Until then it is withheld."""

    sha256: str
    verdict: Verdict
    words: str
    by: str
    at: datetime

    @property
    def key(self) -> str:
        return self.sha256


@dataclass(frozen=True, slots=True)
class Lead:
    """The photo a person chose to open the gallery with."""

    sha256: str
    by: str
    at: datetime

    @property
    def key(self) -> str:
        return "lead"


@dataclass(frozen=True, slots=True)
class Caption:
    """What a person says a photo shows, in place of its shot's title; findings stay told as the record has them."""

    sha256: str
    words: str
    by: str
    at: datetime

    @property
    def key(self) -> str:
        return self.sha256


@dataclass(frozen=True, slots=True)
class Arranged:
    """The order in which a person wants photos of one gallery group; photos that it does not name keep their places."""

    group: str
    photos: tuple[str, ...]
    by: str
    at: datetime

    @property
    def key(self) -> str:
        return self.group


@dataclass(frozen=True, slots=True)
class Signoff:
    """A person's signature under one state of the record: `record_sha256` digests everything but the signature.

    `key_sha256` is the fingerprint of the key it was made with, `signature` what that key put under
    `signing_key.signoff_text`, as 128 hex digits; both are "" where a person signed by name.
    """

    by: str
    role: str
    at: datetime
    record_sha256: str
    lifted: tuple[str, ...] = ()
    key_sha256: str = ""
    signature: str = ""

    @property
    def key(self) -> str:
        return "signoff"


Decision = (
    CarDetails
    | FactAnswer
    | Placement
    | Tick
    | Closing
    | Looked
    | Finding
    | CheckResult
    | Measurement
    | Statement
    | SerialReading
    | Waiver
    | Release
    | Lead
    | Caption
    | Arranged
    | Signoff
    | Asked
    | Call
    | Jotting
    | OutletWishes
    | Posting
)

KINDS: Final[dict[str, type[Decision]]] = {
    "details": CarDetails,
    "fact": FactAnswer,
    "placement": Placement,
    "tick": Tick,
    "closing": Closing,
    "looked": Looked,
    "finding": Finding,
    "check": CheckResult,
    "measurement": Measurement,
    "statement": Statement,
    "serial": SerialReading,
    "waiver": Waiver,
    "release": Release,
    "lead": Lead,
    "caption": Caption,
    "arranged": Arranged,
    "signoff": Signoff,
    "asked": Asked,
    "call": Call,
    "jotting": Jotting,
    "wishes": OutletWishes,
    "posting": Posting,
}

KIND_OF: Final[dict[type[Decision], str]] = {shape: kind for kind, shape in KINDS.items()}
