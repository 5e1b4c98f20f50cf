"""The place of the page Side by side: the page itself is made when it is first turned to."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget

from app.theme import Theme

if TYPE_CHECKING:
    from app.window.side_by_side_page import SideBySidePage
    from geometry.bracket import Bracket
    from solver.trials import Trial


class SideBySideHolder(QWidget):
    """Holds the page once there is one."""

    def __init__(self, make: Callable[[], SideBySidePage]) -> None:
        super().__init__()
        self._make = make
        self._page: SideBySidePage | None = None
        self._room = QVBoxLayout(self)
        self._room.setContentsMargins(0, 0, 0, 0)

    @property
    def page(self) -> SideBySidePage:
        """Return the page, made if there is none yet."""
        if self._page is None:
            self._page = self._make()
            self._room.addWidget(self._page)
            self.setFocusProxy(self._page)
        return self._page

    def set_theme(self, theme: Theme) -> None:
        """Draw in another look."""
        if self._page is not None:
            self._page.set_theme(theme)

    def trials_of(self, bracket: Bracket) -> tuple[Trial, ...]:
        """Return what was found of a bracket with one input changed at a time; nothing if nobody asked."""
        return () if self._page is None else self._page.turned.trials_of(bracket)

    def leave(self) -> None:
        """End what is worked out for the page."""
        if self._page is not None:
            self._page.leave()

    def showEvent(self, event: QShowEvent) -> None:  # noqa: N802 - Qt's name
        """Make the page if need be."""
        super().showEvent(event)
        self.page.show()
