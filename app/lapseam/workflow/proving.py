"""Verbs about published editions that need no open workspace."""

from __future__ import annotations

from pathlib import Path

from lapseam import publish
from lapseam.domain.errors import NotFound, UserError
from lapseam.publish import VerifyReport
from lapseam.storage import load_house

from .key_keeping import known_keys


def verify(folder: Path, *, house: Path | None = None, roots: Path | None = None) -> VerifyReport:
    """Whether the edition in `folder` is complete and unchanged, and what its signature proves, in words.

    Args:
        house: a workspace whose people's public keys are asked whose key it is; only its settings are read.
        roots: a PEM file with root certificates of time stamp authorities that are trusted.

    Raises:
        NotFound: there is no such folder or file. SettingsBroken: the house's settings do not hold.
    """
    if not folder.is_dir():
        raise NotFound(f"There is no edition folder {folder}.", next_step="List them with: lapseam editions STOCK")
    if house is not None and not house.is_dir():
        raise NotFound(f"There is no workspace {house}.")
    if roots is not None and not roots.is_file():
        raise NotFound(f"There is no file {roots}.")
    known = known_keys(load_house(house)) if house is not None else None
    return publish.verify(folder.absolute(), known=known, roots=roots)


def has_settings(workspace: Path) -> bool:
    """Whether a folder is a workspace with settings that hold."""
    try:
        return workspace.is_dir() and bool(load_house(workspace).people)
    except UserError:
        return False
