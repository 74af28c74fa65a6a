"""Selection: which photos an outlet with a limit gets, in which order, and why each of them is in.

The lists of the trade are hard: the shots of the largest list that fits, then those of the next in the order written;
places for findings, structural and unsafe ones first, for which good pictures give way where they outnumber the places;
under the smallest list an order of survival. A place that nothing of the list can fill goes to the next rust-prone shot
of the next list. What is still free is filled by an exact optimum over findings, rust-prone places, zones and variety
of view (`selection_optimum`). The set of a list holds the set of the list before it.

Five things are never dropped from twelve photos on: the underside pair, the odometer, the identity picture, the worst
structural and the worst cosmetic finding. A person's pins, bans and order are kept as far as these allow.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import islice

from .car import Car
from .coverage import Coverage
from .errors import Mistake
from .finding import Finding
from .selection_optimum import Candidate, best_fill
from .selection_pool import Pool, base_of, is_structural, listed, pool_of, worst_two
from .selection_rules import (
    NEVER_DROPPED,
    WORST_COSMETIC,
    WORST_STRUCTURAL,
    Chosen,
    LimitList,
    Outlet,
    OutletRules,
    PhotoList,
    Selection,
    Swap,
    TextForm,
    Why,
    Wishes,
)
from .selection_words import conflicts_of, overflow_of, put_in_order, reason_of, said_after, unseen_of
from .sequence import Picture

__all__ = [
    "Chosen",
    "LimitList",
    "Outlet",
    "OutletRules",
    "PhotoList",
    "Selection",
    "Swap",
    "TextForm",
    "Why",
    "Wishes",
    "choose",
]

_NO_WISHES = Wishes()


def choose(
    car: Car,
    coverage: Coverage,
    pictures: Sequence[Picture],
    rules: OutletRules,
    limit: int,
    wishes: Wishes = _NO_WISHES,
) -> Selection:
    """Choose and order at most `limit` photos.

    Args:
        car: its findings are printed; names are hidden in them already.
        pictures: the gallery, which holds only what may be published (`sequence.gallery`).

    Raises:
        Mistake: `limit` is below 1.
    """
    if limit < 1:
        raise Mistake("An outlet takes at least one photo.", next_step="Give a limit of 1 or more.")
    pool = pool_of(car, coverage, pictures, wishes, NEVER_DROPPED)
    chosen = _Set(pool, rules, limit, wishes).filled()
    ordered = put_in_order([one for one in pool.pictures if one.sha256 in chosen], wishes)
    wanted = _wanted(pool, rules, limit)
    after = said_after(pool, ordered, wanted)
    return Selection(
        limit=limit,
        pictures=tuple(
            Chosen(
                place=place,
                sha256=one.sha256,
                shot=one.shot,
                number=one.number,
                findings=one.findings,
                why=chosen[one.sha256],
                reason=reason_of(pool, one, chosen[one.sha256]),
                adds=after.get(one.sha256, ()),
            )
            for place, one in enumerate(ordered, 1)
        ),
        unseen=unseen_of(pool, wanted),
        overflow=overflow_of(pool, ordered),
        conflicts=conflicts_of(pool, pictures, chosen, wishes, limit),
    )


def _wanted(pool: Pool, rules: OutletRules, limit: int) -> tuple[str, ...]:
    """The shots that the list of that limit names, for this car."""
    base = base_of(rules.limits, limit)
    if base >= 0:
        return listed(pool, rules, base)
    worst = (WORST_STRUCTURAL, WORST_COSMETIC)
    return tuple(pool.stands_for(one) for one in rules.below[:limit] if one not in worst)


class _Set:
    """The set in the making: SHA-256 to what gave the place, in order of admission."""

    def __init__(self, pool: Pool, rules: OutletRules, limit: int, wishes: Wishes) -> None:
        self.pool, self.rules, self.limit, self.wishes = pool, rules, limit, wishes
        self.base = base_of(rules.limits, limit)
        self.chosen: dict[str, Why] = {}
        self.flaw_places = 0
        never = (pool.by_shot.get(pool.stands_for(shot)) for shot in NEVER_DROPPED)
        self.never = {one.sha256 for one in never if one is not None}

    def filled(self) -> dict[str, Why]:
        """Every step in its turn: the list, findings, a person's pins, then what is free."""
        if self.base < 0:
            self._survivors()
        else:
            self._list()
            self._findings()
        self._pins()
        self._from_the_list_before()
        self._rust_prone()
        self._best_use()
        return self.chosen

    @property
    def free(self) -> int:
        return self.limit - len(self.chosen)

    def _add(self, picture: Picture | None, why: Why) -> bool:
        if picture is None or picture.sha256 in self.chosen or self.free < 1:
            return False
        kept = Why.NEVER_DROPPED if picture.sha256 in self.never and self.base >= 0 else why
        self.chosen[picture.sha256] = kept
        return True

    def _survivors(self) -> None:
        """Below the smallest list: the order of survival, then the other structural findings."""
        worst = worst_two(self.pool.flaws)
        for one in islice(self.rules.below, self.limit):
            if one == WORST_STRUCTURAL:
                self._show(flaw for flaw in worst if is_structural(flaw))
            elif one == WORST_COSMETIC:
                self._show(flaw for flaw in worst if not is_structural(flaw))
            else:
                self._add(self.pool.by_shot.get(self.pool.stands_for(one)), Why.LIST)
        structural = [flaw for flaw in self.pool.flaws if is_structural(flaw)]
        for picture in (*self._first_of(structural), *self._close_of(structural[:1])):
            self._add(picture, Why.FINDING)

    def _show(self, flaws: Iterable[Finding]) -> None:
        for flaw in flaws:
            for picture in islice((*self._first_of([flaw]), *self._close_of([flaw])), 1):
                self._add(picture, Why.FINDING)

    def _list(self) -> None:
        """The list of this limit, then the next one's shots in the order written, then its places for findings."""
        limits, by_shot = self.rules.limits, self.pool.by_shot
        names = listed(self.pool, self.rules, self.base)
        for name in names:
            self._add(by_shot.get(name), Why.LIST)
        self.flaw_places = limits[self.base].flaws
        spare = self.limit - limits[self.base].limit
        if spare and self.base + 1 < len(limits):
            more = [n for n in listed(self.pool, self.rules, self.base + 1) if n in by_shot and n not in names]
            for name in more[:spare]:
                self._add(by_shot[name], Why.LIST)
            spare -= len(more[:spare])
            self.flaw_places += min(spare, limits[self.base + 1].flaws - self.flaw_places)

    def _findings(self) -> None:
        """Findings into their places; for what may not be left out good pictures give way, in the order written."""
        worst = worst_two(self.pool.flaws)
        must = [*worst, *(flaw for flaw in self.pool.flaws if is_structural(flaw) and flaw not in worst)]
        going = [self.pool.by_shot.get(self.pool.stands_for(shot)) for shot in self.rules.gives_way]
        leaving = [one.sha256 for one in going if one is not None and one.sha256 in self.chosen]
        for sha256 in leaving:
            if len(self._first_of(must)) <= self.free:
                break
            if sha256 not in self.never and sha256 not in self.wishes.pins:
                del self.chosen[sha256]
        before = len(self.chosen)
        for picture in (*self._first_of(must), *self._close_of([one for one in worst if is_structural(one)])):
            self._add(picture, Why.FINDING)
        self.flaw_places = max(0, self.flaw_places - (len(self.chosen) - before))
        for find in (self._first_of, self._close_of):
            for picture in find(self.pool.flaws)[: self.flaw_places]:
                self.flaw_places -= self._add(picture, Why.FINDING)
        for flaw in worst:
            for sha256 in islice((one for one in flaw.photos if one in self.chosen), 1):
                self.never.add(sha256)
                self.chosen[sha256] = Why.NEVER_DROPPED

    def _first_of(self, flaws: Iterable[Finding]) -> list[Picture]:
        """For each finding that nothing shows yet a picture: the context frame, or the close one if there is none."""
        known = {one.sha256: one for one in self.pool.pictures}
        found: dict[str, Picture] = {}
        for flaw in flaws:
            photos = [sha256 for sha256 in flaw.photos if sha256 in known]
            if photos and not any(sha256 in self.chosen or sha256 in found for sha256 in photos):
                found[photos[0]] = known[photos[0]]
        return list(found.values())

    def _close_of(self, flaws: Iterable[Finding]) -> list[Picture]:
        """For each finding its first close frame that is not in yet."""
        known = {one.sha256: one for one in self.pool.pictures}
        found: dict[str, Picture] = {}
        for flaw in flaws:
            left = (one for one in flaw.close if one in known and one not in self.chosen and one not in found)
            for sha256 in islice(left, 1):
                found[sha256] = known[sha256]
        return list(found.values())

    def _pins(self) -> None:
        """A person's pictures; the last of the list give way to them, never what may not be dropped."""
        known = {one.sha256: one for one in self.pool.pictures}
        for pin in self.wishes.pins:
            if pin not in known or pin in self.pool.kept:
                continue
            if pin in self.chosen:
                if self.chosen[pin] is not Why.NEVER_DROPPED:
                    self.chosen[pin] = Why.PINNED
                continue
            if not self.free:
                going = next((s for s in reversed(self.chosen) if self._may_go(s, known[s])), None)
                if going is None:
                    continue
                del self.chosen[going]
            self._add(known[pin], Why.PINNED)

    def _may_go(self, sha256: str, picture: Picture) -> bool:
        structural = {flaw.number for flaw in self.pool.flaws if is_structural(flaw)}
        first = sha256 == next(iter(self.chosen))
        if first or self.chosen[sha256] in (Why.NEVER_DROPPED, Why.PINNED):
            return False
        return not (self.chosen[sha256] is Why.FINDING and structural & set(picture.findings))

    def _from_the_list_before(self) -> None:
        """Each list holds the one before it, with what filled that one's free places."""
        before = self.base - (self.base >= 0 and self.rules.limits[self.base].limit == self.limit)
        if not self.free or before < 0:
            return
        known = {one.sha256: one for one in self.pool.pictures}
        earlier = _Set(self.pool, self.rules, self.rules.limits[before].limit, self.wishes).filled()
        for sha256, why in earlier.items():
            self._add(known[sha256], why)

    def _rust_prone(self) -> None:
        """The next rust-prone shots of the lists that follow, in the order written."""
        for place in range(self.base + 1, len(self.rules.limits)):
            for name in listed(self.pool, self.rules, place):
                if self.pool.is_rust(name):
                    self._add(self.pool.by_shot.get(name), Why.PROOF)

    def _best_use(self) -> None:
        """The optimum over what is left; places kept for findings go to proof only, never to more pretty ones."""
        while self.free:
            left = [one for one in self.pool.pictures if one.sha256 not in self.chosen and self._has_context(one)]
            shown = {element for p in self.pool.pictures if p.sha256 in self.chosen for element in self.pool.shows(p)}
            candidates = [Candidate(p.sha256, self.pool.shows(p) - shown, self.pool.is_proof(p)) for p in left]
            weights = {element: self.pool.worth(element) for one in candidates for element in one.shows}
            unproving = max(0, self.free - max(0, self.flaw_places))
            coming = best_fill(candidates, weights, places=self.free, unproving=unproving)
            if not coming:
                return
            known = {one.sha256: one for one in left}
            for sha256 in coming:
                self._add(known[sha256], Why.BEST_FILL)

    def _has_context(self, picture: Picture) -> bool:
        """A close frame never goes without its context frame."""
        wide = self.pool.contexts(picture)
        return not wide or any(sha256 in self.chosen for sha256 in wide)
