"""The last frame, large, with its verdict in words; beside it the sketch of the stand and frames to match the light."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QFontMetricsF
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from ..pictures import PictureShelf
from ..screens.walk.state import FrameRow, VerdictWords
from ..stand import Stand
from ..theme import letter, px
from ..words import _
from .labels import label, sheet
from .picture import Picture
from .stand_sketch import StandSketch

LARGE_PX = 1600
SMALL_PX = 320


class SmallFrame(QWidget):
    """A small picture with a line under it that is cut, with an ellipsis, only where it must be."""

    def __init__(self, shelf: PictureShelf, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.picture = Picture(shelf, longest_px=SMALL_PX)
        self.words = label("tiny")
        self._full = ""
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(px(4))
        column.addWidget(self.picture, 1)
        column.addWidget(self.words)

    def show_frame(self, frame: FrameRow | None) -> None:
        """Show a frame, or nothing at all."""
        self.setVisible(frame is not None)
        if frame is not None:
            self._full = frame.words
            self.picture.show_photo(frame.sha256, frame.words)
            self.words.setToolTip(frame.words)
            self._cut()

    def resizeEvent(self, event) -> None:
        super().resizeEvent(event)
        self._cut()

    def _cut(self) -> None:
        metrics = QFontMetricsF(letter(13))
        self.words.setText(metrics.elidedText(self._full, Qt.TextElideMode.ElideRight, self.width()))


class FrameView(QWidget):
    """What was taken so far of one shot, and where to stand for it."""

    def __init__(self, shelf: PictureShelf, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        sheet("sheet", self)
        self.picture = Picture(shelf, longest_px=LARGE_PX)
        self.picture.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Ignored)
        self.verdict = label("small")
        self.frames = label("soft", wrap=True)
        self.again = label("signal", wrap=True)
        self.sketch = StandSketch()
        self.stand_words = label("tiny", wrap=True)
        self.small = (SmallFrame(shelf), SmallFrame(shelf))
        self._lay_out()

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(px(20), px(14), px(20), px(10))
        column.setSpacing(px(8))
        column.addWidget(self.picture, 13)
        said = QHBoxLayout()
        said.setSpacing(px(20))
        said.addWidget(self.verdict)
        said.addWidget(self.frames, 1)
        column.addLayout(said)
        column.addWidget(self.again)
        low = QWidget()
        low.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Ignored)
        low.setMinimumHeight(px(120))
        below = QHBoxLayout(low)
        below.setContentsMargins(0, 0, 0, 0)
        below.setSpacing(px(16))
        stand = QVBoxLayout()
        stand.setSpacing(px(2))
        stand.addWidget(self.sketch, 1)
        stand.addWidget(self.stand_words)
        below.addLayout(stand, 5)
        for small in self.small:
            below.addWidget(small, 3)
        column.addWidget(low, 7)
        self._low = low

    def _give_room(self, framed: bool) -> None:
        """The picture is large; before there is one, the sketch of the stand is."""
        column = self.layout()
        column.setStretch(column.indexOf(self.picture), 13 if framed else 6)
        column.setStretch(column.indexOf(self._low), 7 if framed else 14)

    def show_frames(
        self,
        last: FrameRow | None,
        verdict: VerdictWords | None,
        beside: tuple[FrameRow, ...],
        frames_words: str,
        stand: Stand,
    ) -> None:
        """Show how a shot stands. Without a frame the mat says what to do next."""
        self._give_room(last is not None)
        empty = _("No frame yet. Take it, or drop the photo here.")
        self.picture.show_photo(last.sha256 if last else "", last.words if last else "", empty=empty)
        self.verdict.setText(_verdict_line(verdict) if last else "")
        self.verdict.setVisible(bool(last))
        self.frames.setText(f"{last.words} · {frames_words}" if last else frames_words)
        self.again.setText(_("Take it again: {why}").format(why=verdict.again) if verdict and verdict.again else "")
        self.again.setVisible(bool(self.again.text()))
        self.sketch.show_stand(stand)
        self.stand_words.setText(stand.words)
        for place, small in enumerate(self.small):
            small.show_frame(beside[place] if place < len(beside) else None)


def _verdict_line(verdict: VerdictWords | None) -> str:
    if verdict is None:
        return _("Not judged yet")
    return f"{verdict.sharpness} · {verdict.light}"
