"""Sign-off rules about age: photos of the outside and underside, and everything that was run or measured.

Days and kilometres are the house's settings. What the record cannot know (whether the car stood outdoors over a winter)
is not judged.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from types import MappingProxyType
from typing import Final

from .ageing import driven_since, odometer_readings
from .coverage_gaps import UNDERSIDE
from .signoff_case import Case, Evaluator
from .statement import CheckVerdict

_OUTSIDE_GROUP: Final = "outside"
_RUN_ZONE: Final = "road-test"
_RUN_MEASURES: Final = frozenset({"m-battery-rest", "m-battery-charge", "m-drip-count"})


def _stale_photo(case: Case) -> tuple[str, ...]:
    """The newest frame of each shot counts; frames whose camera gave no time cannot be judged and say so."""
    newest, undated = _outside_days(case)
    reasons = []
    stale = {title: day for title, day in newest.items() if (case.today - day).days > case.house.stale_photo_days}
    if stale:
        oldest = min(stale.values())
        reasons.append(
            f"{len(stale)} views of the outside or underside are older than {case.house.stale_photo_days} days; "
            f"the oldest is of {oldest.isoformat()}."
        )
    if undated:
        reasons.append(f"{undated} views of the outside or underside carry no time, so their age is not known.")
    if newest:
        driven = driven_since(odometer_readings(case.car), min(newest.values()))
        if driven > case.house.stale_km:
            reasons.append(f"The odometer has moved {driven:.0f} km since the first of these photos.")
    return tuple(reasons)


def _outside_days(case: Case) -> tuple[dict[str, date], int]:
    zones = case.car.plan.vocabulary.zones
    outside = {zone.id for zone in zones.values() if zone.group == _OUTSIDE_GROUP} | UNDERSIDE
    photos = {photo.sha256: photo for photo in case.car.photos}
    newest: dict[str, date] = {}
    undated = 0
    for covered in case.coverage.shots:
        if covered.shot.zone not in outside or not covered.photos:
            continue
        times = [photos[sha256].camera.taken_at for sha256 in covered.photos]
        known = [time.date() for time in times if time is not None]
        if known:
            newest[covered.shot.title] = max(known)
        else:
            undated += 1
    return newest, undated


def _stale_run(case: Case) -> tuple[str, ...]:
    words = case.car.plan.vocabulary
    days = case.house.stale_check_days
    tried = (CheckVerdict.WORKS, CheckVerdict.DOES_NOT_WORK, CheckVerdict.INTERMITTENT)
    dated = [
        (words.checks[one.check].item if one.check in words.checks else one.item, one.on or one.at.date())
        for one in case.car.checks.values()
        if one.verdict in tried
    ]
    dated += [
        (words.measurements[one.measure].name if one.measure in words.measurements else one.measure, day)
        for one in case.car.measurements
        if one.measure in _RUN_MEASURES
        for day in (one.on or one.at.date(),)
    ]
    photos = {photo.sha256: photo for photo in case.car.photos}
    for covered in case.coverage.shots:
        times = [photos[sha256].camera.taken_at for sha256 in covered.photos]
        known = [time.date() for time in times if time is not None]
        if covered.shot.zone == _RUN_ZONE and known:
            dated.append((covered.shot.title, max(known)))
    stale = ((what, day) for what, day in dated if (case.today - day).days > days)
    return tuple(f"{what}: of {day.isoformat()}, older than {days} days." for what, day in stale)


RULES: Final[Mapping[str, Evaluator]] = MappingProxyType({"so-stale-photo": _stale_photo, "so-stale-run": _stale_run})
