"""Brings one file over: copied and fingerprinted in one read of the card.

Reading and writing are told apart by where the error arose, because they mean different things to a person: a card that
left is put back in, a full disk is made room on, and one file that may not be read is only that file's matter.
"""

from __future__ import annotations

import errno
import hashlib
import os
import stat
from contextlib import suppress
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import BinaryIO

from lapseam.domain.errors import CardGone, DiskFull, NoRights, UserError
from lapseam.domain.photo import IntakeOutcome
from lapseam.intake.content import HEAD_BYTES, Content, Kind, meant_as_photo, recognise
from lapseam.intake.ports import Vault
from lapseam.intake.refusal import Refused
from lapseam.intake.source import Found

CHUNK_BYTES = 1 << 20
_NO_ROOM = frozenset({errno.ENOSPC, errno.EDQUOT, errno.EFBIG})


@dataclass(frozen=True, slots=True)
class Spooled:
    """A finished copy beside the vault. `modified_at` is the file's time stamp in UTC, naive."""

    copy: Path
    sha256: str
    size_bytes: int
    content: Content
    modified_at: datetime | None

    def discard(self) -> None:
        """Remove the copy; it may be gone already, having moved into the vault."""
        with suppress(FileNotFoundError):
            self.copy.unlink()


def spool(found: Found, vault: Vault) -> Spooled:
    """Copy and hash in one read. A file that is no photo is left after its first bytes, and nothing is written.

    Raises:
        Refused: this file does not come in.
        CardGone, DiskFull, NoRights: the take-in cannot go on.
    """
    try:
        source = _open_ordinary(found.path)
    except OSError as error:
        raise _reading(found, error) from error
    with source:
        try:
            about = os.fstat(source.fileno())
            head = source.read(HEAD_BYTES)
        except OSError as error:
            raise _reading(found, error) from error
        content = _admit(head, found.name)
        try:
            copy = vault.spool()
        except OSError as error:
            raise writing(error, "spool") from error
        done = False
        try:
            sha256, size = _copy(found, source, head, copy)
            done = True
        finally:
            if not done:
                copy.unlink(missing_ok=True)
    return Spooled(copy, sha256, size, content, _moment(about.st_mtime))


def writing(error: OSError, place: Path | str) -> UserError:
    """What a failed write means to a person."""
    if error.errno in _NO_ROOM:
        return DiskFull("There is no room left on the disk for more photos.", detail=f"{place}: {error}")
    if error.errno in (errno.EACCES, errno.EPERM, errno.EROFS):
        return NoRights("The photos' folder may not be written to.", detail=f"{place}: {error}")
    return DiskFull(
        "The disk did not take the photo.",
        next_step="Check that the workspace's disk is connected and sound, then take it in again.",
        detail=f"{place}: {error}",
    )


def _open_ordinary(path: Path) -> BinaryIO:
    """Open without ever waiting on a pipe or device that took the file's place since the walk."""
    flags = os.O_RDONLY | getattr(os, "O_BINARY", 0) | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_CLOEXEC", 0)
    descriptor = os.open(path, flags)
    try:
        if not stat.S_ISREG(os.fstat(descriptor).st_mode):
            raise Refused(IntakeOutcome.NOT_A_PHOTO, "not an ordinary file")
        return os.fdopen(descriptor, "rb", buffering=0)
    except BaseException:
        os.close(descriptor)
        raise


def _admit(head: bytes, name: str) -> Content:
    content = recognise(head, name)
    if content.kind is Kind.RAW:
        raise Refused(IntakeOutcome.UNREADABLE, "a camera's raw file: take in the JPEG or HEIC made from it")
    if content.kind is not Kind.OTHER:
        return content
    if not meant_as_photo(name):
        raise Refused(IntakeOutcome.NOT_A_PHOTO, "")
    raise Refused(IntakeOutcome.UNREADABLE, "no picture or clip inside" if head else "the file is empty")


def _copy(found: Found, source: BinaryIO, head: bytes, copy: Path) -> tuple[str, int]:
    digest, size, chunk = hashlib.sha256(), 0, head
    try:
        target = copy.open("wb", buffering=0)
    except OSError as error:
        raise writing(error, copy) from error
    with target:
        while chunk:
            digest.update(chunk)
            size += len(chunk)
            try:
                _write_all(target, chunk)
            except OSError as error:
                raise writing(error, copy) from error
            try:
                chunk = source.read(CHUNK_BYTES)
            except OSError as error:
                raise _reading(found, error) from error
    return digest.hexdigest(), size


def _write_all(target: BinaryIO, chunk: bytes) -> None:
    """An unbuffered write may take less than it was given."""
    left = memoryview(chunk)
    while left:
        left = left[target.write(left) :]


def _reading(found: Found, error: OSError) -> Exception:
    if found.card_is_gone():
        return CardGone("The card was taken out while photos were coming in.", detail=f"{found.path}: {error}")
    if error.errno in (errno.EACCES, errno.EPERM):
        return Refused(IntakeOutcome.NO_RIGHTS, "this file may not be read")
    if error.errno == errno.ENOENT:
        return Refused(IntakeOutcome.GONE, "the file was removed while photos were coming in")
    return Refused(IntakeOutcome.UNREADABLE, f"the card could not be read here: {error.strerror or error}")


def _moment(seconds: float) -> datetime | None:
    try:
        return datetime.fromtimestamp(seconds, UTC).replace(tzinfo=None)
    except (OverflowError, OSError, ValueError):
        return None
