"""A plain car, drawn by us in metres: from above and from its side. It stands for no make."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QPainterPath

from ..stand import HALF_LENGTH, HALF_WIDTH, ROOF

WHEEL = 0.33
AXLES = (1.42, -1.38)


def from_above() -> tuple[QPainterPath, QPainterPath]:
    """The outline, and the fine lines (glass, hood and trunk seams). x to the nose, y to the car's right."""
    outline = QPainterPath(QPointF(HALF_LENGTH, 0))
    _mirrored_side(outline)
    fine = QPainterPath()
    for points in (
        ((0.98, -0.62), (1.12, -0.2), (1.12, 0.2), (0.98, 0.62)),
        ((0.42, -0.56), (0.52, -0.2), (0.52, 0.2), (0.42, 0.56)),
        ((-1.02, -0.52), (-1.1, -0.2), (-1.1, 0.2), (-1.02, 0.52)),
        ((-1.5, -0.6), (-1.62, -0.2), (-1.62, 0.2), (-1.5, 0.6)),
    ):
        start, one, two, end = (QPointF(*point) for point in points)
        fine.moveTo(start)
        fine.cubicTo(one, two, end)
    for side in (-1, 1):
        for ends in (((0.98, 0.62), (0.42, 0.56)), ((0.42, 0.56), (-1.02, 0.52)), ((-1.02, 0.52), (-1.5, 0.6))):
            fine.moveTo(QPointF(ends[0][0], side * ends[0][1]))
            fine.lineTo(QPointF(ends[1][0], side * ends[1][1]))
        fine.moveTo(QPointF(1.12, side * 0.66))
        fine.lineTo(QPointF(2.2, side * 0.6))
        fine.moveTo(QPointF(-1.6, side * 0.62))
        fine.lineTo(QPointF(-2.25, side * 0.56))
    return outline, fine


def _mirrored_side(path: QPainterPath) -> None:
    """Nose, right side, tail and left side of a rounded box that narrows a little towards both ends."""
    right = (
        ((HALF_LENGTH, 0.45), (2.34, 0.74), (2.12, 0.8)),
        ((1.7, 0.88), (1.2, HALF_WIDTH), (0.6, HALF_WIDTH)),
        ((0.1, 0.91), (-0.5, 0.91), (-1.0, HALF_WIDTH)),
        ((-1.5, HALF_WIDTH), (-1.9, 0.86), (-2.16, 0.78)),
        ((-2.34, 0.7), (-HALF_LENGTH, 0.4), (-HALF_LENGTH, 0.0)),
    )
    for one, two, end in right:
        path.cubicTo(QPointF(*one), QPointF(*two), QPointF(*end))
    for index in range(len(right) - 1, -1, -1):
        one, two, _end = right[index]
        start = right[index - 1][2] if index else (HALF_LENGTH, 0.0)
        path.cubicTo(QPointF(two[0], -two[1]), QPointF(one[0], -one[1]), QPointF(start[0], -start[1]))
    path.closeSubpath()


def from_side() -> tuple[QPainterPath, QPainterPath]:
    """The outline with its arches, and the fine lines (glass, door). x to the nose, y up from the ground."""
    outline = QPainterPath(QPointF(HALF_LENGTH, 0.42))
    outline.cubicTo(QPointF(2.42, 0.62), QPointF(2.36, 0.78), QPointF(2.2, 0.82))
    outline.cubicTo(QPointF(1.8, 0.9), QPointF(1.3, 0.93), QPointF(1.0, 0.95))
    outline.cubicTo(QPointF(0.8, 1.12), QPointF(0.6, 1.33), QPointF(0.38, ROOF))
    outline.cubicTo(QPointF(-0.1, ROOF + 0.03), QPointF(-0.6, ROOF), QPointF(-0.9, 1.3))
    outline.cubicTo(QPointF(-1.2, 1.18), QPointF(-1.4, 1.02), QPointF(-1.55, 0.96))
    outline.cubicTo(QPointF(-1.9, 0.95), QPointF(-2.2, 0.92), QPointF(-2.32, 0.86))
    outline.cubicTo(QPointF(-2.42, 0.7), QPointF(-HALF_LENGTH, 0.5), QPointF(-2.36, 0.36))
    rear, front = AXLES[1], AXLES[0]
    _arch(outline, rear)
    _arch(outline, front)
    outline.lineTo(QPointF(2.3, 0.3))
    outline.closeSubpath()
    fine = QPainterPath(QPointF(0.88, 0.97))
    fine.cubicTo(QPointF(0.7, 1.12), QPointF(0.55, 1.26), QPointF(0.36, 1.3))
    fine.cubicTo(QPointF(-0.1, 1.33), QPointF(-0.55, 1.3), QPointF(-0.82, 1.24))
    fine.cubicTo(QPointF(-1.05, 1.14), QPointF(-1.2, 1.03), QPointF(-1.3, 0.97))
    fine.closeSubpath()
    for x, top in ((0.86, 0.97), (-0.5, 1.29)):
        fine.moveTo(QPointF(x, top))
        fine.lineTo(QPointF(x, 0.34))
    return outline, fine


def _arch(path: QPainterPath, axle: float) -> None:
    """Go along the sill to an arch and over it, towards the nose."""
    wide = WHEEL + 0.08
    path.lineTo(QPointF(axle - wide, 0.28))
    path.cubicTo(
        QPointF(axle - wide, 0.28 + wide * 1.2), QPointF(axle + wide, 0.28 + wide * 1.2), QPointF(axle + wide, 0.28)
    )


def wheels() -> tuple[QRectF, ...]:
    """The wheels in the side view."""
    return tuple(QRectF(axle - WHEEL, 0.0, 2 * WHEEL, 2 * WHEEL) for axle in AXLES)
