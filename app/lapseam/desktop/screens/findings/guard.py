"""What the claims guard says of the words being written, and how the allowed wording is taken over. No Qt here."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from lapseam.domain.claims import Judged, Objection, Verdict
from lapseam.domain.plan import Vocabulary

from ...words import _

_SLOT = re.compile(r"\{\w+\}")
_ID = re.compile(r"(?<=: )[\w-]+")


@dataclass(frozen=True, slots=True)
class Warned:
    """The gravest objection: the field it is in, what stands against its words, and what may be said instead."""

    field: str
    objection: Objection
    more: int

    @property
    def headline(self) -> str:
        """What may not be done with it."""
        if self.objection.verdict is Verdict.REFUSED:
            return _("May not be printed: “{words}”").format(words=self.objection.words)
        return _("Needs evidence: “{words}”").format(words=self.objection.words)

    def why(self, words: Vocabulary) -> str:
        """Why it may not be said; what it needs by the names of parts and readings, not their ids."""
        if not self.objection.needs:
            return self.objection.why
        names = {
            **{part.id: part.name for part in words.components().values()},
            **{one.id: one.name for one in words.measurements.values()},
            **{one.id: one.item for one in words.checks.values()},
        }
        needs = (_ID.sub(lambda found: names.get(found.group(), found.group()), need) for need in self.objection.needs)
        return _("It needs, on file: {needs}.").format(needs="; ".join(needs))


def warned_of(judged: Mapping[str, tuple[Judged, ...]]) -> Warned | None:
    """The gravest objection of all fields, refusals before needs; None where everything is allowed."""
    found = [
        (against.verdict is not Verdict.REFUSED, place, name, against)
        for place, (name, sentences) in enumerate(judged.items())
        for sentence in sentences
        for against in sentence.objections
    ]
    if not found:
        return None
    _grave, _place, name, against = min(found, key=lambda one: one[:2])
    return Warned(name, against, len(found) - 1)


def taken_over(text: str, against: Objection) -> tuple[str, tuple[int, int]]:
    """The text with the allowed wording in place of the words objected to, and what to select in it.

    That is the wording's first slot, which a person fills, or the end of what was put in.
    """
    instead = against.say_instead
    changed = text[: against.start] + instead + text[against.end :]
    slot = _SLOT.search(instead)
    if slot is None:
        end = against.start + len(instead)
        return changed, (end, end)
    return changed, (against.start + slot.start(), against.start + slot.end())
