"""Which plans there are: the plan files of some folders, told from other YAML by their head, without a full reading."""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path

_HEAD_LINES = 60
_HEAD = re.compile(r"^plan:\s*(#.*)?$", re.MULTILINE)
_SHOTS = re.compile(r"^shots:\s*(#.*)?$", re.MULTILINE)
_NEXT_KEY = re.compile(r"^[^\s#-]", re.MULTILINE)


@dataclass(frozen=True, slots=True)
class PlanFile:
    """A plan as a list of plans shows it. `base` is the id of the plan it is made from, or ""."""

    id: str
    title: str
    path: Path
    base: str = ""


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
    head = _HEAD.search(text)
    if head is None:
        return None
    following = _NEXT_KEY.search(text, head.end())
    lines = "\n".join(text[head.end() : following.start() if following else None].splitlines()[:_HEAD_LINES])
    base = _value(lines, "base")
    if not base and _SHOTS.search(text) is None:
        return None
    return PlanFile(_value(lines, "id") or path.stem, _value(lines, "title") or path.stem, path, base)


def _value(lines: str, key: str) -> str:
    found = re.search(rf"^ +{key}:\s*(?:\"([^\"]*)\"|'([^']*)'|([^#\n]*))", lines, re.MULTILINE)
    return next((group.strip() for group in found.groups() if group), "") if found else ""
