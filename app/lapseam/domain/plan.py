"""Shot plans and the trade's vocabulary, as frozen values.

`plans` reads them from YAML and checks them; this module only says what they are. Lengths are metres, lens ranges are
millimetres in full-frame terms, bearings are degrees clockwise from the nose seen from above.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Final

from .condition import Condition


class FactKind(StrEnum):
    """What sort of answer a fact takes."""

    CHOICE = "choice"
    NUMBER = "number"
    FLAG = "flag"
    LIST = "list"


class Need(StrEnum):
    """Whether a shot must be dealt with. `conditional` means required where its condition holds."""

    REQUIRED = "required"
    OPTIONAL = "optional"
    CONDITIONAL = "conditional"


class Media(StrEnum):
    """A still or a clip."""

    PHOTO = "photo"
    VIDEO = "video"


class Effect(StrEnum):
    """What a sign-off rule does when it speaks."""

    BLOCK = "block"
    WARN = "warn"


class Tone(StrEnum):
    """Whether a kind of finding is a fault, neither, or good news."""

    FAULT = "fault"
    NOTE = "note"
    GOOD = "good"


class PrivateSight(StrEnum):
    """What a frame may show that must be looked at before it is published."""

    PLATE = "plate"
    PAPER = "paper"
    STAMP = "stamp"
    KEY_CODE = "key-code"


@dataclass(frozen=True, slots=True)
class FactAsked:
    """One question about the car that conditions may use."""

    id: str
    kind: FactKind
    values: tuple[str, ...] = ()
    note: str = ""


@dataclass(frozen=True, slots=True)
class Component:
    """A named part in a zone. `rust` wants the two-frame proof; `struct` carries load."""

    id: str
    name: str
    zone: str
    rust: bool = False
    struct: bool = False
    when: Condition | None = None


@dataclass(frozen=True, slots=True)
class Zone:
    """A part of the car that is walked and shown together."""

    id: str
    name: str
    group: str
    components: tuple[Component, ...]
    when: Condition | None = None


@dataclass(frozen=True, slots=True)
class RustPlace:
    """A seam, drain or trap where this construction rusts. `when` says on which cars; `shots` prove its state."""

    id: str
    components: tuple[str, ...]
    where: str
    why: str
    photo: str
    good: str
    bad: str
    disguise: str
    types: tuple[str, ...] = ()
    when: Condition | None = None
    shots: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class FindingKind:
    """One word of the findings vocabulary, with its disclosure sentence in slots."""

    id: str
    group: str
    tone: Tone
    name: str
    definition: str
    photo: str
    extent_what: str
    extent_unit: str
    say: str


@dataclass(frozen=True, slots=True)
class CheckAsked:
    """A function to test."""

    id: str
    item: str
    zone: str
    components: tuple[str, ...]
    how: str
    who: str
    cautions: tuple[str, ...] = ()
    when: Condition | None = None


@dataclass(frozen=True, slots=True)
class Reason:
    """A reason of a fixed list, such as why a check was not done."""

    id: str
    name: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class MeasurementAsked:
    """A reading to take: unit, instrument, method, typical range in words, uncertainty in words."""

    id: str
    name: str
    unit: str
    other_unit: str
    tool: str
    method: str
    range: str
    rounding: str
    uncertainty: str
    who: str
    source: str
    cautions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class BasisWord:
    """How a statement may be known: what it needs on file, and what it proves and does not."""

    id: str
    name: str
    rank: int
    needs: tuple[str, ...]
    definition: str
    phrase: str
    proves: str
    proves_not: str


@dataclass(frozen=True, slots=True)
class Caution:
    """A reminder where work can hurt someone. Local codes and licensed practice decide."""

    id: str
    name: str
    text: str


@dataclass(frozen=True, slots=True)
class SignoffRule:
    """What stops the manager's signature or only warns. A `liftable` block may be waived by the manager in writing."""

    id: str
    effect: Effect
    rule: str
    liftable: bool = True


LEAD_GROUP: Final = "gg-lead"
"""The gallery's first chapter: the hero and the rear three-quarter from the other corner."""
FLAWS_GROUP: Final = "gg-flaws"
"""Its last: every flaw once more, worst first."""


@dataclass(frozen=True, slots=True)
class GalleryGroup:
    """One chapter of the published gallery."""

    id: str
    order: int
    name: str
    holds: str


@dataclass(frozen=True, slots=True)
class ZoneGallery:
    """The gallery chapter of a zone's frames; `close` for shots taken from 0.6 m or nearer."""

    zone: str
    group: str
    close: str


@dataclass(frozen=True, slots=True)
class Claim:
    """A claim, what it needs, and the wording that is allowed instead. `needs` are worded one a line.

    `words` are the phrases that make it (see `claim_phrases`; without any, the words of `claim` do); a phrase of
    `unless` that overlaps them, or one of `beside` anywhere in the sentence, takes it back.
    """

    id: str
    claim: str
    say_instead: str
    needs: tuple[str, ...] = ()
    not_enough: str = ""
    forbidden: bool = False
    words: tuple[str, ...] = ()
    unless: tuple[str, ...] = ()
    beside: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class WordingRule:
    """Words that may not be printed, whoever said them. `name` says what sort they are ("a promise word").

    `words`, `unless` and `beside` are phrases as in a `Claim`; `why` is one sentence.
    """

    id: str
    name: str
    words: tuple[str, ...]
    unless: tuple[str, ...] = ()
    beside: tuple[str, ...] = ()
    why: str = ""
    say_instead: str = ""


@dataclass(frozen=True, slots=True)
class Vocabulary:
    """All word lists a plan stands on, keyed by id and in the files' order."""

    facts: Mapping[str, FactAsked] = field(default_factory=dict)
    zones: Mapping[str, Zone] = field(default_factory=dict)
    rust_places: Mapping[str, RustPlace] = field(default_factory=dict)
    findings: Mapping[str, FindingKind] = field(default_factory=dict)
    checks: Mapping[str, CheckAsked] = field(default_factory=dict)
    not_tested_reasons: Mapping[str, Reason] = field(default_factory=dict)
    measurements: Mapping[str, MeasurementAsked] = field(default_factory=dict)
    bases: Mapping[str, BasisWord] = field(default_factory=dict)
    cautions: Mapping[str, Caution] = field(default_factory=dict)
    signoff: Mapping[str, SignoffRule] = field(default_factory=dict)
    gallery_groups: Mapping[str, GalleryGroup] = field(default_factory=dict)
    zone_gallery: Mapping[str, ZoneGallery] = field(default_factory=dict)
    claims: Mapping[str, Claim] = field(default_factory=dict)
    wording: Mapping[str, WordingRule] = field(default_factory=dict)
    words: Mapping[str, tuple[str, ...]] = field(default_factory=dict)

    def components(self) -> dict[str, Component]:
        """Every component of every zone by id."""
        return {part.id: part for zone in self.zones.values() for part in zone.components}


@dataclass(frozen=True, slots=True)
class Setup:
    """The car in one state; its shots are taken together. `minutes` is the usual time for an experienced pair."""

    id: str
    name: str
    minutes: int


@dataclass(frozen=True, slots=True)
class Camera:
    """Where the camera stands and which way it looks.

    `bearing_deg` is clockwise from the nose; where `spot` and `look` are given instead, the words say it.
    `distance_m` is lens to the nearest part of the subject, `height_m` above the ground the photographer stands on.
    """

    at: str
    distance_m: float | None = None
    height_m: float | None = None
    lens_mm: tuple[int, int] | None = None
    bearing_deg: float | None = None
    spot: str = ""
    look: str = ""


@dataclass(frozen=True, slots=True)
class MustSee:
    """One thing that must be visible. `id` is the slug of the words and unique within its shot."""

    id: str
    words: str


@dataclass(frozen=True, slots=True)
class Shot:
    """One view that the plan asks for. `count` is the least number of accepted frames."""

    id: str
    title: str
    setup: str
    zone: str
    components: tuple[str, ...]
    camera: Camera
    framing: str
    light: str
    must: tuple[MustSee, ...]
    count: int
    need: Need
    rust: bool = False
    when: Condition | None = None
    close_m: float | None = None
    close_scale: str = "none"
    media: Media = Media.PHOTO
    cautions: tuple[str, ...] = ()
    private: tuple[PrivateSight, ...] = ()


@dataclass(frozen=True, slots=True)
class Plan:
    """A whole shot plan: setups and shots in shooting order, on its vocabulary."""

    id: str
    title: str
    applies: Condition | None
    setups: tuple[Setup, ...]
    shots: tuple[Shot, ...]
    vocabulary: Vocabulary

    def shot(self, shot_id: str) -> Shot | None:
        """The shot of that id, or None."""
        return next((shot for shot in self.shots if shot.id == shot_id), None)
