"""The disclosure page's model, in the order of what such a page must contain."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from . import wording
from .edition_draft import Draft, finding_shown, good_findings
from .edition_facts import headlines, identity, looked_by, summary, withheld_lines
from .edition_gaps import let_stand
from .edition_zones import edit_lines, zone_rows
from .finding import Finding, FindingState, PartOrigin, PartWork, Severity
from .language import spoken
from .page import (
    CheckShown,
    Disclosure,
    FindingShown,
    GapShown,
    Line,
    MeasurementShown,
    PartShown,
    ReadingShown,
    Row,
    Section,
    SeverityGroup,
    StatementShown,
)
from .phrases import capital, day, photos, say, section_words, sentences
from .section_phrases import WHAT_IT_IS, WHAT_IT_IS_NOT
from .sequence import worst_first
from .signing_key import grouped
from .statement import Basis, CheckVerdict, Statement

_DEFINED_KINDS = ("seep", "weep", "leak", "rust-surface", "rust-structural", "coating-old")


def section(key: str, rows: Iterable[Row]) -> Section[Row]:
    """A section with its heading and the sentence below it, for rows or for none."""
    heading, lead, empty = section_words(key)
    every = tuple(rows)
    return Section(key, heading, lead if every else empty or lead, every)


def changed_section(lines: tuple[str, ...]) -> Section[str]:
    """What changed since the edition before; where nothing did it says so."""
    return section("changed", lines or (say("changed.nothing"),))


def disclosure_page(draft: Draft, not_seen: tuple[GapShown, ...], not_tested: tuple[GapShown, ...]) -> Disclosure:
    """Everything the disclosure page prints of a first edition; `changed_section` is for later ones."""
    statements = tuple(statement_shown(draft, one) for one in draft.car.statements)
    return Disclosure(
        title=say("title.disclosure", title=draft.title),
        edition_words=draft.edition_words,
        stock_words=say("stock", stock=draft.car.stock),
        house=draft.house.name,
        language=spoken().tag,
        flag=draft.flag,
        signed_words=signed_words(draft),
        what_it_is=section("what-it-is", sentences("what-it-is", WHAT_IT_IS)),
        what_it_is_not=section("what-it-is-not", sentences("what-it-is-not", WHAT_IT_IS_NOT)),
        headlines=headlines(draft, not_seen),
        identity=section("identity", identity(draft)),
        summary=section("summary", summary(draft, not_tested)),
        zones=section("zones", zone_rows(draft, not_seen, not_tested)),
        findings=section("findings", severity_groups(draft)),
        not_seen=section("not-seen", not_seen),
        not_tested=section("not-tested", not_tested),
        good=section("good", (finding_shown(draft, one) for one in good_findings(draft))),
        nothing_found=section("nothing-found", _nothing_found(draft)),
        checks=section("checks", checks(draft)),
        measurements=section("measurements", measurements(draft)),
        originality=section("originality", parts(draft)),
        statements=section("statements", (one for one in statements if one.basis is not Basis.TOLD)),
        told=section("told", (one for one in statements if one.basis is Basis.TOLD)),
        closed=section("closed", (finding_shown(draft, one) for one in _closed(draft))),
        edits=section("edits", edit_lines(draft)),
        withheld=section("withheld", withheld_lines(draft)),
        waivers=section("waivers", let_stand(draft)),
        looked_by=section("looked-by", looked_by(draft)),
        changed=section("changed", ()),
        definitions=section("definitions", _definitions(draft)),
    )


def signed_words(draft: Draft) -> str:
    """Who signed, by role, or that nobody did; and that one person did both jobs where that is so."""
    if draft.signed is None:
        return say("signed.not")
    role, key = draft.roles.of(draft.signed.by, draft.signed.role), draft.signed.key_sha256
    words = say("signed.key" if key else "signed", role=role, date=day(draft.signed.at.date()), key=grouped(key))
    wrote = {statement.by for statement in draft.car.statements} | {one.by for one in draft.car.findings}
    wrote |= {placement.by for placement in draft.car.placements.values()}
    return f"{words} {say('signed.one-person')}" if draft.signed.by in wrote else words


def severity_groups(draft: Draft) -> Iterator[SeverityGroup]:
    """Open findings, worst severity first."""
    ordered = worst_first(draft.car)
    for severity in sorted(Severity, key=lambda one: -one.rank):
        mine = tuple(finding_shown(draft, one) for one in ordered if one.severity is severity)
        if mine:
            yield SeverityGroup(severity, say(f"severity.{severity.value}"), mine)


def _closed(draft: Draft) -> Iterator[Finding]:
    return (one for one in draft.car.findings if one.state is not FindingState.OPEN)


def _nothing_found(draft: Draft) -> Iterator[Line]:
    """Parts somebody looked at and saw nothing to report on, with the photos, in walking order."""
    with_findings = {one.component for one in draft.car.findings if one.state is not FindingState.CORRECTED}
    for part in draft.words.components().values():
        looked = draft.car.looked.get(part.id)
        if looked is None or part.id in with_findings:
            continue
        shown = photos(draft.numbers[sha256] for sha256 in looked.photos if sha256 in draft.numbers)
        basis = ", ".join(one for one in (say("basis.seen.day", date=day(looked.at.date())), shown) if one)
        yield Line(part.name, capital(say("nothing", basis=basis)), basis)


def checks(draft: Draft) -> Iterator[CheckShown]:
    """Function checks that were made, in the vocabulary's order, the house's own last."""
    order = {check: place for place, check in enumerate(draft.words.checks)}
    for result in sorted(draft.car.checks.values(), key=lambda one: (order.get(one.check, len(order)), one.check)):
        if result.verdict is CheckVerdict.NOT_TESTED:
            continue
        asked = draft.words.checks.get(result.check)
        conditions = [day(result.on) if result.on else "", result.conditions]
        who = draft.roles.the(result.by, result.role)
        yield CheckShown(
            check=result.check,
            item=capital(wording.check_item(result, asked)),
            zone_name=draft.zone_name(asked.zone) if asked else "",
            verdict=result.verdict,
            verdict_words=capital(say(f"verdict.{result.verdict.value}")),
            conditions=capital(", ".join(part for part in (*conditions, say("basis.by", role=who)) if part)),
            note=result.note,
            sentence=wording.check_sentence(result, asked, draft.words, draft.numbers),
            photos=draft.refs(result.photos),
        )


def measurements(draft: Draft) -> Iterator[MeasurementShown]:
    """Measurements in the order they were numbered."""
    for taken in draft.car.measurements:
        asked, part = draft.words.measurements.get(taken.measure), draft.part(taken.component)
        readings = []
        for reading in taken.readings:
            as_read, converted = wording.reading_words(reading, asked)
            readings.append(ReadingShown(reading.place, as_read, converted))
        yield MeasurementShown(
            measure=taken.measure,
            name=asked.name if asked else capital(taken.measure.replace("-", " ")),
            component=part.name if part else taken.component.replace("-", " "),
            readings=tuple(readings),
            instrument=taken.instrument,
            uncertainty=taken.uncertainty or (asked.uncertainty if asked else ""),
            note=taken.note,
            sentence=wording.measurement_sentence(taken, asked, part, draft.numbers),
            photos=draft.refs(taken.photos),
        )


def parts(draft: Draft) -> Iterator[PartShown]:
    """Parts of which an origin or a work is recorded with a finding."""
    for component in dict.fromkeys(one.component for one in draft.car.findings):
        told = [
            one
            for one in draft.car.findings
            if one.component == component
            and one.state is not FindingState.CORRECTED
            and (one.origin is not PartOrigin.UNKNOWN or one.work is not PartWork.UNKNOWN)
        ]
        if not told:
            continue
        origins = [say(f"origin.{one.origin.value}") for one in told if one.origin is not PartOrigin.UNKNOWN]
        works = [say(f"work.{one.work.value}") for one in told if one.work is not PartWork.UNKNOWN]
        part = draft.part(component)
        name = part.name if part else component
        origin = " / ".join(dict.fromkeys(origins)) or say("origin.unknown")
        work = " / ".join(dict.fromkeys(works)) or say("work.unknown")
        basis = wording.finding_basis(told[0], draft.numbers)
        sentence = capital(say("part", component=name, origin=origin, work=work, basis=basis))
        yield PartShown(name, origin, work, sentence, tuple(one.number for one in told))


def statement_shown(draft: Draft, statement: Statement) -> StatementShown:
    """One statement with its basis in the same sentence."""
    part = draft.part(statement.subject)
    return StatementShown(
        number=statement.number,
        subject=part.name if part else capital(statement.subject.replace("-", " ")),
        sentence=wording.statement_sentence(statement, draft.numbers),
        basis=statement.evidence.basis,
        basis_words=wording.basis_words(statement.evidence, draft.numbers),
        photos=draft.refs(statement.evidence.photos),
    )


def _definitions(draft: Draft) -> Iterator[Line]:
    """The bases, then the words of the trade that houses use differently and that stand on this page."""
    for basis in draft.words.bases.values():
        words = say("definition.basis", definition=basis.definition, proves=basis.proves, proves_not=basis.proves_not)
        yield Line(basis.name, words)
    used = {one.kind for one in draft.car.findings}
    for kind in _DEFINED_KINDS:
        if kind in used and kind in draft.words.findings:
            yield Line(draft.words.findings[kind].name, draft.words.findings[kind].definition)


def shown_findings(draft: Draft) -> tuple[FindingShown, ...]:
    """Every finding with its words, by number."""
    return tuple(finding_shown(draft, one) for one in sorted(draft.car.findings, key=lambda one: one.number))
