"""Where photos come from: files and folders, walked safely and in the order a person would read the names."""

from __future__ import annotations

import os
import re
import stat
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from lapseam.domain.errors import CardGone, NoRights
from lapseam.domain.photo import IntakeOutcome

HOUSEKEEPING = frozenset({
    "thumbs.db", "desktop.ini", "$recycle.bin", "system volume information", "lost+found", "__macosx", "lost.dir",
})  # fmt: skip
"""Names, in lower case, that operating systems leave on cards; names with a leading dot are left out as well."""


@dataclass(frozen=True, slots=True)
class Found:
    """One file to take in, or the reason why it cannot be.

    Attributes:
        path: where it lies.
        root: the folder that was asked for (a single file's own folder): gone means the card is gone.
        root_device: the root's device number when it was walked; another number means the card was changed.
        refusal: an outcome that is certain before reading (no rights, not an ordinary file); None if to be read.
        reason: why it was refused, for people.
    """

    path: Path
    root: Path
    root_device: int
    refusal: IntakeOutcome | None = None
    reason: str = ""

    @property
    def name(self) -> str:
        """The file's own name, with undecodable bytes replaced."""
        return readable(self.path.name)

    @property
    def label(self) -> str:
        """The path below the root, for people: tells two cards' or folders' equal names apart."""
        try:
            return readable(self.path.relative_to(self.root).as_posix())
        except ValueError:
            return self.name

    def card_is_gone(self) -> bool:
        """Whether the root this file was found under has vanished, been changed, or no longer answers."""
        try:
            if self.root.stat().st_dev != self.root_device:
                return True
            with os.scandir(self.root) as entries:
                next(entries, None)
        except PermissionError:
            return False
        except OSError:
            return True
        return False


def readable(name: str) -> str:
    """The name as text that can be stored and shown: bytes that are no UTF-8 become a replacement character."""
    return os.fsencode(name).decode("utf-8", "replace")


def natural(name: str) -> tuple[tuple[int, int, str], ...]:
    """A sort key by which IMG_9 comes before IMG_10, and case does not count."""
    parts = re.split("([0-9]+)", name.casefold())
    return tuple(_number(part) if at % 2 else (1, 0, part) for at, part in enumerate(parts) if part)


def _number(digits: str) -> tuple[int, int, str]:
    """Orders as the number does, however many digits: by their count without leading zeros, then one by one."""
    significant = digits.lstrip("0")
    return (0, len(significant), significant)


def find(paths: Sequence[Path]) -> tuple[Found, ...]:
    """All files in these files and folders, folder by folder, each in natural name order.

    Folders are walked to the bottom, each only once however many links lead to it. Hidden and housekeeping entries
    are left out unless asked for by name. A folder below that cannot be opened, a dead link and anything that is no
    ordinary file come back as a `Found` with its refusal; nothing but ordinary files is ever opened.

    Raises:
        CardGone: a path asked for is not there.
        NoRights: a folder asked for may not be read.
    """
    seen: set[tuple[int, int]] = set()
    return tuple(found for path in paths for found in _from_root(Path(path), seen))


def _from_root(asked: Path, seen: set[tuple[int, int]]) -> Iterator[Found]:
    try:
        about = asked.stat()
        root = asked if stat.S_ISDIR(about.st_mode) else asked.parent
        device = root.stat().st_dev
        if root is asked:
            os.scandir(asked).close()
    except PermissionError as error:
        raise NoRights(f"{readable(asked.name)} may not be read.", detail=str(error)) from error
    except OSError as error:
        raise CardGone(f"{readable(str(asked))} is not there.", detail=str(error)) from error
    if root is asked:
        yield from _walk(asked, root, device, seen)
    else:
        yield _judge(asked, root, device, about)


def _walk(folder: Path, root: Path, device: int, seen: set[tuple[int, int]]) -> Iterator[Found]:
    waiting = [folder]
    while waiting:
        here = waiting.pop()
        try:
            about = here.stat()
            if (about.st_dev, about.st_ino) in seen:
                continue
            seen.add((about.st_dev, about.st_ino))
            with os.scandir(here) as entries:
                names = sorted((entry.name for entry in entries if not left_out(entry.name)), key=natural)
        except OSError as error:
            yield _refused(here, root, device, error, what="folder")
            continue
        below: list[Path] = []
        for name in names:
            path = here / name
            try:
                about = path.stat()
            except OSError as error:
                yield _refused(path, root, device, error, what="file")
                continue
            if stat.S_ISDIR(about.st_mode):
                below.append(path)
            else:
                yield _judge(path, root, device, about)
        waiting.extend(reversed(below))


def _judge(path: Path, root: Path, device: int, about: os.stat_result) -> Found:
    if stat.S_ISREG(about.st_mode):
        return Found(path, root, device)
    return Found(path, root, device, IntakeOutcome.NOT_A_PHOTO, "not an ordinary file")


def _refused(path: Path, root: Path, device: int, error: OSError, *, what: str) -> Found:
    if isinstance(error, PermissionError):
        return Found(path, root, device, IntakeOutcome.NO_RIGHTS, f"this {what} may not be read")
    return Found(path, root, device, IntakeOutcome.GONE, f"this {what} cannot be reached: {error.strerror or error}")


def left_out(name: str) -> bool:
    """Whether a name is hidden or an operating system's housekeeping, never a photographer's."""
    return name.startswith(".") or name.casefold() in HOUSEKEEPING
