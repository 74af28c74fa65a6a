"""Watches a folder for photos that arrive: tethered shooting, a phone that syncs, a card reader that copies.

A file that is still growing is waited for; one that was renamed into place is told at once, because it is whole.
watchdog brings the events; where the system says that a writer closed the file, nobody has to wait for it.
"""

from __future__ import annotations

import os
import threading
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from time import monotonic
from typing import Final

from watchdog.events import FileSystemEvent, FileSystemEventHandler
from watchdog.observers import Observer

from lapseam.domain.errors import CardGone, NoRights

from .source import left_out

Arrived = Callable[[tuple[Path, ...]], None]

QUIET_S: Final = 0.6
"""A file whose size stood still so long is taken as whole, where no event says that it was closed."""
_TURN_S: Final = 0.15


class Watch:
    """One watched folder. `stop` ends it; photos that were there before are not told."""

    def __init__(self, folder: Path, arrived: Arrived) -> None:
        self.folder = folder
        self._arrived = arrived
        self._growing: dict[Path, tuple[int, float]] = {}
        self._whole: list[Path] = []
        self._told: set[tuple[Path, int]] = set()
        self._lock = threading.Lock()
        self._ended = threading.Event()
        self._observer = Observer()
        self._observer.schedule(_Handler(self), str(folder), recursive=True)
        self._observer.start()
        self._turner = threading.Thread(target=self._turn, name="watch", daemon=True)
        self._turner.start()

    def stop(self) -> None:
        """Stop watching; returns when nothing more will be told."""
        self._ended.set()
        self._observer.stop()
        self._observer.join()
        self._turner.join()

    def saw(self, path: Path, *, whole: bool) -> None:
        """Take note of a file that changed; `whole` if it was renamed into place or its writer closed it."""
        if left_out(path.name):
            return
        with self._lock:
            if whole:
                self._growing.pop(path, None)
                self._whole.append(path)
            else:
                self._growing[path] = (-1, monotonic())

    def _turn(self) -> None:
        while not self._ended.wait(_TURN_S):
            self._tell(self._ready())

    def _ready(self) -> list[Path]:
        now = monotonic()
        with self._lock:
            ready, self._whole = self._whole, []
            for path, (size, since) in list(self._growing.items()):
                seen = _size(path)
                if seen is None:
                    del self._growing[path]
                elif seen != size:
                    self._growing[path] = (seen, now)
                elif seen and now - since >= QUIET_S:
                    del self._growing[path]
                    ready.append(path)
        return ready

    def _tell(self, ready: list[Path]) -> None:
        fresh = []
        for path in dict.fromkeys(ready):
            size = _size(path)
            if size and (path, size) not in self._told:
                self._told.add((path, size))
                fresh.append(path)
        if fresh:
            self._arrived(tuple(sorted(fresh)))


class _Handler(FileSystemEventHandler):
    """Turns watchdog's events into what a watch wants to know."""

    def __init__(self, watch: Watch) -> None:
        self._watch = watch

    def on_created(self, event: FileSystemEvent) -> None:
        self._saw(event.src_path, event, whole=False)

    def on_modified(self, event: FileSystemEvent) -> None:
        self._saw(event.src_path, event, whole=False)

    def on_closed(self, event: FileSystemEvent) -> None:
        self._saw(event.src_path, event, whole=True)

    def on_moved(self, event: FileSystemEvent) -> None:
        self._saw(event.dest_path, event, whole=True)

    def _saw(self, path: str | bytes, event: FileSystemEvent, *, whole: bool) -> None:
        if not event.is_directory:
            self._watch.saw(Path(os.fsdecode(path)), whole=whole)


def watch(folder: Path, arrived: Arrived) -> Watch:
    """Start watching; `arrived` is called on the watch's own thread with files that are whole.

    Raises:
        CardGone: the folder is not there. NoRights: it cannot be read.
    """
    if not folder.is_dir():
        raise CardGone(f"There is no folder {folder} to watch.", next_step="Name a folder that is there.")
    if not os.access(folder, os.R_OK | os.X_OK):
        raise NoRights(f"The folder {folder} cannot be read.")
    return Watch(folder, arrived)


def _size(path: Path) -> int | None:
    with suppress(OSError):
        return path.stat().st_size
    return None
