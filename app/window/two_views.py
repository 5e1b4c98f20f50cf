"""The two views of the sheet: one large, the other as an inset beside it, joined by projection lines.

The space bar swaps them. What belongs to the view as mounted (its controls) stays under it.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Final

from PySide6.QtCore import QEvent, QLineF, QObject, QRect, QRectF, Signal
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen, QResizeEvent
from PySide6.QtWidgets import QWidget

from app.theme import Theme
from app.window.projection import ProjectionLines

_GAP_PX: Final = 30
_LEAST_INSET_PX: Final = 300
_MOST_INSET_PX: Final = 640
_INSET_SHARE: Final = 0.37


class TwoViews(QWidget):
    """Lays out the flat pattern, the bracket as mounted, and what stands under the latter."""

    swapped = Signal(bool)
    """Whether the bracket as mounted is now the large view."""

    def __init__(
        self,
        flat: QWidget,
        mounted: QWidget,
        under_mounted: QWidget,
        levels: Callable[[], Sequence[tuple[float, float]]],
        theme: Theme,
        parent: QWidget | None = None,
    ) -> None:
        """`levels` gives (x, y) in pixels of the flat view from where projection lines set out."""
        super().__init__(parent)
        self._flat, self._mounted, self._under, self._levels = flat, mounted, under_mounted, levels
        self._theme = theme
        self._mounted_is_large = False
        for child in (flat, mounted, under_mounted):
            child.setParent(self)
        self._lines = ProjectionLines(theme, self)
        # every redrawing of the flat pattern may have moved it
        for watched in (flat, *flat.findChildren(QWidget)):
            watched.installEventFilter(self)
        self.setMinimumSize(560, 220)

    @property
    def mounted_is_large(self) -> bool:
        """Return which view is the large one."""
        return self._mounted_is_large

    def set_theme(self, theme: Theme) -> None:
        """Draw in another look."""
        self._theme = theme
        self._lines.set_theme(theme)
        self.update()

    def swap(self) -> None:
        """Make the inset large and the large view the inset."""
        self._mounted_is_large = not self._mounted_is_large
        self._lay_out()
        self.swapped.emit(self._mounted_is_large)

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Lay the views out anew."""
        super().resizeEvent(event)
        self._lay_out()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802 - Qt's name
        """Move the projection lines with the flat pattern."""
        if event.type() == QEvent.Type.Paint:
            self._draw_lines()
        return super().eventFilter(watched, event)

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw frames round the inset and round the bracket as mounted, whose picture is cut by its edge."""
        painter = QPainter(self)
        painter.setPen(QPen(QColor(self._theme.pencil), 1.0))
        for framed in {self._flat if self._mounted_is_large else self._mounted, self._mounted}:
            painter.drawRect(QRectF(framed.geometry()).adjusted(-0.5, -0.5, 0.5, 0.5))

    def _lay_out(self) -> None:
        width, height = self.width(), self.height()
        inset_width = int(min(max(_INSET_SHARE * width, _LEAST_INSET_PX), _MOST_INSET_PX, 0.48 * width))
        under = self._under.sizeHint().height()
        large = QRect(1, 1, width - inset_width - _GAP_PX, height - 2)
        inset_height = min(height - 2, int(1.05 * inset_width) + under)
        inset = QRect(width - inset_width, 1, inset_width - 1, inset_height)
        flat, mounted = (inset, large) if self._mounted_is_large else (large, inset)
        self._flat.setGeometry(flat)
        self._mounted.setGeometry(mounted.adjusted(0, 0, 0, -under))
        self._under.setGeometry(QRect(mounted.left(), mounted.bottom() - under + 1, mounted.width(), under))
        self._lines.setGeometry(self.rect())
        self._lines.raise_()
        self._draw_lines()
        self.update()

    def _draw_lines(self) -> None:
        if self._mounted_is_large:
            self._lines.set_lines(())
            return
        at, end = self._flat.geometry(), self._mounted.geometry()
        lines = [
            QLineF(at.left() + x, at.top() + y, end.left() - 2, at.top() + y)
            for x, y in self._levels()
            if 0 <= y <= end.bottom() - at.top() and x < at.width()
        ]
        self._lines.set_lines(lines)
