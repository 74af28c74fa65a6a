"""The listing's text as sentences in parts, each with its rank: what stays when an outlet's limit bites.

Bad findings and what is not known stay before anything that pleases; the worst finding stays longest. The text begins
with the car, and ends with what is not known, with what had to be left out, and with what the text is not. Every
sentence comes from the record with its basis in it; here nothing is added but numbers and headings.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from enum import IntEnum
from typing import Final

from .edition_gallery import shorten
from .language import spoken
from .listing_draft import Gathered
from .phrases import count, listed, say
from .selection_rules import Outlet


class Rank(IntEnum):
    """How long a sentence stays: the smaller, the longer. Everything below `NICE` goes only after all that pleases."""

    ALWAYS = 0
    UNSAFE = 1
    STRUCTURAL = 2
    NEEDS_WORK = 3
    FAULT = 4
    WEAR = 5
    UNSEEN_STRUCTURE = 6
    COSMETIC = 7
    UNSEEN = 8
    UNTESTED = 9
    NOTE = 10
    NICE = 20
    TOLD = 21
    FURTHER = 22


@dataclass(frozen=True, slots=True)
class Sentence:
    """One whole sentence. `about` says what is left out where it is: a finding's number, a zone's name, or ""."""

    text: str
    rank: Rank
    about: str = ""


@dataclass(frozen=True, slots=True)
class Part:
    """Sentences under one heading, "" for the first part, which has none."""

    id: str
    heading: str
    sentences: tuple[Sentence, ...]


@dataclass(frozen=True, slots=True)
class Listing:
    """A listing's text before it is written. `flag` says UNSIGNED in words, "" on a signed record.

    `left_out` are sentences that a limit took; the last part names them.
    """

    title: str
    teaser: str
    flag: str
    house: str
    language: str
    edition_words: str
    parts: tuple[Part, ...]
    left_out: tuple[Sentence, ...] = ()
    title_in_text: bool = True

    def sentences(self) -> tuple[Sentence, ...]:
        """Every sentence, in the order of the text."""
        return tuple(sentence for part in self.parts for sentence in part.sentences)

    @property
    def droppable(self) -> int:
        """How many sentences a limit may take."""
        return sum(one.rank is not Rank.ALWAYS for one in self.sentences())


_LAST: Final = "not-known"
_PARTS: Final = ("car", "findings", "checks", "record", "told", _LAST)


@dataclass(slots=True)
class _Rows:
    by_part: dict[str, list[Sentence]] = field(default_factory=lambda: {part: [] for part in _PARTS})

    def add(self, part: str, text: str, rank: Rank, about: str = "") -> None:
        if text.strip():
            self.by_part[part].append(Sentence(text, rank, about))


def listing_of(gathered: Gathered, outlet: Outlet | None = None) -> Listing:
    """The whole text, nothing left out; title and teaser within the outlet's limits where there is one."""
    rows = _Rows()
    _car(rows, gathered)
    _findings(rows, gathered)
    _tried(rows, gathered)
    _on_record(rows, gathered)
    _not_known(rows, gathered)
    parts = tuple(
        Part(part, say(f"listing.part.{part}"), tuple(sentences))
        for part, sentences in rows.by_part.items()
        if sentences
    )
    draft = gathered.draft
    title_chars = outlet.title_chars if outlet else 0
    teaser_chars = outlet.teaser_chars if outlet else 0
    return Listing(
        title=_title(draft.title, draft.car.details.trim if draft.car.details else "", title_chars),
        teaser=_teaser(parts[0].sentences, draft.flag, teaser_chars),
        flag=draft.flag,
        house=draft.house.name,
        language=spoken().tag,
        edition_words=draft.edition_words,
        parts=parts,
        title_in_text=outlet is None,
    )


def kept(listing: Listing, most: int) -> Listing:
    """The text with its `most` longest-staying sentences besides those that always stay, and what is left out named."""
    every = [(at, one) for at, one in enumerate(listing.sentences()) if one.rank is not Rank.ALWAYS]
    staying = {at for at, _ in sorted(every, key=lambda pair: (pair[1].rank, pair[0]))[: max(0, most)]}
    out = tuple(one for at, one in every if at not in staying)
    parts, at = [], 0
    for part in listing.parts:
        sentences = []
        for one in part.sentences:
            if one.rank is Rank.ALWAYS or at in staying:
                sentences.append(one)
            at += 1
        if part.id == _LAST and out:
            sentences.insert(-_CLOSING, Sentence(_left_out(listing, out), Rank.ALWAYS))
        if sentences:
            parts.append(replace(part, sentences=tuple(sentences)))
    return replace(listing, parts=tuple(parts), left_out=out)


def _title(title: str, trim: str, limit: int) -> str:
    whole = say("listing.title", title=title, trim=trim[:1].lower() + trim[1:]) if trim else title
    if not limit or len(whole) <= limit:
        return whole
    return shorten(title, limit)


def _teaser(sentences: Sequence[Sentence], flag: str, limit: int) -> str:
    """What always stands at the head of the text, in whole sentences as far as the limit goes; the first is cut."""
    told = [flag] if flag else []
    told += [one.text for one in sentences if one.rank < Rank.NEEDS_WORK]
    if not limit:
        return " ".join(told)
    teaser = shorten(told[0], limit)
    for sentence in told[1:]:
        if len(teaser) + 1 + len(sentence) > limit:
            break
        teaser = f"{teaser} {sentence}"
    return teaser


def _car(rows: _Rows, gathered: Gathered) -> None:
    draft = gathered.draft
    rows.add("car", say("listing.car", title=draft.title, stock=draft.car.stock), Rank.ALWAYS)
    rows.add("car", gathered.counts, Rank.ALWAYS)
    rows.add("car", gathered.odometer, Rank.ALWAYS)
    for headline in gathered.headlines:
        rows.add("car", headline, Rank.STRUCTURAL)
    for sentence in gathered.identity:
        rows.add("car", sentence, Rank.NICE)


def _findings(rows: _Rows, gathered: Gathered) -> None:
    for one in gathered.findings:
        rank = _SEVERITIES[one.severity]
        must = one.structural and not one.pictured
        rows.add("findings", one.sentence, Rank.ALWAYS if must else rank, f"{one.number}")
    if not gathered.findings:
        rows.add("findings", say("listing.finding.none"), Rank.ALWAYS)
    if gathered.unpictured:
        rows.add("findings", say("listing.overflow", findings=_numbers(gathered.unpictured)), Rank.ALWAYS)


_SEVERITIES: Final = {
    "unsafe": Rank.UNSAFE,
    "structural": Rank.STRUCTURAL,
    "needs-work": Rank.NEEDS_WORK,
    "wear": Rank.WEAR,
    "cosmetic": Rank.COSMETIC,
    "note": Rank.NOTE,
}


def _tried(rows: _Rows, gathered: Gathered) -> None:
    for sentence in gathered.faults:
        rows.add("checks", sentence, Rank.FAULT, "check")
    for sentence in (*gathered.works, *gathered.measured):
        rows.add("checks", sentence, Rank.NICE)


def _on_record(rows: _Rows, gathered: Gathered) -> None:
    for sentence in (*gathered.statements, *gathered.good):
        rows.add("record", sentence, Rank.NICE)
    rows.add("record", gathered.nothing_found, Rank.FURTHER)
    for sentence in gathered.told:
        rows.add("told", sentence, Rank.TOLD)


def _not_known(rows: _Rows, gathered: Gathered) -> None:
    rows.add(_LAST, gathered.parts, Rank.UNSEEN, "parts")
    for zone in gathered.unseen:
        rank = Rank.UNSEEN_STRUCTURE if zone.structure else Rank.UNSEEN
        for sentence in zone.sentences:
            rows.add(_LAST, sentence, rank, f"unseen:{zone.name}")
    for zone in gathered.untested:
        rows.add(_LAST, zone.sentences[0], Rank.UNTESTED, f"untested:{zone.name}")
    rows.add(_LAST, gathered.unanswered, Rank.UNTESTED, "unanswered")
    rows.add(_LAST, gathered.withheld, Rank.UNTESTED, "withheld")
    rows.add(_LAST, say("listing.silent"), Rank.ALWAYS)
    rows.add(_LAST, gathered.full_page, Rank.ALWAYS)
    rows.add(_LAST, say("listing.is-not"), Rank.ALWAYS)


_CLOSING: Final = 3
"""Sentences that close the last part; what was left out is said before them."""


def _numbers(numbers: Sequence[int]) -> str:
    return say("listing.numbers.one" if len(numbers) == 1 else "listing.numbers", numbers=listed(sorted(numbers)))


def _left_out(listing: Listing, out: Sequence[Sentence]) -> str:
    """One sentence that names what a limit took: findings by number, unseen and untested by place."""
    return say("listing.cut", what="; ".join(_named(listing, out)))


def _named(listing: Listing, out: Sequence[Sentence]) -> Iterator[str]:
    numbers = sorted(int(one.about) for one in out if one.about.isdigit())
    if numbers:
        yield _numbers(numbers)
    told = len(numbers)
    for key in ("unseen", "untested"):
        mine = [one.about for one in out if one.about.startswith(f"{key}:")]
        told += len(mine)
        if len(mine) == sum(one.about.startswith(f"{key}:") for one in listing.sentences()) > 0:
            yield say(f"listing.cut.{key}.all")
        elif mine:
            zones = dict.fromkeys(one.removeprefix(f"{key}:") for one in mine)
            yield say(f"listing.cut.{key}", zones="; ".join(filter(None, zones)))
    faults = sum(one.about == "check" for one in out)
    if faults:
        yield count("listing.cut.checks", faults)
    if any(one.about == "unanswered" for one in out):
        yield say("listing.cut.unanswered")
    rest = len(out) - told - faults - sum(one.about == "unanswered" for one in out)
    if rest:
        yield count("listing.cut.rest", rest)
