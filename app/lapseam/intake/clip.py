"""Short clips: duration, size and one still frame as a poster, read by av where it is installed (extra `video`).

Without av a clip is still kept, under a neutral poster, and its readings say what is missing.
"""

from __future__ import annotations

import importlib
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any, BinaryIO, Final

from PIL import Image

from lapseam.domain.photo import CameraReadings, IntakeOutcome
from lapseam.intake.content import Content
from lapseam.intake.picture import check_size
from lapseam.intake.refusal import Refused
from lapseam.intake.tags import text

NEUTRAL_POSTER: Final = ((320, 180), (128, 128, 128))
"""Size in pixels and colour of the poster of a clip that nothing here can open."""
WITHOUT_VIDEO: Final = "the extra 'video' is not installed: the clip is kept, its length and picture were not read"
PACKET_BUDGET: Final = 600
"""Packets looked at for a poster before the clip counts as one without a picture."""
NOTHING_READ: Final = CameraReadings()
_POSTER_AT_S: Final = 1.0
_TURN: Final = {90: 8, 180: 3, 270: 6}
"""Degrees a frame is to be turned counter-clockwise, to the Exif Orientation that says the same."""


@dataclass(frozen=True, slots=True)
class ClipReadings:
    """What was read of a clip. `width` and `height` are stored pixels, 0 where unknown; `orientation` as in Exif."""

    poster: Image.Image
    width: int = 0
    height: int = 0
    orientation: int = 1
    duration_s: float | None = None
    camera: CameraReadings = NOTHING_READ


def read_clip(source: BinaryIO, content: Content) -> ClipReadings:
    """Read an opened clip.

    Raises:
        Refused: av is installed and finds no clip inside, or its frames are too large.
    """
    try:
        av = importlib.import_module("av")
    except ImportError:
        size, colour = NEUTRAL_POSTER
        return ClipReadings(Image.new("RGB", size, colour), camera=CameraReadings(trouble=WITHOUT_VIDEO))
    try:
        with av.open(source, metadata_errors="replace") as container:
            return _read(container)
    except Refused:
        raise
    except Exception as error:
        said = " ".join(str(error).split())[:200] or type(error).__name__
        raise Refused(IntakeOutcome.UNREADABLE, f"the {content.format} clip is damaged: {said}") from error


def _read(container: Any) -> ClipReadings:
    if not container.streams.video:
        raise Refused(IntakeOutcome.UNREADABLE, "the clip holds no picture")
    stream = container.streams.video[0]
    check_size(stream.codec_context.width, stream.codec_context.height)
    duration = _duration(container, stream)
    frame = _poster_frame(container, stream, duration)
    poster = frame.to_image()
    return ClipReadings(
        poster=poster,
        width=poster.width,
        height=poster.height,
        orientation=_TURN.get(round(getattr(frame, "rotation", 0)) % 360, 1),
        duration_s=duration,
        camera=_camera(container.metadata | stream.metadata),
    )


def _duration(container: Any, stream: Any) -> float | None:
    if container.duration:
        return round(float(container.duration) / 1_000_000, 3)
    if stream.duration and stream.time_base:
        return round(float(stream.duration * stream.time_base), 3)
    return None


def _poster_frame(container: Any, stream: Any, duration: float | None) -> Any:
    """The key frame at or before one second in (cameras often start dark), or the first there is."""
    if duration is not None and duration > 2 * _POSTER_AT_S:
        container.seek(int(_POSTER_AT_S * 1_000_000))
    for count, packet in enumerate(container.demux(stream)):
        frames = packet.decode()
        if frames:
            check_size(frames[0].width, frames[0].height)
            return frames[0]
        if count >= PACKET_BUDGET:
            break
    raise Refused(IntakeOutcome.UNREADABLE, "no picture of the clip can be decoded")


def _camera(metadata: dict[str, str]) -> CameraReadings:
    """Phones write make, model and local time as QuickTime keys; other cameras a creation time in UTC."""
    keys = {key.casefold().removeprefix("com.apple.quicktime."): value for key, value in metadata.items()}
    moment = _moment(keys.get("creationdate", "")) or _moment(keys.get("creation_time", ""))
    offset = moment.utcoffset() if moment is not None else None
    return CameraReadings(
        taken_at=moment.replace(tzinfo=None) if moment is not None else None,
        offset_minutes=int(offset.total_seconds()) // 60 if offset is not None else None,
        make=text(keys.get("make")),
        model=text(keys.get("model")),
        has_position=any(key.startswith("location") for key in keys),
        has_owner=bool(text(keys.get("artist")) or text(keys.get("author"))),
    )


def _moment(written: str) -> datetime | None:
    """An ISO 8601 moment; a container's zero is 1904 (QuickTime) or 1970 and means not set."""
    try:
        moment = datetime.fromisoformat(written)
    except ValueError:
        return None
    if moment.year <= 1970:
        return None
    return moment if moment.tzinfo is not None else moment.replace(tzinfo=UTC)
