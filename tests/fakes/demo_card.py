"""The demo car's card as readings, made with Pillow alone, so that tests of the domain need no intake."""

from __future__ import annotations

import csv
import hashlib
from dataclasses import dataclass
from datetime import datetime
from functools import cache
from pathlib import Path

from PIL import Image, ImageOps, ImageStat

from lapseam import places
from lapseam.domain.photo import CameraReadings, MediaKind, Photo, PixelReadings

EXIF, TAKEN, SUBSEC = 0x8769, 36867, 37521


@dataclass(frozen=True, slots=True)
class Truth:
    """What the card's maker says of one file: `shot` "" for an extra, `slot` "" where it is no frame of a proof."""

    file: str
    setup: str
    shot: str
    zone: str
    slot: str
    fault: str


@cache
def truth() -> dict[str, Truth]:
    """The key by file name."""
    with (places.demo_assets() / "truth.tsv").open(encoding="utf-8", newline="") as lines:
        rows = csv.DictReader(lines, delimiter="\t")
        return {
            row["file"]: Truth(
                row["file"], row["setup"], row["shot"], row["zone"], row["proof"] or "", row["fault"] or ""
            )
            for row in rows
        }


@cache
def photos() -> tuple[Photo, ...]:
    """All photos of the card, in name order."""
    return tuple(_read(path) for path in sorted((places.demo_assets() / "card").iterdir()))


def _read(path: Path) -> Photo:
    content = path.read_bytes()
    with Image.open(path) as picture:
        exif = picture.getexif()
        sub = exif.get_ifd(EXIF)
        turned = exif.get(274, 1) in (5, 6, 7, 8)
        size = picture.size[::-1] if turned else picture.size
        picture.draft("L", (256, 256))
        grey = ImageOps.exif_transpose(picture).convert("L")
        stat = ImageStat.Stat(grey)
        mean, spread, dhash = stat.mean[0], stat.stddev[0], _dhash(grey)
    at = datetime.strptime(f"{sub[TAKEN]}.{sub.get(SUBSEC, '0')}", "%Y:%m:%d %H:%M:%S.%f")
    camera = CameraReadings(
        taken_at=at,
        offset_minutes=0,
        make=exif.get(271),
        model=exif.get(272),
        orientation=int(exif.get(274, 1)),
        iso=int(sub[34855]),
        exposure_s=float(sub[33434]),
        f_number=float(sub[33437]) if 33437 in sub else None,
        focal_35mm=float(sub[41989]),
    )
    return Photo(
        sha256=hashlib.sha256(content).hexdigest(),
        name=path.name,
        size_bytes=len(content),
        media=MediaKind.STILL,
        format="JPEG",
        width=size[0],
        height=size[1],
        camera=camera,
        pixels=PixelReadings(100.0, spread, mean, 0.0, 0.0, dhash),
    )


def _dhash(grey: Image.Image) -> str:
    cells = grey.resize((9, 8), Image.Resampling.LANCZOS).tobytes()
    bits = 0
    for row in range(8):
        for column in range(8):
            bits = bits * 2 + (cells[row * 9 + column] < cells[row * 9 + column + 1])
    return f"{bits:016x}"
