"""Every word a buyer reads that the program itself writes, in one table, so that it can be translated as a whole.

Slots stand in braces, one and many of a count apart by a bar. The keys are the contexts of the message catalogue, so a
text is said by its key and comes out in the language that is spoken (see `language`). Words of the trade come from the
vocabulary, words about this car from its record.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import Final

from .comparison_phrases import COMPARISON_WORDS
from .coverage_phrases import COVERAGE_WORDS
from .language import spoken
from .listing_phrases import LISTING_WORDS
from .section_phrases import LINKED_WORDS, SECTIONS
from .selection_phrases import SELECTION_WORDS
from .zone_phrases import ZONE_WORDS

WORDS: Final[dict[str, str]] = {
    **COVERAGE_WORDS,
    **COMPARISON_WORDS,
    **LINKED_WORDS,
    **LISTING_WORDS,
    **SELECTION_WORDS,
    **ZONE_WORDS,
    # lists and photos
    "more": "{first}, {next}",
    "and": "{first} and {last}",
    "photo": "photo {numbers}",
    "photos": "photos {numbers}",
    "photo.number": "Photo {number}",
    "photo.rights": "© {year} {house}",
    # the condition page on paper
    "print.contents": "In this document",
    "print.page": "Page {page} of {pages}",
    "print.govern": "Where anything here differs from the form on the car or from the contract, those govern.",
    "print.seal": "Fingerprint of this edition",
    "print.seal.words": "SHA-256 of the list of photographs (edition.json), which names the record, the plan and every "
    "picture file by theirs. The code holds the same digits and nothing else.",
    "print.code": "A code that holds the fingerprint: {seal}",
    "print.extent": "Extent",
    "print.known": "How it is known",
    "print.part": "Part",
    "print.work": "Work",
    "print.photos": "Shown in",
    "print.instrument": "Instrument",
    "print.uncertainty": "Uncertainty",
    "print.note": "Note",
    # bases
    "basis.seen": "seen",
    "basis.seen.day": "seen on {date}",
    "basis.measured": "measured",
    "basis.measured.day": "measured on {date}",
    "basis.tested": "tested",
    "basis.tested.day": "tested on {date}",
    "basis.documented": "per {document}",
    "basis.documented.day": "per {document} dated {date}",
    "basis.document": "a paper on file",
    "basis.issuer": " from {issuer}",
    "basis.told": "stated by {who}, not verified",
    "basis.told.the": "the {who}",
    "basis.seller": "the seller",
    "basis.no-reason": "no reason given",
    "basis.no-photo": "no photo: {reason}",
    "basis.photo-withheld": "photo not published",
    "basis.with": "with {instrument}",
    "basis.by": "by {role}",
    "basis.uncertainty": "uncertainty {uncertainty}",
    # the bases as one word, behind a finding in a caption
    "basis.word.seen": "seen",
    "basis.word.measured": "measured",
    "basis.word.tested": "tested",
    "basis.word.documented": "documented",
    "basis.word.told": "told",
    "basis.word.not-checked": "not checked",
    "basis.not-checked": "not checked: {reason}",
    "identity.car": "Car",
    "identity.trim": "Body and trim",
    "identity.colour": "Colour",
    "identity.interior": "Interior",
    "identity.stock": "Stock number",
    "identity.serial": "Serial",
    "identity.masked": "{tail} (last characters only; the whole serial on request)",
    "identity.compared.same": "Serial on car and paper read the same, character by character",
    "identity.compared.differs": "Serial on car and paper do NOT read the same",
    "identity.compared.not": "Serial on car and paper have not been compared",
    "identity.comparison": "Serial, car against paper",
    "identity.noted": "as noted by the house",
    "identity.odometer": "Odometer",
    "identity.odometer.reading": "{reading} {unit}",
    "identity.odometer.digits": "{n} digit|{n} digits",
    "identity.odometer.claim": "accuracy not claimed",
    "identity.odometer.none": "not recorded",
    "fact.true": "yes",
    "fact.false": "no",
    "on-car": "on the car",
    "on-paper": "on paper",
    "summary.findings": "Findings",
    "summary.none": "none on file; that is not the same as nothing found",
    "summary.parts": "Parts",
    "summary.parts.looked": "{n} looked at with nothing to report|{n} looked at with nothing to report",
    "summary.parts.found": "{n} with findings|{n} with findings",
    "summary.parts.unseen": "{n} not seen|{n} not seen",
    "summary.shots": "Shots of the plan",
    "summary.shots.covered": "{covered} of {n} covered|{covered} of {n} covered",
    "summary.shots.partly": "{n} partly|{n} partly",
    "summary.shots.taken": "{n} taken|{n} taken",
    "summary.shots.missed": "{n} missed|{n} missed",
    "summary.rust": "Rust-prone places",
    "summary.rust.words": "{covered} of {n} with context and close proof|{covered} of {n} with context and close proof",
    "summary.tests": "Function checks",
    "summary.tests.works": "{n} work|{n} work",
    "summary.tests.faulty": "{n} fail or work sometimes|{n} fail or work sometimes",
    "summary.tests.absent": "{n} not fitted|{n} not fitted",
    "summary.tests.untested": "{n} not tested|{n} not tested",
    "summary.photos": "Photos",
    "summary.photos.shown": "{n} published|{n} published",
    "summary.days": "{first} to {last}",
    "summary.days.unknown": "on days not recorded",
    "severity.short.note": "{n} worth recording|{n} worth recording",
    "severity.short.cosmetic": "{n} cosmetic|{n} cosmetic",
    "severity.short.wear": "{n} wear|{n} wear",
    "severity.short.needs-work": "{n} needing work|{n} needing work",
    "severity.short.structural": "{n} structural|{n} structural",
    "severity.short.unsafe": "{n} unsafe|{n} unsafe",
    "headline.unsafe": "UNSAFE findings: {numbers}. The car is not to be driven or lifted until a mechanic has looked.",
    "headline.structural": "Findings in load-carrying parts are on file: {numbers}.",
    "headline.coated": "Coating hides metal of load-carrying parts: {parts}. The metal there was not seen.",
    "headline.under": "Not all of the underside was seen: {n} shot or place is open.|"
    "Not all of the underside was seen: {n} shots or places are open.",
    "withheld": "{photos}, {why}",
    "nothing": "Looked at, nothing to report, {basis}",
    "withheld.sight": "not yet looked at for what must be hidden ({sights})",
    "withheld.held": "held back by the house",
    "withheld.sight.plate": "plates",
    "withheld.sight.paper": "papers",
    "withheld.sight.stamp": "stamps",
    "withheld.sight.key-code": "key codes",
    "looked.photographs": "Photographs",
    "looked.taken": "taken {days}",
    "looked.findings": "Findings and parts",
    "looked.checks": "Function checks",
    "looked.measurements": "Measurements",
    "looked.statements": "Statements",
    "looked.signed": "Signature",
    "looked.by": "by {roles}",
    "definition.basis": "{definition} It proves {proves}; it does not prove {proves_not}.",
    "changed.photos.added": "{photos} added.",
    "changed.photos.gone": "{photos} no longer shown.",
    "changed.identity.added": "{subject}, now stated: {sentence}",
    "changed.identity.changed": "{subject}: {sentence}; before: {before}",
    "changed.identity.withdrawn": "{subject}, no longer stated; before: {before}",
    "changed.finding.added": "New: {sentence}",
    "changed.finding.changed": "Reworded or measured again: {sentence}",
    "changed.finding.withdrawn": "No longer among the open findings: {sentence}",
    "changed.check.added": "Function check: {sentence}",
    "changed.check.changed": "Function checked again: {sentence}",
    "changed.measurement.added": "Measured: {sentence}",
    "changed.measurement.changed": "Measured again: {sentence}",
    "changed.measurement.withdrawn": "Measurement withdrawn: {sentence}",
    "changed.statement.added": "Statement: {sentence}",
    "changed.statement.changed": "Statement, now: {sentence}",
    "changed.statement.withdrawn": "Statement withdrawn: {sentence}",
    "changed.part.added": "Originality: {sentence}",
    "changed.part.changed": "Originality, now: {sentence}",
    "changed.part.withdrawn": "Originality, no longer stated: {sentence}",
    "changed.gap.added": "Newly open: {sentence}",
    "changed.gap.changed": "Still open, now: {sentence}",
    "changed.gap.withdrawn": "No longer open: {sentence}",
    "changed.waiver.added": "{subject}, newly let stand: {sentence}",
    "changed.waiver.changed": "{subject}, let stand, now: {sentence}",
    "changed.waiver.withdrawn": "{subject}, no longer let stand; before: {before}",
    # findings
    "finding.number": "Finding {number}",
    "finding.counted": "{n} counted|{n} counted",
    "finding.repaired": "Repaired: {reason}",
    "finding.corrected": "Corrected: {reason}",
    "finding.alt.fault": "flaw: {name}, finding {number}",
    "finding.alt.note": "{name}, finding {number}",
    "extent.about": "about {size}",
    "converted": "about {value} {unit}",
    "converted.first": "{converted} ({read} as read)",
    "converted.marked": "about {value} {unit}, converted",
    # checks, measurements, statements, gaps
    "measurement": "{name}, {place}: {readings}, {note}; {basis}.",
    "part": "{component}: {origin}, {work}; {basis}.",
    "not-seen": "{subject}: not seen, {reason}.",
    "partly-seen": "{subject}: seen in part only, {reason}.",
    "parts-of": "Parts of: {zone}",
    "not-spoken": "{zone}, nobody has said what is there: {parts}.",
    "not-tested": "{subject}: not tested, {reason}.",
    "not-answered": "{subject}: not answered, so shots that hang on it were not decided.",
    # verdicts, severities, origins, work
    "verdict.works": "works",
    "verdict.does-not-work": "does not work",
    "verdict.intermittent": "works only sometimes",
    "verdict.not-fitted": "not fitted",
    "verdict.not-tested": "not tested",
    "severity.note": "Worth recording",
    "severity.cosmetic": "Cosmetic",
    "severity.wear": "Wear: works, will need work one day",
    "severity.needs-work": "Needs work",
    "severity.structural": "Structural: in a load-carrying part",
    "severity.unsafe": "Unsafe: not to be driven or lifted until a mechanic has looked",
    "severity.word.note": "note",
    "severity.word.cosmetic": "cosmetic",
    "severity.word.wear": "wear",
    "severity.word.needs-work": "needs work",
    "severity.word.structural": "structural",
    "severity.word.unsafe": "unsafe",
    "origin.original": "original",
    "origin.new-old-stock": "new-old-stock",
    "origin.factory-type-replacement": "factory-type replacement",
    "origin.reproduction": "reproduction",
    "origin.aftermarket": "aftermarket",
    "origin.unknown": "origin not known",
    "work.none": "no work recorded",
    "work.repaired": "repaired",
    "work.refinished": "refinished",
    "work.rebuilt": "rebuilt",
    "work.modified": "modified",
    "work.unknown": "work not known",
    # coverage
    "state.missed": "missed",
    "state.taken": "taken",
    "state.partly": "partly",
    "state.covered": "covered",
    "state.not-reachable": "not reachable",
    "state.not-fitted": "not fitted",
    "state.decide": "decide",
    "state.waived-label": "waived",
    "state.waived": "{state}, waived",
    "legend.covered": "A person looked at the photo and saw everything the shot asks for.",
    "legend.partly": "Some of it is shown; what is missing is listed.",
    "legend.taken": "A photo is there; nobody has said what can be seen.",
    "legend.missed": "No photo is there.",
    "legend.not-reachable": "Could not be photographed without damage or danger; the reason is listed.",
    "legend.not-fitted": "The car does not have it.",
    "legend.decide": "Whether the car has it has not been answered.",
    "legend.waived": "The house lets this gap stand and says why.",
    "segment": "{name}: {covered} of {n} shots covered.|{name}: {covered} of {n} shots covered.",
    "ribbon": "The whole walk, one cell a shot: {covered} of {n} shots covered.|"
    "The whole walk, one cell a shot: {covered} of {n} shots covered.",
    # why something was not seen
    "why.missed": "nobody photographed it",
    "why.taken": "photographed, but nobody has said what can be seen",
    "why.component": "nobody has said what is there",
    "why.decide": "not answered: {facts}",
    "why.missing": "missing: {missing}",
    "why.coated": "coating hides the metal",
    "why.no-lift": "no lift at hand",
    "why.lift-arm-in-the-way": "a lift arm was in the way",
    "why.undertray-fitted": "an undertray is fitted",
    "why.carpet-fixed": "the carpet is fixed",
    "why.trim-fixed": "trim is fixed over it",
    "why.no-endoscope": "no endoscope at hand",
    "why.no-consent": "the owner did not agree",
    "why.not-safe": "not safe",
    "why.no-time": "not done in the time available",
    "why.none": "no reason given",
    "why.check": "nobody tested it",
    "why.fact": "nobody has answered it",
    "why.no-proof": "no full proof of this rust-prone place: {lacking}",
    "why.context": "no context frame with its items seen",
    "why.proof": "no close proof frame with its items seen",
    "why.items": "not everything asked for can be seen",
    "why.let-stand": "{why}; let stand: {reason}",
    "waiver": "{reason} (let stand by {who}).",
    "waiver.rule": "Rule lifted: {rule}",
    # flags and titles
    "flag": "UNSIGNED. Nobody has signed this edition: it is a draft of the record and no offer.",
    "signed": "Signed by the {role} on {date}, by name, no key.",
    "signed.key": "Signed by the {role} on {date}, with the key {key}.",
    "signed.not": "UNSIGNED: nobody has signed this edition.",
    "signed.one-person": "One person made this record and signed it, as the house's written rule allows.",
    "edition": "Edition {number} of {date}",
    "stock.short": "stock number {stock}",
    "stock": "Stock number {stock}",
    "title.plain": "Stock {stock}",
    "title.disclosure": "Condition of {title}",
    "interior": "{words} interior",
    "gallery.count": "{photos}, {findings}, {gaps}.",
    "count.photos": "{n} photo|{n} photos",
    "count.findings": "{n} finding on file|{n} findings on file",
    "count.gaps": "{n} thing not seen or not tested|{n} things not seen or not tested",
    "proposed": "The program put this photo here; nobody has looked at it yet",
    "extra": "{zone}, further view",
    "taken": "Taken {date}",
    "clip": "Clip of {seconds} s",
    "slot.context": "where it is",
    "slot.proof": "close",
    "slot.context.frame": "context frame",
    "slot.proof.frame": "close proof frame",
    "picture.title": "{title}, photo {number}",
    "caption.look": "{name} on {place}",
    "caption.finding": "{look}, finding {number}, {basis}",
    "alt.clip": "Clip: {subject}",
    "alt.more": "; {n} more|; {n} more",
    # how names of findings stand inside a sentence: "small" takes their capitals away, any other word keeps them
    "inside": "small",
    # the person standing for a name
    "role.photographer": "photographer",
    "role.lister": "lister",
    "role.manager": "manager",
    "role.phone": "person on the phone",
    "role.mechanic": "mechanic",
    "role.clerk": "clerk",
    "role.dispatcher": "dispatcher",
    "role.none": "person of the house",
    "role.the": "the {role}",
}


def say(key: str, /, **slots: object) -> str:
    """The words of that key in the language that is spoken, with its slots filled.

    Raises:
        KeyError: no such key, or a slot is missing: a fault of ours.
    """
    return template(key).format(**slots)


def template(key: str) -> str:
    """The words of that key with their slots open."""
    return spoken().text(WORDS[key], context=key)


def said(key: str) -> str:
    """The words of that key, "" where there is no such key."""
    return template(key) if key in WORDS else ""


def term(context: str, english: str) -> str:
    """A word of the trade that stands in no table of ours but is in the catalogue under that context."""
    return spoken().text(english, context=context)


def fact_name(fact: str) -> str:
    """A fact's id as words, 'model year'."""
    return term("fact", fact.replace("-", " ").replace("_", " "))


def unit_name(unit: str) -> str:
    """A unit as it is written behind a figure."""
    return term("unit", unit) if unit else ""


def count(key: str, n: int, /, **slots: object) -> str:
    """The form that goes with `n`: '1 photo', '12 photos'."""
    one, many = WORDS[key].split("|")
    return spoken().counted(one, many, n, context=key).format(n=n, **slots)


def section_words(key: str) -> tuple[str, str, str]:
    """A section's heading, what stands below it, and what stands there where there are no rows."""
    heading, lead, empty = SECTIONS[key]
    told = {"heading": heading, "lead": lead, "none": empty}
    said = [term(f"section.{key}.{part}", words) if words else "" for part, words in told.items()]
    return said[0], said[1], said[2]


def sentences(context: str, words: Iterable[str]) -> tuple[str, ...]:
    """Whole sentences in the language that is spoken."""
    return tuple(term(context, one) for one in words)


def day(on: date) -> str:
    """A day in words, '12 May 2026'."""
    return spoken().day(on)


def listed(words: Iterable[object]) -> str:
    """'12', '12 and 13', '12, 13 and 14'."""
    every = [str(word) for word in words]
    if len(every) < 2:
        return "".join(every)
    first = every[0]
    for word in every[1:-1]:
        first = say("more", first=first, next=word)
    return say("and", first=first, last=every[-1])


def photos(numbers: Iterable[int]) -> str:
    """'photo 12', 'photos 12 and 13', '' for none."""
    every = sorted(set(numbers))
    return say("photo" if len(every) == 1 else "photos", numbers=listed(every)) if every else ""


def capital(words: str) -> str:
    """With its first letter large."""
    return words[:1].upper() + words[1:]


def small(name: str) -> str:
    """A name as it stands inside a sentence: without capitals in English, as it is where names keep theirs."""
    return name.lower() if template("inside") == "small" else name
