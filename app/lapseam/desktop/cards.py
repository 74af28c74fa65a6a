"""Notices a camera card: a newly mounted volume with a DCIM folder (JEITA CP-3461, DCF)."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QObject, QStorageInfo, QTimer, Signal

_LOOK_EVERY_MS = 3_000


class CardWatch(QObject):
    """Looks at the mounted volumes now and then.

    Signals:
        card_came(folder): the DCIM folder of a volume that was not there at the last look.
    """

    card_came = Signal(object)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._known = set(_cards())
        self._timer = QTimer(self)
        self._timer.timeout.connect(self.look)
        self._timer.start(_LOOK_EVERY_MS)

    def look(self) -> None:
        """Look once."""
        here = set(_cards())
        for folder in sorted(here - self._known):
            self.card_came.emit(folder)
        self._known = here

    def stop(self) -> None:
        """Look no more."""
        self._timer.stop()


def _cards() -> list[Path]:
    roots = [
        Path(volume.rootPath()) for volume in QStorageInfo.mountedVolumes() if volume.isValid() and volume.isReady()
    ]
    return [root / "DCIM" for root in roots if root != Path("/") and (root / "DCIM").is_dir()]
