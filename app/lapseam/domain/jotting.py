"""Jottings: words spoken, pasted or typed at a zone that nobody has made a finding of yet.

A jotting has no basis and so is never published; it stands among what is unfinished until it becomes a finding, whose
note then keeps its words, or somebody takes it out.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import datetime
from typing import Final

from .plan import Plan

_WORD: Final = re.compile(r"[^\W_]+")


@dataclass(frozen=True, slots=True)
class Jotting:
    """Somebody's words at a zone. `text` is as it was said, line breaks and all."""

    number: int
    zone: str
    text: str
    by: str
    at: datetime

    @property
    def key(self) -> str:
        return str(self.number)


def zone_meant(text: str, plan: Plan) -> str:
    """The zone that words speak of: the one they begin with ("Trunk: …"), else that of the part they name; "" for none.

    Where several parts are named the one named first counts, and of those that begin there the longest name.
    """
    said = f" {' '.join(_WORD.findall(text.casefold()))} "
    zones = {zone: _spoken(one.name) for zone, one in plan.vocabulary.zones.items()}
    head = " ".join(_WORD.findall(text.partition(":")[0].casefold())) if ":" in text else ""
    for zone, name in zones.items():
        if head and head in (name, zone.replace("-", " ")):
            return zone
    named = [(_spoken(part.name), part.zone) for part in plan.vocabulary.components().values()]
    named += [(name, zone) for zone, name in zones.items()]
    found = [(said.find(f" {name} "), -len(name), zone) for name, zone in named if name and f" {name} " in said]
    return min(found)[2] if found else ""


def _spoken(name: str) -> str:
    return " ".join(_WORD.findall(name.casefold()))
