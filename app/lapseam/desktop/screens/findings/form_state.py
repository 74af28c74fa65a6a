"""The words round a finding's form and the uses its photos have. No Qt here."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from lapseam.domain.car import Car
from lapseam.domain.unfinished import Todo

from ...finding_draft import FindingDraft
from ...words import _, _n
from .state import Line, PhotoRow, finding_words

ROLES = ("context", "close", "after")
"""What a finding uses a photo for, as its fields are called."""


def uses_of(draft: FindingDraft | None, photos: Sequence[PhotoRow]) -> Mapping[str, tuple[str, ...]]:
    """The roles of each photo in the finding."""
    return {row.sha256: tuple(role for role in ROLES if draft and row.sha256 in getattr(draft, role)) for row in photos}


def form_title(car: Car, draft: FindingDraft, line: Line | None) -> str:
    """What the form is about: a finding of the record, the part it was opened for, or a new one."""
    if line is not None and line.of is Todo.FINDING:
        found = next((one for one in car.findings if one.key == line.subject), None)
        return _("Finding {words}").format(words=finding_words(car, found))
    part = car.plan.vocabulary.components().get(draft.component)
    return part.name if part is not None and line is not None else _("New finding")


def form_hint(line: Line | None) -> str:
    """Why it is on the list, and what may be done."""
    if line is None or not line.open:
        return ""
    return {
        Todo.PART: _("A ticked frame shows it, and nobody has said what is there. Write what was found, or:"),
        Todo.PHOTO: _("Somebody took this extra photo; say what it shows."),
        Todo.JOTTING: _("The note stays as the house's note of the finding."),
    }.get(line.of, "")


def shown_by(draft: FindingDraft) -> str:
    """Which photos and marks the finding has, or how to give it some."""
    parts = [
        _n("{n} context photo", "{n} context photos", len(draft.context)) if draft.context else "",
        _n("{n} close-up", "{n} close-ups", len(draft.close)) if draft.close else "",
        _n("{n} after the repair", "{n} after the repair", len(draft.after)) if draft.after else "",
        _n("{n} mark", "{n} marks", len(draft.marks)) if draft.marks else "",
    ]
    said = ", ".join(part for part in parts if part)
    if said:
        return _("Shown by {photos}.").format(photos=said)
    return _("No photo yet: Ctrl+P, then 1 for context or 2 for a close-up.")
