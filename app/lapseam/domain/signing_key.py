"""The public half of a person's key, and the words that a sign-off is signed under.

A key is Ed25519 (RFC 8032). Its fingerprint is the SHA-256 of the public key as a SubjectPublicKeyInfo (RFC 8410), the
digest that `openssl pkey -pubin -outform DER | sha256sum` gives.
"""

from __future__ import annotations

import hashlib
import re
import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Final

SHORTEST_PASSPHRASE: Final = 12
"""In letters. The house's own choice; no source."""

_SUBJECT_PUBLIC_KEY_INFO: Final = bytes.fromhex("302a300506032b6570032100")
"""What stands before the 32 octets of an Ed25519 public key in DER (RFC 8410, 4 and 10.1)."""

_PUBLIC: Final = re.compile(r"[0-9a-f]{64}\Z")


@dataclass(frozen=True, slots=True)
class SigningKey:
    """A public key: 64 hex digits, the day it was made, and the day from which it signs nothing more (None: none)."""

    public: str
    made: date
    retired: date | None = None

    @property
    def fingerprint(self) -> str:
        """SHA-256 of the SubjectPublicKeyInfo, 64 hex digits."""
        return fingerprint_of(self.public)


def fingerprint_of(public: str) -> str:
    """The fingerprint of a public key that is given as 64 hex digits."""
    return hashlib.sha256(_SUBJECT_PUBLIC_KEY_INFO + bytes.fromhex(public)).hexdigest()


def is_public_key(words: str) -> bool:
    """Whether `words` are 64 hex digits in small letters, as a public key is written."""
    return bool(_PUBLIC.match(words))


def grouped(fingerprint: str) -> str:
    """A fingerprint to be read aloud: its first sixteen digits in groups of four."""
    return " ".join(fingerprint[at : at + 4] for at in range(0, 16, 4))


def passphrase_octets(passphrase: str) -> bytes:
    """The passphrase as octets: composed (NFC), so that every keyboard gives the same, in UTF-8."""
    return unicodedata.normalize("NFC", passphrase).encode()


def passphrase_objection(passphrase: str) -> str:
    """Why these words cannot be a passphrase, or ""."""
    if len(passphrase.strip()) < SHORTEST_PASSPHRASE:
        return f"A passphrase needs {SHORTEST_PASSPHRASE} letters or more; several words with spaces are good"
    if not passphrase.isprintable():
        return "A passphrase is one line of letters, digits, signs and spaces"
    return ""


def signoff_text(*, stock: str, record_sha256: str, role: str, at: datetime, lifted: Sequence[str]) -> str:
    """What a key puts its signature under when a record is signed. It names the role and never the person."""
    return (
        "lapseam sign-off 1\n"
        f"stock: {stock}\n"
        f"record-sha256: {record_sha256}\n"
        f"role: {role}\n"
        f"at: {at.isoformat()}\n"
        f"lifted: {', '.join(lifted) or 'none'}\n"
    )
