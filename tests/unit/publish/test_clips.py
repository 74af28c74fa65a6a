"""Published clips: picture and sound as they were, nothing else; a still where browsers would not play it."""

from __future__ import annotations

import json
import re
import sys
from pathlib import Path

import pytest

from fakes import private_clip
from lapseam.publish import bare_boxes, clips, verify

av = pytest.importorskip("av", reason="the extra 'video' is not installed")


def heard_and_seen(path: Path) -> tuple[list[bytes], list[bytes]]:
    """Every frame of the picture as pixels and every packet of the sound."""
    with av.open(str(path)) as told:
        pictures = [frame.to_ndarray(format="rgb24").tobytes() for frame in told.decode(video=0)]
    with av.open(str(path)) as told:
        sounds = [bytes(packet) for packet in told.demux(audio=0) if packet.size] if told.streams.audio else []
    return pictures, sounds


def test_picture_and_sound_stay_and_all_else_goes(tmp_path: Path) -> None:
    before = private_clip.write(tmp_path / "in.mp4")
    assert all(secret in before for secret in private_clip.SECRETS), "the original should carry them"
    assert bare_boxes.clip_leftovers(before)
    assert clips.lay(tmp_path / "in.mp4", tmp_path / "out.mp4") == clips.Clip(160, 90)
    after = (tmp_path / "out.mp4").read_bytes()
    assert not any(secret in after for secret in private_clip.SECRETS)
    assert bare_boxes.clip_leftovers(after) == ()
    assert after.index(b"moov") < after.index(b"mdat"), "it should play before it has come whole"
    assert heard_and_seen(tmp_path / "out.mp4") == heard_and_seen(tmp_path / "in.mp4")
    assert (tmp_path / "in.mp4").read_bytes() == before
    assert clips.lay(tmp_path / "in.mp4", tmp_path / "again.mp4")
    assert (tmp_path / "again.mp4").read_bytes() == after


@pytest.mark.parametrize("name", ["in.mov", "in.mp4"])
def test_a_silent_clip_of_either_container_plays(tmp_path: Path, name: str) -> None:
    private_clip.write(tmp_path / name, sound="")
    assert clips.lay(tmp_path / name, tmp_path / "out.mp4")
    assert len(heard_and_seen(tmp_path / "out.mp4")[0]) == 20


def test_a_turned_clip_stays_turned(tmp_path: Path) -> None:
    content = private_clip.write(tmp_path / "in.mp4")
    at = content.index(private_clip.UPRIGHT, content.index(b"tkhd"))
    turned = content[:at] + private_clip.QUARTER_TURN + content[at + 36 :]
    (tmp_path / "in.mp4").write_bytes(turned)
    assert clips.lay(tmp_path / "in.mp4", tmp_path / "out.mp4") == clips.Clip(90, 160)
    assert private_clip.QUARTER_TURN[:20] in (tmp_path / "out.mp4").read_bytes()


@pytest.mark.parametrize(("codec", "sound", "name"), [("mpeg4", "", "in.mp4"), ("libx264", "pcm_s16le", "in.mov")])
def test_what_browsers_do_not_play_whole_is_no_clip(tmp_path: Path, codec: str, sound: str, name: str) -> None:
    if sound == "pcm_s16le":
        plain = tmp_path / "plain.mp4"
        private_clip.write(plain)
        _with_raw_sound(plain, tmp_path / name)
    else:
        private_clip.write(tmp_path / name, codec=codec, sound=sound)
    assert clips.lay(tmp_path / name, tmp_path / "out.mp4") is None
    assert not (tmp_path / "out.mp4").exists()


def _with_raw_sound(source: Path, target: Path) -> None:
    """The same picture with the uncompressed sound that cameras write."""
    with av.open(str(source)) as told, av.open(str(target), "w") as made:
        picture = made.add_stream_from_template(told.streams.video[0])
        heard = made.add_stream("pcm_s16le", rate=48_000)
        for packet in told.demux(video=0):
            if packet.dts is not None:
                packet.stream = picture
                made.mux(packet)
        quiet = av.AudioFrame(format="s16", layout="stereo", samples=1024)
        quiet.sample_rate = 48_000
        made.mux(heard.encode(quiet))


@pytest.mark.parametrize("kept", [0, 40, 700])
def test_a_broken_clip_leaves_nothing(tmp_path: Path, kept: int) -> None:
    (tmp_path / "in.mp4").write_bytes(private_clip.write(tmp_path / "in.mp4")[:kept])
    assert clips.lay(tmp_path / "in.mp4", tmp_path / "out.mp4") is None
    assert [path.name for path in tmp_path.iterdir()] == ["in.mp4"]


def test_without_av_or_when_too_large_there_is_none(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    private_clip.write(tmp_path / "in.mp4")
    monkeypatch.setattr(clips, "MOST_OCTETS", 100)
    assert clips.lay(tmp_path / "in.mp4", tmp_path / "out.mp4") is None
    monkeypatch.undo()
    monkeypatch.setitem(sys.modules, "av", None)
    assert clips.lay(tmp_path / "in.mp4", tmp_path / "out.mp4") is None


def test_a_page_shows_a_clip_with_its_poster_and_does_not_begin_it(tmp_path: Path) -> None:
    path = private_clip.published(tmp_path, "libx264")
    page = (path / "data" / "index.html").read_text(encoding="utf-8")
    (video,) = re.findall(r"<video[^>]*>", page)
    assert 'controls preload="none"' in video
    assert "autoplay" not in page
    assert re.search(r'poster="photos/003-\w{8}-60\.jpg"', video)
    assert 'width="120" height="80"' in video, "the page should not move when it comes"
    assert "media-src &#39;self&#39; file:" in page
    listed = json.loads((path / "data" / "edition.json").read_text())["photos"][2]["files"]
    assert [file["media_type"] for file in listed[-2:]] == ["image/jpeg", "video/mp4"]
    assert (listed[-1]["width"], listed[-1]["height"]) == (160, 90)
    assert verify(path).complete
    for file in path.rglob("*"):
        if file.is_file():
            assert not any(secret in file.read_bytes() for secret in private_clip.SECRETS), file.name


def test_a_clip_that_browsers_do_not_play_is_shown_by_its_still_and_said(tmp_path: Path) -> None:
    path = private_clip.published(tmp_path, "mpeg4")
    page = (path / "data" / "index.html").read_text(encoding="utf-8")
    assert "<video" not in page
    assert page.count("the clip itself is not shown here") == 1
    assert not list((path / "data" / "photos").glob("*.mp4"))
