"""The words at the right end of the menu bar: units and look, each turned over by a press."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QWidget

from app.window.seeing import Seeing

_METRIC: Final = "mm · N·m"
_INCH: Final = "inch · lbf·ft"
_PADDING_PX: Final = 2


class MenuCorner(QWidget):
    """Says how lengths and sheet are shown."""

    def __init__(self, seeing: Seeing, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._seeing = seeing
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 18, 0)
        row.setSpacing(10)
        self._units, self._look = QPushButton(), QPushButton()
        for button, tip, call in (
            (self._units, "Lengths in millimetres or inches", seeing.other_units),
            (self._look, "Ink on paper or chalk on slate", seeing.other_theme),
        ):
            button.setFlat(True)
            button.setCursor(Qt.CursorShape.PointingHandCursor)
            button.setToolTip(tip)
            button.clicked.connect(call)
            row.addWidget(button)
        seeing.theme_changed.connect(self._write)
        seeing.inch_changed.connect(self._write)
        self._write()

    def _write(self) -> None:
        look = self._seeing.theme
        self._units.setText(_INCH if self._seeing.inch else _METRIC)
        self._look.setText(look.name)
        self.setStyleSheet(
            f"QPushButton {{ color: {look.pencil}; border: none; padding: {_PADDING_PX}px; }}"
            f"QPushButton:hover, QPushButton:focus {{ color: {look.accent}; text-decoration: underline; }}"
        )
        # the menu bar gives the corner its room once: it has to do for the longer words too
        wide = self._units.fontMetrics().horizontalAdvance
        self._units.setMinimumWidth(max(map(wide, (_INCH, _METRIC))) + 2 * _PADDING_PX)
