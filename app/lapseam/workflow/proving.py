"""Verbs about published editions that need no workspace."""

from __future__ import annotations

from pathlib import Path

from lapseam import publish
from lapseam.domain.errors import NotFound
from lapseam.publish import VerifyReport


def verify(folder: Path) -> VerifyReport:
    """Whether the edition in `folder` is complete and unchanged, in words.

    Raises:
        NotFound: there is no such folder.
    """
    if not folder.is_dir():
        raise NotFound(f"There is no edition folder {folder}.", next_step="List them with: lapseam editions STOCK")
    return publish.verify(folder)
