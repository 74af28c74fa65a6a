"""Entries of what people found, tested, measured, stated, read and looked at."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Final

from . import wording
from .ageing import Lasting, day_of, lasting_of
from .car import Car
from .edition_facts import odometer_words
from .entry import Entry, EntryKind, Shown
from .finding import FindingState
from .phrases import day as day_words
from .phrases import say
from .statement import Basis, CheckResult, CheckVerdict, Evidence, SerialPlace


def record_entries(car: Car, shown: Shown) -> Iterator[Entry]:
    """What is on file, kind by kind."""
    for kind in (_findings, _checks, _measurements, _statements, _serials):
        yield from kind(car, shown)
    yield from _details(car)
    yield from _facts(car)
    yield from _looked(car, shown)


def known_by(evidence: Evidence) -> str:
    """How something is known, in words without its photos, which an answer names by themselves."""
    if evidence.basis is Basis.SEEN:
        return say("basis.seen.day", date=day_words(evidence.on)) if evidence.on else say("basis.seen")
    told = wording.basis_words(replace(evidence, photos=()), {})
    on = evidence.on if evidence.basis in (Basis.TOLD, Basis.DOCUMENTED) else None
    return f"{told}, on file since {day_words(on)}" if on else told


def _bare(sentence: str, basis: str) -> str:
    """The sentence without the basis at its end."""
    body = sentence.removesuffix(".").removesuffix(basis.rstrip(" .,;")).rstrip(" ;,")
    return f"{body}." if body else sentence


def _findings(car: Car, shown: Shown) -> Iterator[Entry]:
    words = car.plan.vocabulary
    for found in car.findings:
        kind = words.findings.get(found.kind)
        name = kind.name if kind else found.kind.replace("-", " ")
        standing = found.state is FindingState.OPEN
        sentence = _bare(wording.say(found, words, {}), wording.finding_basis(found, {}))
        if not standing:
            sentence += " " + say(f"finding.{found.state.value}", reason=wording.state_reason(found, {}))
        on = day_of(found)
        group = f"group:{kind.group}" if kind else "group:other"
        yield Entry(
            key=f"finding:{found.number}",
            kind=EntryKind.FINDING,
            subject=f"{shown.part(found.component)}: {name}",
            words=sentence,
            basis=known_by(replace(found.evidence, on=on)),
            day=on,
            photos=shown.named((*found.photos, *found.evidence.photos)),
            about=(found.component, "list:findings", *((group,) if standing else ())),
            lasting=lasting_of(found),
            driven_km=shown.driven(on),
            rank=found.severity.rank + 1 if standing else 0,
            how=found.evidence.basis,
            by=found.by,
            more=" ".join((shown.zone(found.component), found.kind, found.place, found.detail, found.note, group[6:])),
        )


_VERDICT_RANK: Final = {
    CheckVerdict.DOES_NOT_WORK: 3,
    CheckVerdict.INTERMITTENT: 2,
    CheckVerdict.NOT_FITTED: 1,
    CheckVerdict.NOT_TESTED: 3,
}


def _checks(car: Car, shown: Shown) -> Iterator[Entry]:
    words = car.plan.vocabulary
    for result in car.checks.values():
        asked = words.checks.get(result.check)
        item = wording.check_item(result, asked)
        untested = result.verdict is CheckVerdict.NOT_TESTED
        sentence = wording.check_sentence(result, asked, words, {})
        on = result.on or result.at.date()
        other = ("list:checks",) if result.verdict is not CheckVerdict.WORKS else ()
        open_list = ("list:not-tested",) if untested else ()
        yield Entry(
            key=f"check:{result.check}",
            kind=EntryKind.NOT_TESTED if untested else EntryKind.CHECK,
            subject=item,
            words=sentence if untested else _bare(sentence, wording.check_basis(replace(result, photos=()), {})),
            basis="" if untested else wording.check_basis(replace(result, photos=()), {}),
            day=on,
            photos=shown.named(result.photos),
            about=(result.check, *(asked.components if asked else ()), *other, *open_list),
            lasting=lasting_of(result),
            driven_km=shown.driven(on),
            rank=_VERDICT_RANK.get(result.verdict, 0),
            answers=not untested,
            how=_check_how(result),
            by=result.by,
            more=" ".join((result.note, result.conditions, *(map(shown.part, asked.components) if asked else ()))),
        )


def _check_how(result: CheckResult) -> Basis | None:
    if result.verdict is CheckVerdict.NOT_TESTED:
        return None
    return Basis.SEEN if result.verdict is CheckVerdict.NOT_FITTED else Basis.TESTED


def _measurements(car: Car, shown: Shown) -> Iterator[Entry]:
    words = car.plan.vocabulary
    for taken in car.measurements:
        asked = words.measurements.get(taken.measure)
        bare = replace(taken, photos=())
        basis = wording.measurement_basis(bare, asked, {})
        part = words.components().get(taken.component)
        on = day_of(taken)
        yield Entry(
            key=f"measurement:{taken.number}",
            kind=EntryKind.MEASUREMENT,
            subject=f"{asked.name if asked else taken.measure}: {shown.part(taken.component)}",
            words=_bare(wording.measurement_sentence(bare, asked, part, {}), basis),
            basis=basis,
            day=on,
            photos=shown.named(taken.photos),
            about=(taken.measure, taken.component),
            lasting=lasting_of(taken),
            driven_km=shown.driven(on),
            how=Basis.MEASURED,
            by=taken.by,
            more=" ".join((shown.zone(taken.component), taken.note, *(one.place for one in taken.readings))),
        )


def _statements(car: Car, shown: Shown) -> Iterator[Entry]:
    for said in car.statements:
        bare = replace(said, evidence=replace(said.evidence, photos=()))
        sentence = _bare(wording.statement_sentence(bare, {}), wording.basis_words(bare.evidence, {}))
        on = day_of(said)
        inspection = ("list:third-party-inspections",) if "inspection" in said.subject.casefold() else ()
        yield Entry(
            key=f"statement:{said.number}",
            kind=EntryKind.STATEMENT,
            subject=shown.part(said.subject),
            words=sentence,
            basis=known_by(said.evidence),
            day=on,
            photos=shown.named(said.evidence.photos),
            about=(said.subject, *inspection),
            lasting=lasting_of(said),
            driven_km=shown.driven(on),
            answers=said.evidence.basis is not Basis.NOT_CHECKED,
            how=said.evidence.basis,
            by=said.by,
            more=" ".join((said.value, said.evidence.document, said.evidence.who_said)),
        )


def _serials(car: Car, shown: Shown) -> Iterator[Entry]:
    for read in car.serials.values():
        on = read.at.date()
        yield Entry(
            key=f"serial:{read.place.value}",
            kind=EntryKind.SERIAL,
            subject=f"Serial number {say(f'on-{read.place.value}')}",
            words=f"Serial {say(f'on-{read.place.value}')}: {read.text}.",
            basis=say("basis.seen.day", date=day_words(on)),
            day=on,
            photos=shown.named(read.photos),
            about=("vin-plate",) if read.place is SerialPlace.CAR else ("vin-plate", "title-registration"),
            lasting=Lasting.PAPER,
            how=Basis.SEEN,
            by=read.by,
            more="vin identity",
        )


def _details(car: Car) -> Iterator[Entry]:
    """What the house calls the car; noted, never proved."""
    details = car.details
    if details is None:
        return
    named = {"Trim": details.trim, "Colour": details.colour, "Interior": details.interior}
    said = {
        "car": ("Car", " ".join((details.title, *(f"{name}: {words}." for name, words in named.items() if words))), ()),
        "serial": ("Serial number", f"Serial: {details.serial}." if details.serial else "", ("vin-plate",)),
        "odometer": (
            "Odometer",
            f"Odometer: {odometer_words(details)}." if details.odometer_reading is not None else "",
            ("odometer", "m-odometer"),
        ),
    }
    for name, (subject, words, about) in said.items():
        if words:
            yield Entry(
                key=f"details:{name}",
                kind=EntryKind.DETAILS,
                subject=subject,
                words=words,
                basis=say("identity.noted"),
                day=details.at.date(),
                about=about,
                lasting=Lasting.PAPER,
                how=Basis.TOLD,
                by=details.by,
            )


def _facts(car: Car) -> Iterator[Entry]:
    for answer in car.facts.values():
        value = answer.value
        told = say(f"fact.{str(value).lower()}") if isinstance(value, bool) else _listed(value)
        name = fact_name(answer.fact)
        yield Entry(
            key=f"fact:{answer.fact}",
            kind=EntryKind.FACT,
            subject=name,
            words=f"{name}: {told}.",
            basis=say("identity.noted"),
            day=answer.at.date(),
            about=(answer.fact,),
            lasting=Lasting.PAPER,
            how=Basis.TOLD,
            by=answer.by,
        )


def _listed(value: object) -> str:
    return ", ".join(map(str, value)) or "none" if isinstance(value, tuple) else str(value)


def fact_name(fact: str) -> str:
    """A fact's id as words."""
    return fact.replace("-", " ").replace("_", " ").capitalize()


def _looked(car: Car, shown: Shown) -> Iterator[Entry]:
    for look in car.looked.values():
        on = look.at.date()
        yield Entry(
            key=f"looked:{look.component}",
            kind=EntryKind.LOOKED,
            subject=shown.part(look.component),
            words=f"{shown.part(look.component)}: looked at, nothing to report.",
            basis=say("basis.seen.day", date=day_words(on)),
            day=on,
            photos=shown.named(look.photos),
            about=(look.component,),
            lasting=Lasting.LOOK,
            driven_km=shown.driven(on),
            how=Basis.SEEN,
            by=look.by,
            more=shown.zone(look.component),
        )
