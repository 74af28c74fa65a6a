"""The vault: originals, each under its SHA-256, kept read-only and never overwritten. Safe from several threads."""

from __future__ import annotations

import os
import re
import secrets
from collections.abc import Iterator
from hashlib import file_digest
from pathlib import Path
from threading import Lock

from lapseam.domain.errors import NotFound

from .durable import PART, flush_file, flush_folder, free_name

_SHA256 = re.compile(r"[0-9a-f]{64}")
_SUFFIX = re.compile(r"\.[a-z0-9]{1,8}")
_DAMAGED = "damaged"


class Vault:
    """Originals under `folder`: `ab/abcdef….jpg`. Errors of the disk pass as the `OSError` they are.

    A file that was kept before its row could be written is harmless: the next take-in finds and adopts it.
    """

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._spool = folder / ".spool"
        self._moving = Lock()

    def spool(self) -> Path:
        """A fresh path to write a copy to, on the vault's own disk; nobody else is given the same."""
        self._spool.mkdir(parents=True, exist_ok=True)
        return self._spool / (secrets.token_hex(16) + PART)

    def empty_spool(self) -> int:
        """Delete copies that a killed run left unfinished; only for whoever holds the workspace's lock. How many."""
        left = list(self._spool.glob(f"*{PART}"))
        for part in left:
            part.unlink(missing_ok=True)
        return len(left)

    def keep(self, spooled: Path, sha256: str, suffix: str) -> Path:
        """Flush a finished copy to the disk and move it under its hash; `spooled` is gone afterwards.

        What lies there already stays as it is, unless it no longer fits its hash: then it is set aside as damaged
        and the good copy takes its place.

        Raises:
            ValueError: the copy does not have that hash.
        """
        suffix = suffix.lower()
        if not _SUFFIX.fullmatch(suffix):
            raise ValueError(f"{suffix!r} is no ending of a file's name")
        if _digest(spooled) != sha256:
            raise ValueError(f"the copy does not have the hash {sha256}")
        flush_file(spooled)
        spooled.chmod(0o444)
        folder = self._shelf(sha256)
        if not folder.is_dir():
            folder.mkdir(parents=True, exist_ok=True)
            flush_folder(self._folder)
        with self._moving:
            here = self._find(sha256)
            if here is not None and _digest(here) == sha256:
                _remove(spooled)
                return here
            if here is not None:
                here.rename(free_name(here, _DAMAGED))
            target = folder / (sha256 + suffix)
            _move_to_free_name(spooled, target)
        flush_folder(folder)
        return target

    def has(self, sha256: str) -> bool:
        """Whether the original with this hash lies here."""
        return self._find(sha256) is not None

    def path(self, sha256: str) -> Path:
        """Where the original lies.

        Raises:
            NotFound: it is not here.
        """
        found = self._find(sha256)
        if found is None:
            raise NotFound(
                f"The original {sha256[:8]} is not in the vault.",
                effect="What was read from it and said about it is still on record.",
                next_step="Bring the file back from a backup, or take it in again from the card.",
                detail=sha256,
            )
        return found

    def check(self, sha256: str) -> bool:
        """Read the original through: whether it is here and still is what was taken in."""
        found = self._find(sha256)
        return found is not None and _digest(found) == sha256

    def all(self) -> Iterator[str]:
        """The hashes of all originals, in order."""
        for shelf in sorted(self._folder.glob("[0-9a-f][0-9a-f]")):
            yield from sorted({file.name[:64] for file in shelf.iterdir() if _is_original(file)})

    def _shelf(self, sha256: str) -> Path:
        if not _SHA256.fullmatch(sha256):
            raise ValueError(f"{sha256!r} is no SHA-256 in lower-case hexadecimal")
        return self._folder / sha256[:2]

    def _find(self, sha256: str) -> Path | None:
        return next((file for file in self._shelf(sha256).glob(f"{sha256}.*") if _is_original(file)), None)


def _is_original(file: Path) -> bool:
    return bool(_SHA256.fullmatch(file.stem) and _SUFFIX.fullmatch(file.suffix))


def _digest(path: Path) -> str:
    with path.open("rb") as file:
        return file_digest(file, "sha256").hexdigest()


def _move_to_free_name(source: Path, target: Path) -> None:
    """Move without ever replacing: by a hard link, or where the disk knows none by a rename to a name that is free."""
    try:
        target.hardlink_to(source)
    except FileExistsError:
        raise
    except OSError:
        if target.exists():
            raise
        source.rename(target)
        return
    _remove(source)


def _remove(file: Path) -> None:
    if os.name == "nt":
        file.chmod(0o666)
    file.unlink()
