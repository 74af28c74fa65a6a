"""Collect every text of the windows into `templates/messages/lapseam.pot`, the list that a translator works from.

Run it from the top of the tree after changing a text: `python tests/desktop/catalogue.py`.
The format is GNU gettext's PO file ("The Format of PO Files", GNU gettext manual).
"""

from __future__ import annotations

import ast
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import lapseam
from lapseam import places

DESKTOP = Path(lapseam.__file__).parent / "desktop"
SHOWN = frozenset(
    {"setText", "setToolTip", "setAccessibleName", "setAccessibleDescription", "setPlaceholderText", "say"}
)
"""Methods whose text a person reads or hears."""
SHOWING = frozenset({"BayButton", "label", "QLabel", "QPushButton", "QLineEdit", "QMessageBox", "QAction", "Notice"})
"""Makers of things that show a text."""


@dataclass(frozen=True, slots=True, order=True)
class Text:
    """One key of the catalogue; `many` is its plural, "" for none. `where` is the first place it stands."""

    one: str
    many: str
    where: str


def sources() -> tuple[Path, ...]:
    """Every module of the windows."""
    return tuple(sorted(DESKTOP.rglob("*.py")))


def texts() -> tuple[Text, ...]:
    """Every text that is looked up, once, in the order of its words."""
    found: dict[tuple[str, str], Text] = {}
    for path in sources():
        for call in _calls(path):
            keys = _keys(call)
            if keys is not None:
                where = f"{path.relative_to(DESKTOP.parent)}"
                found.setdefault(keys, Text(*keys, where))
    return tuple(sorted(found.values()))


def bare_texts() -> tuple[str, ...]:
    """Places where a text is shown without being looked up, as `file:line: text`."""
    return tuple(
        f"{path.relative_to(DESKTOP)}:{node.lineno}: {node.value}"
        for path in sources()
        for call in _calls(path)
        if _name(call) in SHOWN | SHOWING
        for node in _shown_constants(call)
    )


def unreadable_keys() -> tuple[str, ...]:
    """Calls of `_` whose key is not a plain text, which no collector could find."""
    return tuple(
        f"{path.relative_to(DESKTOP)}:{call.lineno}"
        for path in sources()
        if path.name != "words.py"
        for call in _calls(path)
        if _name(call) in ("_", "_n") and _keys(call) is None
    )


def _calls(path: Path) -> Iterator[ast.Call]:
    tree = ast.parse(path.read_text(encoding="utf-8"), filename=str(path))
    return (node for node in ast.walk(tree) if isinstance(node, ast.Call))


def _name(call: ast.Call) -> str:
    return getattr(call.func, "id", getattr(call.func, "attr", ""))


def _keys(call: ast.Call) -> tuple[str, str] | None:
    wanted = {"_": 1, "_n": 2}.get(_name(call), 0)
    values = [arg.value for arg in call.args[:wanted] if isinstance(arg, ast.Constant) and isinstance(arg.value, str)]
    if not wanted or len(values) != wanted:
        return None
    return (values[0], values[1] if wanted == 2 else "")


def _shown_constants(call: ast.Call) -> Iterator[ast.Constant]:
    """Plain texts with two letters together among what is shown; names of parts, keys and drawings are none."""
    silent = {"part", "drawing", "key", "objectName"}
    given = [*call.args, *(word.value for word in call.keywords if word.arg not in silent)]
    if _name(call) == "label":
        given = [word.value for word in call.keywords if word.arg == "text"]
    for node in given:
        plain = isinstance(node, ast.Constant) and isinstance(node.value, str)
        if plain and any(a.isalpha() and b.isalpha() for a, b in zip(node.value, node.value[1:], strict=False)):
            yield node


def written(found: tuple[Text, ...]) -> str:
    """The catalogue file."""
    head = (
        'msgid ""\nmsgstr ""\n"Content-Type: text/plain; charset=UTF-8\\n"\n'
        '"Plural-Forms: nplurals=2; plural=(n != 1);\\n"\n'
    )
    return head + "".join(_entry(text) for text in found)


def _entry(text: Text) -> str:
    lines = [f"\n#: {text.where}", f"msgid {_quoted(text.one)}"]
    if text.many:
        lines += [f"msgid_plural {_quoted(text.many)}", 'msgstr[0] ""', 'msgstr[1] ""']
    else:
        lines.append('msgstr ""')
    return "\n".join(lines) + "\n"


def _quoted(text: str) -> str:
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"').replace("\n", "\\n") + '"'


def catalogue() -> Path:
    """Where the list is kept."""
    return places.templates() / "messages" / "lapseam.pot"


def main() -> int:
    """Write the list anew."""
    catalogue().parent.mkdir(exist_ok=True)
    catalogue().write_text(written(texts()), encoding="utf-8")
    print(f"{catalogue().name}: {len(texts())} texts")
    return 0


if __name__ == "__main__":
    sys.exit(main())
