"""Verbs about the next edition while it is made: how it would stand now, its captions, and the order of its photos."""

from __future__ import annotations

from collections.abc import Sequence
from concurrent.futures import Future
from dataclasses import dataclass

from lapseam.domain.car import Car
from lapseam.domain.changes import Changes
from lapseam.domain.claims import Verdict, guard_of
from lapseam.domain.coverage import check
from lapseam.domain.decision import Arranged, Caption
from lapseam.domain.edition import Edition
from lapseam.domain.errors import Mistake
from lapseam.domain.plan import Vocabulary
from lapseam.domain.sequence import gallery

from .guarding import house_rules
from .office import Choice, Done, Drop, photo_called
from .publishing import Publishing
from .signing import Review


@dataclass(frozen=True, slots=True)
class InTheMaking:
    """The next edition as it would be published now, with what a manager would say of it."""

    review: Review
    edition: Edition


class Arranging(Publishing):
    """What a lister does before an edition is published."""

    def next_edition(self, *, stock: str) -> Future[InTheMaking]:
        """The next edition as it would stand now: every page model, nothing rendered and nothing written."""
        return self.runner.aside(lambda: InTheMaking(*self.runner.on_book(self._edition, stock).result()))

    def caption(self, *, stock: str, photo: str, words: str, by: str) -> Future[Done]:
        """Say in a person's words what a photo shows; no words give the shot's title back.

        Findings, their extent and their basis are told as the record has them, whatever is said here.

        Raises (in the future):
            Mistake: the claims guard refuses the words, or they are no caption; the message says what may be said.
        """

        def choose(car: Car) -> Choice:
            frame = photo_called(car, photo)
            if not words.strip():
                return (), (Drop("caption", frame.sha256),), f"Caption {frame.name} by its shot again"
            said = " ".join(words.split())
            self._refuse_house_words(car, said)
            return (Caption(frame.sha256, said, by, self.now()),), (), f"Caption {frame.name}: {said}"

        return self._decide(stock, verb="caption", by=by, choose=choose, changes=Changes.PLACEMENTS)

    def _refuse_house_words(self, car: Car, said: str) -> None:
        """What the house itself never prints is refused here; what nobody may print, at the gate.

        Raises:
            Mistake: a rule of `claims.yaml` refuses the words. PlanBroken: those rules do not load.
        """
        own = house_rules(car.plan.vocabulary, self.folder)
        judged = guard_of(Vocabulary({}), *own).judge(said) if own else ()
        refused = [one for sentence in judged for one in sentence.objections if one.verdict is Verdict.REFUSED]
        ids = {rule.id for rule in own}
        for one in refused:
            if one.rule in ids:
                step = f"Say instead: {one.instead}." if one.instead else "Say it in other words."
                raise Mistake(f"This house does not print it: {one.why}", effect="Nothing was written.", next_step=step)

    def arrange(self, *, stock: str, group: str, photos: Sequence[str], by: str) -> Future[Done]:
        """Order photos of one gallery group; those that are not named keep their places. None: the usual order again.

        Raises (in the future):
            Mistake: the group follows from the record, or fewer than two photos, or one named twice.
        """

        def choose(car: Car) -> Choice:
            known = car.plan.vocabulary.gallery_groups
            name = known[group].name if group in known else group
            if not photos:
                return (), (Drop("arranged", group),), f"{name}: the usual order again"
            order = tuple(photo_called(car, one).sha256 for one in photos)
            return (Arranged(group, order, by, self.now()),), (), f"{name}: {len(order)} photos in an order of our own"

        return self._decide(stock, verb="arrange", by=by, choose=choose, changes=Changes.PLACEMENTS)

    def move(self, *, stock: str, photo: str, steps: int, by: str) -> Future[Done]:
        """Move a photo forward (or back, below 0) by so many places within its gallery group, as readers see it now.

        Raises (in the future):
            Mistake: the photo is not in the gallery, or stands in a group whose order follows from the record.
        """

        def choose(car: Car) -> Choice:
            frame = photo_called(car, photo)
            group, order = self._group_of(car, frame.sha256)
            at = order.index(frame.sha256)
            to = min(max(at + steps, 0), len(order) - 1)
            order.insert(to, order.pop(at))
            return (Arranged(group, tuple(order), by, self.now()),), (), f"Move {frame.name} to place {to + 1}"

        return self._decide(stock, verb="arrange", by=by, choose=choose, changes=Changes.PLACEMENTS)

    @staticmethod
    def _group_of(car: Car, sha256: str) -> tuple[str, list[str]]:
        """The gallery group that a photo stands in and the photos of that group in their order."""
        pictures = [one for one in gallery(car, check(car)) if not one.again]
        group = next((one.group for one in pictures if one.sha256 == sha256), "")
        if not group:
            raise Mistake(
                "This photo is not in the gallery.",
                effect="Nothing was changed.",
                next_step="Put it on a shot, and where it may show a plate, a paper or a stamp, release it first.",
            )
        return group, [one.sha256 for one in pictures if one.group == group]
