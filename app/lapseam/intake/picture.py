"""Still pictures: opened by content, refused before decoding where too large, decoded once and turned upright.

One decode serves all: the preview, the thumbnail and the grey picture that is measured. JPEG decodes straight to the
smallest size that serves the preview (libjpeg's scaled inverse DCT) and stays in YCbCr up to the preview; its
first channel is the grey picture.
"""

from __future__ import annotations

import re
import tempfile
import threading
from contextlib import nullcontext
from dataclasses import dataclass
from typing import BinaryIO, Final

import numpy as np
import pillow_heif
from PIL import (
    AvifImagePlugin,
    BmpImagePlugin,
    GifImagePlugin,
    Image,
    JpegImagePlugin,
    MpoImagePlugin,
    PngImagePlugin,
    TiffImagePlugin,
    UnidentifiedImageError,
    WebPImagePlugin,
)

from lapseam.domain.photo import IntakeOutcome, PreviewSize
from lapseam.intake.content import Content
from lapseam.intake.pixels import LONGEST_PX
from lapseam.intake.refusal import Refused

LIMIT_PIXELS: Final = 250_000_000
"""Pictures with more pixels are refused before decoding: a forged header would ask for all memory."""
ALONE_PIXELS: Final = 60_000_000
"""Pictures that decode to more pixels than this are decoded one at a time, so that workers do not fill the memory."""

NEARLY_PX: Final = 1400
"""A JPEG is decoded to the smallest size that is at least this long, and so may give a preview shorter than allowed:
1500 pixels from a camera of 6000, for little more than half the work that the last hundred would cost."""

# Loaded once here rather than by the first worker thread that needs one.
_PLUGINS = (
    AvifImagePlugin, BmpImagePlugin, GifImagePlugin, JpegImagePlugin, MpoImagePlugin, PngImagePlugin, TiffImagePlugin,
    WebPImagePlugin,
)  # fmt: skip
pillow_heif.register_heif_opener(thumbnails=False)
Image.MAX_IMAGE_PIXELS = LIMIT_PIXELS

_ONE_AT_A_TIME = threading.Lock()
_PAPER = (255, 255, 255)
_QUALITY: Final = 85
_TURNS: Final = {
    2: Image.Transpose.FLIP_LEFT_RIGHT,
    3: Image.Transpose.ROTATE_180,
    4: Image.Transpose.FLIP_TOP_BOTTOM,
    5: Image.Transpose.TRANSPOSE,
    6: Image.Transpose.ROTATE_270,
    7: Image.Transpose.TRANSVERSE,
    8: Image.Transpose.ROTATE_90,
}
"""Exif Orientation to the operation that makes the picture upright (CIPA DC-008, tag 0x0112)."""
_TURNED_BY_DECODER: Final = ("TIFF", "HEIF")
"""Formats whose decoders hand pictures out upright already, in size and pixels, whatever the tag says."""
_PROFILE_LIMIT: Final = 1 << 16


@dataclass(frozen=True, slots=True)
class Rendered:
    """One upright picture, as it is kept and measured. `grey` is mode L, at most `LONGEST_PX` on its long side."""

    previews: dict[PreviewSize, bytes]
    grey: Image.Image


def open_picture(source: BinaryIO, content: Content) -> Image.Image:
    """Open, without decoding.

    Raises:
        Refused: nothing that can be opened is inside, or it is larger than `LIMIT_PIXELS`.
    """
    try:
        picture = Image.open(source, formats=content.openers)
    except Image.DecompressionBombError as error:
        raise Refused(IntakeOutcome.TOO_LARGE, _too_large(_first_number(error))) from error
    except Exception as error:
        raise _unreadable(content, error) from error
    check_size(*picture.size)
    return picture


def check_size(width: int, height: int) -> None:
    """Refuse what would not fit in memory, by the size its header states."""
    if width * height > LIMIT_PIXELS:
        raise Refused(IntakeOutcome.TOO_LARGE, _too_large(width * height))
    if width < 1 or height < 1:
        raise Refused(IntakeOutcome.UNREADABLE, "the picture has no pixels")


def turn_left(picture: Image.Image, orientation: int) -> int:
    """The turn a picture still needs after decoding, as an Orientation; its stated size is as after decoding."""
    return 1 if picture.format in _TURNED_BY_DECODER else orientation


def upright_size(width: int, height: int, orientation: int) -> tuple[int, int]:
    """Width and height after turning: orientations 5 to 8 swap them."""
    return (height, width) if orientation >= 5 else (width, height)


def render(picture: Image.Image, content: Content, orientation: int) -> Rendered:
    """Decode an opened picture to its end and make everything from it.

    Raises:
        Refused: the picture cannot be decoded to its end.
    """
    try:
        return render_frame(_decode(picture), orientation, picture.info.get("icc_profile"))
    except Image.DecompressionBombError as error:
        raise Refused(IntakeOutcome.TOO_LARGE, _too_large(_first_number(error))) from error
    except MemoryError as error:
        raise Refused(IntakeOutcome.TOO_LARGE, "the picture does not fit in this computer's memory") from error
    except Exception as error:
        raise _unreadable(content, error) from error


def render_frame(frame: Image.Image, orientation: int, profile: object = None) -> Rendered:
    """Previews and grey picture of one decoded frame in mode L, RGB or YCbCr."""
    turn = _TURNS.get(orientation)
    grey = frame if frame.mode == "L" else frame.getchannel(0) if frame.mode == "YCbCr" else frame.convert("L")
    grey = _within(grey, LONGEST_PX)
    preview = _within(frame, PreviewSize.PREVIEW)
    thumb = _within(preview, PreviewSize.THUMB)
    if turn is not None:
        grey, preview, thumb = (each.transpose(turn) for each in (grey, preview, thumb))
    kept = _fitting(profile, frame.mode)
    previews = {PreviewSize.PREVIEW: _jpeg(preview, kept), PreviewSize.THUMB: _jpeg(thumb, kept)}
    return Rendered(previews, grey)


def _decode(picture: Image.Image) -> Image.Image:
    width, height = picture.size
    whole = width * height
    if isinstance(picture, JpegImagePlugin.JpegImageFile):
        share = NEARLY_PX / max(width, height)
        request = (max(1, round(width * share)), max(1, round(height * share)))
        picture.draft("YCbCr" if _holds_ycbcr(picture) else picture.mode, request)
    progressive = bool(picture.info.get("progressive"))
    needed = whole if progressive else picture.size[0] * picture.size[1]
    with _ONE_AT_A_TIME if needed > ALONE_PIXELS else nullcontext():
        picture.load()
        return _plain(picture)


def _holds_ycbcr(picture: JpegImagePlugin.JpegImageFile) -> bool:
    """Whether the file itself is in YCbCr, by the marks libjpeg goes by; an RGB file cannot be decoded to it."""
    if picture.mode != "RGB":
        return False
    if "jfif" in picture.info:
        return True
    named_rgb = tuple(layer[0] for layer in picture.layer) == (0x52, 0x47, 0x42)
    return bool(picture.info.get("adobe_transform", not named_rgb))


def _plain(picture: Image.Image) -> Image.Image:
    """The frame as 8-bit L, RGB or YCbCr: deep greys are scaled, transparency lies on white paper."""
    if picture.has_transparency_data:
        return _on_paper(picture.convert("RGBA"))
    if picture.mode in ("L", "RGB", "YCbCr"):
        return picture
    if picture.mode.startswith(("I", "F")):
        return _from_deep(picture)
    if picture.mode == "LAB":
        return picture.getchannel(0)
    return picture.convert("L" if picture.mode == "1" else "RGB")


def _on_paper(picture: Image.Image) -> Image.Image:
    paper = Image.new("RGB", picture.size, _PAPER)
    paper.paste(picture, mask=picture.getchannel("A"))
    return paper


def _from_deep(picture: Image.Image) -> Image.Image:
    """16-bit, 32-bit and floating-point greys, scaled to 8 bits by the range their type is used for."""
    values = np.asarray(picture)
    if values.dtype.kind == "f":
        finite = np.nan_to_num(values, nan=0.0, posinf=0.0, neginf=0.0)
        top = float(finite.max(initial=0.0))
        scaled = finite * (255.0 if top <= 1.0 else 1.0 if top <= 255.0 else 255.0 / top)
    else:
        top = int(values.max(initial=0))
        scaled = values / (257.0 if top <= 65535 else 16_843_009.0)
    return Image.fromarray(np.clip(scaled, 0, 255).round().astype(np.uint8))


def _within(picture: Image.Image, longest: int) -> Image.Image:
    """Scaled down to fit; never enlarged."""
    width, height = picture.size
    share = longest / max(width, height)
    if share >= 1:
        return picture
    size = (max(1, round(width * share)), max(1, round(height * share)))
    return picture.resize(size, Image.Resampling.HAMMING, reducing_gap=2.0)


def _fitting(profile: object, mode: str) -> bytes | None:
    """The colour profile, where it is one for three-channel colour (ICC.1, header bytes 16 to 19) and of sane size."""
    if mode == "L" or not isinstance(profile, bytes) or len(profile) > _PROFILE_LIMIT:
        return None
    return profile if profile[16:20] == b"RGB " else None


def _jpeg(picture: Image.Image, profile: bytes | None) -> bytes:
    """Baseline JPEG with the colour profile and nothing else: no Exif, no comment.

    Written to a real file, because only then does Pillow's encoder let other threads go on.
    """
    picture.info = {}
    with tempfile.TemporaryFile() as file:
        picture.save(file, "JPEG", quality=_QUALITY, icc_profile=profile, comment=b"", exif=b"")
        file.seek(0)
        return file.read()


def _too_large(pixels: int) -> str:
    return f"its header states {pixels / 1e6:.0f} megapixels; the limit is {LIMIT_PIXELS // 1_000_000}"


def _first_number(error: Exception) -> int:
    """Pillow's refusal names the pixels stated, then its own limit."""
    found = re.search("[0-9]+", str(error))
    return int(found.group()) if found else 0


def _unreadable(content: Content, error: Exception) -> Refused:
    if isinstance(error, Refused):
        return error
    if isinstance(error, UnidentifiedImageError):
        return Refused(
            IntakeOutcome.UNREADABLE, f"the {content.format} picture is damaged at its start or of a rare kind"
        )
    said = " ".join(str(error).split())[:200] or type(error).__name__
    if "truncated" in said.casefold():
        return Refused(IntakeOutcome.UNREADABLE, f"the {content.format} picture ends too early: {said}")
    return Refused(IntakeOutcome.UNREADABLE, f"the {content.format} picture is damaged: {said}")
