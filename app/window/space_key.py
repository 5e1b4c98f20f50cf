"""The space bar belongs to whatever has the focus and uses it; only elsewhere does it swap the views."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QAbstractButton, QAbstractItemView, QApplication, QComboBox


class SpaceKey(QObject):
    """Watches the program's keys for the moment at which Qt asks whether a shortcut may have one."""

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        program = QApplication.instance()
        if program is not None:
            program.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802 - Qt's name
        """Keep the space bar from shortcuts while a button, list or choice has the focus."""
        if (
            event.type() == QEvent.Type.ShortcutOverride
            and isinstance(event, QKeyEvent)
            and event.key() == Qt.Key.Key_Space
            and isinstance(watched, QAbstractButton | QAbstractItemView | QComboBox)
        ):
            event.accept()
            return True
        return False
