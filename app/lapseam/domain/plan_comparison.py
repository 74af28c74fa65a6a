"""What one plan adds to another, drops from it, and changes."""

from __future__ import annotations

from dataclasses import dataclass, fields

from .plan import Plan, Setup, Shot

_ALIKE = ("id",)


@dataclass(frozen=True, slots=True)
class ShotDifference:
    """A shot that both plans have: as it was, as it is, and the names of the `Shot` fields that differ."""

    before: Shot
    after: Shot
    fields: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PlanComparison:
    """From `before` to `after`, plan ids: each list in the shooting order of the plan that has the shot."""

    before: str
    after: str
    added: tuple[Shot, ...] = ()
    dropped: tuple[Shot, ...] = ()
    changed: tuple[ShotDifference, ...] = ()
    setups_added: tuple[Setup, ...] = ()
    setups_dropped: tuple[Setup, ...] = ()
    frames: int = 0
    minutes: int = 0

    @property
    def same(self) -> bool:
        """Whether every shot and setup is the same in both."""
        return not (self.added or self.dropped or self.changed or self.setups_added or self.setups_dropped)


def compare(before: Plan, after: Plan) -> PlanComparison:
    """What `after` adds, drops and changes; `frames` and `minutes` are how much more it asks (less: negative)."""
    old, new = {shot.id: shot for shot in before.shots}, {shot.id: shot for shot in after.shots}
    both = [(old[shot.id], shot) for shot in after.shots if shot.id in old]
    had, has = {one.id for one in before.setups}, {one.id for one in after.setups}
    return PlanComparison(
        before.id,
        after.id,
        added=tuple(shot for shot in after.shots if shot.id not in old),
        dropped=tuple(shot for shot in before.shots if shot.id not in new),
        changed=tuple(ShotDifference(one, other, _differing(one, other)) for one, other in both if one != other),
        setups_added=tuple(one for one in after.setups if one.id not in had),
        setups_dropped=tuple(one for one in before.setups if one.id not in has),
        frames=sum(shot.count for shot in after.shots) - sum(shot.count for shot in before.shots),
        minutes=sum(one.minutes for one in after.setups) - sum(one.minutes for one in before.setups),
    )


def _differing(one: Shot, other: Shot) -> tuple[str, ...]:
    names = (field.name for field in fields(Shot) if field.name not in _ALIKE)
    return tuple(name for name in names if getattr(one, name) != getattr(other, name))
