"""The lap ribbon as a value: one segment a zone in the order it is walked, one cell a shot. No Qt here."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

from lapseam.domain.coverage import Coverage, ShotCoverage, State
from lapseam.domain.plan import Need, Plan

from .words import _, _n, state_word, zone_short

OPEN_STATES = frozenset({State.MISSED, State.TAKEN, State.PARTLY, State.DECIDE})
"""Where something is still to be done, unless a named person waived it."""


@dataclass(frozen=True, slots=True)
class Cell:
    """One shot: its state, whether it is waived, and whether a gap here is urgent (rust-prone or required)."""

    shot: str
    title: str
    state: State
    urgent: bool = False
    waived: bool = False

    @property
    def words(self) -> str:
        """Title and state in words, for a tooltip and a screen reader."""
        state = state_word(self.state)
        if self.waived:
            state = _("{state}, waived").format(state=state)
        return _("{title}: {state}").format(title=self.title, state=state)


@dataclass(frozen=True, slots=True)
class Segment:
    """One zone with its cells in the plan's order."""

    zone: str
    name: str
    short: str
    cells: tuple[Cell, ...]

    @property
    def words(self) -> str:
        """The zone and what is where, as in "Cabin: 7 covered, 2 missed"."""
        counts = Counter(cell.state for cell in self.cells)
        parts = [f"{counts[state]} {state_word(state)}" for state in State if counts[state]]
        return _("{zone}: {counts}").format(zone=self.name, counts=", ".join(parts) or _("nothing asked"))


@dataclass(frozen=True, slots=True)
class Ribbon:
    """The whole walk as one strip. `current` is the zone being worked on, "" for none."""

    segments: tuple[Segment, ...] = ()
    current: str = ""

    @property
    def open(self) -> int:
        """How many shots still want something."""
        return sum(
            1 for segment in self.segments for cell in segment.cells if cell.state in OPEN_STATES and not cell.waived
        )

    @property
    def words(self) -> str:
        """How the walk stands, in one sentence."""
        if not self.segments:
            return _("No walk open")
        if self.open == 0:
            return _("Nothing open")
        return _n("{n} shot open", "{n} shots open", self.open)


def urgent(line: ShotCoverage) -> bool:
    """Whether a gap on this shot blocks: it is rust-prone, or required where it applies."""
    return line.shot.rust or line.shot.need is not Need.OPTIONAL


def is_open(line: ShotCoverage) -> bool:
    """Whether something is still to be done on this shot."""
    return line.state in OPEN_STATES and not line.waived


def lap_ribbon(plan: Plan, coverage: Coverage, current_zone: str = "") -> Ribbon:
    """The ribbon of a car; zones stand in the vocabulary's order, those without a shot are left out."""
    lines: dict[str, list[ShotCoverage]] = {}
    for line in coverage.shots:
        lines.setdefault(line.shot.zone, []).append(line)
    known = [zone for zone in plan.vocabulary.zones if zone in lines]
    order = known + [zone for zone in lines if zone not in known]
    return Ribbon(tuple(_segment(plan, zone, lines[zone]) for zone in order), current_zone)


def _segment(plan: Plan, zone: str, lines: list[ShotCoverage]) -> Segment:
    asked = plan.vocabulary.zones.get(zone)
    name = asked.name if asked else zone
    cells = tuple(
        Cell(line.shot.id, line.shot.title, line.state, urgent=urgent(line), waived=bool(line.waived)) for line in lines
    )
    return Segment(zone, name, zone_short(zone, name), cells)
