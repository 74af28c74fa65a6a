"""Verbs about coverage and the signature: what is open, what may stand, who signs."""

from __future__ import annotations

from concurrent.futures import Future
from dataclasses import dataclass, replace

from lapseam import publish
from lapseam.domain import coverage as covering
from lapseam.domain import signoff as signing
from lapseam.domain.admission import baseless
from lapseam.domain.car import Car, House
from lapseam.domain.changes import Changes
from lapseam.domain.coverage import Coverage
from lapseam.domain.decision import Signoff, Waiver, WaiverOf
from lapseam.domain.errors import NotAllowed
from lapseam.domain.signing_key import grouped, signoff_text
from lapseam.domain.signoff import RuleAnswer
from lapseam.storage import OpenKey, record_sha256

from .guarding import house_rules
from .key_keeping import KeyKeeping
from .office import Choice, Done, Drop


@dataclass(frozen=True, slots=True)
class Review:
    """The car, its coverage and what every sign-off rule says; `signed` if the signature still fits the record.

    `signature_fault` says in words why a signature that is there does not count, "" where it does or there is none.
    """

    car: Car
    coverage: Coverage
    rules: tuple[RuleAnswer, ...]
    house: House
    signed: Signoff | None
    signature_fault: str = ""

    @property
    def blocked(self) -> tuple[RuleAnswer, ...]:
        """The rules that stop the signature and are not lifted."""
        return tuple(rule for rule in self.rules if rule.blocks)

    @property
    def warned(self) -> tuple[RuleAnswer, ...]:
        """The rules that only warn."""
        return tuple(rule for rule in self.rules if rule.warns)


class Signing(KeyKeeping):
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

    def sign(self, *, stock: str, by: str, passphrase: str | None = None) -> Future[Done]:
        """Sign the record as it stands: with the person's key where he has one, else by name.

        Raises (in the future):
            NotAllowed: a rule blocks, or the person may not sign; `detail` lists every reason.
            KeyRefused, WrongPassphrase: the person's key cannot be used so.
        """

        def work() -> Done:
            opened = self._open_key(by, passphrase)
            return self.runner.on_book(self._sign, stock, by, opened).result()

        return self.runner.aside(work)

    @staticmethod
    def _refuse_baseless(car: Car) -> None:
        """Nothing goes out or is signed while anything in the record lacks its basis.

        Raises:
            NotAllowed: `detail` names every row.
        """
        if found := baseless(car):
            raise NotAllowed(
                f"Something in the record of {car.stock} has no basis: {found[0]}",
                effect="Nothing was signed or published.",
                next_step="Its files were changed by something else than this program. Say it again with its basis.",
                detail="\n".join(found),
            )

    def _sign(self, stock: str, by: str, opened: OpenKey | None) -> Done:
        review = self._review(stock)
        self._refuse_baseless(review.car)
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
            if opened is not None:
                fingerprint, signed = opened.key.fingerprint, opened.sign(text_of(stock, signature).encode()).hex()
                signature = replace(signature, key_sha256=fingerprint, signature=signed)
            return (signature,), (), f"Sign {stock}" + (" with a key" if opened is not None else "")

        return self._decide_now(stock, "sign", by, choose, Changes.SIGNOFF)

    def _review(self, stock: str) -> Review:
        car = self._car(stock)
        covered = covering.check(car)
        house = self.house
        own = house_rules(car.plan.vocabulary, self.folder)
        rules = signing.judge(car, covered, house, today=self.now().date(), house_rules=own)
        signature = car.signoff
        if signature is None or signature.record_sha256 != record_sha256(car):
            return Review(car, covered, rules, house, None)
        fault = _fault(car.stock, signature, house)
        return Review(car, covered, rules, house, None if fault else signature, fault)


def text_of(stock: str, signature: Signoff) -> str:
    """What the signer's key put its signature under."""
    return signoff_text(
        stock=stock,
        record_sha256=signature.record_sha256,
        role=signature.role,
        at=signature.at,
        lifted=signature.lifted,
    )


def _fault(stock: str, signature: Signoff, house: House) -> str:
    """Why a signature that fits the record does not count all the same, or ""."""
    if not signature.key_sha256:
        person = house.person(signature.by)
        since = [key.made for key in person.keys if key.retired is None] if person is not None else []
        late = any(made < signature.at.date() for made in since)
        return f"{signature.by} has a key since before this, and the signature does not use it." if late else ""
    held = house.key_holder(signature.key_sha256)
    if held is None:
        return f"The signature names the key {grouped(signature.key_sha256)}, and nobody of the house holds that."
    if held[0].name != signature.by:
        return f"The signature names {signature.by}, and its key belongs to {held[0].name}."
    if publish.holds(held[1].public, bytes.fromhex(signature.signature), text_of(stock, signature).encode()):
        return ""
    return f"The signature does not fit the key of {signature.by}: the signature was changed, or the key was."
