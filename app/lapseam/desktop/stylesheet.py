"""The one style sheet, filled from the look. Widgets choose a rule by object name or by their `part` property."""

from __future__ import annotations

from string import Template

from .look import Colours, Look

_SHEET = Template("""
QMainWindow, QDialog { background: $ground; }
QToolTip { background: $ink; color: $sheet; border: 1px solid $ink; padding: ${s4}px ${s8}px; }
QLabel { background: transparent; }
QWidget[part="sheet"] { background: $sheet; }
QWidget[part="ground"] { background: $ground; }
QWidget[part="shade"] { background: $shade; }
QFrame[part="rule"] { background: $line; border: none; max-height: 1px; min-height: 1px; }
QFrame[part="stand"] { background: $line; border: none; max-width: 1px; min-width: 1px; }
QLabel[part="eyebrow"], QLabel[part="soft"] { color: $soft; }
QLabel[part="eyebrow"], QLabel[part="soft"], QLabel[part="small"] { font-size: ${f14}px; }
QLabel[part="tiny"] { font-size: ${f13}px; color: $soft; }
QLabel[part="title"] { font-size: ${f34}px; font-weight: 700; }
QLabel[part="bay"] { font-size: ${f34}px; font-weight: 700; }
QLabel[part="bay-plain"] { font-size: ${f34}px; }
QLabel[part="bay-big"] { font-size: ${f44}px; font-weight: 700; }
QLabel[part="heading"] { font-size: ${f26}px; font-weight: 700; }
QLabel[part="car"] { font-size: ${f20}px; font-weight: 700; }
QLabel[part="lead"] { font-size: ${f20}px; }
QLabel[part="figure"] { font-family: "$numbers"; font-size: ${f44}px; font-weight: 400; }
QLabel[part="stock"] { font-family: "$numbers"; font-size: ${f16}px; }
QLabel[part="signal"] { color: $signal; font-weight: 700; font-size: ${f14}px; }
QFrame#caution { background: $shade; border: none; border-left: ${s4}px solid $signal; }
QFrame#caution QLabel { font-size: ${f14}px; }
QFrame#question { background: $sheet; border: 2px solid $signal; border-radius: ${radius}px; }
QFrame#notice { background: $shade; border: none; border-left: ${s8}px solid $ink; }
QFrame#notice[trouble="true"] { border-left: ${s8}px solid $signal; }
QFrame#jobs { background: $shade; border-top: 1px solid $line; }
QFrame#header { background: $sheet; border-bottom: 1px solid $line; }
QFrame#actions { background: $sheet; border-top: 1px solid $line; }
QPushButton { background: transparent; color: $ink; border: 1px solid $ink; border-radius: ${radius}px;
  padding: 0 ${s12}px; min-height: ${b36}px; font-weight: 700; }
QPushButton:hover { background: $shade; }
QPushButton:pressed { background: $line; color: $ink; }
QPushButton:disabled { border: 1px dashed $soft; color: $soft; font-weight: 400; }
QPushButton:focus { border: 3px solid $focus; padding: 0 ${p10}px; }
QPushButton:checked { background: $ink; color: $sheet; }
QPushButton[part="go"] { background: $signal; border-color: $signal; color: $onsignal; }
QPushButton[part="go"]:disabled { background: transparent; color: $soft; border: 1px dashed $soft; }
QPushButton[part="go"]:focus { border: 3px solid $focus; }
QPushButton[part="quiet"] { border-color: transparent; }
QPushButton[part="quiet"]:disabled { border-color: transparent; }
QPushButton[part="quiet"]:focus { border: 3px solid $focus; }
QLineEdit, QComboBox, QSpinBox { background: $sheet; color: $ink; border: 1px solid $ink;
  border-radius: ${radius}px; padding: 0 ${s12}px; min-height: ${b46}px; selection-background-color: $signal;
  selection-color: $onsignal; }
QPlainTextEdit { background: $sheet; color: $ink; border: 1px solid $ink; border-radius: ${radius}px;
  padding: ${s4}px ${s8}px; selection-background-color: $signal; selection-color: $onsignal; }
QPlainTextEdit:focus { border: 3px solid $focus; padding: ${s2}px ${s8}px; }
QLineEdit:disabled, QPlainTextEdit:disabled, QComboBox:disabled { border: 1px dashed $soft; color: $soft; }
QListWidget::item { padding: ${s8}px; border-left: ${s4}px solid transparent; color: $ink; }
QListWidget::item:disabled { color: $soft; padding: ${s12}px ${s8}px ${s4}px; }
QListWidget::item:selected { background: $shade; color: $ink; border-left: ${s4}px solid $signal; }
QLineEdit { placeholder-text-color: $soft; }
QLineEdit:focus, QComboBox:focus, QSpinBox:focus { border: 3px solid $focus; padding: 0 ${p10}px; }
QComboBox::drop-down { border: none; width: ${s32}px; }
QComboBox QAbstractItemView { background: $sheet; color: $ink; border: 1px solid $ink;
  selection-background-color: $ink; selection-color: $sheet; outline: none; }
QProgressBar { background: $sheet; border: 1px solid $ink; border-radius: 0; text-align: center; color: $ink;
  max-height: ${s16}px; min-height: ${s16}px; }
QProgressBar::chunk { background: $ink; }
QListView { background: $sheet; border: 1px solid $line; outline: none; }
QListView[part="suggestions"] { border: 2px solid $ink; }
QListView:focus { border: 2px solid $focus; }
QScrollArea { border: none; background: transparent; }
QScrollArea > QWidget > QWidget { background: transparent; }
QScrollBar:vertical { background: transparent; width: ${s12}px; margin: 0; }
QScrollBar:horizontal { background: transparent; height: ${s12}px; margin: 0; }
QScrollBar::handle { background: $soft; border-radius: ${radius}px; }
QScrollBar::handle:vertical { min-height: ${s32}px; margin: 0 ${s2}px; }
QScrollBar::handle:horizontal { min-width: ${s32}px; margin: ${s2}px 0; }
QScrollBar::add-line, QScrollBar::sub-line { width: 0; height: 0; }
QFrame#palette, QFrame#choices { background: $sheet; border: 2px solid $ink; }
QFrame#palette QListView { border: none; border-top: 1px solid $line; }
QFrame#palette QListView::item { border-left: ${s4}px solid transparent; }
QFrame#palette QListView::item:selected { background: $shade; color: $ink; border-left: ${s4}px solid $signal; }
QFrame#car { background: $sheet; border: 1px solid $line; border-radius: ${radius}px; }
QFrame#car:focus { border: 3px solid $focus; }
QFrame#gap { background: $sheet; border: none; border-bottom: 1px solid $line; }
QFrame#gap[rust="true"] { border-left: ${s8}px solid $signal; }
""")


def style_sheet(look: Look, colours: Colours, scale: float) -> str:
    """The whole sheet in one ground; `scale` is the text size as a factor of 100 %."""
    sizes = {f"f{size}": round(size * scale) for size in (13, 14, 16, 20, 26, 34, 44)}
    spaces = {f"s{size}": round(size * scale) for size in (2, 4, 8, 12, 16, 24, 32)}
    return _SHEET.substitute(
        ground=colours.ground,
        sheet=colours.sheet,
        ink=colours.ink,
        soft=colours.soft,
        line=colours.line,
        signal=colours.signal,
        onsignal=colours.on_signal,
        focus=colours.focus,
        shade=colours.shade,
        numbers=look.numbers,
        radius=look.radius_px,
        b36=round(36 * scale),
        b46=round(46 * scale),
        p10=max(0, round(12 * scale) - 2),
        **sizes,
        **spaces,
    )
