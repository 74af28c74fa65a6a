"""What a published JPEG says of itself: one XMP packet of few, known properties, written, laid in and read back.

Packet and data model: ISO 16684-1. Properties: IPTC Photo Metadata 2025.1 with its XMP names and namespaces. The
packet goes into one APP1 segment (XMP Specification Part 3, 1.1.3), so the picture itself is not touched. The same
values give the same bytes. Nothing else can get in: `faults` names every property that is not one of these.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Final
from xml.etree import ElementTree
from xml.sax.saxutils import escape

from .pages import shown

HEADER: Final = b"http://ns.adobe.com/xap/1.0/\0"
"""Opens an APP1 segment that holds XMP."""
MOST_OCTETS: Final = 65_533 - len(HEADER)
"""A segment's length stands in two bytes that count themselves."""

_RDF: Final = "http://www.w3.org/1999/02/22-rdf-syntax-ns#"
_META: Final = "adobe:ns:meta/"
_SPACES: Final = {
    "dc": "http://purl.org/dc/elements/1.1/",
    "photoshop": "http://ns.adobe.com/photoshop/1.0/",
    "Iptc4xmpCore": "http://iptc.org/std/Iptc4xmpCore/1.0/xmlns/",
    "Iptc4xmpExt": "http://iptc.org/std/Iptc4xmpExt/2008-02-29/",
}
_ALL_SPACES: Final = {**_SPACES, "rdf": _RDF, "x": _META}
_LANG: Final = "{http://www.w3.org/XML/1998/namespace}lang"
_TAG: Final = re.compile("x-default|[a-z]{2,3}(-[A-Z][a-z]{3})?(-[A-Z]{2})?")
_CAPTURED: Final = "http://cv.iptc.org/newscodes/digitalsourcetype/digitalCapture"

PROPERTIES: Final = (
    "dc:title",
    "dc:description",
    "Iptc4xmpCore:AltTextAccessibility",
    "dc:creator",
    "dc:rights",
    "photoshop:TransmissionReference",
    "photoshop:DateCreated",
    "Iptc4xmpExt:DigitalSourceType",
    "Iptc4xmpExt:ImageRegion",
)
"""All that a published picture may say, in the order in which it is written."""
_FIELDS: Final = tuple(
    f"Iptc4xmpExt:{name}"
    for name in ("RegionBoundary", "rbShape", "rbUnit", "rbX", "rbY", "rbW", "rbH", "rbRx", "rId", "Name")
)

_TITLE: Final = 250
_TEXT: Final = 2000
_ALT: Final = 1000
_NAME: Final = 100
_ID: Final = 40
_REGIONS: Final = 32
"""Signs and regions at most, chosen so that the longest packet of five-byte signs still fits one segment."""


@dataclass(frozen=True, slots=True)
class Rectangle:
    """A box in shares 0..1 of the upright picture; `x` and `y` are its top left corner."""

    x: float
    y: float
    width: float
    height: float


@dataclass(frozen=True, slots=True)
class Circle:
    """A circle in shares of the upright picture; `x` and `y` are its centre, `radius` a share of the width."""

    x: float
    y: float
    radius: float


@dataclass(frozen=True, slots=True)
class Region:
    """A place on the picture with a name for people; `id` is unique in the picture."""

    id: str
    name: str
    boundary: Rectangle | Circle


@dataclass(frozen=True, slots=True)
class Notes:
    """What one picture says. "" leaves a property out; `day` is an ISO day; `captured` only where a camera took it.

    `language` is the BCP 47 tag of the words; "" for English, which stands as the default alone.
    """

    title: str = ""
    description: str = ""
    alt: str = ""
    creator: str = ""
    rights: str = ""
    job: str = ""
    day: str = ""
    captured: bool = False
    regions: tuple[Region, ...] = ()
    language: str = ""


def packet(notes: Notes) -> bytes:
    """The XMP packet in UTF-8. Long words are cut with an ellipsis, regions beyond the 32nd are left out.

    Words that stand twice, under their language too, are cut at half the length, so that they fit the segment.
    """
    times = 2 if notes.language else 1
    written = {
        "dc:title": _alternative(notes.title, _TITLE, notes.language),
        "dc:description": _alternative(notes.description, _TEXT // times, notes.language),
        "Iptc4xmpCore:AltTextAccessibility": _alternative(notes.alt, _ALT // times, notes.language),
        "dc:creator": _list("Seq", filter(None, [_text(notes.creator, _TITLE)])),
        "dc:rights": _alternative(notes.rights, _TITLE, notes.language),
        "photoshop:TransmissionReference": _text(notes.job, _NAME),
        "photoshop:DateCreated": _text(notes.day, _NAME),
        "Iptc4xmpExt:DigitalSourceType": _CAPTURED if notes.captured else "",
        "Iptc4xmpExt:ImageRegion": _list("Bag", map(_region, notes.regions[:_REGIONS]), resource=True),
    }
    inside = "".join(f"<{name}>{value}</{name}>\n" for name in PROPERTIES if (value := written[name]))
    spaces = "".join(f' xmlns:{prefix}="{space}"' for prefix, space in _SPACES.items())
    return (
        '<?xpacket begin="\ufeff" id="W5M0MpCehiHzreSzNTczkc9d"?>\n'
        f'<x:xmpmeta xmlns:x="{_META}"><rdf:RDF xmlns:rdf="{_RDF}"><rdf:Description rdf:about=""{spaces}>\n'
        f"{inside}</rdf:Description></rdf:RDF></x:xmpmeta>\n"
        '<?xpacket end="r"?>'
    ).encode()


def embedded(jpeg: bytes, content: bytes) -> bytes:
    """The JPEG with the packet in an APP1 segment after its JFIF segment; not one byte of the picture changes.

    Raises:
        ValueError: the packet is longer than one segment, or the file is no JPEG.
    """
    if len(content) > MOST_OCTETS:
        raise ValueError(f"{len(content)} bytes of XMP do not fit one segment")
    if jpeg[:2] != b"\xff\xd8":
        raise ValueError("it is no JPEG")
    place = 2
    if jpeg[2:4] == b"\xff\xe0":
        place = 4 + int.from_bytes(jpeg[4:6], "big")
    length = 2 + len(HEADER) + len(content)
    return jpeg[:place] + b"\xff\xe1" + length.to_bytes(2, "big") + HEADER + content + jpeg[place:]


def faults(content: bytes) -> tuple[str, ...]:
    """Everything in a packet that `packet` never writes, each in words; empty for one of ours."""
    if b"<!" in content or content.count(b"<?") != 2:
        return ("its XMP holds declarations or remarks",)
    try:
        root = ElementTree.fromstring(content.decode("utf-8"))
    except (ElementTree.ParseError, UnicodeDecodeError):
        return ("its XMP does not read",)
    tops = list(root)
    blocks = [block for top in tops for block in top]
    if [root.tag, *(top.tag for top in tops), *(block.tag for block in blocks)] != [
        _tag("x:xmpmeta"),
        _tag("rdf:RDF"),
        _tag("rdf:Description"),
    ]:
        return ("its XMP is not one block of properties",)
    return tuple(dict.fromkeys([*_top_faults(root, tops[0], blocks[0]), *_property_faults(blocks[0])]))


def _top_faults(*frames: ElementTree.Element) -> Iterator[str]:
    for frame in frames:
        if any(value for value in frame.attrib.values()) or (frame.text or "").strip() or (frame.tail or "").strip():
            yield "its XMP holds words outside its properties"


def _property_faults(block: ElementTree.Element) -> Iterator[str]:
    allowed = {_tag(name) for name in PROPERTIES}
    inner = {_tag(name) for name in _FIELDS} | {_tag(f"rdf:{name}") for name in ("Alt", "Seq", "Bag", "li")}
    attributes = {_LANG: _TAG, _tag("rdf:parseType"): re.compile("Resource")}
    seen: set[str] = set()
    for one in block:
        if one.tag not in allowed or one.tag in seen:
            yield f"its XMP holds {one.tag.rpartition('}')[2]}"
        seen.add(one.tag)
        for part in one.iter():
            if part is not one and (part.tag not in inner or (one.tag != _tag(PROPERTIES[-1]) and _field(part.tag))):
                yield f"its XMP holds {part.tag.rpartition('}')[2]}"
            if not all(name in attributes and attributes[name].fullmatch(value) for name, value in part.attrib.items()):
                yield "its XMP holds an attribute of its own"


def _field(tag: str) -> bool:
    return not tag.startswith(f"{{{_RDF}}}")


def _tag(name: str) -> str:
    prefix, _, local = name.partition(":")
    return f"{{{_ALL_SPACES[prefix]}}}{local}"


def _text(words: str, most: int) -> str:
    """One line of plain text, escaped: no sign that XML forbids or that turns the direction of writing."""
    flat = " ".join(str(shown(words)).split())
    return escape(flat if len(flat) <= most else flat[: most - 1].rstrip() + "…")


def _alternative(words: str, most: int, language: str = "") -> str:
    """The words as the default, and where their language is told once more under its tag (ISO 16684-1, 8.2.2.4)."""
    text, tags = _text(words, most), ("x-default", *([language] if language else []))
    items = "".join(f'<rdf:li xml:lang="{tag}">{text}</rdf:li>' for tag in tags)
    return f"<rdf:Alt>{items}</rdf:Alt>" if text else ""


def _list(kind: str, values: Iterable[str], *, resource: bool = False) -> str:
    opening = '<rdf:li rdf:parseType="Resource">' if resource else "<rdf:li>"
    items = "".join(f"{opening}{value}</rdf:li>" for value in values)
    return f"<rdf:{kind}>{items}</rdf:{kind}>" if items else ""


def _region(region: Region) -> str:
    boundary = region.boundary
    values = {"rbShape": "circle", "rbUnit": "relative", "rbX": _share(boundary.x), "rbY": _share(boundary.y)}
    if isinstance(boundary, Circle):
        values["rbRx"] = _share(boundary.radius)
    else:
        values |= {"rbShape": "rectangle", "rbW": _share(boundary.width), "rbH": _share(boundary.height)}
    drawn = "".join(f"<Iptc4xmpExt:{name}>{value}</Iptc4xmpExt:{name}>" for name, value in values.items())
    name = _alternative(region.name, _NAME)
    return (
        f'<Iptc4xmpExt:RegionBoundary rdf:parseType="Resource">{drawn}</Iptc4xmpExt:RegionBoundary>'
        f"<Iptc4xmpExt:rId>{_text(region.id, _ID)}</Iptc4xmpExt:rId>"
        + (f"<Iptc4xmpExt:Name>{name}</Iptc4xmpExt:Name>" if name else "")
    )


def _share(value: float) -> str:
    """A share of the picture, inside it, with at most four digits: "0.127"."""
    return f"{min(1.0, max(0.0, value)):.4f}".rstrip("0").rstrip(".")
