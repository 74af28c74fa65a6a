"""Find an action: type a few letters of what you want to do, and do it."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtGui import QAction, QKeyEvent, QKeySequence
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QListWidget, QListWidgetItem, QVBoxLayout, QWidget

from ..theme import px
from ..words import _
from .labels import label
from .overlay import Overlay

_ROWS_AT_MOST = 10


def fitting(actions: tuple[QAction, ...], typed: str) -> tuple[QAction, ...]:
    """The actions whose words hold every typed word, those that begin with one first; what can be done now first."""
    wanted = typed.casefold().split()

    def rank(action: QAction) -> tuple[bool, bool]:
        words = action.text().casefold().split()
        begins = all(any(word.startswith(want) for word in words) for want in wanted)
        return (not action.isEnabled(), not begins)

    found = [action for action in actions if all(want in action.text().casefold() for want in wanted)]
    return tuple(sorted(found, key=rank))


class FindAnAction(Overlay):
    """A sheet over the window with a line to type in and the actions that fit.

    Signals:
        closed(): it was put away, with or without doing something.
    """

    closed = Signal()

    def __init__(self, window: QWidget) -> None:
        super().__init__(window, "palette", wide=560)
        self._actions: tuple[QAction, ...] = ()
        self.line = QLineEdit(placeholderText=_("What do you want to do?"))
        self.line.setAccessibleName(_("Find an action"))
        self.found = QListWidget()
        self.found.setAccessibleName(_("Actions found"))
        self.found.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.nothing = label("soft", text=_("No action has these words."))
        self.line.textChanged.connect(self._search)
        self.line.installEventFilter(self)
        self.found.itemClicked.connect(lambda _item: self._do())
        column = QVBoxLayout(self.sheet)
        column.setContentsMargins(px(14), px(14), px(14), px(14))
        column.addWidget(self.line)
        column.addWidget(self.found, 1)
        column.addWidget(self.nothing)

    def open_with(self, actions: tuple[QAction, ...]) -> None:
        """Open over the window's middle with these actions to choose from."""
        self._actions = actions
        self.line.clear()
        self._search("")
        self.come_up()
        self.line.setFocus()

    def put_away(self) -> None:
        """Close it and give the keyboard back."""
        super().put_away()
        self.closed.emit()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        typed = watched is self.line and event.type() == QEvent.Type.KeyPress
        if typed and isinstance(event, QKeyEvent) and self._key(event.key()):
            return True
        return super().eventFilter(watched, event)

    def _key(self, key: int) -> bool:
        steps = {Qt.Key.Key_Down: 1, Qt.Key.Key_Up: -1, Qt.Key.Key_PageDown: 8, Qt.Key.Key_PageUp: -8}
        if key == Qt.Key.Key_Escape:
            self.put_away()
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._do()
        elif key in steps and self.found.count():
            row = self.found.currentRow() + steps[Qt.Key(key)]
            self.found.setCurrentRow(min(max(row, 0), self.found.count() - 1))
        else:
            return False
        return True

    def _search(self, typed: str) -> None:
        self.found.clear()
        for action in fitting(self._actions, typed):
            item = QListWidgetItem(self.found)
            item.setData(Qt.ItemDataRole.UserRole, action)
            item.setData(Qt.ItemDataRole.AccessibleTextRole, _spoken(action))
            row = _row(action)
            item.setSizeHint(row.sizeHint())
            self.found.setItemWidget(item, row)
        self.found.setCurrentRow(0)
        self.found.setVisible(self.found.count() > 0)
        self.nothing.setVisible(self.found.count() == 0)
        rows = min(self.found.count(), _ROWS_AT_MOST)
        self.found.setFixedHeight(rows * (self.found.sizeHintForRow(0) if rows else 0) + px(4))
        if self.isVisible():
            self.place()

    def _do(self) -> None:
        item = self.found.currentItem()
        action = item.data(Qt.ItemDataRole.UserRole) if item else None
        if action is not None and action.isEnabled():
            self.put_away()
            action.trigger()


def key_words(action: QAction) -> str:
    """An action's key as people call it."""
    return action.shortcut().toString(QKeySequence.SequenceFormat.NativeText).replace("Return", _("Enter"))


def _spoken(action: QAction) -> str:
    words = [action.text(), key_words(action)]
    if not action.isEnabled():
        words.append(_("not now"))
    return ", ".join(word for word in words if word)


def _row(action: QAction) -> QWidget:
    row = QWidget()
    line = QHBoxLayout(row)
    line.setContentsMargins(px(10), px(8), px(10), px(8))
    words = label("" if action.isEnabled() else "soft", text=action.text())
    key = label("stock", text=key_words(action))
    line.addWidget(words, 1)
    line.addWidget(key if action.isEnabled() else label("tiny", text=_("not now")))
    return row
