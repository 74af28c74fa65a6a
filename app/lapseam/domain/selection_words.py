"""What is said of a selection: why a picture is in, what could not be seen, what does not fit; and its order."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

from . import wording
from .coverage import State
from .finding import Finding
from .selection_pool import Pool, is_structural
from .selection_rules import Why, Wishes
from .sequence import Picture

_UNDER: Final = "gg-under"
_FIRST_SEEN: Final = 12
"""Many readers stop before the underside: two pictures of it stand among the first twelve."""


def put_in_order(chosen: Sequence[Picture], wishes: Wishes) -> list[Picture]:
    """What a person put first, then gallery order; two underside pictures stand among the first twelve."""
    asked = {sha256: place for place, sha256 in enumerate(wishes.order)}
    ordered = sorted(chosen, key=lambda one: (asked.get(one.sha256, len(asked)), one.number))
    early = [one for one in ordered[:_FIRST_SEEN] if one.group == _UNDER]
    late = [one for one in ordered[_FIRST_SEEN:] if one.group == _UNDER and one.sha256 not in asked]
    overall = [one for one in late if one.shot.startswith("under-overall")]
    moving = [*overall, *(one for one in late if one not in overall)][: max(0, 2 - len(early))]
    rest = [one for one in ordered if one not in moving]
    at = _FIRST_SEEN - len(moving)
    return [*rest[:at], *moving, *rest[at:]]


def reason_of(pool: Pool, picture: Picture, why: Why) -> str:
    """Why it is in, with the shot's title and the findings it shows."""
    covered = pool.covered.get(picture.shot)
    title = covered.shot.title if covered else f"extra of {_zone(pool, picture.zone)}"
    frames = sum(one.shot == picture.shot for one in pool.pictures) if picture.shot else 1
    worse = f"; of {frames} frames the one with the worst finding" if frames > 1 and picture.findings else ""
    shown = f"; shows {_numbers(picture.findings)}" if picture.findings else ""
    return f"{title}: {why.value}{shown}{worse}"


def unseen_of(pool: Pool, wanted: Sequence[str]) -> tuple[str, ...]:
    """One sentence for each listed shot of this car's plan that no picture here shows, with the reason."""
    return tuple(_unseen(pool, shot) for shot in wanted if shot in pool.covered and shot not in pool.by_shot)


def _unseen(pool: Pool, shot: str) -> str:
    covered = pool.covered[shot]
    closing = pool.car.closings.get(shot)
    if covered.state is State.NOT_REACHABLE:
        why = (closing.reason.replace("-", " ") if closing else "") or "no reason given"
        return f"{covered.shot.title}: could not be reached ({why})."
    if covered.state is State.NOT_FITTED:
        return f"{covered.shot.title}: not fitted."
    if covered.photos:
        return f"{covered.shot.title}: photographed, but no photo of it may be shown here."
    return f"{covered.shot.title}: no photo."


def said_after(pool: Pool, ordered: Sequence[Picture], wanted: Sequence[str]) -> Mapping[str, tuple[str, ...]]:
    """What captions say besides: what of their group could not be reached, and on the last one what does not fit."""
    if not ordered:
        return {}
    after: dict[str, tuple[str, ...]] = {}
    homes = pool.car.plan.vocabulary.zone_gallery
    for shot in wanted:
        covered = pool.covered.get(shot)
        if covered is None or covered.state is not State.NOT_REACHABLE or shot in pool.by_shot:
            continue
        home = homes.get(covered.shot.zone)
        beside = [p for p in ordered if home is not None and p.group in (home.group, home.close)]
        where = (beside or ordered)[-1].sha256
        after[where] = (*after.get(where, ()), f"Not seen: {_unseen(pool, shot)}")
    out = not_shown(pool, ordered)
    if out:
        last = ordered[-1].sha256
        count = f"{len(out)} more finding{'s are' if len(out) > 1 else ' is'} on the full page"
        words = f"{count}: {_numbers(tuple(flaw.number for flaw in out))}."
        after[last] = (*after.get(last, ()), words)
    return after


def not_shown(pool: Pool, ordered: Sequence[Picture]) -> tuple[Finding, ...]:
    """The open findings that none of the pictures shows, worst first."""
    shown = {number for one in ordered for number in one.findings}
    return tuple(flaw for flaw in pool.flaws if flaw.number not in shown)


def overflow_of(pool: Pool, ordered: Sequence[Picture]) -> tuple[str, ...]:
    """What the ad text says of findings that are not pictured: structural ones one by one, then the others."""
    out = not_shown(pool, ordered)
    words = [_named(pool, flaw) for flaw in out if is_structural(flaw)]
    rest = tuple(flaw.number for flaw in out if not is_structural(flaw))
    if rest:
        words.append(f"Not pictured here, but on the full page: {_numbers(rest)}.")
    return tuple(words)


def _named(pool: Pool, flaw: Finding) -> str:
    words = pool.car.plan.vocabulary
    kind = words.findings.get(flaw.kind)
    name = kind.name.lower() if kind else flaw.kind.replace("-", " ")
    at = wording.place_words(flaw, words.components().get(flaw.component))
    extent = wording.extent_words(flaw)
    about = f", {extent}" if extent else ""
    return f"Finding {flaw.number}, {flaw.severity.value}, not pictured here: {name} on {at}{about}."


def conflicts_of(
    pool: Pool, pictures: Sequence[Picture], chosen: Mapping[str, Why], wishes: Wishes, limit: int
) -> tuple[str, ...]:
    """Where a wish could not be kept, and why."""
    known = {one.sha256: one for one in pictures}
    words = []
    for sha256 in dict.fromkeys((*wishes.pins, *wishes.bans, *wishes.order)):
        if sha256 not in known:
            words.append(f"Photo {sha256[:8]} is not in the published gallery, so no outlet gets it.")
    for ban in dict.fromkeys(wishes.bans):
        if ban in chosen:
            words.append(
                f"Photo {known[ban].number} was to be left out, but it is the only one that shows something no limit "
                f"may drop ({reason_of(pool, known[ban], chosen[ban])}). It stays."
            )
        elif ban in wishes.pins:
            words.append(f"{_photo(known, ban)} was both pinned and left out; it is left out.")
    for pin in dict.fromkeys(wishes.pins):
        if pin in known and pin not in chosen and pin not in wishes.bans:
            words.append(
                f"{_photo(known, pin)} was pinned, but all places ({limit}) are taken by what may not be dropped, "
                "or it is no still picture. It stays out."
            )
    return tuple(words)


def _photo(known: Mapping[str, Picture], sha256: str) -> str:
    return f"Photo {known[sha256].number}" if sha256 in known else f"Photo {sha256[:8]}"


def _numbers(numbers: Sequence[int]) -> str:
    return f"finding{'s' if len(numbers) > 1 else ''} {', '.join(map(str, numbers))}"


def _zone(pool: Pool, zone: str) -> str:
    named = pool.car.plan.vocabulary.zones.get(zone)
    return named.name.lower() if named else zone
