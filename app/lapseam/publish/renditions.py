"""Published pictures: from an original to upright, resized JPEGs in sRGB that carry nothing but pixels.

No Exif, IPTC, colour profile, comment or embedded small picture leaves with them: the file is written anew from
pixels, and `bare.leftovers` proves it. What a picture says of itself is laid in later (`xmp`), so the cache holds
pixels only and new words cost no new picture. The same original and recipe give the same bytes; a cache keyed by
both may be deleted at any time.
"""

from __future__ import annotations

import io
import os
from collections.abc import Callable, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path
from typing import Final

import pillow_heif
from PIL import Image, ImageCms, ImageDraw, ImageOps

from lapseam.domain.errors import Cancelled, PublishFailed

from . import bare, files

pillow_heif.register_heif_opener()

_MOST_PIXELS: Final = 400_000_000
_PAPER: Final = (255, 255, 255)
_SRGB: Final = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB"))
_TROUBLE: Final = (OSError, SyntaxError, ValueError, EOFError, MemoryError, ArithmeticError, LookupError, TypeError)


@dataclass(frozen=True, slots=True)
class Recipe:
    """How published pictures are made. `widths` are upright pixels, rising; `quality` is libjpeg's, 1..95.

    `version` changes when the same numbers would give other pixels, so that no stale cache is used.
    """

    widths: tuple[int, ...] = (480, 960, 1600)
    quality: int = 80
    version: int = 1

    @property
    def key(self) -> str:
        """Names the recipe in the cache."""
        return f"v{self.version}-q{self.quality}-w{'-'.join(str(width) for width in self.widths)}"

    def widths_of(self, width: int) -> tuple[int, ...]:
        """The widths made of an original of that width: never wider than it is; at least one."""
        return tuple(dict.fromkeys(min(wanted, width) for wanted in self.widths))


@dataclass(frozen=True, slots=True)
class Rendition:
    """One picture file: upright size in pixels and the JPEG's path in the cache or the edition."""

    width: int
    height: int
    path: Path


@dataclass(frozen=True, slots=True)
class Wanted:
    """A photo to make pictures of: `source` is a still that Pillow reads, None where a clip gave no still."""

    sha256: str
    name: str
    source: Path | None


Rendered = Mapping[str, tuple[Rendition, ...]]
"""Renditions by the original's SHA-256, narrowest first."""


def render_all(
    wanted: Sequence[Wanted],
    recipe: Recipe,
    cache: Path,
    *,
    cores: int = 2,
    progress: Callable[[int, int], None] = lambda done, total: None,
    stop: Callable[[], bool] = lambda: False,
) -> Rendered:
    """Make every picture, on `cores` threads (decoding and scaling let the others run).

    Raises:
        PublishFailed: a photo cannot be shown; it is named.
        Cancelled: `stop` said so; what is in the cache stays there.
    """

    def one(photo: Wanted) -> tuple[Rendition, ...]:
        if stop():
            raise Cancelled
        return render(photo, recipe, cache)

    made: dict[str, tuple[Rendition, ...]] = {}
    with ThreadPoolExecutor(max(1, cores), thread_name_prefix="renditions") as pool:
        waiting = [(photo, pool.submit(one, photo)) for photo in wanted]
        try:
            for done, (photo, future) in enumerate(waiting, start=1):
                made[photo.sha256] = future.result()
                progress(done, len(waiting))
        finally:
            for _, future in waiting:
                future.cancel()
    return made


def render(photo: Wanted, recipe: Recipe, cache: Path) -> tuple[Rendition, ...]:
    """Make one photo's pictures, or take them from the cache where they are whole.

    Raises:
        PublishFailed: the original cannot be decoded, or is larger than can be handled.
    """
    folder = cache / recipe.key / photo.sha256[:2] / photo.sha256
    if kept := _from_cache(folder):
        return kept
    try:
        picture = _no_still() if photo.source is None else upright(photo.source, max(recipe.widths))
        widths = recipe.widths_of(picture.width)
        contents = {width: _jpeg(_scaled(picture, width), recipe.quality) for width in widths}
    except _TROUBLE as error:
        raise PublishFailed(
            f"The photo {photo.name} cannot be made into a picture for the page.",
            effect="The last edition stands as it was.",
            next_step="Set this photo aside or take it again, then publish again.",
            detail=f"{photo.sha256}: {error}",
        ) from error
    files.folder(folder)
    for width, content in contents.items():
        files.write(folder / f"{width}.jpg", content)
    files.write(folder / "whole", "\n".join(f"{width}" for width in widths).encode())
    return _from_cache(folder)


def upright(source: Path, longest_needed: int) -> Image.Image:
    """Decode a still: first frame, upright, 8-bit RGB in sRGB, no transparency.

    Args:
        source: any still that Pillow (with pillow-heif) reads, in any colour mode.
        longest_needed: the picture's width will not be wanted larger; a JPEG is then decoded smaller, and faster.
    """
    with Image.open(source) as opened:
        if opened.width * opened.height > _MOST_PIXELS:
            raise ValueError(f"{opened.width} x {opened.height} pixels are more than can be handled")
        if opened.format in ("JPEG", "MPO"):
            opened.draft(None, (2 * longest_needed, 2 * longest_needed))
        opened.load()
        profile = opened.info.get("icc_profile")
        turned = ImageOps.exif_transpose(opened)
    return _in_srgb(turned, profile)


def _in_srgb(picture: Image.Image, profile: bytes | None) -> Image.Image:
    picture = _eight_bit(picture)
    alpha: Image.Image | None = None
    if picture.has_transparency_data:
        picture = picture.convert("RGBA")
        alpha = picture.getchannel("A")
        picture = picture.convert("RGB")
    elif picture.mode not in ("L", "RGB", "CMYK", "LAB"):
        picture = picture.convert("RGB")
    picture = _converted(picture, profile)
    if alpha is None:
        return picture
    ground = Image.new("RGB", picture.size, _PAPER)
    ground.paste(picture, mask=alpha)
    return ground


def _converted(picture: Image.Image, profile: bytes | None) -> Image.Image:
    """To sRGB through the picture's own profile; a profile that does not fit or does not read is left aside."""
    if profile:
        try:
            source = ImageCms.ImageCmsProfile(io.BytesIO(profile))
            changed = ImageCms.profileToProfile(picture, source, _SRGB, outputMode="RGB")
        except (ImageCms.PyCMSError, OSError, ValueError):
            changed = None
        if changed is not None:
            return changed
    return picture if picture.mode == "RGB" else picture.convert("RGB")


def _eight_bit(picture: Image.Image) -> Image.Image:
    """16-bit and floating grey to 8-bit grey: by full scale, never by the picture's own range."""
    if picture.mode.startswith("I;16"):
        return picture.convert("I").point(lambda value: value * (1 / 257) + 0.5).convert("L")
    if picture.mode == "I":
        return picture.point(lambda value: value * (1 / 257) + 0.5).convert("L")
    if picture.mode == "F":
        return picture.point(lambda value: value * 255.0 + 0.5).convert("L")
    return picture


def _scaled(picture: Image.Image, width: int) -> Image.Image:
    if width >= picture.width:
        return picture
    height = max(1, round(picture.height * width / picture.width))
    return picture.resize((width, height), Image.Resampling.LANCZOS, reducing_gap=3.0)


def _jpeg(picture: Image.Image, quality: int) -> bytes:
    """The bytes of a progressive JPEG with nothing in it but pixels."""
    clean = Image.new("RGB", picture.size)
    clean.paste(picture)
    out = io.BytesIO()
    clean.save(out, "JPEG", quality=quality, subsampling="4:2:0", progressive=True, optimize=True)
    return out.getvalue()


def _no_still() -> Image.Image:
    """A plain sheet with a play sign, for a clip that no still could be taken of."""
    sheet = Image.new("RGB", (1600, 900), (231, 225, 211))
    draw = ImageDraw.Draw(sheet)
    draw.ellipse((680, 330, 920, 570), outline=(30, 35, 32), width=8)
    draw.polygon(((766, 390), (766, 510), (862, 450)), fill=(30, 35, 32))
    return sheet


def _from_cache(folder: Path) -> tuple[Rendition, ...]:
    """What the cache holds for one photo, empty if anything of it is missing or not a bare JPEG."""
    try:
        widths = [int(line) for line in (folder / "whole").read_text(encoding="ascii").split()]
        found = []
        for width in widths:
            path = folder / f"{width}.jpg"
            size = bare.size(path.read_bytes())
            if size is None or size[0] != width:
                return ()
            found.append(Rendition(size[0], size[1], path))
    except (OSError, ValueError):
        return ()
    return tuple(found)


def cores() -> int:
    """How many threads are worth having here."""
    return max(1, min(4, os.cpu_count() or 1))
