"""Verdicts over the demo card against its maker's key (demo_assets/truth.tsv, column `fault`)."""

from __future__ import annotations

import csv
import hashlib

import pytest

from lapseam import places
from lapseam.domain.photo import Photo
from lapseam.domain.quality import Verdict, Word, verdicts
from lapseam.intake.content import recognise
from lapseam.intake.look import look


@pytest.fixture(scope="module")
def judged() -> dict[str, Verdict]:
    """The verdict of every file of the card, from intake's own readings."""
    photos = []
    for path in sorted((places.demo_assets() / "card").iterdir()):
        content = path.read_bytes()
        seen = look(path, recognise(content[:64], path.name))
        digest = hashlib.sha256(content).hexdigest()
        size = (len(content), seen.media, "JPEG", seen.width, seen.height)
        photos.append(Photo(digest, path.name, *size, seen.camera, seen.pixels))
    names = {photo.sha256: photo.name for photo in photos}
    return {names[sha256]: verdict for sha256, verdict in verdicts(photos).items()}


@pytest.fixture(scope="module")
def faults() -> dict[str, str]:
    """What the maker of the card did to each file, "" for nothing."""
    with (places.demo_assets() / "truth.tsv").open(encoding="utf-8", newline="") as lines:
        return {row["file"]: row["fault"] or "" for row in csv.DictReader(lines, delimiter="\t")}


def test_the_shaken_frames_are_soft_and_no_other_is(judged, faults):
    soft = {name for name, verdict in judged.items() if verdict.sharp is Word.SOFT}
    assert soft == {name for name, fault in faults.items() if fault == "shaken"}


def test_the_dark_frames_are_dark_and_no_other_is(judged, faults):
    dark = {name for name, verdict in judged.items() if verdict.light is not Word.GOOD}
    assert dark == {name for name, fault in faults.items() if fault == "dark"}


def test_exactly_the_faulty_frames_are_unusable(judged, faults):
    assert {name for name, verdict in judged.items() if not verdict.usable} == {
        n for n, fault in faults.items() if fault
    }


def test_a_camera_with_too_few_frames_is_not_judged_by_its_spread(judged):
    phone = [verdict.sharp for name, verdict in judged.items() if name.startswith("PH_")]
    assert phone.count(Word.CANNOT_JUDGE) == 6
    assert phone.count(Word.GOOD) == 2, "the two takes of one view judge each other"
