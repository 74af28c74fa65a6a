"""What a listing's text is made of: the record's sentences, with the photos' numbers as the reader sees them.

At an outlet a photo has the number of its place there; what no photo there shows keeps the numbers of the full page and
says so. What is not seen and not tested is gathered by zone, a sentence each; the full page has every reason.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass

from . import wording
from .coverage import PlaceCoverage, ShotCoverage, State
from .coverage_gaps import place_name
from .edition_draft import Draft, good_findings
from .edition_facts import headlines, identity, odometer_words, summary
from .edition_gaps import not_seen, not_tested
from .finding import Finding, Severity
from .page import GapShown
from .phrases import count, day, listed, say
from .sequence import worst_first
from .showing import withheld
from .statement import Basis, CheckVerdict

Places = Mapping[str, int]
"""Places at an outlet by SHA-256, from 1."""


@dataclass(frozen=True, slots=True)
class FoundSentence:
    """An open finding in words; `pictured` where a photo the reader has before him shows it."""

    number: int
    severity: str
    structural: bool
    pictured: bool
    sentence: str


@dataclass(frozen=True, slots=True)
class ZoneSentence:
    """What is open in one zone, dearest first; `structure` where the zone holds load-carrying parts."""

    name: str
    sentences: tuple[str, ...]
    structure: bool = False


@dataclass(frozen=True, slots=True)
class Gathered:
    """Every sentence a listing may hold. "" where there is nothing to say.

    `unpictured` are the numbers of findings that the outlet's photos do not show, other than structural ones.
    """

    draft: Draft
    full_page: str
    counts: str
    odometer: str
    headlines: tuple[str, ...]
    identity: tuple[str, ...]
    findings: tuple[FoundSentence, ...]
    unpictured: tuple[int, ...]
    faults: tuple[str, ...]
    works: tuple[str, ...]
    measured: tuple[str, ...]
    statements: tuple[str, ...]
    told: tuple[str, ...]
    good: tuple[str, ...]
    nothing_found: str
    parts: str
    unseen: tuple[ZoneSentence, ...]
    untested: tuple[ZoneSentence, ...]
    unanswered: str
    withheld: str


def gather(draft: Draft, *, published: bool, places: Places | None = None) -> Gathered:
    """Gather the sentences of a record.

    Args:
        published: whether the edition that `draft` numbers stands published under this very record.
        places: the outlet's photos by place; None numbers photos as the full page does.
    """
    told = _Told(draft, places)
    unseen, untested = not_seen(draft), not_tested(draft)
    checks = [(one.verdict, told.check(key)) for key, one in draft.car.checks.items()]
    statements = [(one.evidence.basis, told.statement(at)) for at, one in enumerate(draft.car.statements)]
    found = tuple(told.finding(one) for one in worst_first(draft.car))
    hidden = withheld(draft.car)
    faulty = (CheckVerdict.DOES_NOT_WORK, CheckVerdict.INTERMITTENT)
    return Gathered(
        draft=draft,
        full_page=_full_page(draft, published),
        counts=_counts(draft, unseen, untested),
        odometer=say("listing.plain", label=say("identity.odometer"), words=odometer_words(draft.car.details)),
        headlines=headlines(draft, ())[:1] if found else (),
        identity=tuple(_named(draft)),
        findings=found,
        unpictured=tuple(one.number for one in found if not one.pictured and not one.structural),
        faults=tuple(words for verdict, words in checks if verdict in faulty),
        works=tuple(words for verdict, words in checks if verdict in (CheckVerdict.WORKS, CheckVerdict.NOT_FITTED)),
        measured=tuple(told.measurement(at) for at in range(len(draft.car.measurements))),
        statements=tuple(words for basis, words in statements if basis is not Basis.TOLD),
        told=tuple(words for basis, words in statements if basis is Basis.TOLD),
        good=tuple(told.plain_finding(one) for one in good_findings(draft)),
        nothing_found=_nothing_found(draft),
        parts=_parts(draft, untested),
        unseen=_unseen(draft),
        untested=_untested(untested),
        unanswered=_unanswered(unseen),
        withheld=say("listing.withheld", photos=count("count.photos", len(hidden))) if hidden else "",
    )


class _Told:
    """Sentences with photo numbers as the reader sees them."""

    def __init__(self, draft: Draft, places: Places | None) -> None:
        self.draft, self.places = draft, places

    def finding(self, finding: Finding) -> FoundSentence:
        number, severity = finding.number, finding.severity
        sentence = say(
            "listing.finding",
            number=number,
            severity=say(f"listing.severity.{severity.value}"),
            sentence=self.plain_finding(finding),
        )
        pictured = self.places is None or any(sha256 in self.places for sha256 in finding.photos)
        structural = severity.rank >= Severity.STRUCTURAL.rank
        return FoundSentence(number, severity.value, structural, pictured, sentence)

    def plain_finding(self, finding: Finding) -> str:
        files = (*finding.photos, *finding.evidence.photos)
        return self._said(files, lambda numbers: wording.say(finding, self.draft.words, numbers))

    def check(self, key: str) -> str:
        result = self.draft.car.checks[key]
        asked = self.draft.words.checks.get(result.check)
        return self._said(
            result.photos, lambda numbers: wording.check_sentence(result, asked, self.draft.words, numbers)
        )

    def measurement(self, at: int) -> str:
        taken = self.draft.car.measurements[at]
        asked, part = self.draft.words.measurements.get(taken.measure), self.draft.part(taken.component)
        return self._said(taken.photos, lambda numbers: wording.measurement_sentence(taken, asked, part, numbers))

    def statement(self, at: int) -> str:
        statement = self.draft.car.statements[at]
        return self._said(statement.evidence.photos, lambda numbers: wording.statement_sentence(statement, numbers))

    def _said(self, files: Iterable[str], words: Callable[[wording.Numbers], str]) -> str:
        every = tuple(files)
        if self.places is None or not every:
            return words(self.draft.numbers)
        if any(sha256 in self.places for sha256 in every):
            return words(self.places)
        sentence = words(self.draft.numbers)
        if not any(sha256 in self.draft.numbers for sha256 in every):
            return sentence
        return say("listing.full-page", sentence=sentence.rstrip("."))


def _full_page(draft: Draft, published: bool) -> str:
    if not published:
        return say("listing.full.unpublished")
    return say("listing.full", number=draft.number, date=day(draft.made_at.date()))


def _counts(draft: Draft, unseen: Sequence[GapShown], untested: Sequence[GapShown]) -> str:
    found = Counter(one.severity for one in worst_first(draft.car))
    findings = count("count.findings", sum(found.values()))
    severities = next(iter(summary(draft, tuple(untested)))).words
    if found:
        words = severities[:1].lower() + severities[1:]
        findings = say("listing.counts.severity", findings=findings, severities=words)
    return say("listing.counts", findings=findings, gaps=count("count.gaps", len(unseen) + len(untested)))


def _named(draft: Draft) -> Iterable[str]:
    """Trim, colours and such, as the house noted them; serials stay on the full page."""
    wanted = {say(f"identity.{key}") for key in ("trim", "colour", "interior")}
    for line in identity(draft):
        if line.label in wanted:
            yield say("listing.noted", label=line.label, words=line.words, basis=line.basis)


def _nothing_found(draft: Draft) -> str:
    with_findings = {one.component for one in draft.car.findings}
    looked = [
        part.name
        for part in draft.words.components().values()
        if part.id in draft.car.looked and part.id not in with_findings
    ]
    return say("listing.nothing", parts="; ".join(looked)) if looked else ""


def _parts(draft: Draft, untested: Sequence[GapShown]) -> str:
    label = say("summary.parts")
    words = next((line.words for line in summary(draft, tuple(untested)) if line.label == label), "")
    return say("listing.parts", words=words) if words else ""


def _unseen(draft: Draft) -> tuple[ZoneSentence, ...]:
    """Up to three sentences a zone, in walking order: not seen, rust-prone not fully shown, seen in part."""
    open_ids = {one for gap in not_seen(draft) for one in gap.ids}
    gaps: dict[str, dict[str, list[str]]] = {}

    def put(zone: str, key: str, subject: str) -> None:
        gaps.setdefault(zone, {}).setdefault(key, []).append(subject)

    for shot in draft.coverage.shots:
        if shot.shot.id in open_ids:
            put(shot.shot.zone, _key(shot), shot.shot.title)
    for place in draft.coverage.places:
        part = next((part for part in map(draft.part, place.place.components) if part), None)
        if place.place.id in open_ids and part is not None:
            put(part.zone, "places", place_name(place))
    return tuple(
        ZoneSentence(zone.name, _zone_sentences(zone.name, gaps[zone.id]), any(part.struct for part in zone.components))
        for zone in draft.words.zones.values()
        if zone.id in gaps
    )


def _key(covered: ShotCoverage | PlaceCoverage) -> str:
    return "partly" if covered.state is State.PARTLY else "unseen"


def _zone_sentences(zone: str, gaps: Mapping[str, Sequence[str]]) -> tuple[str, ...]:
    return tuple(
        say(f"listing.zone.{key}", zone=zone, subjects="; ".join(dict.fromkeys(gaps[key])))
        for key in ("unseen", "places", "partly")
        if gaps.get(key)
    )


def _untested(untested: Sequence[GapShown]) -> tuple[ZoneSentence, ...]:
    zones: dict[str, list[str]] = {}
    for gap in untested:
        zones.setdefault(gap.zone_name, []).append(gap.subject)
    return tuple(
        ZoneSentence(
            zone,
            (say("listing.untested" if zone else "listing.untested.plain", zone=zone, items="; ".join(items)),),
        )
        for zone, items in zones.items()
    )


def _unanswered(unseen: Sequence[GapShown]) -> str:
    facts = [gap.subject[:1].lower() + gap.subject[1:] for gap in unseen if gap.kind == "fact"]
    return say("listing.unanswered", facts=listed(facts)) if facts else ""
