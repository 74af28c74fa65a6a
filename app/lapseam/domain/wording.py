"""Wording: the record's rows as sentences, one row one sentence, each with its basis in the same sentence.

Templates of findings come from the vocabulary. An empty slot is left out with its comma; where the sentence cannot do
without it, the finding is said in the plain form "name: place, extent, detail; basis". What a template has no slot for
(a detail, a count) is added, never lost. Nothing is softened and no adjective is added.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from datetime import date

from . import units
from .finding import Finding
from .language import spoken
from .phrases import capital, count, day, listed, photos, template, unit_name
from .phrases import say as words
from .plan import CheckAsked, Component, FindingKind, MeasurementAsked, Vocabulary
from .statement import Basis, CheckResult, CheckVerdict, Evidence, Measurement, Reading, Statement

Numbers = Mapping[str, int]
"""Gallery numbers by SHA-256; a photo that is not there is not published."""

_NOBODY = ("unknown", "not recorded", "not known")
_SLOT = re.compile(r"\{(\w+)\}")
_FIGURE = r"(?:\d+\s+\d+/\d+|\d+/\d+|\d+(?:[.,]\d+)?)"
_SIZE = re.compile(rf"(?<![\w.,/~≈<>±–-]){_FIGURE}(?:\s*[×x]\s*{_FIGURE})*\s*(?:mm|cm|m|in|ft)\b")
_HEDGES = frozenset(
    (
        *("about", "approximately", "approx", "approx.", "around", "roughly", "circa", "ca", "ca.", "c.", "nearly"),
        *("almost", "some", "under", "over", "below", "above", "up", "to", "than", "least", "most", "between", "and"),
        *("~", "≈", "<", ">", "±"),
    )
)
"""Words before a size that say already that it is no exact one, or that it is one end of a range."""


def say(finding: Finding, vocabulary: Vocabulary, numbers: Numbers) -> str:
    """The finding as one sentence with its basis, from its kind's template."""
    kind = vocabulary.findings.get(finding.kind)
    slots = _slots(finding, kind, vocabulary.components().get(finding.component))
    basis = finding_basis(finding, numbers)
    if kind is not None and kind.say:
        sentence = _filled(kind.say, slots, basis)
        if sentence:
            return sentence
    name = kind.name if kind is not None else finding.kind.replace("-", " ")
    counted = count("finding.counted", int(slots["count"])) if slots["count"] else ""
    tail = [part for part in (slots["place"], counted, slots["extent"], slots["detail"]) if part]
    return _sentence(f"{name}: {', '.join(tail)}; {basis}")


def place_words(finding: Finding, component: Component | None) -> str:
    """Where it is: the finding's own words, else the component's name."""
    return _plain(finding.place) or (component.name if component else finding.component.replace("-", " "))


def extent_words(finding: Finding) -> str:
    """How large it is, in both systems of units; "" where nothing was said.

    A size that was seen and not measured was taken from a photo or by eye, so it says that it is approximate (common
    trade practice, wording rule 3). What says so already, and a range, stays as it is.
    """
    text = _plain(finding.extent)
    return _both_units(_SIZE.sub(_approximate, text) if finding.evidence.basis is Basis.SEEN else text)


def _approximate(size: re.Match[str]) -> str:
    before = size.string[: size.start()].lower().split()
    hedged = bool(before) and before[-1].strip("(,;:") in _HEDGES
    return size.group() if hedged else words("extent.about", size=size.group())


def _both_units(text: str) -> str:
    """Lengths in free words with the other system beside them, figures and units in the language that is spoken."""
    return units.beside(
        text,
        template("converted"),
        turned=template("converted.first"),
        first=spoken().units_first,
        figure=spoken().number,
        unit_name=unit_name,
    )


def both_ways(read: str, converted: str, other: str) -> str:
    """A figure as read with its conversion into the unit `other`: the house's own unit first where it wishes so."""
    if not converted:
        return read
    if other in spoken().units_first:
        return words("converted.first", converted=converted, read=read)
    return f"{read} ({converted})"


def finding_basis(finding: Finding, numbers: Numbers) -> str:
    """How the finding is known, with its photos or why there is none."""
    shown = (*finding.context, *finding.close, *finding.evidence.photos)
    return basis_words(finding.evidence, numbers, photos_of=shown, no_photo=finding.no_photo_reason)


def state_reason(finding: Finding, numbers: Numbers) -> str:
    """Why and since when it is no longer open, and what shows the place since: 'new metal, 1 June 2026, photo 14'."""
    since = day(finding.state_on) if finding.state_on is not None else ""
    shown = photos(numbers[sha256] for sha256 in finding.after if sha256 in numbers)
    return ", ".join(part for part in (_plain(finding.state_reason), since, shown) if part)


def basis_words(evidence: Evidence, numbers: Numbers, *, photos_of: Iterable[str] = (), no_photo: str = "") -> str:
    """How something is known: 'seen, photos 12 and 13', 'stated by the owner before last, not verified'."""
    files = tuple(dict.fromkeys((*photos_of, *evidence.photos)))
    parts = [_known(evidence), *_means(evidence)]
    shown = photos(numbers[sha256] for sha256 in files if sha256 in numbers)
    if shown:
        parts.append(shown)
    elif files:
        parts.append(words("basis.photo-withheld"))
    elif no_photo:
        parts.append(words("basis.no-photo", reason=_plain(no_photo)))
    elif evidence.basis is Basis.SEEN:
        parts.append(words("basis.photo-withheld"))
    return ", ".join(part for part in parts if part)


def _known(evidence: Evidence) -> str:
    """The basis word itself."""
    basis, on = evidence.basis, evidence.on
    if basis is Basis.TOLD:
        return words("basis.told", who=_told_by(evidence.who_said))
    if basis is Basis.NOT_CHECKED:
        return words("basis.not-checked", reason=_plain(evidence.reason) or words("basis.no-reason"))
    if basis is Basis.DOCUMENTED:
        paper = _plain(evidence.document) or words("basis.document")
        issuer = _plain(evidence.issuer_kind)
        paper += words("basis.issuer", issuer=issuer) if issuer and issuer.lower() not in _NOBODY else ""
        dated = _plain(evidence.document_date)
        key = "basis.documented.day" if dated else "basis.documented"
        return words(key, document=paper, date=dated)
    if basis is Basis.SEEN:
        return words("basis.seen")
    return _dated(f"basis.{basis.value}", on)


def _told_by(who: str) -> str:
    said = _plain(who)
    if not said:
        return words("basis.seller")
    return said if said.split(" ")[0].lower() in ("the", "a", "an") else words("basis.told.the", who=said)


def _means(evidence: Evidence) -> Iterable[str]:
    """Instrument and conditions, where they were kept."""
    if evidence.basis in (Basis.MEASURED, Basis.TESTED):
        instrument = _plain(evidence.instrument)
        yield words("basis.with", instrument=instrument) if instrument else ""
        yield _plain(evidence.conditions)


def _dated(key: str, on: date | None) -> str:
    return words(f"{key}.day", date=day(on)) if on else words(key)


def _slots(finding: Finding, kind: FindingKind | None, component: Component | None) -> dict[str, str]:
    on = finding.evidence.on
    return {
        "place": place_words(finding, component),
        "extent": extent_words(finding),
        "count": str(finding.count) if finding.count is not None else "",
        "detail": _both_units(_plain(finding.detail)),
        "date": day(on) if on else "",
        "told_place": _plain(finding.place),
    }


def _filled(template: str, slots: Mapping[str, str], basis: str) -> str:
    """The template with its slots, "" where it cannot do without an empty one."""
    body = template.rstrip(". ")
    if not body.endswith("{basis}"):
        return ""
    clauses = [clause.split(", ") for clause in body.removesuffix("{basis}").rstrip(" ;,").split("; ")]
    kept: list[str] = []
    for place, pieces in enumerate(clauses):
        said = []
        for at, piece in enumerate(pieces):
            text = piece if _complete(piece, slots) else _trimmed(piece, slots) if at == 0 else ""
            if at == 0 and not text:
                if place == 0:
                    return ""
                break
            if text:
                said.append(text)
        if said:
            kept.append(", ".join(said))
    said_slots = {slot for clause in kept for slot in _SLOT.findall(clause)}
    said_slots |= {"told_place"} if "place" in said_slots else set()
    added = [
        count("finding.counted", int(slots[slot])) if slot == "count" else slots[slot]
        for slot in ("told_place", "count", "extent", "detail")
        if slots[slot] and slot not in said_slots
    ]
    clauses_said = [_put(clause, slots) for clause in kept]
    clauses_said[0] = ", ".join([clauses_said[0], *added])
    return _sentence("; ".join([*clauses_said, basis]))


def _complete(piece: str, slots: Mapping[str, str]) -> bool:
    return all(slots.get(slot) for slot in _SLOT.findall(piece))


def _trimmed(piece: str, slots: Mapping[str, str]) -> str:
    """A clause's first piece without a leading count and a bracket that are empty; "" if more is missing."""
    for slot in _SLOT.findall(piece):
        if not slots.get(slot):
            piece = piece.replace(f" ({{{slot}}})", "").removeprefix(f"{{{slot}}} " if slot == "count" else "")
    return piece if _complete(piece, slots) else ""


def _put(text: str, slots: Mapping[str, str]) -> str:
    filled = _SLOT.sub(lambda found: slots.get(found.group(1)) or found.group(), text)
    return filled.replace("about about ", "about ")


def _plain(text: str) -> str:
    """A part of a sentence: one line, single spaces, no stop at its end, no semicolon that would end the clause."""
    clean = " ".join(text.split()).replace(" ;", ";").replace(";", ",")
    while clean and clean[-1] in ".,;: ":
        clean = clean[:-1]
    while clean and clean[0] in ".,;: ":
        clean = clean[1:]
    clean = re.sub(r"\s+,", ",", clean)
    return re.sub(r",(?:\s*,)+", ",", clean)


def _sentence(text: str) -> str:
    return capital(text.rstrip(" .,;")) + "."


def check_sentence(result: CheckResult, asked: CheckAsked | None, vocabulary: Vocabulary, numbers: Numbers) -> str:
    """One function check; a remark always stands beside its result."""
    item = check_item(result, asked)
    if result.verdict is CheckVerdict.NOT_TESTED:
        reason = ", ".join(part for part in (check_reason(result, vocabulary), _plain(result.note)) if part)
        return _sentence(words("not-tested", subject=item, reason=reason))
    verdict = words(f"verdict.{result.verdict.value}")
    said = f"{item}: {', '.join(part for part in (verdict, _plain(result.note)) if part)}"
    return _sentence(f"{said}; {check_basis(result, numbers)}")


def check_item(result: CheckResult, asked: CheckAsked | None) -> str:
    """What was checked: the vocabulary's name, else the house's own words."""
    return _plain(asked.item if asked else result.item or result.check.replace("-", " "))


def check_reason(result: CheckResult, vocabulary: Vocabulary) -> str:
    """Why it was not tested, in words."""
    reason = vocabulary.not_tested_reasons.get(result.reason)
    if reason is not None:
        return reason.name[:1].lower() + reason.name[1:]
    return _plain(result.reason.replace("-", " ")) or words("basis.no-reason")


def check_basis(result: CheckResult, numbers: Numbers) -> str:
    """How a check is known. Not fitted is seen; everything else was tried."""
    seen = result.verdict is CheckVerdict.NOT_FITTED
    evidence = Evidence(Basis.TESTED, photos=result.photos, on=result.on, conditions=result.conditions)
    if seen:
        shown = photos(numbers[sha256] for sha256 in result.photos if sha256 in numbers)
        return ", ".join(part for part in (_dated("basis.seen", result.on), shown) if part)
    return basis_words(evidence, numbers)


def reading_words(reading: Reading, asked: MeasurementAsked | None) -> tuple[str, str]:
    """A reading as read with its unit, and converted and marked so ("" where there is nothing to convert)."""
    value, unit = _plain(reading.value), _plain(reading.unit)
    shown_unit = {"um": "µm", "C": "°C", "F": "°F", "text": "", "WWYY": "", "count": "", "fraction": ""}.get(unit, unit)
    as_read = f"{value}{'' if shown_unit in ('%', ':1') else ' '}{shown_unit}".strip()
    wanted = asked.other_unit if asked else ""
    read = units.number(value)
    converted = units.convert(read, unit, wanted) if read is not None else None
    if converted is None:
        return as_read, ""
    other = units.other_unit(unit, wanted)
    text = spoken().number(units.shown(converted))
    if other == "1/32 in":
        return as_read, words("converted.marked", value=f"{text}/32", unit=unit_name("in"))
    return as_read, words("converted.marked", value=text, unit=unit_name(other))


def measurement_sentence(
    taken: Measurement, asked: MeasurementAsked | None, component: Component | None, numbers: Numbers
) -> str:
    """All readings of one measurement, as read and converted, with instrument and uncertainty."""
    name = asked.name if asked else taken.measure.replace("-", " ")
    part = component.name if component else _plain(taken.component.replace("-", " "))
    readings = []
    for reading in taken.readings:
        as_read, converted = reading_words(reading, asked)
        other = units.other_unit(_plain(reading.unit), asked.other_unit if asked else "")
        readings.append(f"{_plain(reading.place)} {both_ways(as_read, converted, other)}".strip())
    said = [listed(readings), _plain(taken.note)]
    head = ", ".join(part for part in (name, part) if part)
    return _sentence(f"{head}: {', '.join(one for one in said if one)}; {measurement_basis(taken, asked, numbers)}")


def measurement_basis(taken: Measurement, asked: MeasurementAsked | None, numbers: Numbers) -> str:
    """How a measurement is known, with its instrument and its uncertainty."""
    evidence = Evidence(Basis.MEASURED, photos=taken.photos, on=taken.on, instrument=taken.instrument)
    uncertainty = _plain(taken.uncertainty or (asked.uncertainty if asked else ""))
    known = basis_words(evidence, numbers)
    return f"{known}, {words('basis.uncertainty', uncertainty=uncertainty)}" if uncertainty else known


def statement_sentence(statement: Statement, numbers: Numbers) -> str:
    """The claim as written, with its basis in the same sentence."""
    return _sentence(f"{_plain(statement.claim)}; {basis_words(statement.evidence, numbers)}")
