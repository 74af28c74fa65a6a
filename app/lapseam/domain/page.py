"""Page models: finished values for templates, which do nothing but loop over them.

Every text is a whole string, every number is a number, every state carries its word. Nothing here names a person, a
camera's serial or a position; roles stand for persons. `edition.build` makes these values.

Photos are named by `sha256` (publish knows which file shows it) and by their gallery `number`, which readers see.
Anchors are safe as HTML ids and file names and stay the same from edition to edition where the thing does.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, Generic, TypeVar

from .coverage import State
from .decision import Slot
from .finding import MarkShape, Severity
from .language import ENGLISH, Language
from .photo import MediaKind
from .plan import Tone
from .statement import Basis, CheckVerdict

Row = TypeVar("Row")


@dataclass(frozen=True, slots=True)
class Section(Generic[Row]):
    """One chapter of the disclosure page: heading, one sentence that always stands below it, and its rows.

    Without rows the `lead` says so in words; a section is never silently empty.
    """

    anchor: str
    heading: str
    lead: str
    rows: tuple[Row, ...] = ()


@dataclass(frozen=True, slots=True)
class Line:
    """A label and what stands beside it. `basis` is the phrase that says how it is known, "" where it is no claim.

    `id` names the line where a page draws something for it, in no language.
    """

    label: str
    words: str
    basis: str = ""
    id: str = ""


@dataclass(frozen=True, slots=True)
class Cell:
    """One shot in the ribbon. `words` says state and waiver ("partly, waived"); `title` what the shot shows."""

    shot: str
    title: str
    state: State
    waived: bool
    words: str


@dataclass(frozen=True, slots=True)
class Segment:
    """One zone in the ribbon, in walking order. `target` is the anchor of its first picture, "" if it has none."""

    zone: str
    name: str
    words: str
    cells: tuple[Cell, ...]
    target: str = ""


@dataclass(frozen=True, slots=True)
class PhotoRef:
    """A pointer to a photo of the gallery ("photo 12")."""

    sha256: str
    number: int
    anchor: str
    words: str


@dataclass(frozen=True, slots=True)
class MarkShown:
    """A mark to draw on a picture, in shares 0..1 of the upright picture; `words` names it for who cannot see it."""

    finding: int
    shape: MarkShape
    x: float
    y: float
    width: float
    height: float
    words: str


@dataclass(frozen=True, slots=True)
class FindingShown:
    """One finding as printed. `sentence` is whole, with its basis; the other texts are its parts for a table.

    `state_words` is "" while the finding is open; `origin_words` and `work_words` are "" where nothing was said.
    """

    number: int
    anchor: str
    kind: str
    name: str
    tone: Tone
    severity: Severity
    severity_words: str
    zone: str
    zone_name: str
    component: str
    place: str
    extent: str
    sentence: str
    basis: Basis
    basis_words: str
    photos: tuple[PhotoRef, ...] = ()
    photo_note: str = ""
    state_words: str = ""
    origin_words: str = ""
    work_words: str = ""


@dataclass(frozen=True, slots=True)
class PictureShown:
    """One picture of the gallery. `again` marks the second showing of a photo, in the flaws group.

    `width` and `height` are upright pixels of the original; `duration` is "" for a still; `taken_on` an ISO day or "".
    `subject` is the caption without its findings, for where they stand beside it.
    """

    sha256: str
    number: int
    number_words: str
    anchor: str
    shot: str
    zone: str
    zone_name: str
    caption: str
    alt: str
    media: MediaKind
    width: int
    height: int
    taken_words: str = ""
    taken_on: str = ""
    duration: str = ""
    slot: Slot | None = None
    slot_words: str = ""
    again: bool = False
    marks: tuple[MarkShown, ...] = ()
    findings: tuple[FindingShown, ...] = ()
    subject: str = ""


@dataclass(frozen=True, slots=True)
class Chapter:
    """One gallery group with its pictures. `not_seen` are the gaps of its zones, each a sentence."""

    id: str
    anchor: str
    name: str
    words: str
    pictures: tuple[PictureShown, ...]
    not_seen: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Gallery:
    """The gallery page. `flag` is "" on a signed edition and says UNSIGNED in words on any other."""

    title: str
    subtitle: str
    edition_words: str
    house: str
    language: str
    flag: str
    hero: PictureShown | None
    ribbon: tuple[Segment, ...]
    ribbon_words: str
    chapters: tuple[Chapter, ...]
    count_words: str
    legend: tuple[Line, ...] = ()

    def pictures(self) -> tuple[PictureShown, ...]:
        """Every photo once, in gallery order."""
        return tuple(picture for chapter in self.chapters for picture in chapter.pictures if not picture.again)


@dataclass(frozen=True, slots=True)
class CheckShown:
    """One function check as printed."""

    check: str
    item: str
    zone_name: str
    verdict: CheckVerdict
    verdict_words: str
    conditions: str
    note: str
    sentence: str
    photos: tuple[PhotoRef, ...] = ()


@dataclass(frozen=True, slots=True)
class ReadingShown:
    """One reading: where, as read with its unit, and converted and marked so ("about 4.3 mil, converted")."""

    place: str
    as_read: str
    converted: str


@dataclass(frozen=True, slots=True)
class MeasurementShown:
    """Readings of one kind at one component as printed; `sentence` holds them all with the basis."""

    measure: str
    name: str
    component: str
    readings: tuple[ReadingShown, ...]
    instrument: str
    uncertainty: str
    note: str
    sentence: str
    photos: tuple[PhotoRef, ...] = ()


@dataclass(frozen=True, slots=True)
class PartShown:
    """What is recorded of one part's origin and of the work done to it: two questions."""

    component: str
    origin_words: str
    work_words: str
    sentence: str
    findings: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class StatementShown:
    """One statement as printed, with its basis in the same sentence."""

    number: int
    subject: str
    sentence: str
    basis: Basis
    basis_words: str
    photos: tuple[PhotoRef, ...] = ()


@dataclass(frozen=True, slots=True)
class GapShown:
    """Something not seen or not tested, with its reason, in one sentence.

    `kind` is shot, component (one row for a zone's parts), place, check or fact; `ids` are the ids it speaks of.
    """

    kind: str
    subject: str
    zone_name: str
    reason: str
    sentence: str
    ids: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class FindingRef:
    """A pointer to a finding of the condition page."""

    number: int
    anchor: str


@dataclass(frozen=True, slots=True)
class ZoneShown:
    """One zone of the index: its findings in words and as pointers, what else is on file or open in `words`.

    `first_photo` is the number of its first photo, 0 if none is shown.
    """

    zone: str
    zone_name: str
    found_words: str
    words: str
    findings: tuple[FindingRef, ...] = ()
    first_photo: int = 0


@dataclass(frozen=True, slots=True)
class SeverityGroup:
    """The findings of one severity, by zone in walking order and then by number."""

    severity: Severity
    heading: str
    findings: tuple[FindingShown, ...]


@dataclass(frozen=True, slots=True)
class Disclosure:
    """The disclosure page, in the order it is printed."""

    title: str
    edition_words: str
    stock_words: str
    house: str
    language: str
    flag: str
    signed_words: str
    what_it_is: Section[str]
    what_it_is_not: Section[str]
    headlines: tuple[str, ...]
    identity: Section[Line]
    summary: Section[Line]
    zones: Section[ZoneShown]
    findings: Section[SeverityGroup]
    not_seen: Section[GapShown]
    not_tested: Section[GapShown]
    good: Section[FindingShown]
    nothing_found: Section[Line]
    checks: Section[CheckShown]
    measurements: Section[MeasurementShown]
    originality: Section[PartShown]
    statements: Section[StatementShown]
    told: Section[StatementShown]
    closed: Section[FindingShown]
    edits: Section[Line]
    withheld: Section[Line]
    waivers: Section[Line]
    looked_by: Section[Line]
    changed: Section[str]
    definitions: Section[Line]


@dataclass(frozen=True, slots=True)
class PublishedPhoto:
    """What one published picture file carries besides its pixels: caption, alt text and the day, for its metadata.

    `captured` says that a camera took the still: its metadata name a make and an exposure. A clip's frame is none.
    """

    sha256: str
    number: int
    media: MediaKind
    title: str
    caption: str
    alt: str
    taken_on: str
    marks: tuple[MarkShown, ...] = ()
    captured: bool = False


@dataclass(frozen=True, slots=True)
class PublicRecord:
    """The published record, ready for JSON: text, whole numbers, floats, true/false, lists and objects only."""

    data: Mapping[str, Any] = field(default_factory=dict)

    def as_dict(self) -> dict[str, Any]:
        """A fresh plain copy that a JSON writer takes."""
        return {key: _plain(value) for key, value in self.data.items()}


def _plain(value: Any) -> Any:
    if isinstance(value, Mapping):
        return {key: _plain(inner) for key, inner in value.items()}
    if isinstance(value, list | tuple):
        return [_plain(inner) for inner in value]
    return value


@dataclass(frozen=True, slots=True)
class Edition:
    """Everything of one published version but the picture files: pages, record, JSON-LD and what photos carry.

    `made_at` is ISO 8601; `revision` the journal entry that the edition was made from; `language` what its words are
    in, for what publishing still has to say.
    """

    number: int
    stock: str
    made_at: str
    revision: int
    signed: bool
    gallery: Gallery
    disclosure: Disclosure
    record: PublicRecord
    json_ld: Mapping[str, Any]
    photos: tuple[PublishedPhoto, ...]
    language: Language = ENGLISH
