"""The shot ids of the last version of each plan, kept beside the plans, so that none changes its name or its meaning.

Photos, ticks and notes of a car name shots by their ids. A car has its own copy of its plan, but the next car's notes,
the outlets' lists and whoever compares two cars rely on an id meaning the same view in every version.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from ..domain.errors import PlanBroken
from .nodes import Items, Pairs, Scalar, read_nodes
from .plan import PlanRows, read_plan
from .problems import Mark, Problems, did_you_mean
from .reading import Reading, Row
from .vocabulary import raise_broken
from .writing import write_whole

KEPT_IDS = "shot-ids.lock"
"""The file beside the plans; YAML, though it is not a plan and not to be edited by hand."""

_HEAD = """# The shots of each plan and the components they show, as last kept by: lapseam plan-check FILE --keep-ids
# A shot that stands here keeps its id and goes on showing one of its components. Written by the program.
"""

Kept = dict[str, dict[str, tuple[str, ...]]]
"""Plan id → shot id → components."""


def look_at_ids(rows: PlanRows, plan_id: str, path: Path, reading: Reading) -> None:
    """Note every id of the last version that is gone, goes by another name or means something else now."""
    file = path.parent / KEPT_IDS
    if not file.is_file():
        return
    before = _read(file, reading.problems).get(plan_id, {})
    now = {row["id"]: row for row in _own(rows)}
    new = [shot for shot in now if shot not in before]
    for shot, parts in before.items():
        if shot not in now:
            _gone(rows, shot, parts, {name: now[name]["comps"] for name in new})
        elif parts and set(parts).isdisjoint(now[shot]["comps"]):
            words = f"in the last version {shot!r} showed {', '.join(parts)}, and now none of them"
            now[shot].wrong("id", words, "give the new view an id of its own and keep the old one for the old view")


def keep_ids(path: Path, vocabulary: Path | None = None, shelf: Path | None = None) -> Path:
    """Keep the ids of the plan as they are now, beside it; the ids of other plans stay. Answers with the file.

    Raises:
        PlanBroken: the plan does not load; nothing was written.
    """
    reading = Reading()
    rows = read_plan(path, vocabulary, reading, shelf)
    raise_broken(reading, path.name)
    file = path.parent / KEPT_IDS
    kept = _read(file, reading.problems) if file.is_file() else {}
    raise_broken(reading, file.name, PlanBroken, "Take the file away; it is written anew.")
    kept[rows.head["id"] if rows.head else path.stem] = {row["id"]: row["comps"] for row in _own(rows)}
    _write(file, kept)
    return file


def _own(rows: PlanRows) -> list[Row]:
    """The shots that the base does not have: its own version keeps those."""
    return [row for row in rows.shots if row["id"] not in rows.made.base_ids]


def _gone(rows: PlanRows, shot: str, parts: tuple[str, ...], new: Mapping[str, tuple[str, ...]]) -> None:
    head = rows.head
    if head is None:
        return
    same = [name for name, shown in new.items() if shown == parts]
    now = same[0] if len(same) == 1 else next((name for name in new if did_you_mean(shot, [name])), "")
    if now:
        words, remedy = f"the shot {shot!r} of the last version is called {now!r} now", f"call it {shot!r} again"
    else:
        words = f"the shot {shot!r} of the last version is gone"
        remedy = "give it back, or agree to the new ids with: lapseam plan-check FILE --keep-ids"
    head.wrong("id", words, remedy)


def _read(file: Path, problems: Problems) -> Kept:
    node = read_nodes(file, problems)
    kept: Kept = {}
    for plan, shots in node.pairs if isinstance(node, Pairs) else ():
        if not isinstance(shots, Pairs):
            problems.add(Mark(file.name, plan.mark.line), plan.text, "no list of shots", "take the file away")
            continue
        kept[plan.text] = {shot.text: _words(parts) for shot, parts in shots.pairs}
    return kept


def _words(node: object) -> tuple[str, ...]:
    return tuple(one.text for one in node.items if isinstance(one, Scalar)) if isinstance(node, Items) else ()


def _write(file: Path, kept: Kept) -> None:
    lines = [_HEAD]
    for plan in sorted(kept):
        lines.append(f"{plan}:{'' if kept[plan] else ' {}'}\n")
        lines.extend(f"  {shot}: [{', '.join(parts)}]\n" for shot, parts in kept[plan].items())
    write_whole(file, "".join(lines))
