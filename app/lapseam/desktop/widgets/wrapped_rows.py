"""Rows of a list that are as high as their words need: a list reckons without the padding of the style sheet."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QSize, Qt
from PySide6.QtGui import QFont, QFontMetrics
from PySide6.QtWidgets import QListView, QListWidget, QStyledItemDelegate

from ..theme import px

_BESIDE, _ABOVE = 24, 18
"""Padding of an item in the style sheet and the mark at its left, both sides together, at 100 %."""


class _Wrapped(QStyledItemDelegate):
    """Breaks words at the width that is left for them."""

    def __init__(self, view: QListView) -> None:
        super().__init__(view)
        self._view = view

    def sizeHint(self, option, index: QModelIndex | QPersistentModelIndex) -> QSize:
        font = index.data(Qt.ItemDataRole.FontRole)
        metrics = QFontMetrics(font if isinstance(font, QFont) else self._view.font())
        width = max(self._view.viewport().width() - px(_BESIDE), px(80))
        words = str(index.data(Qt.ItemDataRole.DisplayRole))
        box = metrics.boundingRect(0, 0, width, 100_000, int(Qt.TextFlag.TextWordWrap), words)
        return QSize(width, box.height() + px(_ABOVE))


def wrap_rows(view: QListWidget) -> None:
    """Let the rows of a list be as high as their words need, at any width."""
    view.setWordWrap(True)
    view.setTextElideMode(Qt.TextElideMode.ElideNone)
    view.setResizeMode(QListView.ResizeMode.Adjust)
    view.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    view.setItemDelegate(_Wrapped(view))
