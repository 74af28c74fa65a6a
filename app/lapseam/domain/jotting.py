"""Jottings: words spoken, pasted or typed at a zone that nobody has made a finding of yet.

A jotting has no basis and so is never published; it stands among what is unfinished until it becomes a finding, whose
note then keeps its words, or somebody takes it out.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime


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
