"""The files that a plan is made of: found by id or path, read once each, and never outside the plans' own folders."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path, PurePosixPath

from .fields import Shape
from .nodes import Pairs, Scalar, read_nodes
from .plan_fields import PLAN_FILE, SHARED_FILE
from .problems import did_you_mean, quoted
from .reading import Reading, Row, Spot

_PLAN_ID = re.compile(r"[A-Za-z0-9]+([-_.][A-Za-z0-9]+)*\Z")


@dataclass(slots=True)
class Sheets:
    """Plan files and shared files of one reading. `shelf` is a folder of plans that stand behind every folder's own."""

    reading: Reading
    shelf: Path | None = None
    _read: dict[tuple[Path, str], Row | None] = field(default_factory=dict)

    def plan(self, path: Path) -> Row | None:
        """The file's keys as they stand, or None where it is no plan; its head and shots are not looked into yet."""
        return self._row(path, PLAN_FILE)

    def shared(self, path: Path) -> Row | None:
        """The shared file's keys as they stand, or None where it is none."""
        return self._row(path, SHARED_FILE)

    def plan_called(self, name: Scalar, beside: Path, word: str) -> Path | None:
        """The file of the plan with that id, beside the file `beside` or on the shelf; never that file itself."""
        if not _PLAN_ID.match(name.text):
            words = f"{quoted(name.text)} is no plan's id"
            self.reading.problems.add(name.mark, word, words, "name a plan by its id, without folder and ending")
            return None
        for folder in self._folders(beside):
            path = folder / f"{name.text}.yaml"
            if path.is_file() and path.resolve() != beside.resolve():
                return path
        known = {path.stem for folder in self._folders(beside) for path in folder.glob("*.yaml")} - {beside.stem}
        remedy = did_you_mean(name.text, sorted(known)) or f"put {name.text}.yaml beside this file"
        self.reading.problems.add(name.mark, word, f"there is no plan {quoted(name.text)}", remedy)
        return None

    def shared_called(self, name: Scalar, plan: Path, word: str) -> Path | None:
        """The shared file of that name, counted from the folder of `plan` or from the shelf; never outside of them."""
        way = PurePosixPath(name.text)
        if not name.text or way.is_absolute() or ".." in way.parts or re.search(r"[\\:\x00]", name.text):
            self._outside(name, word)
            return None
        for folder in self._folders(plan):
            path = folder / way
            if path.is_file():
                if path.resolve().is_relative_to(folder.resolve()):
                    return path
                self._outside(name, word)
                return None
        words = f"there is no file {quoted(name.text)} in the plan's folder"
        self.reading.problems.add(name.mark, word, words, "name it from the plan's folder, as in shared/papers.yaml")
        return None

    def _outside(self, name: Scalar, word: str) -> None:
        words = f"{quoted(name.text)} leads out of the plan's folder"
        self.reading.problems.add(name.mark, word, words, "put the file into the folder and name it from there")

    def _folders(self, plan: Path) -> Iterator[Path]:
        yield plan.parent
        if self.shelf is not None and self.shelf.resolve() != plan.parent.resolve():
            yield self.shelf

    def _row(self, path: Path, shape: Shape) -> Row | None:
        key = (path.resolve(), shape.name)
        if key not in self._read:
            node = read_nodes(path, self.reading.problems)
            self._read[key] = shape.read(node, Spot(self.reading, "")) if node is not None else None
        return self._read[key]


def scalar_of(pairs: Pairs, key: str) -> Scalar | None:
    """The single value of that key, or None."""
    node = pairs.get(key)
    return node if isinstance(node, Scalar) and node.text else None


def id_of(pairs: Pairs) -> str:
    """The id of a shot as written, or ''."""
    found = scalar_of(pairs, "id")
    return found.text if found else ""


def merged(under: Pairs, over: Pairs, *, without: tuple[str, ...] = ()) -> Pairs:
    """The keys of `over`, and those of `under` that it does not give; every key keeps the place it was written at."""
    own = [(key, node) for key, node in over.pairs if key.text not in without]
    given = {key.text for key, _ in own}
    return Pairs(over.mark, [*own, *((key, node) for key, node in under.pairs if key.text not in given)])
