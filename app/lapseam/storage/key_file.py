"""A private key at rest: PKCS#8 in PEM, encrypted under a passphrase (RFC 5958, RFC 8018, RFC 8410).

The library writes such files with 2,048 rounds only, which a guessing machine goes through quickly; so the envelope is
made here with 600,000 (OWASP Password Storage Cheat Sheet, PBKDF2-HMAC-SHA256). Library and openssl read it back.
"""

from __future__ import annotations

import base64
import hashlib
import os
import textwrap
from typing import Final

from cryptography.hazmat import asn1
from cryptography.hazmat.primitives import serialization
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey
from cryptography.hazmat.primitives.ciphers import Cipher, algorithms, modes
from cryptography.hazmat.primitives.padding import PKCS7
from cryptography.x509 import ObjectIdentifier

ROUNDS: Final = 600_000

_PBES2: Final = ObjectIdentifier("1.2.840.113549.1.5.13")
_PBKDF2: Final = ObjectIdentifier("1.2.840.113549.1.5.12")
_HMAC_SHA256: Final = ObjectIdentifier("1.2.840.113549.2.9")
_AES_256_CBC: Final = ObjectIdentifier("2.16.840.1.101.3.4.1.42")


@asn1.sequence
class _Prf:
    algorithm: ObjectIdentifier
    parameters: asn1.Null


@asn1.sequence
class _Stretching:
    salt: bytes
    rounds: int
    prf: _Prf


@asn1.sequence
class _Derivation:
    algorithm: ObjectIdentifier
    parameters: _Stretching


@asn1.sequence
class _Encryption:
    algorithm: ObjectIdentifier
    start: bytes


@asn1.sequence
class _Scheme:
    derivation: _Derivation
    encryption: _Encryption


@asn1.sequence
class _Algorithm:
    algorithm: ObjectIdentifier
    parameters: _Scheme


@asn1.sequence
class _Envelope:
    algorithm: _Algorithm
    encrypted: bytes


def sealed(key: Ed25519PrivateKey, passphrase: bytes) -> bytes:
    """The key as an encrypted PEM file that only `passphrase` opens."""
    salt, start = os.urandom(16), os.urandom(16)
    plain = key.private_bytes(
        serialization.Encoding.DER, serialization.PrivateFormat.PKCS8, serialization.NoEncryption()
    )
    padder = PKCS7(128).padder()
    padded = padder.update(plain) + padder.finalize()
    stretched = hashlib.pbkdf2_hmac("sha256", passphrase, salt, ROUNDS, 32)
    encryptor = Cipher(algorithms.AES(stretched), modes.CBC(start)).encryptor()
    stretching = _Stretching(salt=salt, rounds=ROUNDS, prf=_Prf(algorithm=_HMAC_SHA256, parameters=asn1.Null()))
    scheme = _Scheme(
        derivation=_Derivation(algorithm=_PBKDF2, parameters=stretching),
        encryption=_Encryption(algorithm=_AES_256_CBC, start=start),
    )
    envelope = _Envelope(
        algorithm=_Algorithm(algorithm=_PBES2, parameters=scheme),
        encrypted=encryptor.update(padded) + encryptor.finalize(),
    )
    lines = textwrap.wrap(base64.b64encode(asn1.encode_der(envelope)).decode(), 64)
    name = "ENCRYPTED PRIVATE KEY"
    return "\n".join((f"-----BEGIN {name}-----", *lines, f"-----END {name}-----", "")).encode()


def opened(content: bytes, passphrase: bytes) -> Ed25519PrivateKey:
    """The key in an encrypted PEM file.

    Raises:
        ValueError, TypeError: the passphrase does not open it, or it is no such file.
    """
    key = serialization.load_pem_private_key(content, passphrase)
    if not isinstance(key, Ed25519PrivateKey):
        raise ValueError("it holds a key of another kind")
    return key
