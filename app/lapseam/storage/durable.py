"""Files that appear whole or not at all, and the operating system's refusals in words a person can use."""

from __future__ import annotations

import errno
import os
import secrets
from collections.abc import Iterator
from contextlib import contextmanager
from itertools import count
from pathlib import Path

from lapseam.domain.errors import DiskFull, NoRights

PART = ".part"
"""How the name of a file ends while it is being written; such a file is never read and may be deleted."""

_FULL = {errno.ENOSPC, errno.EDQUOT} if hasattr(errno, "EDQUOT") else {errno.ENOSPC}


@contextmanager
def refusals(doing: str, *, effect: str = "") -> Iterator[None]:
    """Turn the system's refusal of `doing` ("write record.json") into words; other errors pass unchanged.

    Raises:
        DiskFull: no room, or the quota is used up. NoRights: not allowed, or the disk is read-only.
    """
    try:
        yield
    except OSError as error:
        detail = f"{error.filename or ''}: {error.strerror or error}".strip(": ")
        if error.errno in _FULL:
            raise DiskFull(f"There was no room on the disk to {doing}.", effect=effect, detail=detail) from error
        if error.errno == errno.EROFS:
            raise NoRights(
                f"The disk is read-only: it was not possible to {doing}.",
                effect=effect,
                next_step="Take off the write protection, or copy the folder to another disk and open it there.",
                detail=detail,
            ) from error
        if isinstance(error, PermissionError):
            raise NoRights(f"The system did not allow to {doing}.", effect=effect, detail=detail) from error
        raise


def flush_folder(folder: Path) -> None:
    """Make changed names in `folder` survive a power cut. Windows needs and offers no such call."""
    if os.name == "nt":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def flush_file(path: Path) -> None:
    """Push what was written to `path` down to the disk."""
    with path.open("rb+") as file:
        os.fsync(file.fileno())


def write_whole(path: Path, content: bytes) -> None:
    """Write or replace `path` so that a reader, or a restart after a crash, finds the old file or the new one."""
    part = path.with_name(f".{path.name}.{secrets.token_hex(4)}{PART}")
    try:
        with part.open("xb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        part.replace(path)
    except BaseException:
        part.unlink(missing_ok=True)
        raise
    flush_folder(path.parent)


def append_flushed(path: Path, content: bytes) -> None:
    """Add `content` at the end of `path` (made if absent) and push it down to the disk."""
    new = not path.exists()
    with path.open("ab") as file:
        file.write(content)
        file.flush()
        os.fsync(file.fileno())
    if new:
        flush_folder(path.parent)


def set_aside(path: Path) -> Path:
    """Rename `path` to a free name beside it ("….set-aside-1") and return that; nothing is ever deleted or replaced."""
    target = free_name(path, "set-aside")
    path.rename(target)
    flush_folder(path.parent)
    return target


def free_name(path: Path, word: str) -> Path:
    """The first of `path.word-1`, `path.word-2` … that does not exist."""
    return next(name for number in count(1) if not (name := path.with_name(f"{path.name}.{word}-{number}")).exists())
