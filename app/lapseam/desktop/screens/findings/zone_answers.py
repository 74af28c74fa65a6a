"""What is said of a zone beside findings: nothing found, results of tests, and words that are kept."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject

from lapseam.domain.statement import CheckVerdict
from lapseam.domain.unfinished import Todo, sweep
from lapseam.workflow.finding_out import Swept
from lapseam.workflow.office import Done

from ...finding_draft import FindingDraft
from ...words import _
from .check_state import OWN, check_screen, own_check, reasons
from .state import swept_notice
from .view import FindingsView

if TYPE_CHECKING:
    from ...front import Front
    from .errands import FindingsErrands

NEW, JOT, TEST = "new", "jot", "test"
"""Keys of what is being written and not on the list yet."""


class ZoneAnswers(QObject):
    """Wires the panes of a `FindingsView` but the form to the desk; `owner` knows what is up."""

    def __init__(self, front: Front, view: FindingsView, owner: FindingsErrands) -> None:
        super().__init__(view)
        self._front, self._view, self._owner = front, view, owner
        view.sweep_wanted.connect(self._sweep)
        view.form.looked_wanted.connect(self._looked)
        view.check.answered.connect(self._answered)
        view.choices.chosen.connect(self._not_tested)
        view.note.keep_wanted.connect(self._keep_note)
        view.note.finding_wanted.connect(self._make_finding)
        view.note.take_out_wanted.connect(self._take_note_out)

    def _sweep(self) -> None:
        if not self._front.stock or not self._owner.screen.zone:
            return

        def swept(answer: Swept) -> None:
            whole = self._front.whole
            self._owner.wish_next()
            if whole is not None:
                self._front.tell(swept_notice(whole.car, answer.sweep))

        coming = self._front.desk.nothing_found_in(
            stock=self._front.stock, zone=self._owner.screen.zone, by=self._front.by
        )
        self._front.do(coming, swept)

    def _looked(self) -> None:
        whole, line = self._front.whole, self._owner.line
        if whole is None or line is None or line.of is not Todo.PART:
            return
        found = sweep(whole.car, whole.coverage, self._owner.screen.zone)
        frames = dict(found.parts).get(line.subject, ())
        desk, stock, by = self._front.desk, self._front.stock, self._front.by
        self._owner.do_once(
            lambda: desk.nothing_found(stock=stock, component=line.subject, photos=frames, by=by), self._said
        )

    def _said(self, _done: Done) -> None:
        """What was up is on file now, and what was begun of it is no more."""
        self._owner.drafts.pop(self._owner.key, None)
        self._owner.notes.pop(self._owner.key, None)
        self._owner.wish_next()

    def dealt_with(self, number: int) -> None:
        """A line of the re-shoot list was dealt with."""
        desk, stock, by = self._front.desk, self._front.stock, self._front.by
        self._owner.do_once(lambda: desk.dealt_with(stock=stock, number=number, by=by), self._said)

    def _answered(self, verdict: CheckVerdict) -> None:
        whole, check = self._front.whole, self._check_up()
        if whole is None:
            return
        if not check:
            self._view.check.take_keyboard()
        elif verdict is CheckVerdict.NOT_TESTED:
            title = self._view.check.item.text() or check_screen(whole.car, check).item
            self._view.choices.ask(check, _("Why was it not tested?"), title, reasons(whole.car))
        else:
            self._check(check, verdict)

    def _check_up(self) -> str:
        """The test that is up; one of the house's own is called by its words, "" before it has any."""
        line = self._owner.line
        if line is not None:
            return line.subject if line.of is Todo.CHECK else ""
        return own_check(self._view.check.item.text()) if self._owner.key == TEST else ""

    def _not_tested(self, check: str, reason: str) -> None:
        self._check(check, CheckVerdict.NOT_TESTED, reason)

    def _check(self, check: str, verdict: CheckVerdict, reason: str = "") -> None:
        pane = self._view.check
        item = pane.item.text().strip() if check.startswith(OWN) else ""
        said = {
            "item": item,
            "conditions": pane.conditions.text().strip(),
            "note": pane.note.text().strip(),
            "reason": reason,
        }
        desk, stock, by = self._front.desk, self._front.stock, self._front.by
        self._owner.do_once(lambda: desk.check(stock=stock, check=check, verdict=verdict, by=by, **said), self._said)

    def _keep_note(self) -> None:
        line = self._owner.line
        number = int(line.subject) if line is not None and line.of is Todo.JOTTING else 0
        text = self._view.note.text.text()
        if not text.strip():
            self._view.note.text.setFocus()
            return
        desk, stock, by, zone = self._front.desk, self._front.stock, self._front.by, self._owner.screen.zone

        def kept(done: Done) -> None:
            self._view.note.setProperty("note", "")
            self._said(done)

        self._owner.do_once(lambda: desk.jot(stock=stock, zone=zone, text=text, by=by, number=number), kept)

    def _make_finding(self) -> None:
        """Open the form with the note's words in it; the note goes when the finding is recorded."""
        line, text = self._owner.line, self._view.note.text.text()
        if line is None:
            self._owner.drafts[NEW] = FindingDraft(note=text)
            self._owner.notes.pop(JOT, None)
            self._owner.write(NEW)
        elif line.of is Todo.JOTTING:
            self._owner.change_draft(FindingDraft(jotting=int(line.subject), note=text))
            self._view.enter_pane()

    def _take_note_out(self) -> None:
        line = self._owner.line
        if line is not None and line.of is Todo.JOTTING:
            desk, stock, by, number = self._front.desk, self._front.stock, self._front.by, int(line.subject)
            self._owner.do_once(lambda: desk.take_out_jotting(stock=stock, number=number, by=by), self._said)
