"""A zone's photos: one large with its marks, the others in a strip, and what a finding uses them for."""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from ...pictures import PictureShelf
from ...theme import px
from ...widgets.bay_button import BayButton
from ...widgets.filmstrip import Filmstrip
from ...widgets.labels import label, rule, sheet
from ...widgets.mark_picture import MarkPicture
from ...words import _
from .marking import Marking
from .state import FindingsScreen, PhotoRow


class PhotoView(QWidget):
    """Shows the photos of one zone.

    Signals:
        chosen(sha256): look at that photo. role_wanted(role): turn the photo on or off as context, close or after.
        marked(marking): the marks were changed. left(): Escape on the picture.
    """

    chosen = Signal(str)
    role_wanted = Signal(str)
    marked = Signal(object)
    left = Signal()

    def __init__(self, shelf: PictureShelf, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        sheet("sheet", self)
        self.picture = MarkPicture(shelf)
        self.caption = label("small", wrap=True)
        self.strip = Filmstrip(shelf)
        self.roles = {
            "context": BayButton(_("Context"), key="1"),
            "close": BayButton(_("Close-up"), key="2"),
            "after": BayButton(_("After repair"), key="3"),
        }
        self.point = BayButton(_("Point"), key="P")
        self.box = BayButton(_("Box"), key="B")
        self.up = BayButton(_("Next mark"), key="M")
        self.away = BayButton(_("Unmark"), key="Del")
        self.buttons = (*self.roles.values(), self.point, self.box, self.up, self.away)
        self._lay_out()
        self._connect()

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(px(12), px(10), px(12), px(8))
        column.setSpacing(px(6))
        column.addWidget(self.picture, 1)
        column.addWidget(self.caption)
        self.tools = QWidget()
        rows = QVBoxLayout(self.tools)
        rows.setContentsMargins(0, 0, 0, 0)
        rows.setSpacing(px(6))
        for buttons in (tuple(self.roles.values()), (self.point, self.box, self.up, self.away)):
            line = QHBoxLayout()
            line.setSpacing(px(6))
            for button in buttons:
                line.addWidget(button)
            line.addStretch(1)
            rows.addLayout(line)
        column.addWidget(self.tools)
        column.addWidget(rule())
        column.addWidget(self.strip)

    def _connect(self) -> None:
        for role, button in self.roles.items():
            button.setCheckable(True)
            button.clicked.connect(lambda _checked=False, role=role: self.role_wanted.emit(role))
        self.point.clicked.connect(self.picture.set_point)
        self.box.clicked.connect(self.picture.set_box)
        self.up.clicked.connect(self.picture.take_up)
        self.away.clicked.connect(self.picture.take_away)
        self.picture.changed.connect(self.marked)
        self.picture.left.connect(self.left)
        self.strip.chosen.connect(self.chosen)

    def show_photos(self, screen: FindingsScreen, photo: str, uses: Mapping[str, tuple[str, ...]]) -> None:
        """Show the photos of a zone and one of them large; `uses` names the roles of each photo in the finding."""
        row = next((one for one in screen.photos if one.sha256 == photo), None)
        words = {"context": _("context"), "close": _("close-up"), "after": _("after repair")}
        said = {sha256: ", ".join(words[role] for role in roles) for sha256, roles in uses.items()}
        self.strip.show_photos(screen.photos, said, photo)
        self.picture.show_photo(photo, row.words if row else "", empty=_empty(screen))
        self.caption.setText(_caption(row, said.get(photo, "")))
        self.strip.setVisible(bool(screen.photos))
        self.tools.setVisible(bool(screen.photos))
        for role, button in self.roles.items():
            button.setChecked(role in uses.get(photo, ()))

    def show_marks(self, marking: Marking, *, may_mark: bool) -> None:
        """Show marks; without a finding there is nothing to mark."""
        self.picture.show_marks(marking, may_mark=may_mark)
        for button in self.buttons:
            button.setEnabled(may_mark and bool(self.picture.sha256))

    def take_keyboard(self) -> None:
        """The keyboard goes to the picture, for the cross."""
        self.picture.setFocus()


def _empty(screen: FindingsScreen) -> str:
    if screen.photos:
        return ""
    return _("No photo of this zone has its place yet. Take some on the Walk, or place those in the tray.")


def _caption(row: PhotoRow | None, use: str) -> str:
    if row is None:
        return ""
    looked = "" if row.ticked else _("nobody has ticked it")
    return " · ".join(part for part in (row.name, row.where, looked, use) if part)
