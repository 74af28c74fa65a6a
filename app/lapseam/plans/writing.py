"""Writing a file of plans so that it appears whole or not at all."""

from __future__ import annotations

import os
from pathlib import Path


def write_whole(path: Path, text: str) -> None:
    """Write the text beside its place, flush it to disk, then put it there."""
    new = path.with_name(path.name + ".new")
    with new.open("w", encoding="utf-8") as out:
        out.write(text)
        out.flush()
        os.fsync(out.fileno())
    new.replace(path)
