"""The form of one finding: what, where, how large, how grave, how known, since when; the guard stands beside it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QFrame, QGridLayout, QHBoxLayout, QLabel, QLineEdit, QVBoxLayout, QWidget

from lapseam.domain.completion import Offers
from lapseam.domain.errors import UserError
from lapseam.domain.finding import FindingState, PartOrigin, PartWork, Severity
from lapseam.domain.measure.extent import extent
from lapseam.domain.plan import Vocabulary
from lapseam.domain.statement import Basis
from lapseam.domain.units import beside

from ...finding_draft import FindingDraft, extent_unit, severity_words
from ...theme import px
from ...widgets.bay_button import BayButton
from ...widgets.choice_box import ChoiceBox
from ...widgets.labels import label, rule, sheet
from ...widgets.lines_field import LinesField
from ...widgets.scroll import ColumnScroll
from ...widgets.word_field import WordField
from ...words import _
from .guard import Warned, taken_over
from .said import basis_word, origin_word, state_of_finding, work_word

_EVIDENCE: dict[Basis, tuple[str, ...]] = {
    Basis.TOLD: ("who_said",),
    Basis.DOCUMENTED: ("document", "document_date", "issuer_kind"),
    Basis.MEASURED: ("instrument",),
    Basis.TESTED: ("conditions",),
    Basis.NOT_CHECKED: ("reason",),
}
"""What a basis asks for beside the photos."""
_JUDGE_AFTER_MS = 250
_LABEL = 86
GUARDED = ("place", "detail", "note", "state_reason")
"""Fields of free words that the guard reads."""


class FindingView(QWidget):
    """Shows a `FindingDraft` and keeps it as it is changed.

    Signals:
        changed(draft): a person changed it. judge_wanted(draft): its words have stood for a moment.
        record_wanted(), leave_wanted(), looked_wanted().
    """

    changed = Signal(object)
    judge_wanted = Signal(object)
    record_wanted = Signal()
    leave_wanted = Signal()
    looked_wanted = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        sheet("sheet", self)
        self.draft = FindingDraft()
        self._words = Vocabulary()
        self._warned: Warned | None = None
        self._showing = False
        self._judge = QTimer(self, singleShot=True, interval=_JUDGE_AFTER_MS)
        self._judge.timeout.connect(lambda: self.judge_wanted.emit(self.draft))
        self.title = label("car", wrap=True)
        self.hint = label("soft", wrap=True)
        self.shown_by = label("small", wrap=True)
        self.understood = label("soft", wrap=True)
        self.trouble = label("signal", wrap=True)
        self._make_fields()
        self._make_guard()
        self.looked = BayButton(_("Nothing found on it"), key="Ctrl+L", drawing="tick")
        self.leave = BayButton(_("Back"), key="Esc", drawing="back")
        self.record = BayButton(_("Record it"), key="Ctrl+S", drawing="tick", go=True)
        self._lay_out()
        self._connect()

    def _make_fields(self) -> None:
        self.component, self.kind = WordField(), WordField()
        self.severity, self.origin, self.work = ChoiceBox(), ChoiceBox(), ChoiceBox()
        self.basis, self.state = ChoiceBox(), ChoiceBox()
        self.note, self.detail = LinesField(3), LinesField(2)
        lines = ("place", "extent", "count", "on", "state_reason", "state_on", "no_photo_reason")
        evidence = ("who_said", "document", "document_date", "issuer_kind", "instrument", "conditions", "reason")
        self.lines = {name: QLineEdit() for name in (*lines, *evidence)}
        self._texts = {"detail": self.detail, "note": self.note}
        hints = {
            "place": _("rear end, ahead of the wheel"),
            "extent": _("40 x 15 mm, or 5/32 in"),
            "on": _("today"),
            "who_said": _("owner before last"),
            "state_on": _("2026-05-12"),
            "conditions": _("how, where, how warm"),
        }
        for name, words in hints.items():
            self.lines[name].setPlaceholderText(words)
        for box, choices in (
            (self.severity, [(one.value, severity_words(one)) for one in Severity]),
            (self.origin, [(one.value, origin_word(one)) for one in PartOrigin]),
            (self.work, [(one.value, work_word(one)) for one in PartWork]),
            (self.basis, [(one.value, basis_word(one)) for one in Basis]),
            (self.state, [(one.value, state_of_finding(one)) for one in FindingState]),
        ):
            box.setMinimumContentsLength(8)
            box.setSizeAdjustPolicy(ChoiceBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
            for value, words in choices:
                box.addItem(words, value)

    def _make_guard(self) -> None:
        self.guard = QFrame(objectName="caution")
        column = QVBoxLayout(self.guard)
        column.setContentsMargins(px(12), px(8), px(12), px(8))
        column.setSpacing(px(4))
        self.guard_head, self.guard_why, self.guard_instead = (label(wrap=True) for _part in range(3))
        self.take_over = BayButton(_("Take that wording"), key="Ctrl+G", drawing="word")
        for one in (self.guard_head, self.guard_why, self.guard_instead):
            column.addWidget(one)
        line = QHBoxLayout()
        line.addWidget(self.take_over)
        line.addStretch(1)
        column.addLayout(line)
        self.guard.hide()

    def _rows(self) -> tuple[tuple[str, str, QWidget], ...]:
        line = self.lines
        return (
            ("component", _("Part"), self.component),
            ("kind", _("Kind"), self.kind),
            ("place", _("Place on it"), line["place"]),
            ("count", _("How many"), line["count"]),
            ("extent", _("Size"), line["extent"]),
            ("", "", self.understood),
            ("severity", _("Severity"), self.severity),
            ("detail", _("Detail"), self.detail),
            ("origin", _("The part is"), self.origin),
            ("work", _("Work on it"), self.work),
            ("basis", _("Known how"), self.basis),
            ("on", _("On (day)"), line["on"]),
            ("who_said", _("Who said it"), line["who_said"]),
            ("document", _("Paper"), line["document"]),
            ("document_date", _("Its date"), line["document_date"]),
            ("issuer_kind", _("Issued by"), line["issuer_kind"]),
            ("instrument", _("Instrument"), line["instrument"]),
            ("conditions", _("Conditions"), line["conditions"]),
            ("reason", _("Why not"), line["reason"]),
            ("no_photo_reason", _("No photo, why"), line["no_photo_reason"]),
            ("state", _("State"), self.state),
            ("state_reason", _("Reason"), line["state_reason"]),
            ("state_on", _("Since (day)"), line["state_on"]),
            ("note", _("Note, for the house"), self.note),
        )

    def _lay_out(self) -> None:
        body = sheet("sheet")
        column = QVBoxLayout(body)
        column.setContentsMargins(px(16), px(10), px(16), px(10))
        column.setSpacing(px(6))
        for one in (self.title, self.hint):
            column.addWidget(one)
        looked = QHBoxLayout()
        looked.addWidget(self.looked)
        looked.addStretch(1)
        column.addLayout(looked)
        column.addWidget(self.shown_by)
        grid = QGridLayout()
        grid.setHorizontalSpacing(px(10))
        grid.setVerticalSpacing(px(6))
        grid.setColumnStretch(1, 1)
        self._labels: dict[str, tuple[QLabel, QWidget]] = {}
        for at, (name, words, field) in enumerate(self._rows()):
            if not words:
                grid.addWidget(field, at, 1)
                continue
            said = label("small", wrap=True, text=words)
            said.setFixedWidth(px(_LABEL))
            said.setBuddy(field)
            field.setAccessibleName(words)
            grid.addWidget(said, at, 0)
            grid.addWidget(field, at, 1)
            self._labels[name] = (said, field)
        column.addLayout(grid)
        column.addStretch(1)
        self.scroll = ColumnScroll(body)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(0)
        whole.addWidget(self.scroll, 1)
        whole.addWidget(rule())
        whole.addWidget(self._foot())

    def _foot(self) -> QWidget:
        foot = sheet("sheet")
        column = QVBoxLayout(foot)
        column.setContentsMargins(px(16), px(6), px(16), px(8))
        column.addWidget(self.guard)
        column.addWidget(self.trouble)
        line = QHBoxLayout()
        line.addWidget(self.leave)
        line.addStretch(1)
        line.addWidget(self.record)
        column.addLayout(line)
        self.trouble.hide()
        return foot

    def _connect(self) -> None:
        for name, word in (("component", self.component), ("kind", self.kind)):
            word.picked.connect(lambda one, name=name: self._set(**{name: one}))
        for name, line in self.lines.items():
            line.textEdited.connect(lambda words, name=name: self._typed(name, words))
        boxes = (("severity", self.severity), ("origin", self.origin), ("work", self.work), ("state", self.state))
        for name, box in boxes:
            box.activated.connect(lambda _at, name=name, box=box: self._set(**{name: box.currentData()}))
        self.basis.activated.connect(lambda _at: self._evidence(basis=Basis(self.basis.currentData())))
        for name, field in self._texts.items():
            field.typed.connect(lambda words, name=name: self._set(**{name: words}))
        self.take_over.clicked.connect(self.take_wording)
        self.looked.clicked.connect(self.looked_wanted)
        self.leave.clicked.connect(self.leave_wanted)
        self.record.clicked.connect(self.record_wanted)

    def offer(self, offers: Offers, own: Iterable[str], words: Vocabulary) -> None:
        """Complete on these; parts of `own` come first."""
        self._words = words
        self.component.offer(offers.parts, own)
        self.kind.offer(offers.kinds)

    def show_draft(self, draft: FindingDraft, *, title: str, hint: str = "", shown_by: str = "", look: bool = False):
        """Show another draft, or the same with other photos. Nothing is signalled but the wish to have it judged."""
        self._showing = True
        self.draft = draft
        self.title.setText(title)
        self._say(self.hint, hint)
        self._say(self.shown_by, shown_by)
        self.looked.setVisible(look)
        self.component.choose(draft.component)
        self.kind.choose(draft.kind)
        for name, line in self.lines.items():
            words = getattr(draft if hasattr(draft, name) else draft.evidence, name)
            if line.text() != words:
                line.setText(words)
                line.setCursorPosition(0)
        for name, box in (
            *(("severity", self.severity), ("origin", self.origin), ("work", self.work)),
            *(("basis", self.basis), ("state", self.state)),
        ):
            value = draft.evidence.basis.value if name == "basis" else getattr(draft, name)
            box.setCurrentIndex(box.findData(value))
        for name, field in self._texts.items():
            if field.text() != getattr(draft, name):
                field.setText(getattr(draft, name))
        self._showing = False
        self._fit()
        self._judge.start()

    def say_trouble(self, words: str) -> None:
        """Say what keeps it from being recorded, "" for nothing."""
        self._say(self.trouble, words)

    def show_guard(self, warned: Warned | None) -> None:
        """Show what the guard says, or nothing."""
        self._warned = warned
        self.guard.setVisible(warned is not None)
        if (writing := self.focusWidget()) is not None:
            QTimer.singleShot(0, self, lambda: self.scroll.ensureWidgetVisible(writing))
        if warned is not None:
            self.guard_head.setText(warned.headline)
            self.guard_why.setText(warned.why(self._words))
            instead = warned.objection.instead
            self._say(self.guard_instead, _("Say instead: {words}").format(words=instead) if instead else "")
            self.take_over.setVisible(bool(instead))

    def take_wording(self) -> None:
        """Put the allowed wording in place of the words objected to; what is to be filled in it is selected."""
        warned = self._warned
        if warned is None or not warned.objection.say_instead:
            return
        text, (start, end) = taken_over(getattr(self.draft, warned.field), warned.objection)
        self._set(**{warned.field: text})
        if warned.field in self._texts:
            self._texts[warned.field].setText(text)
            self._texts[warned.field].select(start, end)
        else:
            line = self.lines[warned.field]
            line.setText(text)
            line.setFocus()
            line.setSelection(start, end - start)

    def take_keyboard(self) -> None:
        """The keyboard goes to the first field that is still empty."""
        words = (self.component, self.kind)
        lines = tuple(self.lines[name] for name in ("place", "extent"))
        fields: tuple[QLineEdit, ...] = (*words, *lines)
        (next((one for one in fields if not one.text()), None) or self.lines["place"]).setFocus()

    def settle(self) -> None:
        """Take what part and kind can mean."""
        self.component.settle()
        self.kind.settle()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.leave_wanted.emit()
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.focusNextChild()
        else:
            super().keyPressEvent(event)

    def _typed(self, name: str, words: str) -> None:
        if hasattr(self.draft, name):
            self._set(**{name: words})
        else:
            self._evidence(**{name: words})

    def _evidence(self, **changes: object) -> None:
        self._set(evidence=replace(self.draft.evidence, **changes))

    def _set(self, **changes: object) -> None:
        if self._showing:
            return
        before, self.draft = self.draft, replace(self.draft, **changes)
        if self.draft != before:
            self._fit()
            self.say_trouble("")
            self.changed.emit(self.draft)
            if any(getattr(before, name) != getattr(self.draft, name) for name in (*GUARDED, "evidence")):
                self._judge.start()

    def _fit(self) -> None:
        """Only the fields that this kind, basis and state ask for; and the size as it was understood."""
        draft, unit = self.draft, extent_unit(self.draft.kind, self._words)
        wanted = _EVIDENCE.get(draft.evidence.basis, ())
        shown = {name: name in wanted for names in _EVIDENCE.values() for name in names}
        shown["count"] = "count" in unit or bool(draft.count)
        shown["no_photo_reason"] = draft.evidence.basis is not Basis.SEEN or bool(draft.no_photo_reason)
        shown["state_reason"] = shown["state_on"] = draft.state != FindingState.OPEN
        for name, visible in shown.items():
            for widget in self._labels[name]:
                widget.setVisible(visible)
        try:
            read = extent(draft.extent, wanted=unit)
            both = beside(read, _("about {value} {unit}"))
            self._say(self.understood, both if both != draft.extent else "")
        except UserError as error:
            self._say(self.understood, str(error))
        missing = _("no part is called so") if self.component.unknown else ""
        self.component.setToolTip(missing)

    @staticmethod
    def _say(target: QLabel, words: str) -> None:
        target.setText(words)
        target.setVisible(bool(words))
