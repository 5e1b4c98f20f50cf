"""A slider as a drawing has it: a line with a ring on it, its name before and its figure after."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QWidget

from app.theme import Theme

_STEPS = 100
_RING_PX = 5.0


class Slide(QWidget):
    """Holds a figure between two ends; a tick shows what the drawing says."""

    slid = Signal(float)
    """The figure while it is moved."""

    def __init__(self, name: str, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._name, self._theme = name, theme
        self._low, self._high = 0.0, 1.0
        self._value: float | None = None
        self._drawn: float | None = None
        self._words = ""
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)

    @property
    def value(self) -> float | None:
        """Return the figure that is shown."""
        return self._value

    def set_theme(self, theme: Theme) -> None:
        """Draw in another look."""
        self._theme = theme
        self.update()

    def set_name(self, name: str) -> None:
        """Say what it moves."""
        self._name = name
        self._tell()

    def show_value(
        self, value: float | None, drawn: float | None, ends: tuple[float, float], words: str
    ) -> None:
        """Show a figure, what the drawing says, the ends, and the figure in words."""
        self._value, self._drawn, (self._low, self._high), self._words = value, drawn, ends, words
        self.setEnabled(value is not None)
        self._tell()

    def slide_to(self, value: float) -> None:
        """Move to a figure and tell it."""
        value = min(max(value, self._low), self._high)
        near = self._drawn is not None and abs(value - self._drawn) < (self._high - self._low) / (2 * _STEPS)
        self._value = self._drawn if near else value
        self.update()
        self.slid.emit(self._value)

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return room for name, line and figure."""
        metrics = self.fontMetrics()
        return QSize(metrics.averageCharWidth() * 38, metrics.height() + 6)

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Arrows move by a hundredth, Page keys by a tenth, Home goes to what the drawing says."""
        step = (self._high - self._low) / _STEPS
        moves = {
            Qt.Key.Key_Left: -step,
            Qt.Key.Key_Down: -step,
            Qt.Key.Key_Right: step,
            Qt.Key.Key_Up: step,
            Qt.Key.Key_PageDown: -10 * step,
            Qt.Key.Key_PageUp: 10 * step,
        }
        if event.key() in moves and self._value is not None:
            self.slide_to(self._value + moves[Qt.Key(event.key())])
        elif event.key() == Qt.Key.Key_Home and self._drawn is not None:
            self.slide_to(self._drawn)
        else:
            super().keyPressEvent(event)

    def mousePressEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Move the ring to the pointer."""
        self.setFocus(Qt.FocusReason.MouseFocusReason)
        self._follow(event.position().x())

    def mouseMoveEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Follow the pointer."""
        if event.buttons() & Qt.MouseButton.LeftButton:
            self._follow(event.position().x())

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw name, line, tick, ring and figure."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        metrics = self.fontMetrics()
        base = (self.height() + metrics.ascent() - metrics.descent()) / 2.0
        ink = QColor(self._theme.ink if self.isEnabled() else self._theme.pencil)
        painter.setPen(ink)
        painter.drawText(QPointF(3, base), self._name)
        moved = self._value is not None and self._value != self._drawn
        painter.setPen(ink if moved else QColor(self._theme.pencil))
        left, right = self._ends()
        painter.drawText(QPointF(right + 10, base), self._words)
        y = self.height() / 2.0
        painter.setPen(QPen(QColor(self._theme.pencil), 1))
        painter.drawLine(QPointF(left, y), QPointF(right, y))
        if self._drawn is not None:
            x = self._at(self._drawn)
            painter.setPen(QPen(ink, 1))
            painter.drawLine(QPointF(x, y - 6), QPointF(x, y + 6))
        if self._value is not None:
            painter.setPen(QPen(QColor(self._theme.accent) if moved else ink, 1.6))
            painter.setBrush(QColor(self._theme.ground))
            painter.drawEllipse(QPointF(self._at(self._value), y), _RING_PX, _RING_PX)
        if self.hasFocus():
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(QPen(QColor(self._theme.accent), 2))
            painter.drawRect(QRectF(self.rect()).adjusted(1, 1, -1, -1))

    def _ends(self) -> tuple[float, float]:
        metrics = self.fontMetrics()
        left = 3.0 + metrics.horizontalAdvance(self._name) + 12.0
        figure = max(metrics.horizontalAdvance(words) for words in (self._words, "000.0 N.m"))
        return left, max(self.width() - 16.0 - figure, left + 20.0)

    def _at(self, value: float) -> float:
        left, right = self._ends()
        return left + (right - left) * (value - self._low) / max(self._high - self._low, 1e-9)

    def _follow(self, x: float) -> None:
        if self._value is None:
            return
        left, right = self._ends()
        self.slide_to(self._low + (self._high - self._low) * (x - left) / (right - left))

    def _tell(self) -> None:
        self.setAccessibleName(f"{self._name}, {self._words}" if self._words else self._name)
        self.setToolTip(
            self.tr("{0}: tried at once; Home goes back to the drawing").replace("{0}", self._name)
        )
        self.update()
