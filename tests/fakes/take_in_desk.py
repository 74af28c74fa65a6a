"""A caller of intake's pipeline: rows in a plain dictionary, and a note of which threads were used."""

from __future__ import annotations

import threading
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from fakes.folder_vault import FolderVault, Shelf
from lapseam.domain.photo import Photo
from lapseam.intake import Found, TakenIn, find, take_in


class TakeInDesk:
    """One car in one workspace: its vault, previews and rows."""

    def __init__(self, folder: Path) -> None:
        self.vault = FolderVault(folder / "vault")
        self.shelf = Shelf()
        self.rows: dict[str, Photo] = {}
        self.threads: set[int] = set()
        self.reports: list[tuple[int, int]] = []

    def known(self, sha256: str) -> Photo | None:
        self.threads.add(threading.get_ident())
        return self.rows.get(sha256)

    def keep(self, photo: Photo, found: Found) -> bool:
        self.threads.add(threading.get_ident())
        assert self.vault.has(photo.sha256), "a row before its original"
        new = photo.sha256 not in self.rows
        self.rows[photo.sha256] = photo
        return new

    def take(self, *paths: Path, found: Sequence[Found] | None = None, **more: Any) -> TakenIn:
        """Take these in, with two workers unless told otherwise."""
        options: dict[str, Any] = {
            "vault": self.vault,
            "previews": self.shelf,
            "known": self.known,
            "keep": self.keep,
            "in_car": {sha256: photo.pixels.dhash for sha256, photo in self.rows.items()},
            "progress": lambda done, total: self.reports.append((done, total)),
            "workers": 2,
        }
        return take_in(find(paths) if found is None else found, **(options | more))

    def leftovers(self) -> list[Path]:
        """Copies left behind in the spool: there must never be any."""
        return list(self.vault.spooling.iterdir())
