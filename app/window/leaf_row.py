"""The leaves of a page: their words in a row, one of them on top."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QStackedWidget, QWidget

from app.theme import Theme
from app.window.lists.caption import Link


class LeafRow(QWidget):
    """Words to press; the leaf that lies on top is written heavier."""

    turned = Signal(int)

    def __init__(self, words: Sequence[str], theme: Theme, spacing: int = 14) -> None:
        super().__init__()
        self._words = tuple(words)
        self._stack = QStackedWidget()
        self.links = [Link(one, theme) for one in words]
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(spacing)
        for place, link in enumerate(self.links):
            link.clicked.connect(partial(self.turn_to, place))
            row.addWidget(link)
        row.addStretch(1)
        self._say(0)

    @property
    def place(self) -> int:
        """Return the place of the leaf on top."""
        return self._stack.currentIndex()

    def stack(self, leaves: Sequence[QWidget]) -> QStackedWidget:
        """Return what holds the leaves, in the order of their words."""
        for leaf in leaves:
            self._stack.addWidget(leaf)
        return self._stack

    def turn_to(self, place: int, _ticked: bool = False) -> None:
        """Lay a leaf on top."""
        self._stack.setCurrentIndex(place)
        self._say(place)
        self.turned.emit(place)

    def set_theme(self, theme: Theme) -> None:
        """Draw in another look."""
        for link in self.links:
            link.set_theme(theme)

    def _say(self, place: int) -> None:
        for number, (words, link) in enumerate(zip(self._words, self.links, strict=True)):
            link.say(words, strong=number == place)
