"""One outlet's folder: its photos in order, resized to its limits, their captions, and the text to paste.

Pictures are upright, in sRGB, never wider than the original gives, and say of themselves what an edition's do: caption,
alternative text, house, job and where findings are marked, within the same limit of bytes. Where an outlet wants one
ratio of width to height, a picture is laid on white: nothing is cut, since a cut may take a finding away.
"""

from __future__ import annotations

import hashlib
import io
import re
import shutil
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Final

from PIL import Image

from lapseam.domain.edition import MarkShown, PublishedPhoto
from lapseam.domain.errors import Cancelled, Mistake, PublishFailed
from lapseam.domain.selection import Outlet

from . import bare, files, xmp
from .outlet_list import LIST, TEXTS, OutletFile, OutletTexts, Sending, list_bytes, text_name
from .photo_notes import notes_for
from .renditions import upright

BEST_QUALITY: Final = 90
LEAST_QUALITY: Final = 40
"""Below it blocks are taken for texture of the paint; rather the limit is not met, and that is said."""

_PAPER: Final = (255, 255, 255)
_TROUBLE: Final = (OSError, SyntaxError, ValueError, EOFError, MemoryError, ArithmeticError, LookupError, TypeError)


@dataclass(frozen=True, slots=True)
class OutletPhoto:
    """One photo as chosen: the original's file, a short name, its whole caption and the findings it shows.

    `said` is what its picture says of itself in an edition; the caption here stands for the one there. `adds` is said
    after the caption, such as how many findings are on the full page, and stays longer than the caption's own end.
    """

    name: str
    source: Path
    caption: str
    said: PublishedPhoto
    findings: tuple[int, ...] = ()
    adds: tuple[str, ...] = ()

    @property
    def whole(self) -> str:
        """The caption with what is said after it."""
        return " ".join((self.caption, *self.adds))


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
    texts: OutletTexts,
    sending: Sending,
    progress: Callable[[int, int], None] = lambda done, total: None,
    stop: Callable[[], bool] = lambda: False,
) -> OutletFolder:
    """Write photos, captions, alternative texts, the text to paste and a list of it all into a new folder.

    Args:
        folder: must not be there yet, or be empty; it appears whole or not at all.
        texts: title, teaser and text as they are pasted.
        sending: of which car and edition it is, for the list and for what pictures say of themselves.

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
        made, troubles = _write_photos(photos, outlet, begun, sending, progress, stop)
        _write_texts(made, texts, outlet, begun, troubles)
        files.write(begun / LIST, list_bytes(made, texts, outlet, sending, troubles))
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
    sending: Sending,
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
            picture, marks = fitted(upright(photo.source, outlet.longest_px), outlet, photo.said.marks)
            said = replace(photo.said, caption=photo.whole, marks=marks)
            content, quality = described(picture, said, outlet.max_bytes, sending)
        except _TROUBLE as error:
            raise PublishFailed(
                f"The photo {photo.name} cannot be made into a picture for {outlet.name}.",
                effect="No folder was written.",
                next_step="Set this photo aside or take it again, then ask again.",
                detail=str(error),
            ) from error
        caption = short_caption(photo, outlet.caption_chars)
        one = OutletFile(
            name, photo.said.sha256, picture.width, picture.height, len(content), quality, caption, photo.said.alt,
            hashlib.sha256(content).hexdigest(),
        )  # fmt: skip
        troubles.extend(_unmet(one, outlet))
        files.write(folder / name, content)
        made.append(one)
        progress(place, len(photos))
    return made, troubles


def _unmet(made: OutletFile, outlet: Outlet) -> Iterator[str]:
    """Limits of the outlet that this picture cannot meet, in words."""
    if outlet.max_bytes and made.octets > outlet.max_bytes:
        yield (
            f"{made.name}: {made.octets} bytes at the least quality that still shows the car ({made.quality}); "
            f"{outlet.name} takes {outlet.max_bytes}. Ask for smaller pictures."
        )
    if outlet.caption_chars and len(made.caption) > outlet.caption_chars:
        yield (
            f"{made.name}: its finding numbers alone need {len(made.caption)} characters; {outlet.name} takes "
            f"{outlet.caption_chars}. They stand in the file's name."
        )
    if max(made.width, made.height) < outlet.min_px:
        yield (
            f"{made.name}: {max(made.width, made.height)} pixels on its longest side, since the original has no more; "
            f"{outlet.name} wants {outlet.min_px}. It was not enlarged: take the photo again, or leave it out."
        )


def _write_texts(
    made: Sequence[OutletFile], texts: OutletTexts, outlet: Outlet, folder: Path, troubles: list[str]
) -> None:
    for name, words in (("captions.txt", "caption"), ("alt-texts.txt", "alt")):
        files.write(folder / name, "".join(f"{one.name}\n{getattr(one, words)}\n\n" for one in made).encode())
    for name in TEXTS:
        files.write(folder / f"{name}.txt", f"{getattr(texts, name)}\n".encode())
    files.write(folder / text_name(texts.form), texts.text.encode())
    if outlet.text_chars and len(texts.text) > outlet.text_chars:
        troubles.append(
            f"{text_name(texts.form)}: {len(texts.text)} characters with nothing left that may be left out; "
            f"{outlet.name} takes {outlet.text_chars}. Shorten it by hand, or give the outlet more room."
        )


def file_name(place: int, photo: OutletPhoto, digits: int) -> str:
    """Place, what is shown, and its finding numbers, so that they survive an outlet that drops captions."""
    plain = re.sub(r"[^a-z0-9]+", "-", photo.name.lower()).strip("-")[:40].strip("-")
    findings = "-".join(map(str, photo.findings[:6]))
    parts = [f"{place:0{digits}d}", plain or "photo", *([f"finding-{findings}"] if findings else [])]
    return "-".join(parts) + ".jpg"


def fitted(
    picture: Image.Image, outlet: Outlet, marks: tuple[MarkShown, ...] = ()
) -> tuple[Image.Image, tuple[MarkShown, ...]]:
    """The picture with its longest side within the outlet's, on white where it wants a ratio; never enlarged.

    Returns:
        The picture, and the marks in shares of it.
    """
    if outlet.aspect:
        wide, high = (int(one) for one in outlet.aspect.split(":"))
        width = max(picture.width, round(picture.height * wide / high))
        height = max(picture.height, round(width * high / wide))
        sheet = Image.new("RGB", (width, height), _PAPER)
        left, top = (width - picture.width) // 2, (height - picture.height) // 2
        sheet.paste(picture, (left, top))
        marks = tuple(_laid(one, picture.size, (left, top), sheet.size) for one in marks)
        picture = sheet
    longest = max(picture.size)
    if longest <= outlet.longest_px:
        return picture, marks
    size = tuple(max(1, round(side * outlet.longest_px / longest)) for side in picture.size)
    return picture.resize((size[0], size[1]), Image.Resampling.LANCZOS, reducing_gap=3.0), marks


def _laid(mark: MarkShown, of: tuple[int, int], at: tuple[int, int], sheet: tuple[int, int]) -> MarkShown:
    """A mark of a picture of size `of`, laid `at` a place of a larger sheet."""
    return replace(
        mark,
        x=(mark.x * of[0] + at[0]) / sheet[0],
        y=(mark.y * of[1] + at[1]) / sheet[1],
        width=mark.width * of[0] / sheet[0],
        height=mark.height * of[1] / sheet[1],
    )


def described(picture: Image.Image, said: PublishedPhoto, max_bytes: int, sending: Sending) -> tuple[bytes, int]:
    """The JPEG with what it says of itself, within `max_bytes` (0: any) if it can be, and its quality.

    Where the words take the room that the picture needs, the marks' places go first, then all words but the caption.

    Raises:
        ValueError: something would leave that is not for the public.
    """
    whole = notes_for(said, house=sending.house, job=sending.job, made_on=sending.made_at[:10])
    shorter = replace(whole, regions=())
    least = xmp.Notes(description=whole.description, creator=whole.creator, job=whole.job)
    content, quality = b"", LEAST_QUALITY
    for notes in dict.fromkeys((whole, shorter, least)):
        packet = xmp.packet(notes)
        room = max_bytes - len(xmp.embedded(_EMPTY, packet)) + len(_EMPTY) if max_bytes else 0
        content, quality = within(picture, max(1, room) if max_bytes else 0)
        content = xmp.embedded(content, packet)
        if found := bare.described_leftovers(content, packet):
            raise ValueError(f"it would carry {found[0]}")
        if not max_bytes or len(content) <= max_bytes:
            break
    return content, quality


_EMPTY: Final = b"\xff\xd8"
"""A JPEG that has only begun: what embedding words in it adds is what it adds to any."""


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


def short_caption(photo: OutletPhoto, limit: int) -> str:
    """The whole caption within `limit` characters (0: any); what is said after it is cut last."""
    after = " ".join(photo.adds)
    room = limit - len(after) - 1
    if not limit or not after or len(photo.whole) <= limit or room < _LEAST_CAPTION:
        return cut_caption(photo.whole, limit, photo.findings)
    return f"{cut_caption(photo.caption, room, photo.findings)} {after}"


_LEAST_CAPTION: Final = 24
"""Characters of a caption below which nothing is told any more: then all of it is cut at its end."""


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
