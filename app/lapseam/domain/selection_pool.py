"""The pictures an outlet's set is chosen from, and what each of them shows."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from math import floor
from typing import Final

from .car import Car
from .coverage import Coverage, ShotCoverage, State
from .decision import Slot
from .finding import Finding, Severity
from .photo import MediaKind
from .plan import Shot
from .selection_rules import MOTORCYCLE, STAND_INS, LimitList, OutletRules, Wishes
from .sequence import Picture, worst_first

_NUMBER: Final = r"\d+(?:[.,]\d+)?"
_LENGTHS: Final = re.compile(rf"({_NUMBER}(?:\s*[×x]\s*{_NUMBER})*)\s*(mm|cm|m|in|ft)\b")
_MM: Final = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": 25.4, "ft": 304.8}

FINDING_WORTH: Final = 100
"""Of a finding that nothing in the set shows yet, times one more than its severity's rank (0..5)."""
PLACE_WORTH: Final = 80
"""Of a rust-prone place that nothing in the set shows yet."""
ZONE_WORTH: Final = 40
"""Of a zone that nothing in the set shows yet."""
VIEW_WORTH: Final = 10
"""Of a direction of view in a zone that nothing in the set has yet."""
SHOT_WORTH: Final = 2
"""Of a shot that nothing in the set answers yet."""


@dataclass(frozen=True, slots=True)
class Pool:
    """What may be chosen: stills, once each, in gallery order, banned ones left out except where `kept` holds them.

    `flaws` are the open findings, worst first by severity, then by size; `kept` are banned but never dropped.
    """

    car: Car
    pictures: tuple[Picture, ...]
    by_shot: Mapping[str, Picture]
    covered: Mapping[str, ShotCoverage]
    flaws: tuple[Finding, ...]
    proves: Mapping[str, frozenset[str]]
    kept: frozenset[str]

    def stands_for(self, listed: str) -> str:
        """The shot that the car's plan has in the place of a listed one."""
        if listed not in self.covered and MOTORCYCLE.get(listed, "") in self.covered:
            return MOTORCYCLE[listed]
        other = STAND_INS.get(listed, "")
        return other if other in self.covered and self.covered[other].state is not State.NOT_FITTED else listed

    def applies(self, shot: str) -> bool:
        """Whether a conditional shot applies to this car and there is a picture of it."""
        covered = self.covered.get(shot)
        open_ = covered is not None and covered.state not in (State.DECIDE, State.NOT_FITTED)
        return open_ and shot in self.by_shot

    def is_rust(self, shot: str) -> bool:
        """Whether it is a rust-prone shot."""
        covered = self.covered.get(shot)
        return covered is not None and covered.shot.rust

    def is_proof(self, picture: Picture) -> bool:
        """Whether it shows a rust-prone shot, a rust-prone place, or a finding."""
        return self.is_rust(picture.shot) or bool(picture.findings) or bool(self.proves.get(picture.sha256))

    def contexts(self, picture: Picture) -> frozenset[str]:
        """Pictures of the pool that tell where a close frame is; empty for one that needs none."""
        wide: set[str] = set()
        if picture.slot is Slot.PROOF:
            wide |= {p.sha256 for p in self.pictures if p.shot == picture.shot and p.slot is not Slot.PROOF}
        for flaw in self.flaws:
            if picture.sha256 in flaw.close and picture.sha256 not in flaw.context:
                wide |= set(flaw.context)
        return frozenset(wide & {p.sha256 for p in self.pictures} - {picture.sha256})

    def shows(self, picture: Picture) -> frozenset[str]:
        """The elements a picture shows, for the optimum."""
        found = {f"finding:{number}" for number in picture.findings}
        found |= {f"place:{place}" for place in self.proves.get(picture.sha256, ())}
        found |= {f"zone:{picture.zone}", f"view:{self._view(picture)}"}
        return frozenset(found | ({f"shot:{picture.shot}"} if picture.shot else set()))

    def worth(self, element: str) -> int:
        """What showing it for the first time is worth."""
        sort, _, name = element.partition(":")
        if sort == "finding":
            ranks = {flaw.number: flaw.severity.rank for flaw in self.flaws}
            return FINDING_WORTH * (1 + ranks.get(int(name), 0))
        return {"place": PLACE_WORTH, "zone": ZONE_WORTH, "view": VIEW_WORTH, "shot": SHOT_WORTH}[sort]

    def _view(self, picture: Picture) -> str:
        covered = self.covered.get(picture.shot)
        shot = covered.shot if covered else None
        return f"{picture.zone}/{_direction(shot)}/{picture.slot.value if picture.slot else ''}"


def pool_of(car: Car, coverage: Coverage, pictures: Iterable[Picture], wishes: Wishes, never: Iterable[str]) -> Pool:
    """Gather what may be chosen; `never` are listed shots that may not be dropped."""
    media = {photo.sha256: photo.media for photo in car.photos}
    once = {p.sha256: p for p in pictures if not p.again and media.get(p.sha256) is MediaKind.STILL}
    covered = {one.shot.id: one for one in coverage.shots}
    flaws = tuple(sorted(worst_first(car), key=lambda one: (-one.severity.rank, -size_mm(one.extent))))
    bans = set(wishes.bans)
    bare = Pool(car, (), {}, covered, flaws, {}, frozenset())
    must_show = [{p.sha256 for p in once.values() if p.shot == bare.stands_for(shot)} for shot in never]
    must_show += [set(flaw.photos) & set(once) for flaw in worst_two(flaws)]
    kept = frozenset(min(s & bans, key=lambda x: once[x].number) for s in must_show if s and s <= bans)
    free = tuple(p for p in once.values() if p.sha256 not in bans or p.sha256 in kept)
    ranks = {flaw.number: flaw.severity.rank for flaw in flaws}
    by_shot: dict[str, Picture] = {}
    for one in sorted(free, key=lambda p: _best(p, ranks, wishes)):
        if one.shot:
            by_shot.setdefault(one.shot, one)
    return Pool(car, free, by_shot, covered, flaws, _places(coverage), kept)


def worst_two(flaws: Sequence[Finding]) -> tuple[Finding, ...]:
    """The worst structural and the worst cosmetic finding, where there are any; `flaws` stand worst first.

    Where no finding is of the severity cosmetic, the worst of those that are not structural stands for it.
    """
    structural = next((flaw for flaw in flaws if is_structural(flaw)), None)
    skin = [flaw for flaw in flaws if not is_structural(flaw)]
    cosmetic = next((flaw for flaw in skin if flaw.severity is Severity.COSMETIC), skin[0] if skin else None)
    return tuple(flaw for flaw in (structural, cosmetic) if flaw is not None)


def is_structural(flaw: Finding) -> bool:
    """Structural or unsafe."""
    return flaw.severity.rank >= Severity.STRUCTURAL.rank


def size_mm(extent: str) -> float:
    """The largest length named in an extent, in millimetres; 0.0 where none is."""
    found = [
        float(number.replace(",", ".")) * _MM[unit]
        for numbers, unit in _LENGTHS.findall(extent)
        for number in re.findall(_NUMBER, numbers)
    ]
    return max(found, default=0.0)


def listed(pool: Pool, rules: OutletRules, place: int) -> tuple[str, ...]:
    """The shots of limit number `place`, those of the limits before it first, with what this car swaps at it."""
    names = [pool.stands_for(shot) for row in rules.limits[: place + 1] for shot in row.shots]
    for swap in rules.swaps:
        if swap.limit != rules.limits[place].limit:
            continue
        coming = [shot for shot in swap.comes_in if pool.applies(shot) and shot not in names]
        going = [shot for shot in map(pool.stands_for, swap.gives_way) if shot in names]
        for shot, other in zip(coming, going, strict=False):
            names[names.index(other)] = shot
    return tuple(dict.fromkeys(names))


def base_of(limits: Sequence[LimitList], limit: int) -> int:
    """Which list is the largest that fits; -1 below the smallest."""
    return sum(row.limit <= limit for row in limits) - 1


def _places(coverage: Coverage) -> dict[str, frozenset[str]]:
    found: dict[str, set[str]] = {}
    for place in coverage.places:
        for sha256 in (*place.context, *place.proof):
            found.setdefault(sha256, set()).add(place.place.id)
    return {sha256: frozenset(places) for sha256, places in found.items()}


def _best(picture: Picture, ranks: Mapping[int, int], wishes: Wishes) -> tuple[bool, bool, bool, int, int]:
    """Of one shot's frames: what a person pinned, a context frame, a decided one, the worse side, gallery order."""
    worst = max((ranks.get(number, 0) for number in picture.findings), default=-1)
    close = picture.slot is Slot.PROOF
    return picture.sha256 not in wishes.pins, close, picture.proposed, -worst, picture.number


def _direction(shot: Shot | None) -> str:
    if shot is None:
        return "extra"
    if shot.camera.bearing_deg is not None:
        return f"{floor(shot.camera.bearing_deg % 360 / 45)}"
    return shot.camera.look or shot.camera.at
