"""Changes of a plan file as a person makes them in a form: a shot changed, added or taken out.

The keys and values are those of the file (`title`, `must`, `count` …), so that an edit says in a file what it says in a
form. An edit knows nothing of lines; `plans.editing` lays it into a text.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Any


@dataclass(frozen=True, slots=True)
class ChangeShot:
    """Give a shot another value of one key; None takes the key out."""

    shot: str
    key: str
    value: Any


@dataclass(frozen=True, slots=True)
class AddShot:
    """Put a new shot behind another. `values` has its `id` and all that a shot needs, but not `after`."""

    after: str
    values: Mapping[str, Any]

    @property
    def shot(self) -> str:
        """The id of the new shot."""
        return str(self.values["id"])


@dataclass(frozen=True, slots=True)
class RemoveShot:
    """Take a shot out; one that comes from the base is dropped."""

    shot: str


PlanEdit = ChangeShot | AddShot | RemoveShot


@dataclass(frozen=True, slots=True)
class ShotSheet:
    """A shot as its file says it, also one that does not load.

    Attributes:
        values: the keys as plain values, those of its base under its own.
        shared: the file that several plans include it from, "" where the plan itself or its base has it.
    """

    values: Mapping[str, Any]
    shared: str = ""

    @property
    def id(self) -> str:
        """The shot's id as written, "" where it has none."""
        return str(self.values.get("id") or "")


def edited(shots: Iterable[ShotSheet], edits: Iterable[PlanEdit]) -> tuple[ShotSheet, ...]:
    """The shots as they stand after the edits; an edit of a shot that is not there changes nothing."""
    standing = list(shots)
    for edit in edits:
        if isinstance(edit, ChangeShot):
            standing = [_changed(shot, edit) if shot.id == edit.shot else shot for shot in standing]
        elif isinstance(edit, RemoveShot):
            standing = [shot for shot in standing if shot.id != edit.shot]
        else:
            place = next((at for at, shot in enumerate(standing, start=1) if shot.id == edit.after), len(standing))
            standing.insert(place, ShotSheet(dict(edit.values)))
    return tuple(standing)


def gathered(edits: Iterable[PlanEdit]) -> tuple[PlanEdit, ...]:
    """The same change in fewer edits.

    Of several changes of one key the last counts, a new shot takes its changes up, and a new shot that is taken out
    again leaves nothing behind.
    """
    kept: list[PlanEdit] = []
    for edit in edits:
        if isinstance(edit, ChangeShot):
            kept = _with_change(kept, edit)
        elif isinstance(edit, RemoveShot):
            new = any(isinstance(one, AddShot) and one.shot == edit.shot for one in kept)
            follows = any(isinstance(one, AddShot) and one.after == edit.shot for one in kept)
            if not (new and follows):
                kept = [one for one in kept if one.shot != edit.shot]
            if not new or follows:
                kept.append(edit)
        else:
            kept.append(edit)
    return tuple(kept)


def _with_change(kept: list[PlanEdit], edit: ChangeShot) -> list[PlanEdit]:
    for at, one in enumerate(kept):
        if isinstance(one, AddShot) and one.shot == edit.shot:
            values = {key: value for key, value in one.values.items() if key != edit.key}
            if edit.value is not None:
                values[edit.key] = edit.value
            return [*kept[:at], replace(one, values=values), *kept[at + 1 :]]
    rest = [one for one in kept if not (isinstance(one, ChangeShot) and (one.shot, one.key) == (edit.shot, edit.key))]
    return [*rest, edit]


def _changed(shot: ShotSheet, edit: ChangeShot) -> ShotSheet:
    values = {key: value for key, value in shot.values.items() if key != edit.key}
    if edit.value is not None:
        values[edit.key] = edit.value
    return replace(shot, values=values)
