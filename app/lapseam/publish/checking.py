"""The last look at an edition before it takes its place: links, metadata, counts and flags, each fault in words."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Iterator
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import unquote, urlsplit

from lapseam.domain.edition import Edition, PictureShown

from . import bag, bare, bare_boxes, bare_webp, pages, xmp
from .formats import Format
from .photo_notes import notes_of
from .verify import verify
from .views import lead

_ADDRESSES = {"href", "src", "poster", "data", "action"}


class PageRead(HTMLParser):
    """A page read back: its ids, the addresses it names, its photographs, findings and gaps, its visible text."""

    def __init__(self, text: str) -> None:
        super().__init__(convert_charrefs=True)
        self.ids: list[str] = []
        self.addresses: list[str] = []
        self.classes: Counter[str] = Counter()
        self.scripts: list[str] = []
        self.linked_data: list[str] = []
        self.words: list[str] = []
        self._inside = ""
        self.feed(text)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = {name: value or "" for name, value in attrs}
        if "id" in given:
            self.ids.append(given["id"])
        self.addresses.extend(value for name, value in given.items() if name in _ADDRESSES)
        if "srcset" in given:
            self.addresses.extend(part.split()[0] for part in given["srcset"].split(",") if part.strip())
        self.classes.update(f"{tag}.{name}" for name in given.get("class", "").split())
        if tag in ("script", "style"):
            self._inside = "ld" if given.get("type") == "application/ld+json" else tag

    def handle_endtag(self, tag: str) -> None:
        if tag in ("script", "style"):
            self._inside = ""

    def handle_data(self, data: str) -> None:
        if self._inside == "ld":
            self.linked_data.append(data)
        elif self._inside == "script":
            self.scripts.append(data)
        elif not self._inside:
            self.words.append(data)


def faults(folder: Path, edition: Edition) -> tuple[str, ...]:
    """Everything that keeps the built edition in `folder` from being published; empty lets it through."""
    payload = folder / bag.PAYLOAD
    read = {name: PageRead((payload / name).read_text(encoding="utf-8")) for name in (pages.GALLERY, pages.DISCLOSURE)}
    found = [
        *_links(payload, read),
        *_bare(payload, edition),
        *_counts(read, edition),
        *_flags(read, edition),
        *_data(read),
    ]
    found.extend(fault.words for fault in verify(folder).faults)
    return tuple(found)


def _links(payload: Path, read: dict[str, PageRead]) -> Iterator[str]:
    for name, page in read.items():
        for anchor, times in Counter(page.ids).items():
            if times > 1:
                yield f"{name}: the anchor {anchor!r} stands there {times} times"
        for address in dict.fromkeys(page.addresses):
            parts = urlsplit(address)
            if parts.scheme or parts.netloc:
                yield f"{name}: {address!r} leads outside the edition"
                continue
            target = unquote(parts.path) or name
            if bag.unsafe(target) or not (payload / target).is_file():
                yield f"{name}: {address!r} leads nowhere"
            elif parts.fragment and target in read and unquote(parts.fragment) not in read[target].ids:
                yield f"{name}: {address!r} names no place on {target}"


def _bare(payload: Path, edition: Edition) -> Iterator[str]:
    own = {f"{photo.number:03d}-{photo.sha256[:8]}": photo for photo in edition.photos}
    packets = {begin: xmp.packet(notes_of(edition, photo)) for begin, photo in own.items()}
    for path in sorted((payload / "photos").glob("*")):
        packet = packets.get(path.stem.rpartition("-")[0])
        if packet is None:
            yield f"photos/{path.name} belongs to no photograph"
            continue
        for leftover in _leftovers(path, packet):
            yield f"photos/{path.name} carries {leftover}"


def _leftovers(path: Path, packet: bytes) -> tuple[str, ...]:
    content = path.read_bytes()
    if path.suffix == Format.AVIF.suffix:
        return bare_boxes.still_leftovers(content)
    if path.suffix == Format.WEBP.suffix:
        return bare_webp.leftovers(content)
    if path.suffix == Format.CLIP.suffix:
        return bare_boxes.clip_leftovers(content)
    return bare.described_leftovers(content, packet)


def _counts(read: dict[str, PageRead], edition: Edition) -> Iterator[str]:
    gallery, disclosure = edition.gallery, edition.disclosure
    pictures = _pictures(edition)
    findings = [shown for group in disclosure.findings.rows for shown in group.findings]
    items = len(findings) + sum(
        len(section.rows)
        for section in (disclosure.good, disclosure.closed, disclosure.not_seen, disclosure.not_tested)
    )
    items += sum(len(section.rows) for section in (disclosure.checks, disclosure.measurements))
    items += sum(len(section.rows) for section in (disclosure.statements, disclosure.told))
    expected = (
        (pages.GALLERY, "figure.pic", len(pictures), "photographs"),
        (pages.GALLERY, "span.mark", sum(len(picture.marks) for picture in pictures), "marks"),
        (pages.DISCLOSURE, "article.item", len(findings) + len(disclosure.good.rows) + len(disclosure.closed.rows), ""),
    )
    for name, what, number, words in expected:
        there = read[name].classes[what]
        if there != number:
            yield f"{name} shows {there} {words or 'findings'}, and there are {number}"
    there = read[pages.DISCLOSURE].classes["article.item"] + read[pages.DISCLOSURE].classes["div.item"]
    if there != items:
        yield f"{pages.DISCLOSURE} prints {there} rows, and there are {items}"
    if {photo.sha256 for photo in edition.photos} != {picture.sha256 for picture in gallery.pictures()}:
        yield "the list of photographs and the gallery do not name the same photographs"


def _pictures(edition: Edition) -> list[PictureShown]:
    """Every showing of a picture: those of the chapters, and the lead where no chapter holds it."""
    shown = [picture for chapter in edition.gallery.chapters for picture in chapter.pictures]
    first = lead(edition.gallery)
    return shown if first is None or any(picture is first for picture in shown) else [first, *shown]


def _flags(read: dict[str, PageRead], edition: Edition) -> Iterator[str]:
    for name, page in read.items():
        flag = edition.gallery.flag
        said = bool(flag) and _flat(flag) in _flat("".join(page.words))
        if not edition.signed and not (said and page.classes["aside.flag"]):
            yield f"{name} does not say UNSIGNED"
        if edition.signed and page.classes["aside.flag"]:
            yield f"{name} says UNSIGNED, and the edition is signed"


def _flat(words: str) -> str:
    return " ".join(words.split())


def _data(read: dict[str, PageRead]) -> Iterator[str]:
    for text in read[pages.GALLERY].linked_data:
        try:
            json.loads(text)
        except ValueError as error:
            yield f"{pages.GALLERY}: the linked data do not read: {error}"
    if len(read[pages.GALLERY].linked_data) != 1:
        yield f"{pages.GALLERY} carries no linked data"
