"""Small real photographs and clips, made on the spot, as a camera or a mishap would leave them on a card."""

from __future__ import annotations

import io
import struct
import zlib
from fractions import Fraction
from pathlib import Path

import numpy as np
import pillow_heif
from PIL import Image
from PIL.TiffImagePlugin import IFDRational

pillow_heif.register_heif_opener(thumbnails=False)

EXIF_IFD, GPS_IFD = 0x8769, 0x8825


def scene(width: int = 240, height: int = 160, seed: int = 1) -> Image.Image:
    """A picture with broad shapes, edges and grain; each seed another view."""
    random = np.random.default_rng(seed)
    coarse = random.integers(0, 256, (5, 6, 3), dtype=np.uint8)
    large = Image.fromarray(coarse).resize((width, height), Image.Resampling.BICUBIC)
    grain = random.normal(0, 6, (height, width, 3))
    return Image.fromarray(np.clip(np.asarray(large) + grain, 0, 255).astype(np.uint8))


def exif(
    *,
    taken: str | None = "2026:05:12 09:04:30",
    subsecond: str | None = "05",
    offset: str | None = "-05:00",
    orientation: int | None = None,
    private: bool = False,
) -> Image.Exif:
    """A camera's usual tags; `private` adds position, serial number and owner."""
    tags = Image.Exif()
    tags[0x010F], tags[0x0110] = "Example Optics", "Specimen 24"
    if orientation is not None:
        tags[0x0112] = orientation
    more = tags.get_ifd(EXIF_IFD)
    more[0x829A] = IFDRational(1, 250)
    more[0x829D] = IFDRational(56, 10)
    more[0x8827] = 400
    more[0x920A] = IFDRational(50)
    more[0xA405] = 75
    more[0xA434] = "Specimen 50"
    for number, value in ((0x9003, taken), (0x9291, subsecond), (0x9011, offset)):
        if value is not None:
            more[number] = value
    if private:
        more[0xA430], more[0xA431] = "Somebody", "SN-000"
        place = tags.get_ifd(GPS_IFD)
        place[1], place[2], place[3], place[4] = "N", _degrees(1.5), "E", _degrees(2.25)
    return tags


def _degrees(value: float) -> tuple[IFDRational, IFDRational, IFDRational]:
    minutes = Fraction(value) % 1 * 60
    return IFDRational(int(value)), IFDRational(int(minutes)), IFDRational(0)


def jpeg(seed: int = 1, size: tuple[int, int] = (240, 160), **tags: object) -> bytes:
    """A good JPEG with Exif."""
    return encoded(scene(*size, seed=seed), "JPEG", exif=exif(**tags), quality=88)  # type: ignore[arg-type]


def encoded(picture: Image.Image, kind: str, **options: object) -> bytes:
    """The picture as a file of that kind. Exif goes over as bytes: the encoders take directories only from those."""
    buffer = io.BytesIO()
    if isinstance(tags := options.get("exif"), Image.Exif):
        options["exif"] = tags.tobytes()
    picture.save(buffer, kind, **options)
    return buffer.getvalue()


def huge_png_header(width: int = 30_000, height: int = 20_000) -> bytes:
    """A PNG of some hundred bytes whose header states more pixels than any memory holds."""

    def chunk(name: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))

    header = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    return (
        b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", header) + chunk(b"IDAT", zlib.compress(bytes(100))) + chunk(b"IEND", b"")
    )


def clip(path: Path, *, seconds: float = 1.0, size: tuple[int, int] = (160, 90), codec: str = "mpeg4") -> bytes:
    """A clip of a moving edge; needs av. The container goes by the path's suffix."""
    import av

    with av.open(str(path), "w") as container:
        stream = container.add_stream(codec, rate=25)
        stream.width, stream.height, stream.pix_fmt = *size, "yuv420p"
        for number in range(round(seconds * 25)):
            pixels = np.full((size[1], size[0], 3), 40, np.uint8)
            pixels[:, : 10 + number] = 220
            for packet in stream.encode(av.VideoFrame.from_ndarray(pixels, format="rgb24")):
                container.mux(packet)
        for packet in stream.encode():
            container.mux(packet)
    return path.read_bytes()
