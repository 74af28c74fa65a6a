"""YAML files as nodes that know their place: strict, bounded, and never deeper than a plan can be.

Plans use a small part of YAML 1.2: mappings, lists and single values in UTF-8. Anchors, aliases, tags and several
documents in one file are refused, which also takes away every way to make a small file grow. The tree is built
from the event stream, without recursion.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from ruamel.yaml import YAML
from ruamel.yaml.error import MarkedYAMLError, YAMLError
from ruamel.yaml.events import (
    AliasEvent,
    DocumentStartEvent,
    Event,
    MappingEndEvent,
    MappingStartEvent,
    NodeEvent,
    ScalarEvent,
    SequenceEndEvent,
)
from ruamel.yaml.reader import ReaderError

from .problems import Mark, Problems

LARGEST_BYTES = 1_000_000
DEEPEST = 12
MOST_NODES = 30_000

_TAB_INDENT = re.compile(r"^ *\t\s*\S", re.MULTILINE)
_WHOLE = re.compile(r"[-+]?[0-9]+\Z")
_NUMBER = re.compile(r"[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]+)?\Z")
_TRUTH = {"true": True, "True": True, "TRUE": True, "false": False, "False": False, "FALSE": False}
_NOTHING = ("", "~", "null", "Null", "NULL")


@dataclass(frozen=True, slots=True)
class Scalar:
    """One value. `plain` means written without quotes; only then it can be a number, true, false or nothing."""

    mark: Mark
    text: str
    plain: bool

    def value(self) -> str | int | float | bool | None:
        """The value by the YAML 1.2 core schema: so `no`, `on` and `1:30` are words."""
        if not self.plain:
            return self.text
        if self.text in _NOTHING:
            return None
        if self.text in _TRUTH:
            return _TRUTH[self.text]
        if _WHOLE.match(self.text):
            return int(self.text) if len(self.text) < 19 else float(self.text)
        if _NUMBER.match(self.text):
            return float(self.text)
        return self.text


@dataclass(slots=True)
class Items:
    """A list."""

    mark: Mark
    items: list[Node] = field(default_factory=list)


@dataclass(slots=True)
class Pairs:
    """A mapping, with every key as written, also one given twice."""

    mark: Mark
    pairs: list[tuple[Scalar, Node]] = field(default_factory=list)

    def get(self, key: str) -> Node | None:
        """The value of the first such key, or None."""
        return next((node for name, node in self.pairs if name.text == key), None)


Node = Scalar | Items | Pairs


def plain(node: Node) -> Any:
    """The node as a plain value of lists, dicts and scalars; the last of equal keys wins."""
    if isinstance(node, Scalar):
        return node.value()
    if isinstance(node, Items):
        return [plain(item) for item in node.items]
    return {key.text: plain(value) for key, value in node.pairs}


class _Refused(Exception):
    """The file is no plain tree; the reason stands among the problems."""


def read_nodes(path: Path, problems: Problems) -> Node | None:
    """The file's one document as a tree, or None with the reasons among the problems."""
    text = _text(path, problems)
    if text is None:
        return None
    for found in _TAB_INDENT.finditer(text):
        line = text.count("\n", 0, found.start()) + 1
        problems.add(Mark(path.name, line), "", "the line is indented with a tab", "use two spaces for each step in")
        return None
    try:
        return _Composer(path.name, problems).compose(text)
    except _Refused:
        return None
    except MarkedYAMLError as error:
        at = error.problem_mark or error.context_mark
        mark = Mark(path.name, at.line + 1, at.column + 1) if at else Mark(path.name)
        words = " ".join(str(part) for part in (error.context, error.problem) if part)
        problems.add(mark, "", f"this is not YAML: {words}", "look at this line and the one before it")
    except ReaderError as error:
        line = text.count("\n", 0, error.position) + 1
        code = error.character if isinstance(error.character, int) else ord(str(error.character)[0])
        words = f"the character U+{code:04X} may not stand in a plan"
        problems.add(Mark(path.name, line), "", words, "take it out")
    except YAMLError as error:
        problems.add(Mark(path.name), "", f"this is not YAML: {error}", "look at the file in a text editor")
    return None


def _text(path: Path, problems: Problems) -> str | None:
    mark = Mark(path.name)
    try:
        size = path.stat().st_size
        if size > LARGEST_BYTES:
            words = f"the file has {size / 1e6:.1f} MB; the largest that is read has {LARGEST_BYTES / 1e6:.0f} MB"
            problems.add(mark, "", words, "check that it is the right file")
            return None
        raw = path.read_bytes()
    except OSError as error:
        problems.add(
            mark, "", f"the file cannot be read: {error.strerror or error}", "check its name, place and rights"
        )
        return None
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        before = raw[: error.start]
        mark = Mark(path.name, before.count(b"\n") + 1, error.start - before.rfind(b"\n"))
        problems.add(mark, "", f"the byte 0x{raw[error.start]:02X} is not UTF-8", "save the file as UTF-8")
        return None


class _Composer:
    """Builds the tree from parse events with a stack of its own."""

    def __init__(self, file: str, problems: Problems) -> None:
        self.file = file
        self.problems = problems
        self.open: list[Items | Pairs] = []
        self.keys: list[Scalar | None] = []
        self.root: Node | None = None
        self.nodes = 0

    def compose(self, text: str) -> Node:
        documents = 0
        for event in _events(text):
            if isinstance(event, DocumentStartEvent):
                documents += 1
                if documents > 1:
                    self._refuse(event, "a second document begins here", "one file holds one plan: remove the '---'")
            elif isinstance(event, (SequenceEndEvent, MappingEndEvent)):
                self.open.pop()
                self.keys.pop()
            elif isinstance(event, NodeEvent):
                self._take(event)
        if self.root is None:
            self.problems.add(Mark(self.file), "", "the file is empty", "start from a plan that ships")
            raise _Refused
        return self.root

    def _take(self, event: NodeEvent) -> None:
        if isinstance(event, AliasEvent) or event.anchor:
            self._refuse(
                event, "anchors and aliases ('&' and '*') are not read", "write the value out where it is used"
            )
        tag = str(getattr(event, "tag", None) or "!")
        if tag != "!":
            self._refuse(event, f"the tag {tag} is not read", "take it out")
        self.nodes += 1
        if self.nodes > MOST_NODES:
            self._refuse(event, f"the file holds more than {MOST_NODES} values", "check that it is the right file")
        mark = self._mark(event)
        if isinstance(event, ScalarEvent):
            self._place(Scalar(mark, event.value, event.style is None), event)
            return
        node: Items | Pairs = Pairs(mark) if isinstance(event, MappingStartEvent) else Items(mark)
        self._place(node, event)
        self.open.append(node)
        self.keys.append(None)
        if len(self.open) > DEEPEST:
            self._refuse(event, f"more than {DEEPEST} lists or mappings inside each other", "a plan needs at most five")

    def _place(self, node: Node, event: Event) -> None:
        if not self.open:
            self.root = node
            return
        parent = self.open[-1]
        if isinstance(parent, Items):
            parent.items.append(node)
        elif self.keys[-1] is None:
            if not isinstance(node, Scalar):
                self._refuse(event, "a list or mapping stands where a key is wanted", "write 'key: value'")
                return
            self.keys[-1] = node
        else:
            key = self.keys[-1]
            if isinstance(node, Scalar) and node.plain and not node.text:
                node = replace(node, mark=key.mark)
            parent.pairs.append((key, node))
            self.keys[-1] = None

    def _mark(self, event: Event) -> Mark:
        return Mark(self.file, event.start_mark.line + 1, event.start_mark.column + 1)

    def _refuse(self, event: Event, words: str, remedy: str) -> None:
        self.problems.add(self._mark(event), "", words, remedy)
        raise _Refused


def _events(text: str) -> Iterator[Event]:
    reader = YAML(typ="safe", pure=True)
    yield from reader.parse(text)
