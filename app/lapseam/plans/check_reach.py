"""What a plan that loads leaves unshown: components without a shot, rust-prone ones and places without a proof."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from ..domain.condition import Condition
from ..domain.plan import Component, Plan, Zone
from ..domain.possible import always_holds, can_hold
from .nodes import Items, Pairs, Scalar
from .plan import PlanRows
from .plan_fields import Scope
from .problems import Mark
from .reading import Reading

NOT_PUBLISHED = "not-published"
_SKIN_RUSTS = Condition("skin not in ['composite', 'aluminium']")


def look_at_reach(rows: PlanRows, plan: Plan, reading: Reading) -> None:
    """Note what the plan's scope asks for and no shot shows.

    A plan of scope `whole` shows every component of its cars, one of scope `rust` every rust-prone place, one of
    scope `chosen` what it likes: what such a plan leaves out is for `reach` to tell.
    """
    scope = Scope(rows.head["scope"]) if rows.head else Scope.WHOLE
    if scope is not Scope.CHOSEN:
        _Reach(rows, plan, reading, scope).look()


@dataclass(slots=True)
class _Reach:
    rows: PlanRows
    plan: Plan
    reading: Reading
    scope: Scope
    lost: set[str] = field(default_factory=set)

    def look(self) -> None:
        if self.scope is Scope.WHOLE:
            self._look_at_drops()
        for zone in self._shown_zones():
            self._look_at_zone(zone)
        self._look_at_places()

    def _look_at_drops(self) -> None:
        """A dropped shot must not leave a component of the car without any."""
        parts = self.plan.vocabulary.components()
        shown = {part for shot in self.plan.shots for part in shot.components}
        for name, shot in self.rows.made.dropped:
            bare = [part for part in _components_of(shot) if part not in shown and part in parts]
            left = [part for part in bare if self._can_be(parts[part])]
            if left:
                self.lost.update(left)
                words = f"without the shot {name.text!r} nothing shows {', '.join(left)}"
                remedy = "keep the shot, or name them under 'comps' of another"
                self.reading.problems.add(name.mark, f"drop.{name.text}", words, remedy)

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
            if not self._can_be(part) or part.id in self.lost:
                continue
            rusts = self._can_rust(part)
            if part.id not in shown and (rusts or self.scope is Scope.WHOLE):
                self._warn(nodes[part.id].node.mark, part, "no shot shows it", "name it under 'comps' of a shot")
            elif rusts and part.id not in proved:
                words = "it is rust-prone, but no rust shot shows it close"
                self._warn(nodes[part.id].node.mark, part, words, "add one with close: {dist: 0.3}")

    def _can_be(self, part: Component, *more: Condition) -> bool:
        """Whether a car of the plan can have the part (and answer `more` with true)."""
        words = self.plan.vocabulary
        return can_hold([self.plan.applies, words.zones[part.zone].when, part.when, *more], words.facts)

    def _can_rust(self, part: Component) -> bool:
        if not part.rust or part.id not in self.plan.vocabulary.words.get("skin_only_rust", ()):
            return part.rust
        return "skin" not in self.plan.vocabulary.facts or self._can_be(part, _SKIN_RUSTS)

    def _warn(self, mark: Mark, part: Component, words: str, remedy: str) -> None:
        self.reading.problems.warn(mark, f"zones.{part.zone}.components.{part.id}", words, remedy)

    def _look_at_places(self) -> None:
        words = self.plan.vocabulary
        parts = words.components()
        shown = {zone.id for zone in self._shown_zones()}
        for row in self.rows.lists.rows["rust_places"]:
            place = words.rust_places[row["id"]]
            own = parts[place.components[0]]
            when = () if place.when is None else (place.when,)
            if own.zone in shown and not place.shots and self._can_be(own, *when):
                row.doubtful("comps", "no rust shot proves this place", "add a rust shot of one of its components")


def _components_of(shot: Pairs) -> list[str]:
    node = shot.get("comps")
    return [item.text for item in node.items if isinstance(item, Scalar)] if isinstance(node, Items) else []
