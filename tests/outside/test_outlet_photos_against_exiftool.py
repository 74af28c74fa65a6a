"""What an outlet's pictures say, read back by ExifTool (exiftool.org): the record's words and nothing private."""

from __future__ import annotations

import json
import shutil
import subprocess
from pathlib import Path

import pytest

from fakes import published_car
from lapseam.domain.edition import MarkShown, PublishedPhoto
from lapseam.domain.finding import MarkShape
from lapseam.domain.photo import MediaKind
from lapseam.domain.selection import Outlet
from lapseam.publish.outlet_files import OutletPhoto, write_outlet
from lapseam.publish.outlet_list import OutletTexts, Sending

EXIFTOOL = shutil.which("exiftool")
SENDING = Sending("T-1", 3, "ab" * 32, "2026-05-14T10:00:00+00:00", "House of Specimens")
MARK = MarkShown(12, MarkShape.BOX, 0.5, 0.25, 0.25, 0.5, "Finding 12: blister")


@pytest.mark.tool("exiftool")
@pytest.mark.skipif(EXIFTOOL is None, reason="exiftool is not on this machine")
def test_exiftool_reads_caption_job_house_and_mark_and_nothing_private(tmp_path: Path) -> None:
    originals = published_car.originals(tmp_path / "originals")
    photos = [
        OutletPhoto(
            "ext-left-rocker",
            path,
            "Left rocker; blister, finding 12. 3 more findings are on the full page.",
            PublishedPhoto(sha256, at, MediaKind.STILL, f"A car, photo {at}", "", "Left rocker", "2026-05-12", (MARK,)),
            (12,),
        )
        for at, (sha256, path) in enumerate(originals.items(), 1)
    ]
    sheet = Outlet("Sheet", 5, longest_px=400, max_bytes=20_000, aspect="1:1")
    made = write_outlet(
        photos, sheet, tmp_path / "out", texts=OutletTexts("A car", "A car.", "A car.\n"), sending=SENDING
    )
    files = [made.path / one.name for one in made.photos]
    command = [str(EXIFTOOL), "-j", "-G1", "-a", "-u", "-n", "-struct", *map(str, files)]
    run = subprocess.run(command, capture_output=True, check=True, timeout=60)
    for told, path in zip(json.loads(run.stdout), files, strict=True):
        assert told["XMP-dc:Description"] == photos[0].caption
        assert told["XMP-iptcCore:AltTextAccessibility"] == "Left rocker"
        assert told["XMP-dc:Creator"] == ["House of Specimens"]
        assert told["XMP-dc:Rights"] == "© 2026 House of Specimens"
        assert told["XMP-photoshop:TransmissionReference"] == "T-1/3"
        (region,) = told["XMP-iptcExt:ImageRegion"]
        assert region["Name"] == MARK.words
        assert region["RegionBoundary"]["RbUnit"] == "relative"
        assert 0.5 < region["RegionBoundary"]["RbH"] + region["RegionBoundary"]["RbY"] < 1
        groups = {key.split(":")[0] for key in told} - {"SourceFile", "ExifTool", "System", "File", "Composite"}
        assert groups <= {"JFIF", "XMP-dc", "XMP-iptcCore", "XMP-iptcExt", "XMP-photoshop", "XMP-x"}
        assert told["File:ImageWidth"] == told["File:ImageHeight"] <= 400
        content = path.read_bytes()
        assert len(content) <= 20_000
        assert not any(secret.encode() in content for secret in published_car.SECRETS)
    check = [str(EXIFTOOL), "-validate", "-warning", "-error", "-a", str(files[0])]
    said = subprocess.run(check, capture_output=True, text=True, check=True, timeout=60).stdout
    assert [" ".join(line.split()) for line in said.splitlines()] == ["Validate : OK"]
