"""The vault keeps originals under their hash, read-only, never overwritten; previews are only a cache."""

from __future__ import annotations

import errno
import os
from concurrent.futures import ThreadPoolExecutor
from enum import Enum
from hashlib import sha256
from pathlib import Path

import pytest

from lapseam.domain.errors import NotFound
from lapseam.domain.photo import PreviewSize
from lapseam.storage import Previews, Vault

CONTENT = b"\xff\xd8 an original \xff\xd9"
SHA = sha256(CONTENT).hexdigest()


@pytest.fixture
def vault(tmp_path: Path) -> Vault:
    (tmp_path / "vault").mkdir()
    return Vault(tmp_path / "vault")


def spooled(vault: Vault, content: bytes = CONTENT) -> Path:
    path = vault.spool()
    path.write_bytes(content)
    return path


def test_an_original_lies_under_its_hash_and_is_read_only(vault: Vault, tmp_path: Path) -> None:
    copy = spooled(vault)
    assert not vault.has(SHA)
    kept = vault.keep(copy, SHA, ".JPG")
    assert kept == tmp_path / "vault" / SHA[:2] / f"{SHA}.jpg"
    assert kept.read_bytes() == CONTENT
    assert kept.stat().st_mode & 0o222 == 0
    assert kept.stat().st_nlink == 1
    assert not copy.exists()
    assert (vault.has(SHA), vault.path(SHA), vault.check(SHA)) == (True, kept, True)
    assert list(vault.all()) == [SHA]


def test_what_lies_there_already_is_not_touched(vault: Vault) -> None:
    kept = vault.keep(spooled(vault), SHA, ".jpg")
    before = kept.stat()
    copy = spooled(vault)
    assert vault.keep(copy, SHA, ".jpeg") == kept
    assert not copy.exists()
    assert (kept.stat().st_ino, kept.stat().st_mtime_ns) == (before.st_ino, before.st_mtime_ns)
    assert list(vault.all()) == [SHA]


def test_a_damaged_original_is_noticed_and_healed_by_the_good_one(vault: Vault) -> None:
    kept = vault.keep(spooled(vault), SHA, ".jpg")
    kept.chmod(0o644)
    kept.write_bytes(b"bad")
    assert (vault.has(SHA), vault.check(SHA)) == (True, False)
    assert vault.keep(spooled(vault), SHA, ".jpg") == kept
    assert vault.check(SHA)
    assert kept.with_name(f"{SHA}.jpg.damaged-1").read_bytes() == b"bad"
    assert list(vault.all()) == [SHA]


def test_a_copy_with_another_hash_never_comes_in(vault: Vault) -> None:
    with pytest.raises(ValueError, match="does not have the hash"):
        vault.keep(spooled(vault, b"other"), SHA, ".jpg")
    assert not vault.has(SHA)


@pytest.mark.parametrize("sha", ["", "../../x", SHA.upper(), SHA[:-1]])
def test_only_a_hash_names_an_original(vault: Vault, sha: str) -> None:
    with pytest.raises(ValueError, match="no SHA-256"):
        vault.has(sha)


@pytest.mark.parametrize("suffix", ["", "jpg", "./x", ".j p", "..jpg"])
def test_only_an_ending_ends_a_name(vault: Vault, suffix: str) -> None:
    with pytest.raises(ValueError, match="no ending"):
        vault.keep(spooled(vault), SHA, suffix)


def test_a_missing_original_is_not_found_with_what_to_do(vault: Vault) -> None:
    with pytest.raises(NotFound) as caught:
        vault.path(SHA)
    assert "backup" in caught.value.next_step
    assert not vault.check(SHA)


def test_disks_without_hard_links_keep_originals_too(vault: Vault, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_: object, **__: object) -> None:
        raise OSError(errno.EPERM, os.strerror(errno.EPERM))

    monkeypatch.setattr(Path, "hardlink_to", refuse)
    kept = vault.keep(spooled(vault), SHA, ".jpg")
    assert kept.read_bytes() == CONTENT
    assert vault.keep(spooled(vault), SHA, ".jpg") == kept


def test_several_threads_may_bring_the_same_and_different_originals(vault: Vault) -> None:
    contents = [f"photo {number % 10}".encode() for number in range(60)]

    def bring(content: bytes) -> Path:
        return vault.keep(spooled(vault, content), sha256(content).hexdigest(), ".jpg")

    with ThreadPoolExecutor(4) as pool:
        paths = list(pool.map(bring, contents))
    assert [path.read_bytes() for path in paths] == contents
    assert len(list(vault.all())) == 10
    assert vault.empty_spool() == 0


def test_two_spooled_copies_never_share_a_path(vault: Vault) -> None:
    assert len({vault.spool() for _ in range(100)}) == 100


class Size(Enum):
    THUMB = "thumb"


@pytest.mark.parametrize("size", ["thumb", Size.THUMB, PreviewSize.THUMB])
def test_a_preview_comes_back_by_size_and_over_an_earlier_one(tmp_path: Path, size: object) -> None:
    previews = Previews(tmp_path / "cache")
    assert previews.path(SHA, size) is None
    previews.put(SHA, size, b"\xff\xd8old\xff\xd9")
    previews.put(SHA, size, CONTENT)
    found = previews.path(SHA, size)
    assert found is not None
    assert found.read_bytes() == CONTENT
    assert previews.path(SHA, "preview") is None
    assert not list(found.parent.glob(".*"))


@pytest.mark.parametrize("left", [b"", b"\xff", b"\xff\xd8 cut"])
def test_a_preview_that_a_power_cut_left_incomplete_counts_as_absent(tmp_path: Path, left: bytes) -> None:
    previews = Previews(tmp_path / "cache")
    previews.put(SHA, "thumb", CONTENT)
    found = previews.path(SHA, "thumb")
    assert found is not None
    found.write_bytes(left)
    assert previews.path(SHA, "thumb") is None


def test_the_cache_may_go_at_any_time(tmp_path: Path) -> None:
    import shutil

    previews = Previews(tmp_path / "cache")
    previews.put(SHA, "thumb", CONTENT)
    shutil.rmtree(tmp_path / "cache")
    assert previews.path(SHA, "thumb") is None
    previews.put(SHA, "thumb", CONTENT)
    assert previews.path(SHA, "thumb") is not None
