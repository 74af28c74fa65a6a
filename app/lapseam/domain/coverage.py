"""Coverage: what the plan asks against what the record shows. Answers, never stored.

The rules stand with the work: shots in `coverage_shots`, components and places in `coverage_parts`, the order of the
gaps in `coverage_gaps`. The words are those of the trade: a person's tick on a must-see list covers, never a count of
photos; a fact that nobody answered makes nothing vanish; a waiver changes no state.
"""

from __future__ import annotations

from collections.abc import Mapping

from .applicability import Applicability
from .car import Car
from .coverage_gaps import gaps_of
from .coverage_parts import components_of, places_of
from .coverage_shots import shots_of
from .coverage_words import (
    ComponentCoverage,
    Coverage,
    Gap,
    Outcome,
    PlaceCoverage,
    ShotCoverage,
    State,
)
from .quality import Verdict, verdicts

__all__ = [
    "ComponentCoverage",
    "Coverage",
    "Gap",
    "Outcome",
    "PlaceCoverage",
    "ShotCoverage",
    "State",
    "check",
]


def check(car: Car, judged: Mapping[str, Verdict] | None = None) -> Coverage:
    """Where every shot, component and rust-prone place of the car stands, what is unanswered, and the gaps by cost.

    `judged` are the verdicts of all the car's photos, from whoever has them already.
    """
    applies = Applicability(car)
    framed = shots_of(car, applies, verdicts(car.photos) if judged is None else judged)
    shots = tuple(shot.covered for shot in framed)
    components = components_of(car, applies, framed)
    places = places_of(car, applies, framed)
    return Coverage(
        shots=shots,
        components=components,
        places=places,
        unanswered=applies.unanswered(),
        gaps=gaps_of(car.plan.vocabulary, car.plan.setups, shots, components, places),
    )
