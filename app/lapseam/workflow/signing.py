"""Verbs about coverage and the signature: what is open, what may stand, who signs."""

from __future__ import annotations

from concurrent.futures import Future
from dataclasses import dataclass

from lapseam.domain import coverage as covering
from lapseam.domain import signoff as signing
from lapseam.domain.car import Car, House
from lapseam.domain.changes import Changes
from lapseam.domain.coverage import Coverage
from lapseam.domain.decision import Signoff, Waiver, WaiverOf
from lapseam.domain.errors import NotAllowed
from lapseam.domain.signoff import RuleAnswer
from lapseam.storage import record_sha256

from .office import Choice, Done, Drop, Office


@dataclass(frozen=True, slots=True)
class Review:
    """The car, its coverage and what every sign-off rule says; `signed` if the signature still fits the record."""

    car: Car
    coverage: Coverage
    rules: tuple[RuleAnswer, ...]
    house: House
    signed: Signoff | None

    @property
    def blocked(self) -> tuple[RuleAnswer, ...]:
        """The rules that stop the signature and are not lifted."""
        return tuple(rule for rule in self.rules if rule.blocks)

    @property
    def warned(self) -> tuple[RuleAnswer, ...]:
        """The rules that only warn."""
        return tuple(rule for rule in self.rules if rule.warns)


class Signing(Office):
    """Coverage, waivers, signature."""

    def coverage(self, *, stock: str) -> Future[Coverage]:
        """What the plan asks against what the record shows."""
        return self.runner.on_book(lambda: covering.check(self._car(stock)))

    def review(self, *, stock: str) -> Future[Review]:
        """All that a manager looks at before signing."""
        return self.runner.on_book(self._review, stock)

    def waive(self, *, stock: str, of: WaiverOf, subject: str, reason: str, by: str) -> Future[Done]:
        """Let a gap or a liftable rule stand, for a reason that prints on the disclosure page. Managers only."""
        person = self.house.person(by)
        if person is None or "manager" not in person.roles:
            raise NotAllowed(
                f"{by or 'Nobody'} is not a manager of this house, and only a manager may let a gap stand.",
                effect="Nothing was written.",
                next_step="Ask a manager, or add the person's role in the workspace's settings.yaml.",
            )

        def choose(car: Car) -> Choice:
            return (Waiver(of, subject, reason, by, self.now()),), (), f"Let {of} {subject} stand: {reason}"

        return self._decide(stock, verb="waive", by=by, choose=choose, changes=Changes.SIGNOFF)

    def unwaive(self, *, stock: str, of: WaiverOf, subject: str, by: str) -> Future[Done]:
        """Take a waiver back."""

        def choose(car: Car) -> Choice:
            return (), (Drop("waiver", f"{of}:{subject}"),), f"No longer let {of} {subject} stand"

        return self._decide(stock, verb="waive", by=by, choose=choose, changes=Changes.SIGNOFF)

    def sign(self, *, stock: str, by: str) -> Future[Done]:
        """Sign the record as it stands.

        Raises (in the future):
            NotAllowed: a rule blocks, or the person may not sign; `detail` lists every reason.
        """
        return self.runner.on_book(self._sign, stock, by)

    def _sign(self, stock: str, by: str) -> Done:
        review = self._review(stock)
        against = signing.can_sign(review.rules, review.house.person(by), review.house)
        if against:
            raise NotAllowed(
                f"{stock} cannot be signed yet: {len(against)} reason{'s' if len(against) > 1 else ''}.",
                effect="Editions until then say UNSIGNED on every page.",
                next_step=f"See what is open with: lapseam review {stock}",
                detail="\n".join(against),
            )

        def choose(car: Car) -> Choice:
            lifted = tuple(rule.rule.id for rule in review.rules if rule.speaks and rule.waived)
            signature = Signoff(by, "manager", self.now(), record_sha256(car), lifted)
            return (signature,), (), f"Sign {stock}"

        return self._decide_now(stock, "sign", by, choose, Changes.SIGNOFF)

    def _review(self, stock: str) -> Review:
        car = self._car(stock)
        covered = covering.check(car)
        house = self.house
        rules = signing.judge(car, covered, house, today=self.now().date())
        return Review(car, covered, rules, house, self._signature(car))

    @staticmethod
    def _signature(car: Car) -> Signoff | None:
        """The signature, if nothing has changed under it since."""
        signature = car.signoff
        return signature if signature is not None and signature.record_sha256 == record_sha256(car) else None
