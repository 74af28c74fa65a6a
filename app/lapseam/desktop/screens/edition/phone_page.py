"""What a buyer sees on a phone: the gallery's head, photos, captions and findings, in one column of 390 px.

It is drawn from the page model, not a browser's: the published page itself is opened with a key."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum, auto

from PySide6.QtCore import QRect, QRectF, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QAbstractScrollArea, QWidget

from lapseam.domain.edition import Gallery

from ...pictures import PictureShelf
from ...theme import inks, letter, px
from ...words import _

WIDTH = 390
_PICTURE_PX = 640
_EDGE, _GAP = 16, 10


class Part(Enum):
    """What a block of the column is."""

    TITLE = auto()
    SMALL = auto()
    BAND = auto()
    HEADING = auto()
    PICTURE = auto()
    CAPTION = auto()
    FINDING = auto()


@dataclass(frozen=True, slots=True)
class Block:
    """One block: words, or the photo of a digest with its width over its height."""

    part: Part
    words: str = ""
    sha256: str = ""
    ratio: float = 1.5


_SIZES = {Part.TITLE: 22, Part.SMALL: 13, Part.BAND: 14, Part.HEADING: 18, Part.CAPTION: 15, Part.FINDING: 13}
_BOLD = (Part.TITLE, Part.BAND, Part.HEADING)


def blocks(gallery: Gallery) -> tuple[Block, ...]:
    """The column from top to bottom."""
    return tuple(_blocks(gallery))


def _blocks(gallery: Gallery) -> Iterator[Block]:
    if gallery.flag:
        yield Block(Part.BAND, gallery.flag)
    yield Block(Part.TITLE, gallery.title)
    yield Block(Part.SMALL, gallery.subtitle)
    yield Block(Part.SMALL, gallery.count_words)
    for chapter in gallery.chapters:
        yield Block(Part.HEADING, chapter.name)
        for shown in chapter.pictures:
            yield Block(Part.PICTURE, shown.alt, shown.sha256, shown.width / max(shown.height, 1))
            yield Block(Part.CAPTION, f"{shown.number}  {shown.caption}")
            for finding in shown.findings:
                yield Block(Part.FINDING, finding.sentence)
        for gap in chapter.not_seen:
            yield Block(Part.FINDING, gap)


class PhonePage(QAbstractScrollArea):
    """Scrolls the column; only what is in sight is painted and loaded."""

    def __init__(self, shelf: PictureShelf, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._shelf = shelf
        self._blocks: tuple[Block, ...] = ()
        self._tops: list[int] = []
        self._anchors: dict[str, int] = {}
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFrameShape(QAbstractScrollArea.Shape.NoFrame)
        self.setAccessibleName(_("What a buyer sees on a phone"))
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        shelf.arrived.connect(lambda _sha256: self.viewport().update())

    def show_gallery(self, gallery: Gallery | None) -> None:
        """Show another gallery; the place stays."""
        self._blocks = blocks(gallery) if gallery else ()
        self._lay_out()

    def go_to(self, sha256: str) -> None:
        """Bring a photo to the top; the first one with the head above it."""
        first = next((block.sha256 for block in self._blocks if block.sha256), "")
        if sha256 == first:
            self.verticalScrollBar().setValue(0)
            return
        for block, top in zip(self._blocks, self._tops, strict=False):
            if block.sha256 == sha256:
                self.verticalScrollBar().setValue(top - px(_GAP))
                return

    @property
    def column_px(self) -> int:
        """The column's width."""
        return min(px(WIDTH), self.viewport().width())

    def _lay_out(self) -> None:
        self._tops, top = [], px(_GAP)
        for block in self._blocks:
            self._tops.append(top)
            top += self._height(block) + px(_GAP)
        bar = self.verticalScrollBar()
        bar.setPageStep(self.viewport().height())
        bar.setSingleStep(px(40))
        bar.setRange(0, max(0, top - self.viewport().height()))
        self.viewport().update()

    def _height(self, block: Block) -> int:
        if block.part is Part.PICTURE:
            return round(self.column_px / block.ratio)
        metrics = QFontMetricsF(_font(block.part))
        box = QRectF(0, 0, self.column_px - 2 * px(_EDGE), 10_000)
        height = metrics.boundingRect(box, int(Qt.TextFlag.TextWordWrap), block.words).height()
        return round(height) + (px(12) if block.part in (Part.BAND, Part.HEADING) else 0)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._lay_out()

    def scrollContentsBy(self, dx: int, dy: int) -> None:
        self.viewport().update()

    def paintEvent(self, event: QPaintEvent) -> None:
        colours = inks()
        painter = QPainter(self.viewport())
        left = (self.viewport().width() - self.column_px) // 2
        painter.fillRect(self.viewport().rect(), colours.shade)
        painter.fillRect(QRect(left, 0, self.column_px, self.viewport().height()), colours.sheet)
        shift = self.verticalScrollBar().value()
        for block, top in zip(self._blocks, self._tops, strict=True):
            box = QRect(left, top - shift, self.column_px, self._height(block))
            if box.bottom() < 0:
                continue
            if box.top() > self.viewport().height():
                break
            self._paint(painter, box, block)

    def _paint(self, painter: QPainter, box: QRect, block: Block) -> None:
        colours = inks()
        if block.part is Part.PICTURE:
            painter.fillRect(box, colours.shade)
            pixmap = self._shelf.picture(block.sha256, _PICTURE_PX)
            if pixmap is not None and not pixmap.isNull():
                painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
                painter.drawPixmap(box, pixmap)
            return
        if block.part is Part.BAND:
            painter.fillRect(box, colours.signal)
        soft = block.part in (Part.SMALL, Part.FINDING)
        painter.setPen(colours.on_signal if block.part is Part.BAND else colours.soft if soft else colours.ink)
        painter.setFont(_font(block.part))
        words = box.adjusted(px(_EDGE), 0, -px(_EDGE), 0)
        painter.drawText(words, int(Qt.AlignmentFlag.AlignVCenter | Qt.TextFlag.TextWordWrap), block.words)


def _font(part: Part):
    return letter(_SIZES[part], letter().Weight.Bold if part in _BOLD else letter().Weight.Normal)
