"""Signatures and time stamps against RFC 8032, PyNaCl and OpenSSL, none of which is what the program signs with."""

from __future__ import annotations

import hashlib
import shutil
import subprocess
from datetime import date
from pathlib import Path

import pytest
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey
from nacl.exceptions import BadSignatureError
from nacl.signing import SigningKey, VerifyKey

from fakes import published_car
from lapseam.domain import signing_key
from lapseam.domain.errors import Mistake
from lapseam.publish import Recipe, holds, make_edition, stamp_request, take_reply, verify
from lapseam.publish.signature import PUBLIC_KEY, SIGNATURE, SIGNED_LIST
from lapseam.storage import OpenKey

OPENSSL = shutil.which("openssl")
ABC_SHA512 = hashlib.sha512(b"abc").hexdigest()

# RFC 8032, 7.1 (Ed25519): TEST 1, TEST 2, TEST 3 and TEST SHA(abc): secret key, public key, message, signature.
# Compared with published copies of the RFC; PyNaCl, which makes its own signatures below, holds every digit of them.
RFC_8032 = (
    (
        "9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60",
        "d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a",
        "",
        "e5564300c360ac729086e2cc806e828a84877f1eb8e5d974d873e065224901555fb8821590a33bacc61e39701cf9b46bd25bf5f0595bbe24"
        "655141438e7a100b",
    ),
    (
        "4ccd089b28ff96da9db6c346ec114e0f5b8a319f35aba624da8cf6ed4fb8a6fb",
        "3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c",
        "72",
        "92a009a9f0d4cab8720e820b5f642540a2b27b5416503f8fb3762223ebdb69da085ac1e43e15996e458f3613d0f11d8c387b2eaeb4302aee"
        "b00d291612bb0c00",
    ),
    (
        "c5aa8df43f9f837bedb7442f31dcb7b166d38535076f094b85ce3a2e0b4458f7",
        "fc51cd8e6218a1a38da47ed00230f0580816ed13ba3303ac5deb911548908025",
        "af82",
        "6291d657deec24024827e69c3abe01a30ce548a284743a445e3680d7db5ac3ac18ff9b538d16f290ae67f760984dc6594a7c15e9716ed28d"
        "c027beceea1ec40a",
    ),
    (
        "833fe62409237b9d62ec77587520911e9a759cec1d19755b7da901b96dca3d42",
        "ec172b93ad5e563bf4932c70e1245034c35467ef2efd4d64ebf819683467e2bf",
        ABC_SHA512,
        "dc2a4459e7369633a52b1bf277839a00201009a3efbf3ecb69bea2186c26b58909351fc9ac90b3ecfdfbc7c66431e0303dca179c138ac17a"
        "d9bef1177331a704",
    ),
)


@pytest.fixture(scope="module")
def edition(tmp_path_factory: pytest.TempPathFactory) -> Path:
    base = tmp_path_factory.mktemp("signed")
    photos = published_car.originals(base / "originals")
    return make_edition(
        published_car.edition(photos, signed=True),
        originals=photos.__getitem__,
        folder=base / "editions",
        plan_json="{}\n",
        tool_version="0.1.0",
        signer_role="manager",
        seal=published_car.seal(),
        recipe=Recipe(widths=(40,)),
    ).path


@pytest.mark.parametrize(("secret", "public", "message", "signature"), RFC_8032)
def test_the_vectors_of_rfc_8032(secret: str, public: str, message: str, signature: str) -> None:
    private = Ed25519PrivateKey.from_private_bytes(bytes.fromhex(secret))
    key = signing_key.SigningKey(private.public_key().public_bytes_raw().hex(), date(2026, 5, 12))
    assert key.public == public
    assert OpenKey(key, private).sign(bytes.fromhex(message)).hex() == signature
    assert SigningKey(bytes.fromhex(secret)).sign(bytes.fromhex(message)).signature.hex() == signature
    assert holds(public, bytes.fromhex(signature), bytes.fromhex(message))
    for at in range(0, 512, 37):
        changed = bytearray(bytes.fromhex(signature))
        changed[at // 8] ^= 1 << at % 8
        assert not holds(public, bytes(changed), bytes.fromhex(message))
    assert not holds(public, bytes.fromhex(signature), bytes.fromhex(message) + b"x")


def test_pynacl_holds_the_signature_of_an_edition(edition: Path) -> None:
    listed, signature = (edition / SIGNED_LIST).read_bytes(), (edition / SIGNATURE).read_bytes()
    key = VerifyKey(bytes.fromhex(published_car.seal().said.public))
    assert key.verify(listed, signature) == listed
    with pytest.raises(BadSignatureError):
        key.verify(listed + b"x", signature)


def openssl(*words: object, check: bool = True) -> subprocess.CompletedProcess[str]:
    return subprocess.run([str(OPENSSL), *map(str, words)], capture_output=True, text=True, check=check, timeout=60)


@pytest.mark.tool("openssl")
@pytest.mark.skipif(OPENSSL is None, reason="openssl is not on this machine")
class TestAgainstOpenssl:
    def test_it_verifies_an_edition_as_the_handbook_says(self, edition: Path, tmp_path: Path) -> None:
        """The command stands in README.md; OpenSSL needs nothing of ours."""
        command = ("pkeyutl", "-verify", "-pubin", "-inkey", edition / PUBLIC_KEY, "-rawin")
        good = openssl(*command, "-in", edition / SIGNED_LIST, "-sigfile", edition / SIGNATURE)
        assert "Signature Verified Successfully" in good.stdout
        changed = tmp_path / "changed.txt"
        changed.write_bytes((edition / SIGNED_LIST).read_bytes().replace(b"a", b"b", 1))
        assert openssl(*command, "-in", changed, "-sigfile", edition / SIGNATURE, check=False).returncode

    def test_the_fingerprint_is_the_digest_of_the_public_key(self, edition: Path) -> None:
        der = subprocess.run(
            [str(OPENSSL), "pkey", "-pubin", "-in", str(edition / PUBLIC_KEY), "-outform", "DER"],
            capture_output=True,
            check=True,
        ).stdout
        assert verify(edition).signature.fingerprint == hashlib.sha256(der).hexdigest()


@pytest.fixture(scope="module")
def clock(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """An invented time stamp authority under an invented root, made by OpenSSL."""
    if OPENSSL is None:
        pytest.skip("openssl is not on this machine")
    place = tmp_path_factory.mktemp("clock")
    settings = place / "clock.cnf"
    settings.write_text(
        f"[tsa]\ndefault_tsa=t\n[t]\nserial={place}/serial\nsigner_digest=sha256\ndefault_policy=1.2.3.4.1\n"
        "digests=sha256,sha512\nordering=no\ntsa_name=no\ness_cert_id_chain=no\ness_cert_id_alg=sha256\n"
        "[ext]\nextendedKeyUsage=critical,timeStamping\nkeyUsage=critical,digitalSignature\n"
        "[dn]\n[req]\ndistinguished_name=dn\n"
    )
    (place / "serial").write_text("01\n")
    for name in ("root", "other"):
        openssl("req", "-x509", "-newkey", "rsa:2048", "-nodes", "-keyout", place / f"{name}.key", "-out",
                place / f"{name}.pem", "-subj", f"/CN=Invented {name}", "-days", "3650")  # fmt: skip
    openssl("req", "-newkey", "rsa:2048", "-nodes", "-keyout", place / "tsa.key", "-out", place / "tsa.csr",
            "-subj", "/CN=Invented clock")  # fmt: skip
    openssl("x509", "-req", "-in", place / "tsa.csr", "-CA", place / "root.pem", "-CAkey", place / "root.key",
            "-CAcreateserial", "-out", place / "tsa.pem", "-days", "3650", "-extfile", settings,
            "-extensions", "ext")  # fmt: skip
    return place


@pytest.fixture
def copied(edition: Path, tmp_path: Path) -> Path:
    shutil.copytree(edition, tmp_path / "0001")
    return tmp_path / "0001"


def answered(clock: Path, query: Path) -> Path:
    reply = query.with_suffix(".answer")
    openssl("ts", "-reply", "-queryfile", query, "-config", clock / "clock.cnf", "-signer", clock / "tsa.pem",
            "-inkey", clock / "tsa.key", "-out", reply)  # fmt: skip
    return reply


@pytest.mark.tool("openssl")
class TestTimeStamps:
    """RFC 3161, with an authority that OpenSSL plays."""

    def test_openssl_reads_the_request(self, clock: Path, copied: Path) -> None:
        request = stamp_request(copied)
        assert request == copied.with_name("0001.tsq")
        said = openssl("ts", "-query", "-in", request, "-text").stdout
        assert "Hash Algorithm: sha256" in said
        assert "Certificate required: yes" in said
        assert "Nonce: 0x" in said
        digest = hashlib.sha256((copied / SIGNATURE).read_bytes()).hexdigest()
        shown = "".join(line.split(" - ")[1][:48].replace("-", " ").replace(" ", "")
                        for line in said.splitlines() if line.strip().startswith("00"))  # fmt: skip
        assert shown == digest
        assert verify(copied).stamp.words == "A time stamp was asked for; no reply was taken in."

    def test_a_reply_that_fits_is_kept_and_holds(self, clock: Path, copied: Path) -> None:
        reply = answered(clock, stamp_request(copied))
        found = take_reply(copied, reply)
        assert "fits the edition's signature" in found.words
        assert "Whether its authority is to be trusted" in found.words
        said = openssl("ts", "-verify", "-data", copied / SIGNATURE, "-in", copied.with_name("0001.tsr"),
                       "-CAfile", clock / "root.pem")  # fmt: skip
        assert "Verification: OK" in said.stdout
        assert verify(copied).complete
        trusted = verify(copied, roots=clock / "root.pem").stamp
        assert trusted.trusted
        assert trusted.at == found.at
        with pytest.raises(Mistake, match="has a time stamp already"):
            take_reply(copied, reply)
        with pytest.raises(Mistake, match="has a time stamp already"):
            stamp_request(copied)

    def test_an_authority_that_is_not_trusted_does_not_hold(self, clock: Path, copied: Path) -> None:
        reply = answered(clock, stamp_request(copied))
        with pytest.raises(Mistake, match=r"does not hold under other\.pem"):
            take_reply(copied, reply, roots=clock / "other.pem")
        assert not copied.with_name("0001.tsr").exists()
        with pytest.raises(Mistake, match="cannot be read"):
            take_reply(copied, reply, roots=clock / "clock.cnf")

    def test_a_reply_to_something_else_is_refused(self, clock: Path, copied: Path, tmp_path: Path) -> None:
        openssl("ts", "-query", "-data", clock / "root.pem", "-sha256", "-cert", "-out", tmp_path / "else.tsq")
        with pytest.raises(Mistake, match="belongs to something else"):
            take_reply(copied, answered(clock, tmp_path / "else.tsq"))

    def test_an_edition_changed_later_breaks_the_stamp(self, clock: Path, copied: Path) -> None:
        take_reply(copied, answered(clock, stamp_request(copied)))
        (copied / SIGNATURE).write_bytes(b"x" * 64)
        assert any("belongs to something else" in fault.words for fault in verify(copied).faults)

    @pytest.mark.parametrize("content", [b"", b"rubbish", b"\x30\x03\x02\x01\x05", b"x" * 2_000_000])
    def test_garbage_is_refused_in_words(self, copied: Path, tmp_path: Path, content: bytes) -> None:
        (tmp_path / "reply.tsr").write_bytes(content)
        with pytest.raises(Mistake, match="is no time stamp reply"):
            take_reply(copied, tmp_path / "reply.tsr")
        (tmp_path / "0001.tsr").write_bytes(content)
        assert not verify(copied).complete

    def test_a_refusal_is_said(self, clock: Path, copied: Path, tmp_path: Path) -> None:
        openssl("ts", "-query", "-data", copied / SIGNATURE, "-sha1", "-cert", "-out", tmp_path / "old.tsq")
        with pytest.raises(Mistake, match="refused the time stamp"):
            take_reply(copied, answered(clock, tmp_path / "old.tsq"))
