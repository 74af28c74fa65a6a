"""One photo of the sequence, large, with its caption to be written and what the guard says of it while one writes."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from ...pictures import PictureShelf
from ...theme import px
from ...widgets.bay_button import BayButton
from ...widgets.labels import label, sheet
from ...widgets.picture import Picture
from ...words import _
from .state import Place

LARGE_PX = 1600


class PhotoPane(QWidget):
    """Shows one `Place`.

    Signals:
        caption_wanted(sha256, words): say so; "" gives the shot's title back.
        typed(words): the caption as it stands while somebody writes.
        lead_wanted(sha256), step_wanted(sha256, steps), usual_wanted(group).
    """

    caption_wanted = Signal(str, str)
    typed = Signal(str)
    lead_wanted = Signal(str)
    step_wanted = Signal(str, int)
    usual_wanted = Signal(str)

    def __init__(self, shelf: PictureShelf, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        sheet("sheet", self)
        self._place: Place | None = None
        self.picture = Picture(shelf, longest_px=LARGE_PX)
        self.about = label("soft", wrap=True)
        self.caption = QLineEdit(maxLength=300)
        self.caption.setAccessibleName(_("Caption of this photo"))
        self.guard = label("signal", wrap=True)
        self.printed = label("", wrap=True)
        self.alt = label("tiny", wrap=True)
        self.lead = BayButton(_("Lead"), key="L")
        self.earlier = BayButton(_("Earlier"), key="Alt+←")
        self.later = BayButton(_("Later"), key="Alt+→")
        self.usual = BayButton(_("Usual"), key="U")
        self.lead.setAccessibleName(_("Lead with this photo"))
        self.usual.setAccessibleName(_("Give this group its usual order"))
        self._lay_out()
        self.caption.installEventFilter(self)
        self.caption.textEdited.connect(self.typed)
        self.caption.returnPressed.connect(self._say)
        self.lead.clicked.connect(lambda: self._place and self.lead_wanted.emit(self._place.sha256))
        self.earlier.clicked.connect(lambda: self._step(-1))
        self.later.clicked.connect(lambda: self._step(1))
        self.usual.clicked.connect(lambda: self._place and self.usual_wanted.emit(self._place.group))
        self.show_place(None, arranged=False)

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(px(18), px(14), px(18), px(14))
        column.setSpacing(px(8))
        column.addWidget(self.picture, 1)
        column.addWidget(self.about)
        column.addWidget(self.caption)
        column.addWidget(self.guard)
        column.addWidget(self.printed)
        column.addWidget(self.alt)
        row = QHBoxLayout()
        row.setSpacing(px(8))
        for button in (self.lead, self.earlier, self.later, self.usual):
            row.addWidget(button)
        row.addStretch(1)
        column.addLayout(row)

    def show_place(self, place: Place | None, *, arranged: bool) -> None:
        """Show another place; a caption that is being written stays as it is while it is the same photo's."""
        writing = (
            self._place is not None
            and place is not None
            and place.sha256 == self._place.sha256
            and place.own == self._place.own
            and self.caption.hasFocus()
            and self.caption.text() != place.own
        )
        self._place = place
        self.setEnabled(place is not None)
        self.picture.show_photo(
            place.sha256 if place else "", place.alt if place else "", empty=_("Choose a photo in the sequence.")
        )
        if not writing:
            self.caption.setText(place.own if place else "")
            self.show_guard("")
        self.caption.setPlaceholderText(place.subject if place else "")
        self.about.setText(_about(place) if place else "")
        self.printed.setText(_("Printed: {caption}").format(caption=place.caption) if place else "")
        self.alt.setText(_("Said where it cannot be seen: {alt}").format(alt=place.alt) if place else "")
        movable = place is not None and place.movable
        self.lead.setEnabled(place is not None and not place.leads)
        for button in (self.earlier, self.later):
            button.setEnabled(movable)
        self.usual.setEnabled(movable and arranged)

    def show_guard(self, words: str) -> None:
        """What stands against the caption as it is written, "" for nothing."""
        self.guard.setText(words)
        self.guard.setVisible(bool(words))

    def write_caption(self) -> None:
        """Put the keyboard into the caption."""
        self.caption.setFocus(Qt.FocusReason.ShortcutFocusReason)
        self.caption.selectAll()

    def _say(self) -> None:
        if self._place is not None and self.caption.text().strip() != self._place.own:
            self.caption_wanted.emit(self._place.sha256, self.caption.text())

    def _step(self, steps: int) -> None:
        if self._place is not None and self._place.movable:
            self.step_wanted.emit(self._place.sha256, steps)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Leaving the line says the caption; Escape gives what stood there before."""
        if watched is self.caption and event.type() == QEvent.Type.FocusOut:
            self._say()
        pressed = isinstance(event, QKeyEvent) and event.type() == QEvent.Type.KeyPress
        if watched is self.caption and pressed and event.key() == Qt.Key.Key_Escape:
            self.caption.setText(self._place.own if self._place else "")
            self.show_guard("")
            self.parentWidget().setFocus()
            return True
        return super().eventFilter(watched, event)


def _about(place: Place) -> str:
    parts = [_("Photo {number}").format(number=place.number), place.name]
    if place.leads:
        parts.append(_("opens the gallery"))
    if not place.movable and not place.leads:
        parts.append(_("its place follows from the record"))
    return " · ".join(parts)
