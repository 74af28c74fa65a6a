"""Files that appear whole or not at all: written under a temporary name, flushed to the disk, then renamed."""

from __future__ import annotations

import errno
import os
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from lapseam.domain.errors import DiskFull, NoRights


def folder(path: Path) -> Path:
    """Make a folder and those above it; it may be there already."""
    with refusals_in_words(path):
        path.mkdir(parents=True, exist_ok=True)
    return path


def write(path: Path, content: bytes) -> None:
    """Write a file that is either there with all of `content` or not there.

    Raises:
        DiskFull: there is no room.
        NoRights: the operating system refuses.
    """
    beside = path.with_name(f".{path.name}.{os.getpid()}-{threading.get_ident()}")
    with refusals_in_words(path):
        try:
            with beside.open("wb") as file:
                file.write(content)
                file.flush()
                os.fsync(file.fileno())
            beside.replace(path)
        finally:
            beside.unlink(missing_ok=True)


def flush_tree(path: Path) -> None:
    """Flush every file and folder below `path`, and `path` itself, to the disk."""
    for place, _, names in os.walk(path, topdown=False):
        for name in names:
            _flush(Path(place) / name)
        flush_folder(Path(place))


def flush_folder(path: Path) -> None:
    """Flush a folder's list of names, where the system lets a folder be opened (Windows does not)."""
    if os.name == "posix":
        _flush(path)


def _flush(path: Path) -> None:
    descriptor = os.open(path, os.O_RDONLY if os.name == "posix" else os.O_RDWR)
    try:
        os.fsync(descriptor)
    finally:
        os.close(descriptor)


@contextmanager
def refusals_in_words(path: Path) -> Iterator[None]:
    """Turn the system's refusal to write into an error for people."""
    try:
        yield
    except OSError as error:
        if error.errno in (errno.ENOSPC, getattr(errno, "EDQUOT", errno.ENOSPC)):
            raise DiskFull(f"The disk is full; {path.name} could not be written.", detail=str(error)) from error
        if error.errno in (errno.EACCES, errno.EPERM, errno.EROFS):
            raise NoRights(f"{path.name} may not be written where it belongs.", detail=str(error)) from error
        raise
