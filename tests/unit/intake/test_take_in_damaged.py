"""Hundreds of files damaged at random: each ends as a result, in time, and the process lives on."""

from __future__ import annotations

import random
import time
from pathlib import Path

import pytest

from fakes import card
from fakes.take_in_desk import TakeInDesk
from lapseam.domain.photo import IntakeOutcome

SECONDS_EACH = 0.25
"""Bound on the mean time of one small damaged file; a good one takes a hundredth of a second."""


def _damaged(data: bytes, chance: random.Random) -> bytes:
    """Bytes overwritten, cut out, doubled or cut off, most of them near the beginning where structures are."""
    result = bytearray(data)
    for _ in range(chance.randint(1, 12)):
        reach = len(result) if chance.random() < 0.3 else min(len(result), 1500)
        at = chance.randrange(2, max(3, reach))
        match chance.randrange(5):
            case 0:
                result[at : at + 1] = bytes([chance.randrange(256)])
            case 1:
                result[at : at + 4] = chance.choice(
                    [b"\xff\xff\xff\xff", b"\0\0\0\0", b"\x7f\xff\xff\xff", b"\0\0\0\x08"]
                )
            case 2:
                del result[at : at + chance.randint(1, 64)]
            case 3:
                result[at:at] = result[at : at + chance.randint(1, 64)]
            case _ if chance.random() < 0.2:
                del result[max(at, 12) :]
    return bytes(result)


@pytest.mark.parametrize(
    ("kind", "count"),
    [("JPEG", 300), ("HEIF", 150), ("TIFF", 150), ("PNG", 60), ("WEBP", 60), ("AVIF", 60), ("GIF", 60)],
)
def test_damaged_stills_end_as_results_in_time(tmp_path: Path, kind: str, count: int) -> None:
    chance = random.Random(f"damage {kind}")
    options = {} if kind == "GIF" else {"exif": card.exif(private=True, orientation=6)}
    whole = card.encoded(card.scene(96, 64, seed=5), kind, **options)
    folder = tmp_path / "card"
    folder.mkdir()
    for number in range(count):
        (folder / f"{number}.jpg").write_bytes(_damaged(whole, chance))
    begun = time.monotonic()
    taken = TakeInDesk(tmp_path).take(folder)
    assert time.monotonic() - begun < 5 + SECONDS_EACH * count
    assert len(taken.results) == count
    assert {result.outcome for result in taken.results} <= {
        IntakeOutcome.KEPT, IntakeOutcome.UNREADABLE, IntakeOutcome.TOO_LARGE, IntakeOutcome.ALREADY_HERE,
    }  # fmt: skip
    assert taken.count(IntakeOutcome.UNREADABLE) > 0, "the damage did no harm: the test tests nothing"
    assert all(result.reason for result in taken.results if result.failed)


def test_damaged_clips_end_as_results_in_time(tmp_path: Path, capfd: pytest.CaptureFixture[str]) -> None:
    whole = card.clip(tmp_path / "a.mp4", seconds=0.6)
    chance = random.Random("damage clip")
    folder = tmp_path / "card"
    folder.mkdir()
    for number in range(60):
        (folder / f"{number}.mp4").write_bytes(_damaged(whole[-1500:] if number % 2 else whole, chance))
    begun = time.monotonic()
    taken = TakeInDesk(tmp_path).take(folder)
    assert time.monotonic() - begun < 5 + SECONDS_EACH * 60
    assert len(taken.results) == 60
    assert taken.count(IntakeOutcome.UNREADABLE) > 0
