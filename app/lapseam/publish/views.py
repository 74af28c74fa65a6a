"""What the templates are given: page models joined with the picture files that show them, laid out in rows.

A row of pictures has one height and is never cropped: its columns are as wide as the pictures' shapes.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import groupby

from lapseam.domain.edition import (
    Chapter,
    FindingShown,
    Gallery,
    Line,
    MarkShown,
    PictureShown,
    Segment,
)
from lapseam.domain.finding import MarkShape
from lapseam.domain.photo import MediaKind
from lapseam.domain.plan import Tone

from .formats import Format

_ANCHOR = re.compile(r"[A-Za-z][A-Za-z0-9_-]*\Z")
_COLON = re.compile("[ \u00a0\u202f]?: |\uff1a")
_WIDEST_PX = 1264
_CONTENT_VW = 93.2
_GAP_PX = 24
_WIDE_GAP_PX = 40
"""`edition.css`: the content's width on a wide page and as a share of a narrower one, the gaps between columns."""
NARROW = "calc(100vw - 32px)"
"""How wide a picture is on a page of one column."""
HERO_SIZES = f"(min-width: 85em) 832px, (min-width: 62em) calc({_CONTENT_VW * 0.68:.1f}vw - 27px), 100vw"
FLAW_SIZES = f"(min-width: 85em) 360px, (min-width: 46em) 28vw, {NARROW}"


@dataclass(frozen=True, slots=True)
class PictureFile:
    """One published picture file: address relative to the page, upright pixels, SHA-256 and size of its bytes."""

    href: str
    width: int
    height: int
    sha256: str = ""
    octets: int = 0
    format: Format = Format.JPEG


Pictures = Mapping[str, tuple[PictureFile, ...]]
"""Files by the original's SHA-256: format by format in the order in which a page offers them, narrowest first."""


@dataclass(frozen=True, slots=True)
class Source:
    """The files of one format that a browser may choose from; `srcset` names each with its width."""

    media_type: str
    srcset: str


@dataclass(frozen=True, slots=True)
class MarkView:
    """A mark as drawn: where it stands as CSS, and which corner carries its number."""

    finding: int
    words: str
    classes: str
    style: str


@dataclass(frozen=True, slots=True)
class FindingView:
    """A finding beside a picture; `id` only where it stands on the page for the first time."""

    finding: FindingShown
    id: str
    good: bool


@dataclass(frozen=True, slots=True)
class PictureView:
    """A picture with its files, marks and findings. `about` are the small words below the caption.

    `look` names the close view of the photo; it is the frame's id where the photo stands for the first time (`id`).
    `sources` are the formats that a browser takes if it knows them, `src` and `srcset` the JPEGs for every other,
    `full` the largest JPEG, which opens by itself and says what it shows. `clip` is the clip's address where it plays
    here, `poster` its still, fetched with the page and therefore the narrowest; a still may also stand for a clip that
    is not shown.
    """

    picture: PictureShown
    sources: tuple[Source, ...]
    src: str
    srcset: str
    full: str
    clip: str
    poster: str
    stands_for_a_clip: bool
    width: int
    height: int
    about: tuple[str, ...]
    marks: tuple[MarkView, ...]
    findings: tuple[FindingView, ...]
    look: str = ""

    @property
    def id(self) -> str:
        """The frame's id, "" where the photo is shown again."""
        return "" if self.picture.again else self.look

    @property
    def numbers(self) -> str:
        """The numbers of the findings it shows, parted by spaces."""
        return " ".join(str(shown.finding.number) for shown in self.findings)

    @property
    def beside(self) -> str:
        """The caption where the findings stand beside it and need not be said twice."""
        return self.picture.subject or self.picture.caption

    @property
    def aspect(self) -> str:
        """Width over height, four digits."""
        return f"{self.width / self.height:.4f}"


@dataclass(frozen=True, slots=True)
class Row:
    """Pictures that stand side by side: `tells` is one picture with its findings, `grand` one as wide as the page."""

    pictures: tuple[PictureView, ...]
    tells: bool = False
    grand: bool = False

    @property
    def columns(self) -> str:
        """CSS columns, each as wide as its picture's shape, so that all have one height."""
        return " ".join(f"minmax(0,{view.aspect}fr)" for view in self.pictures)

    @property
    def sizes(self) -> tuple[str, ...]:
        """The `sizes` of each picture: how wide `edition.css` lays it, so that a browser takes no larger file."""
        if self.tells or (len(self.pictures) == 1 and not self.grand):
            return (_sizes(7 / 12, _WIDE_GAP_PX, self.pictures[0], most_vh=84),)
        if self.grand:
            return (_sizes(1, 0, self.pictures[0], most_vh=96),)
        shapes = sum(view.width / view.height for view in self.pictures)
        gaps = _GAP_PX * (len(self.pictures) - 1)
        return tuple(_sizes(view.width / view.height / shapes, gaps, view) for view in self.pictures)


def _sizes(share: float, gaps_px: int, view: PictureView, most_vh: int = 0) -> str:
    """`sizes` of a picture that takes a share of the page's width without its gaps, nor is higher than so many vh."""
    wide, middle = f"{round((_WIDEST_PX - gaps_px) * share)}px", f"{_CONTENT_VW * share:.1f}vw"
    if gaps_px:
        middle = f"calc({middle} - {round(gaps_px * share)}px)"
    if most_vh and view.width < view.height:
        high = f"{most_vh * view.width / view.height:.0f}vh"
        wide, middle = f"min({wide}, {high})", f"min({middle}, {high})"
    return f"(min-width: 85em) {wide}, (min-width: 46em) {middle}, {NARROW}"


@dataclass(frozen=True, slots=True)
class Flaw:
    """One entry of the flaws group: findings that are shown by the same pictures, said once, and those pictures."""

    findings: tuple[FindingView, ...]
    rows: tuple[Row, ...]


@dataclass(frozen=True, slots=True)
class ChapterView:
    """One gallery group: in rows, or as `flaws` where it gathers them all again."""

    chapter: Chapter
    rows: tuple[Row, ...]
    flaws: tuple[Flaw, ...] = ()

    @property
    def found(self) -> bool:
        """Whether a picture in its rows shows a finding."""
        return any(row.tells for row in self.rows)


@dataclass(frozen=True, slots=True)
class Tally:
    """How many photos show a finding, of how many; `flaws` is the anchor of the group that gathers them, "" if none."""

    found: int
    all: int
    flaws: str


@dataclass(frozen=True, slots=True)
class SegmentView:
    """One zone of the ribbon and where a click leads: its first picture, or what was not seen of it."""

    name: str
    words: str
    cells: tuple[object, ...]
    href: str


@dataclass(frozen=True, slots=True)
class LegendView:
    """One line of the ribbon's legend with the classes that draw its cell."""

    label: str
    words: str
    classes: str


def safe_anchor(anchor: str) -> str:
    """The anchor, if it may stand in an address and an id as it is.

    Raises:
        ValueError: it may not; the page model is at fault.
    """
    if not _ANCHOR.match(anchor):
        raise ValueError(f"{anchor!r} is no safe anchor")
    return anchor


def stills(files: Sequence[PictureFile], kind: Format = Format.JPEG) -> tuple[PictureFile, ...]:
    """The files of one format, narrowest first."""
    return tuple(file for file in files if file.format is kind)


def srcset(files: Sequence[PictureFile]) -> str:
    """The files as HTML's `srcset` lists them."""
    return ", ".join(f"{file.href} {file.width}w" for file in files)


def sources(files: Sequence[PictureFile]) -> tuple[Source, ...]:
    """The formats that are offered before JPEG, in their order."""
    offered = ((kind, stills(files, kind)) for kind in (Format.AVIF, Format.WEBP))
    return tuple(Source(kind.value, srcset(found)) for kind, found in offered if found)


class GalleryViews:
    """Joins a gallery with its picture files."""

    def __init__(self, gallery: Gallery, pictures: Pictures, not_seen_anchor: str) -> None:
        self._gallery, self._files = gallery, pictures
        self._not_seen = safe_anchor(not_seen_anchor)
        self._ids: set[str] = set()
        self._lead = lead(gallery)
        self.hero = self._picture(self._lead) if self._lead is not None else None
        self.chapters = tuple(self._chapter(chapter) for chapter in gallery.chapters)
        self.segments = tuple(self._segment(segment) for segment in gallery.ribbon)
        self.legend = tuple(_legend(line) for line in gallery.legend)
        every = gallery.pictures()
        self.tally = Tally(sum(bool(one.findings) for one in every), len(every), self._flaws_anchor())

    def _flaws_anchor(self) -> str:
        return next((view.chapter.anchor for view in self.chapters if view.flaws), "")

    def _chapter(self, chapter: Chapter) -> ChapterView:
        safe_anchor(chapter.anchor)
        shown = tuple(self._picture(picture) for picture in chapter.pictures if picture is not self._lead)
        if shown and all(view.picture.again for view in shown):
            return ChapterView(chapter, (), tuple(flaws(shown)))
        opens = len(shown) < len(chapter.pictures)
        laid = (replace(row, grand=opens and len(row.pictures) == 1) for row in rows(shown))
        return ChapterView(chapter, tuple(laid))

    def _picture(self, picture: PictureShown) -> PictureView:
        files = self._files[picture.sha256]
        safe_anchor(picture.anchor)
        jpegs = stills(files)
        largest = jpegs[-1]
        middle = jpegs[min(1, len(jpegs) - 1)]
        clip = next((file.href for file in files if file.format is Format.CLIP), "")
        about = (picture.zone_name, picture.slot_words, picture.taken_words, picture.duration)
        return PictureView(
            picture=picture,
            sources=sources(files),
            src=middle.href,
            srcset=srcset(jpegs),
            full=largest.href,
            clip="" if picture.again else clip,
            poster=jpegs[0].href,
            stands_for_a_clip=picture.media is MediaKind.CLIP and not clip,
            width=largest.width,
            height=largest.height,
            about=tuple(words for words in about if words),
            marks=tuple(mark_view(mark) for mark in picture.marks),
            findings=tuple(self._finding(finding) for finding in picture.findings),
            look=f"look-{picture.number}",
        )

    def _finding(self, finding: FindingShown) -> FindingView:
        anchor = safe_anchor(finding.anchor)
        first = anchor not in self._ids
        self._ids.add(anchor)
        return FindingView(finding, anchor if first else "", finding.tone is Tone.GOOD)

    def _segment(self, segment: Segment) -> SegmentView:
        target = f"#{safe_anchor(segment.target)}" if segment.target else f"disclosure.html#{self._not_seen}"
        return SegmentView(segment.name, without(segment.name, segment.words), segment.cells, target)


def lead(gallery: Gallery) -> PictureShown | None:
    """The picture that opens the page: the hero as it stands in its chapter, where it is then not shown again."""
    if gallery.hero is None:
        return None
    return next((one for one in gallery.pictures() if one.sha256 == gallery.hero.sha256), gallery.hero)


def rows(pictures: Sequence[PictureView]) -> Iterator[Row]:
    """Lay pictures in rows, in their order: one with findings alone, the others by two, an odd lot ending by three."""
    run: list[PictureView] = []
    for view in pictures:
        if view.findings:
            yield from _even(run)
            run = []
            yield Row((view,), tells=True)
        else:
            run.append(view)
    yield from _even(run)


def flaws(pictures: Sequence[PictureView]) -> Iterator[Flaw]:
    """Gather pictures that follow each other and begin with one finding; each finding is said where it comes first."""
    said: set[int] = set()
    for _, found in groupby(pictures, key=lambda view: view.findings[0].finding.number if view.findings else 0):
        views = tuple(found)
        there = {shown.finding.number: shown for view in views for shown in view.findings}
        fresh = tuple(shown for number, shown in there.items() if number not in said)
        said.update(there)
        plain = [replace(view, findings=()) for view in views]
        yield Flaw(fresh or views[0].findings, tuple(rows(plain)))


def _even(run: Sequence[PictureView]) -> Iterator[Row]:
    place = 0
    while place < len(run):
        left = len(run) - place
        take = 3 if left == 3 else min(2, left)
        yield Row(tuple(run[place : place + take]))
        place += take


def mark_view(mark: MarkShown) -> MarkView:
    """Where a mark stands, with its number on the corner that stays inside the picture."""
    point = mark.shape is MarkShape.POINT
    classes = ["point" if point else "box"]
    if mark.x < 0.08:
        classes.append("right" if mark.x + mark.width < 0.9 else "left")
    if mark.y < 0.1:
        classes.append("low")
    shares = zip("xywh", (mark.x, mark.y, mark.width, mark.height), strict=True)
    style = ";".join(f"--{name}:{min(1.0, max(0.0, share)):.4f}" for name, share in shares if not point or name in "xy")
    return MarkView(mark.finding, mark.words, " ".join(classes), style)


def without(subject: str, words: str) -> str:
    """Words that follow their subject's own heading: the subject and its colon are not said again.

    The colon may stand behind a space of its own, or be as wide as a sign, as some languages write it.
    """
    rest = words
    if words.startswith(subject) and (colon := _COLON.match(words, len(subject))):
        rest = words[colon.end() :]
    return rest[:1].upper() + rest[1:] if rest and rest != words else words


def marks_by_photo(gallery: Gallery) -> dict[str, tuple[MarkView, ...]]:
    """The marks on every photo shown, for the condition page's small pictures."""
    return {picture.sha256: tuple(mark_view(mark) for mark in picture.marks) for picture in gallery.pictures()}


def smalls(pictures: Pictures) -> dict[str, Mapping[str, str | int | tuple[Source, ...]]]:
    """The narrowest file of every photo, for the condition page's small pictures."""
    return {
        digest: {"src": jpegs[0].href, "width": jpegs[0].width, "height": jpegs[0].height, "sources": _narrowest(files)}
        for digest, files in pictures.items()
        if (jpegs := stills(files))
    }


def _narrowest(files: Sequence[PictureFile]) -> tuple[Source, ...]:
    """The narrowest file of each format that is offered before JPEG."""
    firsts = [found[0] for kind in (Format.AVIF, Format.WEBP) if (found := stills(files, kind))]
    return tuple(Source(file.format.value, file.href) for file in firsts)


def _legend(line: Line) -> LegendView:
    return LegendView(line.label, line.words, line.id)
