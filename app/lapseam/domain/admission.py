"""Whether a decision may enter a car's record: the one gate that every front and every notes file passes.

`objections` words every reason against it; an empty answer lets it in. What a basis needs on file follows
bases.yaml: told needs who said it, documented a paper with its date, measured an instrument, not-checked a reason,
seen a photo. Common trade practice, no source.

It is one file on purpose, long as it is: whoever asks what may enter a record reads it here from top to bottom.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from difflib import get_close_matches
from functools import singledispatch

from .call import AnswerBasis, Asked, Call, Wanted
from .car import Car
from .claims import Verdict, guard_of
from .condition import Value
from .decision import (
    PROGRAM,
    Arranged,
    Caption,
    CarDetails,
    Closed,
    Closing,
    Decision,
    FactAnswer,
    Lead,
    Looked,
    Placement,
    Release,
    Signoff,
    Sureness,
    Target,
    Tick,
    Waiver,
    WaiverOf,
)
from .errors import Mistake
from .finding import Finding, FindingState, Mark, MarkShape
from .finding_gaps import repair_lacks
from .jotting import Jotting
from .measure.as_read import reading_objection, unit_objection
from .measure.extent import extent
from .plan import FLAWS_GROUP, LEAD_GROUP, FactAsked, FactKind
from .posting import OutletWishes, Posting, posting_objections, wishes_objections
from .statement import Basis, CheckResult, CheckVerdict, Evidence, Measurement, SerialReading, Statement

_LONGEST_WORDS = 4_000
_MOST_COUNTED = 9_999
_MOST_OF_A_FACT = 1_000_000
_MOST_ON_AN_ODOMETER = 9_999_999
_LONGEST_CAPTION = 300
_HEX_64 = re.compile(r"[0-9a-f]{64}\Z")
_HEX_128 = re.compile(r"[0-9a-f]{128}\Z")


def objections(decision: Decision, car: Car) -> tuple[str, ...]:
    """Every reason against letting `decision` into `car`'s record, worded for a person; empty lets it in."""
    return tuple(dict.fromkeys((*_who(decision), *_against(decision, car))))


_FIRST = (CarDetails, FactAnswer, Placement)
_SECOND = (Tick,)


def refused(decisions: Iterable[Decision], car: Car) -> tuple[tuple[Decision, tuple[str, ...]], ...]:
    """Judge a batch that comes in together: ticks may lean on placements of the same batch, findings on ticks.

    Returns:
        The decisions that may not enter, each with its objections; empty lets the whole batch in.
    """
    batch = tuple(decisions)
    stages = (
        tuple(one for one in batch if isinstance(one, _FIRST)),
        tuple(one for one in batch if isinstance(one, _SECOND)),
        tuple(one for one in batch if not isinstance(one, _FIRST + _SECOND)),
    )
    out: list[tuple[Decision, tuple[str, ...]]] = []
    for stage in stages:
        out.extend((one, against) for one in stage if (against := objections(one, car)))
        car = car.with_decisions(stage) if stage else car
    return tuple(out)


def _who(decision: Decision) -> Iterator[str]:
    if not decision.by.strip():
        yield "nobody's name stands under it"
    programs_own = isinstance(decision, Placement) and decision.sureness is not Sureness.DECIDED
    if decision.by == PROGRAM and not programs_own:
        yield "only a person can decide this, not the program"


@singledispatch
def _against(decision: object, car: Car) -> Iterator[str]:
    raise TypeError(f"no gate for {type(decision).__name__}")


def unknown(word: str, of: str, known: Iterable[str]) -> str:
    """'no shot is called X (did you mean Y?)'."""
    near = get_close_matches(word, list(known), n=1, cutoff=0.6)
    hint = f" (did you mean {near[0]!r}?)" if near else ""
    return f"no {of} is called {word!r}{hint}"


def _named(word: str, of: str, known: Iterable[str]) -> Iterator[str]:
    known = tuple(known)
    if word not in known:
        yield unknown(word, of, known)


def _photos(digests: Iterable[str], car: Car) -> Iterator[str]:
    here = {photo.sha256 for photo in car.photos}
    for digest in digests:
        if digest not in here:
            yield f"photo {digest[:8]!r} is not among this car's photos"


def _words(words: str, what: str) -> Iterator[str]:
    if not words.strip():
        yield f"{what} is empty"
    if len(words) > _LONGEST_WORDS:
        yield f"{what} is longer than {_LONGEST_WORDS} characters"


def _extent(words: str, wanted: str) -> Iterator[str]:
    try:
        extent(words, wanted=wanted)
    except Mistake as mistake:
        yield f"{mistake.problem.rstrip('.')}; {mistake.next_step.rstrip('.')}"


def _shots(car: Car) -> tuple[str, ...]:
    return tuple(shot.id for shot in car.plan.shots)


@_against.register
def _(decision: CarDetails, car: Car) -> Iterator[str]:
    if decision.odometer_reading is not None and not 0 <= decision.odometer_reading <= _MOST_ON_AN_ODOMETER:
        yield f"an odometer reading lies between 0 and {_MOST_ON_AN_ODOMETER}"
    if decision.odometer_digits is not None and not 3 <= decision.odometer_digits <= 8:
        yield "an odometer has 3 to 8 digits"
    if decision.year is not None and not 1885 <= decision.year <= 2100:
        yield f"{decision.year} is no model year"


def fact_value_objection(asked: FactAsked, value: Value) -> str:
    """Why `value` is no answer to `asked`, or ''."""
    if asked.kind is FactKind.FLAG:
        return "" if isinstance(value, bool) else f"{asked.id} wants true or false, not {value!r}"
    if asked.kind is FactKind.NUMBER:
        fits = isinstance(value, (int, float)) and not isinstance(value, bool) and 0 <= value <= _MOST_OF_A_FACT
        return "" if fits else f"{asked.id} wants a number, not {value!r}"
    if asked.kind is FactKind.LIST:
        return "" if isinstance(value, tuple) else f"{asked.id} wants a list, not {value!r}"
    if value in asked.values:
        return ""
    near = get_close_matches(str(value), asked.values, n=1, cutoff=0.6)
    hint = f" (did you mean {near[0]!r}?)" if near else ""
    return f"{asked.id}: {value!r} is not one of: {', '.join(asked.values)}{hint}"


@_against.register
def _(decision: FactAnswer, car: Car) -> Iterator[str]:
    asked = car.plan.vocabulary.facts.get(decision.fact)
    if asked is None:
        yield unknown(decision.fact, "fact", car.plan.vocabulary.facts)
    elif objection := fact_value_objection(asked, decision.value):
        yield objection


@_against.register
def _(decision: Placement, car: Car) -> Iterator[str]:
    yield from _photos((decision.sha256,), car)
    if decision.target is Target.SHOT:
        yield from _named(decision.shot, "shot of this plan", _shots(car))
        shot = car.plan.shot(decision.shot)
        if shot is not None and decision.slot is not None and not shot.rust:
            yield f"{decision.shot} proves no rust-prone place, so it has no {decision.slot} frame"
    elif decision.shot or decision.slot:
        yield "a photo that answers no shot has no shot and no slot"
    if decision.target is Target.EXTRA:
        yield from _named(decision.zone, "zone", car.plan.vocabulary.zones)
    if decision.score is not None and not 0 <= decision.score <= 1:
        yield "a score lies between 0 and 1"


@_against.register
def _(decision: Tick, car: Car) -> Iterator[str]:
    yield from _photos((decision.sha256,), car)
    shot = car.plan.shot(decision.shot)
    if shot is None:
        yield unknown(decision.shot, "shot of this plan", _shots(car))
        return
    yield from _named(decision.item, f"must-see item of {shot.id}", (item.id for item in shot.must))
    placed = car.placements.get(decision.sha256)
    if placed is None or placed.target is not Target.SHOT or placed.shot != shot.id:
        yield f"photo {decision.sha256[:8]!r} does not stand on {shot.id}: place it there first"


@_against.register
def _(decision: Closing, car: Car) -> Iterator[str]:
    yield from _named(decision.shot, "shot of this plan", _shots(car))
    if decision.closed is Closed.NOT_REACHABLE:
        yield from _named(decision.reason, "reason", car.plan.vocabulary.words.get("not_reachable_reasons", ()))
    elif decision.reason:
        yield "not-fitted needs a name, not a reason; write the rest as a note"


@_against.register
def _(decision: Looked, car: Car) -> Iterator[str]:
    yield from _named(decision.component, "component", car.plan.vocabulary.components())
    yield from _photos(decision.photos, car)
    ticked = {tick.sha256 for tick in car.ticks}
    shows = [p for p in decision.photos if p in ticked]
    if not shows:
        yield f"nothing-found on {decision.component} needs a frame that somebody ticked: looked at, not only placed"


def evidence_objections(evidence: Evidence, car: Car) -> Iterator[str]:
    """What the basis needs and the evidence lacks."""
    yield from _photos(evidence.photos, car)
    if evidence.basis is Basis.SEEN and not evidence.photos:
        yield "seen needs a photo that shows it"
    if evidence.basis is Basis.TOLD and not evidence.who_said.strip():
        yield "told needs who said it (a role, such as 'owner before last')"
    if evidence.basis is Basis.DOCUMENTED and not (evidence.document.strip() and evidence.document_date.strip()):
        yield "documented needs the paper and its date"
    if evidence.basis is Basis.NOT_CHECKED and not evidence.reason.strip():
        yield "not-checked needs its reason"
    if evidence.basis is Basis.MEASURED and not evidence.instrument.strip():
        yield "measured needs the instrument"
    if evidence.basis is Basis.TESTED and not evidence.conditions.strip():
        yield "tested needs its conditions (how, where, how warm)"
    if evidence.basis in (Basis.MEASURED, Basis.TESTED, Basis.SEEN, Basis.TOLD) and evidence.on is None:
        yield f"{evidence.basis} needs its day"


def baseless(car: Car) -> tuple[str, ...]:
    """What stands in a record without its basis, however it came there: past the gate, from files that were edited.

    What the gate lets in has none of this; a publication looks once more, because the files of a workspace are open.
    """
    rows = [
        *((f"Statement {one.number}", one.evidence) for one in car.statements),
        *((f"Finding {one.number}", one.evidence) for one in car.findings),
    ]
    found = [f"{name}: {why}." for name, evidence in rows for why in evidence_objections(evidence, car)]
    for result in car.checks.values():
        found += [f"Check {result.check}: {why}." for why in objections(result, car)]
    for taken in car.measurements:
        found += [f"Measurement {taken.number}: {why}." for why in objections(taken, car)]
    return tuple(found)


def _mark_objections(mark: Mark, photos: tuple[str, ...]) -> Iterator[str]:
    inside = 0 <= mark.x <= 1 and 0 <= mark.y <= 1 and mark.x + mark.width <= 1.0001 and mark.y + mark.height <= 1.0001
    if not inside or mark.width < 0 or mark.height < 0:
        yield "a mark must lie inside the picture (shares 0 to 1)"
    if mark.shape is MarkShape.BOX and not (mark.width > 0 and mark.height > 0):
        yield "a box needs a width and a height"
    if mark.sha256 not in photos:
        yield "a mark stands on a photo that the finding does not show"


@_against.register
def _(decision: Finding, car: Car) -> Iterator[str]:
    words = car.plan.vocabulary
    yield from _named(decision.component, "component", words.components())
    yield from _named(decision.kind, "kind of finding", words.findings)
    yield from _words(decision.place, "the place")
    evidence = decision.evidence
    if evidence.basis is Basis.SEEN and not evidence.photos and decision.no_photo_reason:
        yield "what no photo can show was not seen: say tested or told"
    yield from evidence_objections(evidence, car)
    yield from _photos(decision.photos, car)
    for mark in decision.marks:
        yield from _mark_objections(mark, decision.photos)
    if decision.count is not None and not 0 <= decision.count <= _MOST_COUNTED:
        yield f"a count lies between 0 and {_MOST_COUNTED}"
    kind = words.findings.get(decision.kind)
    yield from _extent(decision.extent, kind.extent_unit if kind is not None else "")
    if decision.state is not FindingState.OPEN and not decision.state_reason.strip():
        yield f"{decision.state} needs its reason in words; a finding is never erased"
    for lack in repair_lacks(decision, car):
        yield f"repaired needs {lack}"
    if decision.state_on is not None and decision.state_on > decision.at.date():
        yield "the day of the repair lies ahead"


@_against.register
def _(decision: CheckResult, car: Car) -> Iterator[str]:
    own = decision.check.startswith("own-")
    if own:
        yield from _words(decision.item, "the item")
    else:
        yield from _named(decision.check, "check", car.plan.vocabulary.checks)
    if decision.verdict is CheckVerdict.NOT_TESTED:
        yield from _named(decision.reason, "reason for not testing", car.plan.vocabulary.not_tested_reasons)
    elif decision.on is None and decision.verdict is not CheckVerdict.NOT_FITTED:
        yield "a result needs the day of the test"
    yield from _photos(decision.photos, car)


@_against.register
def _(decision: Measurement, car: Car) -> Iterator[str]:
    yield from _named(decision.measure, "measurement", car.plan.vocabulary.measurements)
    yield from _named(decision.component, "component", car.plan.vocabulary.components())
    if not decision.readings:
        yield "a measurement needs at least one reading"
    asked = car.plan.vocabulary.measurements.get(decision.measure)
    for reading in decision.readings:
        yield from _words(reading.value, "a reading")
        yield from _words(reading.unit, "a reading's unit")
        if asked is not None and reading.unit.strip() and (objection := unit_objection(reading.unit, asked)):
            yield objection
        if objection := reading_objection(reading.value, reading.unit):
            yield objection
    if not decision.instrument.strip():
        yield "a measurement needs its instrument"
    if decision.on is None:
        yield "a measurement needs its day"
    yield from _photos(decision.photos, car)


@_against.register
def _(decision: Statement, car: Car) -> Iterator[str]:
    yield from _words(decision.claim, "the statement")
    yield from _words(decision.subject, "its subject")
    yield from evidence_objections(decision.evidence, car)


@_against.register
def _(decision: SerialReading, car: Car) -> Iterator[str]:
    yield from _words(decision.text, "the serial")
    yield from _photos(decision.photos, car)


@_against.register
def _(decision: Waiver, car: Car) -> Iterator[str]:
    words = car.plan.vocabulary
    known: dict[WaiverOf, Iterable[str]] = {
        WaiverOf.SHOT: _shots(car),
        WaiverOf.PLACE: words.rust_places,
        WaiverOf.COMPONENT: words.components(),
        WaiverOf.FACT: words.facts,
        WaiverOf.RULE: words.signoff,
    }
    yield from _named(decision.subject, f"{decision.of}", known[decision.of])
    yield from _words(decision.reason, "the reason")
    rule = words.signoff.get(decision.subject) if decision.of is WaiverOf.RULE else None
    if rule is not None and not rule.liftable:
        yield f"{rule.id} cannot be lifted by anyone"


@_against.register
def _(decision: Release, car: Car) -> Iterator[str]:
    yield from _photos((decision.sha256,), car)
    yield from _words(decision.words, "what was looked for and seen")


@_against.register
def _(decision: Lead, car: Car) -> Iterator[str]:
    yield from _photos((decision.sha256,), car)


@_against.register
def _(decision: Caption, car: Car) -> Iterator[str]:
    yield from _photos((decision.sha256,), car)
    yield from _words(decision.words, "the caption")
    if len(decision.words) > _LONGEST_CAPTION:
        yield f"the caption is longer than {_LONGEST_CAPTION} characters"
    if len(decision.words.splitlines()) > 1:
        yield "a caption is one line"
    guard = guard_of(car.plan.vocabulary)
    for sentence in guard.judge(decision.words):
        for one in sentence.objections:
            if one.verdict is Verdict.REFUSED:
                yield f"{one.why} Say instead: {one.instead}." if one.instead else one.why


@_against.register
def _(decision: Arranged, car: Car) -> Iterator[str]:
    groups = car.plan.vocabulary.gallery_groups
    yield from _named(decision.group, "gallery group", groups)
    if decision.group in (LEAD_GROUP, FLAWS_GROUP):
        yield f"the order of {groups[decision.group].name.lower()!r} follows from the record; choose the lead instead"
    yield from _photos(decision.photos, car)
    if len(set(decision.photos)) < max(len(decision.photos), 2):
        yield "an order needs two photos or more, each named once"


@_against.register
def _(decision: Signoff, car: Car) -> Iterator[str]:
    yield from _words(decision.role, "the signer's role")
    if bool(decision.key_sha256) != bool(decision.signature):
        yield "a signature by key needs both the key's fingerprint and what the key signed"
    elif decision.signature and not (_HEX_64.match(decision.key_sha256) and _HEX_128.match(decision.signature)):
        yield "a fingerprint has 64 hex digits and a signature 128"


@_against.register
def _(decision: Asked, car: Car) -> Iterator[str]:
    words = car.plan.vocabulary
    yield from _words(decision.question, "the question")
    known: dict[Wanted, Iterable[str]] = {
        Wanted.SHOT: _shots(car),
        Wanted.CHECK: words.checks,
        Wanted.MEASURE: words.measurements,
        Wanted.COMPONENT: words.components(),
    }
    if decision.wanted in known:
        yield from _named(decision.subject, f"{decision.wanted}", known[decision.wanted])
    elif decision.subject:
        yield "what is on no list of the plan has no id; say it in the question"
    if decision.done is not None:
        yield from _words(decision.done_by, "who dealt with it")


@_against.register
def _(decision: Jotting, car: Car) -> Iterator[str]:
    yield from _named(decision.zone, "zone", car.plan.vocabulary.zones)
    yield from _words(decision.text, "the jotting")


@_against.register
def _(decision: Call, car: Car) -> Iterator[str]:
    yield from _words(decision.question, "the question")
    yield from _words(decision.answer, "the answer")
    if decision.basis is not AnswerBasis.NOT_KNOWN and not decision.known_by.strip():
        yield "an answer needs how it is known (photo, test, paper, who said it), or say not-known"
    if decision.edition is not None and decision.edition < 1:
        yield "editions count from 1"
    yield from _photos(decision.photos, car)
    if decision.call_back is not None and decision.call_back < decision.at.date():
        yield "the day to call back lies before the call"
    if decision.promise.strip() and decision.call_back is None:
        yield "a promise to call back needs its day"
    if decision.kept is not None and decision.call_back is None:
        yield "nothing was promised, so nothing can be kept"
    if decision.kept is not None and decision.kept < decision.at.date():
        yield "a promise cannot be kept before the call"


@_against.register
def _(decision: OutletWishes, car: Car) -> Iterator[str]:
    yield from _photos((*decision.pins, *decision.bans, *decision.order), car)
    yield from wishes_objections(decision)


@_against.register
def _(decision: Posting, car: Car) -> Iterator[str]:
    yield from _photos((one.sha256 for one in decision.photos), car)
    yield from posting_objections(decision)
