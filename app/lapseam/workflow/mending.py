"""Bringing a workspace back after its database was lost."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

from lapseam import storage
from lapseam.storage import RebuildReport


def rebuild(folder: Path, *, at: datetime) -> RebuildReport:
    """Make a new database from every car's own files; the old one is moved aside, never deleted."""
    return storage.rebuild(folder, at=at)
