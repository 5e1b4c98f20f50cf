"""Small plain things of the sheet: captions of frames, and words that can be pressed."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QLabel, QWidget

from app.theme import Theme

SMALL = 0.86
"""Size of captions beside the words they stand over."""


def small(font: QFont) -> QFont:
    """Return a font of the size of captions."""
    made = QFont(font)
    made.setPointSizeF(max(6.0, font.pointSizeF() * SMALL))
    return made


class Caption(QLabel):
    """The small grey words over a frame."""

    def __init__(self, text: str, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(text, parent)
        self.set_theme(theme)
        self.setTextFormat(Qt.TextFormat.PlainText)

    def set_theme(self, theme: Theme) -> None:
        """Draw in another look."""
        self.setFont(small(self.font()))
        self.setStyleSheet(f"color: {theme.pencil}; background: transparent;")


class Link(QAbstractButton):
    """Words that can be pressed, underlined; with the keyboard too."""

    def __init__(self, text: str, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self.setText(text)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.clicked.connect(self.update)

    def set_theme(self, theme: Theme) -> None:
        """Draw in another look."""
        self._theme = theme
        self.update()

    def say(self, text: str, told: str = "") -> None:
        """Show other words, told as `told` to somebody who does not see them."""
        self.setText(text)
        self.setAccessibleName(told or text)
        self.updateGeometry()

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return room for the words."""
        metrics = self.fontMetrics()
        return QSize(metrics.horizontalAdvance(self.text()) + 6, metrics.height() + 3)

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw the words over their rule, in a frame while they have the focus."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        metrics = self.fontMetrics()
        text = metrics.elidedText(self.text(), Qt.TextElideMode.ElideRight, self.width() - 4)
        base = (self.height() + metrics.ascent() - metrics.descent()) / 2.0
        painter.setPen(QColor(self._theme.ink if self.isEnabled() else self._theme.pencil))
        painter.drawText(QPointF(3, base), text)
        rule = QPen(QColor(self._theme.accent), 1.0)
        painter.setPen(rule)
        painter.drawLine(QPointF(3, base + 2.5), QPointF(3 + metrics.horizontalAdvance(text), base + 2.5))
        if self.hasFocus():
            painter.setPen(QPen(QColor(self._theme.accent), 2))
            painter.drawRect(QRectF(self.rect()).adjusted(1, 1, -1, -1))
