"""Whether the pointer is down in a view: then nothing heavy is begun, so that what is dragged keeps up."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import QWidget

_UP: Final = (
    QEvent.Type.MouseButtonRelease,
    QEvent.Type.Hide,
    QEvent.Type.ContextMenu,
    QEvent.Type.WindowDeactivate,
)


class PointerDown(QObject):
    """Watches one widget, and takes nothing from it."""

    held = Signal(bool)

    def __init__(self, widget: QWidget, parent: QObject) -> None:
        super().__init__(parent)
        widget.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802 - Qt's name
        """Tell when the pointer goes down and up.

        What takes the pointer away counts as up: a widget hidden meanwhile, and a menu, which gets the
        release of the press that opened it.
        """
        if event.type() == QEvent.Type.MouseButtonPress:
            right = isinstance(event, QMouseEvent) and event.button() == Qt.MouseButton.RightButton
            self.held.emit(not right)
        elif event.type() in _UP:
            self.held.emit(False)
        return super().eventFilter(watched, event)
