"""Where each component and each rust-prone place stands, from the shots that show them.

A component's outcome is what people said of it: `findings` if an open or repaired finding names it (findings win over a
look that saw nothing; the reason says both), `nothing-found` only through a person's decision that he looked, else
`not-seen`. Its state is the best proof it has among the shots that name it:

- rust-prone: `covered` only if its covered shots together hold a context and a proof frame; `not-reachable` or
  `not-fitted` if every rust-prone shot that names it was closed so, whatever an overview shows; else `partly` if any
  shot of it was ticked;
- any other: the best of its shots, where covered is better than partly and partly better than taken;
- closed only if every shot of it is closed (`not-fitted` if all are); `decide` if what is left hangs on a fact;
  `missed` otherwise, and where no shot of the plan shows it.

A place is `covered` only if every rust-prone shot of it is covered (optional ones and parts not fitted aside) and a
context and a proof frame, accepted and ticked, are among them; so two missing boxes cannot hide behind two shown ones.
`partly` names what is missing. A place whose own part, the first it names, the car does not have is left out.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import Final

from .applicability import Applicability
from .car import Car
from .coverage_shots import ShotFrames, waived_words
from .coverage_words import ComponentCoverage, Outcome, PlaceCoverage, State
from .decision import Slot, WaiverOf
from .finding import FindingState
from .phrases import listed, say
from .plan import Component, Need, RustPlace

NOBODY_SAID: Final = "stands.nobody-said"
_CLOSED = (State.NOT_REACHABLE, State.NOT_FITTED)


def components_of(car: Car, applies: Applicability, shots: Sequence[ShotFrames]) -> tuple[ComponentCoverage, ...]:
    """Every component the car has or may have, once, in the vocabulary's order.

    A skin part that cannot rust on this car loses its rust flag in the answer.
    """
    showing: dict[str, list[ShotFrames]] = {}
    for shot in shots:
        for part in dict.fromkeys(shot.covered.shot.components):
            showing.setdefault(part, []).append(shot)
    cannot_rust = applies.skin_only()
    answers = []
    for known in car.plan.vocabulary.components().values():
        answer = applies.component(known)
        if answer.holds is not False:
            component = replace(known, rust=False) if known.id in cannot_rust else known
            answers.append(_component(car, component, answer.asks, showing.get(known.id, [])))
    return tuple(answers)


def _component(car: Car, part: Component, asks: tuple[str, ...], shots: Sequence[ShotFrames]) -> ComponentCoverage:
    if asks:
        state, why = State.DECIDE, say("stands.has-hangs", facts=", ".join(asks))
    elif part.rust:
        state, why = _rust_proof(shots)
    else:
        state, why = _best(shots)
    outcome, findings, said = _outcome(car, part.id)
    return ComponentCoverage(
        component=part,
        outcome=outcome,
        state=state,
        shots=tuple(shot.covered.shot.id for shot in shots),
        findings=findings,
        reason=f"{why} {said}",
        waived=waived_words(car, WaiverOf.COMPONENT, part.id),
    )


def _outcome(car: Car, part: str) -> tuple[Outcome, tuple[int, ...], str]:
    standing = (FindingState.OPEN, FindingState.REPAIRED)
    findings = tuple(found.number for found in car.findings if found.component == part and found.state in standing)
    looked = car.looked.get(part)
    if findings:
        said = say("stands.findings", numbers=", ".join(str(number) for number in findings))
        return Outcome.FINDINGS, findings, f"{said} {say('stands.nothing-else', by=looked.by)}" if looked else said
    if looked is not None:
        return Outcome.NOTHING_FOUND, (), say("stands.nothing", by=looked.by)
    return Outcome.NOT_SEEN, (), say(NOBODY_SAID)


def _rust_proof(shots: Sequence[ShotFrames]) -> tuple[State, str]:
    covered = [shot for shot in shots if shot.covered.state is State.COVERED]
    lacking = [say(f"lacks.{slot.value}") for slot in Slot if not any(shot.proving(slot) for shot in covered)]
    if covered and not lacking:
        return State.COVERED, say("stands.proven")
    proving = [shot for shot in shots if shot.covered.shot.rust]
    if proving and (closed := _closed(proving)):
        return closed
    state, why = _best(shots)
    if state is not State.COVERED:
        return state, why
    return State.PARTLY, say("stands.without", lacking=listed(lacking))


def _best(shots: Sequence[ShotFrames]) -> tuple[State, str]:
    if not shots:
        return State.MISSED, say("stands.no-shot")
    for state in (State.COVERED, State.PARTLY, State.TAKEN):
        best = next((shot.covered for shot in shots if shot.covered.state is state), None)
        if best is not None:
            return state, f"{best.shot.title}: {best.reason}"
    if closed := _closed(shots):
        return closed
    if any(shot.covered.state is State.MISSED for shot in shots):
        return State.MISSED, say("stands.no-frame-of-it")
    return State.DECIDE, say("stands.shots-hang", facts=", ".join(_asks(shots)))


def _closed(shots: Sequence[ShotFrames]) -> tuple[State, str] | None:
    """The closed state and reason of shots that are all closed, or None. One not-reachable among them decides."""
    states = {shot.covered.state for shot in shots}
    if not states <= set(_CLOSED):
        return None
    state = State.NOT_REACHABLE if State.NOT_REACHABLE in states else State.NOT_FITTED
    return state, next(shot.covered.reason for shot in shots if shot.covered.state is state)


def _asks(shots: Iterable[ShotFrames]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(fact for shot in shots for fact in shot.covered.asks))


def places_of(car: Car, applies: Applicability, shots: Sequence[ShotFrames]) -> tuple[PlaceCoverage, ...]:
    """Every rust-prone place of this car's construction, or that may be, in the vocabulary's order."""
    answers = []
    for place in car.plan.vocabulary.rust_places.values():
        answer = applies.place(place)
        if answer.holds is not False:
            answers.append(_place(car, place, answer.asks, _proving(place, shots)))
    return tuple(answers)


def _proving(place: RustPlace, shots: Sequence[ShotFrames]) -> list[ShotFrames]:
    """The rust-prone shots named by the place; where it names none, those that show one of its components."""
    named = [shot for shot in shots if shot.covered.shot.id in place.shots] or [
        shot for shot in shots if set(shot.covered.shot.components) & set(place.components)
    ]
    return [shot for shot in named if shot.covered.shot.rust] or named


def _place(car: Car, place: RustPlace, asks: tuple[str, ...], shots: Sequence[ShotFrames]) -> PlaceCoverage:
    context = tuple(sha256 for shot in shots for sha256 in shot.proving(Slot.CONTEXT))
    proof = tuple(sha256 for shot in shots for sha256 in shot.proving(Slot.PROOF))
    if asks:
        state, reason = State.DECIDE, say("stands.has-hangs", facts=", ".join(asks))
    else:
        state, reason = _place_state(shots, bool(context), bool(proof))
        asks = _asks(shots) if state is State.DECIDE else ()
    return PlaceCoverage(
        place=place,
        state=state,
        shots=tuple(shot.covered.shot.id for shot in shots),
        context=context,
        proof=proof,
        reason=reason,
        waived=waived_words(car, WaiverOf.PLACE, place.id),
        asks=asks,
    )


def _place_state(shots: Sequence[ShotFrames], context: bool, proof: bool) -> tuple[State, str]:
    if not shots:
        return State.MISSED, say("stands.no-shot")
    if closed := _closed(shots):
        return closed
    wanted = [words for shot in shots if (words := _still_wanted(shot))]
    lacking = [say(f"lacks.{slot.value}") for slot in Slot if not (context if slot is Slot.CONTEXT else proof)]
    if not wanted and not lacking:
        return State.COVERED, say("stands.proven")
    states = {shot.covered.state for shot in shots}
    if states & {State.COVERED, State.PARTLY}:
        return State.PARTLY, say("stands.missing", missing="; ".join((*wanted, *lacking)))
    if State.TAKEN in states:
        return State.TAKEN, say("stands.none-ticked")
    if states <= {*_CLOSED, State.DECIDE}:
        return State.DECIDE, say("stands.shots-hang", facts=", ".join(_asks(shots)))
    return State.MISSED, say("stands.missing", missing="; ".join(wanted or lacking))


def _still_wanted(shot: ShotFrames) -> str:
    """What one shot leaves open for the place, or ''. Optional shots and parts that are not fitted leave nothing."""
    covered = shot.covered
    if covered.shot.need is Need.OPTIONAL or covered.state in (State.COVERED, State.NOT_FITTED):
        return ""
    if covered.missing:
        return f"{covered.shot.title}: {', '.join(covered.missing)}"
    return f"{covered.shot.title} ({say(f'state.{covered.state.value}')})"
