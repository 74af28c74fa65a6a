"""The Walk's window: chapters, the shot, the last frame, and every key that a gloved hand needs."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QDragEnterEvent, QDropEvent, QResizeEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QStackedWidget, QVBoxLayout, QWidget

from ...actions import Actions
from ...pictures import PictureShelf
from ...theme import px
from ...widgets.bay_button import BayButton
from ...widgets.chapter_strip import ChapterStrip
from ...widgets.choices import Choices
from ...widgets.empty_page import EmptyPage
from ...widgets.frame_view import FrameView
from ...widgets.labels import rule, sheet
from ...widgets.shot_card import ShotCard
from ...widgets.tray import Tray, TrayPhoto
from ...words import _
from .closing import ClosingScreen
from .closing_view import ClosingView
from .state import WalkScreen

_EDGE, _GAP = 12, 6
"""Round the buttons: as little as keeps their keys in sight on a small notebook."""


class WalkView(QWidget):
    """Shows one `WalkScreen`, the tray, or the closing list of a setup.

    Signals (each names what the person wants; the view changes nothing itself):
        shot_wanted(shot), chapter_wanted(setup): go there.
        ticked(shot, item, sha256, sight): an item on the last frame is now `sight`, "" for not seen.
        again_wanted(shot, sha256): set the last frame aside and take the shot again.
        not_reachable_wanted(shot, reason), not_fitted_wanted(shot), reopen_wanted(shot).
        finding_wanted(shot, sha256): note a finding with that frame attached ("" without one).
        extra_wanted(zone): the next photo is an extra of that zone.
        answered(fact, value): a fact, None for unknown. facts_wanted(): all facts of the car.
        closing_wanted(setup): show the closing list. close_wanted(setup, reasons): close it.
        files_dropped(paths), folder_wanted(), watch_wanted(): photos come in.
    """

    shot_wanted = Signal(str)
    chapter_wanted = Signal(str)
    ticked = Signal(str, str, str, str)
    again_wanted = Signal(str, str)
    not_reachable_wanted = Signal(str, str)
    not_fitted_wanted = Signal(str)
    reopen_wanted = Signal(str)
    finding_wanted = Signal(str, str)
    extra_wanted = Signal(str)
    answered = Signal(str, object)
    facts_wanted = Signal()
    closing_wanted = Signal(str)
    close_wanted = Signal(str, object)
    files_dropped = Signal(object)
    folder_wanted = Signal()
    watch_wanted = Signal()

    def __init__(self, shelf: PictureShelf, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        sheet("sheet", self)
        self.setAcceptDrops(True)
        self._screen: WalkScreen | None = None
        self.chapters = ChapterStrip()
        self.card = ShotCard()
        self.frames = FrameView(shelf)
        self.tray = Tray(shelf)
        self.closing = ClosingView()
        self.empty = EmptyPage()
        self.pages = QStackedWidget()
        self._make_buttons()
        self._lay_out()
        self.choices = Choices(self)
        self.setFocusProxy(self.next)
        self._connect()

    def _make_buttons(self) -> None:
        self.next = BayButton(_("Next shot"), key="Enter", drawing="next", go=True)
        self.back = BayButton(_("Back"), key="B", drawing="back")
        self.again = BayButton(_("Take again"), key="A", drawing="again")
        self.unreachable = BayButton(_("Not reachable"), key="X", drawing="unreachable")
        self.unfitted = BayButton(_("Not fitted"), key="N", drawing="unfitted")
        self.finding = BayButton(_("Finding"), key="F", drawing="finding")
        self.extra = BayButton(_("Extra"), key="E", drawing="extra")
        self.buttons = (*(self.next, self.back, self.again, self.unreachable, self.unfitted, self.finding, self.extra),)
        self._keys = {button: button.key for button in self.buttons}

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(sheet("ground", self.chapters))
        column.addWidget(rule())
        column.addWidget(self.pages, 1)
        self.pages.addWidget(self._shooting())
        self.pages.addWidget(self.closing)
        self.pages.addWidget(self.tray)
        self.pages.addWidget(self.empty)

    def _shooting(self) -> QWidget:
        page = QWidget()
        column = QVBoxLayout(page)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        both = QHBoxLayout()
        both.setSpacing(0)
        both.addWidget(self.card, 9)
        both.addWidget(rule(standing=True))
        both.addWidget(self.frames, 13)
        column.addLayout(both, 1)
        bar = QFrame(objectName="actions")
        row = QHBoxLayout(bar)
        row.setContentsMargins(px(_EDGE), px(8), px(_EDGE), px(8))
        row.setSpacing(px(_GAP))
        for button in self.buttons:
            row.addWidget(button)
        row.addStretch(1)
        column.addWidget(bar)
        return page

    def _connect(self) -> None:
        self.chapters.wanted.connect(self.chapter_wanted)
        self.card.ticked.connect(self._tick)
        self.card.answered.connect(self.answered)
        self.card.facts_wanted.connect(self.facts_wanted)
        self.next.clicked.connect(self.go_on)
        self.back.clicked.connect(self.go_back)
        self.again.clicked.connect(self.take_again)
        self.unreachable.clicked.connect(self.ask_why_not)
        self.unfitted.clicked.connect(self.say_not_fitted)
        self.finding.clicked.connect(self.note_finding)
        self.extra.clicked.connect(self.take_extra)
        self.choices.chosen.connect(self.not_reachable_wanted)
        self.closing.shot_wanted.connect(self.shot_wanted)
        self.closing.close_wanted.connect(self.close_wanted)
        self.closing.stay_wanted.connect(self.show_shooting)

    def add_actions(self, actions: Actions) -> None:
        """Put what can be done here among the window's actions; the keys work only in this view."""
        here = self.pages.widget(0)
        for name, words, do, key, drawing in (
            ("walk.next", _("Next shot"), self.go_on, "Return", "next"),
            ("walk.back", _("Back to the shot before"), self.go_back, "B", "back"),
            ("walk.again", _("Take this shot again"), self.take_again, "A", "again"),
            ("walk.unreachable", _("This shot is not reachable"), self.ask_why_not, "X", "unreachable"),
            ("walk.unfitted", _("This shot is not fitted on this car"), self.say_not_fitted, "N", "unfitted"),
            ("walk.finding", _("Note a finding on the last frame"), self.note_finding, "F", "finding"),
            ("walk.extra", _("Take an extra photo of this zone"), self.take_extra, "E", "extra"),
            ("walk.close", _("Close this setup"), self.want_closing, "C", "lift-down"),
            ("walk.folder", _("Take photos in from a folder or card"), self.folder_wanted.emit, "Ctrl+O", "card"),
            ("walk.watch", _("Watch a folder for photos"), self.watch_wanted.emit, "Ctrl+Shift+O", "folder"),
        ):
            actions.add(name, words, do, key=key, drawing=drawing, where=here)
        for place in range(9):
            words = _("Tick item {n} of the must-see list").format(n=place + 1)
            actions.add(
                f"walk.tick.{place + 1}",
                words,
                lambda place=place: self.card.tick(place),
                key=str(place + 1),
                where=here,
            )
        actions.add("walk.stay", _("Back to shooting"), self.show_shooting, key="Escape", where=self.closing)
        actions.add("walk.tray", _("Open the tray"), self.show_tray_page, key="Ctrl+T", drawing="place", where=self)

    def show_walk(self, screen: WalkScreen) -> None:
        """Show where the walk stands."""
        self._screen = screen
        self.chapters.show_chapters(screen.chapters)
        if screen.shot is None:
            title, step = screen.empty
            self.empty.say(title, step)
            self.pages.setCurrentIndex(3)
            return
        self.card.show_shot(screen.shot, may_tick=screen.last is not None)
        self.frames.show_frames(screen.last, screen.verdict, screen.beside, screen.shot.frames_words, screen.shot.stand)
        self.next.say(screen.next_words)
        self.back.setEnabled(bool(screen.back_shot))
        self.again.setEnabled(screen.last is not None)
        self.unreachable.say(_("Reopen") if screen.shot.closed else _("Not reachable"))
        self.unfitted.setEnabled(not screen.shot.closed)
        if self.pages.currentIndex() == 3:
            self.show_shooting()

    def show_closing(self, screen: ClosingScreen) -> None:
        """Show the closing list of a setup."""
        self.closing.show_closing(screen)
        self.pages.setCurrentWidget(self.closing)
        (self.closing.close_button if screen.may_close else self.closing.stay).setFocus()

    def show_tray(self, photos: tuple[TrayPhoto, ...]) -> None:
        """Fill the tray; it is opened by `show_tray_page`."""
        self.tray.show_photos(photos)

    def show_tray_page(self) -> None:
        """Open the tray."""
        self.pages.setCurrentWidget(self.tray)
        self.tray.list.setFocus()

    def show_shooting(self) -> None:
        """Back to the shot."""
        self.pages.setCurrentIndex(0)
        self.next.setFocus()

    def go_on(self) -> None:
        """The next open shot, or the closing list where none is left."""
        if self._screen and self._screen.next_shot:
            self.shot_wanted.emit(self._screen.next_shot)
        else:
            self.want_closing()

    def go_back(self) -> None:
        """The shot before."""
        if self._screen and self._screen.back_shot:
            self.shot_wanted.emit(self._screen.back_shot)

    def take_again(self) -> None:
        """Set the last frame aside."""
        if self._screen and self._screen.shot and self._screen.last:
            self.again_wanted.emit(self._screen.shot.shot, self._screen.last.sha256)

    def ask_why_not(self) -> None:
        """Ask for the reason, or take the shot up again where it was closed."""
        shot = self._screen.shot if self._screen else None
        if shot is None:
            return
        if shot.closed:
            self.reopen_wanted.emit(shot.shot)
        else:
            self.choices.ask(shot.shot, _("Why is it not reachable?"), shot.title, self._screen.reasons)

    def say_not_fitted(self) -> None:
        """The car has no such thing."""
        if self._screen and self._screen.shot and not self._screen.shot.closed:
            self.not_fitted_wanted.emit(self._screen.shot.shot)

    def note_finding(self) -> None:
        """A finding, with the last frame attached."""
        if self._screen and self._screen.shot:
            last = self._screen.last
            self.finding_wanted.emit(self._screen.shot.shot, last.sha256 if last else "")

    def take_extra(self) -> None:
        """An extra of this zone."""
        if self._screen and self._screen.shot:
            self.extra_wanted.emit(self._screen.shot.zone)

    def want_closing(self) -> None:
        """The closing list of this setup."""
        if self._screen and self._screen.shot:
            self.closing_wanted.emit(self._screen.shot.setup)

    def _tick(self, item: str, sight: str) -> None:
        if self._screen and self._screen.shot and self._screen.last:
            self.ticked.emit(self._screen.shot.shot, item, self._screen.last.sha256, sight)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """On a narrow window the words of the buttons stay whole, and their keys are shown in tooltips only."""
        super().resizeEvent(event)
        for button, key in self._keys.items():
            button.show_key(key)
            button.setToolTip(_("Key: {key}").format(key=key))
        gaps = px(_GAP) * (len(self.buttons) - 1) + 2 * px(_EDGE)
        if sum(button.sizeHint().width() for button in self.buttons) + gaps > self.width():
            for button in self.buttons:
                button.show_key("")

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        if event.mimeData().hasUrls():
            event.setDropAction(Qt.DropAction.CopyAction)
            event.accept()

    def dropEvent(self, event: QDropEvent) -> None:
        paths = tuple(Path(url.toLocalFile()) for url in event.mimeData().urls() if url.isLocalFile())
        if paths:
            event.acceptProposedAction()
            self.files_dropped.emit(paths)
