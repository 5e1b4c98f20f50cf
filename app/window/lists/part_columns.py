"""The columns of the parts list: how wide each is, and their names above them."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QWidget

from app.theme import Theme
from app.window.lists.caption import small
from app.window.lists.part_row import PAD_PX
from app.window.lists.rows import COLUMNS

_PART = 2
_LEAST_PART = 0.6
"""Share of the longest usual name of a part that is still read as what it is."""


def widths_in(
    room: int, *, heads: list[int], rows: Sequence[list[int]], deciding: Sequence[list[int]], part: int
) -> tuple[int, ...]:
    """Return the widths of the columns in a room, all in pixels; where they have none in it they are wider.

    Each of `rows` has the widths its cells would like; those of the `deciding` are never cut. A name of
    a part may be cut, but from `part` pixels down to no less than tells what it is.
    """
    whole, widths = _widest(rows, heads), _widest(deciding, heads)
    widths[:_PART] = whole[:_PART]
    widths[_PART] = min(whole[_PART], part)
    spare = room - sum(widths)
    if -spare > (1.0 - _LEAST_PART) * widths[_PART]:
        return tuple(whole)
    widths[_PART] += min(spare, 0)
    for column in (_PART, *range(_PART + 1, len(COLUMNS))):
        more = min(max(spare, 0), max(whole[column] - widths[column], 0))
        widths[column] += more
        spare -= more
    widths[_PART] += max(spare, 0)
    return tuple(widths)


def _widest(rows: Sequence[list[int]], heads: list[int]) -> list[int]:
    return [max(column) for column in zip(*rows, heads, strict=True)]


class PartsHead(QWidget):
    """The names of the columns."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self._theme = theme
        self._widths: tuple[int, ...] = ()
        self._left = 0
        self.setFont(small(self.font()))
        self.setFixedHeight(self.fontMetrics().height() + 4)

    def set_theme(self, theme: Theme) -> None:
        """Draw in another look."""
        self._theme = theme
        self.update()

    def scroll_to(self, left_px: int) -> None:
        """Stand over columns that are scrolled so far to the left."""
        self._left = left_px
        self.update()

    def set_widths(self, widths: tuple[int, ...]) -> None:
        """Take the widths of the columns in pixels."""
        self._widths = widths
        self.update()

    def natural_widths(self) -> list[int]:
        """Return the room each name would like."""
        return [self.fontMetrics().horizontalAdvance(self._word(name)) + 2 * PAD_PX for name in COLUMNS]

    def _word(self, name: str) -> str:
        return self.tr(name)

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw the names and the ruling."""
        painter = QPainter(self)
        metrics = self.fontMetrics()
        base = (self.height() + metrics.ascent() - metrics.descent()) / 2.0
        x = -self._left
        for name, wide in zip(COLUMNS, self._widths, strict=False):
            painter.setPen(QColor(self._theme.pencil))
            text = metrics.elidedText(self._word(name), Qt.TextElideMode.ElideRight, wide - PAD_PX)
            painter.drawText(x + PAD_PX, int(base), text)
            x += wide
            painter.setPen(QPen(QColor(self._theme.faint), 1))
            if wide is not self._widths[-1]:
                painter.drawLine(x - 1, 0, x - 1, self.height())
        painter.setPen(QPen(QColor(self._theme.ink), 1))
        painter.drawLine(0, self.height() - 1, self.width(), self.height() - 1)
