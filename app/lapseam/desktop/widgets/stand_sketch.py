"""The sketch of where to stand: a plain car, the camera, and what its lens sees. It stands beside the picture."""

from __future__ import annotations

from math import cos, hypot, radians, sin

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen, QPolygonF, QTransform
from PySide6.QtWidgets import QSizePolicy, QWidget

from ..stand import HALF_LENGTH, HALF_WIDTH, LIFTED, ROOF, Stand, View
from ..theme import Inks, inks, letter, px
from ..words import _
from .car_outline import from_above, from_side, wheels

_MARGIN = 10


class StandSketch(QWidget):
    """Draws one `Stand`. It carries the same in words for a screen reader."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._stand: Stand | None = None
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setAccessibleName(_("Sketch of where to stand"))

    def show_stand(self, stand: Stand | None) -> None:
        """Draw another stand, or nothing."""
        self._stand = stand
        self.setAccessibleDescription(stand.words if stand else "")
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(px(300), px(150))

    def minimumSizeHint(self) -> QSize:
        return QSize(px(160), px(110))

    def paintEvent(self, event) -> None:
        if self._stand is None:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setFont(letter(12))
        colours = inks()
        scene = _Scene(painter, colours, QRectF(self.rect()).adjusted(px(2), px(2), -px(2), -px(2)))
        if self._stand.view is View.PLAN:
            scene.plan(self._stand)
        elif self._stand.view is View.TABLE:
            scene.table(self._stand)
        else:
            scene.side(self._stand)
        painter.end()


class _Scene:
    """One drawing: metres on one side, pixels on the other."""

    def __init__(self, painter: QPainter, colours: Inks, box: QRectF) -> None:
        self.painter = painter
        self.colours = colours
        self.box = box
        self.to_pixels = QTransform()

    def plan(self, stand: Stand) -> None:
        """The car from above, its nose to the left, the camera where it stands, and the lens's height beside it."""
        room = QRectF(self.box)
        if stand.height_m is not None:
            room.setWidth(room.width() - px(78))
            self._height_rule(stand, QRectF(room.right() + px(6), self.box.top(), px(72), self.box.height()))
        self._fit(_bounds_of_plan(stand), room)
        outline, fine = from_above()
        self._cone(stand)
        self._draw(outline, self.colours.ink, 1.5)
        self._draw(fine, self.colours.soft, 1.0)
        self._nose_word()
        self._camera(stand)

    def side(self, stand: Stand) -> None:
        """The car from its side, on its wheels or raised, with the camera under or in it."""
        lifted = stand.view is View.LIFT
        top = LIFTED + ROOF if lifted else ROOF + 0.15
        self._fit(QRectF(-HALF_LENGTH - 0.5, -0.05, 2 * HALF_LENGTH + 1.4, top + 0.15), self.box)
        self._line(QPointF(-HALF_LENGTH - 0.5, 0), QPointF(HALF_LENGTH + 0.5, 0), self.colours.soft, 1.0)
        base = LIFTED - 0.28 if lifted else 0.0
        outline, fine = from_side()
        shift = QTransform.fromTranslate(0, base)
        if lifted:
            self._lift(base)
        self._cone(stand)
        self._draw(shift.map(outline), self.colours.ink, 1.5)
        self._draw(shift.map(fine), self.colours.soft, 1.0)
        for wheel in wheels():
            ring = QPainterPath()
            ring.addEllipse(wheel.translated(0, base))
            self._draw(ring, self.colours.ink, 1.5)
        if lifted:
            self._person(stand)
        self._camera(stand)
        self._front_word(base)

    def table(self, stand: Stand) -> None:
        """A table from its side with the camera above it."""
        reach = max(0.9, stand.camera.y - 0.75 + 0.25)
        self._fit(QRectF(-1.6, -0.05, 3.2, 0.75 + reach + 0.1), self.box)
        ink = self.colours.ink
        for start, end in (((-0.9, 0.75), (0.9, 0.75)), ((-0.75, 0.75), (-0.75, 0)), ((0.75, 0.75), (0.75, 0))):
            self._line(QPointF(*start), QPointF(*end), ink, 1.5)
        self._line(QPointF(-1.6, 0), QPointF(1.6, 0), self.colours.soft, 1.0)
        self._cone(stand)
        self._line(QPointF(-0.2, 0.77), QPointF(0.2, 0.77), ink, 4.0)
        self._camera(stand)

    def _fit(self, metres: QRectF, box: QRectF) -> None:
        """Scale `metres` into `box`, the nose to the left; seen from above the car's right side is then up."""
        edge = px(_MARGIN)
        box = box.adjusted(edge, edge, -edge, -edge)
        scale = min(box.width() / metres.width(), box.height() / metres.height())
        middle = metres.center()
        moved = QTransform().translate(box.center().x(), box.center().y())
        self.to_pixels = moved.scale(-scale, -scale).translate(-middle.x(), -middle.y())

    def _draw(self, path: QPainterPath, colour: QColor, width: float) -> None:
        self.painter.setBrush(Qt.BrushStyle.NoBrush)
        self.painter.setPen(QPen(colour, width))
        self.painter.drawPath(self.to_pixels.map(path))

    def _line(self, start: QPointF, end: QPointF, colour: QColor, width: float) -> None:
        self.painter.setPen(QPen(colour, width))
        self.painter.drawLine(self.to_pixels.map(start), self.to_pixels.map(end))

    def _cone(self, stand: Stand) -> None:
        """What the shortest and the longest lens of the range see, as far as a little beyond the target."""
        reach = _reach(stand)
        tint = QColor(self.colours.signal)
        for field, opacity in ((stand.wide_deg, 0.16), (stand.narrow_deg, 0.22)):
            if field is None:
                continue
            corners = [QPointF(stand.camera.x, stand.camera.y)]
            corners += [_along(stand, stand.aim_deg + turn, reach) for turn in (-field / 2, field / 2)]
            tint.setAlphaF(opacity)
            self.painter.setPen(QPen(self.colours.signal, 1.0))
            self.painter.setBrush(tint)
            self.painter.drawPolygon(self.to_pixels.map(QPolygonF(corners)))

    def _camera(self, stand: Stand) -> None:
        """A solid dot with a short line the way the lens points."""
        spot = self.to_pixels.map(QPointF(stand.camera.x, stand.camera.y))
        ahead = self.to_pixels.map(_along(stand, stand.aim_deg, 1.0)) - spot
        length = hypot(ahead.x(), ahead.y()) or 1.0
        self.painter.setPen(QPen(self.colours.signal, px(3)))
        self.painter.drawLine(spot, spot + ahead * (px(11) / length))
        self.painter.setPen(QPen(self.colours.sheet, 1.5))
        self.painter.setBrush(self.colours.signal)
        self.painter.drawEllipse(spot, px(6), px(6))

    def _nose_word(self) -> None:
        nose = self.to_pixels.map(QPointF(HALF_LENGTH - 0.12, 0))
        self.painter.setPen(self.colours.soft)
        self.painter.drawText(QRectF(nose.x() + px(2), nose.y() - px(9), px(60), px(18)), _VERTICAL, _("front"))

    def _front_word(self, base: float) -> None:
        nose = self.to_pixels.map(QPointF(HALF_LENGTH, base + 0.62))
        self.painter.setPen(self.colours.soft)
        beside = QRectF(nose.x() - px(66), nose.y() - px(9), px(60), px(18))
        right = int(Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignRight)
        self.painter.drawText(beside, right, _("front"))

    def _lift(self, base: float) -> None:
        """Two posts and the arms under the sill."""
        for x in (-0.28, 0.28):
            self._line(QPointF(x, 0), QPointF(x, base + 0.24), self.colours.line, px(4))
        self._line(QPointF(-0.9, base + 0.24), QPointF(0.9, base + 0.24), self.colours.soft, px(3))

    def _person(self, stand: Stand) -> None:
        """Somebody standing under the car, so that the height reads at once."""
        x = stand.camera.x - (0.45 if stand.camera.x > -1.6 else -0.45)
        head = QPainterPath()
        head.addEllipse(QPointF(x, 1.58), 0.11, 0.14)
        body = QPainterPath(QPointF(x, 1.43))
        body.lineTo(QPointF(x, 0.8))
        for foot in (-0.16, 0.16):
            body.moveTo(QPointF(x, 0.8))
            body.lineTo(QPointF(x + foot, 0.02))
        body.moveTo(QPointF(x, 1.32))
        body.lineTo(QPointF(stand.camera.x, stand.camera.y))
        self._draw(head, self.colours.soft, 1.4)
        self._draw(body, self.colours.soft, 1.4)

    def _height_rule(self, stand: Stand, box: QRectF) -> None:
        """A rule from the ground to two and a half metres with the lens on it."""
        painter, colours = self.painter, self.colours
        tall = 2.5
        top, foot = box.top() + px(22), box.bottom() - px(10)

        def up(metres: float) -> float:
            return foot - (foot - top) * min(metres, tall) / tall

        left = box.left() + px(10)
        painter.setPen(QPen(colours.soft, 1.0))
        painter.drawLine(QPointF(left, top), QPointF(left, foot))
        painter.drawLine(QPointF(box.left(), foot), QPointF(box.right(), foot))
        for metres in (0.5, 1.0, 1.5, 2.0, 2.5):
            painter.drawLine(QPointF(left - px(3), up(metres)), QPointF(left + px(3), up(metres)))
        at = QPointF(left, up(stand.height_m or 0.0))
        painter.setPen(QPen(colours.sheet, 1.5))
        painter.setBrush(colours.signal)
        painter.drawEllipse(at, px(6), px(6))
        painter.setPen(colours.ink)
        words = _("{metres:g} m").format(metres=stand.height_m)
        painter.drawText(QRectF(at.x() + px(10), at.y() - px(10), px(62), px(20)), _VERTICAL, words)
        painter.setPen(colours.soft)
        painter.drawText(QRectF(box.left(), box.top(), px(72), px(18)), _VERTICAL, _("height"))


_VERTICAL = int(Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft)


def _along(stand: Stand, angle_deg: float, reach: float) -> QPointF:
    turn = radians(angle_deg)
    return QPointF(stand.camera.x + cos(turn) * reach, stand.camera.y + sin(turn) * reach)


def _reach(stand: Stand) -> float:
    """How far the view is drawn: a little beyond the target, in metres."""
    return max(hypot(stand.target.x - stand.camera.x, stand.target.y - stand.camera.y) * 1.12, 0.5)


def _bounds_of_plan(stand: Stand) -> QRectF:
    """The car, the camera and what it sees, with a little air."""
    bounds = QRectF(-HALF_LENGTH, -HALF_WIDTH, 2 * HALF_LENGTH, 2 * HALF_WIDTH)
    air = 0.25
    ends = [QPointF(stand.camera.x, stand.camera.y)]
    field = stand.wide_deg or 0.0
    ends += [_along(stand, stand.aim_deg + turn, _reach(stand)) for turn in (-field / 2, field / 2)]
    for end in ends:
        bounds = bounds.united(QRectF(end.x() - air, end.y() - air, 2 * air, 2 * air))
    return bounds
