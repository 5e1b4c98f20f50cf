"""The list below a field, to choose its value from."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QAbstractItemView, QCompleter, QLineEdit

_MOST_LINES: Final = 12
_ITS_KEYS: Final = (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Escape, Qt.Key.Key_F4)


class Choices(QCompleter):
    """Shows every choice, whatever stands in the field; it opens only when it is asked for."""

    def __init__(self, choices: Sequence[str], edit: QLineEdit) -> None:
        super().__init__(list(choices), edit)
        self.setWidget(edit)
        self.setCompletionMode(QCompleter.CompletionMode.UnfilteredPopupCompletion)
        self.setMaxVisibleItems(_MOST_LINES)
        edit.textEdited.connect(self.list.hide)  # who types wants no list; Enter is the field's again
        self.list.setMinimumWidth(edit.fontMetrics().horizontalAdvance("m" * 16))

    @property
    def list(self) -> QAbstractItemView:
        """Return the list itself."""
        shown = self.popup()
        if shown is None:
            raise RuntimeError("a list of choices has no view: it was made for a field that is gone")
        return shown

    def takes(self, key: int) -> bool:
        """Return whether it is open and the key is meant for it rather than for the field."""
        return self.list.isVisible() and key in _ITS_KEYS
