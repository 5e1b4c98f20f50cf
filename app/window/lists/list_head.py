"""The head of the parts list: the names of its columns, ruled as the rows are."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QWidget

from app.theme import Theme
from app.window.lists.caption import small
from app.window.lists.part_row import PAD_PX
from app.window.lists.rows import COLUMNS


class ListHead(QWidget):
    """The names of the columns."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self._theme = theme
        self._widths: tuple[int, ...] = ()
        self.setFont(small(self.font()))
        self.setFixedHeight(self.fontMetrics().height() + 4)

    def set_theme(self, theme: Theme) -> None:
        """Draw in another look."""
        self._theme = theme
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
        x = 0
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
