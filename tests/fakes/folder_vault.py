"""A vault and a preview shelf in plain folders, for tests and benchmarks of intake without a workspace."""

from __future__ import annotations

import os
from itertools import count
from pathlib import Path

from lapseam.domain.photo import PreviewSize


class FolderVault:
    """Originals under their hash, as intake's port asks: flushed, then moved, never overwritten."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.spooling = folder / "spool"
        self.spooling.mkdir(parents=True)
        self._numbers = count()

    def spool(self) -> Path:
        return self.spooling / f"{next(self._numbers):06}"

    def keep(self, spooled: Path, sha256: str, suffix: str) -> Path:
        target = self.folder / f"{sha256}{suffix}"
        if target.exists():
            spooled.unlink()
            return target
        with spooled.open("rb") as copy:
            os.fsync(copy.fileno())
        spooled.rename(target)
        return target

    def has(self, sha256: str) -> bool:
        return any(self.folder.glob(f"{sha256}.*"))

    def originals(self) -> list[Path]:
        """Everything kept."""
        return sorted(path for path in self.folder.iterdir() if path.is_file())


class Shelf:
    """Previews in memory, by hash and size."""

    def __init__(self) -> None:
        self.jpegs: dict[tuple[str, PreviewSize], bytes] = {}

    def put(self, sha256: str, size: PreviewSize, jpeg: bytes, /) -> None:
        self.jpegs[sha256, size] = jpeg
