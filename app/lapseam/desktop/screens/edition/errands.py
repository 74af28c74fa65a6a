"""Turns what a lister wants of the next edition into workflow verbs, and shows it as it would stand after each."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QTimer, QUrl
from PySide6.QtGui import QDesktopServices

from lapseam.domain.claims import Judged, Verdict
from lapseam.workflow.arranging import InTheMaking
from lapseam.workflow.guarding import judge_text
from lapseam.workflow.key_keeping import KeyLine
from lapseam.workflow.publishing import EditionLine, EditionMade

from ...notices import Notice
from ...words import _
from .outlet_errands import OutletErrands
from .state import EditionScreen, edition_screen, moved, no_car
from .view import EditionView

if TYPE_CHECKING:
    from ...front import Front

_SIGN, _PUBLISH = "sign", "publish"
PAUSE_MS = 250
"""How long nobody types before the guard is asked about a caption."""


class EditionErrands(QObject):
    """Wires an `EditionView` to the desk. While the station is not open it works nothing out."""

    def __init__(self, front: Front, view: EditionView) -> None:
        super().__init__(view)
        self._front = front
        self._view = view
        self._screen = no_car()
        self._editions: tuple[EditionLine, ...] = ()
        self._asking = self._again = False
        self._words = ""
        self.open_url: Callable[[QUrl], object] = QDesktopServices.openUrl
        self.outlets = OutletErrands(front, view.outlets, self._photo_chosen)
        view.outlets_opened.connect(self.outlets.refresh)
        self._pause = QTimer(self, singleShot=True, interval=PAUSE_MS)
        self._pause.timeout.connect(self._ask_guard)
        view.caption_wanted.connect(self._caption)
        view.typed.connect(self._typed)
        view.move_wanted.connect(self._move)
        view.step_wanted.connect(self._step)
        view.usual_wanted.connect(self._usual)
        view.lead_wanted.connect(self._lead)
        view.publish_wanted.connect(self.publish)
        view.sign_wanted.connect(self.sign)
        view.passphrase.given.connect(self._with_passphrase)
        view.passphrase.without.connect(lambda _purpose: self._publish(None))
        view.look_wanted.connect(self._look)
        view.folder_wanted.connect(self._folder)

    @property
    def screen(self) -> EditionScreen:
        """What is shown."""
        return self._screen

    @property
    def stopped_by(self) -> int | None:
        """How many rules stop the open car's signature; None before anybody looked."""
        return self._screen.stopped_by if self._screen.stock and self._screen.stock == self._front.stock else None

    def refresh(self, then: Callable[[], None] = lambda: None) -> None:
        """Show the open car's next edition as it would stand now; one working-out at a time, the latest wins."""
        stock = self._front.stock
        if not stock:
            self._screen = no_car()
            self._view.show_edition(self._screen, None)
            then()
            return
        if self._asking:
            self._again = True
            return
        self._asking = True
        self._front.bridge.when_done(self._front.desk.editions(stock=stock), self._keep_editions)
        if self._view.beside.currentWidget() is self._view.outlets:
            self.outlets.refresh()
        coming = self._front.desk.next_edition(stock=stock)
        self._front.bridge.when_done(coming, lambda made: (self._show(made), then()), finally_do=self._asked)

    def _photo_chosen(self) -> str:
        place = self._view.sequence.place()
        return place.sha256 if place else ""

    def stop(self) -> None:
        """Ask nothing more of the desk; it is about to be closed."""
        self._pause.stop()

    def _keep_editions(self, editions: tuple[EditionLine, ...]) -> None:
        self._editions = editions

    def _show(self, made: InTheMaking) -> None:
        if made.review.car.stock != self._front.stock:
            return
        self._screen = edition_screen(made, self._editions)
        self._view.show_edition(self._screen, made.edition.gallery)

    def _asked(self) -> None:
        self._asking = False
        if self._again:
            self._again = False
            self.refresh()

    # Captions and order

    def _caption(self, sha256: str, words: str) -> None:
        self._pause.stop()
        front = self._front
        front.do(front.desk.caption(stock=front.stock, photo=sha256, words=words, by=front.by))

    def _typed(self, words: str) -> None:
        self._words = words
        self._pause.start()

    def _ask_guard(self) -> None:
        whole, words, front = self._front.whole, self._words, self._front
        if whole is None or not words.strip():
            self._view.photo.show_guard("")
            return
        coming = front.desk.runner.aside(judge_text, words, workspace=front.desk.folder, whole=whole)
        front.bridge.when_done(coming, lambda judged: self._show_guard(words, judged))

    def _show_guard(self, words: str, judged: tuple[Judged, ...]) -> None:
        if words == self._words:
            self._view.photo.show_guard(guard_words(judged))

    def _move(self, sha256: str, before: str) -> None:
        order = moved(self._screen, sha256, before)
        front = self._front
        if order is not None:
            front.do(front.desk.arrange(stock=front.stock, group=order[0], photos=order[1], by=front.by))

    def _step(self, sha256: str, steps: int) -> None:
        place, front = self._screen.place(sha256), self._front
        if place is not None and place.movable:
            front.do(front.desk.move(stock=front.stock, photo=sha256, steps=steps, by=front.by))

    def _usual(self, group: str) -> None:
        front = self._front
        front.do(front.desk.arrange(stock=front.stock, group=group, photos=(), by=front.by))

    def _lead(self, sha256: str) -> None:
        front = self._front
        front.do(front.desk.lead_with(stock=front.stock, photo=sha256, by=front.by))

    # Publishing

    def sign(self) -> None:
        """Sign the record as it stands: with the person's key where he has one, else by name."""
        front = self._front
        front.bridge.when_done(front.desk.key_of(person=front.by), self._sign_with)

    def _sign_with(self, key: KeyLine | None) -> None:
        if key is None:
            self._sign(None)
            return
        self._view.passphrase.ask(
            _SIGN,
            _("Your passphrase, {person}").format(person=self._front.by),
            _("It opens the key that signs the record of {stock}.").format(stock=self._front.stock),
            go=_("Sign"),
        )

    def _sign(self, passphrase: str | None) -> None:
        front = self._front
        coming = front.desk.sign(stock=front.stock, by=front.by, passphrase=passphrase)
        front.do(coming, lambda done: front.tell(Notice(done.words, trouble=False)))

    def _with_passphrase(self, purpose: str, passphrase: str) -> None:
        if purpose == _SIGN:
            self._sign(passphrase)
        else:
            self._publish(passphrase)

    def publish(self) -> None:
        """Publish the next edition; where a key signed the record, ask for its passphrase to sign the files too."""
        if not self._screen.groups:
            return
        if not self._screen.with_key:
            self._publish(None)
            return
        self._view.passphrase.ask(
            _PUBLISH,
            _("Sign the files of edition {number} too?").format(number=self._screen.number),
            _("The record is signed with a key. Its passphrase signs the edition's own list of files as well."),
            go=_("Publish"),
            without=_("Without it"),
        )

    def _publish(self, passphrase: str | None) -> None:
        """Publish beside the window; it can be stopped, and a stopped one leaves nothing behind."""
        front, stock = self._front, self._front.stock
        job = front.begin_job(_("Publishing edition {number}").format(number=self._screen.number))
        self._view.publish.setEnabled(False)
        coming = front.desk.publish(stock=stock, by=front.by, passphrase=passphrase, progress=job.tell, stop=job.stop)

        def published(made: EditionMade) -> None:
            front.tell(
                Notice(
                    made.words,
                    next_step=_("Press W to look at it, O for its folder."),
                    detail=str(made.path),
                    trouble=False,
                )
            )

        def ended() -> None:
            job.end()
            self._view.publish.setEnabled(True)
            front.changed(stock)

        front.bridge.when_done(coming, published, finally_do=ended)

    def _look(self) -> None:
        if self._screen.last is not None:
            self.open_url(QUrl.fromLocalFile(str(self._screen.last.path / "data" / "index.html")))

    def _folder(self) -> None:
        if self._screen.last is not None:
            self.open_url(QUrl.fromLocalFile(str(self._screen.last.path)))


def guard_words(judged: tuple[Judged, ...]) -> str:
    """What stands against a caption, refusals first, each with what may be said instead."""
    against = [one for sentence in judged for one in sentence.objections]
    against.sort(key=lambda one: one.verdict is not Verdict.REFUSED)
    parts = []
    for one in against[:2]:
        instead = _("Say instead: {words}.").format(words=one.instead) if one.instead else ""
        parts.append(" ".join(word for word in (one.why, instead) if word))
    return " ".join(parts)
