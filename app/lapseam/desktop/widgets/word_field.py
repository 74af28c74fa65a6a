"""A field that completes on the vocabulary while one types, by the trade's names and their synonyms."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from PySide6.QtCore import QPoint, Qt, Signal
from PySide6.QtGui import QFocusEvent, QHideEvent, QKeyEvent
from PySide6.QtWidgets import QLineEdit, QListWidget, QWidget

from lapseam.domain.completion import Offer, completions, named

from ..theme import px
from ..words import _


class WordField(QLineEdit):
    """Holds one id of those offered, shown by its name. Leaving the field takes the best that the words can mean.

    Signals:
        picked(id): another one is chosen; "" where the words are none.
    """

    picked = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._offers: tuple[Offer, ...] = ()
        self._first: frozenset[str] = frozenset()
        self._chosen = ""
        self._found: tuple[Offer, ...] = ()
        self.suggestions = Suggestions()
        self.suggestions.itemClicked.connect(lambda _item: self._take())
        self.textEdited.connect(self._typed)

    def offer(self, offers: tuple[Offer, ...], first: Iterable[str] = ()) -> None:
        """Offer these; those of `first` go before others as good. What is being typed stays."""
        self._offers, self._first = offers, frozenset(first)
        if not self.hasFocus():
            self.choose(self._chosen)

    def choose(self, one: str) -> None:
        """Show this one; nothing is signalled."""
        if one != self._chosen or not self.unknown:
            self._chosen = one
            self.setText(next((offer.name for offer in self._offers if offer.id == one), ""))
            self.setCursorPosition(0)

    @property
    def chosen(self) -> str:
        """The id that is chosen, "" for none."""
        return self._chosen

    @property
    def unknown(self) -> bool:
        """Whether something stands there that is none of those offered."""
        return bool(self.text().strip()) and not self._chosen

    def settle(self) -> None:
        """Take the best that the words can mean."""
        self.suggestions.hide()
        typed = self.text()
        if not typed.strip() or (self._chosen and named(typed, self._offers) is not None):
            self._pick(self._chosen if typed.strip() else "")
            return
        best = next(iter(completions(typed, self._offers, first=self._first, most=1)), None)
        if best is not None:
            self.setText(best.name)
        self._pick(best.id if best is not None else "")

    def keyPressEvent(self, event: QKeyEvent) -> None:
        listed = self.suggestions.isVisible()
        if event.key() == Qt.Key.Key_Down and not listed:
            self._open("" if self._chosen else self.text())
        elif event.key() in (Qt.Key.Key_Down, Qt.Key.Key_Up) and listed:
            self.suggestions.step(1 if event.key() == Qt.Key.Key_Down else -1)
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._take() if listed else self.settle()
            self.focusNextChild()
        elif event.key() == Qt.Key.Key_Escape and listed:
            self.suggestions.hide()
        else:
            super().keyPressEvent(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        if self.suggestions.isVisible() and self.suggestions.currentRow() > 0:
            self._take()
        self.settle()

    def hideEvent(self, event: QHideEvent) -> None:
        super().hideEvent(event)
        self.suggestions.hide()

    def _typed(self, words: str) -> None:
        found = named(words, self._offers)
        self._pick(found.id if found else "")
        self._open(words)

    def _open(self, words: str) -> None:
        self._found = completions(words, self._offers, first=self._first)
        if self._found and self.hasFocus():
            self.suggestions.show_below(self, [one.name for one in self._found])
        else:
            self.suggestions.hide()
        best = self._found[0].name if self._found else _("Nothing is called so.")
        self.setAccessibleDescription(best)

    def _take(self) -> None:
        row = self.suggestions.currentRow()
        self.suggestions.hide()
        if 0 <= row < len(self._found):
            self.setText(self._found[row].name)
            self.setCursorPosition(0)
            self._pick(self._found[row].id)

    def _pick(self, one: str) -> None:
        if one != self._chosen:
            self._chosen = one
            self.picked.emit(one)


class Suggestions(QListWidget):
    """What the words typed may become, over what lies below the field. The field keeps the keyboard."""

    def __init__(self) -> None:
        super().__init__()
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setAccessibleName(_("What the words may mean"))
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setProperty("part", "suggestions")
        self.hide()

    def show_below(self, field: QWidget, names: Sequence[str]) -> None:
        """Show these, the first chosen, as high as they need and there is room for."""
        window = field.window()
        if self.parentWidget() is not window:
            self.setParent(window)
        self.clear()
        self.addItems(list(names))
        self.setCurrentRow(0)
        below = field.mapTo(window, QPoint(0, field.height()))
        high = min(self.sizeHintForRow(0) * len(names) + px(4), window.height() - below.y() - px(8))
        self.setGeometry(below.x(), below.y(), field.width(), max(high, self.sizeHintForRow(0)))
        self.show()
        self.raise_()

    def step(self, by: int) -> None:
        """Choose a neighbour."""
        self.setCurrentRow(min(max(self.currentRow() + by, 0), self.count() - 1))
