"""The text of a YAML file as nodes that know where they begin and end, and the smallest changes of such a text.

Places count characters of the whole text. Nothing here knows what a plan is.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher
from typing import Any

from ruamel.yaml import YAML
from ruamel.yaml.error import YAMLError
from ruamel.yaml.nodes import MappingNode, Node, ScalarNode, SequenceNode

from ..domain.errors import Mistake
from .nodes import Scalar
from .problems import Mark

Splice = tuple[int, int, str]
"""From where, up to where, and what stands there instead."""

_PLAIN = re.compile(r"[A-Za-z][\w /.;'()+°–-]*[\w.)°]|[A-Za-z]")
_NOT_WORDS = re.compile(r"(true|false|null|yes|no|on|off|y|n)\Z", re.IGNORECASE)


def compose(text: str) -> MappingNode:
    """The mapping that the text is.

    Raises:
        Mistake: it is none.
    """
    try:
        node = YAML(typ="safe", pure=True).compose(text)
    except YAMLError as error:
        words = "The file is not YAML that can be edited here."
        raise Mistake(words, next_step="Mend it in a text editor first.", detail=str(error)) from error
    if not isinstance(node, MappingNode):
        raise Mistake("The file is no plan.", next_step="Mend it in a text editor first.")
    return node


def spliced(text: str, splices: Iterable[Splice]) -> str:
    """The text with all splices made; they must not overlap. Those at one place stand in the order given."""
    ordered = sorted(enumerate(splices), key=lambda one: (one[1][0], one[0]), reverse=True)
    for _order, (start, end, new) in ordered:
        text = text[:start] + new + text[end:]
    return text


def plain(node: Node) -> Any:
    """The node as a plain value, read as plans read it."""
    if isinstance(node, ScalarNode):
        return Scalar(Mark(""), node.value, node.style is None).value()
    if isinstance(node, SequenceNode):
        return [plain(item) for item in node.value]
    return {key.value: plain(value) for key, value in node.value}


def get(mapping: MappingNode, key: str) -> Node | None:
    """The value of that key, or None."""
    return next((value for name, value in mapping.value if name.value == key), None)


def written(value: Any, *, flow: bool, quoted: bool = False) -> str:
    """A value as one line of YAML; lists and mappings in flow style."""
    if isinstance(value, dict):
        return "{" + ", ".join(f"{key}: {written(one, flow=True)}" for key, one in value.items()) + "}"
    if isinstance(value, (list, tuple)):
        return "[" + ", ".join(written(one, flow=True) for one in value) + "]"
    if isinstance(value, str):
        words = " ".join(value.split())
        safe = (
            _PLAIN.fullmatch(words) and not _NOT_WORDS.match(words) and (not flow or not re.search(r"[,\[\]{}]", words))
        )
        return words if safe and not quoted else json.dumps(words, ensure_ascii=False)
    return json.dumps(value)


@dataclass(frozen=True, slots=True)
class Spans:
    """A text with its nodes' places."""

    text: str

    @property
    def newline(self) -> str:
        """How lines end here."""
        return "\r\n" if "\r\n" in self.text else "\n"

    def end(self, node: Node) -> int:
        """Where the node's last written character ends; comments and empty lines after it are not its own."""
        if isinstance(node, ScalarNode) or _in_brackets(node):
            start: int = node.start_mark.index
            return start + len(self.text[start : node.end_mark.index].rstrip())
        last = node.value[-1]
        return self.end(last[1] if isinstance(node, MappingNode) else last)

    def line_start(self, at: int) -> int:
        """Where the line begins in which `at` lies."""
        return self.text.rfind("\n", 0, at) + 1

    def line_end(self, at: int) -> int:
        """Where that line ends, before its line break."""
        found = self.text.find("\n", at)
        if found < 0:
            return len(self.text)
        return found - 1 if found > 0 and self.text[found - 1] == "\r" else found

    def column(self, at: int) -> int:
        """Characters before `at` in its line."""
        return at - self.line_start(at)

    def after_line(self, at: int, lines: Iterable[str]) -> Splice:
        """Put lines after the line in which `at` lies."""
        place = self.line_end(at)
        return place, place, "".join(self.newline + line for line in lines)

    def without_lines(self, start: int, end: int) -> Splice:
        """Take out the lines from that of `start` to that of `end`."""
        first, last = self.line_start(start), self.line_end(end)
        following = self.text.find("\n", last)
        if following >= 0:
            return first, following + 1, ""
        before = self.line_end(first - 1) if first else 0
        return before, len(self.text), ""

    def rewrite(self, node: Node, value: Any, *, flow: bool) -> list[Splice]:
        """Make the node say another value in as few characters as go with its style."""
        if plain(node) == _as_list(value):
            return []
        if isinstance(node, MappingNode) and isinstance(value, dict) and node.value and value:
            return self._mapping(node, value, flow=flow)
        if isinstance(node, SequenceNode) and isinstance(value, (list, tuple)) and node.value and value:
            return self._flow_list(node, value) if node.flow_style else self._block_list(node, value)
        start, end = node.start_mark.index, self.end(node)
        if isinstance(node, ScalarNode) and isinstance(value, str):
            return [(start, end, self._in_style(node, value, flow=flow))]
        if not isinstance(node, ScalarNode) and not _in_brackets(node):
            start = self._value_place(node)
            return [(start, end, " " + written(value, flow=flow))]
        return [(start, end, written(value, flow=flow))]

    def set_key(self, mapping: MappingNode, key: str, value: Any, order: Sequence[str]) -> list[Splice]:
        """Give a key of the mapping another value, or put it in its place by `order`; None takes it out."""
        found = next((at for at, (name, _node) in enumerate(mapping.value) if name.value == key), None)
        if found is None:
            return [] if value is None else [self._new_key(mapping, key, value, order)]
        if value is None:
            return [self._without_key(mapping, found)]
        return self.rewrite(mapping.value[found][1], value, flow=bool(mapping.flow_style))

    def _mapping(self, node: MappingNode, value: dict[str, Any], *, flow: bool) -> list[Splice]:
        gone = [name.value for name, _ in node.value if name.value not in value]
        new = [key for key in value if get(node, key) is None]
        if gone or len(new) > 1:
            if not node.flow_style and not flow:
                return [(self._value_place(node), self.end(node), " " + written(value, flow=True))]
            return [(node.start_mark.index, self.end(node), written(value, flow=True))]
        return [splice for key, one in value.items() for splice in self.set_key(node, key, one, tuple(value))]

    def _value_place(self, node: Node) -> int:
        """Where the value of a key begins, right after its colon, for a block that goes down from the next line."""
        return len(self.text[: node.start_mark.index].rstrip(" -\r\n"))

    def _in_style(self, node: ScalarNode, value: str, *, flow: bool) -> str:
        words = " ".join(value.split())
        if node.style == "'":
            return "'" + words.replace("'", "''") + "'"
        return written(words, flow=flow, quoted=node.style is not None)

    def _new_key(self, mapping: MappingNode, key: str, value: Any, order: Sequence[str]) -> Splice:
        before = set(order[: order.index(key)]) if key in order else set(order)
        names = [name.value for name, _ in mapping.value]
        place = max((at for at, name in enumerate(names) if name in before), default=0)
        at = self.end(mapping.value[place][1])
        if mapping.flow_style:
            return at, at, f", {key}: {written(value, flow=True)}"
        indent = " " * self.column(mapping.value[0][0].start_mark.index)
        return self.after_line(at, [f"{indent}{key}: {written(value, flow=False, quoted=key in _QUOTED)}"])

    def _without_key(self, mapping: MappingNode, found: int) -> Splice:
        name, value = mapping.value[found]
        start, end = name.start_mark.index, self.end(value)
        if found == 0 and len(mapping.value) > 1:
            return start, mapping.value[1][0].start_mark.index, ""
        if mapping.flow_style:
            return (self.end(mapping.value[found - 1][1]) if found else start), end, ""
        return self.without_lines(start, end)

    def _flow_list(self, node: SequenceNode, value: Sequence[Any]) -> list[Splice]:
        items = [(item.start_mark.index, self.end(item)) for item in node.value]
        splices: list[Splice] = []
        for i1, i2, new in _differences(node, value):
            words = [written(one, flow=True) for one in new]
            same = min(i2 - i1, len(new))
            splices += [(*items[i1 + step], words[step]) for step in range(same)]
            at = i1 + same
            if at < i2:
                splices.append((items[at - 1][1], items[i2 - 1][1], "") if at else (items[0][0], items[i2][0], ""))
            elif same < len(words):
                rest = words[same:]
                here = items[at - 1][1] if at else items[0][0]
                splices.append(
                    (here, here, "".join(f", {one}" for one in rest) if at else "".join(f"{one}, " for one in rest))
                )
        return splices

    def _block_list(self, node: SequenceNode, value: Sequence[Any]) -> list[Splice]:
        indent = self.text[self.line_start(node.value[0].start_mark.index) : node.value[0].start_mark.index]
        splices: list[Splice] = []
        for i1, i2, new in _differences(node, value):
            same = min(i2 - i1, len(new))
            for step in range(same):
                splices += self.rewrite(node.value[i1 + step], new[step], flow=False)
            for item in node.value[i1 + same : i2]:
                splices.append(self.without_lines(item.start_mark.index, self.end(item)))
            lines = [indent + written(one, flow=False) for one in new[same:]]
            at = i1 + same
            if lines and at:
                splices.append(self.after_line(self.end(node.value[at - 1]), lines))
            elif lines:
                start = self.line_start(node.value[0].start_mark.index)
                splices.append((start, start, "".join(line + self.newline for line in lines)))
        return splices


_QUOTED = frozenset({"when", "frame", "light"})


def _in_brackets(node: Node) -> bool:
    return isinstance(node, (MappingNode, SequenceNode)) and bool(node.flow_style)


def _as_list(value: Any) -> Any:
    return list(value) if isinstance(value, tuple) else value


def _differences(node: SequenceNode, value: Sequence[Any]) -> list[tuple[int, int, Sequence[Any]]]:
    """Which items of the list give way to which of the value."""
    before = [json.dumps(plain(item), sort_keys=True) for item in node.value]
    after = [json.dumps(one, sort_keys=True) for one in value]
    found = SequenceMatcher(None, before, after, autojunk=False).get_opcodes()
    return [(i1, i2, value[j1:j2]) for tag, i1, i2, j1, j2 in found if tag != "equal"]
