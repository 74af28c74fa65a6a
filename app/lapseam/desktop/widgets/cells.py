"""How one shot's state looks: a fill pattern that can be told without any colour, drawn crisp at any size."""

from __future__ import annotations

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen

from lapseam.domain.coverage import State

from ..ribbon import Cell
from ..theme import Inks, letter

_ROOM_FOR_THICK = 7
"""Narrower than this, in pixels, a thick outline would fill an open cell and make it look covered."""


def paint_cell(painter: QPainter, box: QRectF, cell: Cell, colours: Inks) -> None:
    """Paint one cell into `box` (device-independent pixels, whole numbers for crisp edges)."""
    if cell.state is not State.NOT_FITTED:
        _paint_state(painter, box, cell, colours)
    if cell.waived:
        _paint_cross(painter, box, cell.state, colours)


def _paint_state(painter: QPainter, box: QRectF, cell: Cell, colours: Inks) -> None:
    if cell.state is State.COVERED:
        painter.fillRect(box, colours.ink)
        return
    if cell.state is State.PARTLY:
        _hatch(painter, box, colours.ink)
    elif cell.state is State.TAKEN:
        _dots(painter, box, colours.ink)
    elif cell.state is State.NOT_REACHABLE:
        _bar(painter, box, colours.ink)
    elif cell.state is State.DECIDE:
        _question(painter, box, colours.ink)
    signalled = cell.urgent and cell.state is State.MISSED and not cell.waived
    thin = max(1, round(box.width() / 16))
    thick = 2 * thin if box.width() >= _ROOM_FOR_THICK else thin
    _outline(painter, box, colours.signal if signalled else colours.ink, thick if signalled else thin)


def _outline(painter: QPainter, box: QRectF, colour: QColor, width: int) -> None:
    """A border inside the box, made of filled strips so that it never blurs over pixel edges."""
    x, y, w, h = box.x(), box.y(), box.width(), box.height()
    for strip in (
        QRectF(x, y, w, width),
        QRectF(x, y + h - width, w, width),
        QRectF(x, y, width, h),
        QRectF(x + w - width, y, width, h),
    ):
        painter.fillRect(strip, colour)


def _clipped(painter: QPainter, box: QRectF) -> None:
    painter.save()
    painter.setClipRect(box)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)


def _hatch(painter: QPainter, box: QRectF, colour: QColor) -> None:
    _clipped(painter, box)
    painter.setPen(QPen(colour, 1.4))
    step = 4.0
    reach = box.width() + box.height()
    at = -box.height()
    lines = []
    while at < reach:
        foot = QPointF(box.x() + at, box.bottom())
        lines.append(QLineF(foot, foot + QPointF(box.height(), -box.height())))
        at += step
    painter.drawLines(lines)
    painter.restore()


def _dots(painter: QPainter, box: QRectF, colour: QColor) -> None:
    """Rows of dots that stay inside the cell, one column where it is narrow."""
    _clipped(painter, box)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(colour)
    columns = max(1, int((box.width() - 2) // 4))
    rows = max(1, int((box.height() - 2) // 4))
    for column in range(columns):
        for row in range(rows):
            x = box.x() + box.width() * (column + 0.5) / columns
            y = box.y() + box.height() * (row + 0.5) / rows
            painter.drawEllipse(QPointF(x, y), 1.1, 1.1)
    painter.restore()


def _bar(painter: QPainter, box: QRectF, colour: QColor) -> None:
    thick = max(3, round(box.height() * 0.16))
    painter.fillRect(QRectF(box.x(), round(box.center().y() - thick / 2), box.width(), thick), colour)


def _question(painter: QPainter, box: QRectF, colour: QColor) -> None:
    """A question mark as tall as fits."""
    painter.save()
    font = letter(13, letter().Weight.Bold)
    font.setPixelSize(max(8, int(min(box.height() * 0.72, box.width() * 1.7))))
    painter.setFont(font)
    painter.setPen(colour)
    painter.drawText(box, Qt.AlignmentFlag.AlignCenter, "?")
    painter.restore()


def _paint_cross(painter: QPainter, box: QRectF, beneath: State, colours: Inks) -> None:
    """An X over the state, in the sheet's colour where the state beneath is solid."""
    _clipped(painter, box)
    halo, line = (colours.ink, colours.sheet) if beneath is State.COVERED else (colours.sheet, colours.ink)
    for colour, width in ((halo, 3.5), (line, 1.5)):
        painter.setPen(QPen(colour, width))
        painter.drawLine(QLineF(box.topLeft(), box.bottomRight()))
        painter.drawLine(QLineF(box.topRight(), box.bottomLeft()))
    painter.restore()
