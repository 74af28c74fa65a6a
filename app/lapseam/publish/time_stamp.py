"""Time stamps (RFC 3161): the request that the house sends to an authority it trusts, and the reply taken in again.

Nothing here goes into the network. What is stamped is the edition's signature where it has one, else the list that
names every file; request and reply lie beside the edition's folder: `0001.tsq`, `0001.tsr`. Whether the authority is
to be trusted is the house's own question; with the authority's root certificate its signature is checked too.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from pathlib import Path
from typing import Final

from cryptography import x509
from rfc3161_client import (
    HashAlgorithm,
    TimestampRequestBuilder,
    TimeStampResponse,
    VerificationError,
    VerifierBuilder,
    decode_timestamp_response,
)

from lapseam.domain.errors import Mistake

from . import files, signature

REQUEST: Final = "tsq"
REPLY: Final = "tsr"

_LARGEST_OCTETS: Final = 1_000_000
_DIGESTS: Final = {
    "2.16.840.1.101.3.4.2.1": "sha256",
    "2.16.840.1.101.3.4.2.2": "sha384",
    "2.16.840.1.101.3.4.2.3": "sha512",
}
"""The digests of a reply's imprint that are compared, by their object identifiers (RFC 5754, 2)."""


class Stamp(StrEnum):
    """What is known of an edition's time stamp."""

    NONE = "none"
    ASKED = "asked"
    FITS = "fits"
    BAD = "bad"


@dataclass(frozen=True, slots=True)
class StampFound:
    """The state of a time stamp, in words.

    Attributes:
        at: the moment that the authority names; None without a reply that fits.
        trusted: whether the authority's signature was checked against a root certificate that was given.
    """

    state: Stamp
    words: str
    at: datetime | None = None
    trusted: bool = False


@dataclass(frozen=True, slots=True)
class _Stamped:
    """One thing that a stamp may stand under."""

    words: str
    path: Path


def stamp_request(edition: Path) -> Path:
    """Write the request for an edition, `0001.tsq` beside its folder; answers with its path.

    Raises:
        Mistake: the edition has no list to stamp, or has a reply already. DiskFull, NoRights.
    """
    if _beside(edition, REPLY).exists():
        raise Mistake(f"Edition {edition.name} has a time stamp already.", effect="Nothing was written.")
    stamped = next((one for one in _stamped(edition) if one.path.is_file()), None)
    if stamped is None:
        raise Mistake(f"{edition} holds no list of files to stamp.", effect="Nothing was written.")
    builder = TimestampRequestBuilder().data(stamped.path.read_bytes()).hash_algorithm(HashAlgorithm.SHA256)
    request = builder.nonce(nonce=True).cert_request(cert_request=True).build()
    path = _beside(edition, REQUEST)
    files.write(path, request.as_bytes())
    return path


def take_reply(edition: Path, reply: Path, *, roots: Path | None = None) -> StampFound:
    """Check an authority's reply and keep it beside the edition; one that does not fit is not kept.

    Args:
        roots: a PEM file with the root certificates that the house trusts, None to leave that question open.

    Raises:
        Mistake: it does not fit, cannot be read, or there is one already.
    """
    if _beside(edition, REPLY).exists():
        raise Mistake(f"Edition {edition.name} has a time stamp already.", effect="Nothing was written.")
    found = _judged(edition, reply, roots)
    if found.state is not Stamp.FITS:
        raise Mistake(
            found.words, effect="It was not kept.", next_step="Ask the authority again with the edition's .tsq file."
        )
    files.write(_beside(edition, REPLY), reply.read_bytes())
    return found


def look(edition: Path, *, roots: Path | None = None) -> StampFound:
    """What the time stamp beside an edition proves."""
    if _beside(edition, REPLY).exists():
        return _judged(edition, _beside(edition, REPLY), roots)
    if _beside(edition, REQUEST).exists():
        return StampFound(Stamp.ASKED, "A time stamp was asked for; no reply was taken in.")
    return StampFound(Stamp.NONE, "No time stamp.")


def _judged(edition: Path, path: Path, roots: Path | None) -> StampFound:
    reply = _read(path)
    if isinstance(reply, str):
        return StampFound(Stamp.BAD, f"The time stamp does not hold: {reply}.")
    if reply.status not in (0, 1):
        said = " ".join(part for part in reply.status_string if part.isprintable())[:200]
        return StampFound(Stamp.BAD, f"The authority refused the time stamp{f': {said}' if said else ''}.")
    told = reply.tst_info
    digest = _DIGESTS.get(told.message_imprint.hash_algorithm.dotted_string)
    if digest is None:
        return StampFound(Stamp.BAD, "The time stamp uses a digest that is not compared here.")
    imprint = bytes(told.message_imprint.message)
    fitting = [one for one in _stamped(edition) if imprint == _digest(one.path, digest)]
    if not fitting:
        return StampFound(
            Stamp.BAD, "The time stamp belongs to something else: its imprint fits no part of this edition."
        )
    words = f"A time stamp of {told.gen_time:%Y-%m-%d %H:%M:%S} UTC fits {fitting[0].words}."
    if roots is None:
        return StampFound(
            Stamp.FITS,
            f"{words} Whether its authority is to be trusted, and whether it really signed this, was not asked: "
            "give its root certificate with --authority.",
            told.gen_time,
        )
    if objection := _untrusted(reply, fitting[0].path, roots):
        return StampFound(Stamp.BAD, f"The time stamp does not hold under {roots.name}: {objection}.", told.gen_time)
    return StampFound(Stamp.FITS, f"{words} Its authority signed it under {roots.name}.", told.gen_time, True)


def _read(path: Path) -> TimeStampResponse | str:
    try:
        if path.is_symlink() or not path.is_file() or path.stat().st_size > _LARGEST_OCTETS:
            return f"{path.name} is no time stamp reply"
        reply = decode_timestamp_response(path.read_bytes())
        if reply.status in (0, 1):
            _ = reply.tst_info.gen_time
    except (OSError, ValueError):
        return f"{path.name} is no time stamp reply that can be read here"
    return reply


def _untrusted(reply: TimeStampResponse, stamped: Path, roots: Path) -> str:
    try:
        builder = VerifierBuilder()
        for root in x509.load_pem_x509_certificates(roots.read_bytes()):
            builder = builder.add_root_certificate(root)
        builder.build().verify_message(reply, stamped.read_bytes())
    except (OSError, ValueError) as error:
        return f"the certificates or the reply cannot be read ({str(error)[:120]})"
    except VerificationError as error:
        return f"the authority's signature is not good ({str(error)[:120]})"
    return ""


def _stamped(edition: Path) -> Iterator[_Stamped]:
    yield _Stamped("the edition's signature", signature.place(edition, signature.SIGNATURE, beside=False))
    yield _Stamped("the edition's signature", signature.place(edition, signature.SIGNATURE, beside=True))
    yield _Stamped("the list that names every file of the edition", edition / signature.SIGNED_LIST)


def _digest(path: Path, algorithm: str) -> bytes:
    try:
        if path.is_symlink() or not path.is_file() or path.stat().st_size > _LARGEST_OCTETS:
            return b""
        return hashlib.new(algorithm, path.read_bytes()).digest()
    except OSError:
        return b""


def _beside(edition: Path, ending: str) -> Path:
    return edition.with_name(f"{edition.name}.{ending}")
