"""Files dropped on the window: a bracket is opened, a drawing or a photograph finds its form."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Final, Literal

from PySide6.QtCore import QEvent, QMimeData, QObject, Signal
from PySide6.QtGui import QDragEnterEvent, QDropEvent
from PySide6.QtWidgets import QWidget

Dropped = Literal["bracket", "drawing", "photograph"]
_DRAWINGS: Final = (".dxf", ".svg")
_PHOTOGRAPHS: Final = (".png", ".jpg", ".jpeg", ".webp", ".bmp", ".tif", ".tiff")
_ONE_AT_A_TIME: Final = "One file at a time: {0} was taken, {1} more left."


class Drops(QObject):
    """Lets a window take files that are dropped anywhere on it."""

    told = Signal(str)

    def __init__(self, window: QWidget, take: Callable[[Path], None]) -> None:
        super().__init__(window)
        self._take = take
        window.setAcceptDrops(True)
        window.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802 - Qt's name
        """Take files that are dragged over the window, and those that are let go there."""
        if isinstance(event, QDragEnterEvent) and event.type() == QEvent.Type.DragEnter:
            if _files_in(event.mimeData()):
                event.acceptProposedAction()
                return True
        elif isinstance(event, QDropEvent) and event.type() == QEvent.Type.Drop:
            event.acceptProposedAction()
            self._take_first(_files_in(event.mimeData()))
            return True
        return super().eventFilter(watched, event)

    def _take_first(self, files: list[Path]) -> None:
        if files:
            self._take(files[0])
        if len(files) > 1:
            words = self.tr(_ONE_AT_A_TIME)
            self.told.emit(words.replace("{0}", files[0].name).replace("{1}", str(len(files) - 1)))


def kind_of(path: Path) -> Dropped:
    """Return what a file is taken as, by its ending; what is not known is read as a bracket, or refused."""
    ending = path.suffix.lower()
    if ending in _DRAWINGS:
        return "drawing"
    return "photograph" if ending in _PHOTOGRAPHS else "bracket"


def _files_in(mime: QMimeData) -> list[Path]:
    return [Path(url.toLocalFile()) for url in mime.urls() if url.isLocalFile()] if mime.hasUrls() else []
