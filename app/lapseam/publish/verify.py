"""Whether an edition is still what was published: complete, changed, added, missing or renamed, in words.

Reads only below the given folder, follows no link and no path that a list invents, and answers garbage with words.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path

from . import bag


class Harm(StrEnum):
    """What happened to one file of an edition, or to the edition as a whole."""

    NOT_A_BAG = "not a bag"
    CHANGED = "changed"
    ADDED = "added"
    MISSING = "missing"
    RENAMED = "renamed"
    REFUSED = "refused"
    UNREADABLE = "unreadable"


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing that is wrong. `path` is below the edition's folder; `words` is a whole sentence."""

    harm: Harm
    path: str
    words: str


@dataclass(frozen=True, slots=True)
class VerifyReport:
    """What a check of one edition gave.

    Attributes:
        number: the edition's number as its own manifest says it, 0 where it says none.
        files: how many payload files were read and compared.
        octets: their size together.
        bag_sha256: SHA-256 of the tag manifest as it lies there now, "" if there is none: compare it with the record.
        signed: whether the edition says that it is signed (its signature is checked where the keys are).
    """

    folder: str
    faults: tuple[Fault, ...]
    files: int = 0
    octets: int = 0
    number: int = 0
    signed: bool = False
    bag_sha256: str = ""

    @property
    def complete(self) -> bool:
        """Whether every listed file is there, unchanged, and nothing else is."""
        return not self.faults

    def of(self, harm: Harm) -> tuple[Fault, ...]:
        """The faults of one kind."""
        return tuple(fault for fault in self.faults if fault.harm is harm)

    @property
    def words(self) -> str:
        """The answer in one sentence."""
        if self.complete:
            return f"Complete: {self.files} files, {bag.size_words(self.octets)}, every checksum agrees."
        counts = ((harm, len(self.of(harm))) for harm in Harm)
        return "Not as published: " + ", ".join(f"{count} {harm}" for harm, count in counts if count) + "."


def verify(folder: Path) -> VerifyReport:
    """Compare an edition's folder with its own lists.

    Args:
        folder: the edition, the folder that holds `bagit.txt`.

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
    compared = _Compared(folder, present)
    faults.extend(compared.payload(lists))
    faults.extend(compared.tags(lists))
    about = _about(folder, present)
    return VerifyReport(
        folder=str(folder),
        faults=tuple(dict.fromkeys(faults)),
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
        text = path.read_bytes() if path.is_file() and not path.is_symlink() else b""
    except OSError as error:
        yield Fault(Harm.UNREADABLE, "bagit.txt", f"bagit.txt cannot be read: {error.strerror}.")
        return
    if not re.fullmatch(rb"BagIt-Version: \d+\.\d+\r?\nTag-File-Character-Encoding: UTF-8\r?\n?", text):
        yield Fault(Harm.NOT_A_BAG, "bagit.txt", "bagit.txt is missing or does not say what it must.")


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

    def __init__(self, folder: Path, present: frozenset[str]) -> None:
        self._folder = folder
        self._present = present
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
        own = {name for name in there if name.startswith("tagmanifest-")}
        expected = {f"{kind}-{algorithm}.txt" for algorithm in bag.ALGORITHMS for kind in ("manifest", "tagmanifest")}
        for name in sorted(expected - there):
            yield Fault(Harm.MISSING, name, f"{name} is missing.")
        if manifests:
            listed = {path for manifest in manifests for path in manifest.digests()}
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
                if not (self._folder / path).is_symlink():
                    yield Fault(Harm.UNREADABLE, path, f"{_shown(path)} cannot be read.")
            elif any(m.digests().get(path, sums[m.algorithm]) != sums[m.algorithm] for m in manifests):
                yield Fault(Harm.CHANGED, path, f"{_shown(path)} was changed: its checksum does not agree.")

    def _read(self, path: str) -> dict[str, str] | None:
        if path not in self._sums:
            place = self._folder / path
            if place.is_symlink() or not place.is_file():
                return None
            try:
                self._sums[path] = bag.digests(place)
            except OSError:
                return None
        return self._sums[path]


def _about(folder: Path, present: frozenset[str]) -> tuple[int, bool]:
    """Number and whether signed, as the edition's own manifest says; (0, False) where it says nothing usable."""
    name = f"{bag.PAYLOAD}/edition.json"
    if name not in present or (folder / name).is_symlink():
        return 0, False
    try:
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
