"""A column that scrolls only where it must, and never squeezes wrapped words to fit."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtWidgets import QFrame, QScrollArea, QWidget


class ColumnScroll(QScrollArea):
    """Gives its column the height that its words need at the width there is.

    A plain scroll area goes by the words' height at their own favourite width: too much where there is room,
    too little where there is none.
    """

    def __init__(self, column: QWidget, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWidgetResizable(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._column = column
        self.setWidget(column)
        column.installEventFilter(self)

    def resizeEvent(self, event) -> None:
        self._fit()
        super().resizeEvent(event)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if watched is self._column and event.type() == QEvent.Type.LayoutRequest:
            self._fit()
        return super().eventFilter(watched, event)

    def _fit(self) -> None:
        layout = self._column.layout()
        if layout is not None:
            width = self.viewport().width()
            height = layout.totalHeightForWidth(width) if layout.hasHeightForWidth() else layout.sizeHint().height()
            self._column.setMinimumHeight(max(0, height))
