"""A published picture says what it may and nothing else, whatever words it is given."""

from __future__ import annotations

import io
import itertools
from dataclasses import replace
from pathlib import Path
from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image

from fakes import published_car
from lapseam.domain.edition import Edition, MarkShown
from lapseam.domain.errors import PublishFailed
from lapseam.domain.finding import MarkShape
from lapseam.publish import Recipe, bare, make_edition, verify, xmp
from lapseam.publish.photo_notes import POINT_RADIUS, notes_of
from lapseam.publish.xmp import Circle, Notes, Rectangle, Region

SMALL = Recipe(widths=(60, 120))
HOSTILE = (
    "</rdf:li></rdf:Alt></dc:description><exif:GPSLatitude>51,30N</exif:GPSLatitude>",
    "<!DOCTYPE x [<!ENTITY a SYSTEM 'file:///etc/passwd'>]>&a;",
    "<?xpacket end='w'?> ]]> <![CDATA[x]]> \"'&amp;&#0;",
    "\x00\x01\x08\x0b\x1f\x7f\x85\ud800\udfff\ufffe\uffff\r\n\t a \u2028\u2029",
    "\u202eevil\u202c \u2066turned\u2069 rocker",
    "emoji \U0001f697\U0001f468\u200d\U0001f527 and \U0010ffff",
    "&" * 10_000,
    "\U0001f697" * 10_000,
    "=cmd|' /C calc'!A0",
)


def jpeg(shade: int = 90) -> bytes:
    out = io.BytesIO()
    Image.new("RGB", (80, 60), (shade, 30, 200)).save(out, "JPEG")
    return out.getvalue()


def full(words: str, regions: int = 2) -> Notes:
    shapes = itertools.cycle((Rectangle(0.1, 0.2, 0.3, 0.4), Circle(0.5, 0.5, 0.02)))
    found = tuple(
        Region(f"{words}-{place}", words, shape) for place, shape in zip(range(regions), shapes, strict=False)
    )
    return Notes(words, words, words, words, words, words, "2026-05-12", True, found)


def test_the_segment_goes_in_and_no_byte_of_the_picture_changes() -> None:
    before, packet = jpeg(), xmp.packet(full("Left rocker"))
    after = xmp.embedded(before, packet)
    assert (
        after.replace(b"\xff\xe1" + (len(xmp.HEADER) + len(packet) + 2).to_bytes(2, "big"), b"").replace(
            xmp.HEADER + packet, b""
        )
        == before
    )
    with Image.open(io.BytesIO(after)) as opened, Image.open(io.BytesIO(before)) as bare_one:
        assert opened.tobytes() == bare_one.tobytes()
        assert opened.info["xmp"] == packet
        assert not opened.getexif()
    assert bare.described_leftovers(after, packet) == ()
    assert bare.leftovers(after) == ("a metadata segment (APP1 http://ns.adobe.com/)",)


def test_words_of_another_language_say_which_beside_the_default() -> None:
    packet = xmp.packet(replace(full("Türschweller"), language="de-AT"))
    assert packet.count('<rdf:li xml:lang="x-default">Türschweller</rdf:li>'.encode()) == 4 + 2
    assert packet.count('<rdf:li xml:lang="de-AT">Türschweller</rdf:li>'.encode()) == 4
    assert xmp.faults(packet) == ()
    assert xmp.faults(packet.replace(b'"de-AT"', b'"Ottoline Vask"')) == ("its XMP holds an attribute of its own",)


@pytest.mark.parametrize("words", HOSTILE)
def test_hostile_words_stay_words_and_fit_one_segment(words: str) -> None:
    packet = xmp.packet(replace(full(words, regions=500), language="zh-Hant-TW"))
    assert len(packet) <= xmp.MOST_OCTETS
    assert len(xmp.packet(full(words, regions=500))) <= xmp.MOST_OCTETS
    assert xmp.faults(packet) == ()
    said = ElementTree.fromstring(packet.decode())
    tags = {one.tag.rpartition("}")[2] for one in said.iter()}
    assert "GPSLatitude" not in tags
    text = "".join(said.itertext())
    assert not set(text) & set("\u202e\u202c\u2066\u2069\x00\x01\ufffe\uffff")
    assert bare.described_leftovers(xmp.embedded(jpeg(), packet), packet) == ()


@given(st.text(alphabet=st.characters(), max_size=300))
def test_any_words_at_all_are_written_and_read_back(words: str) -> None:
    packet = xmp.packet(full(words))
    assert xmp.faults(packet) == ()
    assert packet == xmp.packet(full(words))


def test_plain_words_come_back_as_they_were() -> None:
    words = "Seam <12 mm> at the “rocker” & sill, Größe 5 µm"
    said = ElementTree.fromstring(xmp.packet(Notes(description=words)).decode())
    assert [one.text for one in said.iter("{http://www.w3.org/1999/02/22-rdf-syntax-ns#}li")] == [words]


def test_what_is_not_said_is_left_out() -> None:
    packet = xmp.packet(Notes(title="only"))
    assert packet.count(b"<dc:") == 1
    assert b"DigitalSourceType" not in packet
    assert b"DateCreated" not in packet
    assert xmp.faults(packet) == ()


@pytest.mark.parametrize(
    ("before", "after", "fault"),
    [
        (b"</rdf:Description>", b"<dc:source>IMG_0042.JPG</dc:source></rdf:Description>", "its XMP holds source"),
        (b"<dc:title>", b"<dc:title><dc:source>x</dc:source>", "its XMP holds source"),
        (b"<dc:title>", b"<dc:title><Iptc4xmpExt:rId>x</Iptc4xmpExt:rId>", "its XMP holds rId"),
        (b"</rdf:Description>", b"<dc:title>again</dc:title></rdf:Description>", "its XMP holds title"),
        (b'rdf:about=""', b'rdf:about="uuid:7"', "its XMP holds words outside its properties"),
        (b'rdf:about=""', b'rdf:about="" dc:source="x"', "its XMP holds words outside its properties"),
        (b"<dc:title>", b'<dc:title dc:source="x">', "its XMP holds an attribute of its own"),
        (b"</rdf:RDF>", b'<rdf:Description rdf:about=""/></rdf:RDF>', "its XMP is not one block of properties"),
        (b"<dc:title>", b"<!-- a note --><dc:title>", "its XMP holds declarations or remarks"),
        (b"<dc:title>", b"<?note x?><dc:title>", "its XMP holds declarations or remarks"),
        (b"</dc:title>", b"", "its XMP does not read"),
    ],
)
def test_anything_else_in_a_packet_is_named(before: bytes, after: bytes, fault: str) -> None:
    packet = xmp.packet(full("Left rocker"))
    assert before in packet
    assert fault in xmp.faults(packet.replace(before, after, 1))


def test_a_second_or_a_strange_or_no_packet_is_found() -> None:
    packet, other = xmp.packet(full("one")), xmp.packet(full("two"))
    once = xmp.embedded(jpeg(), packet)
    assert "2 packets" in bare.described_leftovers(xmp.embedded(once, packet), packet)[0]
    assert bare.described_leftovers(once, other) == ("XMP that is not its own",)
    assert "0 packets" in bare.described_leftovers(jpeg(), packet)[0]
    exif = once[:2] + b"\xff\xe1\x00\x08Exif\0\0" + once[2:]
    assert bare.described_leftovers(exif, packet) == ("a metadata segment (APP1 Exif)",)
    with pytest.raises(ValueError, match="do not fit"):
        xmp.embedded(jpeg(), b"x" * 65_600)
    with pytest.raises(ValueError, match="no JPEG"):
        xmp.embedded(b"GIF89a", packet)


def test_marks_become_regions_of_the_upright_picture(tmp_path: Path) -> None:
    edition = marked(published_car.edition(published_car.originals(tmp_path)))
    box, point = notes_of(edition, edition.photos[1]).regions
    assert box.boundary == Rectangle(0.95, 0.01, pytest.approx(0.05), 0.2)
    assert point.boundary == Circle(0.5, 0.5, POINT_RADIUS)
    assert (box.id, point.id) == ("finding-7-1", "finding-7-2")


def marked(edition: Edition, words: str = "Finding 7: left rocker") -> Edition:
    """The edition with a box that runs over the edge and a point on its second photo."""
    marks = (
        MarkShown(7, MarkShape.BOX, 0.95, 0.01, 0.4, 0.2, words),
        MarkShown(7, MarkShape.POINT, 0.5, 0.5, 0, 0, words),
    )
    first, second, *rest = edition.photos
    return replace(edition, photos=(first, replace(second, marks=marks, captured=True), *rest))


def test_new_words_take_the_pixels_from_the_cache(tmp_path: Path) -> None:
    photos = published_car.originals(tmp_path / "originals")

    def make(words: str, number: int) -> Path:
        return make_edition(
            published_car.edition(photos, number=number, words=words),
            originals=photos.__getitem__,
            folder=tmp_path / "editions",
            plan_json="{}\n",
            tool_version="0.1.0",
            recipe=SMALL,
            cache=tmp_path / "cache",
        ).path

    one = make("Left rocker", 1)
    for path in photos.values():
        path.unlink()
    two = make("Reworded", 2)
    assert verify(two).complete
    first, second = (sorted((path / "data" / "photos").glob("*.jpg"))[0] for path in (one, two))
    assert b"Reworded" in second.read_bytes()
    assert b"Reworded" not in first.read_bytes()
    for path in (tmp_path / "cache").rglob("*.jpg"):
        assert bare.leftovers(path.read_bytes()) == ()


def test_a_picture_that_says_more_is_not_published(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    photos = published_car.originals(tmp_path / "originals")
    plain = xmp.embedded

    def chatty(content: bytes, packet: bytes) -> bytes:
        return plain(content, packet.replace(b"</rdf:Description>", b"<dc:source>x</dc:source></rdf:Description>"))

    monkeypatch.setattr(xmp, "embedded", chatty)
    with pytest.raises(PublishFailed, match="its XMP holds source"):
        make_edition(
            published_car.edition(photos),
            originals=photos.__getitem__,
            folder=tmp_path / "editions",
            plan_json="{}\n",
            tool_version="0.1.0",
            recipe=SMALL,
        )
