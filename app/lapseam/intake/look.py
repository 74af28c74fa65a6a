"""Looks at one spooled copy: what it shows, what its metadata says, and the two upright previews."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path
from typing import BinaryIO

from lapseam.domain.photo import CameraReadings, MediaKind, Photo, PixelReadings, PreviewSize
from lapseam.intake.clip import read_clip
from lapseam.intake.content import HEAD_BYTES, Content, Kind, recognise
from lapseam.intake.exif_readers import read_camera
from lapseam.intake.picture import Rendered, open_picture, render, render_frame, turn_left, upright_size
from lapseam.intake.pixels import read_pixels
from lapseam.intake.ports import Previews
from lapseam.intake.quiet import quiet
from lapseam.intake.source import Found, readable
from lapseam.intake.spool import Spooled


@dataclass(frozen=True, slots=True)
class Seen:
    """Everything read from one copy, not yet tied to a name. `width` and `height` are upright pixels."""

    media: MediaKind
    width: int
    height: int
    camera: CameraReadings
    pixels: PixelReadings
    previews: dict[PreviewSize, bytes]
    duration_s: float | None = None

    def photo(self, spooled: Spooled, found: Found) -> Photo:
        """The photo, named as it was found."""
        return Photo(
            sha256=spooled.sha256,
            name=found.name,
            size_bytes=spooled.size_bytes,
            media=self.media,
            format=spooled.content.format,
            width=self.width,
            height=self.height,
            camera=self.camera,
            pixels=self.pixels,
            found_at=readable(str(found.path)),
            duration_s=self.duration_s,
            modified_at=spooled.modified_at,
        )


def look(copy: Path, content: Content) -> Seen:
    """Read a copy to its end.

    Raises:
        Refused: no picture or clip can be read to its end, or it is too large.
        OSError: the copy itself cannot be opened.
    """
    with copy.open("rb") as source, quiet():
        return _clip(source, content) if content.kind is Kind.CLIP else _still(source, content)


def remake_previews(original: Path, sha256: str, previews: Previews) -> None:
    """Make both previews of an original again, after the cache was emptied.

    Raises:
        Refused: the original can no longer be read.
        OSError: the original or the cache cannot be reached.
    """
    with original.open("rb") as source:
        content = recognise(source.read(HEAD_BYTES), original.name)
    for size, jpeg in look(original, content).previews.items():
        previews.put(sha256, size, jpeg)


def _still(source: BinaryIO, content: Content) -> Seen:
    with open_picture(source, content) as picture:
        width, height = picture.size
        camera = read_camera(picture, source)
        turn = turn_left(picture, camera.orientation)
        rendered = render(picture, content, turn)
    width, height = upright_size(width, height, turn)
    return _seen(MediaKind.STILL, width, height, camera, rendered)


def _clip(source: BinaryIO, content: Content) -> Seen:
    clip = read_clip(source, content)
    rendered = render_frame(clip.poster, clip.orientation)
    width, height = upright_size(clip.width, clip.height, clip.orientation)
    seen = _seen(MediaKind.CLIP, width, height, replace(clip.camera, orientation=clip.orientation), rendered)
    return replace(seen, duration_s=clip.duration_s)


def _seen(media: MediaKind, width: int, height: int, camera: CameraReadings, rendered: Rendered) -> Seen:
    return Seen(media, width, height, camera, read_pixels(rendered.grey), rendered.previews)
