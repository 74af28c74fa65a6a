"""One outlet's folder: its photos in order, resized to its limits, and their captions.

Pictures are upright, in sRGB, never wider than the original gives, and carry nothing but pixels. Where an outlet wants
one ratio of width to height, a picture is laid on white: nothing is cut, since a cut may take a finding away.
"""

from __future__ import annotations

import io
import re
import shutil
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from PIL import Image

from lapseam.domain.errors import Cancelled, Mistake, PublishFailed
from lapseam.domain.selection import Outlet

from . import files
from .renditions import upright

BEST_QUALITY: Final = 90
LEAST_QUALITY: Final = 40
"""Below it blocks are taken for texture of the paint; rather the limit is not met, and that is said."""

_PAPER: Final = (255, 255, 255)
_TROUBLE: Final = (OSError, SyntaxError, ValueError, EOFError, MemoryError, ArithmeticError, LookupError, TypeError)


@dataclass(frozen=True, slots=True)
class OutletPhoto:
    """One photo as chosen: the original's file, a short name, its whole caption and the findings it shows."""

    name: str
    source: Path
    caption: str
    findings: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class OutletFile:
    """One picture file as written: upright size in pixels, bytes, the quality that was found, and its caption."""

    name: str
    width: int
    height: int
    octets: int
    quality: int
    caption: str


@dataclass(frozen=True, slots=True)
class OutletFolder:
    """A finished folder. `troubles` are limits that could not be met, in words."""

    path: Path
    photos: tuple[OutletFile, ...]
    troubles: tuple[str, ...]


def write_outlet(
    photos: Sequence[OutletPhoto],
    outlet: Outlet,
    folder: Path,
    *,
    text: Sequence[str] = (),
    progress: Callable[[int, int], None] = lambda done, total: None,
    stop: Callable[[], bool] = lambda: False,
) -> OutletFolder:
    """Write photos, `captions.txt` and, where there is something to tell, `text.txt` into a new folder.

    Args:
        folder: must not be there yet, or be empty; it appears whole or not at all.
        text: sentences for the outlet's own text, such as findings that are not pictured.

    Raises:
        Mistake: the folder is in use. PublishFailed: a photo cannot be shown. Cancelled: `stop` said so.
        DiskFull, NoRights: the disk or the system refused. Nothing was written then.
    """
    if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        raise Mistake(
            f"{folder} is in use already.", effect="Nothing was written.", next_step="Name a folder that is not there."
        )
    files.folder(folder.parent)
    begun = folder.with_name(f".{folder.name}.making")
    try:
        with files.refusals_in_words(folder):
            shutil.rmtree(begun, ignore_errors=True)
        files.folder(begun)
        made, troubles = _write_photos(photos, outlet, begun, progress, stop)
        _write_texts(made, text, outlet, begun, troubles)
        files.flush_tree(begun)
        with files.refusals_in_words(folder):
            if folder.exists():
                folder.rmdir()
            begun.rename(folder)
        files.flush_folder(folder.parent)
    finally:
        shutil.rmtree(begun, ignore_errors=True)
    return OutletFolder(folder, tuple(made), tuple(troubles))


def _write_photos(
    photos: Sequence[OutletPhoto],
    outlet: Outlet,
    folder: Path,
    progress: Callable[[int, int], None],
    stop: Callable[[], bool],
) -> tuple[list[OutletFile], list[str]]:
    made: list[OutletFile] = []
    troubles: list[str] = []
    digits = max(2, len(str(len(photos))))
    for place, photo in enumerate(photos, 1):
        if stop():
            raise Cancelled
        name = file_name(place, photo, digits)
        try:
            picture = fitted(upright(photo.source, outlet.longest_px), outlet)
            content, quality = within(picture, outlet.max_bytes)
        except _TROUBLE as error:
            raise PublishFailed(
                f"The photo {photo.name} cannot be made into a picture for {outlet.name}.",
                effect="No folder was written.",
                next_step="Set this photo aside or take it again, then ask again.",
                detail=str(error),
            ) from error
        if outlet.max_bytes and len(content) > outlet.max_bytes:
            troubles.append(
                f"{name}: {len(content)} bytes at the least quality that still shows the car ({quality}); "
                f"{outlet.name} takes {outlet.max_bytes}. Ask for smaller pictures."
            )
        caption = cut_caption(photo.caption, outlet.caption_chars, photo.findings)
        if outlet.caption_chars and len(caption) > outlet.caption_chars:
            troubles.append(
                f"{name}: its finding numbers alone need {len(caption)} characters; {outlet.name} takes "
                f"{outlet.caption_chars}. They stand in the file's name."
            )
        files.write(folder / name, content)
        made.append(OutletFile(name, picture.width, picture.height, len(content), quality, caption))
        progress(place, len(photos))
    return made, troubles


def _write_texts(
    made: Sequence[OutletFile], text: Sequence[str], outlet: Outlet, folder: Path, troubles: list[str]
) -> None:
    captions = "".join(f"{one.name}\n{one.caption}\n\n" for one in made)
    files.write(folder / "captions.txt", captions.encode())
    if text:
        words = "\n".join(text)
        if outlet.text_chars and len(words) > outlet.text_chars:
            troubles.append(
                f"text.txt: {len(words)} characters; {outlet.name} takes {outlet.text_chars}. It was not cut, since it "
                "names findings that are not pictured: shorten it by hand."
            )
        files.write(folder / "text.txt", f"{words}\n".encode())


def file_name(place: int, photo: OutletPhoto, digits: int) -> str:
    """Place, what is shown, and its finding numbers, so that they survive an outlet that drops captions."""
    plain = re.sub(r"[^a-z0-9]+", "-", photo.name.lower()).strip("-")[:40].strip("-")
    findings = "-".join(map(str, photo.findings[:6]))
    parts = [f"{place:0{digits}d}", plain or "photo", *([f"finding-{findings}"] if findings else [])]
    return "-".join(parts) + ".jpg"


def fitted(picture: Image.Image, outlet: Outlet) -> Image.Image:
    """The picture with its longest side within the outlet's, on white where it wants a ratio; never enlarged."""
    if outlet.aspect:
        wide, high = (int(one) for one in outlet.aspect.split(":"))
        width = max(picture.width, round(picture.height * wide / high))
        height = max(picture.height, round(width * high / wide))
        sheet = Image.new("RGB", (width, height), _PAPER)
        sheet.paste(picture, ((width - picture.width) // 2, (height - picture.height) // 2))
        picture = sheet
    longest = max(picture.size)
    if longest <= outlet.longest_px:
        return picture
    size = tuple(max(1, round(side * outlet.longest_px / longest)) for side in picture.size)
    return picture.resize((size[0], size[1]), Image.Resampling.LANCZOS, reducing_gap=3.0)


def within(picture: Image.Image, max_bytes: int) -> tuple[bytes, int]:
    """The JPEG of the best quality that fits, by bisection; at the least quality, larger than allowed, if none does."""
    content = _jpeg(picture, BEST_QUALITY)
    if not max_bytes or len(content) <= max_bytes:
        return content, BEST_QUALITY
    low, high = LEAST_QUALITY, BEST_QUALITY
    best, quality = _jpeg(picture, low), low
    while low + 1 < high and len(best) <= max_bytes:
        middle = (low + high) // 2
        content = _jpeg(picture, middle)
        if len(content) <= max_bytes:
            low, best, quality = middle, content, middle
        else:
            high = middle
    return best, quality


def _jpeg(picture: Image.Image, quality: int) -> bytes:
    clean = Image.new("RGB", picture.size)
    clean.paste(picture)
    out = io.BytesIO()
    clean.save(out, "JPEG", quality=quality, subsampling="4:2:0", progressive=True, optimize=True)
    return out.getvalue()


def cut_caption(caption: str, limit: int, findings: Sequence[int]) -> str:
    """The caption within `limit` characters (0: whole), cut at a word; the finding numbers stay.

    Where even they do not fit, they stand alone and are longer than the limit.
    """
    if not limit or len(caption) <= limit:
        return caption
    cut = _at_a_word(caption, limit)
    lost = [one for one in findings if not re.search(rf"\bfinding {one}\b", cut, re.IGNORECASE)]
    if not lost:
        return cut
    numbers = ", ".join(f"finding {one}" for one in findings)
    room = limit - len(numbers) - 3
    return f"{_at_a_word(caption, room)} ({numbers})" if room > 1 else numbers


def _at_a_word(text: str, limit: int) -> str:
    cut = text[: limit - 1]
    if not text[limit - 1 : limit].isspace() and " " in cut:
        cut = cut.rsplit(" ", 1)[0]
    return cut.rstrip(" ,;:.") + "…"
