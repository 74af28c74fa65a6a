"""Published pictures: from an original to upright AVIF, WebP and JPEG in sRGB that carry nothing but pixels.

No Exif, IPTC, comment or embedded small picture leaves with them: every file is written anew from pixels, and `bare`
proves it. What a JPEG says of itself is laid in later (`xmp`), so the cache holds pixels only and new words cost no new
picture. The same original and recipe give the same bytes; a cache keyed by both may be deleted at any time.

An original is decoded once, no larger than the widest picture needs, and scaled down a ladder, each width from the one
above. Decoding, scaling and encoding into a file let other threads run, so that threads are worth as much as processes
here and hold less.
"""

from __future__ import annotations

import hashlib
import io
import os
import threading
from collections.abc import Callable, Iterator, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from contextlib import nullcontext
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

import pillow_heif
from PIL import Image, ImageCms, ImageDraw, ImageOps

from lapseam.domain.errors import Cancelled, PublishFailed

from . import files
from .formats import SRGB, SRGB_PROFILE, Format

pillow_heif.register_heif_opener()

_MOST_PIXELS: Final = 400_000_000
_LARGE_PIXELS: Final = 80_000_000
_PAPER: Final = (255, 255, 255)
_TROUBLE: Final = (OSError, SyntaxError, ValueError, EOFError, MemoryError, ArithmeticError, LookupError, TypeError)
_STILLS: Final = (Format.AVIF, Format.WEBP, Format.JPEG)
_TURNED: Final = frozenset({5, 6, 7, 8})
"""Exif orientations that lay a picture's width upright."""
_ROOM: Final = 1.15
"""A JPEG is decoded at a half, a quarter or an eighth while that is still this much wider than the widest picture:
against a full decode the widest then differs by less than 0.01 in SSIM, far below what its encoding costs."""
_ONE_LARGE: Final = threading.Lock()
"""Held while a picture beyond `_LARGE_PIXELS` is decoded and scaled: no two of those are in memory at once."""


@dataclass(frozen=True, slots=True)
class Recipe:
    """How published pictures are made.

    `widths` are upright pixels, rising, made in every format; `large` is the width of the JPEG that opens by itself,
    which then takes the place of the widest JPEG (0: that one stays). `jpeg` and `webp` are their libraries' qualities
    1..95 and 0..100, `avif` is 0..100 as libavif counts; the three as they stand give one mean SSIM
    (`tests/bench/publishing.py --qualities`). `version` changes when the same numbers would give other pixels, so that
    no stale cache is used.
    """

    widths: tuple[int, ...] = (480, 960, 1600)
    large: int = 0
    formats: tuple[Format, ...] = _STILLS
    jpeg: int = 80
    webp: int = 80
    avif: int = 64
    version: int = 2

    @property
    def key(self) -> str:
        """Names the recipe in the cache."""
        made = "-".join(one.suffix[1:] for one in self.formats)
        widths = "-".join(str(width) for width in self.widths)
        return f"v{self.version}-{made}-q{self.jpeg}-{self.webp}-{self.avif}-w{widths}-l{self.large}"

    @property
    def widest(self) -> int:
        """The widest picture that may be wanted."""
        return max(*self.widths, self.large)

    def widths_of(self, width: int, kind: Format = Format.JPEG) -> tuple[int, ...]:
        """The widths made of an original of that width: never wider than it is; at least one."""
        wanted = self.widths
        if kind is Format.JPEG and self.large > self.widths[-1]:
            wanted = (*self.widths[:-1], self.large)
        return tuple(dict.fromkeys(min(one, width) for one in wanted))


PUBLISHED: Final = Recipe(large=2560)
"""What editions are made by. AVIF and WebP take half to two thirds of a JPEG's bytes; a browser that knows neither
takes JPEG, and everybody opens the large JPEG for the detail that a 24-megapixel original has to show."""


@dataclass(frozen=True, slots=True)
class Rendition:
    """One picture file: upright size in pixels, its path in the cache, and its format."""

    width: int
    height: int
    path: Path
    format: Format = Format.JPEG


@dataclass(frozen=True, slots=True)
class Wanted:
    """A photo to make pictures of: `source` is a still that Pillow reads, None where a clip gave no still."""

    sha256: str
    name: str
    source: Path | None


Rendered = Mapping[str, tuple[Rendition, ...]]
"""Renditions by the original's SHA-256, format by format as pages offer them, narrowest first."""


def render_all(
    wanted: Sequence[Wanted],
    recipe: Recipe,
    cache: Path,
    *,
    cores: int = 2,
    progress: Callable[[int, int], None] = lambda done, total: None,
    stop: Callable[[], bool] = lambda: False,
) -> Rendered:
    """Make every picture, on `cores` threads.

    Raises:
        PublishFailed: a photo cannot be shown; it is named.
        Cancelled: `stop` said so; what is in the cache stays there.
    """
    made: dict[str, tuple[Rendition, ...]] = {}
    with ThreadPoolExecutor(max(1, cores), thread_name_prefix="renditions") as pool:
        waiting = [(photo, pool.submit(render, photo, recipe, cache, stop)) for photo in wanted]
        try:
            for done, (photo, future) in enumerate(waiting, start=1):
                made[photo.sha256] = future.result()
                progress(done, len(waiting))
        finally:
            for _, future in waiting:
                future.cancel()
    return made


def render(
    photo: Wanted, recipe: Recipe, cache: Path, stop: Callable[[], bool] = lambda: False
) -> tuple[Rendition, ...]:
    """Make one photo's pictures, or take them from the cache where they are whole.

    Raises:
        PublishFailed: the original cannot be decoded, or is larger than can be handled.
        Cancelled: `stop`, asked before each picture, said so; the photo is not in the cache then.
    """
    if stop():
        raise Cancelled
    folder = cache / recipe.key / photo.sha256[:2] / photo.sha256
    if kept := _from_cache(folder):
        return kept
    files.folder(folder)
    try:
        ladder = _ladder(photo.source, recipe)
        made = [_encoded(ladder[width], kind, recipe, folder, stop) for kind, width in _order(ladder, recipe)]
    except _TROUBLE as error:
        raise PublishFailed(
            f"The photo {photo.name} cannot be made into a picture for the page.",
            effect="The last edition stands as it was.",
            next_step="Set this photo aside or take it again, then publish again.",
            detail=f"{photo.sha256}: {error}",
        ) from error
    (folder / _WHOLE).write_text("".join(f"{line}\n" for line in made), encoding="ascii")
    return _from_cache(folder)


def upright(source: Path, width_needed: int) -> Image.Image:
    """Decode a still: first frame, upright, 8-bit RGB in sRGB, no transparency.

    Args:
        source: any still that Pillow (with pillow-heif) reads, in any colour mode.
        width_needed: it will not be wanted wider; a JPEG is then decoded smaller, and faster.
    """
    with Image.open(source) as opened:
        if opened.width * opened.height > _MOST_PIXELS:
            raise ValueError(f"{opened.width} x {opened.height} pixels are more than can be handled")
        if opened.format in ("JPEG", "MPO"):
            width = opened.height if opened.getexif().get(0x0112) in _TURNED else opened.width
            smaller = next((by for by in (8, 4, 2) if width / by >= width_needed * _ROOM), 1)
            opened.draft(None, (opened.width // smaller, opened.height // smaller))
        opened.load()
        profile = opened.info.get("icc_profile")
        turned = ImageOps.exif_transpose(opened)
    return _in_srgb(turned, profile)


def _ladder(source: Path | None, recipe: Recipe) -> dict[int, Image.Image]:
    """The picture in every width that is wanted, widest first, each scaled from the one before."""
    with _ONE_LARGE if _is_large(source) else nullcontext():
        picture = _no_still() if source is None else upright(source, recipe.widest)
        full = picture.width
        widths = {width for kind in recipe.formats for width in recipe.widths_of(full, kind)}
        rungs = {}
        for width in sorted(widths, reverse=True):
            picture = _scaled(picture, width)
            rungs[width] = picture
    return rungs


def _is_large(source: Path | None) -> bool:
    if source is None:
        return False
    with Image.open(source) as opened:
        return opened.width * opened.height > _LARGE_PIXELS


def _order(ladder: Mapping[int, Image.Image], recipe: Recipe) -> Iterator[tuple[Format, int]]:
    """Every picture to make, as pages offer them."""
    for kind in recipe.formats:
        for width in recipe.widths_of(max(ladder), kind):
            yield kind, width


def _encoded(picture: Image.Image, kind: Format, recipe: Recipe, folder: Path, stop: Callable[[], bool]) -> str:
    """Write one picture into the cache; returns its line there. Written into a file, not into memory: only then does
    the JPEG encoder let other threads run."""
    if stop():
        raise Cancelled
    name = f"{picture.width}{kind.suffix}"
    beside = folder / f".{name}.{os.getpid()}-{threading.get_ident()}"
    with files.refusals_in_words(folder / name):
        try:
            with beside.open("wb") as file:
                picture.save(file, kind.name, **_settings(kind, picture.width, recipe))
            digest = hashlib.sha256(beside.read_bytes()).hexdigest()
            beside.replace(folder / name)
        finally:
            beside.unlink(missing_ok=True)
    return f"{digest} {picture.width} {picture.height} {name}"


def _settings(kind: Format, width: int, recipe: Recipe) -> dict[str, Any]:
    """Each encoder's settings, chosen by measurement at equal SSIM on the demo car's photographs.

    AVIF: libaom's speed 8 up to 1000 pixels, where it saves a sixth of the bytes of speed 9 for 50 ms; above that speed
    9, which costs a sixteenth and takes a third of the time; tuned for SSIM, which saves a tenth. WebP: method 2, whose
    bytes are within 3 % of method 4 in less than half the time.
    """
    if kind is Format.AVIF:
        speed = 8 if width <= 1000 else 9
        return {
            "quality": recipe.avif,
            "speed": speed,
            "max_threads": 1,
            "subsampling": "4:2:0",
            "advanced": [("tune", "ssim")],
        }
    if kind is Format.WEBP:
        return {"quality": recipe.webp, "method": 2, "icc_profile": SRGB_PROFILE}
    return {
        "quality": recipe.jpeg,
        "subsampling": "4:2:0",
        "progressive": True,
        "optimize": True,
        "icc_profile": SRGB_PROFILE,
    }


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
            changed = ImageCms.profileToProfile(picture, source, SRGB, outputMode="RGB")
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
    """A fresh picture of that width with nothing of the original's beside its pixels."""
    height = max(1, round(picture.height * width / picture.width))
    if width < picture.width:
        picture = picture.resize((width, height), Image.Resampling.LANCZOS, reducing_gap=3.0)
    clean = Image.new("RGB", picture.size)
    clean.paste(picture)
    return clean


def _no_still() -> Image.Image:
    """A plain sheet with a play sign, for a clip that no still could be taken of."""
    sheet = Image.new("RGB", (1600, 900), (231, 225, 211))
    draw = ImageDraw.Draw(sheet)
    draw.ellipse((680, 330, 920, 570), outline=(30, 35, 32), width=8)
    draw.polygon(((766, 390), (766, 510), (862, 450)), fill=(30, 35, 32))
    return sheet


_WHOLE: Final = "whole"
"""Lists a photo's files with their digests; written last, so that a folder without it is none."""


def _from_cache(folder: Path) -> tuple[Rendition, ...]:
    """What the cache holds for one photo, empty if anything of it is missing or not as it was written."""
    found = []
    try:
        for line in (folder / _WHOLE).read_text(encoding="ascii").splitlines():
            digest, width, height, name = line.split()
            path = folder / name
            if hashlib.sha256(path.read_bytes()).hexdigest() != digest:
                return ()
            kind = next(one for one in _STILLS if one.suffix == path.suffix)
            found.append(Rendition(int(width), int(height), path, kind))
    except (OSError, ValueError, StopIteration):
        return ()
    return tuple(found)


def cores() -> int:
    """How many threads are worth having here."""
    return max(1, min(4, os.cpu_count() or 1))
