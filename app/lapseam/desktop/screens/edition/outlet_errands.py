"""Turns what a lister wants of an outlet into workflow verbs: its set, wishes for photos, its folder, its text."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QFileDialog

from lapseam.domain.errors import UserError
from lapseam.publish.outlet_files import OutletFolder
from lapseam.workflow.outlets import OutletSet

from ...notices import Notice
from ...words import _, _n
from .outlet_pane import OutletPane
from .outlet_state import OutletChoice, OutletScreen, choices, outlet_screen

if TYPE_CHECKING:
    from ...front import Front


class OutletErrands(QObject):
    """Wires an `OutletPane` to the desk. While the pane is not open nothing is chosen."""

    def __init__(self, front: Front, pane: OutletPane, photo_chosen: Callable[[], str]) -> None:
        super().__init__(pane)
        self._front = front
        self._pane = pane
        self._photo_chosen = photo_chosen
        self._choice: OutletChoice | None = None
        self._screen: OutletScreen | None = None
        self._asking = self._again = False
        self.ask_folder: Callable[[str], str] = self._ask_folder
        pane.outlet_wanted.connect(self._open)
        pane.pin_wanted.connect(lambda: self._wish("pins"))
        pane.ban_wanted.connect(lambda: self._wish("bans"))
        pane.free_wanted.connect(lambda: self._wish("free"))
        pane.step_wanted.connect(self._step)
        pane.folder_wanted.connect(self._write)
        pane.copy_wanted.connect(self._copy)

    @property
    def screen(self) -> OutletScreen | None:
        """What is shown; None before anything was chosen."""
        return self._screen

    def refresh(self) -> None:
        """Choose anew for the open car and the outlet that is up; one choosing at a time, the latest wins."""
        front = self._front
        if not front.stock:
            return
        if self._asking:
            self._again = True
            return
        try:
            offered = choices(front.desk.outlets())
        except UserError as error:
            front.window.tell_error(error)
            return
        if self._choice not in offered:
            self._choice, self._screen = offered[0], None
            self._pane.show_outlet(None)
        choice = self._choice
        assert choice is not None
        self._pane.offer(offered, choice)
        self._asking = True
        coming = front.desk.outlet(stock=front.stock, name=choice.name, limit=choice.limit)
        front.bridge.when_done(coming, lambda made: self._show(choice, made), finally_do=self._asked)

    def _show(self, choice: OutletChoice, made: OutletSet) -> None:
        whole = self._front.whole
        if whole is not None and choice == self._choice:
            self._screen = outlet_screen(choice, made, whole.car)
            self._pane.show_outlet(self._screen)

    def _asked(self) -> None:
        self._asking = False
        if self._again:
            self._again = False
            self.refresh()

    def _open(self, choice: OutletChoice) -> None:
        self._choice, self._screen = choice, None
        self._pane.show_outlet(None)
        self.refresh()

    # Wishes

    def _wish(self, kind: str) -> None:
        front, choice = self._front, self._choice
        place = self._pane.place() if self._pane.list.hasFocus() else None
        photo = place.sha256 if place else self._photo_chosen()
        if choice is None or not photo:
            return
        if not choice.name:
            step = _("Name the house's outlets in outlets.yaml in the workspace; wishes are kept by name.")
            front.tell(Notice(_("There is no outlet to keep wishes for."), next_step=step, trouble=False))
            return
        asked = {kind: [photo]}
        front.do(front.desk.wish(stock=front.stock, outlet=choice.name, by=front.by, **asked))

    def _step(self, sha256: str, steps: int) -> None:
        front, screen = self._front, self._screen
        order = screen.moved(sha256, steps) if screen is not None and screen.named else ()
        if screen is not None and order:
            front.do(front.desk.wish(stock=front.stock, outlet=screen.choice.name, by=front.by, order=order))

    # What goes out

    def _copy(self) -> None:
        screen = self._screen
        if screen is not None:
            QGuiApplication.clipboard().setText(screen.text)
            words = _n("The text is copied: {n} character.", "The text is copied: {n} characters.", len(screen.text))
            self._front.tell(Notice(words, screen.standing, trouble=False))

    def _ask_folder(self, title: str) -> str:
        return QFileDialog.getExistingDirectory(self._pane, title)

    def _write(self) -> None:
        front, screen = self._front, self._screen
        if screen is None or not screen.ready:
            return
        parent = self.ask_folder(_("Where the outlet's folder is to stand"))
        if not parent:
            return
        choice = screen.choice
        name = (choice.name or f"{choice.limit} photos").replace("/", "-")
        out = Path(parent) / f"{front.stock} {name}"
        job = front.begin_job(_("Writing the photos for {outlet}").format(outlet=choice.words))
        coming = front.desk.write_outlet(
            stock=front.stock, out=out, name=choice.name, limit=choice.limit, progress=job.tell, stop=job.stop
        )
        front.bridge.when_done(coming, self._tell_written, finally_do=job.end)

    def _tell_written(self, written: OutletFolder) -> None:
        words = _n("{n} photo is written.", "{n} photos are written.", len(written.photos))
        detail = "\n".join((str(written.path), *written.troubles))
        self._front.tell(Notice(words, detail=detail, trouble=bool(written.troubles)))
