"""Sign-off rules about what was shown: shots, rust proof, the underside, facts, coating, the good, left and right."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from types import MappingProxyType
from typing import Final

from .coverage_gaps import UNDERSIDE
from .coverage_shots import COATED
from .coverage_words import ComponentCoverage, Outcome, State
from .decision import Closed, Slot, WaiverOf
from .finding import FindingState
from .phrases import say
from .plan import Need, Tone
from .signoff_case import Case, Evaluator

CLOSE_M: Final = 0.6
"""Lens to subject, metres; at or nearer, a frame is a close one (the gallery draws the line at the same place)."""
UNREACHED_SHARE: Final = 0.1
_DEALT_WITH: Final = (State.NOT_REACHABLE, State.NOT_FITTED, State.DECIDE)
_NO_TIME: Final = "no-time"


def _missed_required(case: Case) -> tuple[str, ...]:
    """Optional shots may be missed; shots that hang on a fact are the business of so-unknown-fact."""
    return tuple(
        f"{covered.shot.title}: not photographed."
        for covered in case.coverage.shots
        if covered.state is State.MISSED
        and covered.shot.need is not Need.OPTIONAL
        and not case.stands(WaiverOf.SHOT, covered.shot.id)
    )


def _rust_proof(case: Case) -> tuple[str, ...]:
    """Proof is a covered state, or both frames ticked with coating over the metal (so-hides-metal says that)."""
    return tuple(
        f"{covered.component.name}: {_first_sentence(covered.reason)}"
        for covered in case.coverage.components
        if covered.component.rust and not _rust_settled(case, covered)
    )


def _rust_settled(case: Case, covered: ComponentCoverage) -> bool:
    if covered.state in (State.COVERED, State.NOT_FITTED, State.DECIDE):
        return True
    if case.stands(WaiverOf.COMPONENT, covered.component.id):
        return True
    proving = [shot.shot.id for shot in case.coverage.shots if shot.shot.rust and shot.shot.id in covered.shots]
    if covered.state is State.NOT_REACHABLE:
        closings = [case.car.closings[shot] for shot in proving or covered.shots if shot in case.car.closings]
        return all(c.closed is Closed.NOT_FITTED or (c.reason.strip() and c.by.strip()) for c in closings)
    if proving and all(case.stands(WaiverOf.SHOT, shot) for shot in proving):
        return True
    return covered.state is State.PARTLY and {Slot.CONTEXT, Slot.PROOF} <= _ticked_slots(case, covered)


def _ticked_slots(case: Case, covered: ComponentCoverage) -> set[Slot | None]:
    ticked = {tick.sha256 for tick in case.car.ticks if tick.shot in covered.shots}
    return {placed.slot for placed in case.car.placements.values() if placed.sha256 in ticked}


def _under_zone(case: Case) -> tuple[str, ...]:
    """Dealt with: somebody said what is there, or closed its shots with a reason, or a manager lets it stand."""
    return tuple(
        f"{covered.component.name}: nobody has said what is there."
        for covered in case.coverage.components
        if covered.component.zone in UNDERSIDE
        and covered.outcome is Outcome.NOT_SEEN
        and covered.state not in _DEALT_WITH
        and not case.stands(WaiverOf.COMPONENT, covered.component.id)
    )


def _unknown_fact(case: Case) -> tuple[str, ...]:
    """Only facts that something still hangs on: where the answer cannot change the list, nothing waits for it."""
    open_facts = [fact for fact in case.coverage.unanswered if not case.stands(WaiverOf.FACT, fact)]
    return tuple(f"{fact}: nobody has answered it, and the shot list hangs on it." for fact in open_facts)


def _many_unreached(case: Case) -> tuple[str, ...]:
    rust = [covered for covered in case.coverage.components if covered.component.rust]
    closed = [covered for covered in rust if covered.state is State.NOT_REACHABLE]
    if len(closed) <= UNREACHED_SHARE * len(rust):
        return ()
    return (f"{len(closed)} of {len(rust)} rust-prone components were closed as not reachable.",)


def _hides_metal(case: Case) -> tuple[str, ...]:
    parts = case.car.plan.vocabulary.components()
    coated = {
        part: covered.shot.title
        for covered in case.coverage.shots
        if say(COATED) in covered.missing
        for part in covered.shot.components
        if part in parts and parts[part].struct
    }
    return tuple(f"{parts[part].name}: coating hides the metal ({title})." for part, title in coated.items())


def _no_time(case: Case) -> tuple[str, ...]:
    checks = case.car.plan.vocabulary.checks
    untested = (result for result in case.car.checks.values() if result.reason == _NO_TIME)
    unshot = (closing for closing in case.car.closings.values() if closing.reason == _NO_TIME)
    return (
        *(f"{checks[r.check].item if r.check in checks else r.item}: not tested for want of time." for r in untested),
        *(f"{closing.shot}: closed for want of time." for closing in unshot),
    )


def _no_good_words(case: Case) -> tuple[str, ...]:
    """A zone that was photographed and in which nobody recorded anything good, neither by a look nor by a finding."""
    words = case.car.plan.vocabulary
    zone_of = {part.id: part.zone for part in words.components().values()}
    shown = {covered.shot.zone for covered in case.coverage.shots if covered.photos}
    good = {c.component.zone for c in case.coverage.components if c.outcome is Outcome.NOTHING_FOUND}
    for found in case.car.findings:
        kind = words.findings.get(found.kind)
        if kind is not None and kind.tone is Tone.GOOD and found.component in zone_of:
            good.add(zone_of[found.component])
    return tuple(
        f"{zone.name}: photographed, and nothing good recorded."
        for zone in words.zones.values()
        if zone.id in shown and zone.id not in good
    )


def _symmetry(case: Case) -> tuple[str, ...]:
    parts = case.car.plan.vocabulary.components()
    kinds = case.car.plan.vocabulary.findings
    here = {covered.component.id for covered in case.coverage.components}
    reasons = []
    for found in case.car.findings:
        kind = kinds.get(found.kind)
        twin = twin_of(found.component)
        if found.state is FindingState.CORRECTED or (kind is not None and kind.tone is Tone.GOOD):
            continue
        if twin in here and not any(_close_frames(case, twin)):
            reasons.append(
                f"Finding {found.number} is on {parts[found.component].name}; its twin, {parts[twin].name}, "
                "has no accepted close frame."
            )
    return tuple(dict.fromkeys(reasons))


def twin_of(component: str) -> str:
    """The id of the same part on the car's other side, or '' for a part that has no side."""
    words = component.split("-")
    other = {"left": "right", "right": "left"}
    if not set(words) & set(other):
        return ""
    return "-".join(other.get(word, word) for word in words)


def _close_frames(case: Case, component: str) -> Iterator[str]:
    for covered in case.coverage.shots:
        if component not in covered.shot.components:
            continue
        close = covered.shot.close_m is not None and covered.shot.close_m <= CLOSE_M
        for sha256 in covered.photos[: covered.accepted]:
            placement = case.car.placements.get(sha256)
            slot = None if placement is None else placement.slot
            if slot is Slot.PROOF or (close and slot is None):
                yield sha256
    for found in case.car.findings:
        if found.component == component:
            yield from (sha256 for sha256 in found.close if case.car.photo(sha256) is not None)


def _first_sentence(reason: str) -> str:
    return reason.partition(". ")[0].rstrip(".") + "."


RULES: Final[Mapping[str, Evaluator]] = MappingProxyType(
    {
        "so-missed-required": _missed_required,
        "so-rust-proof": _rust_proof,
        "so-under-zone": _under_zone,
        "so-unknown-fact": _unknown_fact,
        "so-many-unreached": _many_unreached,
        "so-hides-metal": _hides_metal,
        "so-no-time": _no_time,
        "so-no-good-words": _no_good_words,
        "so-symmetry": _symmetry,
    }
)
