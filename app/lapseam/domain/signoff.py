"""Whether a car may be signed: every sign-off rule of the vocabulary judged, and what keeps a person from signing.

The rules are data (signoff.yaml); each has one evaluator, named by its id, in its subject's module. A rule that has
none is not passed over: it speaks, and a person must judge it. A block is lifted only by a manager of the house, in
writing, with a reason that prints; four blocks cannot be lifted at all. A waiver by anybody else lifts nothing. Common
trade practice; no source.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from types import MappingProxyType
from typing import Final

from . import signoff_age, signoff_claims, signoff_said, signoff_seen
from .car import Car, House, Person
from .coverage_words import Coverage
from .decision import WaiverOf
from .plan import Claim, SignoffRule, WordingRule
from .signoff_case import MANAGER, Case, Evaluator, PublicFacts, PublicOutlet, PublicSentence, RuleAnswer

__all__ = [
    "EVALUATORS",
    "NEVER_LIFTED",
    "PublicFacts",
    "PublicOutlet",
    "PublicSentence",
    "RuleAnswer",
    "can_sign",
    "judge",
]

EVALUATORS: Final[Mapping[str, Evaluator]] = MappingProxyType(
    {**signoff_seen.RULES, **signoff_said.RULES, **signoff_age.RULES, **signoff_claims.RULES}
)
NEVER_LIFTED: Final = frozenset({"so-identity", "so-structural-shown", "so-privacy", "so-claim"})
_TWO_PEOPLE: Final = "so-two-people"


def judge(
    car: Car,
    coverage: Coverage,
    house: House,
    *,
    today: date,
    public: PublicFacts | None = None,
    house_rules: tuple[Claim | WordingRule, ...] = (),
) -> tuple[RuleAnswer, ...]:
    """What every rule says of the car, in the vocabulary's order.

    Args:
        today: the day that photos and tests are aged against.
        public: what an edition's files hold, once they are there. Without it the rules about public files judge what
            the record alone can decide.
        house_rules: claims and wordings that the house adds to those of the car's plan.
    """
    case = Case(car, coverage, house, today, public, house_rules)
    return tuple(_answer(case, rule) for rule in car.plan.vocabulary.signoff.values())


def can_sign(report: tuple[RuleAnswer, ...], person: Person | None, house: House) -> tuple[str, ...]:
    """Every reason why the person may not sign now, worded for him; empty lets him.

    Args:
        person: the one who wants to sign; None for somebody whom the house does not list.
    """
    reasons = []
    if person is None or house.person(person.name) is None:
        reasons.append("Only a person of the house's list can sign.")
    elif MANAGER not in person.roles:
        reasons.append(f"{person.name} is no manager, and only a manager signs.")
    for answer in report:
        if answer.bars:
            if person is not None and person.name in answer.bars and not answer.waived:
                reasons.append(f"{answer.rule.id}: {person.name} placed photos or wrote the ad; another must sign.")
        elif answer.blocks:
            reasons.extend(f"{answer.rule.id}: {reason}" for reason in answer.reasons)
    return tuple(reasons)


def _answer(case: Case, rule: SignoffRule) -> RuleAnswer:
    evaluator = EVALUATORS.get(rule.id)
    reasons = (
        (f"The program cannot judge this rule; a person must: {rule.rule}.",) if evaluator is None else evaluator(case)
    )
    liftable = rule.liftable and rule.id not in NEVER_LIFTED
    waiver = case.waiver(WaiverOf.RULE, rule.id) if liftable else None
    return RuleAnswer(
        rule=rule,
        speaks=bool(reasons),
        reasons=reasons,
        waived="" if waiver is None else f"{waiver.reason} ({waiver.by})",
        liftable=liftable,
        bars=signoff_said.barred(case) if rule.id == _TWO_PEOPLE else (),
    )
