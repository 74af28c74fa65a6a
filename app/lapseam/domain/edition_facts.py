"""The head of the disclosure page: headlines, identity, summary, withheld photos, who looked."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from datetime import date
from functools import reduce

from . import units, wording
from .coverage import Outcome, State
from .decision import CarDetails, Sight
from .edition_draft import Draft
from .finding import Severity
from .language import spoken
from .page import GapShown, Line
from .phrases import capital, count, day, listed, say, unit_name
from .sequence import worst_first
from .showing import withheld
from .statement import CheckVerdict, SerialPlace, SerialReading

_UNDER = "under"


def headlines(draft: Draft, not_seen: tuple[GapShown, ...]) -> tuple[str, ...]:
    """What must stand at the top: unsafe and structural findings, hidden metal, an underside not wholly seen."""
    lines = []
    for severity, key in ((Severity.UNSAFE, "headline.unsafe"), (Severity.STRUCTURAL, "headline.structural")):
        numbers = [one.number for one in worst_first(draft.car) if one.severity is severity]
        if numbers:
            lines.append(say(key, numbers=listed(sorted(numbers))))
    coated = {tick.shot for tick in draft.car.ticks if tick.sight is Sight.COATED}
    shots = [shot for shot in draft.car.plan.shots if shot.id in coated]
    known = draft.words.components()
    hidden = dict.fromkeys(known[c].name for shot in shots for c in shot.components if c in known and known[c].struct)
    if hidden:
        lines.append(say("headline.coated", parts=listed(hidden)))
    below = {zone.name for zone in draft.words.zones.values() if zone.group == _UNDER}
    open_below = sum(gap.zone_name in below and gap.kind in ("shot", "place") for gap in not_seen)
    if open_below:
        lines.append(count("headline.under", open_below))
    return tuple(lines)


def identity(draft: Draft) -> Iterator[Line]:
    """What car it is: named parts, serial as read, comparison of car and paper, odometer with its status."""
    details = draft.car.details
    yield Line(say("identity.stock"), draft.car.stock)
    if details is not None:
        named = {"car": details.title, "trim": details.trim, "colour": details.colour, "interior": details.interior}
        for key, words in named.items():
            if words:
                yield Line(say(f"identity.{key}"), capital(words), say("identity.noted"))
    yield from _serials(draft)
    yield Line(say("identity.odometer"), odometer_words(details), say("identity.noted") if details else "")


def serial_words(draft: Draft, text: str) -> str:
    """The serial as the house shows it: whole, or its last characters."""
    return say("identity.masked", tail=masked(text)) if draft.house.mask_serial else text


def masked(text: str) -> str:
    """All but the last four characters hidden, as many signs as there were."""
    return "•" * max(len(text) - 4, 0) + text[-4:] if len(text) > 4 else "•" * len(text)


def _serials(draft: Draft) -> Iterator[Line]:
    readings = draft.car.serials
    for place in SerialPlace:
        reading = readings.get(place.value)
        if reading is not None:
            label = f"{say('identity.serial')}, {say(f'on-{place.value}')}"
            yield Line(label, serial_words(draft, reading.text), _reading_basis(draft, reading))
    if not readings and draft.car.details is not None and draft.car.details.serial:
        serial = serial_words(draft, draft.car.details.serial)
        yield Line(say("identity.serial"), serial, say("identity.noted"))
    car, paper = readings.get(SerialPlace.CAR.value), readings.get(SerialPlace.PAPER.value)
    key = "not" if car is None or paper is None else "same" if car.text == paper.text else "differs"
    yield Line(say("identity.comparison"), say(f"identity.compared.{key}"))


def _reading_basis(draft: Draft, reading: SerialReading) -> str:
    seen = say("basis.seen.day", date=day(reading.at.date()))
    shown = ", ".join(ref.words for ref in draft.refs(reading.photos))
    return f"{seen}, {shown}" if shown else seen


def odometer_words(details: CarDetails | None) -> str:
    """Reading, unit, digits of the counter and the status that was recorded; never a claim about the distance."""
    if details is None or details.odometer_reading is None:
        return capital(say("identity.odometer.none"))
    unit = details.odometer_unit
    reading = spoken().whole(details.odometer_reading)
    parts = [say("identity.odometer.reading", reading=reading, unit=unit_name(unit)).strip()]
    converted = units.convert(float(details.odometer_reading), unit)
    if converted is not None:
        value, other = spoken().whole(round(converted)), units.other_unit(unit)
        marked = say("converted.marked", value=value, unit=unit_name(other))
        parts[0] = wording.both_ways(parts[0], marked, other)
    if details.odometer_digits:
        parts.append(count("identity.odometer.digits", details.odometer_digits))
    parts.append(details.odometer_status or say("identity.odometer.claim"))
    return ", ".join(parts)


def summary(draft: Draft, not_tested: tuple[GapShown, ...]) -> Iterator[Line]:
    """Counts, with what is open beside what is done."""
    found = Counter(one.severity for one in worst_first(draft.car))
    by_severity = [
        count(f"severity.short.{one.value}", found[one])
        for one in sorted(Severity, key=lambda one: -one.rank)
        if found[one]
    ]
    yield Line(say("summary.findings"), capital(listed(by_severity) or say("summary.none")))
    outcomes = Counter(one.outcome for one in draft.coverage.components if draft.is_public(one.component.zone))
    looked = {"looked": Outcome.NOTHING_FOUND, "found": Outcome.FINDINGS, "unseen": Outcome.NOT_SEEN}
    yield Line(say("summary.parts"), _counts("summary.parts", {key: outcomes[one] for key, one in looked.items()}))
    states = Counter(one.state for one in draft.coverage.shots)
    covered = count("summary.shots.covered", len(draft.coverage.shots), covered=states[State.COVERED])
    others = _counts("summary.shots", {one.value: states[one] for one in (State.PARTLY, State.TAKEN, State.MISSED)})
    yield Line(say("summary.shots"), say("more", first=covered, next=others))
    proven = sum(one.state is State.COVERED for one in draft.coverage.places)
    yield Line(say("summary.rust"), count("summary.rust.words", len(draft.coverage.places), covered=proven))
    verdicts = Counter(one.verdict for one in draft.car.checks.values())
    faulty = verdicts[CheckVerdict.DOES_NOT_WORK] + verdicts[CheckVerdict.INTERMITTENT]
    works, absent = verdicts[CheckVerdict.WORKS], verdicts[CheckVerdict.NOT_FITTED]
    tests = {"works": works, "faulty": faulty, "absent": absent, "untested": len(not_tested)}
    yield Line(say("summary.tests"), _counts("summary.tests", tests))
    shown, taken = count("summary.photos.shown", len(draft.numbers)), say("looked.taken", days=days_words(draft))
    yield Line(say("summary.photos"), say("more", first=shown, next=taken))


def _counts(key: str, numbers: Mapping[str, int]) -> str:
    """Counts side by side, each in the form that goes with its own number."""
    said = [count(f"{key}.{one}", n) for one, n in numbers.items()]
    return reduce(lambda first, following: say("more", first=first, next=following), said)


def days_words(draft: Draft) -> str:
    """The days on which the published photos were taken, by the cameras' clocks."""
    taken: list[date] = []
    for sha256 in draft.numbers:
        photo = draft.car.photo(sha256)
        if photo is not None and photo.camera.taken_at is not None:
            taken.append(photo.camera.taken_at.date())
    if not taken:
        return say("summary.days.unknown")
    first, last = min(taken), max(taken)
    return day(first) if first == last else say("summary.days", first=day(first), last=day(last))


def withheld_lines(draft: Draft) -> Iterator[Line]:
    """How many photos are withheld and why, by zone; never which words were written about them."""
    reasons: Counter[tuple[str, str]] = Counter()
    for one in withheld(draft.car):
        sights = listed(say(f"withheld.sight.{sight.value}") for sight in one.sights)
        why = say("withheld.held") if one.held else say("withheld.sight", sights=sights)
        reasons[(draft.zone_name(one.zone), why)] += 1
    for (zone, why), n in reasons.items():
        yield Line(zone, say("withheld", photos=count("count.photos", n), why=why))


def looked_by(draft: Draft) -> Iterator[Line]:
    """Who did what, by role, with the days."""
    car, roles = draft.car, draft.roles
    done = {
        "findings": [*((one.by, "") for one in car.findings), *((one.by, "") for one in car.looked.values())],
        "checks": [(one.by, one.role) for one in car.checks.values()],
        "measurements": [(one.by, one.role) for one in car.measurements],
        "statements": [(one.by, "") for one in car.statements],
    }
    if draft.numbers:
        yield Line(say("looked.photographs"), capital(say("looked.taken", days=days_words(draft))))
    for key, rows in done.items():
        if rows:
            by = listed(dict.fromkeys(roles.the(name, told) for name, told in rows))
            yield Line(say(f"looked.{key}"), capital(say("looked.by", roles=by)))
    if draft.signed is not None:
        words = say("looked.by", roles=roles.the(draft.signed.by, draft.signed.role))
        yield Line(say("looked.signed"), capital(words))
