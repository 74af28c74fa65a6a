"""The one way back to the window thread: a future's answer is delivered where widgets may be touched.

The answer of a future arrives on whichever thread worked it out. It is sent through a queued signal, so `then` always
runs on the thread that made the bridge. A `QImage` may be such an answer, a `QPixmap` may not.
"""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import Future
from typing import Any

from PySide6.QtCore import QObject, Qt, Signal, Slot

from lapseam.domain.errors import Cancelled

Then = Callable[[Any], None]


class Bridge(QObject):
    """Delivers what futures answer. Trouble goes to `on_error`, once for all screens; a stopped work is silence."""

    _arrived = Signal(object)
    _told = Signal(object)

    def __init__(self, on_error: Callable[[Exception], None], parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._on_error = on_error
        self._arrived.connect(self._deliver, Qt.ConnectionType.QueuedConnection)
        self._told.connect(self._tell, Qt.ConnectionType.QueuedConnection)

    def when_done(self, future: Future[Any], then: Then, *, finally_do: Callable[[], None] | None = None) -> None:
        """Call `then` with the future's result on this thread; `finally_do` also after trouble or a stop."""
        future.add_done_callback(lambda done: self._arrived.emit((done, then, finally_do)))

    def teller(self, tell: Callable[..., None]) -> Callable[..., None]:
        """A function for other threads that calls `tell` with the same words on this one; for progress."""
        return lambda *words: self._told.emit((tell, words))

    @Slot(object)
    def _deliver(self, parcel: tuple[Future[Any], Then, Callable[[], None] | None]) -> None:
        future, then, finally_do = parcel
        try:
            self._hand_over(future, then)
        finally:
            if finally_do is not None:
                finally_do()

    def _hand_over(self, future: Future[Any], then: Then) -> None:
        if future.cancelled():
            return
        error = future.exception()
        if error is None:
            then(future.result())
        elif isinstance(error, Cancelled):
            return
        elif isinstance(error, Exception):
            self._on_error(error)
        else:
            raise error

    @Slot(object)
    def _tell(self, parcel: tuple[Callable[..., None], tuple[Any, ...]]) -> None:
        tell, words = parcel
        tell(*words)
