"""Reports of long work, no more often than an eye can follow."""

from __future__ import annotations

import time
from collections.abc import Callable

GAP_S = 0.1


class Every:
    """Let a report through at most ten times a second, and always the last.

    Args:
        tell: given done and total.
        gap_s: the least time between two reports, in seconds.
        now: a steady clock in seconds; tests hand in their own.
    """

    __slots__ = ("_gap_s", "_now", "_tell", "_told", "_told_at")

    def __init__(
        self, tell: Callable[[int, int], None], *, gap_s: float = GAP_S, now: Callable[[], float] = time.monotonic
    ) -> None:
        self._tell, self._gap_s, self._now = tell, gap_s, now
        self._told_at: float | None = None
        self._told: tuple[int, int] | None = None

    def __call__(self, done: int, total: int) -> None:
        moment = self._now()
        if done >= total or self._told_at is None or moment - self._told_at >= self._gap_s:
            self._told_at = moment
            self._told = (done, total)
            self._tell(done, total)

    def last(self, done: int, total: int) -> None:
        """Report the end of work that may have ended early, unless just this was told."""
        if (done, total) != self._told:
            self._told = (done, total)
            self._tell(done, total)
