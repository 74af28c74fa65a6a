"""Verbs of whoever goes over a zone and its photos: nothing found, jottings, and what helps while one writes."""

from __future__ import annotations

from collections.abc import Mapping
from concurrent.futures import Future
from dataclasses import dataclass
from functools import partial

from lapseam.domain import coverage as covering
from lapseam.domain.admission import unknown
from lapseam.domain.car import Car
from lapseam.domain.changes import Changes
from lapseam.domain.claim_evidence import OnFile
from lapseam.domain.claims import Guard, Judged
from lapseam.domain.completion import Offers, offers_of
from lapseam.domain.decision import Looked
from lapseam.domain.errors import NotFound
from lapseam.domain.jotting import Jotting
from lapseam.domain.plan import Plan, Vocabulary
from lapseam.domain.statement import Basis
from lapseam.domain.unfinished import Sweep, Unfinished, sweep, unfinished
from lapseam.storage.layout import CLAIMS

from .asking import Asking
from .guarding import guard_for
from .looking import Whole
from .office import Choice, Done, Drop


@dataclass(frozen=True, slots=True)
class Swept:
    """What "nothing found" for a zone did, and of which parts it was said and of which not."""

    done: Done
    sweep: Sweep


class FindingOut(Asking):
    """Going over a zone."""

    _guard: tuple[Vocabulary, int, Guard] | None = None
    _offers: tuple[Plan, Offers] | None = None

    def nothing_found_in(self, *, stock: str, zone: str, by: str) -> Future[Swept]:
        """Say of every part of the zone that a ticked frame shows, and that has no finding, that nothing was found.

        One step for all of them. What was left out, and why, is in the answer; where nothing is left to say nothing
        is written.

        Raises (in the future):
            NotFound: there is no such car or zone.
        """
        return self.runner.on_book(self._sweep, stock, zone, by)

    def unfinished(self, *, stock: str) -> Future[tuple[Car, tuple[Unfinished, ...]]]:
        """The car, and everything about it that is unfinished: zone by zone, the dearest of each zone first."""
        read = self.runner.on_book(self._car, stock)

        def answer() -> tuple[Car, tuple[Unfinished, ...]]:
            car = read.result()
            return car, unfinished(car, covering.check(car))

        return self.runner.aside(answer)

    def jot(self, *, stock: str, zone: str, text: str, by: str, number: int = 0) -> Future[Done]:
        """Keep somebody's words at a zone until they become a finding; a `number` puts other words in its place."""

        def choose(car: Car) -> Choice:
            jotting = Jotting(
                number or self._workspace.book.next_number(stock, "jotting"), zone, text.strip(), by, self.now()
            )
            return (jotting,), (), f"Jotting {jotting.number} at {zone}"

        return self._decide(stock, verb="jot", by=by, choose=choose, changes=Changes.FINDINGS)

    def take_out_jotting(self, *, stock: str, number: int, by: str) -> Future[Done]:
        """Take a jotting out; the journal keeps its words."""

        def choose(car: Car) -> Choice:
            if number not in {one.number for one in car.jottings}:
                raise NotFound(f"This car has no jotting {number}.", next_step="It may be a finding by now.")
            return (), (Drop("jotting", str(number)),), f"Jotting {number} taken out"

        return self._decide(stock, verb="jot", by=by, choose=choose, changes=Changes.FINDINGS)

    def offers(self, *, whole: Whole) -> Future[Offers]:
        """What a form completes on for this car: parts and kinds, with the trade's other words for them."""
        return self.runner.aside(self._offered, whole.car.plan)

    def judge(
        self, *, whole: Whole, texts: Mapping[str, str], basis: Basis | None = None
    ) -> Future[Mapping[str, tuple[Judged, ...]]]:
        """Each text by the claims guard, held against the car's record; `basis` is how they are known, if it is said.

        Raises (in the future):
            PlanBroken: the house's own rules do not load.
        """
        return self.runner.aside(self._judge, whole, dict(texts), basis)

    def _sweep(self, stock: str, zone: str, by: str) -> Swept:
        car = self._car(stock)
        if zone not in car.plan.vocabulary.zones:
            words = unknown(zone, "zone", car.plan.vocabulary.zones)
            raise NotFound(words[0].upper() + words[1:] + ".", next_step="Name a zone of this car's plan.")
        found = sweep(car, covering.check(car), zone)
        if not found.parts:
            return Swept(Done(Changes.NOTHING, None, f"Nothing to say of {zone}."), found)
        choose = partial(self._looked, found, by)
        return Swept(self._decide_now(stock, "looked", by, choose, Changes.FINDINGS), found)

    def _looked(self, found: Sweep, by: str, car: Car) -> Choice:
        at = self.now()
        put = tuple(Looked(part, by, at, photos) for part, photos in found.parts)
        zone = car.plan.vocabulary.zones[found.zone].name
        return put, (), f"Nothing found on {len(put)} part{'' if len(put) == 1 else 's'} of {zone}"

    def _offered(self, plan: Plan) -> Offers:
        if self._offers is None or self._offers[0] is not plan:
            self._offers = plan, offers_of(plan.vocabulary, self._words_for_search())
        return self._offers[1]

    def _judge(self, whole: Whole, texts: Mapping[str, str], basis: Basis | None) -> Mapping[str, tuple[Judged, ...]]:
        guard = self._guard_of(whole.car.plan.vocabulary)
        on_file = OnFile(whole.car, whole.coverage)
        return {name: guard.judge(text, on_file=on_file, basis=basis) for name, text in texts.items()}

    def _guard_of(self, words: Vocabulary) -> Guard:
        """The guard, made again for another plan's words or when the house's own rules were changed on disk."""
        own = self.folder / CLAIMS
        written = own.stat().st_mtime_ns if own.is_file() else 0
        kept = self._guard
        if kept is None or kept[0] is not words or kept[1] != written:
            kept = self._guard = words, written, guard_for(words, self.folder)
        return kept[2]
