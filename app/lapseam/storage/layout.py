"""Where things lie in a workspace's folder, and which stock numbers can name a folder everywhere."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Final

from lapseam.domain.errors import Mistake

DATABASE: Final = "lapseam.sqlite"
LOCK: Final = "lapseam.lock"
VAULT: Final = "vault"
CARS: Final = "cars"
SETTINGS: Final = "settings.yaml"
CLAIMS: Final = "claims.yaml"
OUTLETS: Final = "outlets.yaml"
SYNONYMS: Final = "synonyms.yaml"
PLANS: Final = "plans"
TEMPLATES: Final = "templates"
MESSAGES: Final = "messages"
CACHE: Final = "cache"
KEYS: Final = "keys"

RECORD: Final = "record.json"
JOURNAL: Final = "journal.jsonl"
PLAN_COPY: Final = "plan.json"
EDITIONS: Final = "editions"
POSTINGS: Final = "outlets"

FOLDERS: Final = (VAULT, CARS, PLANS, TEMPLATES, CACHE)
OURS: Final = frozenset((*FOLDERS, MESSAGES, LOCK, SETTINGS, CLAIMS, OUTLETS, SYNONYMS, KEYS))
"""What may lie in a folder that is to become a workspace."""

_STOCK = re.compile(r"[A-Za-z0-9](?:[A-Za-z0-9 ._-]{0,38}[A-Za-z0-9_-])?")
_RESERVED = re.compile(r"(?:con|prn|aux|nul|com[0-9]|lpt[0-9])(?:\..*)?", re.IGNORECASE)
"""Device names of Windows, with or without an ending: no folder may be called so there."""


def stock_number(words: str) -> str:
    """`words` if they can name a car and its folder on every system.

    Raises:
        Mistake: they cannot.
    """
    if _STOCK.fullmatch(words) and not _RESERVED.fullmatch(words):
        return words
    raise Mistake(
        f"{words!r} cannot be a stock number: a folder is named by it.",
        next_step="Take 1 to 40 letters A-Z, digits, spaces, dots, dashes or underscores, such as T-114; "
        "begin with a letter or digit, do not end with a dot or space, and avoid names like CON or LPT1.",
    )


def has_cars(folder: Path) -> bool:
    """Whether `folder` holds the record of at least one car: then a missing database is a loss, not a beginning."""
    cars = folder / CARS
    return cars.is_dir() and any((car / RECORD).exists() or (car / JOURNAL).exists() for car in cars.iterdir())


def foreign(folder: Path) -> tuple[str, ...]:
    """Names in `folder` that are not a workspace's, hidden files aside."""
    return tuple(
        sorted(
            entry.name
            for entry in folder.iterdir()
            if entry.name not in OURS
            and not entry.name.startswith((".", DATABASE))
            and entry.name.lower() not in ("desktop.ini", "thumbs.db")
        )
    )
