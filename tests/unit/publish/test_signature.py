"""What verify says of signatures: in the edition, beside it, of the record only, by name; and every way one breaks."""

from __future__ import annotations

import json
import shutil
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from fakes import published_car
from lapseam.domain.errors import Mistake
from lapseam.publish import Harm, MadeEdition, Recipe, Seal, Signed, SignerSaid, lay_beside, make_edition, verify
from lapseam.publish.signature import PUBLIC_KEY, SIGNATURE, SIGNER

TEXT = "lapseam sign-off 1\nstock: T-1\n"
MAKE = Callable[..., Path]


@pytest.fixture(scope="module")
def base(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("signature")


def made(base: Path, name: str, seal: Seal | None, *, signed: bool = True) -> Path:
    photos = published_car.originals(base / "originals")
    edition: MadeEdition = make_edition(
        published_car.edition(photos, signed=signed),
        originals=photos.__getitem__,
        folder=base / name,
        plan_json="{}\n",
        tool_version="0.1.0",
        signer_role="manager" if signed else "",
        seal=seal,
        recipe=Recipe(widths=(40,)),
        cache=base / "cache",
    )
    return edition.path


def record_seal() -> Seal:
    whole = published_car.seal()
    assert whole.sign is not None
    said = replace(whole.said, text=TEXT, text_signature=whole.sign(TEXT.encode()).hex())
    return Seal(said, whole.sign)


@pytest.fixture(scope="module")
def sealed(base: Path) -> Path:
    return made(base, "sealed", record_seal())


@pytest.fixture
def copied(sealed: Path, tmp_path: Path) -> Path:
    shutil.copytree(sealed, tmp_path / "0001")
    return tmp_path / "0001"


def test_a_good_one_names_the_key_and_where_to_ask(sealed: Path) -> None:
    found = verify(sealed).signature
    assert found.state is Signed.GOOD
    assert found.role == "manager"
    assert found.fingerprint in found.words
    assert "only the house can say" in found.words
    assert verify(sealed, known={found.fingerprint: "Jun Thornby"}).signature.holder == "Jun Thornby"
    assert "This house knows the key: Jun Thornby." in verify(sealed, known={found.fingerprint: "Jun Thornby"}).said[-1]
    assert "does not know the key" in verify(sealed, known={}).signature.words


def test_by_name_unsigned_and_the_record_only(base: Path) -> None:
    by_name = made(base, "name", None)
    assert verify(by_name).signature.state is Signed.BY_NAME
    assert verify(by_name).signature.words.startswith("Signed by name, no key")
    unsigned = made(base, "unsigned", None, signed=False)
    assert verify(unsigned).signature.state is Signed.NONE
    record = made(base, "record", Seal(record_seal().said))
    found = verify(record)
    assert found.complete
    assert found.signature.state is Signed.RECORD_ONLY
    assert "carry no signature" in found.signature.words


def test_one_that_comes_later_lies_beside_and_touches_nothing(base: Path) -> None:
    seal = record_seal()
    assert seal.sign is not None
    edition = made(base, "later", Seal(seal.said))
    before = {path: path.read_bytes() for path in edition.rglob("*") if path.is_file()}
    laid = lay_beside(edition, seal.said, seal.sign)
    assert {path.name for path in laid} == {"0001.signer.json", "0001.signer.pem", "0001.signature.ed25519"}
    assert before == {path: path.read_bytes() for path in edition.rglob("*") if path.is_file()}
    found = verify(edition)
    assert found.complete
    assert found.signature.state is Signed.GOOD
    assert found.signature.beside
    with pytest.raises(Mistake, match="carries a signature by key already"):
        lay_beside(edition, seal.said, seal.sign)
    laid[-1].write_bytes(b"x" * 64)
    assert verify(edition).of(Harm.SIGNATURE)


def test_another_persons_key_in_its_place_does_not_hold(copied: Path) -> None:
    other = published_car.other_public_key()
    pem = (copied / PUBLIC_KEY).read_bytes()
    (copied / PUBLIC_KEY).write_bytes(other)
    report = verify(copied)
    assert "another one than signer.json names" in report.of(Harm.SIGNATURE)[0].words
    assert {fault.path for fault in report.of(Harm.CHANGED)} == {PUBLIC_KEY}
    (copied / PUBLIC_KEY).write_bytes(pem)
    assert verify(copied).complete


def test_what_changes_after_signing_is_told_beside_the_good_signature(copied: Path) -> None:
    (copied / "data" / "plan.json").write_bytes(b"{ }\n")
    report = verify(copied)
    assert not report.complete
    assert report.signature.state is Signed.GOOD
    assert "done to the edition after that" in report.signature.words
    assert "Shot plan: 1 not as published, 0 files as published." in report.said
    assert "Pages: complete, 3 files." in report.said


@pytest.mark.parametrize(
    ("name", "content", "words"),
    [
        (SIGNATURE, None, "is missing"),
        (SIGNATURE, b"", "is missing"),
        (SIGNATURE, b"x" * 64, "does not fit"),
        (SIGNATURE, b"x" * 70_000, "is missing"),
        (SIGNER, None, "missing or cannot be read"),
        (SIGNER, b"[]", "not what it must be"),
        (SIGNER, b"[" * 60_000, "not what it must be"),
        (SIGNER, b"\xff", "not what it must be"),
        (SIGNER, b'{"format": "lapseam-signer", "version": 9}', "a newer one may"),
        (PUBLIC_KEY, None, "missing or cannot be read"),
        (PUBLIC_KEY, b"-----BEGIN PUBLIC KEY-----\n!\n-----END PUBLIC KEY-----\n", "not what it must be"),
        ("tagmanifest-sha256.txt", b"", "does not fit"),
    ],
)
def test_every_way_it_breaks_is_said(copied: Path, name: str, content: bytes | None, words: str) -> None:
    if content is None:
        (copied / name).unlink()
    else:
        (copied / name).write_bytes(content)
    assert any(words in fault.words for fault in verify(copied).of(Harm.SIGNATURE))


@pytest.mark.parametrize(
    "said", [5, {}, {"text": TEXT}, {"text": 5, "signature": "00"}, {"text": TEXT, "signature": "q"}]
)
def test_a_sign_off_that_does_not_fit_is_said(copied: Path, said: object) -> None:
    told = json.loads((copied / SIGNER).read_bytes())
    (copied / SIGNER).write_text(json.dumps({**told, "sign_off": said}))
    assert any("sign-off" in fault.words for fault in verify(copied).of(Harm.SIGNATURE))


def test_no_name_leaves_in_the_signer_file(sealed: Path) -> None:
    assert SignerSaid.__dataclass_fields__.keys() == {"public", "role", "text", "text_signature"}
    assert json.loads((sealed / SIGNER).read_bytes())["role"] == "manager"
