"""A finding being noted at the car, as a value: what may be chosen, what is still lacking. No Qt here."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from lapseam.domain.admission import objections
from lapseam.domain.car import Car
from lapseam.domain.finding import Finding, Severity
from lapseam.domain.plan import FindingKind
from lapseam.domain.statement import Basis, Evidence

from .words import _


@dataclass(frozen=True, slots=True)
class FindingChoices:
    """What the form offers for one shot: components (those of the shot first), kinds, severities; ids and words."""

    components: tuple[tuple[str, str], ...]
    kinds: tuple[tuple[str, str], ...]
    severities: tuple[tuple[str, str], ...]
    photo: str
    photo_name: str


def choices_for(car: Car, shot_id: str, sha256: str) -> FindingChoices:
    """The choices at a shot, with the last frame attached ("" for none)."""
    words = car.plan.vocabulary
    shot = car.plan.shot(shot_id)
    all_parts = words.components()
    own = [part for part in (shot.components if shot else ()) if part in all_parts]
    others = [part for part in all_parts if part not in own]
    photo = car.photo(sha256) if sha256 else None
    return FindingChoices(
        components=tuple((part, all_parts[part].name) for part in (*own, *others)),
        kinds=tuple((kind.id, _kind_words(kind)) for kind in _by_group(words.findings.values())),
        severities=tuple((one.value, severity_words(one)) for one in Severity),
        photo=photo.sha256 if photo else "",
        photo_name=photo.name if photo else "",
    )


def severity_words(severity: Severity) -> str:
    """A severity with what it means."""
    return {
        Severity.NOTE: _("note: worth recording, no action"),
        Severity.COSMETIC: _("cosmetic: looks only"),
        Severity.WEAR: _("wear: works, will need work one day"),
        Severity.NEEDS_WORK: _("needs work"),
        Severity.STRUCTURAL: _("structural: in a load-carrying part"),
        Severity.UNSAFE: _("unsafe: do not drive or lift until a mechanic has looked"),
    }[severity]


def finding_of(
    choices: FindingChoices,
    *,
    component: str,
    kind: str,
    place: str,
    extent: str,
    severity: str,
    detail: str,
    by: str,
    now: datetime,
) -> Finding:
    """The finding as it was filled in; number 0 takes the next free one. The attached frame is its close frame."""
    photos = (choices.photo,) if choices.photo else ()
    return Finding(
        number=0,
        component=component,
        kind=kind,
        place=place.strip(),
        severity=Severity(severity),
        evidence=Evidence(Basis.SEEN, photos=photos, on=now.date()),
        by=by,
        at=now,
        extent=extent.strip(),
        detail=detail.strip(),
        close=photos,
    )


def lacking(finding: Finding, car: Car) -> str:
    """What keeps the finding from being recorded, in one sentence; "" if nothing does."""
    against = objections(finding, car)
    return against[0][0].upper() + against[0][1:] + "." if against else ""


def _by_group(kinds: Iterable[FindingKind]) -> list[FindingKind]:
    listed = list(kinds)
    groups = list(dict.fromkeys(kind.group for kind in listed))
    return sorted(listed, key=lambda kind: groups.index(kind.group))


def _kind_words(kind: FindingKind) -> str:
    return _("{name} · {group}").format(name=kind.name, group=kind.group)
