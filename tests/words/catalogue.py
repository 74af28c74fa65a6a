"""Collect every text that an edition prints into `templates/messages/edition.pot`, the list a translator works from.

Run it from the top of the tree after changing a text: `python tests/words/catalogue.py`. Texts come from the tables of
the domain, from `_("…")` and `_n(…)` in templates, and from the plans and the vocabulary that ship.
The format is GNU gettext's PO file ("The Format of PO Files", GNU gettext manual), written by Babel.
"""

from __future__ import annotations

import io
import sys
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

from babel.messages.catalog import Catalog
from babel.messages.pofile import write_po
from jinja2.ext import babel_extract
from ruamel.yaml import YAML

from lapseam import places
from lapseam.domain import phrases, section_phrases, units
from lapseam.domain.plan import MustSee, Setup, Shot
from lapseam.domain.plan_words import PRINTED, printed_words
from lapseam.plans import load_vocabulary

HEAD = (
    'msgid ""\nmsgstr ""\n"Content-Type: text/plain; charset=UTF-8\\n"\n'
    '"Plural-Forms: nplurals=2; plural=(n != 1);\\n"\n\n'
)
REMARKS = {
    "inside": "No text: write small if names of findings lose their capitals inside a sentence, keep if not.",
    "disclosure sentence": "Keep the slots; {basis} ends it, behind a semicolon. A part between commas is left out "
    "with its comma where its slot is empty.",
}
"""What a translator must know of a context."""


def catalogue() -> Path:
    """Where the list is kept."""
    return places.templates() / "messages" / "edition.pot"


@cache
def collected() -> Catalog:
    """Every text once, with its context, its plural and the places where it stands."""
    found = Catalog()
    for where, context, words in (*table(), *of_plans()):
        one, bar, many = words.partition("|")
        remark = REMARKS.get(context)
        comments = [remark] if remark else []
        found.add((one, many) if bar else one, context=context, locations=[(where, None)], auto_comments=comments)
    for where, words in of_templates():
        found.add(words, locations=[(where, None)])
    return found


def table() -> Iterator[tuple[str, str, str]]:
    """The domain's own texts."""
    home = "domain/phrases.py"
    yield from ((home, key, words) for key, words in phrases.WORDS.items() if words)
    for section, parts in section_phrases.SECTIONS.items():
        for part, words in zip(("heading", "lead", "none"), parts, strict=True):
            if words:
                yield home, f"section.{section}.{part}", words
    for context, sentences in (
        ("what-it-is", section_phrases.WHAT_IT_IS),
        ("what-it-is-not", section_phrases.WHAT_IT_IS_NOT),
    ):
        yield from ((home, context, words) for words in sentences)
    for unit in (*units.SIZES, "°C", "°F"):
        yield "domain/units.py", "unit", unit


def of_plans() -> Iterator[tuple[str, str, str]]:
    """The words of the vocabulary and of every shot that ships, each once."""
    yaml = YAML(typ="safe")
    told = dict.fromkeys(printed_words(load_vocabulary(places.shot_plans() / "vocabulary")))
    for path in sorted([*places.shot_plans().glob("*.yaml"), *(places.shot_plans() / "shared").glob("*.yaml")]):
        for part in yaml.load(path.read_text(encoding="utf-8")).values():
            told |= dict.fromkeys(_of_shots(part))
    return (("shot_plans", context, words) for context, words in told)


def _of_shots(node: Any) -> Iterator[tuple[str, str]]:
    """Titles and must-see items below a part of a plan file, whether it adds shots or changes them."""
    if isinstance(node, list):
        for one in node:
            yield from _of_shots(one)
    elif isinstance(node, dict):
        for key, value in node.items():
            if key == "name" and "minutes" in node:
                yield PRINTED[Setup]["name"], value
            elif key == "title":
                yield PRINTED[Shot]["title"], value
            elif key == "must":
                yield from ((PRINTED[MustSee]["words"], words) for words in value)
            else:
                yield from _of_shots(value)


def of_templates() -> Iterator[tuple[str, str | tuple[str, str]]]:
    """What the templates look up."""
    for path in sorted(places.templates().glob("*/*.j2")):
        with path.open("rb") as file:
            for _line, function, words, _comments in babel_extract(file, ["_", "_n"], (), {"trim_blocks": "true"}):
                yield str(path.relative_to(places.templates())), _plain(path, function, words)


def _plain(path: Path, function: str, words: object) -> str | tuple[str, str]:
    """The key; one that is not a plain text could never be found by a translator."""
    told = words if isinstance(words, tuple) else (words,)
    keys = told[: 2 if function == "_n" else 1]
    if not all(isinstance(key, str) for key in keys):
        raise ValueError(f"{path.name}: {function}(…) wants plain texts, not {words!r}")
    return keys[0] if len(keys) == 1 else (keys[0], keys[1])


def written() -> str:
    """The catalogue file."""
    out = io.BytesIO()
    write_po(out, collected(), width=0, omit_header=True, sort_output=False, include_lineno=False)
    return HEAD + out.getvalue().decode()


def main() -> int:
    """Write the list anew."""
    catalogue().write_text(written(), encoding="utf-8")
    print(f"{catalogue().name}: {len(collected())} texts")
    return 0


if __name__ == "__main__":
    sys.exit(main())
