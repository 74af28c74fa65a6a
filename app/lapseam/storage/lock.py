"""The lock that lets one writer at a time into a workspace.

It is the operating system's lock on an open file, so it ends with the process that holds it, however that ends; what
the file says (pid and host) is only for people. The file itself is never deleted: deleting it would let two in.
"""

from __future__ import annotations

import json
import os
import socket
import sys
import time
from pathlib import Path

from lapseam.domain.errors import WorkspaceBusy

from .durable import refusals

_PAUSE_S = 0.05

if sys.platform == "win32":
    import msvcrt

    _FAR = 1 << 30
    """The byte that is locked: far behind the text, so that others can read who holds the lock."""

    def _try(handle: int) -> bool:
        os.lseek(handle, _FAR, os.SEEK_SET)
        try:
            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        except OSError:
            return False
        return True
else:
    import fcntl

    def _try(handle: int) -> bool:
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            return False
        return True


class Lock:
    """A lock on `path`. Taking it twice, in one process or in two, fails the second time."""

    def __init__(self, path: Path) -> None:
        self._path = path
        self._handle: int | None = None

    def take(self, wait_s: float = 0.0) -> None:
        """Take the lock, waiting for it up to `wait_s` seconds.

        Raises:
            WorkspaceBusy: somebody else holds it. NoRights: the file cannot be opened for writing.
        """
        until = time.monotonic() + wait_s
        with refusals(f"write in the workspace {self._path.parent}"):
            handle = os.open(self._path, os.O_RDWR | os.O_CREAT, 0o666)
        try:
            while not _try(handle):
                if time.monotonic() >= until:
                    raise self._busy(handle)
                time.sleep(_PAUSE_S)
        except BaseException:
            os.close(handle)
            raise
        self._handle = handle

    def sign(self) -> None:
        """Write into the file who holds the lock."""
        if self._handle is None:
            raise RuntimeError("a lock is signed after it was taken")
        holder = json.dumps({"pid": os.getpid(), "host": socket.gethostname()})
        os.ftruncate(self._handle, 0)
        os.lseek(self._handle, 0, os.SEEK_SET)
        os.write(self._handle, holder.encode())

    def release(self) -> None:
        """Let the next one in; releasing what is not held does nothing."""
        if self._handle is not None:
            os.ftruncate(self._handle, 0)
            os.close(self._handle)
            self._handle = None

    def _busy(self, handle: int) -> WorkspaceBusy:
        """Word who holds the lock, as far as the file tells."""
        os.lseek(handle, 0, os.SEEK_SET)
        try:
            holder = json.loads(os.read(handle, 1000))
            who = f" (process {holder['pid']} on {holder['host']})"
        except (OSError, ValueError, KeyError, TypeError):
            who = ""
        return WorkspaceBusy(
            f"The workspace {self._path.parent} is open in another lapseam{who}.",
            effect="Two at once could mix up one car's journal, so nothing was opened.",
        )
