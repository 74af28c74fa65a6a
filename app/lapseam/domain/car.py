"""The car: one vehicle's whole record under its stock number, as one frozen picture.

Storage makes it; everything worked out (coverage, sequence, pages) is a function of it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from .call import Asked, Call
from .condition import Facts
from .decision import (
    Arranged,
    Caption,
    CarDetails,
    Closing,
    Decision,
    FactAnswer,
    Lead,
    Looked,
    Placement,
    Release,
    Signoff,
    Tick,
    Waiver,
)
from .finding import Finding
from .jotting import Jotting
from .photo import Photo
from .plan import Plan
from .posting import OutletWishes, Posting
from .signing_key import SigningKey
from .statement import CheckResult, Measurement, SerialReading, Statement


@dataclass(frozen=True, slots=True)
class Person:
    """Somebody of the house's list. Roles: photographer, lister, manager, phone, mechanic, clerk, dispatcher.

    `keys`: every key the person ever signed with, oldest first; at most one of them is not retired.
    """

    name: str
    roles: tuple[str, ...]
    keys: tuple[SigningKey, ...] = ()

    @property
    def key(self) -> SigningKey | None:
        """The key that the person signs with now, or None."""
        return next((key for key in self.keys if key.retired is None), None)


@dataclass(frozen=True, slots=True)
class House:
    """The dealer's own settings. `one_person_firm` is the written rule that lets a lister sign his own work.

    Both systems of units are always printed: as read first, or with `own_units_first` the house's own.
    Photos and looks are called old after `stale_photo_days` or `stale_km` driven since, tests after `stale_check_days`.
    """

    name: str = ""
    units: tuple[str, ...] = ("mi", "in")
    own_units_first: bool = False
    language: str = "en"
    people: tuple[Person, ...] = ()
    one_person_firm: bool = False
    mask_serial: bool = False
    stale_photo_days: int = 90
    stale_check_days: int = 60
    stale_km: int = 500

    def person(self, name: str) -> Person | None:
        """The person of that name, or None."""
        return next((person for person in self.people if person.name == name), None)

    def key_holder(self, fingerprint: str) -> tuple[Person, SigningKey] | None:
        """Whose key has that fingerprint, and the key; None where nobody of the house has it."""
        held = ((person, key) for person in self.people for key in person.keys)
        return next(((person, key) for person, key in held if key.fingerprint == fingerprint), None)


@dataclass(frozen=True, slots=True)
class Car:
    """Everything known about one car at one `revision` (the number of its last journal entry)."""

    stock: str
    plan: Plan
    photos: tuple[Photo, ...] = ()
    details: CarDetails | None = None
    facts: Mapping[str, FactAnswer] = field(default_factory=dict)
    placements: Mapping[str, Placement] = field(default_factory=dict)
    ticks: tuple[Tick, ...] = ()
    closings: Mapping[str, Closing] = field(default_factory=dict)
    looked: Mapping[str, Looked] = field(default_factory=dict)
    findings: tuple[Finding, ...] = ()
    checks: Mapping[str, CheckResult] = field(default_factory=dict)
    measurements: tuple[Measurement, ...] = ()
    statements: tuple[Statement, ...] = ()
    serials: Mapping[str, SerialReading] = field(default_factory=dict)
    waivers: Mapping[str, Waiver] = field(default_factory=dict)
    releases: Mapping[str, Release] = field(default_factory=dict)
    lead: Lead | None = None
    captions: Mapping[str, Caption] = field(default_factory=dict)
    arranged: Mapping[str, Arranged] = field(default_factory=dict)
    signoff: Signoff | None = None
    asked: tuple[Asked, ...] = ()
    calls: tuple[Call, ...] = ()
    jottings: tuple[Jotting, ...] = ()
    wishes: Mapping[str, OutletWishes] = field(default_factory=dict)
    postings: tuple[Posting, ...] = ()
    revision: int = 0

    def fact_values(self) -> Facts:
        """The answered facts as a mapping that conditions read; unanswered ones are absent."""
        return {answer.fact: answer.value for answer in self.facts.values()}

    def photo(self, sha256: str) -> Photo | None:
        """The photo with that digest, or None."""
        return next((photo for photo in self.photos if photo.sha256 == sha256), None)

    def photos_called(self, name: str) -> tuple[Photo, ...]:
        """Photos with that name as found, or whose digest begins with it (eight digits or more)."""
        if len(name) >= 8 and (found := tuple(p for p in self.photos if p.sha256.startswith(name.lower()))):
            return found
        return tuple(photo for photo in self.photos if photo.name == name)

    def with_decisions(self, more: Iterable[Decision]) -> Car:
        """This car as it would be with `more` put over what is there; the revision stays."""
        return car_from(self.stock, self.plan, self.photos, (*self.decisions(), *more), self.revision)

    def frames_of(self, shot_id: str) -> tuple[Placement, ...]:
        """Placements on that shot, proposals included, in the order the photos came in."""
        order = {photo.sha256: place for place, photo in enumerate(self.photos)}
        found = [p for p in self.placements.values() if p.shot == shot_id and p.sha256 in order]
        return tuple(sorted(found, key=lambda placement: order[placement.sha256]))

    def decisions(self) -> tuple[Decision, ...]:
        """Every decision, in a fixed order of kinds."""
        singles = tuple(one for one in (self.details, self.lead, self.signoff) if one is not None)
        return (
            *singles,
            *self.facts.values(),
            *self.placements.values(),
            *self.ticks,
            *self.closings.values(),
            *self.looked.values(),
            *self.findings,
            *self.checks.values(),
            *self.measurements,
            *self.statements,
            *self.serials.values(),
            *self.waivers.values(),
            *self.releases.values(),
            *self.captions.values(),
            *self.arranged.values(),
            *self.asked,
            *self.calls,
            *self.jottings,
            *self.wishes.values(),
            *self.postings,
        )


def car_from(stock: str, plan: Plan, photos: Iterable[Photo], decisions: Iterable[Decision], revision: int) -> Car:
    """Assemble a car from its rows; the order of photos and of numbered decisions is kept as given."""
    found: dict[type, dict[str, Decision]] = {}
    for decision in decisions:
        found.setdefault(type(decision), {})[decision.key] = decision

    def mapped(shape: type) -> dict[str, Decision]:
        return found.get(shape, {})

    return Car(
        stock=stock,
        plan=plan,
        photos=tuple(photos),
        details=mapped(CarDetails).get("details"),  # type: ignore[arg-type]
        facts=mapped(FactAnswer),  # type: ignore[arg-type]
        placements=mapped(Placement),  # type: ignore[arg-type]
        ticks=tuple(mapped(Tick).values()),  # type: ignore[arg-type]
        closings=mapped(Closing),  # type: ignore[arg-type]
        looked=mapped(Looked),  # type: ignore[arg-type]
        findings=tuple(mapped(Finding).values()),  # type: ignore[arg-type]
        checks=mapped(CheckResult),  # type: ignore[arg-type]
        measurements=tuple(mapped(Measurement).values()),  # type: ignore[arg-type]
        statements=tuple(mapped(Statement).values()),  # type: ignore[arg-type]
        serials=mapped(SerialReading),  # type: ignore[arg-type]
        waivers=mapped(Waiver),  # type: ignore[arg-type]
        releases=mapped(Release),  # type: ignore[arg-type]
        lead=mapped(Lead).get("lead"),  # type: ignore[arg-type]
        captions=mapped(Caption),  # type: ignore[arg-type]
        arranged=mapped(Arranged),  # type: ignore[arg-type]
        signoff=mapped(Signoff).get("signoff"),  # type: ignore[arg-type]
        asked=tuple(mapped(Asked).values()),  # type: ignore[arg-type]
        calls=tuple(mapped(Call).values()),  # type: ignore[arg-type]
        jottings=tuple(mapped(Jotting).values()),  # type: ignore[arg-type]
        wishes=mapped(OutletWishes),  # type: ignore[arg-type]
        postings=tuple(mapped(Posting).values()),  # type: ignore[arg-type]
        revision=revision,
    )
