"""Which photos may be seen, and which takes of one view are shown.

A photo is never shown that was set aside, that a person holds back, or that may show a plate, a paper, a stamp or a
key code and that nobody has released. Of the takes of one view the one with more ticks, then the better readings, is
shown; another only where it adds a must-see item or is evidence for something that is published.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from .capture import streams
from .car import Car
from .decision import Placement, Sight, Slot, Sureness, Target, Verdict
from .plan import PrivateSight, Shot
from .quality import same_view_as, verdicts


@dataclass(frozen=True, slots=True)
class Frame:
    """A photo that is shown: on a shot, or as an extra of a zone. `taken` is its place in capture order."""

    sha256: str
    shot: Shot | None
    zone: str
    slot: Slot | None
    taken: int
    proposed: bool = False


@dataclass(frozen=True, slots=True)
class Withheld:
    """A photo that is not shown though it has a place. `sights` are what it may show; `held` a person's decision."""

    sha256: str
    zone: str
    sights: tuple[PrivateSight, ...]
    held: bool


def withheld(car: Car) -> tuple[Withheld, ...]:
    """Photos with a place in the record that nobody has released, or that a person holds back, in capture order."""
    places = _places(car)
    found = []
    for sha256 in _capture(car):
        place = places.get(sha256)
        if place is None:
            continue
        shot, zone, _ = place
        release, sights = car.releases.get(sha256), _sights(car, shot, zone)
        if release.verdict is Verdict.HOLD if release else bool(sights):
            found.append(Withheld(sha256, zone, sights, release is not None))
    return tuple(found)


def shown(car: Car) -> tuple[Frame, ...]:
    """The photos a reader may see, in capture order, without needless takes of one view."""
    hidden = {one.sha256 for one in withheld(car)}
    order = {sha256: place for place, sha256 in enumerate(_capture(car))}
    places = _places(car)
    frames = []
    for sha256, (shot, zone, placement) in places.items():
        if sha256 in order and sha256 not in hidden:
            slot = placement.slot if placement else None
            proposed = placement is not None and placement.sureness is not Sureness.DECIDED
            frames.append(Frame(sha256, shot, zone, slot, order[sha256], proposed))
    frames.sort(key=lambda frame: frame.taken)
    by_shot: dict[str, list[Frame]] = {}
    for frame in frames:
        by_shot.setdefault(frame.shot.id if frame.shot else f"+{frame.sha256}", []).append(frame)
    kept = [frame for takes in by_shot.values() for frame in _without_duplicates(car, takes)]
    return tuple(sorted(kept, key=lambda frame: frame.taken))


def _capture(car: Car) -> list[str]:
    return [frame.photo.sha256 for stream in streams(car.photos) for frame in stream]


def _places(car: Car) -> dict[str, tuple[Shot | None, str, Placement | None]]:
    """Shot, zone and placement of every photo that has a place; set-aside ones have none.

    Accepted frames; where nobody has decided a shot, its best proposal; decided extras; and what findings show.
    """
    decided = {p.sha256: p for p in car.placements.values() if p.sureness is Sureness.DECIDED}
    places: dict[str, tuple[Shot | None, str, Placement | None]] = {}
    shots = {shot.id: shot for shot in car.plan.shots}
    for placement in decided.values():
        shot = shots.get(placement.shot)
        if placement.target is Target.SHOT and shot is not None:
            places[placement.sha256] = (shot, shot.zone, placement)
        elif placement.target is Target.EXTRA:
            places[placement.sha256] = (None, placement.zone, placement)
    taken = {shot.id for shot, _, _ in places.values() if shot is not None}
    offers: dict[str, Placement] = {}
    for placement in car.placements.values():
        if placement.sha256 in decided or placement.target is not Target.SHOT or placement.shot in taken:
            continue
        best = offers.get(placement.shot)
        if best is None or (placement.score or 0.0) > (best.score or 0.0):
            offers[placement.shot] = placement
    for placement in offers.values():
        if placement.shot in shots:
            places[placement.sha256] = (shots[placement.shot], shots[placement.shot].zone, placement)
    parts = car.plan.vocabulary.components()
    for finding in car.findings:
        part = parts.get(finding.component)
        for sha256 in finding.photos:
            if sha256 not in decided and part is not None:
                places.setdefault(sha256, (None, part.zone, None))
    return places


def _sights(car: Car, shot: Shot | None, zone: str) -> tuple[PrivateSight, ...]:
    """What the frame may show: its shot's list; for an extra whatever any shot of its zone may show."""
    if shot is not None:
        return shot.private
    return tuple(dict.fromkeys(sight for one in car.plan.shots if one.zone == zone for sight in one.private))


def _without_duplicates(car: Car, takes: Sequence[Frame]) -> list[Frame]:
    """Of one shot's frames the best of each view, and those that add something."""
    if len(takes) == 1:
        return list(takes)
    photos = {photo.sha256: photo for photo in car.photos}
    ticks = _ticks(car, takes)
    evidence = set(_evidence(car))
    judged = verdicts([photos[frame.sha256] for frame in takes])

    def rank(frame: Frame) -> tuple[int, int, bool, float, int]:
        photo = photos[frame.sha256]
        cited = frame.sha256 in evidence
        good = judged[frame.sha256].usable
        return (-len(ticks[frame.sha256]), -cited, not good, -photo.pixels.sharpness, frame.taken)

    kept: list[Frame] = []
    for frame in sorted(takes, key=rank):
        same = [one for one in kept if same_view_as(photos[one.sha256], photos[frame.sha256])]
        adds = ticks[frame.sha256] - {item for one in kept for item in ticks[one.sha256]}
        if not same or adds or frame.sha256 in evidence:
            kept.append(frame)
    return kept


def _ticks(car: Car, takes: Iterable[Frame]) -> dict[str, set[str]]:
    seen: dict[str, set[str]] = {frame.sha256: set() for frame in takes}
    for tick in car.ticks:
        if tick.sight is Sight.SEEN and tick.sha256 in seen:
            seen[tick.sha256].add(tick.item)
    return seen


def _evidence(car: Car) -> Iterable[str]:
    """Photos that a published sentence points at."""
    for finding in car.findings:
        yield from finding.photos
    for statement in car.statements:
        yield from statement.evidence.photos
    for check in car.checks.values():
        yield from check.photos
    for measurement in car.measurements:
        yield from measurement.photos
