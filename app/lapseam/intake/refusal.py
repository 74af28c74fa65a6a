"""How one file is turned away without stopping the others."""

from __future__ import annotations

from lapseam.domain.photo import IntakeOutcome


class Refused(Exception):
    """This file does not come in; never leaves the room: the pipeline makes a result of it.

    Args:
        outcome: what the person is told became of the file.
        reason: why, in plain words.
    """

    def __init__(self, outcome: IntakeOutcome, reason: str) -> None:
        super().__init__(reason)
        self.outcome, self.reason = outcome, reason
