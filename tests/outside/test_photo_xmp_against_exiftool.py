"""What published pictures say, read back by ExifTool (exiftool.org) and by Pillow's own reader of XMP.

Regions are checked with the values of the IPTC Photo Metadata Standard 2019.1 reference image, whose rectangle and
circle are named persltr2 and persltr3.
"""

from __future__ import annotations

import importlib.util
import io
import json
import shutil
import subprocess
from dataclasses import replace
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest
from PIL import Image

from fakes import published_car
from lapseam.domain.edition import MarkShown
from lapseam.domain.finding import MarkShape
from lapseam.publish import Recipe, make_edition, xmp
from lapseam.publish.xmp import Circle, Notes, Rectangle, Region

EXIFTOOL = shutil.which("exiftool")
needs_exiftool = pytest.mark.skipif(EXIFTOOL is None, reason="exiftool is not on this machine")
REFERENCE = (
    Region("persltr2", "A box", Rectangle(0.31, 0.18, 0.127, 0.385)),
    Region("persltr3", "A circle", Circle(0.59, 0.426, 0.068)),
)
"""IPTC Photo Metadata Standard 2019.1 reference image: unit relative; X and Y of a box are its top left corner."""
NOTES = Notes(
    title="1961 saloon, photo 12",
    description="Left rocker: surface rust <12 mm> & “seam”, Größe 5 µm \U0001f697",
    alt="The left rocker from below, with a mark at the jacking point.",
    creator="House of Specimens",
    rights="© 2026 House of Specimens",
    job="T-1/3",
    day="2026-05-12",
    captured=True,
    regions=REFERENCE,
)


def exiftool(*paths: Path) -> list[dict[str, Any]]:
    """Every tag with its group, structures whole, numbers as written."""
    command = [str(EXIFTOOL), "-j", "-G1", "-a", "-u", "-n", "-struct", "-charset", "filename=utf8", *map(str, paths)]
    run = subprocess.run(command, capture_output=True, check=True, timeout=60)
    return list(json.loads(run.stdout))


def picture(path: Path, notes: Notes) -> Path:
    out = io.BytesIO()
    Image.new("RGB", (200, 100), (10, 120, 90)).save(out, "JPEG")
    path.write_bytes(xmp.embedded(out.getvalue(), xmp.packet(notes)))
    return path


@pytest.mark.tool("exiftool")
@needs_exiftool
def test_exiftool_reads_every_property_back(tmp_path: Path) -> None:
    (told,) = exiftool(picture(tmp_path / "one.jpg", NOTES))
    said = {key: value for key, value in told.items() if key.startswith("XMP-")}
    regions = said.pop("XMP-iptcExt:ImageRegion")
    assert said == {
        "XMP-dc:Title": NOTES.title,
        "XMP-dc:Description": NOTES.description,
        "XMP-iptcCore:AltTextAccessibility": NOTES.alt,
        "XMP-dc:Creator": [NOTES.creator],
        "XMP-dc:Rights": NOTES.rights,
        "XMP-photoshop:TransmissionReference": NOTES.job,
        "XMP-photoshop:DateCreated": "2026:05:12",
        "XMP-iptcExt:DigitalSourceType": "http://cv.iptc.org/newscodes/digitalsourcetype/digitalCapture",
    }
    box, circle = regions
    assert (box["RId"], circle["RId"]) == ("persltr2", "persltr3")
    assert (box["Name"], circle["Name"]) == ("A box", "A circle")
    assert box["RegionBoundary"] == {
        "RbShape": "rectangle", "RbUnit": "relative", "RbX": 0.31, "RbY": 0.18, "RbW": 0.127, "RbH": 0.385,
    }  # fmt: skip
    assert circle["RegionBoundary"] == {
        "RbShape": "circle", "RbUnit": "relative", "RbX": 0.59, "RbY": 0.426, "RbRx": 0.068,
    }  # fmt: skip


@pytest.mark.tool("exiftool")
@needs_exiftool
def test_exiftool_finds_nothing_to_object_to(tmp_path: Path) -> None:
    path = picture(tmp_path / "one.jpg", NOTES)
    command = [str(EXIFTOOL), "-validate", "-warning", "-error", "-a", str(path)]
    told = subprocess.run(command, capture_output=True, text=True, check=True, timeout=60).stdout
    lines = [" ".join(line.split()) for line in told.splitlines()]
    assert lines == ["Validate : OK"]


def test_pillow_reads_the_same(tmp_path: Path) -> None:
    """`Image.getxmp` where defusedxml is there; else the packet that Pillow hands over, by the standard library."""
    with Image.open(picture(tmp_path / "one.jpg", NOTES)) as opened:
        if importlib.util.find_spec("defusedxml") is not None:
            block = opened.getxmp()["xmpmeta"]["RDF"]["Description"]
            assert block["description"]["Alt"]["li"]["text"] == NOTES.description
            assert block["TransmissionReference"] == NOTES.job
            assert len(block["ImageRegion"]["Bag"]["li"]) == 2
            return
        root = ElementTree.fromstring(opened.info["xmp"].decode())
    texts = [one.text for one in root.iter() if one.text and one.text.strip()]
    assert texts[:7] == [
        NOTES.title, NOTES.description, NOTES.alt, NOTES.creator, NOTES.rights, NOTES.job, NOTES.day
    ]  # fmt: skip
    assert {"persltr2", "persltr3", "0.31", "0.127", "0.068", "circle", "rectangle"} <= set(texts)


@pytest.mark.tool("exiftool")
@needs_exiftool
def test_a_published_edition_says_the_page_s_words_and_nothing_private(tmp_path: Path) -> None:
    photos = published_car.originals(tmp_path / "originals")
    edition = published_car.edition(photos, words="Left rocker & “seam”")
    marks = (MarkShown(7, MarkShape.POINT, 0.25, 0.75, 0, 0, "Finding 7: seam"),)
    first, *rest = edition.photos
    first = replace(first, marks=marks, captured=True)
    made = make_edition(
        replace(edition, photos=(first, *rest)),
        originals=photos.__getitem__,
        folder=tmp_path / "editions",
        plan_json="{}\n",
        tool_version="0.1.0",
        recipe=Recipe(widths=(120, 300)),
    )
    pictures = sorted((made.path / "data" / "photos").glob("*.jpg"))
    for path, told in zip(pictures, exiftool(*pictures), strict=True):
        assert told["XMP-dc:Description"] == "Left rocker & “seam”"
        assert told["XMP-photoshop:TransmissionReference"] == "T-1/1"
        assert told["XMP-photoshop:DateCreated"] == "2026:05:12"
        assert ("XMP-iptcExt:ImageRegion" in told) is path.name.startswith("001-")
        assert ("XMP-iptcExt:DigitalSourceType" in told) is path.name.startswith("001-")
        words = " ".join(map(str, told.values()))
        content = path.read_bytes()
        for secret in (*published_car.SECRETS, "frame0", "GPSLatitude"):
            assert secret not in words
            assert secret.encode() not in content
