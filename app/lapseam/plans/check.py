"""Checking a plan: every error of its files, and what a practised eye would ask about a plan that loads."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from ..domain.plan import Component, Need, Plan, Shot, Zone
from ..domain.possible import always_holds, can_hold
from .nodes import Node
from .plan import PlanRows, build_plan, read_plan
from .problems import Grade, Problem
from .reading import Reading, Row

FRAMES_A_MINUTE = 3
"""A practised pair takes no more than this, moving and wiping included; a setup that asks for more overruns."""

NOT_PUBLISHED = "not-published"
_LIFT = "lift"


def check_plan(path: Path, vocabulary: Path | None = None) -> tuple[Problem, ...]:
    """Everything wrong with a plan and its vocabulary, errors and warnings; empty if there is nothing to say.

    A plan with errors is not looked at for what a practised eye would ask.
    """
    reading = Reading()
    rows = read_plan(path, vocabulary, reading)
    if not reading.problems.errors():
        _Eye(rows, build_plan(rows), reading).look()
    return tuple(sorted(reading.problems.all(), key=lambda problem: problem.severity is Grade.WARNING))


@dataclass(frozen=True, slots=True)
class _Eye:
    """Looks over a plan that loads."""

    rows: PlanRows
    plan: Plan
    reading: Reading

    def look(self) -> None:
        shots = {row["id"]: row for row in self.rows.shots}
        for shot in self.plan.shots:
            self._look_at_shot(shot, shots[shot.id])
        self._look_at_order()
        self._look_at_minutes()
        for zone in self._shown_zones():
            self._look_at_zone(zone)
        self._look_at_places()

    def _look_at_shot(self, shot: Shot, row: Row) -> None:
        if shot.when is not None and not can_hold([self.plan.applies, shot.when], self.plan.vocabulary.facts):
            words = "the condition never holds on a car this plan is for"
            row.doubtful("when", words, "take the shot out, or mend the condition")
        elif shot.need is Need.CONDITIONAL and shot.when is not None and self._always(shot):
            row.doubtful("need", "the condition holds on every car this plan is for", "make the shot required")
        if shot.camera.at == _LIFT and _LIFT not in shot.cautions and _LIFT in self.plan.vocabulary.cautions:
            row.doubtful("caution", "the camera is under a raised car without the caution 'lift'", "add: lift")
        far = shot.camera.distance_m
        if far is not None and shot.close_m is not None and shot.close_m > far:
            row.doubtful("close", "the close frame is farther away than the shot", "mend one of the two distances")

    def _always(self, shot: Shot) -> bool:
        return shot.when is not None and always_holds(shot.when, self.plan.applies, self.plan.vocabulary.facts)

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
        for row in self.rows.head["setups"] if self.rows.head else ():
            frames = sum(shot.count for shot in self.plan.shots if shot.setup == row["id"])
            if not frames:
                row.doubtful("id", "no shot belongs to this setup", "take it out, or add its shots")
            elif frames > row["minutes"] * FRAMES_A_MINUTE:
                least = -(-frames // FRAMES_A_MINUTE)
                words = f"{frames} frames in {row['minutes']} minutes are more than anyone takes"
                row.doubtful("minutes", words, f"give at least {least}")

    def _shown_zones(self) -> Iterable[Zone]:
        """The zones that this plan must show.

        Not one that is never published, nor one that no car of the plan has, nor an overlay: a zone that only some
        of the plan's cars have and of which the plan shows nothing is the matter of the plan made for those cars.
        """
        words = self.plan.vocabulary
        touched = {words.components()[part].zone for shot in self.plan.shots for part in shot.components}
        for zone in words.zones.values():
            gallery = words.zone_gallery.get(zone.id)
            if gallery is not None and gallery.group == NOT_PUBLISHED:
                continue
            if not can_hold([self.plan.applies, zone.when], words.facts):
                continue
            if zone.when is None or zone.id in touched or always_holds(zone.when, self.plan.applies, words.facts):
                yield zone

    def _look_at_zone(self, zone: Zone) -> None:
        nodes = {row["id"]: row for one in self.rows.lists.rows["zones"] for row in one["components"]}
        shown = {part for shot in self.plan.shots for part in shot.components}
        proved = {part for shot in self.plan.shots if shot.rust and shot.close_m for part in shot.components}
        for part in zone.components:
            if not can_hold([self.plan.applies, zone.when, part.when], self.plan.vocabulary.facts):
                continue
            if part.id not in shown:
                self._warn(nodes[part.id].node, part, "no shot shows it", "name it under 'comps' of a shot")
            elif part.rust and part.id not in proved:
                self._warn(
                    nodes[part.id].node,
                    part,
                    "it is rust-prone, but no rust shot shows it close",
                    "add one with close: {dist: 0.3}",
                )

    def _warn(self, node: Node, part: Component, words: str, remedy: str) -> None:
        self.reading.problems.warn(node.mark, f"zones.{part.zone}.components.{part.id}", words, remedy)

    def _look_at_places(self) -> None:
        words = self.plan.vocabulary
        zones = {part.id: words.zones[part.zone] for part in words.components().values()}
        shown = {zone.id for zone in self._shown_zones()}
        for row in self.rows.lists.rows["rust_places"]:
            place = words.rust_places[row["id"]]
            on_walk = any(zones[part].id in shown for part in place.components)
            if on_walk and not place.shots and can_hold([self.plan.applies, place.when], words.facts):
                row.doubtful("comps", "no rust shot proves this place", "add a rust shot of one of its components")
