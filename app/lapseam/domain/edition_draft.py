"""What every page of one edition stands on: the car with its names hidden, coverage, sequence, numbers, words."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, fields, is_dataclass, replace
from datetime import datetime
from enum import Enum
from typing import Any, TypeVar

from . import wording
from .car import Car, House
from .condition import Condition
from .coverage import Coverage
from .decision import Signoff
from .finding import Finding, FindingState, Mark, MarkShape, PartOrigin, PartWork
from .page import FindingShown, MarkShown, PhotoRef
from .phrases import capital, day, say
from .plan import Component, Tone, Vocabulary
from .roles import Roles
from .sequence import Picture, gallery, numbers, worst_first
from .signoff_case import RuleAnswer

Value = TypeVar("Value")


@dataclass(frozen=True, slots=True)
class Draft:
    """One edition in the making. `car` holds no person's name in any free text that is printed."""

    car: Car
    coverage: Coverage
    rules: tuple[RuleAnswer, ...]
    house: House
    roles: Roles
    pictures: tuple[Picture, ...]
    numbers: Mapping[str, int]
    number: int
    made_at: datetime
    signed: Signoff | None

    @property
    def words(self) -> Vocabulary:
        """The plan's vocabulary."""
        return self.car.plan.vocabulary

    @property
    def title(self) -> str:
        """Year, make and model, or the stock number where none of them is known."""
        named = self.car.details.title if self.car.details else ""
        return named or say("title.plain", stock=self.car.stock)

    @property
    def flag(self) -> str:
        """UNSIGNED in words, "" on a signed edition."""
        return "" if self.signed else say("flag")

    @property
    def edition_words(self) -> str:
        """Number and day."""
        return say("edition", number=self.number, date=day(self.made_at.date()))

    def part(self, component: str) -> Component | None:
        """The component, if the vocabulary knows it."""
        return self.words.components().get(component)

    def zone_name(self, zone: str) -> str:
        """The zone's name, "" where there is none."""
        return self.words.zones[zone].name if zone in self.words.zones else zone.replace("-", " ").capitalize()

    def is_public(self, zone: str) -> bool:
        """Whether the zone has a place in the gallery; a vocabulary without gallery groups hides nothing."""
        home = self.words.zone_gallery.get(zone)
        return home is None or home.group in self.words.gallery_groups

    def refs(self, photos: Iterable[str]) -> tuple[PhotoRef, ...]:
        """Pointers to the published ones among `photos`, by number."""
        shown = sorted({(self.numbers[sha256], sha256) for sha256 in photos if sha256 in self.numbers})
        return tuple(
            PhotoRef(sha256, number, photo_anchor(number), say("photo", numbers=number)) for number, sha256 in shown
        )


def draft_for(
    car: Car,
    coverage: Coverage,
    rules: tuple[RuleAnswer, ...],
    house: House,
    *,
    number: int,
    made_at: datetime,
    signed: Signoff | None,
) -> Draft:
    """Work out what all pages share."""
    roles = Roles(car, house)
    public = _public(car, roles)
    pictures = gallery(public, coverage)
    return Draft(public, coverage, rules, house, roles, pictures, numbers(pictures), number, made_at, signed)


def _public(car: Car, roles: Roles) -> Car:
    """The car with names in its free words replaced by roles; `by` stays for looking up roles and is never printed."""
    return replace(
        car,
        findings=tuple(_hidden(one, roles.hide) for one in car.findings),
        statements=tuple(_hidden(one, roles.hide) for one in car.statements),
        measurements=tuple(_hidden(one, roles.hide) for one in car.measurements),
        checks={key: _hidden(one, roles.hide) for key, one in car.checks.items()},
        closings={key: _hidden(one, roles.hide) for key, one in car.closings.items()},
        waivers={key: _hidden(one, roles.hide) for key, one in car.waivers.items()},
        releases={key: _hidden(one, roles.hide) for key, one in car.releases.items()},
        captions={key: _hidden(one, roles.hide) for key, one in car.captions.items()},
        details=_hidden(car.details, roles.hide) if car.details else None,
    )


def _hidden(value: Value, hide: Callable[[str], str]) -> Value:
    """A dataclass with every text in it passed through `hide`, except who said it and what are ids and digests."""
    if not is_dataclass(value) or isinstance(value, Condition | type):
        return value
    kept = {"by", "sha256", "kind", "check", "measure", "shot", "context", "close", "photos"}
    changed: dict[str, Any] = {}
    for one in fields(value):
        inner = getattr(value, one.name)
        if one.name in kept or isinstance(inner, Enum):
            continue
        if isinstance(inner, str):
            changed[one.name] = hide(inner)
        elif isinstance(inner, tuple):
            changed[one.name] = tuple(hide(x) if isinstance(x, str) else _hidden(x, hide) for x in inner)
        elif is_dataclass(inner):
            changed[one.name] = _hidden(inner, hide)
    return replace(value, **changed)


def photo_anchor(number: int) -> str:
    """The anchor of a photo's first place in the gallery."""
    return f"photo-{number}"


def finding_anchor(number: int) -> str:
    """The anchor of a finding."""
    return f"finding-{number}"


def finding_shown(draft: Draft, finding: Finding) -> FindingShown:
    """A finding with all its words."""
    kind, part = draft.words.findings.get(finding.kind), draft.part(finding.component)
    zone = part.zone if part else ""
    refs = draft.refs((*finding.photos, *finding.evidence.photos))
    state_key = {FindingState.REPAIRED: "finding.repaired", FindingState.CORRECTED: "finding.corrected"}
    reason = wording.state_reason(finding, draft.numbers) or say("basis.no-reason")
    return FindingShown(
        number=finding.number,
        anchor=finding_anchor(finding.number),
        kind=finding.kind,
        name=kind.name if kind else capital(finding.kind.replace("-", " ")),
        tone=kind.tone if kind else Tone.FAULT,
        severity=finding.severity,
        severity_words=say(f"severity.{finding.severity.value}"),
        zone=zone,
        zone_name=draft.zone_name(zone) if zone else "",
        component=part.name if part else finding.component,
        place=capital(wording.place_words(finding, part)),
        extent=wording.extent_words(finding),
        sentence=wording.say(finding, draft.words, draft.numbers),
        basis=finding.evidence.basis,
        basis_words=wording.finding_basis(finding, draft.numbers),
        photos=refs,
        photo_note="" if refs else capital(_no_photo(finding)),
        state_words="" if finding.state is FindingState.OPEN else say(state_key[finding.state], reason=reason),
        origin_words="" if finding.origin is PartOrigin.UNKNOWN else say(f"origin.{finding.origin.value}"),
        work_words="" if finding.work is PartWork.UNKNOWN else say(f"work.{finding.work.value}"),
    )


def _no_photo(finding: Finding) -> str:
    if finding.no_photo_reason:
        return say("basis.no-photo", reason=finding.no_photo_reason)
    return say("basis.photo-withheld")


def marks_on(draft: Draft, sha256: str) -> tuple[MarkShown, ...]:
    """The marks of open findings on a photo, worst finding first."""
    open_ones = [*worst_first(draft.car), *(f for f in draft.car.findings if _good(draft, f))]
    return tuple(
        _mark(draft, finding, mark) for finding in open_ones for mark in finding.marks if mark.sha256 == sha256
    )


def _good(draft: Draft, finding: Finding) -> bool:
    kind = draft.words.findings.get(finding.kind)
    return finding.state is FindingState.OPEN and kind is not None and kind.tone is Tone.GOOD


def good_findings(draft: Draft) -> tuple[Finding, ...]:
    """The open good findings, by number."""
    return tuple(sorted((f for f in draft.car.findings if _good(draft, f)), key=lambda one: one.number))


def _mark(draft: Draft, finding: Finding, mark: Mark) -> MarkShown:
    kind = draft.words.findings.get(finding.kind)
    name = kind.name if kind else finding.kind
    place = wording.place_words(finding, draft.part(finding.component))
    words = f"{say('finding.number', number=finding.number)}: {name}, {place}"
    box = mark.shape is MarkShape.BOX
    return MarkShown(
        finding.number, mark.shape, mark.x, mark.y, mark.width if box else 0.0, mark.height if box else 0.0, words
    )
