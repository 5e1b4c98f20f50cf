"""The projection lines that join the flat pattern to the bracket as mounted: thin, dashed, level."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QLineF, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QWidget

from app.theme import Theme


class ProjectionLines(QWidget):
    """Lies over both views and lets every press through."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._theme = theme
        self._lines: tuple[QLineF, ...] = ()

    def set_theme(self, theme: Theme) -> None:
        """Draw in another look."""
        self._theme = theme
        self.update()

    def set_lines(self, lines: Sequence[QLineF]) -> None:
        """Draw these lines, in this widget's own pixels."""
        if tuple(lines) != self._lines:
            self._lines = tuple(lines)
            self.update()

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw them."""
        painter = QPainter(self)
        pen = QPen(QColor(self._theme.faint), 1.0)
        pen.setStyle(Qt.PenStyle.CustomDashLine)
        pen.setDashPattern([3.0, 4.0])
        painter.setPen(pen)
        painter.drawLines(list(self._lines))
