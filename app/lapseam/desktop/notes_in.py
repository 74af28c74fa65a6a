"""Takes a car's notes in from a file: all of it as one step, or nothing and every problem named."""

from __future__ import annotations

from concurrent.futures import Future
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QFileDialog

from lapseam.domain.errors import NotesBroken
from lapseam.workflow import Done

from .notices import Notice
from .widgets.problem_sheet import ProblemSheet
from .words import _

if TYPE_CHECKING:
    from .front import Front


class NotesIn(QObject):
    """The action, the file dialog and the sheet of problems. `take` is where a chosen file goes."""

    def __init__(self, front: Front) -> None:
        super().__init__(front)
        self._front = front
        self._file = Path()
        self.sheet = ProblemSheet(front.window)
        self.sheet.again.connect(lambda: self.take(self._file))
        words = _("Take notes in from a file")
        front.window.actions.add("notes.take", words, self.choose, key="Ctrl+Shift+N", drawing="word")

    def choose(self) -> None:
        """Ask for the file."""
        if not self._front.stock:
            step = _("Open the car that the notes are about, then take them in.")
            self._front.tell(Notice(_("No car is open."), next_step=step, trouble=False))
            return
        kinds = _("Notes (*.yaml *.yml *.csv *.tsv *.txt)")
        title = _("Take notes in to {stock}").format(stock=self._front.stock)
        chosen, _kind = QFileDialog.getOpenFileName(self._front.window, title, str(self._file.parent), kinds)
        if chosen:
            self.take(Path(chosen))

    def take(self, file: Path) -> None:
        """Read the file for the open car."""
        self._file = file
        stock = self._front.stock

        def done(answer: Done | NotesBroken) -> None:
            if isinstance(answer, NotesBroken):
                self.sheet.show_problems(file.name, answer.problems, answer.next_step)
                return
            self._front.tell(Notice(answer.words, trouble=False))
            self._front.changed(stock)

        coming = self._front.desk.take_notes(stock=stock, path=file, by=self._front.by)
        self._front.bridge.when_done(_settled(coming), done)


def _settled(coming: Future[Done]) -> Future[Done | NotesBroken]:
    """The same answer, with the problems of a file as a value and not as trouble."""
    answer: Future[Done | NotesBroken] = Future()

    def settle(done: Future[Done]) -> None:
        error = done.exception()
        if error is None:
            answer.set_result(done.result())
        elif isinstance(error, NotesBroken):
            answer.set_result(error)
        else:
            answer.set_exception(error)

    coming.add_done_callback(settle)
    return answer
