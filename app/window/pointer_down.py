"""Whether the pointer is down in a view: then nothing heavy is begun, so that what is dragged keeps up."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, Signal
from PySide6.QtWidgets import QWidget


class PointerDown(QObject):
    """Watches one widget, and takes nothing from it."""

    held = Signal(bool)

    def __init__(self, widget: QWidget, parent: QObject) -> None:
        super().__init__(parent)
        widget.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802 - Qt's name
        """Tell when the pointer goes down and up; a widget that is hidden meanwhile counts as up."""
        if event.type() == QEvent.Type.MouseButtonPress:
            self.held.emit(True)
        elif event.type() in (QEvent.Type.MouseButtonRelease, QEvent.Type.Hide):
            self.held.emit(False)
        return super().eventFilter(watched, event)
