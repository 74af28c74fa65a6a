"""Our own line icons: SVG files drawn on a 24-unit grid, inked in the theme's colours when they are shown."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

from PySide6.QtCore import QByteArray, QRectF
from PySide6.QtGui import QColor, QPainter
from PySide6.QtSvg import QSvgRenderer

_ICONS = Path(__file__).parent / "icons"


def names() -> tuple[str, ...]:
    """Every icon that ships."""
    return tuple(sorted(path.stem for path in _ICONS.glob("*.svg")))


@lru_cache(maxsize=64)
def _drawing(name: str) -> str:
    return (_ICONS / f"{name}.svg").read_text(encoding="utf-8")


def paint_icon(painter: QPainter, name: str, box: QRectF, colour: QColor) -> None:
    """Draw the icon into `box` in one colour, crisp at any size.

    Raises:
        FileNotFoundError: there is no such icon (a packaging fault of ours).
    """
    inked = _drawing(name).replace("currentColor", colour.name())
    QSvgRenderer(QByteArray(inked.encode())).render(painter, box)
