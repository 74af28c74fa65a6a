"""The two pages of an edition: the gallery and the condition page, filled from finished values.

Self-contained: looks and the small viewer stand inside each page, pictures lie beside it, and the page's own content
policy forbids every other address and every other script. Works from a folder, with scripts off, and on paper.
"""

from __future__ import annotations

import base64
import hashlib
import json
import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import Any, Final

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup

from lapseam.domain.edition import Edition
from lapseam.domain.language import Language

from . import section_views, views
from .print_cards import code_svg
from .views import Pictures

GALLERY: Final = "index.html"
DISCLOSURE: Final = "disclosure.html"
PRINTED: Final = "disclosure.pdf"

_SCHEMES: Final = (
    (":root", "light"),
    ("@media (prefers-color-scheme:dark){:root", "dark"),
    ("@media (prefers-contrast:more){:root", "bright"),
    ("@media print{:root", "bright"),
)
# What an SVG file needs and a drawing inside a page does not.
_NAMESPACE: Final = ' xmlns="http://www.w3.org/2000/svg"'
# Signs that turn writing direction round, and what HTML does not allow in text.
_TURNING: Final = re.compile("[\u202a-\u202e\u2066-\u2069]")
_FORBIDDEN: Final = re.compile(
    "[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\ud800-\udfff\ufdd0-\ufdef\ufffe\uffff]"
    "|[" + "".join(chr(plane * 0x10000 + 0xFFFE) + chr(plane * 0x10000 + 0xFFFF) for plane in range(1, 17)) + "]"
)


@dataclass(frozen=True, slots=True)
class Pages:
    """Both pages, as text."""

    gallery: str
    disclosure: str


def render_pages(
    edition: Edition, pictures: Pictures, *, templates: Path, seal: str, linked_data: Mapping[str, Any]
) -> Pages:
    """Fill in both pages.

    Args:
        edition: the finished values.
        pictures: the picture files of every photo shown.
        templates: the folder that holds `gallery/`, `disclosure/` and `tokens.json`.
        seal: SHA-256 of `edition.json`, printed at the foot.
        linked_data: the gallery's JSON-LD.

    Raises:
        ValueError: a page model holds what it must not (an anchor that is none).
    """
    engine = environment(templates, edition.language)
    gallery, page = edition.gallery, edition.disclosure
    viewer = (templates / "gallery" / "viewer.js").read_text(encoding="utf-8")
    joined = views.GalleryViews(gallery, pictures, page.not_seen.anchor)
    common = {
        "looks": Markup(looks(templates)),
        "seal": seal,
        "rtl": edition.language.rtl,
    }
    gallery_page = engine.get_template("gallery/index.html.j2").render(
        **common,
        language=gallery.language,
        flag=gallery.flag,
        house=gallery.house,
        edition_words=gallery.edition_words,
        policy=policy(viewer),
        viewer=Markup(viewer),
        json_ld=json_for_page(linked_data),
        gallery=gallery,
        hero=joined.hero,
        hero_sizes=views.HERO_SIZES,
        flaw_sizes=views.FLAW_SIZES,
        chapters=joined.chapters,
        segments=joined.segments,
        legend=joined.legend,
        tally=joined.tally,
    )
    disclosure_page = engine.get_template("disclosure/disclosure.html.j2").render(
        **common,
        language=page.language,
        flag=page.flag,
        house=page.house,
        edition_words=page.edition_words,
        policy=policy(),
        page=page,
        sections=section_views.sections(page),
        smalls=views.smalls(pictures),
        marks=views.marks_by_photo(gallery),
        code=Markup(code_svg(seal).replace(_NAMESPACE, "")),
    )
    return Pages(gallery_page, disclosure_page)


def looks(templates: Path) -> str:
    """The pages' style sheet: colours from the tokens for light, dark, more contrast and paper, then the rules."""
    tokens: Mapping[str, Any] = json.loads((templates / "tokens.json").read_text(encoding="utf-8"))
    schemes = []
    for opening, scheme in _SCHEMES:
        colours = ";".join(f"--{name}:{colour}" for name, colour in tokens[scheme].items())
        schemes.append(f"{opening}{{{colours}}}" + "}" * opening.count("{"))
    return "\n".join(schemes) + "\n" + (templates / "gallery" / "edition.css").read_text(encoding="utf-8")


def json_for_page(data: Mapping[str, Any]) -> Markup:
    """JSON that can stand inside a script element: no sign in it can end the element or begin a comment."""
    text = json.dumps(data, ensure_ascii=False, separators=(",", ":"))
    text = text.replace("&", "\\u0026").replace("<", "\\u003c").replace(">", "\\u003e")
    text = text.replace("\u2028", "\\u2028").replace("\u2029", "\\u2029")
    return Markup(shown(text))


def shown(value: object) -> object:
    """A value as it may be printed: text loses signs that turn direction round or that HTML forbids."""
    if isinstance(value, str) and not isinstance(value, Markup):
        return _FORBIDDEN.sub("\ufffd", _TURNING.sub("", value))
    return value


def environment(templates: Path, language: Language) -> Environment:
    """Templates look a text up with `_("…")`; what comes back is text, so that no catalogue can put in markup."""
    made = Environment(
        loader=FileSystemLoader(templates, encoding="utf-8"),
        autoescape=True,
        undefined=StrictUndefined,
        finalize=shown,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
    made.globals |= {"_": partial(_text, language), "_n": partial(_counted, language)}
    return made


def _text(language: Language, english: str, /, **slots: object) -> str:
    """A template's text; without slots given it keeps its own open, for the viewer to fill."""
    words = language.text(english)
    return words.format(**slots) if slots else words


def _counted(language: Language, one: str, many: str, n: int, /, **slots: object) -> str:
    """The form of a template's text that goes with `n`."""
    return language.counted(one, many, n).format(n=n, **slots)


def policy(script: str = "") -> str:
    """The page's content policy: pictures and clips beside it, its own looks, at most its own script, nothing else."""
    scripts = "'none'"
    if script:
        scripts = f"'sha256-{base64.b64encode(hashlib.sha256(script.encode()).digest()).decode()}'"
    return (
        f"default-src 'none'; img-src 'self' file:; media-src 'self' file:; style-src 'unsafe-inline'; "
        f"script-src {scripts}; base-uri 'none'; form-action 'none'"
    )
