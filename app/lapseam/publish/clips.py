"""A published clip: the original's own H.264 picture and sound in a fresh MP4 that says nothing else.

Nothing is encoded again. Only the first picture and sound track are taken over, so that a position, a serial number, a
date, a name and a data track stay behind; messages inside the picture stream (SEI, ITU-T H.264 Annex D), where some
cameras write their own, are dropped. Needs av (extra `video`); without it a clip is shown by its still.
"""

from __future__ import annotations

import importlib
import os
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from . import bare_boxes

MOST_OCTETS: Final = 200_000_000
"""A larger clip is shown by its still: it would be more than all photos of a car together."""

_PICTURES: Final = frozenset({"yuv420p", "yuvj420p"})
_SOUNDS: Final = frozenset({"aac", "mp3"})
_NO_MESSAGES: Final = "filter_units=remove_types=6"
_PLAIN: Final = {"movflags": "+faststart", "fflags": "+bitexact"}


@dataclass(frozen=True, slots=True)
class Clip:
    """A clip as laid: pixels as they are seen, turned upright."""

    width: int
    height: int


def lay(source: Path, target: Path) -> Clip | None:
    """Write the clip that browsers play; None, and no file, where the original is none or av is missing.

    Every browser plays 8-bit 4:2:0 H.264 with AAC or MP3 or silent, in MP4 or QuickTime, and few play more.
    """
    try:
        av = importlib.import_module("av")
    except ImportError:
        return None
    if source.stat().st_size > MOST_OCTETS:
        return None
    beside = target.with_name(f".{target.name}.{os.getpid()}")
    try:
        with av.open(str(source), metadata_errors="replace") as told:
            picture, sound = _tracks(told)
            if picture is None:
                return None
            turn = _copy(av, told, picture, sound, beside)
        if bare_boxes.clip_leftovers(beside.read_bytes()):
            return None
        beside.replace(target)
    except (av.FFmpegError, ValueError, IndexError):
        return None
    finally:
        beside.unlink(missing_ok=True)
    width, height = picture.codec_context.width, picture.codec_context.height
    return Clip(height, width) if turn % 180 else Clip(width, height)


def _tracks(told: Any) -> tuple[Any, Any]:
    """The picture and sound that browsers play; no picture where they would not play the clip whole."""
    if "mp4" not in told.format.name.split(",") or not told.streams.video:
        return None, None
    picture = told.streams.video[0]
    sound = told.streams.audio[0] if told.streams.audio else None
    codec = picture.codec_context
    plays = codec.name == "h264" and codec.pix_fmt in _PICTURES
    if not plays or (sound is not None and sound.codec_context.name not in _SOUNDS):
        return None, None
    return picture, sound


def _copy(av: Any, told: Any, picture: Any, sound: Any, target: Path) -> int:
    """Copy both tracks; returns the degrees that the picture is turned by."""
    turn = 0
    with av.open(str(target), "w", format="mp4", options=_PLAIN) as made:
        tracks = {one: made.add_stream_from_template(one) for one in (picture, sound) if one is not None}
        plain = av.bitstream.BitStreamFilterContext(_NO_MESSAGES, picture, tracks[picture])
        for packet in told.demux(*tracks):
            if packet.dts is None:
                continue
            kept = plain.filter(packet) if packet.stream is picture else [packet]
            for one in kept:
                one.stream = tracks[packet.stream]
                made.mux(one)
        for one in plain.filter(None):
            one.stream = tracks[picture]
            made.mux(one)
    with av.open(str(target)) as again:
        for frame in again.decode(video=0):
            turn = round(getattr(frame, "rotation", 0))
            break
    return turn
