"""The edges of the pages at the right of the frame, as the edges of sheets that lie under one another."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QPointF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QWidget

from app.theme import Theme
from app.window.worded import worded

WIDTH_PX = 34
_EDGE_PX = 104
_GAP_PX = 8
_TOP_PX = 14


class PageEdges(QWidget):
    """One edge for each page; a click or an arrow key turns to it."""

    turned = Signal(int)

    def __init__(self, names: Sequence[str], theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._names = tuple(names)
        self._theme = theme
        self._open = 0
        self.setFixedWidth(WIDTH_PX)
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.setAccessibleName("Pages: " + ", ".join(self._names))
        self.setToolTip(worded("Pages of this bracket"))

    def set_theme(self, theme: Theme) -> None:
        """Draw in another look."""
        self._theme = theme
        self.update()

    def turn_to(self, page: int) -> None:
        """Lay a page on top, by its place in the table."""
        if page != self._open and 0 <= page < len(self._names):
            self._open = page
            self.update()
            self.turned.emit(page)

    def turn_to_words(self, words: str) -> None:
        """Lay the page on top that has these words on its edge; ValueError if none has."""
        self.turn_to(self._names.index(words))

    def let_go(self) -> None:
        """Lay no page on top: something without an edge lies there, and every edge can be turned to."""
        self._open = -1
        self.update()

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return room for every edge."""
        return QSize(WIDTH_PX, _TOP_PX + len(self._names) * (_EDGE_PX + _GAP_PX))

    def mousePressEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Turn to the page whose edge is pressed."""
        for number in range(len(self._names)):
            if self._edge(number).containsPoint(event.position(), Qt.FillRule.OddEvenFill):
                self.turn_to(number)

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Turn with the up and down arrows."""
        steps = {Qt.Key.Key_Up: -1, Qt.Key.Key_Down: 1}
        if event.key() in steps:
            self.turn_to(self._open + steps[Qt.Key(event.key())])
            # a page that takes the keys as it is shown would take the next arrow too
            self.setFocus()
        else:
            super().keyPressEvent(event)

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw the edges; the open page's has no line toward its sheet."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        look = self._theme
        painter.setPen(QPen(QColor(look.ink), 1.6))
        painter.drawLine(QPointF(0.8, 0), QPointF(0.8, self.height()))
        for number, name in enumerate(self._names):
            edge = self._edge(number)
            is_open = number == self._open
            painter.setPen(QPen(QColor(look.ground if is_open else look.ink), 1.6))
            painter.setBrush(QColor(look.ground if is_open else look.plate_back))
            painter.drawPolygon(edge)
            painter.setPen(QPen(QColor(look.ink), 1.0))
            painter.drawPolyline(edge)
            self._write(painter, number, name, is_open)
        if self.hasFocus():
            painter.setPen(QPen(QColor(look.accent), 2.0))
            painter.drawPolyline(self._edge(max(self._open, 0)))

    def _write(self, painter: QPainter, number: int, name: str, is_open: bool) -> None:
        font = self.font()
        font.setBold(is_open)
        painter.setFont(font)
        painter.save()
        middle = self._edge(number).boundingRect().center()
        painter.translate(middle)
        painter.rotate(90)
        room = self._edge(number).boundingRect()
        painter.setPen(QColor(self._theme.ink))
        half_long, half_wide = room.height() / 2, room.width() / 2
        painter.drawText(
            int(-half_long), int(-half_wide), int(room.height()), int(room.width()),
            Qt.AlignmentFlag.AlignCenter, name,
        )  # fmt: skip
        painter.restore()

    def _edge(self, number: int) -> QPolygonF:
        top = _TOP_PX + number * (_EDGE_PX + _GAP_PX)
        out, slant = WIDTH_PX - 4, 8
        corners = ((0.8, top), (out, top + slant), (out, top + _EDGE_PX - slant), (0.8, top + _EDGE_PX))
        return QPolygonF([QPointF(x, y) for x, y in corners])
