"""The sketch of where to stand, painted from the domain's drawing. It stands beside the picture."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QBrush, QColor, QPainter, QPainterPath, QPen, QPicture
from PySide6.QtWidgets import QSizePolicy, QWidget

from lapseam.domain.drawing import Path, Verb
from lapseam.domain.sketch_layout import PENS, PlacedWord, lay_out

from ..stand import Stand
from ..theme import inks, letter, px
from ..words import _

WORDS_PX = 12
_MARGIN = 2
_CLEAR = 4


class StandSketch(QWidget):
    """Draws one `Stand`. It carries the same in words for a screen reader."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._stand: Stand | None = None
        self._drawn = QPicture()
        self._drawn_for: object = None
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
        edge = px(_MARGIN)
        room = (max(self.width() - 2 * edge, 1), max(self.height() - 2 * edge, 1))
        key = (self._stand, room, inks(), px(WORDS_PX))
        if key != self._drawn_for:
            self._drawn = _drawn(self._stand, room)
            self._drawn_for = key
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.drawPicture(edge, edge, self._drawn)
        painter.end()


def _drawn(stand: Stand, room: tuple[int, int]) -> QPicture:
    """The drawing as strokes to be played back: laying it out takes milliseconds, and the same one is painted often."""
    picture = QPicture()
    painter = QPainter(picture)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    placed = lay_out(stand.sketch, *room, words_size=px(WORDS_PX), note=False)
    for path in placed.paths:
        _draw(painter, path, placed.unit)
    painter.setFont(letter(WORDS_PX))
    for word in placed.words:
        _write(painter, word)
    painter.end()
    return picture


def _draw(painter: QPainter, path: Path, unit: float) -> None:
    """One path with its role's pen and, where it is closed, its fill."""
    pen = PENS[path.role]
    line = QPen(Qt.PenStyle.NoPen)
    if pen.width:
        line = QPen(_colour(pen.ink), pen.width * unit)
        line.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
        line.setCapStyle(Qt.PenCapStyle.RoundCap)
    if pen.dash:
        line.setDashPattern([pen.dash / pen.width] * 2)
    brush = QBrush(Qt.BrushStyle.NoBrush)
    if pen.fill and path.steps[-1].verb is Verb.CLOSE:
        brush = QBrush(_colour(pen.fill, pen.fill_opacity))
    painter.setPen(line)
    painter.setBrush(brush)
    painter.drawPath(_painted(path))


def _painted(path: Path) -> QPainterPath:
    painted = QPainterPath()
    for step in path.steps:
        points = [QPointF(x, y) for x, y in step.points]
        if step.verb is Verb.MOVE:
            painted.moveTo(*points)
        elif step.verb is Verb.LINE:
            painted.lineTo(*points)
        elif step.verb is Verb.CURVE:
            painted.cubicTo(*points)
        else:
            painted.closeSubpath()
    return painted


def _write(painter: QPainter, word: PlacedWord) -> None:
    """A word round the middle of the width that was reckoned for it; a line that runs under it stops short of it."""
    metrics = painter.fontMetrics()
    wide = metrics.horizontalAdvance(word.text) + 2.0
    left = word.x + (word.width - wide) / 2
    letters = QPainterPath()
    letters.addText(QPointF(left + 1.0, word.baseline), painter.font(), word.text)
    painter.strokePath(letters, QPen(_colour("ground"), px(_CLEAR), j=Qt.PenJoinStyle.RoundJoin))
    painter.setPen(_colour(PENS[word.role].ink))
    box = QRectF(left, word.baseline - metrics.ascent(), wide, metrics.height())
    painter.drawText(box, int(Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignTop), word.text)


def _colour(name: str, opacity: float = 1.0) -> QColor:
    colour = QColor(getattr(inks(), name))
    colour.setAlphaF(opacity)
    return colour
