"""Everything a person can do, as actions with words and keys: for buttons, for keys and for finding one by typing.

Keys of one character with no modifier can be turned off (WCAG 2.2, 2.1.4): in gloves, or where a voice is typing, they
are pressed by accident. The actions themselves stay reachable.
"""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QObject, Qt
from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QWidget


class Actions(QObject):
    """The actions of one window, in the order in which they are offered."""

    def __init__(self, window: QWidget) -> None:
        super().__init__(window)
        self._window = window
        self._actions: dict[str, QAction] = {}
        self._keys: dict[str, str] = {}
        self.single_keys = True

    def add(
        self,
        name: str,
        words: str,
        do: Callable[[], None],
        *,
        key: str = "",
        drawing: str = "",
        where: QWidget | None = None,
    ) -> QAction:
        """Add an action. With `where` its key works only while that widget or a child of it has the keyboard."""
        action = QAction(words, where or self._window)
        action.setObjectName(name)
        action.setProperty("drawing", drawing)
        if where is not None:
            action.setShortcutContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        action.triggered.connect(lambda _checked=False: do())
        (where or self._window).addAction(action)
        self._actions[name] = action
        self._keys[name] = key
        self._set_key(name)
        return action

    def action(self, name: str) -> QAction:
        """The action of that name.

        Raises:
            KeyError: there is none.
        """
        return self._actions[name]

    def all(self) -> tuple[QAction, ...]:
        """Every action, in the order they were added."""
        return tuple(self._actions.values())

    def use_single_keys(self, wanted: bool) -> None:
        """Let keys of one character work, or not."""
        self.single_keys = wanted
        for name in self._actions:
            self._set_key(name)

    def _set_key(self, name: str) -> None:
        key = self._keys[name]
        works = self.single_keys or not is_single(key)
        self._actions[name].setShortcut(QKeySequence(key if works else ""))


def is_single(key: str) -> bool:
    """Whether a key is one printable character with no modifier."""
    return len(key) == 1 and key.isprintable()
