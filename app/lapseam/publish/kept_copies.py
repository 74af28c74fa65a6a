"""Copies of what outlets showed: a BagIt bag for each posting, built beside, flushed, then renamed into its place.

A bag holds the pictures as they went out, their captions, the texts, the list of it all (`posting.json`) and pages that
a person saved from the outlet. `verify` checks it like an edition; nobody ever writes into it again.
"""

from __future__ import annotations

import hashlib
import json
import os
import re
import shutil
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from lapseam.domain.errors import Cancelled, Mistake, NotFound

from . import bag, files
from .manifest import json_bytes

PHOTOS: Final = "photos"
SAVED: Final = "saved"
POSTING: Final = "posting.json"
FORMAT: Final = "lapseam-posting"
VERSION: Final = 1
MOST_SAVED_BYTES: Final = 200_000_000
"""Of one page saved from an outlet; more is a film of it, which belongs elsewhere."""

_BEGUN: Final = re.compile(r"\.making-[\w-]+\Z")
_UNSAFE: Final = re.compile(r"[^A-Za-z0-9._-]+")


@dataclass(frozen=True, slots=True)
class KeptCopy:
    """A copy in its place: its folder below the car's, the digest that stands for every byte, names of saved pages."""

    folder: Path
    bag_sha256: str
    saved: tuple[str, ...]


def outlet_folder(outlet: str) -> str:
    """A folder's name for an outlet, the same on every system."""
    plain = re.sub(r"[^a-z0-9]+", "-", outlet.casefold()).strip("-")[:40].strip("-")
    digest = hashlib.sha256(outlet.casefold().encode("utf-8", "replace")).hexdigest()[:8]
    return plain if plain and plain == outlet.casefold().replace(" ", "-") else f"{plain or 'outlet'}-{digest}"


def keep_copy(
    target: Path,
    *,
    made: Path,
    photos: Sequence[str],
    posting: Mapping[str, Any],
    saved: Sequence[Path] = (),
    info: Sequence[tuple[str, str]] = (),
    stop: Callable[[], bool] = lambda: False,
) -> KeptCopy:
    """Keep a copy of an outlet's folder as a bag in `target`.

    Args:
        target: must not be there yet.
        made: the outlet's folder; everything in it that is no picture is kept, and of its pictures `photos`.
        posting: what is known of the showing, for `posting.json`.
        saved: pages as they stood at the outlet (a picture, a PDF, a saved page).
        info: further lines for the bag's own information.

    Raises:
        NotFound: a page to keep is not there. Mistake: one is too large, or `target` is in use. Cancelled: `stop` said
        so. DiskFull, NoRights: nothing was kept.
    """
    _look(target, saved)
    files.folder(target.parent)
    begun = target.parent / f".making-{target.name}-{os.getpid()}"
    payload = begun / bag.PAYLOAD
    with files.refusals_in_words(target):
        try:
            shutil.rmtree(begun, ignore_errors=True)
            (payload / PHOTOS).mkdir(parents=True)
            for path in sorted(made.iterdir()):
                if stop():
                    raise Cancelled
                picture = path.suffix == ".jpg"
                if path.is_file() and not path.is_symlink() and (path.name in photos or not picture):
                    shutil.copyfile(path, (payload / PHOTOS if picture else payload) / path.name)
            names = _lay_saved(payload / SAVED, saved)
            (payload / POSTING).write_bytes(json_bytes({"format": FORMAT, "version": VERSION, **posting}))
            digest = bag.write_bag(begun, tuple(info), {})
            if stop():
                raise Cancelled
            files.flush_tree(begun)
            begun.rename(target)
        finally:
            shutil.rmtree(begun, ignore_errors=True)
    files.flush_folder(target.parent)
    return KeptCopy(target, digest, names)


def read_posting(folder: Path) -> dict[str, Any]:
    """`posting.json` of a kept copy; {} where it cannot be read."""
    try:
        said = json.loads((folder / bag.PAYLOAD / POSTING).read_bytes())
    except (OSError, ValueError, RecursionError):
        return {}
    return said if isinstance(said, dict) and said.get("format") == FORMAT else {}


def sweep_copies(folder: Path) -> int:
    """Remove what a killed keeping left below a car's `outlets/`; call it when nothing is being kept."""
    begun = [path for path in folder.glob("*/.making-*") if _BEGUN.match(path.name)] if folder.is_dir() else []
    for path in begun:
        shutil.rmtree(path, ignore_errors=True)
    return len(begun)


def _look(target: Path, saved: Sequence[Path]) -> None:
    if target.exists():
        raise Mistake(f"{target} is there already.", effect="A kept copy is never written again.")
    for path in saved:
        if not path.is_file():
            raise NotFound(f"There is no file {path} to keep.", next_step="Name the page as you saved it.")
        if path.stat().st_size > MOST_SAVED_BYTES:
            raise Mistake(f"{path.name} is larger than {bag.size_words(MOST_SAVED_BYTES)}.", effect="Nothing was kept.")


def _lay_saved(folder: Path, saved: Sequence[Path]) -> tuple[str, ...]:
    """Copy saved pages under names that every system takes; none stands for another."""
    names: list[str] = []
    for place, path in enumerate(saved, 1):
        folder.mkdir(exist_ok=True)
        plain = _UNSAFE.sub("-", path.name).strip(".-")[-80:] or "page"
        name = f"{place:02d}-{plain}"
        shutil.copyfile(path, folder / name)
        names.append(name)
    return tuple(names)
