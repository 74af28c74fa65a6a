"""Threads: one owns the book, a few work on pixels, and progress is told ten times a second at most."""

from __future__ import annotations

import threading
from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor
from time import monotonic
from typing import ParamSpec, TypeVar

P = ParamSpec("P")
T = TypeVar("T")

Progress = Callable[[int, int], None]
"""Told how many are done, of how many."""


class Stop:
    """A wish to stop, asked between files. Set from any thread."""

    def __init__(self) -> None:
        self._wished = threading.Event()

    def set(self) -> None:
        """Wish it."""
        self._wished.set()

    def __call__(self) -> bool:
        """Whether somebody wishes it."""
        return self._wished.is_set()


class Every:
    """Let a report through at most every `gap_s` seconds, and always the last."""

    def __init__(self, tell: Progress, gap_s: float = 0.1, now: Callable[[], float] = monotonic) -> None:
        self._tell, self._gap_s, self._now = tell, gap_s, now
        self._last = float("-inf")

    def __call__(self, done: int, total: int) -> None:
        """Pass the report on if it is time."""
        if done >= total or self._now() - self._last >= self._gap_s:
            self._last = self._now()
            self._tell(done, total)


class Runner:
    """One thread for the book (SQLite stays on it), one for long work, two for short work beside; none of Qt's.

    A job on the book never waits for another job; long and short work may wait for the book.
    """

    def __init__(self) -> None:
        self._book = ThreadPoolExecutor(1, thread_name_prefix="book")
        self._long = ThreadPoolExecutor(1, thread_name_prefix="long")
        self._short = ThreadPoolExecutor(2, thread_name_prefix="short")

    def on_book(self, job: Callable[P, T], *args: P.args, **kwargs: P.kwargs) -> Future[T]:
        """Run `job` on the thread that owns the database."""
        return self._book.submit(job, *args, **kwargs)

    def beside(self, job: Callable[P, T], *args: P.args, **kwargs: P.kwargs) -> Future[T]:
        """Run long work beside the book: taking in, publishing."""
        return self._long.submit(job, *args, **kwargs)

    def aside(self, job: Callable[P, T], *args: P.args, **kwargs: P.kwargs) -> Future[T]:
        """Run short work beside the book: answers worked out of a car, previews."""
        return self._short.submit(job, *args, **kwargs)

    def close(self) -> None:
        """Finish what is under way and end the threads; short work that has not begun is dropped."""
        self._long.shutdown(wait=True)
        self._short.shutdown(wait=True, cancel_futures=True)
        self._book.shutdown(wait=True)
