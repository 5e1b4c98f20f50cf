"""The place of the Record page: the page itself is made when it is first turned to.

What it needs takes a while to import, and the first drawing of the window must not wait for it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Signal
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget

from app.theme import Theme
from app.window.asks import Asks
from app.window.mounted_painting import Painting
from app.window.seeing import Seeing
from app.window.worded import worded

if TYPE_CHECKING:
    from app.window.inspection.desk import Computes
    from app.window.record_page import RecordPage


class RecordHolder(QWidget):
    """Holds the page once there is one."""

    told = Signal(str)
    """A sentence for the sheet."""
    sheet_wanted = Signal()
    """The bracket on the sheet is to be inspected, if nobody else's is."""

    def __init__(
        self,
        asks: Asks,
        seeing: Seeing,
        computes: Computes | None = None,
        painting: Painting | None = None,
    ) -> None:
        super().__init__()
        self._asks, self._seeing, self._computes, self._painting = asks, seeing, computes, painting
        self._page: RecordPage | None = None
        self._room = QVBoxLayout(self)
        self._room.setContentsMargins(0, 0, 0, 0)

    @property
    def page(self) -> RecordPage:
        """Return the page, made if there is none yet."""
        if self._page is None:
            from app.window.record_page import RecordPage

            self._page = RecordPage(self._asks, self._seeing, self._computes, self._painting)
            self._room.addWidget(self._page)
            self.setFocusProxy(self._page)
            self._page.recover()
        return self._page

    def tell_left(self) -> None:
        """Say so if a crash left a record behind: the page goes on with it when it is turned to."""
        from app.window.inspection.record_keeper import records_left

        if self._page is None and records_left():
            self.told.emit(
                worded(
                    "A record was left unsaved when Holdsquare ended: turn to the page"
                    " Record to go on with it."
                )
            )

    def set_theme(self, theme: Theme) -> None:
        """Draw in another look."""
        if self._page is not None:
            self._page.set_theme(theme)

    def may_leave(self) -> bool:
        """Return whether the record may go: there is none, it is saved, or it is not wanted."""
        return self._page is None or self._page.may_leave()

    def keep(self) -> None:
        """Keep the record aside at once, if there is one that is neither saved nor kept."""
        if self._page is not None:
            self._page.keeper.keep()

    def leave(self) -> None:
        """End what computes for the record."""
        if self._page is not None:
            self._page.leave()

    def showEvent(self, event: QShowEvent) -> None:  # noqa: N802 - Qt's name
        """Make the page if need be, and take up the bracket on the sheet."""
        super().showEvent(event)
        self.page.take_keys()
        self.sheet_wanted.emit()
