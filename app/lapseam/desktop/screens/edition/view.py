"""The Edition's window: the sequence, and beside it the photo, the phone, the outlets or the signature."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QStackedWidget, QVBoxLayout, QWidget

from lapseam.domain.edition import Gallery

from ...actions import Actions
from ...pictures import PictureShelf
from ...theme import px
from ...widgets.bay_button import TARGET, BayButton
from ...widgets.empty_page import EmptyPage
from ...widgets.labels import label, rule, sheet
from ...widgets.passphrase import PassphraseSheet
from ...words import _
from .outlet_pane import OutletPane
from .phone_page import PhonePage
from .photo_pane import PhotoPane
from .sequence_list import SequenceList
from .signature_pane import SignaturePane
from .state import EditionScreen, no_car

_LEAST_HIGH, _ASIDE = 400, 524


class EditionView(QWidget):
    """Shows one `EditionScreen`.

    Signals:
        caption_wanted(sha256, words), typed(words): a caption, said or while it is written.
        move_wanted(sha256, before), step_wanted(sha256, steps), usual_wanted(group): the order.
        lead_wanted(sha256): open the gallery with it.
        outlets_opened(): the outlets are up.
        sign_wanted(): sign the record as it stands.
        publish_wanted(), look_wanted(), folder_wanted(): the next edition; the last one's pages and folder.
    """

    caption_wanted = Signal(str, str)
    typed = Signal(str)
    move_wanted = Signal(str, str)
    step_wanted = Signal(str, int)
    usual_wanted = Signal(str)
    lead_wanted = Signal(str)
    outlets_opened = Signal()
    sign_wanted = Signal()
    publish_wanted = Signal()
    look_wanted = Signal()
    folder_wanted = Signal()

    def __init__(self, shelf: PictureShelf, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        sheet("sheet", self)
        self._screen = no_car()
        self.headline, self.holds = label("heading"), label("", wrap=True)
        self.standing = label("soft", wrap=True)
        self.publish = BayButton("", key="Ctrl+P", drawing="edition", go=True)
        self.look = BayButton("", key="W", drawing="lens")
        self.folder = BayButton(_("Its folder"), key="O", drawing="folder")
        self.sequence = SequenceList(shelf)
        self.photo, self.phone, self.signature = PhotoPane(shelf), PhonePage(shelf), SignaturePane()
        self.outlets = OutletPane(shelf)
        self.beside = QStackedWidget()
        self.panes: list[tuple[BayButton, QWidget]] = []
        self.empty = EmptyPage()
        self.pages = QStackedWidget()
        for words, key, pane in (
            (_("Photo"), "1", self.photo),
            (_("On a phone"), "2", self.phone),
            (_("Outlets"), "3", self.outlets),
            (_("Signature"), "4", self.signature),
        ):
            self.add_pane(words, key, pane)
        self._lay_out()
        self.passphrase = PassphraseSheet(self)
        self._connect()
        self.setFocusProxy(self.sequence)
        self.show_pane(self.photo)
        self.show_edition(no_car(), None)

    def add_pane(self, words: str, key: str, pane: QWidget) -> None:
        """Put a pane beside the sequence, opened by a button and a key."""
        button = BayButton(words, key=key)
        button.setCheckable(True)
        button.clicked.connect(lambda: self.show_pane(pane))
        self.panes.append((button, pane))
        self.beside.addWidget(pane)

    def _lay_out(self) -> None:
        desk = sheet("sheet")
        column = QVBoxLayout(desk)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        head = QHBoxLayout()
        head.setContentsMargins(px(24), px(12), px(18), px(12))
        head.setSpacing(px(8))
        words = QVBoxLayout()
        words.setSpacing(px(2))
        line = QHBoxLayout()
        line.setSpacing(px(12))
        line.addWidget(self.headline)
        line.addWidget(self.holds, 1)
        words.addLayout(line)
        words.addWidget(self.standing)
        head.addLayout(words, 1)
        for button in (self.look, self.folder, self.publish):
            head.addWidget(button)
        column.addLayout(head)
        column.addWidget(rule())
        body = QHBoxLayout()
        body.setSpacing(0)
        body.addWidget(self.sequence, 55)
        body.addWidget(rule(standing=True))
        body.addWidget(self._aside(), 45)
        column.addLayout(body, 1)
        self.pages.addWidget(desk)
        self.pages.addWidget(self.empty)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(self.pages)
        self.pages.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Ignored)
        self.pages.setMinimumHeight(px(_LEAST_HIGH))

    def _aside(self) -> QWidget:
        aside = sheet("sheet")
        aside.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        aside.setMinimumWidth(px(_ASIDE))
        column = QVBoxLayout(aside)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        bar = QWidget()
        bar.setFixedHeight(px(TARGET) + 2 * px(8))
        row = QHBoxLayout(bar)
        row.setContentsMargins(px(18), px(8), px(18), px(8))
        row.setSpacing(px(8))
        for button, _pane in self.panes:
            row.addWidget(button)
        row.addStretch(1)
        column.addWidget(bar)
        column.addWidget(rule())
        column.addWidget(self.beside, 1)
        self.beside.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Ignored)
        return aside

    def _connect(self) -> None:
        self.sequence.chosen.connect(lambda _sha256: self._show_chosen())
        self.sequence.move_wanted.connect(self.move_wanted)
        self.sequence.step_wanted.connect(self.step_wanted)
        self.sequence.doubleClicked.connect(lambda _index: self._write_caption())
        for signal, own in (
            (self.photo.caption_wanted, self.caption_wanted),
            (self.photo.typed, self.typed),
            (self.photo.step_wanted, self.step_wanted),
            (self.photo.usual_wanted, self.usual_wanted),
            (self.photo.lead_wanted, self.lead_wanted),
        ):
            signal.connect(own)
        self.outlets.chosen.connect(self.sequence.choose)
        self.signature.sign_wanted.connect(self.sign_wanted)
        self.publish.clicked.connect(self.publish_wanted)
        self.look.clicked.connect(self.look_wanted)
        self.folder.clicked.connect(self.folder_wanted)

    def add_actions(self, actions: Actions) -> None:
        """Put what can be done here among the window's actions; the keys work only in this view."""
        for name, words, do, key, drawing in (
            ("edition.publish", _("Publish the next edition"), self.publish_wanted.emit, "Ctrl+P", "edition"),
            ("edition.look", _("Look at the last edition"), self.look_wanted.emit, "W", "lens"),
            ("edition.folder", _("Open the last edition's folder"), self.folder_wanted.emit, "O", "folder"),
            ("edition.caption", _("Write this photo's caption"), self._write_caption, "C", "word"),
            ("edition.lead", _("Lead with this photo"), self.photo.lead.click, "L", "place"),
            ("edition.pin", _("This photo must be in the outlet's set"), self.outlets.pin.click, "P", "place"),
            ("edition.ban", _("This photo stays out of the outlet's set"), self.outlets.ban.click, "B", "aside"),
            ("edition.free", _("Neither in nor out of the outlet's set by wish"), self.outlets.free.click, "F", "undo"),
            ("edition.text", _("Turn between the outlet's photos and its text"), self.outlets.turn.click, "T", "word"),
            ("edition.copy", _("Copy the outlet's text"), self.outlets.copy.click, "Y", "word"),
            ("edition.write", _("Write the outlet's folder"), self.outlets.write.click, "Ctrl+E", "folder"),
            ("edition.sign", _("Sign the record as it stands"), self.signature.sign.click, "S", "proof"),
            ("edition.usual", _("Give this group its usual order"), self.photo.usual.click, "U", "undo"),
        ):
            actions.add(name, words, do, key=key, drawing=drawing, where=self)
        for button, pane in self.panes:
            name = f"edition.pane-{button.key}"
            actions.add(name, button.text(), lambda pane=pane: self.show_pane(pane), key=button.key, where=self)

    def show_edition(self, screen: EditionScreen, gallery: Gallery | None) -> None:
        """Show the edition as it would stand now."""
        self._screen = screen
        title, step = screen.empty
        self.pages.setCurrentIndex(1 if title else 0)
        self.empty.say(title, step)
        self.headline.setText(screen.headline)
        self.holds.setText(screen.holds)
        self.standing.setText(screen.standing)
        self.publish.say(_("Publish edition {number}").format(number=screen.number))
        self.publish.setEnabled(bool(screen.groups))
        last = screen.last
        self.look.say(_("Look at edition {number}").format(number=last.number) if last else _("No edition yet"))
        for button in (self.look, self.folder):
            button.setEnabled(last is not None)
        self.sequence.show_screen(screen)
        self.signature.show_screen(screen)
        self.phone.show_gallery(gallery)
        self._show_chosen()

    def show_pane(self, pane: QWidget) -> None:
        """Show another pane beside the sequence."""
        self.beside.setCurrentWidget(pane)
        for button, one in self.panes:
            button.setChecked(one is pane)
        if pane is self.outlets:
            self.outlets_opened.emit()
        self._show_chosen()

    def _show_chosen(self) -> None:
        place = self.sequence.place()
        group = next((one for one in self._screen.groups if place and one.id == place.group), None)
        self.photo.show_place(place, arranged=bool(group and group.arranged))
        if place is not None and self.beside.currentWidget() is self.phone:
            self.phone.go_to(place.sha256)

    def _write_caption(self) -> None:
        self.show_pane(self.photo)
        self.photo.write_caption()
