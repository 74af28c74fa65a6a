"""A framing sketch as SVG text for pages and print (W3C SVG 1.1: paths and text only, no style sheet, no script)."""

from __future__ import annotations

from collections.abc import Mapping
from html import escape

from .drawing import Path, Verb
from .sketch import Sketch
from .sketch_layout import PENS, PlacedWord, lay_out

PRINT_COLOURS: Mapping[str, str] = {
    "ink": "#000000",
    "soft": "#4a4a4a",
    "line": "#b8b8b8",
    "signal": "#7a2e00",
    "sheet": "#ffffff",
}
"""Colours for white paper; a page hands its own, or CSS variables such as `var(--ink)`."""


def sketch_svg(
    sketch: Sketch,
    colours: Mapping[str, str] = PRINT_COLOURS,
    *,
    width: float = 360.0,
    height: float = 200.0,
    words_size: float = 12.0,
    title: str = "",
    note: bool = True,
    font: str = "IBM Plex Sans, sans-serif",
) -> str:
    """The sketch as one `<svg>` element of that size, to be scaled freely.

    `colours` give ink, soft, line, signal and sheet; `title` is read out to those who cannot see it. Every text is
    escaped. Raises KeyError where a colour is missing.
    """
    placed = lay_out(sketch, width, height, words_size=words_size, note=note)
    said = f"<title>{escape(title)}</title>" if title else ""
    role = 'role="img"' if title else 'aria-hidden="true"'
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {_number(width)} {_number(height)}" {role}'
        f' fill="none" stroke-linejoin="round" stroke-linecap="round" font-family="{escape(font)}">'
    )
    paths = "".join(_path(path, colours, placed.unit) for path in placed.paths)
    words = "".join(_word(word, colours) for word in placed.words)
    return f"{head}{said}{paths}{words}</svg>"


def _path(path: Path, colours: Mapping[str, str], unit: float) -> str:
    pen = PENS[path.role]
    parts = [f'<path d="{_data(path)}"']
    if pen.width:
        parts.append(f'stroke="{escape(colours[pen.ink])}" stroke-width="{_number(pen.width * unit)}"')
    if pen.dash:
        parts.append(f'stroke-dasharray="{_number(pen.dash * unit)}"')
    if pen.fill and path.steps[-1].verb is Verb.CLOSE:
        parts.append(f'fill="{escape(colours[pen.fill])}"')
        if pen.fill_opacity < 1:
            parts.append(f'fill-opacity="{_number(pen.fill_opacity)}"')
    return " ".join(parts) + "/>"


def _data(path: Path) -> str:
    return "".join(step.verb + " ".join(f"{_number(x)} {_number(y)}" for x, y in step.points) for step in path.steps)


def _word(word: PlacedWord, colours: Mapping[str, str]) -> str:
    """A word; a line that runs under it stops short of it."""
    ink, ground = escape(colours[PENS[word.role].ink]), escape(colours["sheet"])
    x = word.x if word.line else word.x + word.width / 2
    anchor = "" if word.line else ' text-anchor="middle"'
    return (
        f'<text x="{_number(x)}" y="{_number(word.baseline)}" font-size="{_number(word.size)}"'
        f' fill="{ink}" stroke="{ground}" stroke-width="{_number(word.size / 3)}" paint-order="stroke"'
        f"{anchor}>{escape(word.text)}</text>"
    )


def _number(value: float) -> str:
    return f"{value:.2f}".rstrip("0").rstrip(".") if value else "0"
