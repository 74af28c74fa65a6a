"""The Findings' window: a zone's list, its photos, and what is said beside them."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QFontMetrics, QKeyEvent, QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QStackedWidget, QVBoxLayout, QWidget

from ...actions import Actions
from ...pictures import PictureShelf
from ...theme import px
from ...widgets.bay_button import BayButton
from ...widgets.choice_box import ChoiceBox
from ...widgets.choices import Choices
from ...widgets.empty_page import EmptyPage
from ...widgets.labels import label, rule, sheet
from ...widgets.shot_list import ShotList
from ...words import _, _n
from .form_state import ROLES
from .form_view import FindingView
from .panes import CheckPane, NotePane, WordPane
from .photo_view import PhotoView
from .state import FindingsScreen

_BESIDE_WORDS, _ABOVE_AND_BELOW = 44, 18
"""The gaps round an item's words as the style sheet sets them, with room for the scroll bar."""


class ZoneList(ShotList):
    """What is to finish in a zone and what is recorded. Enter goes into the pane beside.

    Signals:
        entered(): Enter or a double press on a line.
    """

    entered = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(_("Things of this zone"), parent)
        self.setResizeMode(ShotList.ResizeMode.Adjust)
        self.itemDoubleClicked.connect(lambda _item: self.entered.emit())

    def show_lines(self, lines: Sequence[tuple[str, str]], chosen: str = "") -> None:
        """Show other lines, each as high as its words need."""
        super().show_lines(lines, chosen)
        self._measure()

    def say(self, shot: str, words: str) -> None:
        """Change the words of a line."""
        super().say(shot, words)
        self._measure()

    def _measure(self) -> None:
        """Qt goes by the width of its favourite, and cuts what does not fit."""
        wide = self.width() - px(_BESIDE_WORDS)
        for at in range(self.count()):
            item = self.item(at)
            room = QFontMetrics(item.font() if item.data(Qt.ItemDataRole.FontRole) else self.font())
            high = room.boundingRect(0, 0, wide, 10_000, int(Qt.TextFlag.TextWordWrap), item.text()).height()
            item.setSizeHint(QSize(wide, high + px(_ABOVE_AND_BELOW)))

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._measure()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.entered.emit()
        else:
            super().keyPressEvent(event)


class FindingsView(QWidget):
    """Shows one `FindingsScreen` and a pane beside its photos.

    Signals:
        zone_wanted(zone), line_wanted(key), step_wanted(step), zone_step_wanted(step): go there.
        sweep_wanted(): nothing found on all that ticked frames show. new_wanted(), jot_wanted(), test_wanted(),
            repaired_wanted().
    """

    zone_wanted = Signal(str)
    line_wanted = Signal(str)
    step_wanted = Signal(int)
    zone_step_wanted = Signal(int)
    sweep_wanted = Signal()
    new_wanted = Signal()
    jot_wanted = Signal()
    test_wanted = Signal()
    repaired_wanted = Signal()

    def __init__(self, shelf: PictureShelf, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        sheet("sheet", self)
        self._actions: Actions | None = None
        self.zones = ChoiceBox()
        self.zones.setAccessibleName(_("Zone"))
        self.headline = label("small", wrap=True)
        self.list = ZoneList()
        self.photos = PhotoView(shelf)
        self.form, self.check, self.note, self.word = FindingView(), CheckPane(), NotePane(), WordPane()
        self.empty = EmptyPage()
        self.pane = QStackedWidget()
        for one in (self.form, self.check, self.note, self.word):
            self.pane.addWidget(one)
        self._make_buttons()
        self._lay_out()
        self.choices = Choices(self)
        self._connect()

    def _make_buttons(self) -> None:
        self.before = BayButton("", drawing="back")
        self.after = BayButton("", drawing="next")
        for button, words in ((self.before, _("The zone before")), (self.after, _("The next zone"))):
            button.setAccessibleName(words)
        self.sweep = BayButton(_("Nothing found"), key="F9", drawing="tick")
        self.new = BayButton(_("New finding"), key="Ctrl+N", drawing="finding")
        self.jot = BayButton(_("Note"), key="Ctrl+J", drawing="word")

    def _lay_out(self) -> None:
        self.work = QWidget()
        line = QHBoxLayout(self.work)
        line.setContentsMargins(0, 0, 0, 0)
        line.setSpacing(0)
        for at, (column, share) in enumerate(((self._left(), 24), (self.photos, 40), (self.pane, 36))):
            if at:
                line.addWidget(rule(standing=True))
            line.addWidget(column, share)
        self.pane.setMinimumWidth(px(384))
        self.pages = QStackedWidget()
        self.pages.addWidget(self.work)
        self.pages.addWidget(self.empty)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(self.pages)

    def _left(self) -> QWidget:
        left = sheet("sheet")
        left.setMinimumWidth(px(260))
        column = QVBoxLayout(left)
        column.setContentsMargins(px(12), px(10), px(12), px(8))
        column.setSpacing(px(6))
        head = QHBoxLayout()
        head.setSpacing(px(6))
        self.zones.setMinimumContentsLength(10)
        self.zones.setSizeAdjustPolicy(ChoiceBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.headline.setAlignment(Qt.AlignmentFlag.AlignCenter)
        head.addWidget(self.before)
        head.addWidget(self.headline, 1)
        head.addWidget(self.after)
        column.addWidget(self.zones)
        column.addLayout(head)
        column.addWidget(self.list, 1)
        for button in (self.sweep, self.new, self.jot):
            column.addWidget(button)
        return left

    def _connect(self) -> None:
        self.zones.activated.connect(lambda at: self.zone_wanted.emit(str(self.zones.itemData(at))))
        self.before.clicked.connect(lambda: self.zone_step_wanted.emit(-1))
        self.after.clicked.connect(lambda: self.zone_step_wanted.emit(1))
        self.list.chosen.connect(self.line_wanted)
        self.list.entered.connect(self.enter_pane)
        self.sweep.clicked.connect(self.sweep_wanted)
        self.new.clicked.connect(self.new_wanted)
        self.jot.clicked.connect(self.jot_wanted)
        self.photos.left.connect(self.enter_pane)
        for pane in (self.check, self.note):
            pane.left.connect(self.list.setFocus)
        self.form.leave_wanted.connect(self.list.setFocus)

    def add_actions(self, actions: Actions) -> None:
        """Put what can be done here among the window's actions; the keys work only in this view."""
        self._actions = actions
        picture = self.photos
        for name, words, do, key, drawing in (
            ("next", _("Next unfinished thing"), lambda: self.step_wanted.emit(1), "F6", "next"),
            ("back", _("The unfinished thing before"), lambda: self.step_wanted.emit(-1), "Shift+F6", "back"),
            ("zone", _("Next zone"), lambda: self.zone_step_wanted.emit(1), "F7", "next"),
            ("zone-back", _("The zone before"), lambda: self.zone_step_wanted.emit(-1), "Shift+F7", "back"),
            ("sweep", _("Nothing found on all that ticked frames show"), self.sweep_wanted.emit, "F9", "tick"),
            ("new", _("Write a new finding"), self.new_wanted.emit, "Ctrl+N", "finding"),
            ("jot", _("Keep words for this zone"), self.jot_wanted.emit, "Ctrl+J", "word"),
            ("test", _("Write down a test that the plan does not ask"), self.test_wanted.emit, "Ctrl+T", "plus"),
            ("list", _("To the list of this zone"), self.list.setFocus, "Ctrl+B", ""),
            ("picture", _("To the picture and its marks"), picture.take_keyboard, "Ctrl+P", "lens"),
            ("photo", _("Next photo"), lambda: picture.strip.step(1), "PgDown", "next"),
            ("photo-back", _("The photo before"), lambda: picture.strip.step(-1), "PgUp", "back"),
            ("save", _("Record what is written"), self.save, "Ctrl+S", "tick"),
            ("repaired", _("This finding is repaired"), self.repaired_wanted.emit, "Ctrl+R", "again"),
            ("looked", _("Nothing found on this part"), self.form.looked_wanted.emit, "Ctrl+L", "tick"),
            ("wording", _("Take the allowed wording over"), self.form.take_wording, "Ctrl+G", "word"),
            ("make", _("Make a finding of this note"), self.note.finding_wanted.emit, "Ctrl+F", "finding"),
            ("point", _("Set a point where the cross is"), picture.picture.set_point, "P", ""),
            ("box", _("Begin a box at the cross, or end it"), picture.picture.set_box, "B", ""),
            ("up", _("Take up the next mark"), picture.picture.take_up, "M", ""),
            ("context", _("The photo shows where it is"), lambda: picture.role_wanted.emit("context"), "1", ""),
            ("close", _("The photo shows it close"), lambda: picture.role_wanted.emit("close"), "2", ""),
            ("after", _("The photo shows it after the repair"), lambda: picture.role_wanted.emit("after"), "3", ""),
            ("works", _("The function works"), lambda: self.check.answer(0), "1", ""),
            ("fails", _("The function does not work"), lambda: self.check.answer(1), "2", ""),
            ("off-and-on", _("The function is intermittent"), lambda: self.check.answer(2), "3", ""),
            ("unfitted", _("The function is not fitted"), lambda: self.check.answer(3), "4", ""),
            ("untested", _("The function was not tested"), lambda: self.check.answer(4), "5", ""),
        ):
            actions.add(f"findings.{name}", words, do, key=key, drawing=drawing, where=self.work)
        self._allow()

    def _allow(self) -> None:
        """Only what the pane that is open has a use for; so that 1 means one thing."""
        if self._actions is None:
            return
        pane = self.pane.currentWidget()
        allowed = {
            self.form: (*ROLES, "point", "box", "up", "repaired", "looked", "wording"),
            self.check: ("works", "fails", "off-and-on", "unfitted", "untested"),
            self.note: ("make",),
        }
        for owner, names in allowed.items():
            for name in names:
                self._actions.action(f"findings.{name}").setEnabled(owner is pane)
        self._actions.action("findings.save").setEnabled(pane in (self.form, self.note))

    def show_zone(self, screen: FindingsScreen, key: str) -> None:
        """Show a zone with the keyboard's line on `key`; or why there is none."""
        if not screen.zone:
            title, step = screen.empty
            self.empty.say(title, step)
            self.pages.setCurrentIndex(1)
            return
        self.pages.setCurrentIndex(0)
        if [self.zones.itemText(at) for at in range(self.zones.count())] != [one.words for one in screen.zones]:
            self.zones.clear()
            for one in screen.zones:
                self.zones.addItem(one.words, one.id)
        self.zones.setCurrentIndex(self.zones.findData(screen.zone))
        left = sum(one.open for one in screen.zones)
        self.headline.setText(_n("{n} to finish on the whole car", "{n} to finish on the whole car", left))
        self.list.show_lines([(line.key, line.words) for line in screen.lines], key)
        if not key:
            self.list.setCurrentRow(-1)
        self.sweep.setEnabled(screen.may_sweep > 0)
        self.sweep.say(_("Nothing found: {n}").format(n=screen.may_sweep) if screen.may_sweep else _("Nothing found"))

    def show_pane(self, pane: QWidget) -> None:
        """Turn to a pane; the keyboard stays where it is."""
        self.pane.setCurrentWidget(pane)
        self._allow()

    def enter_pane(self) -> None:
        """The keyboard goes into the pane that is open."""
        pane = self.pane.currentWidget()
        if pane in (self.form, self.check, self.note, self.word):
            pane.take_keyboard()

    def save(self) -> None:
        """Record what the pane holds."""
        if self.pane.currentWidget() is self.form:
            self.form.record_wanted.emit()
        elif self.pane.currentWidget() is self.note:
            self.note.keep_wanted.emit()

    def focusInEvent(self, event) -> None:
        super().focusInEvent(event)
        if self.pages.currentIndex() == 0:
            self.list.setFocus()
