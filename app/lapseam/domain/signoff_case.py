"""What a sign-off rule is judged on: record, coverage, house, day, and what an edition shows in public."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Final

from .car import Car, House
from .coverage_words import Coverage
from .decision import Waiver, WaiverOf
from .plan import Claim, Effect, SignoffRule, WordingRule
from .showing import withheld
from .statement import Basis

MANAGER: Final = "manager"


@dataclass(frozen=True, slots=True)
class PublicOutlet:
    """What one outlet got: SHA-256 of its photos' originals, and the numbers of findings that its text names."""

    photos: frozenset[str] = frozenset()
    findings: frozenset[int] = frozenset()


@dataclass(frozen=True, slots=True)
class PublicSentence:
    """One printed sentence and the basis it carries."""

    words: str
    basis: Basis


@dataclass(frozen=True, slots=True)
class PublicFacts:
    """What an edition's public files hold, as read back from the files themselves.

    `photos` are SHA-256 digests of the originals shown anywhere; `with_position` and `with_preview` name files that
    still hold position data or an embedded preview; `not_seen` are component ids and `not_tested` check ids on the
    disclosure page's list; `says_one_person` whether the page says that one person wrote and signed.
    """

    photos: frozenset[str] = frozenset()
    outlets: Mapping[str, PublicOutlet] = field(default_factory=dict)
    with_position: tuple[str, ...] = ()
    with_preview: tuple[str, ...] = ()
    not_seen: frozenset[str] = frozenset()
    not_tested: frozenset[str] = frozenset()
    sentences: tuple[PublicSentence, ...] = ()
    says_one_person: bool = False


@dataclass(frozen=True, slots=True)
class RuleAnswer:
    """What one rule says of one car.

    Attributes:
        speaks: whether there is a reason against signing (block) or for a warning (warn).
        reasons: each one sentence for a person; empty exactly where the rule does not speak.
        waived: 'reason (name)' of the manager who lifted it, "" if nobody did or nobody can.
        liftable: whether a manager may lift it in writing.
        bars: names of persons who may not sign because of it.
    """

    rule: SignoffRule
    speaks: bool
    reasons: tuple[str, ...] = ()
    waived: str = ""
    liftable: bool = True
    bars: tuple[str, ...] = ()

    @property
    def blocks(self) -> bool:
        """Whether it stops the signature now: it speaks, it is a block, and nobody lifted it."""
        return self.speaks and self.rule.effect is Effect.BLOCK and not self.waived

    @property
    def warns(self) -> bool:
        """Whether it speaks and only warns."""
        return self.speaks and self.rule.effect is Effect.WARN


@dataclass(frozen=True, slots=True)
class Case:
    """Everything an evaluator may look at. `public` is None until an edition's files are there to be read.

    `house_rules` are claims and wordings that the house adds to those of the car's plan.
    """

    car: Car
    coverage: Coverage
    house: House
    today: date
    public: PublicFacts | None = None
    house_rules: tuple[Claim | WordingRule, ...] = ()

    def waiver(self, of: WaiverOf, subject: str) -> Waiver | None:
        """The waiver laid over the subject, if a manager of the house gave it with a reason; anybody else's is none."""
        found = self.car.waivers.get(f"{of}:{subject}")
        if found is None or not found.reason.strip():
            return None
        person = self.house.person(found.by)
        return found if person is not None and MANAGER in person.roles else None

    def stands(self, of: WaiverOf, subject: str) -> bool:
        """Whether a manager lets the gap stand."""
        return self.waiver(of, subject) is not None

    def withheld(self) -> dict[str, str]:
        """SHA-256 of each photo that may not be published yet, with the reason in words."""
        found = {}
        for one in withheld(self.car):
            photo = self.car.photo(one.sha256)
            name = one.sha256[:8] if photo is None else photo.name
            sights = " or ".join(sight.replace("-", " ") for sight in one.sights) or "thing to hide"
            unseen = f"{name} may show a {sights}, and nobody has looked at it for that"
            found[one.sha256] = f"{name} was held back by a person" if one.held else unseen
        return found


Evaluator = Callable[[Case], tuple[str, ...]]
"""Gives the reasons for which a rule speaks, each one sentence; none if it does not speak."""
