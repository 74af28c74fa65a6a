"""Verbs that judge a text by the claims guard, without a workspace or against a car's record."""

from __future__ import annotations

from pathlib import Path

from lapseam import plans
from lapseam.domain.claim_evidence import OnFile
from lapseam.domain.claims import Guard, Judged, guard_of
from lapseam.domain.plan import Claim, Vocabulary, WordingRule
from lapseam.places import shot_plans
from lapseam.storage.layout import CLAIMS

from .looking import Whole


def judge_text(text: str, *, workspace: Path | None = None, whole: Whole | None = None) -> tuple[Judged, ...]:
    """Every sentence of the text with what stands against it.

    With `whole` claims are held against that car's record by its own plan's rules, else against nothing by the shipped
    ones. The house's own rules, `claims.yaml` beside `settings.yaml` in `workspace`, come on top where there are any.

    Raises:
        PlanBroken: the house's rules do not load.
    """
    if whole is None:
        return guard_for(plans.load_vocabulary(shot_plans() / "vocabulary"), workspace).judge(text)
    guard = guard_for(whole.car.plan.vocabulary, workspace)
    return guard.judge(text, on_file=OnFile(whole.car, whole.coverage))


def guard_for(vocabulary: Vocabulary, workspace: Path | None) -> Guard:
    """The guard of a vocabulary, with the house's own rules on top; PlanBroken where those do not load."""
    return guard_of(vocabulary, *house_rules(vocabulary, workspace))


def house_rules(vocabulary: Vocabulary, workspace: Path | None) -> tuple[Claim | WordingRule, ...]:
    """The house's own rules as they are on disk now, none where it has none.

    Raises:
        PlanBroken: they do not load; `problems` names every place.
    """
    own = workspace / CLAIMS if workspace is not None else None
    if own is None or not own.is_file():
        return ()
    return plans.load_claim_rules(own, beside=vocabulary)
