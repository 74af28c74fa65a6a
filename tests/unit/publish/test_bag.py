"""Bags as RFC 8493 wants them, and manifests read without trusting them."""

from __future__ import annotations

import hashlib
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lapseam.publish import bag


def bagged(folder: Path, payload: dict[str, bytes]) -> str:
    for name, content in payload.items():
        path = folder / "data" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content)
    return bag.write_bag(folder, [("Bagging-Date", "2026-05-14"), ("Source-Organization", "A\nB")])


def test_the_declaration_is_exactly_two_lines(tmp_path: Path) -> None:
    bagged(tmp_path, {"a": b"1"})
    declaration = (tmp_path / "bagit.txt").read_bytes()
    assert declaration == b"BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n"


def test_both_manifests_list_every_payload_file_once(tmp_path: Path) -> None:
    bagged(tmp_path, {"a.txt": b"one", "b/c.txt": b"two", "b/ü.txt": b"three"})
    for algorithm in ("sha256", "sha512"):
        read = bag.read_manifest(tmp_path / f"manifest-{algorithm}.txt", algorithm)
        assert [file.path for file in read.files] == ["data/a.txt", "data/b/c.txt", "data/b/ü.txt"]
        assert read.files[0].digest == hashlib.new(algorithm, b"one").hexdigest()
        assert read.as_written
        assert not read.refused


def test_payload_oxum_counts_octets_and_files(tmp_path: Path) -> None:
    bagged(tmp_path, {"a": b"123", "b": b"45"})
    info = (tmp_path / "bag-info.txt").read_text()
    assert "Payload-Oxum: 5.2\n" in info
    assert "Source-Organization: A B\n" in info


def test_tag_manifests_list_tag_files_but_no_tag_manifest(tmp_path: Path) -> None:
    digest = bagged(tmp_path, {"a": b"1"})
    text = (tmp_path / "tagmanifest-sha256.txt").read_bytes()
    assert hashlib.sha256(text).hexdigest() == digest
    names = [line.split("  ")[1] for line in text.decode().splitlines()]
    assert names == ["bag-info.txt", "bagit.txt", "manifest-sha256.txt", "manifest-sha512.txt"]


@pytest.mark.parametrize(
    ("name", "written"),
    [("a\nb", "a%0Ab"), ("a\rb", "a%0Db"), ("100%", "100%25"), ("%0A", "%250A"), ("ü b~", "ü b~")],
)
def test_only_cr_lf_and_percent_are_encoded(name: str, written: str) -> None:
    assert bag.encode_path(name) == written
    assert bag.decode_path(written) == name


@given(st.text(min_size=1))
def test_encoding_comes_back(name: str) -> None:
    written = bag.encode_path(name)
    assert "\n" not in written
    assert "\r" not in written
    assert bag.decode_path(written) == name


@pytest.mark.parametrize(
    "path",
    [
        "../etc/passwd",
        "data/../../x",
        "/etc/passwd",
        "~/x",
        "~someone/x",
        "C:\\x",
        "c:/x",
        "\\\\host\\x",
        "data\\..\\x",
        "data/aux.txt",
        "data/NUL",
        "data//x",
        "data/./x",
        "",
        "data/a\0b",
    ],
)
def test_hostile_paths_are_refused(path: str) -> None:
    assert bag.unsafe(path)


def test_ordinary_paths_are_safe() -> None:
    assert not any(bag.unsafe(path) for path in ("data/index.html", "data/photos/001.jpg", "data/..x", "data/console"))


@pytest.mark.parametrize(
    ("line", "reason"),
    [
        (b"nonsense", "no checksum"),
        (b"abcd  data/a", "no checksum"),
        (b"a" * 64 + b"  ../a", "climbs out"),
        (b"a" * 64 + b"  data/a\n" + b"b" * 64 + b"  data/a", "second time"),
        (b"\xff\xfe\x00", "no checksum"),
    ],
)
def test_a_hostile_line_comes_back_as_refused(tmp_path: Path, line: bytes, reason: str) -> None:
    (tmp_path / "m.txt").write_bytes(line)
    read = bag.read_manifest(tmp_path / "m.txt", "sha256")
    assert any(reason in words for words in read.refused)


@pytest.mark.parametrize(
    ("octets", "words"), [(999, "999 B"), (1500, "1.5 kB"), (999_960, "1.0 MB"), (5_300_000_000, "5.3 GB")]
)
def test_sizes_in_words(octets: int, words: str) -> None:
    assert bag.size_words(octets) == words
