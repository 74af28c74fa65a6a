"""An attached camera as a source of photos: its live picture beside the shot, a shutter key, frames into the intake.

Needs the extra `camera` (Qt Multimedia); without it the action says so by name. A frame is written as a file into a
folder of the cache and taken in from there like any other photo: the vault keeps it, the cache file goes.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any, Protocol

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from lapseam.domain.errors import MissingExtra, NotFound

from .theme import px
from .widgets.bay_button import BayButton
from .widgets.labels import label
from .widgets.overlay import Overlay
from .words import _

EXTRA = "camera"


class Source(Protocol):
    """A camera that shows a live picture and writes a frame where it is told."""

    name: str

    def picture(self) -> QWidget:
        """The widget that shows the live picture."""
        ...

    def shoot(self, target: Path, done: Callable[[Path], None], failed: Callable[[str], None]) -> None:
        """Write one frame to `target` and call `done` with it, or `failed` with the reason in words."""
        ...

    def close(self) -> None:
        """Let the camera go."""
        ...


def open_camera() -> Source:
    """The first attached camera.

    Raises:
        MissingExtra: Qt Multimedia is not installed. NotFound: no camera is attached.
    """
    try:
        from PySide6 import QtMultimedia, QtMultimediaWidgets
    except ImportError as error:
        raise MissingExtra(
            _("An attached camera needs a part of the program that is not installed."),
            next_step=_("Install it with: pip install 'lapseam[{extra}]'").format(extra=EXTRA),
            detail=str(error),
        ) from error
    devices = QtMultimedia.QMediaDevices.videoInputs()
    if not devices:
        raise NotFound(
            _("No camera is attached."),
            next_step=_("Plug one in and switch it on, or watch the folder that its own program writes to."),
        )
    return _QtCamera(devices[0], QtMultimedia, QtMultimediaWidgets)


class _QtCamera(QObject):
    """A camera of Qt Multimedia. Its modules are handed in, because they are there only with the extra."""

    def __init__(self, device: Any, multimedia: Any, widgets: Any) -> None:
        super().__init__()
        self.name = str(device.description())
        self._picture = widgets.QVideoWidget()
        self._camera = multimedia.QCamera(device)
        self._capture = multimedia.QImageCapture()
        self._session = multimedia.QMediaCaptureSession()
        self._session.setCamera(self._camera)
        self._session.setImageCapture(self._capture)
        self._session.setVideoOutput(self._picture)
        self._capture.setQuality(multimedia.QImageCapture.Quality.VeryHighQuality)
        self._waiting: dict[int, tuple[Callable[[Path], None], Callable[[str], None]]] = {}
        self._capture.imageSaved.connect(self._saved)
        self._capture.errorOccurred.connect(self._failed)
        self._camera.start()

    def picture(self) -> QWidget:
        widget: QWidget = self._picture
        return widget

    def shoot(self, target: Path, done: Callable[[Path], None], failed: Callable[[str], None]) -> None:
        number = self._capture.captureToFile(str(target))
        if number < 0:
            failed(self._capture.errorString())
        else:
            self._waiting[number] = (done, failed)

    def close(self) -> None:
        self._camera.stop()

    def _saved(self, number: int, name: str) -> None:
        if number in self._waiting:
            self._waiting.pop(number)[0](Path(name))

    def _failed(self, number: int, _kind: object, words: str) -> None:
        if number in self._waiting:
            self._waiting.pop(number)[1](words)


class CameraSheet(Overlay):
    """The live picture with its shutter, over the Walk. Space shoots, Escape puts it away.

    Signals:
        shot(path): a frame was written.
        trouble(words): the camera did not write one.
        left(): the sheet was put away, and the camera was let go.
    """

    shot = Signal(object)
    trouble = Signal(str)
    left = Signal()

    def __init__(self, parent: QWidget, folder: Path) -> None:
        super().__init__(parent, "choices", wide=980)
        self._folder = folder
        self._source: Source | None = None
        self._number = 0
        self.title = label("heading")
        self.about = label("soft", wrap=True)
        self.shutter = BayButton(_("Shoot"), key="Space", drawing="again", go=True)
        self.leave = BayButton(_("Back to shooting"), key="Esc", drawing="back")
        self.shutter.clicked.connect(self.shoot)
        self.leave.clicked.connect(self.put_away)
        self._column = QVBoxLayout(self.sheet)
        self._column.setContentsMargins(px(20), px(16), px(20), px(16))
        self._column.setSpacing(px(10))
        self._column.addWidget(self.title)
        self._column.addWidget(self.about)
        foot = QHBoxLayout()
        foot.addWidget(self.leave)
        foot.addStretch(1)
        foot.addWidget(self.shutter)
        self._column.addLayout(foot)

    def use(self, source: Source, shot_title: str) -> None:
        """Show a camera's live picture for the shot that is up."""
        self._source = source
        self.title.setText(source.name)
        self.about.setText(_("Each frame is proposed for: {shot}").format(shot=shot_title))
        picture = source.picture()
        picture.setMinimumHeight(px(360))
        picture.setAccessibleName(_("Live picture of {camera}").format(camera=source.name))
        self._column.insertWidget(2, picture, 1)
        self.come_up()
        self.shutter.setFocus()

    def shoot(self) -> None:
        """Take one frame."""
        if self._source is None:
            return
        self._folder.mkdir(parents=True, exist_ok=True)
        self._number += 1
        target = self._folder / f"CAM_{self._number:04}.jpg"
        while target.exists():
            self._number += 1
            target = self._folder / f"CAM_{self._number:04}.jpg"
        self._source.shoot(target, self.shot.emit, self.trouble.emit)

    def put_away(self) -> None:
        """Let the camera go and close the sheet."""
        if self._source is not None:
            picture = self._source.picture()
            self._column.removeWidget(picture)
            self._source.close()
            picture.setParent(None)
            self._source = None
            self.left.emit()
        super().put_away()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.put_away()
        else:
            super().keyPressEvent(event)
