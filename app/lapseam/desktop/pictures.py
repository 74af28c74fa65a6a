"""Pictures on the screen: asked for by hash and size, loaded beside the window thread, kept while there is room.

How a picture is loaded is handed in (`Load`); it answers with a `QImage`, which may cross threads. `QPixmap`s are made
here, on the window thread.
"""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable
from concurrent.futures import Future

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QImage, QPixmap

from .bridge import Bridge

Load = Callable[[str, int], "Future[QImage]"]
"""Given a SHA-256 and the longest side in pixels, a future of the upright picture, null where it cannot be shown."""


class PictureShelf(QObject):
    """A few hundred megabytes of pictures at most; asking for one that is not there starts its loading.

    Signals:
        arrived(sha256): a picture that was asked for can be had now.
    """

    arrived = Signal(str)

    def __init__(self, load: Load, bridge: Bridge, *, room_mb: int = 256, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._load = load
        self._bridge = bridge
        self._room = room_mb * 1_000_000
        self._held = 0
        self._shelf: OrderedDict[tuple[str, int], QPixmap] = OrderedDict()
        self._asked: set[tuple[str, int]] = set()
        self._open = True

    def close(self) -> None:
        """Load no more: what is painted after this shows what is here."""
        self._open = False

    def picture(self, sha256: str, longest_px: int) -> QPixmap | None:
        """The picture if it is here; else None, and `arrived` will tell."""
        key = (sha256, longest_px)
        if key in self._shelf:
            self._shelf.move_to_end(key)
            return self._shelf[key]
        if self._open and key not in self._asked:
            self._asked.add(key)
            self._bridge.when_done(
                self._load(sha256, longest_px),
                lambda image: self._put(key, image),
                finally_do=lambda: self._asked.discard(key),
            )
        return None

    def _put(self, key: tuple[str, int], image: QImage) -> None:
        pixmap = QPixmap.fromImage(image)
        self._shelf[key] = pixmap
        self._held += _weight(pixmap)
        while self._held > self._room and len(self._shelf) > 1:
            _old, dropped = self._shelf.popitem(last=False)
            self._held -= _weight(dropped)
        self.arrived.emit(key[0])


def _weight(pixmap: QPixmap) -> int:
    return pixmap.width() * pixmap.height() * 4
