"""Which plans there are: the plan files of some folders, told from other YAML by their head, without a full reading."""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path

_HEAD_LINES = 60
_HEAD = re.compile(r"^plan:\s*(#.*)?$", re.MULTILINE)
_SHOTS = re.compile(r"^shots:\s*(#.*)?$", re.MULTILINE)
_ENTRY = re.compile(r"^( *)- ", re.MULTILINE)


@dataclass(frozen=True, slots=True)
class PlanFile:
    """A plan as a list of plans shows it. `shots` is how many entries the file has, good or bad."""

    id: str
    title: str
    path: Path
    shots: int


def find_plans(*folders: Path) -> tuple[PlanFile, ...]:
    """The plan files directly in those folders, in the order of folders and names; the first of equal ids stands.

    Cheap: it looks at the text only. A file that is listed here may still be broken; `check_plan` says so.
    """
    found: dict[str, PlanFile] = {}
    for folder in folders:
        for path in sorted(folder.glob("*.yaml")) if folder.is_dir() else ():
            plan = _glance(path)
            if plan is not None:
                found.setdefault(plan.id, plan)
    return tuple(found.values())


def _glance(path: Path) -> PlanFile | None:
    try:
        text = path.read_text(encoding="utf-8-sig")
    except (OSError, UnicodeDecodeError):
        return None
    head, shots = _HEAD.search(text), _SHOTS.search(text)
    if head is None or shots is None:
        return None
    lines = "\n".join(text[head.end() : shots.start()].splitlines()[:_HEAD_LINES])
    return PlanFile(
        id=_value(lines, "id") or path.stem,
        title=_value(lines, "title") or path.stem,
        path=path,
        shots=_entries(text[shots.end() :]),
    )


def _value(lines: str, key: str) -> str:
    found = re.search(rf"^ +{key}:\s*(?:\"([^\"]*)\"|'([^']*)'|([^#\n]*))", lines, re.MULTILINE)
    return next((group.strip() for group in found.groups() if group), "") if found else ""


def _entries(text: str) -> int:
    indents = [len(found.group(1)) for found in _ENTRY.finditer(text)]
    return indents.count(min(indents)) if indents else 0
