"""A plan file of the house: its text with the state of the disk, tried, then saved only over what was read.

Text is kept to the byte: line ends, a missing last line end and a byte order mark stay as the file has them.
"""

from __future__ import annotations

import hashlib
import os
import shutil
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Final

from ..domain.errors import Mistake, NoRights, NotFound, PlanBroken
from ..domain.plan import Plan
from ..domain.plan_edits import ShotSheet
from .check import check_plan
from .composing import compose
from .editing import own_shots
from .nodes import LARGEST_BYTES, Pairs, plain
from .plan import load_plan, vocabulary_for
from .problems import Grade, Problem
from .reading import Reading
from .sheets import id_of

_KINDS: Final = frozenset({".yaml", ".lock"})
_DEEPEST: Final = 3


@dataclass(frozen=True, slots=True)
class PlanText:
    """The text of a plan file, and the SHA-256 of the file that it was read from ("" for none yet)."""

    path: Path
    text: str
    digest: str = ""


@dataclass(frozen=True, slots=True)
class Tried:
    """What a text would be as a plan: its shots as written, what is wrong with it, and the plan where nothing is."""

    shots: tuple[ShotSheet, ...]
    problems: tuple[Problem, ...]
    plan: Plan | None

    @property
    def errors(self) -> tuple[Problem, ...]:
        """What keeps it from being used."""
        return tuple(one for one in self.problems if one.severity is Grade.ERROR)


def read_text(path: Path) -> PlanText:
    """The file's text.

    Raises:
        NotFound: it is gone. NoRights: it may not be read. PlanBroken: it is not UTF-8.
    """
    try:
        raw = path.read_bytes()
        return PlanText(path, raw.decode("utf-8"), hashlib.sha256(raw).hexdigest())
    except FileNotFoundError as error:
        raise NotFound(f"{path.name} is no longer there.", next_step="Look at the list of plans again.") from error
    except UnicodeDecodeError as error:
        raise PlanBroken(f"{path.name} is not UTF-8.", next_step="Save it as UTF-8 in a text editor.") from error
    except OSError as error:
        raise NoRights(f"{path.name} cannot be read: {error.strerror}.") from error


def save_text(page: PlanText, *, anew: bool = False) -> PlanText:
    """Write the text where it was read from, whole or not at all; answers with the new state of the disk.

    Args:
        anew: the file is new; what stands there is not written over.

    Raises:
        Mistake: the file was changed or taken away meanwhile, or `anew` and there is one. NoRights: not written.
    """
    if anew and page.path.exists():
        raise Mistake(f"There is a file {page.path.name} already.", next_step="Choose another id.")
    if not anew and (not page.path.is_file() or read_text(page.path).digest != page.digest):
        raise Mistake(
            f"{page.path.name} was changed on disk since you opened it.",
            effect="Nothing was saved, and what was changed there is still there.",
            next_step="Close the form, open the plan again and make your changes anew.",
        )
    raw = page.text.encode()
    beside = page.path.with_name(page.path.name + ".new")
    try:
        page.path.parent.mkdir(parents=True, exist_ok=True)
        with beside.open("wb") as out:
            out.write(raw)
            out.flush()
            os.fsync(out.fileno())
        beside.replace(page.path)
    except OSError as error:
        beside.unlink(missing_ok=True)
        raise NoRights(f"{page.path.name} cannot be written: {error.strerror}.") from error
    return PlanText(page.path, page.text, hashlib.sha256(raw).hexdigest())


def try_text(page: PlanText, shelf: Path) -> Tried:
    """Read and check the text as if it stood in its place, among the files beside it; nothing on disk changes."""
    with TemporaryDirectory(prefix="lapseam-plan-") as made:
        folder = Path(made) / "plans"
        folder.mkdir()
        _copy(page.path.parent, folder, _DEEPEST)
        path = folder / page.path.name
        path.write_bytes(page.text.encode())
        vocabulary = vocabulary_for(path, shelf / "vocabulary")
        problems = check_plan(path, vocabulary, shelf)
        wrong = any(one.severity is Grade.ERROR for one in problems)
        return Tried(_shots(path, page.text, shelf), problems, None if wrong else load_plan(path, vocabulary, shelf))


def _shots(path: Path, text: str, shelf: Path) -> tuple[ShotSheet, ...]:
    made = compose(path, Reading(), shelf)
    if made is None:
        return ()
    try:
        own = own_shots(text)
    except Mistake:
        return ()
    found = []
    for shot in made.shots:
        here = id_of(shot) in own or id_of(shot) in made.base_ids
        found.append(ShotSheet(plain(shot), "" if here else _written_in(shot) or path.name))
    return tuple(found)


def _written_in(shot: Pairs) -> str:
    name = shot.get("id")
    return name.mark.file if name is not None else ""


def _copy(source: Path, target: Path, deep: int) -> None:
    """Copy what a plan may be made of; other files of the folder are none of its business."""
    for path in sorted(source.iterdir()) if source.is_dir() else ():
        if path.is_dir() and deep > 1 and not path.is_symlink():
            (target / path.name).mkdir()
            _copy(path, target / path.name, deep - 1)
        elif path.suffix in _KINDS and path.is_file() and path.stat().st_size <= LARGEST_BYTES:
            shutil.copyfile(path, target / path.name)
