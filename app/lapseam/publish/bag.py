"""BagIt bags (RFC 8493, version 1.0): written here, and their lists read back.

Only what an edition needs: SHA-256 and SHA-512 manifests over the same payload, tag manifests, `bag-info.txt`, no
`fetch.txt`. Reading never touches a path that a hostile list names: such lines come back as refused.
"""

from __future__ import annotations

import hashlib
import os
import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path, PurePosixPath
from typing import Final

ALGORITHMS: Final = ("sha256", "sha512")
DECLARATION: Final = "BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n"
PAYLOAD: Final = "data"
LONGEST_LIST_OCTETS: Final = 64_000_000
"""A list of half a million files; what is longer is not read into memory."""

_LINE = re.compile(r"(?P<digest>[0-9A-Fa-f]+)[ \t]+\*?(?P<path>.+)\Z", re.DOTALL)
_ESCAPE = {"%": "%25", "\r": "%0D", "\n": "%0A"}
_UNESCAPE = re.compile("%(0D|0A|25)", re.IGNORECASE)
_DEVICE = re.compile(r"(con|prn|aux|nul|com[0-9]|lpt[0-9])(\..*)?\Z", re.IGNORECASE)
_BLOCK = 1 << 20


@dataclass(frozen=True, slots=True)
class ListedFile:
    """One line of a manifest: a path below the bag, with `/`, and its digest in lower-case hex."""

    path: str
    digest: str


@dataclass(frozen=True, slots=True)
class Manifest:
    """A manifest as read. `refused` are lines that are no safe line, each with its reason in words.

    `as_written` says whether its bytes are exactly what `write_bag` writes for these files.
    """

    algorithm: str
    files: tuple[ListedFile, ...]
    refused: tuple[str, ...] = ()
    as_written: bool = True

    def digests(self) -> dict[str, str]:
        """Digest by path."""
        return {file.path: file.digest for file in self.files}


def encode_path(path: str) -> str:
    """Percent-encode what would break a manifest's lines: CR, LF and %, and nothing else (RFC 8493, 2.1.3)."""
    return "".join(_ESCAPE.get(sign, sign) for sign in path)


def decode_path(path: str) -> str:
    """Undo `encode_path`."""
    return _UNESCAPE.sub(lambda found: chr(int(found[1], 16)), path)


def unsafe(path: str) -> str:
    """Why a listed path must not be touched, or "" (RFC 8493, 5.1 and 5.2)."""
    if not path.strip() or "\0" in path:
        return "no name"
    if path.startswith(("/", "\\")) or re.match(r"[A-Za-z]:", path):
        return "an absolute path"
    if path.startswith("~"):
        return "a path into somebody's home folder"
    parts = re.split(r"[/\\]", path)
    if ".." in parts:
        return "a path that climbs out of the bag"
    if any(_DEVICE.match(part) for part in parts):
        return "the name of a device"
    if "" in parts or "." in parts:
        return "a path with empty steps"
    return ""


def digests(path: Path, algorithms: Sequence[str] = ALGORITHMS) -> dict[str, str]:
    """Hex digests of one file by algorithm, in one read."""
    running = {name: hashlib.new(name) for name in algorithms}
    with path.open("rb") as file:
        while block := file.read(_BLOCK):
            for one in running.values():
                one.update(block)
    return {name: one.hexdigest() for name, one in running.items()}


def write_bag(folder: Path, info: Iterable[tuple[str, str]], tags: Mapping[str, bytes] | None = None) -> str:
    """Turn `folder`, whose payload already lies in `data/`, into a bag.

    Args:
        folder: holds `data/`; the tag files are written beside it.
        info: labels and values of `bag-info.txt` in order; Payload-Oxum and Bag-Size are added here.
        tags: further tag files by name, such as a signature; they are listed in the tag manifests.

    Returns:
        SHA-256 of `tagmanifest-sha256.txt`: one digest that stands for every byte of the bag.
    """
    payload = tuple(sorted(files_below(folder / PAYLOAD)))
    sums = {path: digests(folder / PAYLOAD / path) for path in payload}
    size = sum((folder / PAYLOAD / path).stat().st_size for path in payload)
    lines = [*info, ("Bag-Size", size_words(size)), ("Payload-Oxum", f"{size}.{len(payload)}")]
    texts: dict[str, bytes] = {
        "bagit.txt": DECLARATION.encode(),
        "bag-info.txt": "".join(f"{label}: {_folded(value)}\n" for label, value in lines).encode(),
        **(tags or {}),
    }
    for name in ALGORITHMS:
        listed = ((sums[path][name], f"{PAYLOAD}/{path}") for path in payload)
        texts[f"manifest-{name}.txt"] = _manifest(listed)
    for name in ALGORITHMS:
        listed = ((hashlib.new(name, texts[tag]).hexdigest(), tag) for tag in sorted(texts) if _listable(tag))
        texts[f"tagmanifest-{name}.txt"] = _manifest(listed)
    for tag, content in texts.items():
        (folder / tag).write_bytes(content)
    return hashlib.sha256(texts["tagmanifest-sha256.txt"]).hexdigest()


def payload_manifest(folder: Path, algorithm: str = "sha256") -> bytes:
    """The payload manifest that `write_bag` will write."""
    payload = sorted(files_below(folder / PAYLOAD))
    return _manifest((digests(folder / PAYLOAD / path)[algorithm], f"{PAYLOAD}/{path}") for path in payload)


def read_manifest(path: Path, algorithm: str) -> Manifest:
    """Read a manifest; never raises for what stands in it, and never follows what it names."""
    if path.stat().st_size > LONGEST_LIST_OCTETS:
        return Manifest(algorithm, (), (f"it is no list: it is {size_words(path.stat().st_size)} long",))
    files: dict[str, ListedFile] = {}
    refused: list[str] = []
    content = path.read_bytes()
    text = content.decode("utf-8", errors="replace")
    for number, line in enumerate(re.split(r"\r\n|\r|\n", text), start=1):
        if not line.strip():
            continue
        match = _LINE.match(line)
        if match is None or len(match["digest"]) != hashlib.new(algorithm).digest_size * 2:
            refused.append(f"line {number} is no checksum and path")
            continue
        name = decode_path(match["path"])
        if reason := unsafe(name):
            refused.append(f"line {number} names {reason}: {name!r}")
        elif name in files:
            refused.append(f"line {number} lists {name!r} a second time")
        else:
            files[name] = ListedFile(name, match["digest"].lower())
    again = _manifest((file.digest, file.path) for file in files.values())
    return Manifest(algorithm, tuple(files.values()), tuple(refused), as_written=content == again)


def files_below(folder: Path) -> Iterator[str]:
    """Paths of everything below `folder` that is not a folder, relative, with `/`; links are named, not followed."""
    for place, folders, names in os.walk(folder):
        here = Path(place)
        linked = [name for name in folders if (here / name).is_symlink()]
        for name in (*names, *linked):
            yield str(PurePosixPath((here / name).relative_to(folder).as_posix()))


def size_words(octets: int) -> str:
    """A size for people: "38.2 MB" (decimal, as bags state it)."""
    if octets < 1000:
        return f"{octets} B"
    power = 3 if octets >= 999_950_000 else 2 if octets >= 999_950 else 1
    return f"{octets / 1000**power:.1f} {' kMG'[power]}B"


def _manifest(listed: Iterable[tuple[str, str]]) -> bytes:
    return "".join(f"{digest}  {encode_path(path)}\n" for digest, path in listed).encode("utf-8", "replace")


def _listable(tag: str) -> bool:
    return not tag.startswith("tagmanifest-")


def _folded(value: str) -> str:
    """One line: a tag's value may not break lines."""
    return " ".join(value.split())
