"""A house plan in a form, as a value: the shots as the file has them, the edits so far, undo and redo. No Qt here."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any, Final

from lapseam.domain.plan_edits import AddShot, ChangeShot, PlanEdit, RemoveShot, ShotSheet, edited, gathered
from lapseam.workflow.shelving import Tried

from ...words import _, _n

_ID: Final = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")

Edits = tuple[PlanEdit, ...]


@dataclass(frozen=True, slots=True)
class Draft:
    """What the form holds. `past` and `future` are the edits at each step before and after this one.

    `typing` is the shot and key that is being typed in: more letters there are the same step.
    """

    base: tuple[ShotSheet, ...]
    edits: Edits = ()
    past: tuple[Edits, ...] = ()
    future: tuple[Edits, ...] = ()
    typing: tuple[str, str] = ("", "")

    @property
    def shots(self) -> tuple[ShotSheet, ...]:
        """The shots as the form shows them."""
        return edited(self.base, self.edits)

    @property
    def changed(self) -> bool:
        """Whether there is anything to save."""
        return bool(self.edits)

    def shot(self, shot: str) -> ShotSheet | None:
        """The shot of that id, or None."""
        return next((one for one in self.shots if one.id == shot), None)

    def is_new(self, shot: str) -> bool:
        """Whether the shot was added in this form and not saved yet."""
        return any(isinstance(one, AddShot) and one.shot == shot for one in self.edits)

    def change(self, shot: str, key: str, value: Any) -> Draft:
        """Give a shot another value of one key; None takes it out. The value that it has already is no step."""
        sheet = self.shot(shot)
        if sheet is None or sheet.shared or sheet.values.get(key) == value:
            return self
        edits = gathered((*self.edits, ChangeShot(shot, key, value)))
        original = next((one for one in self.base if one.id == shot), None)
        if original is not None and original.values.get(key) == value and not self.is_new(shot):
            edits = tuple(e for e in edits if not (isinstance(e, ChangeShot) and (e.shot, e.key) == (shot, key)))
        if self.typing == (shot, key):
            return replace(self, edits=edits, future=())
        return replace(self._step(edits), typing=(shot, key))

    def pause(self) -> Draft:
        """What is typed next is another step."""
        return replace(self, typing=("", ""))

    def add(self, after: str) -> tuple[Draft, str]:
        """Put a new shot behind another, like it in all but id and title; answers with its id too."""
        like = self.shot(after)
        if like is None or like.shared:
            return self, ""
        name = _free_id(f"{after}-new", [one.id for one in self.shots])
        values = {**like.values, "id": name, "title": _("New shot")}
        return self._step((*self.edits, AddShot(after, values))), name

    def remove(self, shot: str) -> Draft:
        """Take a shot out."""
        sheet = self.shot(shot)
        if sheet is None or sheet.shared:
            return self
        return self._step(gathered((*self.edits, RemoveShot(shot))))

    def rename(self, shot: str, new: str) -> Draft:
        """Give a new shot another id; nothing happens where it is not new, or the id is none or taken."""
        if not self.is_new(shot) or self.id_trouble(shot, new) or shot == new:
            return self
        edits = tuple(_renamed(one, shot, new) for one in self.edits)
        return self._step(edits)

    def id_trouble(self, shot: str, new: str) -> str:
        """Why a shot cannot be called so, "" where it can."""
        if not _ID.fullmatch(new):
            return _("An id has small letters, figures and hyphens, such as front-plate-close.")
        if new != shot and any(one.id == new for one in self.shots):
            return _("Another shot has this id.")
        return ""

    def undo(self) -> Draft:
        """One step back."""
        if not self.past:
            return self
        future = (self.edits, *self.future)
        return replace(self, edits=self.past[-1], past=self.past[:-1], future=future, typing=("", ""))

    def redo(self) -> Draft:
        """One step forward again."""
        if not self.future:
            return self
        past = (*self.past, self.edits)
        return replace(self, edits=self.future[0], past=past, future=self.future[1:], typing=("", ""))

    def _step(self, edits: Edits) -> Draft:
        return Draft(self.base, edits, (*self.past, self.edits))


def _renamed(edit: PlanEdit, shot: str, new: str) -> PlanEdit:
    if isinstance(edit, AddShot):
        values = {**edit.values, "id": new} if edit.shot == shot else edit.values
        return AddShot(new if edit.after == shot else edit.after, values)
    return replace(edit, shot=new) if edit.shot == shot else edit


def _free_id(wanted: str, taken: Sequence[str]) -> str:
    name, number = wanted, 2
    while name in taken:
        name, number = f"{wanted}-{number}", number + 1
    return name


FIELDS: Final = ("title", "frame", "light", "must", "count", "need", "when", "lens", "comps", "caution")
"""What the form asks of a shot, by the keys of the file; `lens` stands in `cam`."""


def shown(shot: ShotSheet, key: str) -> str:
    """The words in a field of the form."""
    value = (shot.values.get("cam") or {}).get("lens") if key == "lens" else shot.values.get(key)
    if value is None:
        return ""
    if isinstance(value, list):
        return {"must": "\n", "lens": "–"}.get(key, ", ").join(str(one) for one in value)
    return str(value)


def said(shot: ShotSheet, key: str, words: str) -> tuple[str, Any]:
    """What a field's words mean: the file's key and its value; words that do not fit stay as typed, for the check."""
    words = words.strip()
    if key == "lens":
        return "cam", {**(shot.values.get("cam") or {}), "lens": _lens(words)}
    if key == "must":
        return key, [line.strip() for line in words.splitlines() if line.strip()]
    if key in ("comps", "caution"):
        return key, [part.strip() for part in words.split(",") if part.strip()]
    if key == "count":
        return key, int(words) if words.isdecimal() else words
    if key == "when":
        return key, words or None
    return key, words


def _lens(words: str) -> Any:
    parts = [part for part in re.split(r"[\s–,-]+", words.removesuffix("mm").strip()) if part]
    return [int(part) for part in parts] if parts and all(part.isdecimal() for part in parts) else words


@dataclass(frozen=True, slots=True)
class Verdict:
    """How the text as it would be saved was judged: a headline, lines, the keys of a shot that are wrong."""

    headline: str
    lines: tuple[str, ...]
    wrong: bool
    fields: tuple[tuple[str, str], ...] = ()


def verdict(tried: Tried | None, shot: str = "") -> Verdict:
    """The check in words; None while it is under way."""
    if tried is None:
        return Verdict(_("Checking …"), (), wrong=True)
    errors = len(tried.errors)
    warnings = len(tried.problems) - errors
    parts = []
    if errors:
        parts.append(_n("{n} error keeps it from being saved", "{n} errors keep it from being saved", errors))
    if warnings:
        parts.append(_n("{n} thing worth a look", "{n} things worth a look", warnings))
    lines = tuple(_line(one.word, one.words, one.remedy) for one in tried.problems)
    mine = _at_fields(tried, shot)
    return Verdict(" · ".join(parts) or _("Nothing wrong"), lines, bool(errors), mine)


def _at_fields(tried: Tried, shot: str) -> tuple[tuple[str, str], ...]:
    """What is wrong with the keys of one shot."""
    ways = [(one.word.split("."), one.words) for one in tried.problems]
    return tuple((way[2], words) for way, words in ways if len(way) > 2 and way[1] == shot)


def _line(word: str, words: str, remedy: str) -> str:
    place = " · ".join(word.split(".")[1:])
    said = words[:1].upper() + words[1:]
    return " – ".join(part for part in (place, said, remedy) if part)
