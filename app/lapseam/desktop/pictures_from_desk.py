"""Loads pictures for the shelf: asks the desk for a preview file and reads it beside the window thread."""

from __future__ import annotations

from concurrent.futures import Future
from pathlib import Path

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QImage, QImageReader

from lapseam.workflow import Desk

from .pictures import Load


def loader(desk: Desk) -> Load:
    """What a `PictureShelf` calls; a photo whose picture cannot be had answers with a null image."""

    def load(sha256: str, longest_px: int) -> Future[QImage]:
        answer: Future[QImage] = Future()

        def read(found: Future[Path | None]) -> None:
            try:
                answer.set_result(_read(found.result(), longest_px))
            except Exception as error:  # noqa: BLE001 - handed on to the bridge, which words it
                answer.set_exception(error)

        desk.picture_file(sha256=sha256, longest_px=longest_px).add_done_callback(read)
        return answer

    return load


def _read(path: Path | None, longest_px: int) -> QImage:
    if path is None:
        return QImage()
    reader = QImageReader(str(path))
    reader.setAutoTransform(True)
    size = reader.size()
    if max(size.width(), size.height()) > longest_px:
        reader.setScaledSize(size.scaled(QSize(longest_px, longest_px), Qt.AspectRatioMode.KeepAspectRatio))
    return reader.read()
