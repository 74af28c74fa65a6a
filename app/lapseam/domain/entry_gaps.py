"""Entries of what nobody saw, tested, measured or answered, and of what the car does not have by its own facts."""

from __future__ import annotations

from collections.abc import Iterator

from .ageing import Lasting
from .applicability import Applicability
from .car import Car
from .condition import Condition
from .coverage import Coverage, Outcome, State
from .coverage_gaps import place_name
from .coverage_parts import NOBODY_SAID
from .entry import Entry, EntryKind, Shown
from .entry_record import fact_name
from .phrases import say
from .statement import Basis

_RANKS = {EntryKind.NOT_TESTED: 3, EntryKind.NOT_MEASURED: 2, EntryKind.NOT_ANSWERED: 1}
"""What can be tested or measured goes before parts to look at."""
_UNSEEN, _UNTESTED = "list:not-seen", "list:not-tested"


def gap_entries(car: Car, coverage: Coverage, shown: Shown) -> Iterator[Entry]:
    """Every gap, part by part, so that a question about one part finds its own."""
    applies = Applicability(car)
    yield from _parts(car, coverage, shown, applies)
    yield from _places(coverage, shown)
    yield from _checks(car, shown, applies)
    yield from _measures(car)
    for fact in car.plan.vocabulary.facts:
        if fact not in car.facts:
            name = fact_name(fact)
            words = f"{name}: {say('why.fact')}."
            yield _gap(f"open-fact:{fact}", EntryKind.NOT_ANSWERED, name, words, (fact,))


def _gap(key: str, kind: EntryKind, subject: str, words: str, about: tuple[str, ...], more: str = "") -> Entry:
    return Entry(key, kind, subject, words, about=about, rank=_RANKS.get(kind, 0), answers=False, more=more)


def _parts(car: Car, coverage: Coverage, shown: Shown, applies: Applicability) -> Iterator[Entry]:
    here = set()
    for covered in coverage.components:
        part = covered.component
        here.add(part.id)
        if covered.outcome is not Outcome.NOT_SEEN:
            continue
        zone = shown.zone(part.id)
        if covered.state is State.NOT_FITTED:
            yield _absent(f"absent:{part.id}", part.name, covered.reason, (part.id,), zone)
            continue
        nobody = say(NOBODY_SAID)
        words = f"{part.name}: {nobody[:1].lower()}{nobody[1:]} {covered.reason.removesuffix(nobody)}".strip()
        yield _gap(f"unseen:{part.id}", EntryKind.NOT_SEEN, part.name, words, (part.id, _UNSEEN), zone)
    zones = car.plan.vocabulary.zones
    for part in car.plan.vocabulary.components().values():
        if part.id not in here and applies.component(part).holds is False:
            why = _why(car, zones[part.zone].when, part.when)
            yield _absent(f"absent:{part.id}", part.name, why, (part.id,), shown.zone(part.id))


def _absent(key: str, name: str, why: str, about: tuple[str, ...], more: str) -> Entry:
    return Entry(
        key=key,
        kind=EntryKind.ABSENT,
        subject=name,
        words=f"{name}: not on this car{f'; {why}' if why else ''}".rstrip(".") + ".",
        basis=say("identity.noted"),
        about=about,
        lasting=Lasting.PAPER,
        how=Basis.TOLD,
        more=more,
    )


def _why(car: Car, *conditions: Condition | None) -> str:
    """The answered facts that rule a thing out: 'body: hardtop'."""
    names = dict.fromkeys(name for one in conditions if one is not None for name in one.names())
    values = car.fact_values()
    return ", ".join(f"{fact_name(name).lower()}: {_value(values[name])}" for name in names if name in values)


def _value(value: object) -> str:
    if isinstance(value, bool):
        return say(f"fact.{str(value).lower()}")
    return ", ".join(map(str, value)) or "none" if isinstance(value, tuple) else str(value)


def _places(coverage: Coverage, shown: Shown) -> Iterator[Entry]:
    for covered in coverage.places:
        if covered.state in (State.COVERED, State.NOT_FITTED):
            continue
        place = covered.place
        name = place_name(covered)
        words = f"{name}: rust-prone place without full proof. {covered.reason}"
        more = " ".join(("rust", *map(shown.part, place.components)))
        about = (place.id, *place.components, _UNSEEN)
        yield _gap(f"place:{place.id}", EntryKind.NOT_SEEN, name, words, about, more)


def _checks(car: Car, shown: Shown, applies: Applicability) -> Iterator[Entry]:
    zones = car.plan.vocabulary.zones
    for asked in car.plan.vocabulary.checks.values():
        if asked.id in car.checks:
            continue
        more = " ".join(map(shown.part, asked.components))
        about = (asked.id, *asked.components)
        if applies.check(asked).holds is False:
            zone = zones.get(asked.zone)
            why = _why(car, zone.when if zone else None, asked.when)
            yield _absent(f"absent:{asked.id}", asked.item, why, about, more)
        else:
            words = say("not-tested", subject=asked.item, reason=say("why.check"))
            about = (*about, _UNTESTED, "list:checks")
            yield _gap(f"untested:{asked.id}", EntryKind.NOT_TESTED, asked.item, words, about, more)


def _measures(car: Car) -> Iterator[Entry]:
    taken = {one.measure for one in car.measurements}
    for asked in car.plan.vocabulary.measurements.values():
        if asked.id not in taken:
            words = f"{asked.name}: not measured."
            yield _gap(f"unmeasured:{asked.id}", EntryKind.NOT_MEASURED, asked.name, words, (asked.id,))
