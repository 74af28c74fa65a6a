"""The cache of upright previews. Everything in it can be made again and may be deleted at any time."""

from __future__ import annotations

import os
import secrets
from pathlib import Path

from .durable import PART

_BEGIN, _END = b"\xff\xd8", b"\xff\xd9"


class Previews:
    """Previews under `folder`, by the original's hash and a size: a name, or an enum whose value names it.

    Written without waiting for the disk; one that a power cut left incomplete counts as absent. Safe from several
    threads.
    """

    def __init__(self, folder: Path) -> None:
        self._folder = folder

    def put(self, sha256: str, size: object, jpeg: bytes, /) -> None:
        """Keep one preview, over any earlier one."""
        target = self._place(sha256, size)
        target.parent.mkdir(parents=True, exist_ok=True)
        part = target.with_name(f".{target.name}.{secrets.token_hex(4)}{PART}")
        try:
            part.write_bytes(jpeg)
            part.replace(target)
        except BaseException:
            part.unlink(missing_ok=True)
            raise

    def path(self, sha256: str, size: object, /) -> Path | None:
        """Where the preview lies, or None if there is none, or not a whole one."""
        target = self._place(sha256, size)
        try:
            with target.open("rb") as file:
                begin = file.read(2)
                file.seek(-2, os.SEEK_END)
                whole = begin == _BEGIN and file.read(2) == _END
        except OSError:
            return None
        return target if whole else None

    def _place(self, sha256: str, size: object) -> Path:
        return self._folder / sha256[:2] / f"{sha256}.{getattr(size, 'value', size)}.jpg"
