"""What a claim needs on file, held against a car's record.

Needs are met where the record holds evidence of the basis asked about the part, check or reading asked; whether that
evidence says what the need describes stays a person's judgement. A need reads "seen or documented: body-tag (paint
code)", or "as for: original-paint"; `all-checks` is every check that applies.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Final

from .applicability import Applicability
from .car import Car
from .coverage_words import Coverage, State
from .decision import Sight
from .finding import FindingState
from .plan import Claim
from .statement import Basis, CheckResult, CheckVerdict, Evidence

ALL_CHECKS: Final = "all-checks"
_AS_FOR: Final = "as for: "
_DEEPEST: Final = 5


@dataclass(frozen=True, slots=True)
class OnFile:
    """What a claim is held against: the car's record and what its photos show."""

    car: Car
    coverage: Coverage


def needs_of(claim: Claim, claims: Mapping[str, Claim], depth: int = 0) -> tuple[str, ...]:
    """Every need of the claim, those of other claims in place of "as for"."""
    found: list[str] = []
    for need in claim.needs:
        other = claims.get(need.removeprefix(_AS_FOR).strip()) if need.startswith(_AS_FOR) else None
        found += needs_of(other, claims, depth + 1) if other is not None and depth < _DEEPEST else [need]
    return tuple(dict.fromkeys(found))


def unmet_needs(claim: Claim, claims: Mapping[str, Claim], on_file: OnFile) -> tuple[str, ...]:
    """The claim's needs that the record does not meet, as the vocabulary words them."""
    return tuple(need for need in needs_of(claim, claims) if not _met(on_file, need))


def _met(on_file: OnFile, need: str) -> bool:
    """What cannot be read as a need is not met."""
    bases, _, rest = need.partition(":")
    about = rest.partition("(")[0].strip()
    known = {basis.value for basis in Basis}
    asked = [word.strip() for word in bases.split(" or ")]
    if not about or any(word not in known for word in asked):
        return False
    return any(_proved(on_file, Basis(word), about) for word in asked)


def _proved(on_file: OnFile, basis: Basis, about: str) -> bool:
    car = on_file.car
    if basis is Basis.TESTED:
        return _all_checks_work(car) if about == ALL_CHECKS else _works(car.checks.get(about))
    measured = any(one.measure == about and one.readings and one.instrument for one in car.measurements)
    if basis is Basis.MEASURED:
        return measured
    if basis is Basis.SEEN and (measured or _seen(on_file, about)):
        return True
    return any(_complete(evidence, basis) for subject, evidence in _said(car) if subject == about)


def _works(result: CheckResult | None) -> bool:
    return result is not None and result.verdict is CheckVerdict.WORKS


def _all_checks_work(car: Car) -> bool:
    applies = Applicability(car)
    asked = [check for check in car.plan.vocabulary.checks.values() if applies.check(check).holds is not False]
    results = [car.checks.get(check.id) for check in asked]
    fitted = [one for one in results if one is None or one.verdict is not CheckVerdict.NOT_FITTED]
    return bool(fitted) and all(_works(one) for one in fitted)


def _seen(on_file: OnFile, component: str) -> bool:
    """A person ticked, on an accepted frame, something of a shot that shows the component."""
    shown = {
        covered.shot.id
        for covered in on_file.coverage.shots
        if component in covered.shot.components and covered.state in (State.COVERED, State.PARTLY)
    }
    return any(tick.shot in shown and tick.sight is Sight.SEEN for tick in on_file.car.ticks)


def _said(car: Car) -> Iterator[tuple[str, Evidence]]:
    for statement in car.statements:
        yield statement.subject, statement.evidence
    for found in car.findings:
        if found.state is not FindingState.CORRECTED:
            yield found.component, found.evidence


def _complete(evidence: Evidence, basis: Basis) -> bool:
    if evidence.basis is not basis:
        return False
    if basis is Basis.DOCUMENTED:
        return bool(evidence.document.strip() and evidence.document_date.strip())
    return bool(evidence.who_said.strip()) if basis is Basis.TOLD else bool(evidence.photos)
