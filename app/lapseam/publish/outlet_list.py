"""The list that lies in an outlet's folder, `outlet.json`: what was made for it, each file with its SHA-256; read back.

A person may change texts, or take photos out, before the folder goes to the outlet: reading says which.
"""

from __future__ import annotations

import dataclasses
import hashlib
import json
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from lapseam.domain.errors import Mistake, NotFound
from lapseam.domain.selection import Outlet, TextForm

from .listing_text import ENDINGS
from .manifest import json_bytes

LIST: Final = "outlet.json"
FORMAT: Final = "lapseam-outlet"
VERSION: Final = 1
TEXTS: Final = ("title", "teaser")
"""Texts in files of their own beside the listing's."""

_NAME: Final = re.compile(r"[\w-][\w. -]{0,120}\.jpg")
_MOST_BYTES: Final = 20_000_000


@dataclass(frozen=True, slots=True)
class OutletTexts:
    """Title, teaser and text as they are pasted."""

    title: str
    teaser: str
    text: str
    form: TextForm = TextForm.PLAIN


@dataclass(frozen=True, slots=True)
class Sending:
    """Of which car and edition a folder is. `edition` is 0 where none stands under this record.

    `record_sha256` digests the record it was made from; `made_at` is ISO 8601; `house` is the dealer's public name.
    """

    stock: str
    edition: int
    record_sha256: str
    made_at: str
    house: str = ""

    @property
    def job(self) -> str:
        """Stock number and edition, as pictures name them."""
        return f"{self.stock}/{self.edition}" if self.edition else self.stock


@dataclass(frozen=True, slots=True)
class OutletFile:
    """One picture file as written: the original's SHA-256, upright size in pixels, bytes, the quality that was found,
    its caption, alternative text and SHA-256."""

    name: str
    original: str
    width: int
    height: int
    octets: int
    quality: int
    caption: str
    alt: str
    sha256: str


@dataclass(frozen=True, slots=True)
class OutletRead:
    """A folder as it lies there: its photos in order, its texts, and what a person changed since it was written.

    `outlet` is the outlet's name.
    """

    sending: Sending
    outlet: str
    photos: tuple[OutletFile, ...]
    texts: OutletTexts
    changed: tuple[str, ...] = ()


def text_name(form: TextForm) -> str:
    """The file that holds the listing's text."""
    return f"text.{ENDINGS[form]}"


def list_bytes(
    photos: Sequence[OutletFile], texts: OutletTexts, outlet: Outlet, sending: Sending, troubles: Sequence[str]
) -> bytes:
    """`outlet.json`."""
    said: dict[str, Any] = {
        "format": FORMAT,
        "version": VERSION,
        **dataclasses.asdict(sending),
        "outlet": {**dataclasses.asdict(outlet), "form": outlet.form.value},
        "photos": [{"place": place, **dataclasses.asdict(one)} for place, one in enumerate(photos, 1)],
        "texts": {**dataclasses.asdict(texts), "form": texts.form.value},
        "troubles": list(troubles),
    }
    return json_bytes(said)


def set_bytes(outlet: Outlet, photos: Sequence[Mapping[str, object]], texts: OutletTexts) -> bytes:
    """What one outlet gets of an edition, as JSON: its limits, the photos in order, the texts to paste."""
    said: dict[str, Any] = {
        "format": f"{FORMAT}-set",
        "version": VERSION,
        "outlet": {**dataclasses.asdict(outlet), "form": outlet.form.value},
        "photos": [{"place": place, **one} for place, one in enumerate(photos, 1)],
        "texts": {**dataclasses.asdict(texts), "form": texts.form.value},
    }
    return json_bytes(said)


def read_outlet(folder: Path) -> OutletRead:
    """Read a folder back, with what was changed in it.

    Raises:
        NotFound: there is no such folder, or no list in it. Mistake: the list is none of ours, a picture was changed,
        or one lies there that the list does not name.
    """
    path = folder / LIST
    if not path.is_file():
        raise NotFound(
            f"{folder} is no outlet's folder: it holds no {LIST}.",
            next_step="Write one with: lapseam outlet STOCK --outlet NAME --out DIR",
        )
    try:
        said = json.loads(path.read_bytes()[:_MOST_BYTES])
        if said["format"] != FORMAT or said["version"] != VERSION:
            raise ValueError(f"{said['format']} {said['version']}")
        fields = [one.name for one in dataclasses.fields(OutletFile)]
        listed = [OutletFile(**{name: row[name] for name in fields}) for row in said["photos"]]
        if not all(_NAME.fullmatch(one.name) for one in listed):
            raise ValueError("it names a file that no folder of ours holds")
        texts = OutletTexts(**{**said["texts"], "form": TextForm(said["texts"]["form"])})
        sending = Sending(**{one.name: said[one.name] for one in dataclasses.fields(Sending)})
        outlet = str(said["outlet"]["name"])
    except (ValueError, KeyError, TypeError, RecursionError) as error:
        raise Mistake(f"{path} is no list of ours.", next_step="Write the folder anew.", detail=str(error)) from error
    photos, changed = _photos(folder, listed)
    told = {name: _text(folder / f"{name}.txt") for name in TEXTS}
    told["text"] = _text(folder / text_name(texts.form)) + "\n"
    for name, words in told.items():
        if words.strip() != str(getattr(texts, name)).strip():
            changed.append(f"The {name} was changed by hand.")
    return OutletRead(sending, outlet, photos, OutletTexts(**told, form=texts.form), tuple(changed))


def _text(path: Path) -> str:
    try:
        return path.read_text(encoding="utf-8-sig").strip() if path.is_file() else ""
    except UnicodeDecodeError as error:
        raise Mistake(f"{path} is not UTF-8.", next_step="Save it as UTF-8.", detail=f"byte {error.start}") from error


def _photos(folder: Path, listed: Sequence[OutletFile]) -> tuple[tuple[OutletFile, ...], list[str]]:
    names = {one.name for one in listed}
    strangers = sorted(path.name for path in folder.glob("*.jpg") if path.name not in names)
    if strangers:
        raise Mistake(
            f"{folder} holds {strangers[0]}, which its list does not name.",
            effect="What a posting keeps is what was made from the record.",
            next_step="Take it out, or pin the photo and write the folder anew.",
        )
    here: list[OutletFile] = []
    changed: list[str] = []
    captions = _captions(folder / "captions.txt")
    for one in listed:
        path = folder / one.name
        if not path.is_file() or path.is_symlink():
            changed.append(f"{one.name} was taken out by hand.")
        elif hashlib.sha256(path.read_bytes()).hexdigest() != one.sha256:
            raise Mistake(
                f"{one.name} is not as it was written: somebody changed the picture.",
                effect="A retouched picture may not stand for the car.",
                next_step="Write the folder anew.",
            )
        else:
            caption = captions.get(one.name, one.caption)
            if caption != one.caption:
                changed.append(f"The caption of {one.name} was changed by hand.")
            here.append(dataclasses.replace(one, caption=caption))
    return tuple(here), changed


def _captions(path: Path) -> dict[str, str]:
    """Captions by file, as they stand in `captions.txt`: a name, its caption, an empty line."""
    blocks = [block.strip().split("\n", 1) for block in _text(path).replace("\r\n", "\n").split("\n\n")]
    return {block[0].strip(): " ".join(block[1].split()) for block in blocks if len(block) == 2}
