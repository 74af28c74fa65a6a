"""Whether an edition is still what was published: complete, changed, added, missing or renamed, in words.

Reads only below the given folder, follows no link and no path that a list invents, and answers garbage with words.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from enum import StrEnum
from pathlib import Path

from . import bag, signature, time_stamp
from .signature import SignatureFound, Signed
from .time_stamp import Stamp, StampFound

_LONGEST_TAG_OCTETS = 1_000_000
_FETCH = "fetch.txt"
_NO_SIGNATURE = SignatureFound(Signed.NONE, "Not signed.")
_NO_STAMP = StampFound(Stamp.NONE, "No time stamp.")
_TOO_LARGE = "was changed: it is larger than the whole edition is said to be, and was not read."


class Harm(StrEnum):
    """What happened to one file of an edition, or to the edition as a whole."""

    NOT_A_BAG = "not a bag"
    CHANGED = "changed"
    ADDED = "added"
    MISSING = "missing"
    RENAMED = "renamed"
    REFUSED = "refused"
    UNREADABLE = "unreadable"
    SIGNATURE = "bad signature"
    STAMP = "bad time stamp"


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing that is wrong. `path` is below the edition's folder; `words` is a whole sentence."""

    harm: Harm
    path: str
    words: str


@dataclass(frozen=True, slots=True)
class PartState:
    """One part of an edition: how many of its files are as they were published, and how many are not."""

    name: str
    whole: int
    wrong: int

    @property
    def words(self) -> str:
        """The part in one sentence."""
        files = "1 file" if self.whole == 1 else f"{self.whole} files"
        if not self.wrong:
            return f"{self.name}: complete, {files}."
        return f"{self.name}: {self.wrong} not as published, {files} as published."


@dataclass(frozen=True, slots=True)
class VerifyReport:
    """What a check of one edition gave.

    Attributes:
        number: the edition's number as its own manifest says it, 0 where it says none.
        files: how many payload files were read and compared.
        octets: their size together.
        bag_sha256: SHA-256 of the tag manifest as it lies there now, "" if there is none: compare it with the record.
        signed: whether the edition says that it is signed.
        signature: what its signature by key proves, if it has one.
        stamp: what the time stamp beside it proves, if it has one.
        parts: the photographs, the pages, the record, the plan and the bag's own lists, each counted.
    """

    folder: str
    faults: tuple[Fault, ...]
    files: int = 0
    octets: int = 0
    number: int = 0
    signed: bool = False
    bag_sha256: str = ""
    signature: SignatureFound = _NO_SIGNATURE
    stamp: StampFound = _NO_STAMP
    parts: tuple[PartState, ...] = ()

    @property
    def complete(self) -> bool:
        """Whether every listed file is there, unchanged, and nothing else is."""
        return not self.faults

    def of(self, harm: Harm) -> tuple[Fault, ...]:
        """The faults of one kind."""
        return tuple(fault for fault in self.faults if fault.harm is harm)

    @property
    def said(self) -> tuple[str, ...]:
        """The whole answer: the sentence, every fault, where there are any the parts, signature and time stamp."""
        lines = [self.words, *(fault.words for fault in self.faults)]
        if not self.complete:
            lines += [part.words for part in self.parts]
        if self.signature.state is not Signed.BAD:
            lines.append(self.signature.words)
        if self.stamp.state in (Stamp.ASKED, Stamp.FITS):
            lines.append(self.stamp.words)
        return tuple(lines)

    @property
    def words(self) -> str:
        """The answer in one sentence."""
        if self.complete:
            return f"Complete: {self.files} files, {bag.size_words(self.octets)}, every checksum agrees."
        counts = ((harm, len(self.of(harm))) for harm in Harm)
        return "Not as published: " + ", ".join(f"{count} {harm}" for harm, count in counts if count) + "."


def verify(folder: Path, *, known: Mapping[str, str] | None = None, roots: Path | None = None) -> VerifyReport:
    """Compare an edition's folder with its own lists, and its signature with the list that it was put under.

    Args:
        folder: the edition, the folder that holds `bagit.txt`.
        known: whom of a house each fingerprint of a key belongs to; None if no house is asked.
        roots: a PEM file with the root certificates of time stamp authorities that are trusted; None asks nobody.

    Returns:
        The report. Whatever lies there, this does not raise for it.
    """
    if folder.is_symlink() or not folder.is_dir():
        return VerifyReport(str(folder), (Fault(Harm.NOT_A_BAG, "", "There is no such folder."),))
    faults = list(_declaration(folder))
    present = _present(folder)
    faults.extend(_links(folder, present))
    lists = _lists(folder, present)
    if not any(name.startswith("manifest-") for name in lists):
        faults.append(Fault(Harm.NOT_A_BAG, "", "There is no list of checksums that can be read."))
    for name, manifest in lists.items():
        faults.extend(Fault(Harm.REFUSED, name, f"{name}: {reason}.") for reason in manifest.refused)
        if not manifest.as_written and not manifest.refused:
            faults.append(Fault(Harm.CHANGED, name, f"{name} is not written as it was; somebody saved it anew."))
    compared = _Compared(folder, present, _stated_octets(folder))
    faults.extend(compared.payload(lists))
    faults.extend(compared.tags(lists))
    about = _about(folder, present)
    proof = signature.look(folder, claims=about[1], known=known)
    if proof.state is Signed.BAD:
        faults.append(Fault(Harm.SIGNATURE, signature.SIGNATURE, proof.words))
    elif proof.state is Signed.GOOD and faults:
        proof = replace(proof, words=f"{proof.words} What is named here was done to the edition after that.")
    stamp = time_stamp.look(folder, roots=roots)
    if stamp.state is Stamp.BAD:
        faults.append(Fault(Harm.STAMP, "", stamp.words))
    return VerifyReport(
        stamp=stamp,
        folder=str(folder),
        faults=tuple(dict.fromkeys(faults)),
        signature=proof,
        parts=_parts(present, faults),
        files=compared.files,
        octets=compared.octets,
        number=about[0],
        signed=about[1],
        bag_sha256=bag_sha256(folder),
    )


def bag_sha256(folder: Path) -> str:
    """SHA-256 of an edition's tag manifest as it lies there now, which stands for every byte; "" if there is none."""
    path = folder / "tagmanifest-sha256.txt"
    if path.is_symlink() or not path.is_file():
        return ""
    try:
        return bag.digests(path, ("sha256",))["sha256"]
    except OSError:
        return ""


def _present(folder: Path) -> frozenset[str]:
    return frozenset(bag.files_below(folder))


def _declaration(folder: Path) -> Iterator[Fault]:
    path = folder / "bagit.txt"
    try:
        text = _start(path)
    except OSError as error:
        yield Fault(Harm.UNREADABLE, "bagit.txt", f"bagit.txt cannot be read: {error.strerror}.")
        return
    if not re.fullmatch(rb"BagIt-Version: \d+\.\d+\r?\nTag-File-Character-Encoding: UTF-8\r?\n?", text):
        yield Fault(Harm.NOT_A_BAG, "bagit.txt", "bagit.txt is missing or does not say what it must.")


def _start(path: Path) -> bytes:
    """The beginning of a small tag file; nothing of a link or of what is no file."""
    if path.is_symlink() or not path.is_file():
        return b""
    with path.open("rb") as file:
        return file.read(_LONGEST_TAG_OCTETS)


def _stated_octets(folder: Path) -> int | None:
    """How many octets bag-info.txt says the payload has (Payload-Oxum), None where it says nothing usable."""
    try:
        found = re.search(rb"^Payload-Oxum: (\d{1,18})\.\d{1,18}\r?$", _start(folder / "bag-info.txt"), re.MULTILINE)
    except OSError:
        return None
    return int(found[1]) if found else None


_PARTS = (
    ("Photographs", re.compile(r"data/photos/")),
    ("Pages", re.compile(r"data/[^/]+\.(html|pdf)\Z")),
    ("Record", re.compile(r"data/(record|edition)\.json\Z")),
    ("Shot plan", re.compile(r"data/plan\.json\Z")),
    ("Further files", re.compile(r"data/")),
    ("The bag's own lists", re.compile(r"")),
)


def _parts(present: frozenset[str], faults: list[Fault]) -> tuple[PartState, ...]:
    """Every file that is there or is named in a fault, counted under the first part that it fits."""
    wrong = {fault.path for fault in faults if fault.path}
    counts = {name: [0, 0] for name, _ in _PARTS}
    for path in present | wrong:
        part = next(name for name, pattern in _PARTS if pattern.match(path))
        counts[part][path in wrong] += 1
    return tuple(PartState(name, *count) for name, count in counts.items() if any(count))


def _links(folder: Path, present: frozenset[str]) -> Iterator[Fault]:
    for name in sorted(present):
        path = folder / name
        if path.is_symlink():
            yield Fault(Harm.REFUSED, name, f"{_shown(name)} is a link to somewhere else; it was not followed.")
        elif not path.is_file():
            yield Fault(Harm.REFUSED, name, f"{_shown(name)} is no ordinary file; it was not opened.")


def _lists(folder: Path, present: frozenset[str]) -> dict[str, bag.Manifest]:
    found: dict[str, bag.Manifest] = {}
    for algorithm in bag.ALGORITHMS:
        for kind in ("manifest", "tagmanifest"):
            name = f"{kind}-{algorithm}.txt"
            path = folder / name
            if name in present and path.is_file() and not path.is_symlink():
                try:
                    found[name] = bag.read_manifest(path, algorithm)
                except OSError as error:
                    found[name] = bag.Manifest(algorithm, (), (f"it cannot be read: {error.strerror}",))
    return found


class _Compared:
    """Compares what is listed with what is there, reading each file once."""

    def __init__(self, folder: Path, present: frozenset[str], stated_octets: int | None) -> None:
        self._folder = folder
        self._present = present
        self._stated_octets = stated_octets
        self._sums: dict[str, dict[str, str]] = {}
        self.files = 0
        self.octets = 0

    def payload(self, lists: Mapping[str, bag.Manifest]) -> Iterator[Fault]:
        """Faults of the payload: each manifest must list all of it, and each sum must agree."""
        manifests = [m for name, m in lists.items() if name.startswith("manifest-")]
        if not manifests:
            return
        there = {name for name in self._present if name.startswith(f"{bag.PAYLOAD}/")}
        listed = {path for manifest in manifests for path in manifest.digests()}
        for manifest in manifests:
            for path in sorted(listed - manifest.digests().keys()):
                name = f"manifest-{manifest.algorithm}.txt"
                yield Fault(Harm.CHANGED, name, f"{name} does not list {_shown(path)}, and another list does.")
        for path in sorted(path for path in listed if not path.startswith(f"{bag.PAYLOAD}/")):
            yield Fault(Harm.REFUSED, path, f"{_shown(path)} is listed as payload and lies outside {bag.PAYLOAD}/.")
        yield from self._differences(manifests, listed, there)
        read = [path for path in listed & there if path in self._sums]
        self.files = len(read)
        self.octets = sum((self._folder / path).stat().st_size for path in read)

    def tags(self, lists: Mapping[str, bag.Manifest]) -> Iterator[Fault]:
        """Faults of the tag files: the lists themselves, bagit.txt, bag-info.txt, a signature."""
        manifests = [m for name, m in lists.items() if name.startswith("tagmanifest-")]
        there = {name for name in self._present if not name.startswith(f"{bag.PAYLOAD}/")}
        if _FETCH in there:
            words = "would have parts fetched from elsewhere. An edition holds all of itself; nothing was fetched."
            yield Fault(Harm.REFUSED, _FETCH, f"{_FETCH} {words}")
            there.discard(_FETCH)
        own = {name for name in there if name.startswith("tagmanifest-")}
        expected = {f"{kind}-{algorithm}.txt" for algorithm in bag.ALGORITHMS for kind in ("manifest", "tagmanifest")}
        for name in sorted(expected - there):
            yield Fault(Harm.MISSING, name, f"{name} is missing.")
        if manifests:
            listed = {path for manifest in manifests for path in manifest.digests()} - {_FETCH}
            if signature.SIGNER in listed:
                there.discard(signature.SIGNATURE)
            for manifest in manifests:
                for path in sorted(listed - manifest.digests().keys()):
                    name = f"tagmanifest-{manifest.algorithm}.txt"
                    yield Fault(Harm.CHANGED, name, f"{name} does not list {_shown(path)}, and another list does.")
            yield from self._differences(manifests, listed, (there - own) | (own - expected))

    def _differences(self, manifests: list[bag.Manifest], listed: set[str], there: set[str]) -> Iterator[Fault]:
        missing, added = listed - there, there - listed
        by_digest: dict[str, str] = {}
        for path in sorted(added):
            if (sums := self._read(path)) is not None:
                by_digest.setdefault(sums[manifests[0].algorithm], path)
        for path in sorted(missing):
            was = next((m.digests()[path] for m in manifests if path in m.digests()), "")
            now = by_digest.pop(was, None)
            if now is None:
                yield Fault(Harm.MISSING, path, f"{_shown(path)} is missing.")
            else:
                added.discard(now)
                yield Fault(Harm.RENAMED, path, f"{_shown(path)} is now called {_shown(now)}.")
        for path in sorted(added):
            yield Fault(Harm.ADDED, path, f"{_shown(path)} was added; no list names it.")
        for path in sorted(listed & there):
            sums = self._read(path)
            if sums is None:
                if self._too_large(path):
                    yield Fault(Harm.CHANGED, path, f"{_shown(path)} {_TOO_LARGE}")
                elif not (self._folder / path).is_symlink():
                    yield Fault(Harm.UNREADABLE, path, f"{_shown(path)} cannot be read.")
            elif any(m.digests().get(path, sums[m.algorithm]) != sums[m.algorithm] for m in manifests):
                yield Fault(Harm.CHANGED, path, f"{_shown(path)} was changed: its checksum does not agree.")

    def _read(self, path: str) -> dict[str, str] | None:
        if path not in self._sums:
            place = self._folder / path
            if place.is_symlink() or not place.is_file() or self._too_large(path):
                return None
            try:
                self._sums[path] = bag.digests(place)
            except OSError:
                return None
        return self._sums[path]

    def _too_large(self, path: str) -> bool:
        """Whether a file is larger than the whole payload is said to be, or than a tag file can be: it is not read."""
        limit = self._stated_octets if path.startswith(f"{bag.PAYLOAD}/") else bag.LONGEST_LIST_OCTETS
        try:
            return limit is not None and (self._folder / path).lstat().st_size > limit
        except OSError:
            return False


def _about(folder: Path, present: frozenset[str]) -> tuple[int, bool]:
    """Number and whether signed, as the edition's own manifest says; (0, False) where it says nothing usable."""
    name = f"{bag.PAYLOAD}/edition.json"
    if name not in present or (folder / name).is_symlink():
        return 0, False
    try:
        if (folder / name).stat().st_size > bag.LONGEST_LIST_OCTETS:
            return 0, False
        said = json.loads((folder / name).read_bytes())
    except (OSError, ValueError, RecursionError):
        return 0, False
    if not isinstance(said, dict):
        return 0, False
    number = said.get("number")
    return (number if type(number) is int else 0), said.get("signed") is True


def _shown(path: str) -> str:
    """A path for a sentence: control and direction signs made visible."""
    return path if path.isprintable() else ascii(path)
