"""A car's own copy of its plan: canonical JSON, so that editing a plan file never moves a car that is half shot."""

from __future__ import annotations

import hashlib
import json

from pydantic import TypeAdapter, ValidationError

from ..domain.errors import PlanBroken
from ..domain.plan import Plan

_PLAN: TypeAdapter[Plan] = TypeAdapter(Plan)


def dump_plan(plan: Plan) -> str:
    """The plan with its vocabulary as one line of JSON; equal plans give equal text.

    Keys stand in the order of the domain's fields and lists in the plan's order, which is part of what a plan says.
    """
    return json.dumps(_PLAN.dump_python(plan, mode="json"), ensure_ascii=False, separators=(",", ":"))


def plan_from(text: str) -> Plan:
    """The plan that `dump_plan` wrote.

    Raises:
        PlanBroken: the text is no such copy.
    """
    try:
        return _PLAN.validate_json(text, strict=False)
    except ValidationError as error:
        problems = tuple(f"{'.'.join(str(step) for step in one['loc'])}: {one['msg']}" for one in error.errors()[:20])
        raise PlanBroken(
            "The car's own copy of its plan cannot be read.",
            problems=problems,
            next_step="Bring the car back from its record with: lapseam rebuild",
        ) from error


def digest(plan: Plan) -> str:
    """SHA-256 of `dump_plan`, 64 hex digits."""
    return hashlib.sha256(dump_plan(plan).encode()).hexdigest()
