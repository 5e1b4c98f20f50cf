"""The frame of the drawing sheet, drawn round the page that lies on top."""

from __future__ import annotations

from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QHBoxLayout, QStackedWidget, QWidget

from app.theme import Theme
from app.window.page_edges import PageEdges


class SheetFrame(QWidget):
    """The frame of the drawing sheet round the page that lies on top."""

    def __init__(self, pages: QStackedWidget, edges: PageEdges, theme: Theme) -> None:
        super().__init__()
        self._pages, self._theme = pages, theme
        row = QHBoxLayout(self)
        row.setContentsMargins(14, 0, 12, 12)
        row.setSpacing(0)
        row.addWidget(pages, 1)
        row.addWidget(edges)
        pages.setContentsMargins(2, 2, 0, 2)

    def set_theme(self, theme: Theme) -> None:
        """Draw in another look."""
        self._theme = theme
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw the frame; its right side belongs to the edges of the pages."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), QColor(self._theme.ground))
        painter.setPen(QPen(QColor(self._theme.ink), 1.8))
        frame = self._pages.geometry()
        painter.drawLine(frame.topLeft(), frame.topRight())
        painter.drawLine(frame.topLeft(), frame.bottomLeft())
        painter.drawLine(frame.bottomLeft(), frame.bottomRight())
