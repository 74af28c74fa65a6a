"""What of a car is unfinished, zone by zone: what somebody began to say, or a ticked frame shows, and nobody has said.

Worked out from the record and its coverage; never stored. Silence is not counted where no frame shows a part: that is
the walk's business. The order within a zone is the order in which it costs: findings that lack something (the gravest
first), jottings, what is on the re-shoot list, parts that are shown and of which nothing is said (load-carrying and
rust-prone ones first), frames that nobody has looked at, checks without a result.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum

from .applicability import Applicability
from .car import Car
from .coverage_words import ComponentCoverage, Coverage, Outcome, State
from .decision import PROGRAM, Sight, Sureness, Target
from .finding_gaps import Lack, lacks_of
from .jotting import zone_meant
from .plan import Component


class Todo(StrEnum):
    """What sort of thing is unfinished."""

    FINDING = "finding"
    JOTTING = "jotting"
    ASKED = "asked"
    PART = "part"
    SHOT = "shot"
    PHOTO = "photo"
    CHECK = "check"


@dataclass(frozen=True, slots=True)
class Unfinished:
    """One unfinished thing. `subject` is a number (finding, jotting, line of the re-shoot list) or an id."""

    of: Todo
    subject: str
    zone: str
    lacks: tuple[Lack, ...] = ()

    @property
    def key(self) -> str:
        return f"{self.of}:{self.subject}"


class Why(StrEnum):
    """Why "nothing found" is not said of a part."""

    FINDINGS = "findings"
    SAID = "said"
    NO_FRAME = "no-frame"
    COATED = "coated"
    NOT_FITTED = "not-fitted"
    DECIDE = "decide"


@dataclass(frozen=True, slots=True)
class LeftOut:
    """A part of which "nothing found" is not said, and why."""

    component: Component
    why: Why
    findings: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Sweep:
    """What "nothing found" would say of a zone: `parts` with the ticked frames that show them, and what is left out."""

    zone: str
    parts: tuple[tuple[str, tuple[str, ...]], ...]
    left_out: tuple[LeftOut, ...]


def ticked_frames(car: Car, coverage: Coverage, sight: Sight = Sight.SEEN) -> Mapping[str, tuple[str, ...]]:
    """For every part the frames on which a person ticked something of a shot that shows it.

    A tick that only says that coating hides the metal is another sight than one that saw the part.
    """
    ticked = {(tick.shot, tick.sha256) for tick in car.ticks if tick.sight is sight and tick.by != PROGRAM}
    frames: dict[str, dict[str, None]] = {}
    for covered in coverage.shots:
        seen = [sha256 for sha256 in covered.photos if (covered.shot.id, sha256) in ticked]
        for part in covered.shot.components if seen else ():
            frames.setdefault(part, {}).update(dict.fromkeys(seen))
    return {part: tuple(found) for part, found in frames.items()}


def sweep(car: Car, coverage: Coverage, zone: str) -> Sweep:
    """Of which parts of the zone "nothing found" can be said at once, and of which not and why.

    Never of a part without a ticked frame, never of one that has a finding, and of none twice.
    """
    seen, coated = ticked_frames(car, coverage), ticked_frames(car, coverage, Sight.COATED)
    parts: list[tuple[str, tuple[str, ...]]] = []
    left_out: list[LeftOut] = []
    for covered in coverage.components:
        part = covered.component
        if part.zone != zone:
            continue
        why = _why_not(covered, seen, coated)
        if why is None:
            parts.append((part.id, seen[part.id]))
        else:
            left_out.append(LeftOut(part, why, covered.findings))
    return Sweep(zone, tuple(parts), tuple(left_out))


def _why_not(covered: ComponentCoverage, seen: Mapping[str, object], coated: Mapping[str, object]) -> Why | None:
    part = covered.component.id
    if covered.outcome is Outcome.FINDINGS:
        return Why.FINDINGS
    if covered.outcome is Outcome.NOTHING_FOUND:
        return Why.SAID
    if covered.state is State.NOT_FITTED:
        return Why.NOT_FITTED
    if covered.state is State.DECIDE:
        return Why.DECIDE
    if part in seen:
        return None
    return Why.COATED if part in coated else Why.NO_FRAME


def unfinished(car: Car, coverage: Coverage) -> tuple[Unfinished, ...]:
    """Everything unfinished, zone by zone in the vocabulary's order, the dearest of each zone first."""
    order = {zone: place for place, zone in enumerate(car.plan.vocabulary.zones)}
    said = (*_findings(car), *_jottings(car), *_asked(car))
    found = (*said, *_parts(car, coverage), *_frames(car, coverage), *_checks(car))
    return tuple(sorted(found, key=lambda one: order.get(one.zone, len(order))))


def _findings(car: Car) -> Iterator[Unfinished]:
    zones = zone_of_parts(car)
    for found in sorted(car.findings, key=lambda one: (-one.severity.rank, one.number)):
        if lacks := lacks_of(found, car):
            yield Unfinished(Todo.FINDING, found.key, zones.get(found.component, ""), lacks)


def _jottings(car: Car) -> Iterator[Unfinished]:
    return (Unfinished(Todo.JOTTING, one.key, one.zone) for one in car.jottings)


def _asked(car: Car) -> Iterator[Unfinished]:
    """Open lines of the re-shoot list, each at the zone it is about; one that names none stands at the first."""
    zones = zone_of_parts(car)
    zones |= {shot.id: shot.zone for shot in car.plan.shots}
    zones |= {check.id: check.zone for check in car.plan.vocabulary.checks.values()}
    for one in car.asked:
        if one.is_open:
            yield Unfinished(Todo.ASKED, one.key, zones.get(one.subject) or zone_of_words(one.question, car))


def _parts(car: Car, coverage: Coverage) -> Iterator[Unfinished]:
    seen = ticked_frames(car, coverage)
    open_ones = [
        covered.component
        for covered in coverage.components
        if covered.component.id in seen and _why_not(covered, seen, {}) is None
    ]
    for part in sorted(open_ones, key=lambda one: (not one.struct, not one.rust)):
        yield Unfinished(Todo.PART, part.id, part.zone)


def _frames(car: Car, coverage: Coverage) -> Iterator[Unfinished]:
    """Shots whose frames nobody has ticked, and extras that somebody took of a zone and of which nothing is said."""
    for covered in coverage.shots:
        if covered.state is State.TAKEN and covered.accepted:
            yield Unfinished(Todo.SHOT, covered.shot.id, covered.shot.zone)
    cited = set(_cited(car))
    for placed in car.placements.values():
        extra = placed.target is Target.EXTRA and placed.sureness is Sureness.DECIDED
        if extra and placed.sha256 not in cited:
            yield Unfinished(Todo.PHOTO, placed.sha256, placed.zone)


def _cited(car: Car) -> Iterator[str]:
    for found in car.findings:
        yield from found.photos
    said: Iterable[tuple[str, ...]] = (
        *(one.evidence.photos for one in car.statements),
        *(one.photos for one in car.checks.values()),
        *(one.photos for one in car.measurements),
        *(one.photos for one in car.looked.values()),
    )
    for photos in said:
        yield from photos


def _checks(car: Car) -> Iterator[Unfinished]:
    applies = Applicability(car)
    for asked in car.plan.vocabulary.checks.values():
        if asked.id not in car.checks and applies.check(asked).holds:
            yield Unfinished(Todo.CHECK, asked.id, asked.zone)


def zone_of_words(words: str, car: Car) -> str:
    """The zone that somebody's words are about; the walk's first, where they name none."""
    return zone_meant(words, car.plan) or next((shot.zone for shot in car.plan.shots), "")


def subject_name(car: Car, one: Unfinished) -> str:
    """What a person calls the subject: a part, shot, photo or test by its name, a jotting or wish by its words."""
    words = car.plan.vocabulary
    names: dict[Todo, dict[str, str]] = {
        Todo.FINDING: {found.key: f"{found.number}, {found.kind} on {found.component}" for found in car.findings},
        Todo.JOTTING: {jot.key: " ".join(jot.text.split()) for jot in car.jottings},
        Todo.ASKED: {asked.key: asked.question for asked in car.asked},
        Todo.PART: {part.id: part.name for part in words.components().values()},
        Todo.SHOT: {shot.id: shot.title for shot in car.plan.shots},
        Todo.PHOTO: {photo.sha256: photo.name for photo in car.photos},
        Todo.CHECK: {check.id: check.item for check in words.checks.values()},
    }
    return names[one.of].get(one.subject, one.subject)


def zone_of_parts(car: Car) -> dict[str, str]:
    """The zone of every part."""
    return {part.id: part.zone for part in car.plan.vocabulary.components().values()}
