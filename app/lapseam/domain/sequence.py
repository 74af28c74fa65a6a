"""Sequence: which photos a reader sees, and in which order.

Gallery order is for somebody who scrolls on a phone. It is neither shooting order nor zone order: a `Picture` carries
all three numbers. Which photos may be seen at all, and which takes of one view, is worked out in `showing`.

Rules (common trade practice, no source): the hero is a whole front three-quarter view of the better side, the rear
three-quarter from the other corner is second; groups follow the vocabulary; whole views come before details, front
before rear, left before right, context before close; a flaw stands in place and again in the last group. A person may
arrange the photos within a group; a close frame without a wide one of its own still follows its context.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from math import cos, radians

from .capture import streams
from .car import Car
from .coverage import Coverage
from .decision import Slot
from .finding import Finding, FindingState
from .plan import FLAWS_GROUP, LEAD_GROUP, Shot, Tone
from .showing import Frame, shown

_SIDES = ("left", "right")
_WHOLE_CAR_M = 5.0
_CLOSE_M = 0.6
_LAST = 1_000_000


@dataclass(frozen=True, slots=True)
class Picture:
    """One place in the gallery.

    `number` is the photo's number for readers, in gallery order, the same where it stands `again` among the flaws;
    `shooting` its place in capture order among all the car's photos; `walk` its place by zone among the published.
    `findings` are the open ones that this photo shows, worst first. `proposed`: no person has placed it yet.
    """

    sha256: str
    group: str
    number: int
    shooting: int
    walk: int
    shot: str
    zone: str
    slot: Slot | None = None
    findings: tuple[int, ...] = ()
    again: bool = False
    proposed: bool = False


def gallery(car: Car, coverage: Coverage) -> tuple[Picture, ...]:
    """Every picture in gallery order, the flaws' group last with its photos `again`."""
    frames = shown(car)
    if not frames:
        return ()
    flaws = worst_first(car)
    by_photo: dict[str, list[Finding]] = {}
    for flaw in flaws:
        for sha256 in flaw.photos:
            by_photo.setdefault(sha256, []).append(flaw)
    order = _Order(car, coverage, by_photo)
    rows = order.rows(frames)
    capture = [frame.photo.sha256 for stream in streams(car.photos) for frame in stream]
    shooting = {sha256: place for place, sha256 in enumerate(capture, 1)}
    walk = {frame.sha256: place for place, frame in enumerate(sorted(frames, key=order.walk), 1)}

    def picture(group: str, frame: Frame, number: int, again: bool) -> Picture:
        return Picture(
            sha256=frame.sha256,
            group=group,
            number=number,
            shooting=shooting[frame.sha256],
            walk=walk[frame.sha256],
            shot=frame.shot.id if frame.shot else "",
            zone=frame.zone,
            slot=frame.slot,
            findings=tuple(flaw.number for flaw in by_photo.get(frame.sha256, ())),
            again=again,
            proposed=frame.proposed,
        )

    pictures = [picture(group, frame, number, False) for number, (group, frame) in enumerate(rows, 1)]
    numbers = {one.sha256: one.number for one in pictures}
    known = {frame.sha256: frame for frame in frames}
    evidence = dict.fromkeys(sha for flaw in flaws for sha in flaw.photos if sha in numbers)
    return (*pictures, *(picture(FLAWS_GROUP, known[sha], numbers[sha], True) for sha in evidence))


def numbers(pictures: Iterable[Picture]) -> dict[str, int]:
    """The number that readers see, by SHA-256."""
    return {picture.sha256: picture.number for picture in pictures}


def worst_first(car: Car) -> tuple[Finding, ...]:
    """The open findings that are no good news: by severity, then by zone in walking order, then by number."""
    words = car.plan.vocabulary
    zones = {zone: place for place, zone in enumerate(words.zones)}
    parts = words.components()

    def place(finding: Finding) -> int:
        part = parts.get(finding.component)
        return zones.get(part.zone, _LAST) if part else _LAST

    return tuple(
        sorted(
            filter(lambda one: is_flaw(car, one), car.findings), key=lambda f: (-f.severity.rank, place(f), f.number)
        )
    )


def is_flaw(car: Car, finding: Finding) -> bool:
    """Whether it is open and a fault or a note."""
    kind = car.plan.vocabulary.findings.get(finding.kind)
    return finding.state is FindingState.OPEN and (kind is None or kind.tone is not Tone.GOOD)


class _Order:
    """Where each frame belongs, for one car."""

    def __init__(self, car: Car, coverage: Coverage, flaws: Mapping[str, Sequence[Finding]]) -> None:
        self.car, self.flaws = car, flaws
        self.zones = {zone: place for place, zone in enumerate(car.plan.vocabulary.zones)}
        listed = dict.fromkeys((*(c.shot.id for c in coverage.shots), *(shot.id for shot in car.plan.shots)))
        self.planned = {shot: place for place, shot in enumerate(listed)}
        self.pairs: dict[str, int] = {}
        for shot, place in self.planned.items():
            self.pairs.setdefault(pair_of(shot), place)

    def rows(self, frames: Sequence[Frame]) -> list[tuple[str, Frame]]:
        """Group and frame in gallery order; frames of zones that are not published stay out."""
        groups = self.car.plan.vocabulary.gallery_groups
        lead = self._lead(frames)
        rows = [(LEAD_GROUP, frame) for frame in lead]
        grouped: dict[str, list[Frame]] = {}
        for frame in frames:
            if frame not in lead:
                grouped.setdefault(self.group(frame), []).append(frame)
        for group in sorted(groups.values(), key=lambda one: one.order):
            ordered = sorted(grouped.get(group.id, ()), key=lambda frame: self._key(group.id, frame))
            ordered = self._arranged(group.id, ordered)
            rows += [(group.id, frame) for frame in self._beside_context(ordered)]
        return rows

    def group(self, frame: Frame) -> str:
        """The chapter of a frame: its zone's, or the zone's close one for shots taken from 0.6 m or nearer."""
        zone = self.car.plan.vocabulary.zone_gallery.get(frame.zone)
        if zone is None:
            return ""
        close = frame.shot is not None and frame.shot.close_m is not None and frame.shot.close_m <= _CLOSE_M
        return zone.close if close else zone.group

    def walk(self, frame: Frame) -> tuple[int, int, int, int]:
        """Zone order: by zone as walked, then by shot as planned, context first."""
        shot = self.planned.get(frame.shot.id, _LAST) if frame.shot else _LAST
        return self.zones.get(frame.zone, _LAST), shot, _slot_rank(frame), frame.taken

    def _key(self, group: str, frame: Frame) -> tuple[float, ...]:
        shot = frame.shot
        worst = max((flaw.severity.rank for flaw in self.flaws.get(frame.sha256, ())), default=-1)
        if shot is None:
            return (8.0, self.zones.get(frame.zone, _LAST), 0.0, 0.0, 0.0, -worst, frame.taken)
        kind, along = (_view(shot), 0.0) if group == "gg-outside" else (float(shot.close_m is not None), 0.0)
        if group == "gg-outside" and shot.camera.bearing_deg is not None and kind < 4:
            along = -round(cos(radians(shot.camera.bearing_deg)), 1)
        pair = self.pairs[pair_of(shot.id)]
        own = (_slot_rank(frame), self._wide_first(frame), -worst, frame.taken)
        return (kind, along, pair, side_of(shot.id), self.planned[shot.id], *own)

    def _arranged(self, group: str, frames: list[Frame]) -> list[Frame]:
        """The photos that a person ordered, in that order on the places they hold together; the others stay."""
        order = self.car.arranged.get(group)
        rank = {sha256: place for place, sha256 in enumerate(order.photos)} if order else {}
        named = iter(sorted((one for one in frames if one.sha256 in rank), key=lambda one: rank[one.sha256]))
        return [next(named) if one.sha256 in rank else one for one in frames]

    def _wide_first(self, frame: Frame) -> int:
        """Of frames on one shot: those that tell where a flaw is, then the others, then the flaws' close ones."""
        flaws = self.flaws.get(frame.sha256, ())
        if any(frame.sha256 in flaw.context for flaw in flaws):
            return 0
        return 2 if flaws else 1

    def _beside_context(self, frames: Sequence[Frame]) -> list[Frame]:
        """A close frame whose own shot shows no context stands right after the context frame of its finding."""
        ordered = list(frames)
        wide = {frame.shot.id for frame in frames if frame.shot and frame.slot is not Slot.PROOF}
        for frame in frames:
            if frame.slot is not Slot.PROOF or (frame.shot and frame.shot.id in wide):
                continue
            wanted = {sha256 for flaw in self.flaws.get(frame.sha256, ()) for sha256 in flaw.context}
            context = next((one for one in ordered if one.sha256 in wanted and one is not frame), None)
            if context is not None:
                ordered.remove(frame)
                ordered.insert(ordered.index(context) + 1, frame)
        return ordered

    def _lead(self, frames: Sequence[Frame]) -> list[Frame]:
        """The hero, then the rear three-quarter from the other corner."""
        close = {sha256 for flaws in self.flaws.values() for flaw in flaws for sha256 in flaw.close}
        chosen = self.car.lead.sha256 if self.car.lead else ""
        hero = next((frame for frame in frames if frame.sha256 == chosen and chosen not in close), None)
        better = "left" if self._blemish("left") <= self._blemish("right") else "right"
        if hero is None:
            fronts = [frame for frame in frames if frame.shot and _corner(frame.shot)[0] == "front"]
            fronts.sort(key=lambda frame: (_corner(_shot(frame))[1] != better, self._key("", frame)))
            hero = fronts[0] if fronts else None
        if hero is None:
            return []
        side = _corner(hero.shot)[1] if hero.shot and _corner(hero.shot)[0] else better
        rears = [f for f in frames if f is not hero and f.shot and _corner(f.shot)[0] == "rear"]
        rears.sort(key=lambda frame: (_corner(_shot(frame))[1] == side, self._key("", frame)))
        return [hero, *rears[:1]]

    def _blemish(self, side: str) -> int:
        """How much is wrong on one side of the body, by the severity of what was found there."""
        parts = self.car.plan.vocabulary.components()
        outside = {zone.id for zone in self.car.plan.vocabulary.zones.values() if zone.group == "outside"}
        found = (one for one in self.car.findings if is_flaw(self.car, one) and one.component.startswith(f"{side}-"))
        return sum(1 + f.severity.rank for f in found if f.component in parts and parts[f.component].zone in outside)


def pair_of(shot_id: str) -> str:
    """The id without its side: left and right of one view share it."""
    return "-".join(part for part in shot_id.split("-") if part not in _SIDES)


def side_of(shot_id: str) -> int:
    """0 left, 1 right, 2 neither."""
    return next((_SIDES.index(part) for part in shot_id.split("-") if part in _SIDES), 2)


def _slot_rank(frame: Frame) -> int:
    return {Slot.CONTEXT: 0, None: 1, Slot.PROOF: 2}[frame.slot]


def _shot(frame: Frame) -> Shot:
    assert frame.shot is not None
    return frame.shot


def _whole_car(shot: Shot) -> bool:
    return shot.camera.bearing_deg is not None and (shot.camera.distance_m or 0.0) >= _WHOLE_CAR_M


def _corner(shot: Shot) -> tuple[str, str]:
    """("front" or "rear", "left" or "right") of a whole three-quarter view; ("", "") of anything else."""
    bearing = shot.camera.bearing_deg
    if bearing is None or not _whole_car(shot):
        return "", ""
    off_axis = min(bearing % 180, 180 - bearing % 180)
    if not 20 <= off_axis <= 70:
        return "", ""
    return "front" if cos(radians(bearing)) > 0 else "rear", "right" if bearing % 360 < 180 else "left"


def _view(shot: Shot) -> float:
    """Outside views: profiles, three-quarters, square views, tops, flanks."""
    bearing = shot.camera.bearing_deg
    if shot.camera.at == "ladder":
        return 3.0
    if bearing is None or not _whole_car(shot):
        return 4.0
    off_axis = min(bearing % 180, 180 - bearing % 180)
    return 0.0 if off_axis > 70 else 1.0 if off_axis >= 20 else 2.0
