"""A small edition as the domain hands it to publish, and three real originals to show in it.

The originals carry what must not leave: a position, a serial number, an owner, a comment and a small picture.
"""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey
from cryptography.hazmat.primitives.serialization import Encoding, PublicFormat
from PIL import Image, TiffImagePlugin

from lapseam.domain.coverage import State
from lapseam.domain.edition import (
    Cell,
    Chapter,
    CheckShown,
    Disclosure,
    Edition,
    FindingRef,
    FindingShown,
    Gallery,
    GapShown,
    Line,
    MarkShown,
    MeasurementShown,
    PartShown,
    PhotoRef,
    PictureShown,
    PublicRecord,
    PublishedPhoto,
    ReadingShown,
    Section,
    Segment,
    SeverityGroup,
    StatementShown,
    ZoneShown,
)
from lapseam.domain.finding import MarkShape, Severity
from lapseam.domain.photo import MediaKind
from lapseam.domain.plan import Tone
from lapseam.domain.statement import Basis, CheckVerdict
from lapseam.publish import Seal, SignerSaid

SECRETS = ("SPECIMEN-SERIAL-77", "Ottoline Vask", "a note for nobody")
FLAG = "UNSIGNED: nobody has signed this edition."


def originals(folder: Path) -> dict[str, Path]:
    """Three photos with everything private in them, one turned by its Orientation tag, by SHA-256."""
    folder.mkdir(parents=True, exist_ok=True)
    found = {}
    for place, (size, orientation) in enumerate((((640, 420), 1), ((420, 640), 6), ((600, 400), 1))):
        path = folder / f"frame{place}.jpg"
        _private_photo(path, size, orientation, shade=60 * place)
        found[hashlib.sha256(path.read_bytes()).hexdigest()] = path
    return found


def _private_photo(path: Path, size: tuple[int, int], orientation: int, shade: int) -> None:
    picture = Image.linear_gradient("L").resize(size)
    picture = Image.merge("RGB", (picture, picture.point(lambda value: 255 - value), Image.new("L", size, shade)))
    exif = picture.getexif()
    exif[0x0112] = orientation
    exif[0x013B] = "Ottoline Vask"
    exif.get_ifd(0x8769).update({0xA431: SECRETS[0], 0xA430: SECRETS[1], 0x9003: "2026:05:12 10:00:00"})
    third = tuple(TiffImagePlugin.IFDRational(value) for value in (51, 30, 12))
    exif.get_ifd(0x8825).update({1: "N", 2: third, 3: "E", 4: third})
    picture.save(path, "JPEG", exif=exif, comment=SECRETS[2].encode(), quality=90)


def edition(
    photos: Mapping[str, Path], *, number: int = 1, signed: bool = False, words: str = "Left rocker"
) -> Edition:
    """An edition that has one of everything; `words` stand wherever a person's words may stand."""
    flag = "" if signed else FLAG
    first, second, third = tuple(photos)
    found = finding(words, second)
    mark = MarkShown(7, MarkShape.BOX, 0.95, 0.01, 0.04, 0.2, f"Finding 7: {words}")
    point = MarkShown(7, MarkShape.POINT, 0.5, 0.5, 0, 0, f"Finding 7: {words}")
    lead, close = picture(first, 1, words), picture(second, 2, words, marks=(mark, point), findings=(found,))
    again = replace(close, anchor="again-2", again=True)
    papers = Chapter("gg-papers", "papers", "Papers", "Nothing here.", (), (f"{words}: not seen.",))
    chapters = (
        Chapter("gg-lead", "lead", "Lead and second", "Two.", (lead, close), (f"{words}: not seen.",)),
        Chapter("gg-outside", "outside", words, words, (picture(third, 3, words),)),
        papers,
        Chapter("gg-flaws", "flaws", "All flaws together", "One.", (again,)),
    )
    gallery = Gallery(
        title=words,
        subtitle=words,
        edition_words=f"Edition {number}",
        house=words,
        language="en",
        flag=flag,
        hero=lead,
        ribbon=segments(words),
        ribbon_words=words,
        chapters=chapters,
        count_words="3 photographs",
        legend=(
            Line("Covered", words, id="covered"),
            Line("Waived", words, id="waived"),
            Line("Not reachable", words, id="not-reachable"),
        ),
    )
    said = tuple(
        PublishedPhoto(sha256, place, MediaKind.STILL, words, words, words, "2026-05-12", ())
        for place, sha256 in enumerate(photos, start=1)
    )
    linked = {"@context": "https://schema.org", "@type": "Car", "name": words, "knownVehicleDamages": words}
    return Edition(
        number=number,
        stock="T-1",
        made_at="2026-05-14T10:00:00+00:00",
        revision=12,
        signed=signed,
        gallery=gallery,
        disclosure=disclosure(words, flag, found),
        record=PublicRecord({"stock": "T-1", "words": words, "findings": (7,)}),
        json_ld=linked,
        photos=said,
    )


def finding(words: str, sha256: str) -> FindingShown:
    """One finding, shown by the second photo."""
    return FindingShown(
        number=7,
        anchor="finding-7",
        kind="surface-rust",
        name=words,
        tone=Tone.FAULT,
        severity=Severity.WEAR,
        severity_words=words,
        zone="left-side",
        zone_name=words,
        component="left-rocker",
        place=words,
        extent=words,
        sentence=f"{words}. Seen.",
        basis=Basis.SEEN,
        basis_words=words,
        photos=(PhotoRef(sha256, 2, "photo-2", "photo 2"),),
        photo_note=words,
        state_words=words,
        origin_words=words,
        work_words=words,
    )


def picture(
    sha256: str,
    number: int,
    words: str,
    marks: tuple[MarkShown, ...] = (),
    findings: tuple[FindingShown, ...] = (),
) -> PictureShown:
    """One picture of the gallery."""
    return PictureShown(
        sha256=sha256,
        number=number,
        number_words=str(number),
        anchor=f"photo-{number}",
        shot="ext-left-rocker",
        zone="left-side",
        zone_name=words,
        caption=words,
        alt=words,
        media=MediaKind.STILL,
        width=640,
        height=420,
        taken_words=words,
        marks=marks,
        findings=findings,
    )


def segments(words: str) -> tuple[Segment, ...]:
    """A ribbon with every state, once waived."""
    cells = tuple(
        Cell(f"shot-{state}", words, state, waived, f"{state}, waived" if waived else str(state))
        for state in State
        for waived in (False, True)
    )
    return (
        Segment("left-side", words, words, cells, "photo-1"),
        Segment("documents", words, words, cells[:1], ""),
    )


def disclosure(words: str, flag: str, found: FindingShown) -> Disclosure:
    """A condition page with a row in every section."""
    lines = (Line(words, words, words), Line(words, words))
    refs = found.photos
    gap = GapShown("shot", words, words, words, f"{words}: not seen.")
    check = CheckShown("clock", words, words, CheckVerdict.NOT_TESTED, words, words, words, words, refs)
    reading = ReadingShown(words, "108 µm", "about 4.3 mil, converted")
    measured = MeasurementShown("film", words, words, (reading,), words, words, words, words, refs)
    ZoneShown("left-side", words, words, words, (FindingRef(7, "finding-7"),), 2)
    said = StatementShown(1, words, words, Basis.TOLD, words, refs)
    good = replace(found, number=8, anchor="finding-8", tone=Tone.GOOD)
    closed = replace(found, number=9, anchor="finding-9")
    return Disclosure(
        title=words,
        edition_words="Edition 1",
        stock_words=words,
        house=words,
        language="en",
        flag=flag,
        signed_words=words,
        what_it_is=Section("what-it-is", words, words, (words,)),
        what_it_is_not=Section("what-it-is-not", words, words, (words,)),
        headlines=(words,),
        identity=Section("identity", words, words, lines),
        summary=Section("summary", words, words, lines),
        zones=Section(
            "zones", words, words, (ZoneShown("left-side", words, words, words, (FindingRef(7, "finding-7"),), 2),)
        ),
        findings=Section("findings", words, words, (SeverityGroup(Severity.WEAR, words, (found,)),)),
        not_seen=Section("not-seen", words, words, (gap, gap)),
        not_tested=Section("not-tested", words, words, (gap,)),
        good=Section("good", words, words, (good,)),
        nothing_found=Section("nothing-found", words, words, lines),
        checks=Section("checks", words, words, (check,)),
        measurements=Section("measurements", words, words, (measured,)),
        originality=Section("originality", words, words, (PartShown("engine", words, words, words),)),
        statements=Section("statements", words, words, (said,)),
        told=Section("told", words, words, (said,)),
        closed=Section("closed", words, words, (closed,)),
        edits=Section("edits", words, words, lines),
        withheld=Section("withheld", words, words, lines),
        waivers=Section("waivers", words, words, lines),
        looked_by=Section("looked-by", words, words, lines),
        changed=Section("changed", words, words, (words,)),
        definitions=Section("definitions", words, words, lines),
    )


def seal(role: str = "manager") -> Seal:
    """A signature by the key of RFC 8032, 7.1, TEST 1, whose private half everybody knows."""
    private = Ed25519PrivateKey.from_private_bytes(
        bytes.fromhex("9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60")
    )
    return Seal(SignerSaid(private.public_key().public_bytes_raw().hex(), role), private.sign)


def other_public_key() -> bytes:
    """The public key of RFC 8032, 7.1, TEST 2, as PEM."""
    private = Ed25519PrivateKey.from_private_bytes(
        bytes.fromhex("4ccd089b28ff96da9db6c346ec114e0f5b8a319f35aba624da8cf6ed4fb8a6fb")
    )
    return private.public_key().public_bytes(Encoding.PEM, PublicFormat.SubjectPublicKeyInfo)
