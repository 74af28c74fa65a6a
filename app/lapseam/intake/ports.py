"""What intake asks of whoever keeps originals and previews. Storage fits these by shape, without importing them."""

from __future__ import annotations

from pathlib import Path
from typing import Protocol

from lapseam.domain.photo import PreviewSize


class Vault(Protocol):
    """Where originals lie, each under its hash. Every method is called from several worker threads at once."""

    def spool(self) -> Path:
        """A fresh path to write to, on the vault's own filesystem; nobody else is given the same."""
        ...

    def keep(self, spooled: Path, sha256: str, suffix: str) -> Path:
        """Flush the spooled file and move it under its hash; where that hash already lies, it stays untouched.

        Args:
            spooled: a path that `spool` gave; gone afterwards.
            sha256: 64 lower-case hex digits.
            suffix: ".jpg" and the like, from the content, never from the name.
        """
        ...

    def has(self, sha256: str) -> bool:
        """Whether the original with this hash lies in the vault."""
        ...


class Previews(Protocol):
    """Where upright previews lie; all of them may be deleted at any time. Called from several worker threads."""

    def put(self, sha256: str, size: PreviewSize, jpeg: bytes, /) -> None:
        """Keep one preview, over any earlier one."""
        ...
