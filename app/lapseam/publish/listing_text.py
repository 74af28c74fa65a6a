"""The listing's text as people paste it: filled from a template that a house can change, cut to an outlet's limit.

Templates are Jinja2 in a sandbox, strict: a name that is not there is an error with its file and line. A house's own
template stands before the shipped one of the same name. Words of the record are escaped for the form they stand in.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from html.parser import HTMLParser
from pathlib import Path
from traceback import extract_tb
from typing import Any, Final

from jinja2 import FileSystemLoader, StrictUndefined, TemplateError, TemplateNotFound, TemplateSyntaxError
from jinja2.sandbox import ImmutableSandboxedEnvironment
from markupsafe import Markup

from lapseam import places
from lapseam.domain.errors import TemplateBroken
from lapseam.domain.listing import Listing, kept
from lapseam.domain.selection import TextForm

from .pages import shown

FOLDER: Final = "listing"
ENDINGS: Final = {TextForm.PLAIN: "txt", TextForm.MARKDOWN: "md", TextForm.HTML: "html"}

_MARKS: Final = re.compile(r"([\\`*_{}\[\]<>#|~&])")
_LINE_MARKS: Final = re.compile(r"(?m)^(\s*)([-+]|\d+[.)])(?=\s)")
_BLOCKS: Final = frozenset({"p", "li", "h1", "h2", "h3", "h4", "ul", "ol", "article", "section", "div", "br", "tr"})
_LONGEST: Final = 4_000_000


@dataclass(frozen=True, slots=True)
class ListingText:
    """A written text. `left_out` are sentences that the limit took, in words; `over` says how many signs are too many.

    `plain` is the same without marks, line by line, for whoever judges the words.
    """

    form: TextForm
    text: str
    plain: str
    left_out: tuple[str, ...] = ()
    over: int = 0


def write_text(listing: Listing, form: TextForm, *, limit: int = 0, house: Path | None = None) -> ListingText:
    """Fill the template, with as many sentences as fit.

    Args:
        limit: characters, 0 for none. Whole sentences go, the last of the ranking first; those that always stay do.
        house: the workspace's `templates`; its `listing/` stands before the shipped one.

    Raises:
        TemplateBroken: the template does not hold; `problems` names file and line.
    """
    writer = _Writer(form, house)
    whole = kept(listing, listing.droppable)
    text = writer.filled(whole)
    if not limit or len(text) <= limit:
        return _made(form, text, whole, limit)
    low, high = 0, listing.droppable
    while low < high:
        middle = (low + high + 1) // 2
        low, high = (middle, high) if len(writer.filled(kept(listing, middle))) <= limit else (low, middle - 1)
    cut = kept(listing, low)
    return _made(form, writer.filled(cut), cut, limit)


def listing_name(form: TextForm) -> str:
    """The name of a listing's file in an edition's package."""
    return f"listing.{ENDINGS[form]}"


def plain_words(text: str, form: TextForm) -> str:
    """A text without its form's marks: what a reader reads."""
    if form is TextForm.PLAIN:
        return text
    if form is TextForm.MARKDOWN:
        lines = (re.sub(r"^\s*(#+|[-*+])\s+", "", line) for line in text.splitlines())
        return "\n".join(re.sub(r"(?<!\\)[*_`]+", "", line).replace("\\", "") for line in lines)
    return _Read(text).words()


def _made(form: TextForm, text: str, listing: Listing, limit: int) -> ListingText:
    out = tuple(one.text for one in listing.left_out)
    return ListingText(form, text, plain_words(text, form), out, max(0, len(text) - limit) if limit else 0)


class _Writer:
    """One form's template, ready to be filled."""

    def __init__(self, form: TextForm, house: Path | None) -> None:
        own = [house / FOLDER] if house is not None else []
        self._folders = [*own, places.templates() / FOLDER]
        self._form = form
        self._environment = ImmutableSandboxedEnvironment(
            loader=FileSystemLoader(self._folders, encoding="utf-8"),
            autoescape=form is TextForm.HTML,
            undefined=StrictUndefined,
            finalize=_markdown if form is TextForm.MARKDOWN else shown,
            trim_blocks=True,
            lstrip_blocks=True,
            keep_trailing_newline=True,
        )
        self._name = f"{form.value}.j2"
        try:
            self._template = self._environment.get_template(self._name)
        except (TemplateError, UnicodeDecodeError, OSError) as error:
            raise self._broken(error) from error

    def filled(self, listing: Listing) -> str:
        """The text of that listing; lines lose what stands empty at their end, and two empty lines become one."""
        try:
            text = "".join(_bounded(self._template.generate(listing=_values(listing))))
        except Exception as error:
            raise self._broken(error) from error
        lines = "\n".join(line.rstrip() for line in text.strip().splitlines())
        return re.sub(r"\n{3,}", "\n\n", lines) + "\n"

    def _broken(self, error: Exception) -> TemplateBroken:
        name, line = self._place(error)
        words = str(error).rstrip(".") or type(error).__name__
        if isinstance(error, TemplateNotFound):
            words = f"there is no template {error}"
        where = f"{name}:{line}" if line else name
        return TemplateBroken(
            f"The listing's template {Path(name).name} does not hold.",
            effect="No text was written.",
            problems=(f"{where}: {words}. A template knows `listing` with {', '.join(_NAMES)}.",),
        )

    def _place(self, error: Exception) -> tuple[str, int]:
        """The file and line where it went wrong; line 0 where none is known."""
        if isinstance(error, TemplateSyntaxError):
            return error.filename or error.name or self._name, error.lineno
        folders = tuple(map(str, self._folders))
        for frame in reversed(extract_tb(error.__traceback__)):
            if frame.filename.startswith(folders):
                return frame.filename, frame.lineno or 0
        found = next((folder / self._name for folder in self._folders if (folder / self._name).is_file()), None)
        return str(found or self._name), 0


_NAMES: Final = ("title", "teaser", "flag", "house", "edition", "language", "title_in_text", "parts", "left_out")


def _values(listing: Listing) -> dict[str, Any]:
    """What a template may name: plain values, nothing that does anything."""
    return {
        "title": listing.title,
        "teaser": listing.teaser,
        "flag": listing.flag,
        "house": listing.house,
        "edition": listing.edition_words,
        "language": listing.language,
        "title_in_text": listing.title_in_text,
        "parts": [
            {"id": part.id, "heading": part.heading, "sentences": [one.text for one in part.sentences]}
            for part in listing.parts
        ],
        "left_out": len(listing.left_out),
    }


def _bounded(pieces: Any) -> Sequence[str]:
    """The pieces of a text, as long as a text may be: a template that never ends fills no memory."""
    found: list[str] = []
    size = 0
    for piece in pieces:
        size += len(piece)
        if size > _LONGEST:
            raise ValueError(f"the text is longer than {_LONGEST} characters")
        found.append(piece)
    return found


def _markdown(value: object) -> object:
    """A value for Markdown: what Markdown would take for its own is escaped."""
    value = shown(value)
    if not isinstance(value, str) or isinstance(value, Markup) or value in _OWN_MARKS:
        return value
    return _LINE_MARKS.sub(r"\1\\\2", _MARKS.sub(r"\\\1", value))


_OWN_MARKS: Final = ("- ", "")


class _Read(HTMLParser):
    """The words of a piece of HTML, a line for each block."""

    def __init__(self, text: str) -> None:
        super().__init__(convert_charrefs=True)
        self._lines = [""]
        self.feed(text)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag in _BLOCKS:
            self._lines.append("")

    def handle_endtag(self, tag: str) -> None:
        if tag in _BLOCKS:
            self._lines.append("")

    def handle_data(self, data: str) -> None:
        self._lines[-1] += data

    def words(self) -> str:
        return "\n".join(line for one in self._lines if (line := " ".join(one.split())))
