"""A small plan for what a buyer asked to see again: one view for each chosen component, as a plan file to be edited."""

from __future__ import annotations

from collections.abc import Sequence

from ..domain.plan import Component, Plan, Zone

BASE = "buyer-asked"
"""The plan whose shots are the views to pick from."""

_BY_GROUP = {"under": "ask-underside-spot", "identity": "ask-number", "papers": "ask-paper"}
_BY_ZONE = {"cabin-floor": "ask-behind-cover", "road-test": "ask-drive", "dash": "ask-operate"}
_CLOSER = "ask-closer"
_LONGEST_TITLE = 60


def usual_view(zone: Zone) -> str:
    """The view that usually answers a question about a component of that zone. Trade practice."""
    return _BY_ZONE.get(zone.id) or _BY_GROUP.get(zone.group, _CLOSER)


def asked_plan(plan_id: str, title: str, components: Sequence[Component], views: Plan, view: str = "") -> str:
    """The text of a plan file that asks for those components, made from the plan `views`.

    Args:
        view: the shot of `views` that is used for all of them; left out, the usual one for each component's zone.

    Raises:
        ValueError: `views` has no such shot, or no component is given.
    """
    if not components:
        raise ValueError("a plan asks for at least one component")
    lines = [
        "# What a buyer asked to see again. Fill in the exact place under 'cam' and 'frame', then check the plan.",
        "plan:",
        f"  id: {plan_id}",
        f"  title: {_quoted(title)}",
        f"  base: {views.id}",
        "  scope: chosen",
        "shots:",
    ]
    for part in components:
        used = view or usual_view(views.vocabulary.zones[part.zone])
        shot = views.shot(used)
        if shot is None:
            raise ValueError(f"the plan {views.id!r} has no shot {used!r}")
        words = f"{shot.title}: {part.name}"
        cut = words if len(words) <= _LONGEST_TITLE else words[: _LONGEST_TITLE - 1].rstrip(" ,") + "…"
        lines += [
            f"  - use: {used}",
            f"    id: {used}-{part.id}",
            f"    title: {_quoted(cut)}",
            f"    zone: {part.zone}",
            f"    comps: [{part.id}]",
        ]
    return "\n".join(lines) + "\n"


def _quoted(words: str) -> str:
    return '"' + words.replace("\\", "\\\\").replace('"', '\\"') + '"'
