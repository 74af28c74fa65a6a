"""A house plan in a form: its shots at the left, the fields of one at the right, the live check below."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtGui import QKeyEvent, QKeySequence
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from lapseam.domain.plan import Need, Setup
from lapseam.domain.plan_edits import ShotSheet

from ...theme import px
from ...widgets.bay_button import BayButton
from ...widgets.choice_box import ChoiceBox
from ...widgets.labels import clear, label, rule, sheet
from ...widgets.lines_field import LinesField
from ...widgets.scroll import ColumnScroll
from ...widgets.shot_list import ShotList
from ...words import _
from .draft import FIELDS, Draft, Verdict, said, shown
from .state import chapter_lines, need_word

_PROBLEMS = 4


class ShotFields(QWidget):
    """The fields of one shot.

    Signals:
        typed(key, words): a person changed a field, by the form's names (`draft.FIELDS`), or `id`.
        paused(): the keyboard left a field.
    """

    typed = Signal(str, str)
    paused = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.note = label("soft", wrap=True)
        self.fields: dict[str, Any] = {}
        self.wrong: dict[str, Any] = {}
        self._names: dict[str, Any] = {}
        grid = QGridLayout(self)
        grid.setContentsMargins(px(16), px(4), px(12), px(4))
        grid.setHorizontalSpacing(px(12))
        grid.setVerticalSpacing(px(4))
        grid.setColumnStretch(1, 1)
        grid.addWidget(self.note, 0, 0, 1, 2)
        for at, key in enumerate(("id", *FIELDS)):
            self._add(grid, 1 + 2 * at, key)
        grid.setRowStretch(2 * len(FIELDS) + 4, 1)

    def _add(self, grid: QGridLayout, row: int, key: str) -> None:
        name = _field_name(key)
        field: Any = LinesField({"must": 4}.get(key, 2)) if key in ("frame", "must") else QLineEdit()
        if key == "need":
            field = ChoiceBox()
            for need in Need:
                field.addItem(need_word(need), need.value)
            field.activated.connect(lambda: self.typed.emit("need", str(field.currentData())))
        elif isinstance(field, LinesField):
            field.typed.connect(lambda words: self.typed.emit(key, words))
            field.left.connect(self.paused)
        else:
            field.textEdited.connect(lambda words: self.typed.emit(key, words))
            field.editingFinished.connect(self.paused)
        said_name = label(text=name)
        said_name.setBuddy(field)
        said_name.setContentsMargins(0, px(11), 0, 0)
        field.setAccessibleName(name.replace("&", ""))
        wrong = label("signal", wrap=True)
        wrong.hide()
        grid.addWidget(said_name, row, 0, Qt.AlignmentFlag.AlignTop)
        grid.addWidget(field, row, 1)
        grid.addWidget(wrong, row + 1, 1)
        self.fields[key], self.wrong[key], self._names[key] = field, wrong, said_name

    def show_shot(self, shot: ShotSheet, *, new: bool) -> None:
        """Show a shot; a field that says it already is left alone, so that the cursor stays."""
        self.note.setText(_("Stands in {file}, which several plans share; change it there.").format(file=shot.shared))
        self.note.setVisible(bool(shot.shared))
        for part in (self.fields["id"], self._names["id"]):
            part.setVisible(new)
        for key, field in self.fields.items():
            words = shown(shot, key)
            field.setEnabled(not shot.shared)
            if isinstance(field, ChoiceBox):
                field.setCurrentIndex(max(0, field.findData(words)))
            elif said(shot, key, field.text()) != said(shot, key, words):
                field.setText(words)

    def show_wrong(self, found: dict[str, str]) -> None:
        """Say below each field what is wrong with it."""
        for key, part in self.wrong.items():
            words = found.get({"lens": "cam"}.get(key, key), "")
            part.setText(words[:1].upper() + words[1:])
            part.setVisible(bool(words))


class FormView(QWidget):
    """Shows one `Draft`, one of its shots, and the check's verdict.

    Signals:
        shot_wanted(shot), typed(key, words), paused(), add_wanted(), remove_wanted(), undo_wanted(), redo_wanted(),
        save_wanted(), left().
    """

    shot_wanted = Signal(str)
    typed = Signal(str, str)
    paused = Signal()
    add_wanted = Signal()
    remove_wanted = Signal()
    undo_wanted = Signal()
    redo_wanted = Signal()
    save_wanted = Signal()
    left = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.title, self.about = label("heading", wrap=True), label("soft", wrap=True)
        self.shots = ShotList(_("Shots of the plan"))
        self.shot = ShotFields()
        self.check = label("car", wrap=True)
        self._lines = QVBoxLayout()
        self.back = BayButton(_("Back"), key="Esc", drawing="back")
        self.undo, self.redo = BayButton(_("Undo"), drawing="undo"), BayButton(_("Redo"), drawing="redo")
        self.add = BayButton(_("Add a shot after this one"), drawing="plus")
        self.remove = BayButton(_("Take out"), drawing="close")
        self.save = BayButton(_("Save"), key="Ctrl+S", drawing="tick", go=True)
        self._connect()
        self._lay_out()

    def _connect(self) -> None:
        self.shots.chosen.connect(self.shot_wanted)
        self.shot.typed.connect(self.typed)
        self.shot.paused.connect(self.paused)
        for button, signal in (
            (self.back, self.left),
            (self.undo, self.undo_wanted),
            (self.redo, self.redo_wanted),
            (self.add, self.add_wanted),
            (self.remove, self.remove_wanted),
            (self.save, self.save_wanted),
        ):
            button.clicked.connect(lambda _checked=False, signal=signal: signal.emit())
        for field in self.shot.fields.values():
            field.installEventFilter(self)

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(px(24), px(14), px(24), px(12))
        column.setSpacing(px(6))
        column.addWidget(self.title)
        column.addWidget(self.about)
        middle = QHBoxLayout()
        middle.setSpacing(px(8))
        middle.addWidget(self.shots, 2)
        sheet("sheet", self.shot)
        middle.addWidget(ColumnScroll(self.shot), 3)
        column.addLayout(middle, 1)
        column.addWidget(rule())
        column.addWidget(self.check)
        self._lines.setSpacing(0)
        column.addLayout(self._lines)
        foot = QHBoxLayout()
        foot.setSpacing(px(8))
        for button in (self.back, self.undo, self.redo):
            foot.addWidget(button)
        foot.addStretch(1)
        for button in (self.remove, self.add, self.save):
            foot.addWidget(button)
        column.addLayout(foot)

    def show_plan(self, title: str, about: str) -> None:
        """Say which plan is in the form."""
        self.title.setText(title)
        self.about.setText(about)

    def show_draft(self, draft: Draft, setups: tuple[Setup, ...], shot: str) -> None:
        """Show the shots as they are now, and one of them."""
        rows = [(str(one.values.get("setup", "")), one.id, str(one.values.get("title", one.id))) for one in draft.shots]
        lines = [(line.shot, line.words) for line in chapter_lines(setups, rows)]
        self.shots.show_lines(lines, shot)
        self.show_shot(draft, shot)

    def show_shot(self, draft: Draft, shot: str) -> None:
        """Show one shot, and which buttons there are something to do for."""
        sheet_ = draft.shot(shot)
        if sheet_ is not None:
            self.shot.show_shot(sheet_, new=draft.is_new(shot))
            self.shots.say(shot, str(sheet_.values.get("title", shot)))
        own = sheet_ is not None and not sheet_.shared
        self.shot.setVisible(sheet_ is not None)
        self.add.setEnabled(own)
        self.remove.setEnabled(own)
        self.undo.setEnabled(bool(draft.past))
        self.redo.setEnabled(bool(draft.future))

    def show_verdict(self, verdict: Verdict, *, may_save: bool) -> None:
        """Show the check: the headline, the first lines, and what is wrong at the fields."""
        self.check.setText(verdict.headline)
        clear(self._lines)
        for words in verdict.lines[:_PROBLEMS]:
            self._lines.addWidget(label("small", wrap=True, text=words))
        self.shot.show_wrong(dict(verdict.fields))
        self.save.setEnabled(may_save)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """A field's own undo would know nothing of the other fields: the form's takes its keys."""
        if event.type() in (QEvent.Type.ShortcutOverride, QEvent.Type.KeyPress) and isinstance(event, QKeyEvent):
            step = self._step(event)
            if step is not None:
                event.accept()
                if event.type() == QEvent.Type.KeyPress:
                    step.emit()
                return True
        return super().eventFilter(watched, event)

    def event(self, event: QEvent) -> bool:
        if event.type() == QEvent.Type.ShortcutOverride and isinstance(event, QKeyEvent) and self._step(event):
            event.accept()
            return True
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        step = self._step(event)
        if step is not None:
            step.emit()
        elif event.key() == Qt.Key.Key_Escape:
            self.left.emit()
        else:
            super().keyPressEvent(event)

    def _step(self, event: QKeyEvent) -> Any:
        if event.matches(QKeySequence.StandardKey.Undo):
            return self.undo_wanted
        return self.redo_wanted if event.matches(QKeySequence.StandardKey.Redo) else None


def _field_name(key: str) -> str:
    return {
        "id": _("Id, for good"),
        "title": _("Title"),
        "frame": _("Framing"),
        "light": _("Light"),
        "must": _("Must be seen, one a line"),
        "count": _("Frames at least"),
        "need": _("Need"),
        "when": _("Only where"),
        "lens": _("Lens, mm"),
        "comps": _("Parts shown"),
        "caution": _("Cautions"),
    }[key]
