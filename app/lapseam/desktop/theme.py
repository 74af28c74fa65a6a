"""The look on the screen: palette, type and one style sheet, worn by the whole application.

Widgets that paint themselves ask `inks()` and `px()`; both read the application's palette and font, so there is no
second place that knows the theme.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from PySide6.QtGui import QColor, QFont, QFontDatabase, QGuiApplication, QPalette
from PySide6.QtWidgets import QApplication

from .look import Colours, Ground, Look, read_look
from .stylesheet import style_sheet

READING_PX = 16
"""The size of running text at 100 %; every other length is given for this and scaled with it."""

_FONTS = Path(__file__).parent / "fonts"
_ROLES = {
    "ground": (QPalette.ColorRole.Window,),
    "sheet": (QPalette.ColorRole.Base, QPalette.ColorRole.Button, QPalette.ColorRole.ToolTipBase),
    "ink": (
        QPalette.ColorRole.WindowText,
        QPalette.ColorRole.Text,
        QPalette.ColorRole.ButtonText,
        QPalette.ColorRole.ToolTipText,
    ),
    "soft": (QPalette.ColorRole.PlaceholderText,),
    "line": (QPalette.ColorRole.Mid,),
    "signal": (QPalette.ColorRole.Highlight,),
    "on_signal": (QPalette.ColorRole.HighlightedText,),
    "focus": (QPalette.ColorRole.Link,),
    "shade": (QPalette.ColorRole.AlternateBase,),
}


@dataclass(frozen=True, slots=True)
class Inks:
    """The nine colours of the look, for painting."""

    ground: QColor
    sheet: QColor
    ink: QColor
    soft: QColor
    line: QColor
    signal: QColor
    on_signal: QColor
    focus: QColor
    shade: QColor


def inks() -> Inks:
    """The colours the application wears now."""
    palette = QGuiApplication.palette()
    return Inks(**{name: palette.color(roles[0]) for name, roles in _ROLES.items()})


def px(length: float) -> int:
    """A length given at 100 % text size, in pixels at the size now worn."""
    return round(length * QGuiApplication.font().pixelSize() / READING_PX)


def letter(size: float = READING_PX, weight: QFont.Weight = QFont.Weight.Normal, *, numbers: bool = False) -> QFont:
    """The house's type at a size given for 100 %; `numbers` in figures of equal width."""
    font = QFont(QGuiApplication.font())
    if numbers:
        font.setFamilies([read_look().numbers])
    font.setPixelSize(px(size))
    font.setWeight(weight)
    return font


def load_fonts() -> tuple[str, ...]:
    """Make the shipped fonts known to Qt and give their families.

    Raises:
        FileNotFoundError: a font file is missing or broken (a packaging fault of ours).
    """
    families: list[str] = []
    for path in sorted(_FONTS.glob("*.ttf")):
        number = QFontDatabase.addApplicationFont(str(path))
        if number < 0:
            raise FileNotFoundError(f"the installation's font {path.name} cannot be read")
        families.extend(QFontDatabase.applicationFontFamilies(number))
    if not families:
        raise FileNotFoundError("the installation lacks its fonts")
    return tuple(dict.fromkeys(families))


def dress(app: QApplication, ground: Ground, *, text_percent: int = 100) -> None:
    """Put the whole application into one ground and text size (100 to 200 percent)."""
    look = read_look()
    if look.family not in QFontDatabase.families():
        load_fonts()
    app.setStyle("Fusion")
    font = QFont(look.family)
    font.setPixelSize(round(look.reading_px * text_percent / 100))
    app.setFont(font)
    app.setPalette(_palette(look.colours[ground]))
    app.setStyleSheet(style_sheet(look, look.colours[ground], font.pixelSize() / READING_PX))


def _palette(colours: Colours) -> QPalette:
    palette = QPalette()
    for name, roles in _ROLES.items():
        for role in roles:
            palette.setColor(role, QColor(getattr(colours, name)))
    for role in (QPalette.ColorRole.WindowText, QPalette.ColorRole.Text, QPalette.ColorRole.ButtonText):
        palette.setColor(QPalette.ColorGroup.Disabled, role, QColor(colours.soft))
    return palette


def text_percent_for(screen_height_px: int, look: Look | None = None) -> int:
    """The text size to begin with on a screen of that height, so that a large screen is read from farther away."""
    reading = (look or read_look()).reading_px
    if screen_height_px >= 80 * reading:
        return 125
    return 100
