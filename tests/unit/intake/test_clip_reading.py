"""Clips: length, size and a poster; and a clip where nothing here can open it."""

from __future__ import annotations

import io
import sys
from pathlib import Path

import pytest
from PIL import Image

from fakes import card
from lapseam.domain.photo import IntakeOutcome, MediaKind, PreviewSize
from lapseam.intake.clip import NEUTRAL_POSTER, WITHOUT_VIDEO, _camera
from lapseam.intake.content import HEAD_BYTES, recognise
from lapseam.intake.look import Seen, look
from lapseam.intake.refusal import Refused


def _look(path: Path) -> Seen:
    with path.open("rb") as source:
        return look(path, recognise(source.read(HEAD_BYTES), path.name))


@pytest.mark.parametrize(
    ("name", "codec"), [("a.mp4", "mpeg4"), ("a.mov", "mpeg4"), ("a.webm", "libvpx-vp9"), ("a.avi", "mpeg4")]
)
def test_length_size_and_poster_are_read(tmp_path: Path, name: str, codec: str) -> None:
    card.clip(tmp_path / name, seconds=1.2, codec=codec)
    seen = _look(tmp_path / name)
    assert (seen.media, seen.width, seen.height) == (MediaKind.CLIP, 160, 90)
    assert seen.duration_s == pytest.approx(1.2, abs=0.1)
    assert Image.open(io.BytesIO(seen.previews[PreviewSize.PREVIEW])).size == (160, 90)
    assert seen.pixels.contrast > 10


def test_a_long_clip_shows_a_later_frame(tmp_path: Path) -> None:
    card.clip(tmp_path / "a.mp4", seconds=4)
    card.clip(tmp_path / "b.mp4", seconds=0.5)
    assert _look(tmp_path / "a.mp4").pixels.mean_luma > _look(tmp_path / "b.mp4").pixels.mean_luma


def test_without_the_extra_a_clip_is_kept_under_a_neutral_poster(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    card.clip(tmp_path / "a.mp4")
    monkeypatch.setitem(sys.modules, "av", None)
    seen = _look(tmp_path / "a.mp4")
    assert seen.camera.trouble == WITHOUT_VIDEO
    assert (seen.width, seen.height, seen.duration_s) == (0, 0, None)
    assert Image.open(io.BytesIO(seen.previews[PreviewSize.PREVIEW])).size == NEUTRAL_POSTER[0]


@pytest.mark.parametrize("keep", [40, 600])
def test_a_clip_cut_off_early_is_unreadable(tmp_path: Path, keep: int) -> None:
    data = card.clip(tmp_path / "a.mp4")
    (tmp_path / "a.mp4").write_bytes(data[:keep])
    with pytest.raises(Refused) as refused:
        _look(tmp_path / "a.mp4")
    assert refused.value.outcome is IntakeOutcome.UNREADABLE


def test_local_time_comes_before_utc_and_unset_time_is_none() -> None:
    phone = _camera({
        "com.apple.quicktime.creationdate": "2026-05-12T09:04:30-0500", "creation_time": "2026-05-12T14:04:30.000000Z",
        "com.apple.quicktime.make": "Sample Mobile", "com.apple.quicktime.location.ISO6709": "+01.5+002.2/",
    })  # fmt: skip
    assert (str(phone.taken_at), phone.offset_minutes) == ("2026-05-12 09:04:30", -300)
    assert (phone.make, phone.has_position) == ("Sample Mobile", True)
    assert _camera({"creation_time": "2026-05-12T14:04:30.000000Z"}).offset_minutes == 0
    assert _camera({"creation_time": "1904-01-01T00:00:00.000000Z"}).taken_at is None
    assert _camera({"creation_time": "yesterday"}).taken_at is None
