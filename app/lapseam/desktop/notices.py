"""Notices as values: what happened, what it means, what to do next. No Qt here."""

from __future__ import annotations

from dataclasses import dataclass

from lapseam.domain.errors import UserError

from .words import _


@dataclass(frozen=True, slots=True)
class Notice:
    """One message for the one notice place. `trouble` asks for attention; else it is a plain word."""

    problem: str
    effect: str = ""
    next_step: str = ""
    detail: str = ""
    trouble: bool = True

    @property
    def spoken(self) -> str:
        """All of it in one breath, for a screen reader."""
        return " ".join(part for part in (self.problem, self.effect, self.next_step) if part)


def notice_of(error: Exception) -> Notice:
    """The notice for an error: a `UserError`'s own parts, or a plain word that the fault is ours."""
    if isinstance(error, UserError):
        return Notice(error.problem, error.effect, error.next_step, error.detail)
    return Notice(
        _("The program made a mistake."),
        _("What you had recorded before is safe; the last step may not have been done."),
        _("Do the last step again. If it happens twice, send us the line below."),
        f"{type(error).__name__}: {error}",
    )
