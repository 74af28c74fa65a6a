"""Edits laid into the text of a plan file, so that only the lines differ that must: comments and order stay.

A shot that the file itself writes is changed where it stands. One that comes with the base is changed under `change`
and taken out under `drop`; a new one of a plan with a base goes under `add`. After every edit the text is read again
and must mean what was asked and nothing else; where it does not, the edit is refused and nothing is lost.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from copy import deepcopy
from dataclasses import dataclass
from typing import Any, Final

from ruamel.yaml.nodes import MappingNode, Node, SequenceNode

from ..domain.errors import Mistake
from ..domain.plan_edits import AddShot, ChangeShot, PlanEdit, RemoveShot, gathered
from .plan_fields import PLAN_FILE, SHOT
from .text_spans import Spans, Splice, compose, get, plain, spliced, written

ORDER: Final = ("id", "use", "include", "after", *(key for key in SHOT.fields if key != "id"))
"""The order of a shot's keys."""

_SECTIONS: Final = tuple(PLAN_FILE.fields)
_OWN: Final = ("shots", "add")


def edit_plan(text: str, edits: Iterable[PlanEdit]) -> str:
    """The text with the edits in it.

    Raises:
        Mistake: the shot stands in a shared file, or the text is written in a way that this cannot edit.
    """
    for edit in gathered(edits):
        text = _edited(text, edit)
    return text


def rename_plan(text: str, *, plan_id: str, title: str) -> str:
    """The text of a copy under another id and title; all else stays.

    Raises:
        Mistake: the text is no plan.
    """
    head = get(compose(text), "plan")
    if not isinstance(head, MappingNode):
        raise Mistake("The file is no plan.", next_step="Choose another one to copy.")
    keys = ("id", "title")
    spans = Spans(text)
    splices = [
        one for key, new in zip(keys, (plan_id, title), strict=True) for one in spans.set_key(head, key, new, keys)
    ]
    return spliced(text, splices)


def own_shots(text: str) -> frozenset[str]:
    """The ids of the shots that the text itself writes or takes over by `use`."""
    root = compose(text)
    return frozenset(_name(entry) for section in _OWN for entry in _entries(root, section))


def _edited(text: str, edit: PlanEdit) -> str:
    page = _Page(Spans(text), compose(text))
    splices = page.splices(edit)
    new = spliced(text, splices)
    if plain(compose(new)) != _meant(plain(page.root), page, edit):
        raise Mistake(
            f"The shot {edit.shot!r} is written in a way that cannot be changed here.",
            effect="The file stays as it is.",
            next_step="Change it in a text editor.",
        )
    return new


@dataclass(frozen=True, slots=True)
class _Page:
    spans: Spans
    root: MappingNode

    @property
    def derived(self) -> bool:
        """Whether differences may stand in this file."""
        head = get(self.root, "plan")
        base = isinstance(head, MappingNode) and get(head, "base") is not None
        return base and (get(self.root, "shots") is None or get(self.root, "select") is not None)

    def own(self, shot: str) -> tuple[str, MappingNode] | None:
        """The section and the entry in which this file writes a shot."""
        for section in _OWN:
            for entry in _entries(self.root, section):
                if _name(entry) == shot:
                    return section, entry
        return None

    def change_of(self, shot: str) -> MappingNode | None:
        return next((one for one in _entries(self.root, "change") if _name(one) == shot), None)

    def splices(self, edit: PlanEdit) -> list[Splice]:
        if isinstance(edit, AddShot):
            return self._add(edit)
        own = self.own(edit.shot)
        if own is None and not self.derived:
            self._not_here(edit.shot)
        if isinstance(edit, RemoveShot):
            return self._remove(edit, own)
        entry = own[1] if own else self.change_of(edit.shot)
        if entry is not None:
            return self.spans.set_key(entry, edit.key, edit.value, ORDER)
        if edit.value is None:
            raise Mistake(
                f"{edit.key!r} comes with the base and cannot be taken out here.",
                next_step="Give it another value, or take the shot out and add one of your own.",
            )
        return self._append("change", {"id": edit.shot, edit.key: edit.value})

    def _add(self, edit: AddShot) -> list[Splice]:
        if self.derived:
            return self._append("add", {"id": edit.values["id"], "after": edit.after, **edit.values})
        entry = self.own(edit.after)
        if entry is None:
            self._not_here(edit.after)
        section = get(self.root, "shots")
        assert entry is not None
        assert isinstance(section, SequenceNode)
        return [self.spans.after_line(self.spans.end(entry[1]), self._lines(section, dict(edit.values)))]

    def _remove(self, edit: RemoveShot, own: tuple[str, MappingNode] | None) -> list[Splice]:
        if own is not None:
            return [self._without_entry(*own)]
        changed = self.change_of(edit.shot)
        splices = [self._without_entry("change", changed)] if changed is not None else []
        drop = get(self.root, "drop")
        if isinstance(drop, SequenceNode):
            return [*splices, *self.spans.rewrite(drop, [*plain(drop), edit.shot], flow=False)]
        at = self._section_end("drop")
        return [*splices, self.spans.after_line(at, [f"drop: [{written(edit.shot, flow=True)}]"])]

    def _append(self, section: str, values: Mapping[str, Any]) -> list[Splice]:
        node = get(self.root, section)
        lines = self._lines(node, values)
        if isinstance(node, SequenceNode):
            return [self.spans.after_line(self.spans.end(node), lines)]
        return [self.spans.after_line(self._section_end(section), [f"{section}:", *lines])]

    def _lines(self, section: Node | None, values: Mapping[str, Any]) -> list[str]:
        """An entry of the section, indented as the others are."""
        dash = 2
        if isinstance(section, SequenceNode) and section.value:
            if section.flow_style:
                raise Mistake("The list stands in brackets on one line.", next_step="Write it with '- ' lines first.")
            first = section.value[0].start_mark.index
            dash = len(self.spans.text[self.spans.line_start(first) : first].rstrip(" -"))
            dash = self.spans.text[self.spans.line_start(first) : first].index("-") if dash == 0 else dash
        inner = " " * (dash + 2)
        keys = sorted(values, key=lambda key: ORDER.index(key) if key in ORDER else len(ORDER))
        lines = [f"{key}: {written(values[key], flow=False, quoted=key in _LONG)}" for key in keys]
        return [f"{' ' * dash}- {lines[0]}", *(inner + line for line in lines[1:])]

    def _section_end(self, section: str) -> int:
        """Behind which character a new section goes: that of the last section that stands before it."""
        before = _SECTIONS[: _SECTIONS.index(section)]
        return max(self.spans.end(value) for name, value in self.root.value if name.value in before)

    def _without_entry(self, section: str, entry: MappingNode) -> Splice:
        node = get(self.root, section)
        if isinstance(node, SequenceNode) and len(node.value) == 1:
            name = next(key for key, _ in self.root.value if key.value == section)
            return self.spans.without_lines(name.start_mark.index, self.spans.end(node))
        return self.spans.without_lines(entry.start_mark.index, self.spans.end(entry))

    def _not_here(self, shot: str) -> None:
        raise Mistake(
            f"The shot {shot!r} does not stand in this file: it comes from a file that several plans share.",
            effect="A change there would be a change of every plan that shares it.",
            next_step="Change it in the shared file, or write the shot out in this plan.",
        )


_LONG = frozenset({"when", "frame", "light"})


def _entries(root: MappingNode, section: str) -> list[MappingNode]:
    node = get(root, section)
    return [one for one in node.value if isinstance(one, MappingNode)] if isinstance(node, SequenceNode) else []


def _name(entry: MappingNode) -> str:
    found = get(entry, "id") or get(entry, "use")
    return str(found.value) if found is not None else ""


def _meant(data: dict[str, Any], page: _Page, edit: PlanEdit) -> dict[str, Any]:
    """What the file should say after the edit."""
    data = deepcopy(data)
    if isinstance(edit, AddShot):
        _put(data, edit, derived=page.derived)
        return data
    own = page.own(edit.shot)
    section = own[0] if own else "change"
    entries = data.get(section) or []
    found = next((one for one in entries if (one.get("id") or one.get("use")) == edit.shot), None)
    if isinstance(edit, ChangeShot):
        if found is None:
            data.setdefault("change", []).append(found := {"id": edit.shot})
        found.pop(edit.key, None) if edit.value is None else found.update({edit.key: _value(edit.value)})
        return data
    if found is not None:
        entries.remove(found)
        if not entries:
            del data[section]
    if own is None:
        data["drop"] = [*(data.get("drop") or []), edit.shot]
    return data


def _put(data: dict[str, Any], edit: AddShot, *, derived: bool) -> None:
    values = {key: _value(value) for key, value in edit.values.items()}
    if derived:
        data.setdefault("add", []).append({**values, "after": edit.after})
        return
    shots = data["shots"]
    place = next(at for at, one in enumerate(shots, start=1) if (one.get("id") or one.get("use")) == edit.after)
    shots.insert(place, values)


def _value(value: Any) -> Any:
    """A value as a file gives it back: words with single spaces, lists as lists."""
    if isinstance(value, str):
        return " ".join(value.split())
    if isinstance(value, (list, tuple)):
        return [_value(one) for one in value]
    if isinstance(value, dict):
        return {key: _value(one) for key, one in value.items()}
    return value
