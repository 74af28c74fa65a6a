"""Our own line icons: SVG files drawn on a 24-unit grid, inked in the theme's colours when they are shown."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QByteArray, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QIcon, QIconEngine, QPainter, QPixmap
from PySide6.QtSvg import QSvgRenderer

from .theme import inks

_ICONS = Path(__file__).parent / "icons"


def names() -> tuple[str, ...]:
    """Every icon that ships."""
    return tuple(sorted(path.stem for path in _ICONS.glob("*.svg")))


def paint_icon(painter: QPainter, name: str, box: QRectF, colour: QColor) -> None:
    """Draw the icon into `box` in one colour, crisp at any size.

    Raises:
        FileNotFoundError: there is no such icon.
    """
    drawing = (_ICONS / f"{name}.svg").read_text(encoding="utf-8").replace("currentColor", colour.name())
    QSvgRenderer(QByteArray(drawing.encode())).render(painter, box)


class _Inked(QIconEngine):
    """Draws an icon in whatever colours the application wears at that moment."""

    def __init__(self, name: str, ink: str) -> None:
        super().__init__()
        self._name = name
        self._ink = ink

    def paint(self, painter: QPainter, rect, mode: QIcon.Mode, state: QIcon.State) -> None:
        colours = inks()
        colour = colours.soft if mode is QIcon.Mode.Disabled else getattr(colours, self._ink)
        if state is QIcon.State.On and mode is not QIcon.Mode.Disabled:
            colour = colours.sheet
        paint_icon(painter, self._name, QRectF(rect), colour)

    def pixmap(self, size: QSize, mode: QIcon.Mode, state: QIcon.State) -> QPixmap:
        sheet = QPixmap(size)
        sheet.fill(Qt.GlobalColor.transparent)
        painter = QPainter(sheet)
        self.paint(painter, sheet.rect(), mode, state)
        painter.end()
        return sheet

    def clone(self) -> QIconEngine:
        return _Inked(self._name, self._ink)


def icon(name: str, ink: str = "ink") -> QIcon:
    """An icon for a button or an action; `ink` names a colour of the look."""
    if not (_ICONS / f"{name}.svg").is_file():
        raise FileNotFoundError(f"the installation lacks its icon {name!r}")
    return QIcon(_Inked(name, ink))
