"""A finding being written, as a value: what may be chosen, what is still lacking. No Qt here.

Both forms stand on it: the quick one at the car and the full one of the Findings.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Final

from lapseam.domain.admission import objections
from lapseam.domain.car import Car
from lapseam.domain.finding import Finding, FindingState, Mark, PartOrigin, PartWork, Severity
from lapseam.domain.measure.extent import extent as extent_in_words
from lapseam.domain.measure.reading import day, whole
from lapseam.domain.plan import FindingKind, Vocabulary
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


_SEEN: Final = Evidence(Basis.SEEN)


@dataclass(frozen=True, slots=True)
class FindingDraft:
    """A finding as it is being written: words as typed, ids as chosen ("" while nothing is), marks and photos as set.

    `number` 0 is a new one; `jotting` the number of the jotting it is made of, 0 for none; `on` and `state_on` are
    days as typed: of the look, test or saying, and since when it is no longer open.
    """

    number: int = 0
    jotting: int = 0
    component: str = ""
    kind: str = ""
    place: str = ""
    extent: str = ""
    count: str = ""
    severity: str = Severity.COSMETIC.value
    detail: str = ""
    origin: str = PartOrigin.UNKNOWN.value
    work: str = PartWork.UNKNOWN.value
    evidence: Evidence = _SEEN
    on: str = ""
    state: str = FindingState.OPEN.value
    state_reason: str = ""
    state_on: str = ""
    no_photo_reason: str = ""
    note: str = ""
    context: tuple[str, ...] = ()
    close: tuple[str, ...] = ()
    after: tuple[str, ...] = ()
    marks: tuple[Mark, ...] = ()

    @property
    def photos(self) -> tuple[str, ...]:
        """Every photo that the finding shows, once."""
        return tuple(dict.fromkeys((*self.context, *self.close, *self.after)))


def draft_of(finding: Finding) -> FindingDraft:
    """A finding of the record, to be changed."""
    return FindingDraft(
        number=finding.number,
        component=finding.component,
        kind=finding.kind,
        place=finding.place,
        extent=finding.extent,
        count="" if finding.count is None else str(finding.count),
        severity=finding.severity.value,
        detail=finding.detail,
        origin=finding.origin.value,
        work=finding.work.value,
        evidence=finding.evidence,
        on=finding.evidence.on.isoformat() if finding.evidence.on else "",
        state=finding.state.value,
        state_reason=finding.state_reason,
        state_on=finding.state_on.isoformat() if finding.state_on else "",
        no_photo_reason=finding.no_photo_reason,
        note=finding.note,
        context=finding.context,
        close=finding.close,
        after=finding.after,
        marks=finding.marks,
    )


def finding_from(draft: FindingDraft, words: Vocabulary, *, by: str, now: datetime) -> Finding:
    """The finding that the draft says; number 0 takes the next free one.

    Raises:
        Mistake: a size, a count or a day cannot be read.
    """
    seen_on = tuple(dict.fromkeys((*draft.context, *draft.close)))
    evidence = draft.evidence
    on = day(draft.on, of=_("the day of the look")) if draft.on.strip() else None
    undated = evidence.basis in (Basis.NOT_CHECKED, Basis.DOCUMENTED)
    return Finding(
        number=draft.number,
        component=draft.component,
        kind=draft.kind,
        place=draft.place.strip(),
        severity=Severity(draft.severity),
        evidence=replace(evidence, photos=seen_on, on=on or (None if undated else now.date())),
        by=by,
        at=now,
        extent=extent_in_words(draft.extent, wanted=extent_unit(draft.kind, words)),
        count=_count(draft.count),
        detail=draft.detail.strip(),
        context=draft.context,
        close=draft.close,
        marks=draft.marks,
        origin=PartOrigin(draft.origin),
        work=PartWork(draft.work),
        state=FindingState(draft.state),
        state_reason=draft.state_reason.strip(),
        state_on=day(draft.state_on, of=_("the day of the repair")) if draft.state_on.strip() else None,
        after=draft.after,
        no_photo_reason=draft.no_photo_reason.strip(),
        note=draft.note.strip(),
    )


def extent_unit(kind: str, words: Vocabulary) -> str:
    """In what the vocabulary measures that kind, "text" where it does not know it."""
    found = words.findings.get(kind)
    return found.extent_unit if found else "text"


def _count(typed: str) -> int | None:
    return whole(typed, of=_("how many"), least=1, most=9999) if typed.strip() else None


def finding_of(
    choices: FindingChoices,
    words: Vocabulary,
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
    """The finding as it was filled in at the car; the attached frame is its close frame.

    Raises:
        Mistake: the size cannot be read.
    """
    photos = (choices.photo,) if choices.photo else ()
    draft = FindingDraft(
        component=component, kind=kind, place=place, extent=extent, severity=severity, detail=detail, close=photos
    )
    return finding_from(draft, words, by=by, now=now)


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
