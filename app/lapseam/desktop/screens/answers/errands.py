"""Turns what whoever answers the phone wants into workflow verbs.

The record is asked a moment after the last letter, beside the window; one question is under way at a time, and the
latest waits for it. While the station is not open nothing is asked.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QObject, QTimer

from lapseam.domain.answers import Answer
from lapseam.domain.errors import Cancelled
from lapseam.workflow import Done
from lapseam.workflow.calling import Promise
from lapseam.workflow.looking import Whole

from ...notices import Notice
from ...widgets.choices import Choices
from ...words import _
from .call_draft import CallDraft, day_meant, draft_of
from .state import PromiseLine, answers_screen, nothing_asked, promise_lines, wish_of
from .view import AnswersView

if TYPE_CHECKING:
    from ...front import Front

PAUSE_MS = 120
"""How long nobody types before the record is asked: shorter than a breath, longer than the gap between two letters."""
_MOST = 50


class AnswersErrands(QObject):
    """Wires an `AnswersView` to the desk."""

    def __init__(self, front: Front, view: AnswersView) -> None:
        super().__init__(view)
        self._front = front
        self._view = view
        self._only = False
        self._answer: Answer | None = None
        self._asking = self._again = self._closed = False
        self._cars: tuple[tuple[str, str], ...] = ()
        self._promised: int | None = None
        self._last: tuple[str, str] | None = None
        self._choices = Choices(view)
        self._pause = QTimer(self, singleShot=True, interval=PAUSE_MS)
        self._pause.timeout.connect(self.ask)
        view.typed.connect(self._typed)
        view.scope_wanted.connect(self._turn_scope)
        view.want_wanted.connect(self._want)
        view.log_wanted.connect(self._log)
        view.take_back_wanted.connect(self._take_back)
        view.form.done.connect(self._logged)
        view.form.car_chosen.connect(self._ask_edition)
        view.promise.kept.connect(self._kept)
        self._choices.chosen.connect(lambda question, stock: self._put(stock, question, ""))

    @property
    def promised(self) -> int | None:
        """How many promises are open; None before anybody looked."""
        return self._promised

    def refresh(self, then: Callable[[], None] = lambda: None) -> None:
        """Show cars and promises as they are now, and ask again what stands in the question."""
        if self._closed:
            return
        self._show_scope()
        self._front.bridge.when_done(self._front.desk.cars(), self._show_cars)
        if not self._view.often.count():
            self._front.bridge.when_done(self._front.desk.caller_questions(), self._view.offer_questions)
        self._read_promises(then)
        self.ask()

    def count(self) -> None:
        """Count the promises once, so that the tab tells of them before anybody opens it."""
        if self._promised is None:
            self._read_promises(self._front.show_frame)

    def ask_again(self) -> None:
        """The record has changed: ask again, keeping the place."""
        self._read_promises(self._front.show_frame)
        self.ask()

    def stop(self) -> None:
        """Ask nothing more of the desk; it is about to be closed."""
        self._closed = True
        self._pause.stop()

    def _show_cars(self, cars: Any) -> None:
        self._cars = tuple((one.stock, f"{one.stock}  {one.title}".strip()) for one in cars)
        self._view.form.offer_cars(self._cars)

    def _read_promises(self, then: Callable[[], None] = lambda: None) -> None:
        if self._closed:
            return

        def show(promises: tuple[Promise, ...]) -> None:
            self._promised = len(promises)
            self._view.promises.show_promises(promise_lines(promises))
            then()

        self._front.bridge.when_done(self._front.desk.promises(), show)

    # The question

    @property
    def _scope(self) -> str:
        return self._front.stock if self._only else ""

    def _show_scope(self) -> None:
        self._only = self._only and bool(self._front.stock)
        self._view.show_scope(self._front.stock, only=self._only)

    def _turn_scope(self) -> None:
        self._only = not self._only and bool(self._front.stock)
        self._show_scope()
        self.ask()

    def _typed(self, _words: str) -> None:
        self._view.show_said("")
        self._last = None
        self._pause.start()

    def ask(self) -> None:
        """Ask what stands in the question now."""
        if self._closed or self._asking:
            self._again = self._asking
            return
        words = self._view.question.text()
        if not words.strip():
            self._answer = None
            self._view.show_answers(nothing_asked(self._scope))
            return
        self._asking = True
        job = self._front.begin_job(_("Reading the cars' records"))

        def progress(done: int, total: int) -> None:
            if job.stop():
                raise Cancelled
            job.tell(done, total)

        coming = self._front.desk.ask(words=words, stock=self._scope or None, limit=_MOST, progress=progress)

        def end() -> None:
            job.end()
            self._asking = False
            if self._again:
                self._again = False
                self.ask()

        self._front.bridge.when_done(coming, self._show, finally_do=end)

    def _show(self, answer: Answer) -> None:
        self._answer = answer
        self._view.show_answers(answers_screen(answer, self._scope))

    def _hit(self, row: int) -> Any:
        hits = self._answer.hits if self._answer else ()
        return hits[row] if 0 <= row < len(hits) else None

    # What is wanted of a car

    def _want(self, row: int) -> None:
        asked = self._view.question.text()
        wish = wish_of(asked, self._hit(row), self._scope or self._front.stock)
        if wish is not None:
            self._put(wish.stock, wish.question, wish.about)
        elif not asked.strip():
            self._front.tell(Notice(_("Nothing was asked."), next_step=_("Type the caller's question."), trouble=False))
        elif self._cars:
            self._choices.ask(asked.strip(), _("Which car should be looked at?"), asked.strip(), self._cars)
        else:
            self._front.tell(Notice(_("There is no car yet."), next_step=_("Make one in the Yard."), trouble=False))

    def _put(self, stock: str, question: str, about: str) -> None:
        coming = self._front.desk.want(stock=stock, question=question, by=self._front.by, about=about)
        self._front.bridge.when_done(coming, lambda done: self._said(stock, done))

    # The call

    def _log(self, row: int) -> None:
        stock = self._scope or self._front.stock
        self._view.show_form()
        draft = draft_of(self._view.question.text(), self._hit(row), stock)
        self._view.form.ask(draft, today=self._front.desk.now().date())

    def _ask_edition(self, stock: str) -> None:
        if not stock or self._closed:
            self._view.form.show_edition(None)
            return

        def show(editions: Any) -> None:
            if self._view.form.stock == stock:
                self._view.form.show_edition(editions[-1].number if editions else None)

        self._front.bridge.when_done(self._front.desk.editions(stock=stock), show)

    def _logged(self, draft: CallDraft) -> None:
        coming = self._front.desk.log_call(
            stock=draft.stock,
            question=draft.question.strip(),
            by=self._front.by,
            answer=draft.answer.strip(),
            basis=draft.basis,
            known_by=draft.known_by.strip(),
            source=draft.source,
            caller=draft.caller.strip(),
            sent=draft.sent.strip(),
            photos=draft.photos if draft.photos_sent else (),
            call_back=day_meant(draft.call_back, self._front.desk.now().date()),
            promise=draft.promise.strip(),
        )

        def done(answer: Done) -> None:
            self._view.show_beside()
            self._said(draft.stock, answer)

        self._front.bridge.when_done(coming, done)

    def _kept(self, line: PromiseLine, words: str) -> None:
        coming = self._front.desk.kept(stock=line.stock, number=line.number, by=self._front.by, words=words)

        def done(answer: Done) -> None:
            self._view.show_beside()
            self._said(line.stock, answer)

        self._front.bridge.when_done(coming, done)

    # What was written, and taking it back

    def _said(self, stock: str, done: Done) -> None:
        self._last = (stock, done.entry.words) if done.entry is not None else None
        self._view.show_said(f"{stock}: {done.words}" if self._last else "")
        if not self._last:
            self._front.tell(Notice(done.words, trouble=False))
        self._changed(stock)

    def _changed(self, stock: str) -> None:
        """Show the record as it is now; where the open car changed, its fresh picture asks again by itself."""
        if stock == self._front.stock:
            self._front.changed(stock)
        else:
            self.ask_again()

    def _take_back(self) -> None:
        if self._last is None:
            return
        stock, words = self._last
        self._view.show_said("")
        self._last = None

        def take_back(whole: Whole) -> None:
            if whole.undo != words:
                said = _("Something else was done on {stock} since.").format(stock=stock)
                self._front.tell(Notice(said, next_step=_("Open the car and undo step by step."), trouble=False))
                return
            coming = self._front.desk.undo(stock=stock, by=self._front.by)
            self._front.bridge.when_done(coming, lambda _done: self._changed(stock))

        self._front.bridge.when_done(self._front.desk.whole(stock=stock), take_back)
