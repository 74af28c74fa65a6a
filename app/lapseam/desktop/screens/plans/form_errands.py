"""The form's work: every edit goes into the draft at once, and the text as it would be saved is checked beside it."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QTimer

from lapseam.domain.plan import Setup
from lapseam.workflow.shelving import PlanPage, PlanText, Tried

from ...notices import Notice
from ...widgets.choices import Choices
from ...words import _
from .draft import Draft, said, verdict
from .state import users_words
from .view import PlansView

if TYPE_CHECKING:
    from ...front import Front

_CHECK_AFTER_MS = 300


class FormErrands(QObject):
    """Wires the form. `on_saved` gets the plan's id; `on_left` is called when the form was left."""

    def __init__(
        self, front: Front, view: PlansView, *, on_saved: Callable[[str], None], on_left: Callable[[], None]
    ) -> None:
        super().__init__(view)
        self._front, self._view, self._form = front, view, view.form
        self._on_saved, self._on_left = on_saved, on_left
        self._plan, self._shot = "", ""
        self._page: PlanText | None = None
        self._setups: tuple[Setup, ...] = ()
        self.draft = Draft(())
        self._tried: Tried | None = None
        self._checking, self._again, self._saving = False, False, False
        self._pause = QTimer(self, singleShot=True, interval=_CHECK_AFTER_MS)
        self._pause.timeout.connect(self._check)
        self._ask = Choices(view)
        self._connect()

    def _connect(self) -> None:
        form = self._form
        form.shot_wanted.connect(self._go)
        form.typed.connect(self._typed)
        form.paused.connect(self._paused)
        form.add_wanted.connect(self._add)
        form.remove_wanted.connect(self._remove)
        form.undo_wanted.connect(lambda: self._played(self.draft.undo()))
        form.redo_wanted.connect(lambda: self._played(self.draft.redo()))
        form.save_wanted.connect(self._save)
        form.left.connect(self._leave)
        self._ask.chosen.connect(self._answered)

    def open(self, plan: str) -> None:
        """Lay a plan of the house open."""
        self._front.bridge.when_done(self._front.desk.open_plan(plan=plan), self._opened)

    def stop(self) -> None:
        """Check nothing more."""
        self._pause.stop()
        self._page = None

    def _opened(self, found: PlanPage) -> None:
        self._plan, self._page = found.shelf.file.id, found.page
        self._setups = found.tried.plan.setups if found.tried.plan else ()
        self.draft = Draft(found.tried.shots)
        self._tried = found.tried
        self._shot = self.draft.shots[0].id if self.draft.shots else ""
        users = users_words(found.shelf.users)
        keeps = _("{users}: each keeps the copy it was begun with.").format(users=users) if users else ""
        about = keeps or _("Cars that are begun from now on are walked by what you save here.")
        self._form.show_plan(found.shelf.file.title, about)
        self._show()
        self._view.show_page(self._form)

    def _show(self) -> None:
        self._form.show_draft(self.draft, self._setups, self._shot)
        self._show_verdict()

    def _show_verdict(self) -> None:
        found = verdict(self._tried, self._shot)
        self._form.show_verdict(found, may_save=self.draft.changed and not found.wrong and not self._saving)

    def _go(self, shot: str) -> None:
        self.draft, self._shot = self.draft.pause(), shot
        self._form.show_shot(self.draft, shot)
        self._show_verdict()

    def _typed(self, key: str, words: str) -> None:
        sheet = self.draft.shot(self._shot)
        if sheet is None:
            return
        if key == "id":
            self._rename(words.strip())
            return
        before, self.draft = self.draft, self.draft.change(self._shot, *said(sheet, key, words))
        if self.draft != before:
            self._form.show_shot(self.draft, self._shot)
            self._changed()

    def _rename(self, new: str) -> None:
        trouble = self.draft.id_trouble(self._shot, new)
        self._form.shot.show_wrong({"id": trouble} if trouble else {})
        renamed = self.draft.rename(self._shot, new)
        if renamed != self.draft:
            self.draft, self._shot = renamed, new
            self._form.show_draft(self.draft, self._setups, new)
            self._changed()

    def _paused(self) -> None:
        self.draft = self.draft.pause()

    def _add(self) -> None:
        self.draft, new = self.draft.add(self._shot)
        if new:
            self._shot = new
            self._show()
            self._changed()
            title = self._form.shot.fields["title"]
            title.setFocus()
            title.selectAll()

    def _remove(self) -> None:
        shots = [one.id for one in self.draft.shots]
        at = shots.index(self._shot) if self._shot in shots else 0
        self._played(self.draft.remove(self._shot), at)

    def _played(self, draft: Draft, at: int = 0) -> None:
        """Show another draft, on the shot stood on where it still is, else on the one at that place."""
        if draft == self.draft:
            return
        self.draft = draft
        shots = [one.id for one in draft.shots]
        if self._shot not in shots:
            self._shot = shots[min(at, len(shots) - 1)] if shots else ""
        self._show()
        self._changed()

    def _changed(self) -> None:
        """What the check said is of another text now; look again when the hands are still."""
        self._tried = None
        self._show_verdict()
        self._pause.start()

    def _check(self) -> None:
        if self._checking:
            self._again = True
            return
        if self._page is None:
            return
        self._checking, edits = True, self.draft.edits

        def told(tried: Tried) -> None:
            if edits == self.draft.edits:
                self._tried = tried
                self._show_verdict()

        coming = self._front.desk.try_edits(page=self._page, edits=edits)
        self._front.bridge.when_done(coming, told, finally_do=self._checked)

    def _checked(self) -> None:
        self._checking = False
        if self._again:
            self._again = False
            self._check()

    def _save(self) -> None:
        if self._page is None or not self._form.save.isEnabled():
            return
        self._saving = True
        self._show_verdict()
        coming = self._front.desk.save_plan(page=self._page, edits=self.draft.edits)
        self._front.bridge.when_done(coming, lambda _page: self._saved(), finally_do=self._save_ended)

    def _saved(self) -> None:
        words = _("{plan} is saved.").format(plan=self._form.title.text())
        effect = _("Cars begun before keep the plan they were begun with.")
        self._front.tell(Notice(words, effect, _("Make a car with it in the Yard."), trouble=False))
        self.draft = Draft(self.draft.shots)
        self._on_saved(self._plan)

    def _save_ended(self) -> None:
        self._saving = False
        self._show_verdict()

    def _leave(self) -> None:
        if not self.draft.changed:
            self._on_left()
            return
        choices = (("leave", _("Leave it as it was")),)
        self._ask.ask("leave", _("What you changed is not saved"), self._form.title.text(), choices)

    def _answered(self, _subject: str, choice: str) -> None:
        if choice == "leave":
            self.draft = Draft(self.draft.base)
            self.stop()
            self._on_left()
