"""The shot in large type: what to take, what must be seen, with which lens and light, and what to beware of."""

from __future__ import annotations

from html import escape

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFrame, QGridLayout, QHBoxLayout, QVBoxLayout, QWidget

from lapseam.domain.decision import Sight
from lapseam.domain.plan import FactKind

from ..screens.walk.questions import Question
from ..screens.walk.state import ShotText
from ..theme import px
from ..words import _
from .bay_button import BayButton
from .drawing import Drawing
from .fact_answers import FactAnswers
from .labels import clear, label, rule, sheet
from .scroll import ColumnScroll
from .tick_row import TickRow


class ShotCard(ColumnScroll):
    """Shows one `ShotText`.

    Signals:
        ticked(item, sight): a must-see item was pressed; `sight` is what it now is, a `Sight` or "" for not seen.
        answered(fact, value): the question that this shot hangs on was answered; None is unknown.
        facts_wanted(): the question takes more room than the card has.
    """

    ticked = Signal(str, str)
    answered = Signal(str, object)
    facts_wanted = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        body = sheet("sheet")
        super().__init__(body, parent)
        self._rows: list[TickRow] = []
        self._shot: ShotText | None = None
        self.eyebrow = label("eyebrow", wrap=True)
        self.title = label("title", wrap=True)
        self.title.setTextFormat(Qt.TextFormat.RichText)
        self.title.setContentsMargins(0, 0, 0, px(7))
        self.beware = label("small", wrap=True)
        self.rust = label("signal", wrap=True, text=_("Rust-prone: a context frame and a close one, raking light"))
        self.instruction = label(wrap=True)
        self.question = QFrame(objectName="question")
        self.question.setLayout(QVBoxLayout())
        self.caution = QFrame(objectName="caution")
        self.caution.setLayout(QVBoxLayout())
        self._must = QVBoxLayout()
        self._facts = QGridLayout()
        self._lay_out(body)

    def _lay_out(self, body: QWidget) -> None:
        column = QVBoxLayout(body)
        column.setContentsMargins(px(20), px(14), px(20), px(14))
        column.setSpacing(px(8))
        self._must.setSpacing(0)
        self._facts.setColumnStretch(1, 1)
        self._facts.setHorizontalSpacing(px(12))
        self._facts.setVerticalSpacing(px(4))
        column.addWidget(self.eyebrow)
        column.addWidget(self.title)
        column.addWidget(self._hazards())
        column.addWidget(self.rust)
        column.addWidget(self.question)
        column.addWidget(self.instruction)
        column.addLayout(self._facts)
        column.addWidget(rule())
        column.addLayout(self._must)
        column.addSpacing(px(4))
        column.addWidget(self.caution)
        column.addStretch(1)

    def _hazards(self) -> QWidget:
        """The cautions' names where they are seen first; their words stand below."""
        self.hazards = QWidget()
        line = QHBoxLayout(self.hazards)
        line.setContentsMargins(0, 0, 0, 0)
        line.setSpacing(px(8))
        line.addWidget(Drawing("trouble", side=20, ink="signal"), 0, Qt.AlignmentFlag.AlignTop)
        line.addWidget(self.beware, 1)
        return self.hazards

    def show_shot(self, shot: ShotText, *, may_tick: bool) -> None:
        """Show a shot; ticks want a frame that somebody looked at, so without one they wait."""
        moved = self._shot is None or self._shot.shot != shot.shot
        self._shot = shot
        self.eyebrow.setText(shot.eyebrow)
        self.title.setText(f'<p style="line-height:90%">{escape(shot.title)}</p>')
        self.title.setAccessibleName(shot.title)
        self.rust.setVisible(shot.rust)
        self.instruction.setText(shot.instruction)
        self.instruction.setVisible(bool(shot.instruction))
        self._show_facts(shot)
        self._show_must(shot, may_tick)
        self._show_cautions(shot.cautions)
        self._show_question(shot.question)
        if moved:
            self.verticalScrollBar().setValue(0)

    def tick(self, place: int) -> None:
        """Press the must-see item at that place, counted from 0; nothing happens where there is none."""
        if place < len(self._rows) and self._rows[place].isEnabled():
            self._pressed(place)

    def rows(self) -> tuple[TickRow, ...]:
        """The must-see rows as they stand."""
        return tuple(self._rows)

    def _show_facts(self, shot: ShotText) -> None:
        clear(self._facts)
        pairs = ((_("Lens"), shot.lens), (_("Light"), shot.light), (_("Close-up"), shot.close_up))
        for row, (name, words) in enumerate((name, words) for name, words in pairs if words):
            self._facts.addWidget(label("soft", text=name), row, 0, Qt.AlignmentFlag.AlignTop)
            self._facts.addWidget(label("small", wrap=True, text=words), row, 1)

    def _show_must(self, shot: ShotText, may_tick: bool) -> None:
        while len(self._rows) > len(shot.must):
            row = self._rows.pop()
            self._must.removeWidget(row)
            row.hide()
            row.deleteLater()
        while len(self._rows) < len(shot.must):
            place = len(self._rows)
            row = TickRow()
            row.clicked.connect(lambda _checked=False, place=place: self._pressed(place))
            self._rows.append(row)
            self._must.addWidget(row)
        for row, item in zip(self._rows, shot.must, strict=True):
            row.show_item(item.words, item.sight, item.key)
            row.setEnabled(may_tick)
            row.setToolTip("" if may_tick else _("Take a frame first; ticks say what is seen on it."))

    def _pressed(self, place: int) -> None:
        shot = self._shot
        if shot is None:
            return
        item = shot.must[place]
        self._rows[place].setChecked(item.sight is not None)
        self.ticked.emit(item.id, next_sight(item.sight, rust=shot.rust))

    def _show_cautions(self, cautions: tuple[tuple[str, str], ...]) -> None:
        layout = self.caution.layout()
        clear(layout)
        layout.setContentsMargins(px(12), px(8), px(12), px(8))
        layout.setSpacing(px(6))
        for name, text in cautions:
            words = label("small", wrap=True)
            words.setTextFormat(Qt.TextFormat.RichText)
            words.setText(f"<b>{escape(name)}.</b> {escape(text)}")
            layout.addWidget(words)
        self.caution.setVisible(bool(cautions))
        self.hazards.setVisible(bool(cautions))
        self.beware.setText(_("Beware: {names}").format(names=" · ".join(name for name, _text in cautions)))
        self.caution.setAccessibleName(_("Caution"))

    def _show_question(self, question: Question | None) -> None:
        layout = self.question.layout()
        clear(layout)
        self.question.setVisible(question is not None)
        if question is None:
            return
        layout.setContentsMargins(px(14), px(10), px(14), px(12))
        layout.addWidget(label("lead", wrap=True, text=question.words))
        layout.addWidget(label("soft", wrap=True, text=_("This shot applies or not by the answer.")))
        if question.kind is FactKind.LIST:
            to_facts = BayButton(_("Open the facts"), drawing="question")
            to_facts.clicked.connect(self.facts_wanted)
            layout.addWidget(to_facts, 0, Qt.AlignmentFlag.AlignLeft)
            return
        answers = FactAnswers(question)
        answers.answered.connect(self.answered)
        layout.addWidget(answers)


def next_sight(sight: Sight | None, *, rust: bool) -> str:
    """What pressing an item makes of it: seen, then (where metal matters) hidden by coating, then not seen."""
    if sight is None:
        return Sight.SEEN.value
    if sight is Sight.SEEN and rust:
        return Sight.COATED.value
    return ""
