"""Sets a template as PDF: finished words go in as JSON, never into the template's source.

The same words, day and paper give the same bytes. Pages are tagged for reading aloud (PDF/UA-1, ISO 14289-1). Signs
that no letter of ours can show are printed as an open square; the sheet then comes out all the same.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable
from datetime import date
from enum import StrEnum
from functools import lru_cache
from pathlib import Path
from typing import Any, Final

import typst

from lapseam import places

UNSHOWN: Final = "□"
"""Stands where a sign cannot be shown."""

_STANDARD: Final = "ua-1"
_UNSHOWABLE: Final = "could not be displayed"
_TRIAL: Final = b'#set document(title: "x", date: none)\n#set text(font: "IBM Plex Sans")\n#sys.inputs.words'


class Paper(StrEnum):
    """The sheet: ISO 216 A4 (210 by 297 mm) or US Letter (8.5 by 11 in)."""

    A4 = "a4"
    LETTER = "letter"


_TYPST_PAPER: Final = {Paper.A4: "a4", Paper.LETTER: "us-letter"}


def typeset(source: Path | bytes, data: dict[str, Any], *, root: Path, paper: Paper, on: date) -> bytes:
    """One PDF.

    Args:
        source: the template, as a path inside `root` or as its text.
        data: finished words and numbers, as JSON takes them; the paper and the day are added.
        root: the folder of what the template may read: its own parts, or the pictures it shows.
        on: the day that the file says it was made.
    """
    sheet = {"paper": _TYPST_PAPER[paper], "day": {"year": on.year, "month": on.month, "day": on.day}}

    def pdf(words: dict[str, Any]) -> bytes:
        return _compile(source, root, json.dumps({**words, "sheet": sheet}))

    try:
        return pdf(data)
    except typst.TypstError as error:
        if _UNSHOWABLE not in error.message:
            raise
    return pdf(_mapped(data, _shown_signs(_signs(data))))


def _compile(source: Path | bytes, root: Path, data: str) -> bytes:
    template: Any = source  # its stubs ask for one type of source and root; it takes text and a folder
    pdf: bytes = typst.compile(
        template, root=root, sys_inputs={"data": data}, font_paths=_fonts(places.fonts()), pdf_standards=_STANDARD
    )
    return pdf


@lru_cache(maxsize=4)
def _fonts(folder: Path) -> typst.Fonts:
    """The letters in a folder, read once; never those of the machine, so that every machine sets the same pages."""
    return typst.Fonts(include_system_fonts=False, font_paths=[folder])


def _signs(value: Any) -> frozenset[str]:
    """Every sign in the texts of a value."""
    if isinstance(value, str):
        return frozenset(value)
    if isinstance(value, dict):
        return frozenset().union(*map(_signs, value.values()))
    if isinstance(value, list | tuple):
        return frozenset().union(*map(_signs, value))
    return frozenset()


def _shown_signs(signs: Iterable[str]) -> Callable[[str], str]:
    """A function that puts `UNSHOWN` for what our letters cannot show."""
    bad = {ord(sign): UNSHOWN for sign in signs if not sign.isascii() and not _can_be_shown(sign)}
    return lambda words: words.translate(bad)


@lru_cache(maxsize=4096)
def _can_be_shown(sign: str) -> bool:
    """Whether some letter of ours shows the sign: asked of the typesetter, which refuses what it cannot set."""
    try:
        typst.compile(_TRIAL, sys_inputs={"words": sign}, font_paths=_fonts(places.fonts()), pdf_standards=_STANDARD)
    except typst.TypstError:
        return False
    return True


def _mapped(value: Any, change: Callable[[str], str]) -> Any:
    """The value with every text changed."""
    if isinstance(value, str):
        return change(value)
    if isinstance(value, dict):
        return {key: _mapped(one, change) for key, one in value.items()}
    if isinstance(value, list | tuple):
        return [_mapped(one, change) for one in value]
    return value
