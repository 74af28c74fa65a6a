"""Plain text, such as a voice typed it: every paragraph becomes a jotting at the zone that it speaks of."""

from __future__ import annotations

import re
from datetime import datetime
from pathlib import Path
from typing import Final

from ..domain.car import Car
from ..domain.errors import NotesBroken
from ..domain.jotting import Jotting, zone_meant
from .nodes import LARGEST_BYTES
from .notes_table import decoded

TEXT_SUFFIX: Final = ".txt"
_PARAGRAPHS: Final = re.compile(r"\n[ \t]*\n")
_LONGEST: Final = 4_000


def read_jottings(path: Path, car: Car, *, at: datetime, by: str) -> tuple[Jotting, ...]:
    """One jotting for each paragraph, under the person's name; a paragraph that names no zone stays at the one before.

    Raises:
        NotesBroken: the file cannot be read, is no text, or a paragraph is too long; nothing was taken over.
    """
    paragraphs = [one.strip() for one in _PARAGRAPHS.split(_text(path)) if one.strip()]
    problems = [
        f"{path.name}: paragraph {place} has {len(one)} characters, more than {_LONGEST} (part it by an empty line)"
        for place, one in enumerate(paragraphs, start=1)
        if len(one) > _LONGEST
    ]
    if not paragraphs:
        problems = [f"{path.name}: the file holds no words (write a paragraph for each thing noted)"]
    if problems:
        raise NotesBroken(f"{path.name} was not taken over.", problems=tuple(problems))
    zone = next((shot.zone for shot in car.plan.shots), "")
    free = max((one.number for one in car.jottings), default=0) + 1
    made = []
    for number, text in enumerate(paragraphs, start=free):
        zone = zone_meant(text, car.plan) or zone
        made.append(Jotting(number, zone, text, by, at))
    return tuple(made)


def _text(path: Path) -> str:
    try:
        size = path.stat().st_size
        text = decoded(path.read_bytes()) if size <= LARGEST_BYTES else None
    except OSError as error:
        problem = f"{path.name}: the file cannot be read: {error.strerror or error} (check its name and rights)"
        raise NotesBroken(f"{path.name} was not taken over.", problems=(problem,)) from error
    if text is None or "\0" in text:
        problem = f"{path.name}: this is no text of at most 1 MB (save it as plain text in UTF-8)"
        raise NotesBroken(f"{path.name} was not taken over.", problems=(problem,))
    return text.replace("\r\n", "\n").replace("\r", "\n")
