"""Turns what a person wants at a zone into workflow verbs, and shows the Findings as they are after each.

Nothing is worked out while another station is open: photos may be coming in there.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QObject

from lapseam.domain.claims import Judged
from lapseam.domain.completion import Offers
from lapseam.domain.errors import UserError
from lapseam.domain.finding import FindingState
from lapseam.domain.unfinished import Todo
from lapseam.workflow.looking import Whole
from lapseam.workflow.office import Done

from ...finding_draft import FindingDraft, finding_from, lacking
from ...notices import Notice
from ...words import _
from .check_state import check_screen
from .form_state import form_hint, form_title, shown_by, uses_of
from .form_view import GUARDED
from .guard import warned_of
from .marking import Marking
from .state import (
    FindingsScreen,
    Line,
    draft_for,
    findings_screen,
    first_photo,
    next_zone_words,
    no_car,
    with_mark_s_photo,
    with_role,
)
from .view import FindingsView
from .zone_answers import JOT, NEW, TEST, ZoneAnswers

if TYPE_CHECKING:
    from ...front import Front


class FindingsErrands(QObject):
    """Wires a `FindingsView` to the desk. Knows the zone, line and photo that are up, and what is half written."""

    def __init__(self, front: Front, view: FindingsView) -> None:
        super().__init__(view)
        self._front = front
        self._view = view
        self.screen = FindingsScreen()
        self._stock = self._zone = self.key = self._photo = ""
        self._wishes: tuple[str, ...] = ()
        self.drafts: dict[str, FindingDraft] = {}
        self.notes: dict[str, str] = {}
        self._offers: Offers | None = None
        self._judged = 0
        self._under_way = ""
        self._answers = ZoneAnswers(front, view, self)
        self._connect()

    def _connect(self) -> None:
        view = self._view
        view.zone_wanted.connect(self.go_to_zone)
        view.zone_step_wanted.connect(lambda step: self.go_to_zone(self.screen.beside(step)))
        view.line_wanted.connect(self._go_to_line)
        view.step_wanted.connect(self._step)
        view.new_wanted.connect(lambda: self.write(NEW))
        view.jot_wanted.connect(lambda: self.write(JOT))
        view.test_wanted.connect(lambda: self.write(TEST))
        view.check.test_wanted.connect(lambda: self.write(TEST))
        view.repaired_wanted.connect(self._repaired)
        view.photos.chosen.connect(self._look_at)
        view.photos.role_wanted.connect(self._role)
        view.photos.marked.connect(self._marked)
        view.form.changed.connect(self._keep_draft)
        view.form.judge_wanted.connect(self._judge)
        view.form.record_wanted.connect(self._record)
        view.note.text.typed.connect(self._keep_words)
        view.word.wanted.connect(self._go_on)

    # What is shown

    @property
    def zone(self) -> str:
        """The zone that is up."""
        return self.screen.zone

    def show(self, whole: Whole) -> None:
        """The car is another now: show it, if anybody is looking."""
        if self._front.station == "findings":
            self._show(whole)

    def refresh(self) -> None:
        """Show the zone as it is now."""
        self._show(self._front.whole)

    def go_to_zone(self, zone: str) -> None:
        """Open a zone at its first unfinished thing."""
        if zone:
            self._zone, self.key, self._photo = zone, "", ""
            self.refresh()
            self._front.show_frame()

    def _show(self, whole: Whole | None) -> None:
        if whole is None:
            self.screen = no_car()
            self._view.show_zone(self.screen, "")
            return
        if whole.car.stock != self._stock:
            self._stock, self._zone, self.key, self._photo = whole.car.stock, "", "", ""
            self.drafts, self.notes, self._offers = {}, {}, None
        self.screen = findings_screen(whole.car, whole.coverage, whole.unfinished, self._zone)
        self._zone = self.screen.zone
        before = self.key
        self.key = self._line_to_show()
        if self.key != before:
            self._photo = ""
        self._view.show_zone(self.screen, self.key)
        self._say_begun()
        if self.screen.zone:
            self._ask_offers(whole)
            self._show_pane(whole)

    def _line_to_show(self) -> str:
        """What was wished for and is there, else what is up, else the first unfinished thing."""
        wishes, self._wishes = self._wishes, ()
        for key in (*wishes, self.key):
            if key in (NEW, JOT, TEST) or self.screen.line(key) is not None:
                return key
        return self.screen.open[0].key if self.screen.open else ""

    def _ask_offers(self, whole: Whole) -> None:
        if self._offers is None:
            self._front.bridge.when_done(self._front.desk.offers(whole=whole), self._offers_came)
        else:
            self._view.form.offer(self._offers, self.screen.own_parts, whole.car.plan.vocabulary)

    def _offers_came(self, offers: Offers) -> None:
        whole = self._front.whole
        if whole is not None:
            self._offers = offers
            self._view.form.offer(offers, self.screen.own_parts, whole.car.plan.vocabulary)

    @property
    def line(self) -> Line | None:
        """The line that is up; None for what is not on the list."""
        return self.screen.line(self.key)

    def _show_pane(self, whole: Whole) -> None:
        view, line = self._view, self.line
        if self.key == JOT or (line and line.of is Todo.JOTTING and self.key not in self.drafts):
            self._show_note(whole, line)
        elif self.key == NEW or (line and line.of in (Todo.FINDING, Todo.PART, Todo.PHOTO, Todo.JOTTING)):
            self._show_form(whole, line)
            return
        elif self.key == TEST or (line is not None and line.of is Todo.CHECK):
            kept = view.pane.currentWidget() is view.check and view.check.property("check") == self.key
            view.check.setProperty("check", self.key)
            view.check.show_check(check_screen(whole.car, line.subject if line else ""), kept=kept)
            view.show_pane(view.check)
        else:
            self._show_word(whole, line)
        self._show_photos(None)

    def _show_form(self, whole: Whole, line: Line | None) -> None:
        draft = self._draft(whole)
        if not self._photo:
            self._photo = first_photo(self.screen, draft, draft.component)
        self._view.form.show_draft(
            draft,
            title=form_title(whole.car, draft, line),
            hint=form_hint(line),
            shown_by=shown_by(draft),
            look=line is not None and line.of is Todo.PART and line.open,
        )
        self._view.show_pane(self._view.form)
        self._show_photos(draft)

    def _show_photos(self, draft: FindingDraft | None) -> None:
        if not self._photo or self._photo not in {row.sha256 for row in self.screen.photos}:
            line = self.line
            own = line.subject if line is not None and line.of is Todo.PHOTO else ""
            self._photo = own or first_photo(self.screen, draft, draft.component if draft else "")
        marking = self._view.photos.picture.marking
        marks = draft.marks if draft else ()
        if marking.marks != marks:
            marking = Marking(marks, marking.x, marking.y)
        self._view.photos.show_photos(self.screen, self._photo, uses_of(draft, self.screen.photos))
        self._view.photos.show_marks(marking, may_mark=draft is not None)

    def _show_note(self, whole: Whole, line: Line | None) -> None:
        number = line.subject if line else ""
        kept = next((one.text for one in whole.car.jottings if one.key == number), "")
        title = _("Note {n} of {zone}").format(n=number, zone=self.screen.name)
        new = _("Note for {zone}").format(zone=self.screen.name)
        note = self._view.note
        if note.property("note") != self.key or self._view.pane.currentWidget() is not note:
            note.setProperty("note", self.key)
            note.show_note(title if line else new, self.notes.get(self.key, kept), kept=line is not None)
        self._view.show_pane(note)

    def _show_word(self, whole: Whole, line: Line | None) -> None:
        pane, after = self._view.word, self.screen.after_open()
        if line is not None and line.of is Todo.ASKED:
            asked = next(one for one in whole.car.asked if one.key == line.subject)
            told = _("Put on the re-shoot list by {name}, {day}.").format(
                name=asked.by, day=asked.at.date().isoformat()
            )
            pane.show_words(asked.question, told, _("It is dealt with"))
        elif line is not None:
            shot = whole.car.plan.shot(line.subject)
            about = _("Somebody put frames on this shot and nobody has ticked what can be seen on them.")
            pane.show_words(shot.title if shot else line.subject, about, _("Look at them on the Walk"))
        elif after is not None:
            done = _("Nothing left to finish in {zone}.").format(zone=self.screen.name)
            pane.show_words(done, next_zone_words(after), _("Next zone"))
        else:
            step = _("Look through the record, then have it signed. A new finding can be written at any time.")
            pane.show_words(_("Nothing left to finish on this car."), step, "")
        self._view.show_pane(pane)

    # Going about

    def _go_to_line(self, key: str) -> None:
        self.key, self._photo = key, ""
        self._again()

    def _again(self) -> None:
        whole = self._front.whole
        if whole is not None and self.screen.zone:
            self._show_pane(whole)

    def _step(self, step: int) -> None:
        """To the next unfinished thing, in this zone or the next that has one."""
        keys = [line.key for line in self.screen.open]
        at = keys.index(self.key) + step if self.key in keys else 0
        if keys and 0 <= at < len(keys):
            self._view.list.stand_on(keys[at])
            self._go_to_line(keys[at])
        elif (after := self.screen.after_open()) is not None:
            self.go_to_zone(after.id)
        elif keys:
            self._go_to_line(keys[0])
            self._view.list.stand_on(keys[0])
        self._view.enter_pane()

    def _go_on(self) -> None:
        line, after = self.line, self.screen.after_open()
        if line is not None and line.of is Todo.ASKED:
            self._answers.dealt_with(int(line.subject))
        elif line is not None:
            self._front.walk.go_to_shot(line.subject)
        elif after is not None:
            self.go_to_zone(after.id)
            self._view.list.setFocus()

    def write(self, key: str) -> None:
        """Write something new: a finding, a note or a test, beside the photo that is up."""
        if self.screen.zone:
            self.key = key
            self._view.list.setCurrentRow(-1)
            self._again()
            self._view.enter_pane()

    def wish_next(self) -> None:
        """What is to be up once this line is done: the unfinished ones after it, then those before."""
        keys = [line.key for line in self.screen.open]
        at = keys.index(self.key) if self.key in keys else -1
        self._wishes = (*keys[at + 1 :], *keys[: max(at, 0)])
        self.key = ""
        self._view.list.setFocus()

    # A finding

    def _draft(self, whole: Whole) -> FindingDraft:
        line = self.line
        begun = FindingDraft() if line is None else draft_for(whole.car, line)
        return self.drafts.get(self.key, begun)

    def _keep_draft(self, draft: FindingDraft) -> None:
        self.drafts[self.key] = draft
        self._say_begun()

    def _say_begun(self) -> None:
        """Say on the list which lines hold something that is not recorded yet."""
        for line in self.screen.lines:
            if line.key in self.drafts or line.key in self.notes:
                self._view.list.say(line.key, _("{line} · begun, not recorded").format(line=line.words))

    def _keep_words(self, words: str) -> None:
        self.notes[self.key] = words
        self._say_begun()

    def change_draft(self, draft: FindingDraft) -> None:
        """Keep another draft of what is up, and show it."""
        self._keep_draft(draft)
        self._again()

    def _look_at(self, sha256: str) -> None:
        self._photo = sha256
        self._again()

    def _role(self, role: str) -> None:
        if self._photo and self._view.pane.currentWidget() is self._view.form:
            self.change_draft(with_role(self._view.form.draft, self._photo, role))

    def _marked(self, marking: Marking) -> None:
        draft = self._view.form.draft
        if marking.marks == draft.marks:
            return
        row = next((one for one in self.screen.photos if one.sha256 == self._photo), None)
        self.change_draft(replace(with_mark_s_photo(draft, row), marks=marking.marks))

    def _record(self) -> None:
        whole, form = self._front.whole, self._view.form
        if whole is None or self._view.pane.currentWidget() is not form:
            return
        form.settle()
        try:
            finding = finding_from(form.draft, whole.car.plan.vocabulary, by=self._front.by, now=self._front.desk.now())
        except UserError as error:
            form.say_trouble(str(error))
            return
        if trouble := lacking(finding, whole.car):
            form.say_trouble(trouble)
            return
        key, jotting, desk = self.key, form.draft.jotting, self._front.desk

        def recorded(done: Done) -> None:
            self.drafts.pop(key, None)
            self.notes.pop(key, None)
            self.wish_next()
            self._front.tell(Notice(done.words + ".", next_step=_("Ctrl+Z takes it back."), trouble=False))

        self.do_once(lambda: desk.find(stock=self._stock, finding=finding, jotting=jotting), recorded)

    def do_once(self, verb: Callable[[], Any], then: Callable[[Any], None]) -> None:
        """Ask for a verb about what is up, then show the car as it is now; a key that is pressed twice asks once."""
        stock = self._stock
        if not self.key or self.key == self._under_way:
            return
        self._under_way = self.key

        def done(answer: Any) -> None:
            then(answer)
            self._front.changed(stock)

        def ended() -> None:
            self._under_way = ""

        self._front.bridge.when_done(verb(), done, finally_do=ended)

    def _repaired(self) -> None:
        whole, line = self._front.whole, self.line
        if whole is None or line is None or line.of is not Todo.FINDING:
            step = _("Stand on a finding of the list first.")
            self._front.tell(Notice(_("Only a finding of the record can be repaired."), next_step=step, trouble=False))
            return
        draft = self._draft(whole)
        day = draft.state_on or self._front.desk.now().date().isoformat()
        self.change_draft(replace(draft, state=FindingState.REPAIRED.value, state_on=day))
        self._view.form.lines["state_reason"].setFocus()

    def _judge(self, draft: FindingDraft) -> None:
        """Let the guard read what is written; an answer to words that have changed since is dropped."""
        whole = self._front.whole
        texts = {name: getattr(draft, name) for name in GUARDED if getattr(draft, name).strip()}
        self._judged += 1
        number = self._judged
        if whole is None or not texts:
            self._view.form.show_guard(None)
            return

        def show(judged: Mapping[str, tuple[Judged, ...]]) -> None:
            if number == self._judged:
                self._view.form.show_guard(warned_of(judged))

        coming = self._front.desk.judge(whole=whole, texts=texts, basis=draft.evidence.basis)
        self._front.bridge.when_done(coming, show)
