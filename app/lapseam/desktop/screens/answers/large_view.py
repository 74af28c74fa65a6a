"""One answer, large: the photo, what it says, how it is known, how old that is, and what would renew it."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from ...pictures import PictureShelf
from ...theme import px
from ...widgets.bay_button import BayButton
from ...widgets.labels import label, sheet
from ...widgets.picture import Picture
from ...words import _
from .state import AnswerLine

LARGE_PX = 1280


class AnswerWords(QWidget):
    """What an answer says, in full."""

    def __init__(self, part: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.kind = label("eyebrow")
        self.words = label(part, wrap=True)
        self.known = label("soft", wrap=True)
        self.age = label("small", wrap=True)
        self.photo = label("small", text=_("There is no photo of this on file."))
        self.stale = label("signal", wrap=True)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(px(4))
        for one in (self.kind, self.words, self.known, self.age, self.stale, self.photo):
            column.addWidget(one)

    def show_line(self, line: AnswerLine | None) -> None:
        """Show a line, or nothing."""
        stale = ""
        if line is not None and line.stale:
            stale = _("Stale: {age}. To renew it: {renew}.").format(age=line.age, renew=line.renew)
        told = (
            (self.kind, f"{line.stock} · {line.kind}" if line else ""),
            (self.words, line.words if line else ""),
            (self.known, line.known if line else ""),
            (self.age, line.age if line and not line.stale else ""),
            (self.stale, stale),
        )
        for part, words in told:
            part.setText(words)
            part.setVisible(bool(words))
        self.photo.setVisible(line is not None and not line.photos)


class LargeView(QWidget):
    """Left and Right turn its photos; Up and Down go to the next answer; Esc goes back.

    Signals:
        left(), step_wanted(rows).
        want_wanted(), log_wanted(): put it on the re-shoot list; log the call.
    """

    left = Signal()
    want_wanted = Signal()
    log_wanted = Signal()
    step_wanted = Signal(int)

    def __init__(self, shelf: PictureShelf, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        sheet("sheet", self)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self._line: AnswerLine | None = None
        self._at = 0
        self.picture = Picture(shelf, longest_px=LARGE_PX)
        self.words = AnswerWords("lead")
        self.photo = label("soft")
        self.back = BayButton(_("Back"), key="Esc", drawing="back")
        self.before = BayButton(_("Photo before"), key="←")
        self.after = BayButton(_("Next photo"), key="→")
        self.want = BayButton(_("Re-shoot list"), key="F4", drawing="again")
        self.log = BayButton(_("Log this call"), key="F5", drawing="answers", go=True)
        self.back.clicked.connect(self.left)
        self.want.clicked.connect(self.want_wanted)
        self.log.clicked.connect(self.log_wanted)
        self.before.clicked.connect(lambda: self._turn(-1))
        self.after.clicked.connect(lambda: self._turn(1))
        column = QVBoxLayout(self)
        column.setContentsMargins(px(24), px(14), px(24), px(14))
        column.setSpacing(px(10))
        column.addWidget(self.picture, 1)
        column.addWidget(self.photo)
        column.addWidget(self.words)
        foot = QHBoxLayout()
        foot.setSpacing(px(8))
        for button in (self.back, self.before, self.after):
            foot.addWidget(button)
        foot.addStretch(1)
        foot.addWidget(self.want)
        foot.addWidget(self.log)
        column.addLayout(foot)

    def show_line(self, line: AnswerLine) -> None:
        """Show an answer and its first photo."""
        self._line, self._at = line, 0
        self.setAccessibleName(line.spoken)
        self.words.show_line(line)
        self._show_photo()

    def _show_photo(self) -> None:
        photos = self._line.photos if self._line else ()
        sha256, words = photos[self._at] if photos else ("", "")
        count = _("{at} of {all}").format(at=self._at + 1, all=len(photos)) if len(photos) > 1 else ""
        self.picture.show_photo(sha256, words, empty=_("There is no photo of this on file."))
        self.photo.setText(" · ".join(part for part in (words, count) if part))
        self.photo.setVisible(bool(photos))
        for button in (self.before, self.after):
            button.setVisible(len(photos) > 1)
        self.before.setEnabled(self._at > 0)
        self.after.setEnabled(self._at < len(photos) - 1)

    def _turn(self, step: int) -> None:
        photos = self._line.photos if self._line else ()
        self._at = min(max(self._at + step, 0), max(len(photos) - 1, 0))
        self._show_photo()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        turns = {Qt.Key.Key_Left: -1, Qt.Key.Key_Right: 1}
        steps = {Qt.Key.Key_Up: -1, Qt.Key.Key_Down: 1}
        key = Qt.Key(event.key())
        if key == Qt.Key.Key_Escape:
            self.left.emit()
        elif key in turns:
            self._turn(turns[key])
        elif key in steps:
            self.step_wanted.emit(steps[key])
        else:
            super().keyPressEvent(event)
