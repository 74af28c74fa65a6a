"""The setups as chapters in one row, each with what is open in it."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QFont, QFontMetricsF, QKeyEvent, QPainter, QPen
from PySide6.QtWidgets import QAbstractButton, QHBoxLayout, QSizePolicy, QWidget

from ..screens.walk.state import Chapter
from ..theme import inks, letter, px
from ..words import _
from .bay_button import TARGET


class ChapterTab(QAbstractButton):
    """One setup."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.chapter: Chapter | None = None
        self.setCheckable(True)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)

    def show_chapter(self, chapter: Chapter) -> None:
        """Show another setup or count."""
        self.chapter = chapter
        self.setText(chapter.name)
        self.setChecked(chapter.current)
        self.setToolTip(chapter.words)
        self.setAccessibleName(chapter.words)
        self.updateGeometry()
        self.update()

    def count_words(self) -> str:
        """The count under the name."""
        if self.chapter is None:
            return ""
        if self.chapter.open == 0:
            return _("done")
        return _("{open} of {shots} open").format(open=self.chapter.open, shots=self.chapter.shots)

    def sizeHint(self) -> QSize:
        name = QFontMetricsF(letter(14, QFont.Weight.Bold)).horizontalAdvance(self.text())
        count = QFontMetricsF(letter(12, numbers=True)).horizontalAdvance(self.count_words())
        return QSize(round(max(name, count)) + px(22), px(TARGET + 2))

    def minimumSizeHint(self) -> QSize:
        return QSize(px(TARGET), px(TARGET + 2))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Left, Qt.Key.Key_Right, Qt.Key.Key_Return, Qt.Key.Key_Enter):
            event.ignore()
        else:
            super().keyPressEvent(event)

    def paintEvent(self, event) -> None:
        colours = inks()
        painter = QPainter(self)
        chosen = self.isChecked()
        if chosen:
            painter.fillRect(self.rect(), colours.sheet)
            painter.fillRect(0, 0, self.width(), px(4), colours.signal)
        elif self.underMouse():
            painter.fillRect(self.rect(), colours.shade)
        font = letter(14, QFont.Weight.Bold if chosen else QFont.Weight.Normal)
        painter.setFont(font)
        painter.setPen(colours.ink)
        room = self.width() - px(16)
        name = QFontMetricsF(font).elidedText(self.text(), Qt.TextElideMode.ElideRight, room)
        painter.drawText(QRectF(px(10), px(7), room, px(22)), Qt.AlignmentFlag.AlignVCenter, name)
        done = self.chapter is not None and self.chapter.open == 0
        small = letter(12, numbers=not done)
        painter.setFont(small)
        painter.setPen(colours.soft)
        count = self.count_words()
        if QFontMetricsF(small).horizontalAdvance(count) > room and self.chapter is not None:
            count = f"{self.chapter.open}/{self.chapter.shots}"
        painter.drawText(QRectF(px(10), px(27), room, px(18)), Qt.AlignmentFlag.AlignVCenter, count)
        if self.hasFocus():
            painter.setPen(QPen(colours.focus, 3))
            painter.drawRect(self.rect().adjusted(1, 1, -2, -2))


class ChapterStrip(QWidget):
    """The row. Left and Right walk it, Enter opens one.

    Signals:
        wanted(setup): the person wants to go to that setup.
    """

    wanted = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._tabs: list[ChapterTab] = []
        self._row = QHBoxLayout(self)
        self._row.setContentsMargins(px(8), 0, px(8), 0)
        self._row.setSpacing(px(2))
        self._row.addStretch(1)
        self.setAccessibleName(_("Setups"))

    def show_chapters(self, chapters: tuple[Chapter, ...]) -> None:
        """Show these setups."""
        while len(self._tabs) > len(chapters):
            self._tabs.pop().deleteLater()
        while len(self._tabs) < len(chapters):
            tab = ChapterTab()
            tab.clicked.connect(lambda _checked=False, tab=tab: self._pressed(tab))
            self._row.insertWidget(len(self._tabs), tab)
            self._tabs.append(tab)
        for tab, chapter in zip(self._tabs, chapters, strict=True):
            tab.show_chapter(chapter)

    def tabs(self) -> tuple[ChapterTab, ...]:
        """The tabs in walking order."""
        return tuple(self._tabs)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        at = next((place for place, tab in enumerate(self._tabs) if tab.hasFocus()), None)
        steps = {Qt.Key.Key_Left: -1, Qt.Key.Key_Right: 1}
        if at is None:
            super().keyPressEvent(event)
        elif event.key() in steps:
            to = min(max(at + steps[Qt.Key(event.key())], 0), len(self._tabs) - 1)
            self._tabs[to].setFocus(Qt.FocusReason.TabFocusReason)
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._tabs[at].click()
        else:
            super().keyPressEvent(event)

    def _pressed(self, tab: ChapterTab) -> None:
        if tab.chapter is not None:
            tab.setChecked(tab.chapter.current)
            self.wanted.emit(tab.chapter.id)
