"""Before the car comes down: every open shot of one setup, worst first. No Qt here."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from lapseam.domain.car import Car
from lapseam.domain.coverage import Coverage, ShotCoverage, State
from lapseam.domain.plan import Need

from ...ribbon import Cell, is_open, urgent
from ...words import _, _n, fact_question, not_reachable_word, state_word

_WORST_FIRST = (State.MISSED, State.DECIDE, State.PARTLY, State.TAKEN)


@dataclass(frozen=True, slots=True)
class ClosingRow:
    """One open shot. `needs_reason` where it is rust-prone; `reason` is the id chosen so far, "" for none."""

    shot: str
    title: str
    cell: Cell
    why: str
    rust: bool
    needs_reason: bool
    reason: str = ""

    @property
    def words(self) -> str:
        """Everything in one line for a screen reader."""
        rust = _("rust-prone, ") if self.rust else ""
        return _("{title}: {rust}{why}").format(title=self.title, rust=rust, why=self.why)


@dataclass(frozen=True, slots=True)
class ClosingScreen:
    """The list that stands between a setup and the next one."""

    setup: str
    title: str
    headline: str
    minutes: str
    rows: tuple[ClosingRow, ...]
    reasons: tuple[tuple[str, str], ...]
    chosen: Mapping[str, str] = field(default_factory=dict)

    @property
    def clear(self) -> bool:
        """Nothing is open: the setup may be closed with no more words."""
        return not self.rows

    @property
    def reasons_wanted(self) -> int:
        """How many rust-prone gaps have no reason yet."""
        return sum(1 for row in self.rows if row.needs_reason and not row.reason)

    @property
    def may_close(self) -> bool:
        """Whether nothing is open, or every rust-prone gap has its reason."""
        return self.reasons_wanted == 0

    @property
    def close_words(self) -> str:
        """What the closing button says."""
        if self.clear:
            return _("Close this setup")
        if self.may_close:
            return _n("Close with {n} gap", "Close with {n} gaps", len(self.rows))
        return _n("{n} reason wanted", "{n} reasons wanted", self.reasons_wanted)

    def with_reason(self, shot: str, reason: str) -> ClosingScreen:
        """The same list with a reason chosen for one gap; "" takes it back."""
        chosen = {**self.chosen, shot: reason}
        rows = tuple(replace(row, reason=reason) if row.shot == shot else row for row in self.rows)
        return replace(self, rows=rows, chosen={key: value for key, value in chosen.items() if value})


def closing_screen(
    car: Car,
    coverage: Coverage,
    setup: str,
    *,
    minutes_left: int | None = None,
    chosen: Mapping[str, str] | None = None,
) -> ClosingScreen:
    """The closing list of a setup. `minutes_left` of the booked slot, None where none is booked."""
    chosen = dict(chosen or {})
    lines = [line for line in coverage.shots if line.shot.setup == setup and is_open(line)]
    order = {line.shot.id: at for at, line in enumerate(coverage.shots)}
    lines.sort(key=lambda line: _rank(line, order[line.shot.id]))
    rows = tuple(_row(line, chosen.get(line.shot.id, "")) for line in lines)
    name = next((one.name for one in car.plan.setups if one.id == setup), setup)
    reasons = car.plan.vocabulary.words.get("not_reachable_reasons", ())
    return ClosingScreen(
        setup=setup,
        title=name,
        headline=_headline(rows),
        minutes=_minutes(minutes_left),
        rows=rows,
        reasons=tuple((reason, not_reachable_word(reason)) for reason in reasons),
        chosen=chosen,
    )


def _rank(line: ShotCoverage, order: int) -> tuple[int, ...]:
    """Rust-prone before all, then the state from missed to taken, then required before optional, then plan order."""
    return (
        0 if line.shot.rust else 1,
        _WORST_FIRST.index(line.state),
        0 if line.shot.need is not Need.OPTIONAL else 1,
        order,
    )


def _row(line: ShotCoverage, reason: str) -> ClosingRow:
    shot = line.shot
    cell = Cell(shot.id, shot.title, line.state, urgent=urgent(line), waived=bool(line.waived))
    return ClosingRow(shot.id, shot.title, cell, why_open(line), shot.rust, shot.rust, reason)


def why_open(line: ShotCoverage) -> str:
    """The state and what is lacking, in a few words."""
    if line.state is State.DECIDE:
        return _("decide: {question}").format(question=" ".join(fact_question(fact) for fact in line.asks))
    if line.missing:
        return _("{state}: {missing}").format(state=state_word(line.state), missing=", ".join(line.missing))
    return state_word(line.state)


def _headline(rows: tuple[ClosingRow, ...]) -> str:
    if not rows:
        return _("Nothing open here")
    rust = sum(1 for row in rows if row.rust)
    shots = _n("{n} shot still open", "{n} shots still open", len(rows))
    if not rust:
        return shots
    return _("{shots}, {rust} rust-prone").format(shots=shots, rust=rust)


def _minutes(left: int | None) -> str:
    if left is None:
        return ""
    if left < 0:
        return _n("{n} minute over the slot", "{n} minutes over the slot", -left)
    return _n("{n} minute left", "{n} minutes left", left)
