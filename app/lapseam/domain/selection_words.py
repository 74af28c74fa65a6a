"""What is said of a selection: why a picture is in, what could not be seen, what does not fit; and its order."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

from . import wording
from .coverage import State
from .finding import Finding
from .phrases import count, said, say, small
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
    title = covered.shot.title if covered else say("chosen.extra", zone=_zone(pool, picture.zone))
    frames = sum(one.shot == picture.shot for one in pool.pictures) if picture.shot else 1
    words = say("chosen", title=title, why=say(f"chosen.{why.name.lower().replace('_', '-')}"))
    if picture.findings:
        words = say("chosen.shows", words=words, findings=_numbers(picture.findings))
    return count("chosen.worst", frames, words=words) if frames > 1 and picture.findings else words


def unseen_of(pool: Pool, wanted: Sequence[str]) -> tuple[str, ...]:
    """One sentence for each listed shot of this car's plan that no picture here shows, with the reason."""
    return tuple(_unseen(pool, shot) for shot in wanted if shot in pool.covered and shot not in pool.by_shot)


def _unseen(pool: Pool, shot: str) -> str:
    covered = pool.covered[shot]
    closing = pool.car.closings.get(shot)
    if covered.state is State.NOT_REACHABLE:
        reason = closing.reason if closing else ""
        why = said(f"why.{reason}") or reason.replace("-", " ") or say("basis.no-reason")
        return say("outlet.not-reached", title=covered.shot.title, why=why)
    fitted = covered.state is not State.NOT_FITTED
    key = "outlet.not-fitted" if not fitted else "outlet.not-shown" if covered.photos else "outlet.no-photo"
    return say(key, title=covered.shot.title)


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
        after[where] = (*after.get(where, ()), say("outlet.not-seen", sentence=_unseen(pool, shot)))
    out = not_shown(pool, ordered)
    if out:
        last = ordered[-1].sha256
        words = count("outlet.more", len(out), findings=_numbers(tuple(flaw.number for flaw in out)))
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
        words.append(say("outlet.not-pictured", findings=_numbers(rest)))
    return tuple(words)


def _named(pool: Pool, flaw: Finding) -> str:
    words = pool.car.plan.vocabulary
    kind = words.findings.get(flaw.kind)
    name = small(kind.name if kind else flaw.kind.replace("-", " "))
    extent = wording.extent_words(flaw)
    look = say("caption.look", name=name, place=wording.place_words(flaw, words.components().get(flaw.component)))
    look = say("more", first=look, next=extent) if extent else look
    severity = say(f"severity.word.{flaw.severity.value}")
    return say("outlet.finding", number=flaw.number, severity=severity, look=look)


def conflicts_of(
    pool: Pool, pictures: Sequence[Picture], chosen: Mapping[str, Why], wishes: Wishes, limit: int
) -> tuple[str, ...]:
    """Where a wish could not be kept, and why."""
    known = {one.sha256: one for one in pictures}
    words = []
    for sha256 in dict.fromkeys((*wishes.pins, *wishes.bans, *wishes.order)):
        if sha256 not in known:
            words.append(say("wish.unpublished", photo=sha256[:8]))
    for ban in dict.fromkeys(wishes.bans):
        if ban in chosen:
            words.append(say("wish.stays", photo=_photo(known, ban), why=reason_of(pool, known[ban], chosen[ban])))
        elif ban in wishes.pins:
            words.append(say("wish.both", photo=_photo(known, ban)))
    for pin in dict.fromkeys(wishes.pins):
        if pin in known and pin not in chosen and pin not in wishes.bans:
            words.append(count("wish.no-place", limit, photo=_photo(known, pin)))
    return tuple(words)


def _photo(known: Mapping[str, Picture], sha256: str) -> str:
    return say("wish.photo", photo=known[sha256].number if sha256 in known else sha256[:8])


def _numbers(numbers: Sequence[int]) -> str:
    return count("chosen.findings", len(numbers), numbers=", ".join(map(str, numbers)))


def _zone(pool: Pool, zone: str) -> str:
    named = pool.car.plan.vocabulary.zones.get(zone)
    return small(named.name) if named else zone
