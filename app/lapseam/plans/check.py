"""Checking a plan: every error of its files, and what a practised eye would ask about a plan that loads."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from ..domain.plan import Need, Plan, Shot
from ..domain.possible import always_holds, can_hold
from .check_reach import look_at_reach
from .kept_ids import look_at_ids
from .plan import PlanRows, build_plan, read_plan
from .problems import Grade, Problem
from .reading import Reading, Row

FRAMES_A_MINUTE = 4
"""A practised pair takes no more than this, moving and wiping included; a setup that asks for more overruns."""

_LIFT = "lift"


def check_plan(path: Path, vocabulary: Path | None = None, shelf: Path | None = None) -> tuple[Problem, ...]:
    """Everything wrong with a plan, its base and its vocabulary, errors first, then warnings; empty if nothing is.

    A plan with errors in its files is not looked at for what a practised eye would ask.

    Args:
        vocabulary: the folder of word lists; left out, the folder `vocabulary` beside the plan, else that on the shelf.
        shelf: a folder of plans, such as those that ship, in which a base is looked for after the plan's own folder.
    """
    reading = Reading()
    rows = read_plan(path, vocabulary, reading, shelf)
    if not reading.problems.errors():
        plan = build_plan(rows)
        _Eye(rows, plan, reading).look()
        look_at_reach(rows, plan, reading)
        look_at_ids(rows, plan.id, path, reading)
    return tuple(sorted(reading.problems.all(), key=lambda problem: problem.severity is Grade.WARNING))


@dataclass(frozen=True, slots=True)
class _Eye:
    """Looks over the shots of a plan that loads: can each be taken, in that order, in that time, safely?"""

    rows: PlanRows
    plan: Plan
    reading: Reading

    def look(self) -> None:
        for shot, row in zip(self.plan.shots, self.rows.shots, strict=True):
            self._look_at_shot(shot, row)
        self._look_at_order()
        self._look_at_minutes()

    def _look_at_shot(self, shot: Shot, row: Row) -> None:
        self._look_at_condition(shot, row)
        if shot.camera.at == _LIFT and _LIFT not in shot.cautions and _LIFT in self.plan.vocabulary.cautions:
            row.doubtful("caution", "the camera is under a raised car without the caution 'lift'", "add: lift")
        far = shot.camera.distance_m
        if far is not None and shot.close_m is not None and shot.close_m > far:
            row.doubtful("close", "the close frame is farther away than the shot", "mend one of the two distances")

    def _look_at_condition(self, shot: Shot, row: Row) -> None:
        facts, applies = self.plan.vocabulary.facts, self.plan.applies
        zone = self.plan.vocabulary.zones[shot.zone].when
        tell = row.wrong if shot.need is Need.REQUIRED else row.doubtful
        required = "this required shot can never apply: " if shot.need is Need.REQUIRED else ""
        if not can_hold([applies, zone], facts):
            words = f"{required}no car this plan is for has the zone {shot.zone!r}"
            tell("zone", words, "take the shot out, or mend 'applies'")
        elif shot.when is not None and not can_hold([applies, zone, shot.when], facts):
            words = f"{required}the condition never holds on a car this plan is for"
            tell("when", words, "take the shot out, or mend the condition")
        elif shot.need is Need.CONDITIONAL and shot.when is not None and always_holds(shot.when, applies, facts):
            row.doubtful("need", "the condition holds on every car this plan is for", "make the shot required")

    def _look_at_order(self) -> None:
        order = [setup.id for setup in self.plan.setups]
        reached = 0
        for shot, row in zip(self.plan.shots, self.rows.shots, strict=True):
            place = order.index(shot.setup)
            if place < reached:
                words = f"the walk goes back from {order[reached]!r} to {shot.setup!r}"
                row.doubtful("setup", words, "put the shots of one setup together, in the order of the setups")
            reached = max(reached, place)

    def _look_at_minutes(self) -> None:
        head = self.rows.head
        for row in head["setups"] if head else ():
            frames = sum(shot.count for shot in self.plan.shots if shot.setup == row["id"])
            if not frames:
                row.doubtful("id", "no shot belongs to this setup", "take it out, or add its shots")
            elif frames > row["minutes"] * FRAMES_A_MINUTE:
                least = -(-frames // FRAMES_A_MINUTE)
                words = f"{frames} frames in {row['minutes']} minutes are more than anyone takes"
                row.doubtful("minutes", words, f"give at least {least}")
        summed = sum(setup.minutes for setup in self.plan.setups)
        if head and head["minutes"] and summed > head["minutes"]:
            words = f"the setups take {summed} minutes, and the plan promises {head['minutes']}"
            head.doubtful("minutes", words, "take shots out, or promise more")
