"""A fact as a question with its answers, "unknown" among them. No Qt here."""

from __future__ import annotations

from dataclasses import dataclass

from lapseam.domain.car import Car
from lapseam.domain.condition import Value
from lapseam.domain.plan import FactAsked, FactKind, Vocabulary

from ...words import _, fact_question

_CLAIM_AT_MOST = 28
"""A claim longer than this, in letters, does not fit a button and goes by its short id."""


@dataclass(frozen=True, slots=True)
class Choice:
    """One answer. `value` None stands for unknown: the fact stays, or is again, unanswered."""

    value: Value | None
    words: str


@dataclass(frozen=True, slots=True)
class Question:
    """One fact asked. `kind` says whether a number or a list is to be typed instead of chosen."""

    fact: str
    words: str
    kind: FactKind
    choices: tuple[Choice, ...]
    answer: Value | None = None
    note: str = ""

    @property
    def chosen(self) -> int:
        """The place of the answer among the choices; unknown where nothing was answered."""
        values = [choice.value for choice in self.choices]
        return values.index(self.answer) if self.answer in values else len(values) - 1


def question_of(car: Car, fact: str) -> Question | None:
    """The question for a fact of the car's plan; None where its vocabulary does not know the fact."""
    asked = car.plan.vocabulary.facts.get(fact)
    if asked is None:
        return None
    answered = car.facts.get(fact)
    return Question(
        fact=fact,
        words=fact_question(fact),
        kind=asked.kind,
        choices=_choices(asked, car.plan.vocabulary),
        answer=answered.value if answered else None,
        note="" if asked.kind is FactKind.LIST else asked.note[:1].upper() + asked.note[1:],
    )


def _choices(asked: FactAsked, words: Vocabulary) -> tuple[Choice, ...]:
    unknown = Choice(None, _("Unknown"))
    if asked.kind is FactKind.FLAG:
        return (Choice(True, _("Yes")), Choice(False, _("No")), unknown)
    if asked.kind is FactKind.CHOICE or (asked.kind is FactKind.LIST and asked.values):
        return (*(Choice(value, _value_words(value, words)) for value in asked.values), unknown)
    return (unknown,)


def _value_words(value: str, words: Vocabulary) -> str:
    """A value as people read it: a claim in its own words, anything else without its hyphens."""
    claim = words.claims.get(value)
    if claim is not None and len(claim.claim) <= _CLAIM_AT_MOST:
        return claim.claim
    return value.replace("-", " ").capitalize()
