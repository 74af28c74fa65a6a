"""The condition page's index by zone, and what was done to the photos before they were shown."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from .edition_draft import Draft, finding_anchor, good_findings
from .page import FindingRef, GapShown, Line, ZoneShown
from .photo import MediaKind, Photo
from .phrases import capital, count, listed, say
from .sequence import worst_first
from .showing import withheld
from .statement import CheckVerdict

_UPRIGHT = 1


def zone_rows(draft: Draft, not_seen: tuple[GapShown, ...], not_tested: tuple[GapShown, ...]) -> Iterator[ZoneShown]:
    """Every zone of the plan that is published, in walking order: what was found, done, and left open there."""
    walked = {shot.zone for shot in draft.car.plan.shots}
    for zone in (one for one in draft.words.zones.values() if one.id in walked and draft.is_public(one.id)):
        parts = {part.id for part in draft.words.components().values() if part.zone == zone.id}
        numbers = sorted(
            one.number for one in (*worst_first(draft.car), *good_findings(draft)) if one.component in parts
        )
        pictures = [one for one in draft.pictures if one.zone == zone.id and not one.again]
        found = count("zone.found", len(numbers), numbers=listed(numbers)) if numbers else say("zone.none")
        shown = count("zone.photos", len(pictures)) if pictures else say("zone.photos.none")
        told = [shown, *_done(draft, zone.id, parts), *_open(zone.name, not_seen, not_tested)]
        refs = tuple(FindingRef(number, finding_anchor(number)) for number in numbers)
        first = min((one.number for one in pictures), default=0)
        yield ZoneShown(zone.id, zone.name, capital(found), capital(_joined(told)), refs, first)


def _done(draft: Draft, zone: str, parts: set[str]) -> Iterator[str]:
    """What was looked at with nothing to report, tried and measured there."""
    faulty = {one.component for one in draft.car.findings}
    asked = draft.words.checks
    tried = [
        one
        for one in draft.car.checks.values()
        if one.verdict is not CheckVerdict.NOT_TESTED and one.check in asked and asked[one.check].zone == zone
    ]
    for key, n in (
        ("zone.nothing", len((draft.car.looked.keys() & parts) - faulty)),
        ("zone.checks", len(tried)),
        ("zone.measured", sum(one.component in parts for one in draft.car.measurements)),
    ):
        if n:
            yield count(key, n)


def _open(name: str, not_seen: Iterable[GapShown], not_tested: Iterable[GapShown]) -> Iterator[str]:
    for key, gaps in (("zone.unseen", not_seen), ("zone.untested", not_tested)):
        if n := sum(gap.zone_name == name for gap in gaps):
            yield count(key, n)


def _joined(words: Iterable[str]) -> str:
    every = list(words)
    said = every[0]
    for word in every[1:]:
        said = say("zone.more", first=said, next=word)
    return said


def edit_lines(draft: Draft) -> Iterator[Line]:
    """What was done to each photo shown, every photo in one line, and what was hidden."""
    known = {photo.sha256: photo for photo in draft.car.photos}
    done: dict[str, list[int]] = {}
    for sha256, number in draft.numbers.items():
        done.setdefault(_edit(known[sha256]), []).append(number)
    for key in ("edit.turned", "edit.as-taken", "edit.still"):
        if key in done:
            runs = [say("edit.run", first=a, last=b) if a != b else str(a) for a, b in _runs(sorted(done[key]))]
            words = say("photo" if len(done[key]) == 1 else "photos", numbers=listed(runs))
            yield Line(say(key), capital(words))
    kept = len(withheld(draft.car))
    told = [say("edit.hidden.none"), *([count("edit.withheld", kept)] if kept else [])]
    yield Line(say("edit.hidden"), capital(_joined(told)))


def _edit(photo: Photo) -> str:
    if photo.media is MediaKind.CLIP:
        return "edit.still"
    return "edit.as-taken" if (photo.camera.orientation or _UPRIGHT) == _UPRIGHT else "edit.turned"


def _runs(numbers: list[int]) -> Iterator[tuple[int, int]]:
    """(first, last) of the runs of numbers that follow each other."""
    first = last = numbers[0]
    for number in numbers[1:]:
        if number != last + 1:
            yield first, last
            first = number
        last = number
    yield first, last
