"""An edition's signature by key: three open files, and what they prove, in words.

- `signer.pem`: the public key, as SubjectPublicKeyInfo (RFC 8410). Listed in the bag's tag manifests.
- `signer.json`: whose role, and the sign-off that the same key put under the private record's digest. Listed too.
- `signature.ed25519`: 64 octets, Ed25519 (RFC 8032) over exactly the octets of `tagmanifest-sha256.txt`, which lists
  the payload manifests and so covers every byte. No list can name it, so other readers of bags pass it over. To check:
  `openssl pkeyutl -verify -pubin -inkey signer.pem -rawin -in tagmanifest-sha256.txt -sigfile signature.ed25519`

A signature that comes after publication lies beside the edition's folder, under its name: `0001.signature.ed25519`.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path
from typing import Any, Final

from cryptography.exceptions import InvalidSignature, UnsupportedAlgorithm
from cryptography.hazmat.primitives import serialization
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PublicKey

from lapseam.domain.errors import Mistake
from lapseam.domain.signing_key import fingerprint_of, grouped

from . import files

SIGNER: Final = "signer.json"
PUBLIC_KEY: Final = "signer.pem"
SIGNATURE: Final = "signature.ed25519"
SIGNED_LIST: Final = "tagmanifest-sha256.txt"
FORMAT: Final = "lapseam-signer"
VERSION: Final = 1

_LARGEST_OCTETS: Final = 64_000
_HOW: Final = (
    f"{SIGNATURE} holds an Ed25519 signature (RFC 8032) over the octets of {SIGNED_LIST}, by the key in {PUBLIC_KEY}. "
    "sign_off.signature is one over the octets of sign_off.text in UTF-8, by the same key."
)


class Signed(StrEnum):
    """What is known of an edition's signature."""

    GOOD = "good"
    BAD = "bad"
    RECORD_ONLY = "record-only"
    BY_NAME = "by-name"
    NONE = "none"


@dataclass(frozen=True, slots=True)
class SignerSaid:
    """What an edition says of its signer.

    Attributes:
        public: the public key, 64 hex digits.
        role: the role, never the name.
        text, text_signature: the sign-off's signed words, and 128 hex digits; "" where the record was signed by name.
    """

    public: str
    role: str
    text: str = ""
    text_signature: str = ""


@dataclass(frozen=True, slots=True)
class Seal:
    """Who signs an edition while it is made, and how: `sign` gives 64 octets for the octets of the list.

    Without `sign` the edition names the key that signed the record, and carries no signature itself.
    """

    said: SignerSaid
    sign: Callable[[bytes], bytes] | None = None


@dataclass(frozen=True, slots=True)
class SignatureFound:
    """The state of a signature, in words.

    Attributes:
        fingerprint: SHA-256 of the signer's public key, "" where there is none.
        role: what the edition says of the signer.
        beside: whether the signature lies beside the edition and not in it.
        holder: whom of the asking house the key belongs to, "" for nobody or where no house was asked.
        words: one sentence or more for people.
    """

    state: Signed
    words: str
    fingerprint: str = ""
    role: str = ""
    beside: bool = False
    holder: str = ""


def signer_files(said: SignerSaid, *, sealed: bool) -> dict[str, bytes]:
    """`signer.json` and `signer.pem` by name; `sealed` says that the edition itself carries a signature."""
    told: dict[str, Any] = {
        "format": FORMAT,
        "version": VERSION,
        "algorithm": "Ed25519",
        "how": _HOW,
        "fingerprint_sha256": fingerprint_of(said.public),
        "role": said.role,
        "edition_signed": sealed,
    }
    if said.text:
        told["sign_off"] = {"text": said.text, "signature": said.text_signature}
    key = Ed25519PublicKey.from_public_bytes(bytes.fromhex(said.public))
    pem = key.public_bytes(serialization.Encoding.PEM, serialization.PublicFormat.SubjectPublicKeyInfo)
    return {SIGNER: (json.dumps(told, ensure_ascii=False, indent=2) + "\n").encode(), PUBLIC_KEY: pem}


def holds(public: str, signature: bytes, content: bytes) -> bool:
    """Whether `signature` was put under `content` by the key whose public half is `public`, 64 hex digits."""
    try:
        Ed25519PublicKey.from_public_bytes(bytes.fromhex(public)).verify(signature, content)
    except (InvalidSignature, ValueError):
        return False
    return True


def place(edition: Path, name: str, *, beside: bool) -> Path:
    """Where the file of that name lies: in the edition's folder, or beside it under the folder's name."""
    return edition.with_name(f"{edition.name}.{name}") if beside else edition / name


def lay_beside(edition: Path, said: SignerSaid, sign: Callable[[bytes], bytes]) -> tuple[Path, ...]:
    """Sign an edition that is published already: three files beside its folder, which itself is not touched.

    Raises:
        Mistake: it carries a signature already. DiskFull, NoRights.
    """
    if any(place(edition, SIGNATURE, beside=beside).exists() for beside in (False, True)):
        raise Mistake(
            f"Edition {edition.name} carries a signature by key already.",
            effect="Nothing was written.",
            next_step=f"See whose it is with: lapseam verify {edition}",
        )
    laid = {**signer_files(said, sealed=True), SIGNATURE: sign((edition / SIGNED_LIST).read_bytes())}
    for name, content in laid.items():
        files.write(place(edition, name, beside=True), content)
    return tuple(place(edition, name, beside=True) for name in laid)


def look(edition: Path, *, claims: bool, known: Mapping[str, str] | None = None) -> SignatureFound:
    """What the signature in or beside an edition's folder proves.

    Args:
        claims: whether the edition's own list says that it is signed.
        known: whom of the asking house each fingerprint belongs to; None if no house is asked.
    """
    for beside in (False, True):
        said = _said(edition, beside=beside)
        if isinstance(said, SignatureFound):
            return said
        if said is not None:
            found = _judged(edition, said, beside=beside, known=known)
            if found.state is not Signed.RECORD_ONLY or not place(edition, SIGNATURE, beside=True).exists():
                return found
        elif place(edition, SIGNATURE, beside=beside).exists():
            return _bad(f"There is a {SIGNATURE}, and nothing says whose it is.", beside=beside)
    if claims:
        return SignatureFound(Signed.BY_NAME, "Signed by name, no key: nothing but the house's word says who signed.")
    return SignatureFound(Signed.NONE, "Not signed.")


@dataclass(frozen=True, slots=True)
class _Said:
    told: Mapping[str, Any]
    public: str


def _said(edition: Path, *, beside: bool) -> _Said | SignatureFound | None:
    """The signer as named there, None where nobody is, or what is wrong with the naming."""
    paths = [place(edition, name, beside=beside) for name in (SIGNER, PUBLIC_KEY)]
    if not any(path.exists() or path.is_symlink() for path in paths):
        return None
    told_octets, pem = (_octets(path) for path in paths)
    if not told_octets or not pem:
        return _bad(f"One of {SIGNER} and {PUBLIC_KEY} is missing or cannot be read.", beside=beside)
    try:
        told = json.loads(told_octets)
        key = serialization.load_pem_public_key(pem)
    except (ValueError, RecursionError, UnsupportedAlgorithm):
        return _bad(f"{SIGNER} or {PUBLIC_KEY} is not what it must be.", beside=beside)
    if not isinstance(told, dict) or told.get("format") != FORMAT or not isinstance(key, Ed25519PublicKey):
        return _bad(f"{SIGNER} or {PUBLIC_KEY} is not what it must be.", beside=beside)
    if told.get("version") != VERSION:
        return _bad(f"{SIGNER} has a form that this program does not know; a newer one may.", beside=beside)
    public = key.public_bytes_raw().hex()
    if told.get("fingerprint_sha256") != fingerprint_of(public):
        return _bad(f"The public key in {PUBLIC_KEY} is another one than {SIGNER} names.", beside=beside)
    return _Said(told, public)


def _judged(edition: Path, said: _Said, *, beside: bool, known: Mapping[str, str] | None) -> SignatureFound:
    fingerprint = fingerprint_of(said.public)
    role = str(said.told.get("role", ""))[:80]
    named = f"the {role}'s key {grouped(fingerprint)}" if role else f"the key {grouped(fingerprint)}"
    path = place(edition, SIGNATURE, beside=beside)
    sign_off = _sign_off(said)
    sealed = said.told.get("edition_signed") is True
    if sign_off is False:
        return _bad(f"The sign-off in {SIGNER} does not fit {named}.", fingerprint, role, beside=beside)
    if not sealed and not path.exists():
        words = f"The record was signed with {named}; the edition's files themselves carry no signature by it."
        return SignatureFound(Signed.RECORD_ONLY, words, fingerprint, role, beside, _holder(fingerprint, known))
    signature, listed = _octets(path), _octets(edition / SIGNED_LIST)
    if not signature:
        return _bad(f"The signature by {named} is missing.", fingerprint, role, beside=beside)
    if not holds(said.public, signature, listed):
        words = f"The signature by {named} does not fit: the list of files was changed, or the signature was."
        return _bad(words, fingerprint, role, beside=beside)
    words = f"The signature is good: {named} signed the list that names every file."
    return SignatureFound(
        Signed.GOOD, f"{words} {_trust(fingerprint, known)}", fingerprint, role, beside, _holder(fingerprint, known)
    )


def _sign_off(said: _Said) -> bool | None:
    """Whether the sign-off fits the key; None where there is none."""
    told = said.told.get("sign_off")
    if told is None:
        return None
    try:
        return holds(said.public, bytes.fromhex(told["signature"]), told["text"].encode())
    except (KeyError, TypeError, ValueError, AttributeError):
        return False


def _holder(fingerprint: str, known: Mapping[str, str] | None) -> str:
    return (known or {}).get(fingerprint, "")


def _trust(fingerprint: str, known: Mapping[str, str] | None) -> str:
    if known is None:
        return (
            "Whose key that is, only the house can say: ask for its fingerprint by another way, such as the telephone, "
            f"and compare {fingerprint}."
        )
    if holder := _holder(fingerprint, known):
        return f"This house knows the key: {holder}."
    return "This house does not know the key: nobody in its settings holds it."


def _bad(words: str, fingerprint: str = "", role: str = "", *, beside: bool) -> SignatureFound:
    return SignatureFound(Signed.BAD, f"The signature does not hold. {words}", fingerprint, role, beside)


def _octets(path: Path) -> bytes:
    """What an ordinary file holds; empty for a link, for none, and for one too large to be what it is called."""
    try:
        if path.is_symlink() or not path.is_file() or path.stat().st_size > _LARGEST_OCTETS:
            return b""
        return path.read_bytes()
    except OSError:
        return b""
