"""A clip that carries what must not leave: a position, a name, dates, and the encoder's own message in the picture."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np

from fakes import published_car
from lapseam.domain.edition import Edition
from lapseam.domain.photo import MediaKind
from lapseam.publish import Recipe, make_edition

SECRETS = (b"Ottoline Vask", b"+51.5", b"creationdate", b"x264 - core")
UPRIGHT = bytes.fromhex("000100000000000000000000000000000001000000000000000000000000000040000000")
QUARTER_TURN = bytes.fromhex("000000000001000000000000ffff00000000000000000000005a00000000000040000000")


def write(path: Path, *, codec: str = "libx264", sound: str = "aac", frames: int = 20) -> bytes:
    """Write a clip of 160 x 90 pixels; `sound` is "" for a silent one; needs av."""
    import av

    with av.open(str(path), "w", options={"movflags": "+use_metadata_tags"}) as made:
        made.metadata.update({
            "location": "+51.5000-000.1000/", "artist": "Ottoline Vask", "creation_time": "2026-05-12T10:00:00Z",
            "com.apple.quicktime.creationdate": "2026-05-12T10:00:00+0000",
        })  # fmt: skip
        picture = made.add_stream(codec, rate=25)
        picture.width, picture.height, picture.pix_fmt = 160, 90, "yuv420p"
        heard = made.add_stream(sound, rate=48_000) if sound else None
        for number in range(frames):
            pixels = np.full((90, 160, 3), 40, np.uint8)
            pixels[:, : 10 + number] = 220
            made.mux(picture.encode(av.VideoFrame.from_ndarray(pixels, format="rgb24")))
        made.mux(picture.encode())
        if heard is not None:
            for number in range(30):
                quiet = av.AudioFrame.from_ndarray(np.zeros((2, 1024), np.float32), format="fltp", layout="stereo")
                quiet.sample_rate, quiet.pts = 48_000, 1024 * number
                made.mux(heard.encode(quiet))
            made.mux(heard.encode())
    return path.read_bytes()


def published(folder: Path, codec: str = "libx264") -> Path:
    """The small edition's folder, its third photo a clip."""
    photos = published_car.originals(folder / "originals")
    digest, still = list(photos.items())[2]
    photos[digest] = folder / "clip.mp4"
    write(photos[digest], codec=codec)
    return make_edition(
        _with_clip(published_car.edition(photos), digest),
        originals=photos.__getitem__,
        posters={digest: still}.get,
        folder=folder / "editions",
        plan_json="{}\n",
        tool_version="0.1.0",
        recipe=Recipe(widths=(60, 120)),
    ).path


def _with_clip(edition: Edition, digest: str) -> Edition:
    def changed(one: Any) -> Any:
        return replace(one, media=MediaKind.CLIP) if one.sha256 == digest else one

    chapters = tuple(
        replace(chapter, pictures=tuple(map(changed, chapter.pictures))) for chapter in edition.gallery.chapters
    )
    gallery = replace(edition.gallery, chapters=chapters)
    return replace(edition, gallery=gallery, photos=tuple(map(changed, edition.photos)))
