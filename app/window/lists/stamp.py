"""The verdict as a framed stamp: word and shape say it, never colour alone.

pass            double frame
marginal        a frame, and a dashed one inside it
fail            a frame struck through, beside its word
no verdict      an empty frame
out of date     what was stamped, faint, crossed by the words `drawn since`
"""

from __future__ import annotations

from typing import Literal

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QWidget

from app.theme import Theme
from solver.results import Verdict

StampState = Literal["ink", "pencil", "out of date", "none"]
_WORD_SIZE = 1.9
_FADED = 0.45


class Stamp(QWidget):
    """Draws one verdict, or an empty frame."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._verdict: Verdict = "no verdict"
        self._state: StampState = "none"
        self.show_verdict("no verdict", "none")

    @property
    def told(self) -> str:
        """Return what the stamp says, as it is told to somebody who does not see it."""
        if self._state == "out of date":
            was = (
                "" if self._verdict == "no verdict" else self.tr("; it was {0}").replace("{0}", self._verdict)
            )
            return self.tr("No verdict now: drawn since") + was
        if self._state == "pencil":
            return self.tr("No verdict yet: the figures so far are pencil")
        if self._state == "none" or self._verdict == "no verdict":
            return self.tr("No verdict")
        return self.tr("Verdict: {0}").replace("{0}", self._verdict)

    def set_theme(self, theme: Theme) -> None:
        """Draw in another look."""
        self._theme = theme
        self.update()

    def show_verdict(self, verdict: Verdict, state: StampState) -> None:
        """Show a verdict; only in `ink` does its word stand there plainly."""
        self._verdict, self._state = verdict, state
        self.setAccessibleName(self.told)
        self.setToolTip(self.told)
        self.update()

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return room for the longest word in its frames."""
        metrics = QFontMetricsF(self._word_font())
        return QSize(int(metrics.horizontalAdvance("MARGINAL")) + 34, int(metrics.height()) + 16)

    def minimumSizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return the same room: a verdict is never cut."""
        return self.sizeHint()

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw the frame of the verdict, its word, and what takes it back."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        frame = QRectF(self.rect()).adjusted(6, 4, -6, -4)
        if self._state in ("pencil", "none"):
            self._draw_empty(painter, frame)
        elif self._state == "out of date":
            painter.setOpacity(_FADED)
            self._draw_verdict(painter, frame, QColor(self._theme.pencil))
            painter.setOpacity(1.0)
            self._draw_crossed(painter, frame)
        else:
            self._draw_verdict(painter, frame, QColor(self._theme.ink))

    def _word_font(self) -> QFont:
        font = QFont(self.font())
        font.setPointSizeF(font.pointSizeF() * _WORD_SIZE)
        font.setBold(True)
        font.setLetterSpacing(QFont.SpacingType.PercentageSpacing, 106)
        return font

    def _draw_verdict(self, painter: QPainter, frame: QRectF, ink: QColor) -> None:
        painter.setPen(QPen(ink, 2.2))
        painter.setFont(self._word_font())
        word = self._verdict.upper()
        match self._verdict:
            case "pass":
                painter.drawRect(frame)
                painter.setPen(QPen(ink, 1.0))
                painter.drawRect(frame.adjusted(4.5, 4.5, -4.5, -4.5))
            case "marginal":
                painter.drawRect(frame)
                dashed = QPen(ink, 1.3)
                dashed.setDashPattern([4.0, 3.0])
                painter.setPen(dashed)
                painter.drawRect(frame.adjusted(4.5, 4.5, -4.5, -4.5))
            case "fail":
                self._draw_struck(painter, frame, word)
            case _:
                painter.drawRect(frame)
                return
        painter.setPen(ink)
        painter.drawText(frame, int(Qt.AlignmentFlag.AlignCenter), word)

    def _draw_struck(self, painter: QPainter, frame: QRectF, word: str) -> None:
        """Draw the frame and the strokes through it, which spare the word."""
        half = QFontMetricsF(painter.font()).horizontalAdvance(word) / 2.0 + 7.0
        middle = frame.center()
        painter.drawRect(frame.adjusted(5, 0, -5, 0))
        for y in (middle.y() - 3.0, middle.y() + 3.0):
            painter.drawLine(QPointF(frame.left() - 5, y), QPointF(middle.x() - half, y))
            painter.drawLine(QPointF(middle.x() + half, y), QPointF(frame.right() + 5, y))

    def _draw_empty(self, painter: QPainter, frame: QRectF) -> None:
        pen = QPen(QColor(self._theme.pencil), 1.4)
        if self._state == "pencil":
            pen.setDashPattern([2.0, 2.5])
        painter.setPen(pen)
        painter.drawRect(frame)
        if self._state == "pencil":
            font = QFont(self.font())
            font.setItalic(True)
            painter.setFont(font)
            painter.setPen(QColor(self._theme.pencil))
            painter.drawText(frame, int(Qt.AlignmentFlag.AlignCenter), self.tr("so far"))

    def _draw_crossed(self, painter: QPainter, frame: QRectF) -> None:
        """Lay a band with words across the stamp, from corner to corner."""
        font = QFont(self.font())
        font.setItalic(True)
        font.setBold(True)
        words = self.tr("drawn since")
        metrics = QFontMetricsF(font)
        wide, high = metrics.horizontalAdvance(words) + 16.0, metrics.height() + 3.0
        ink = QPen(QColor(self._theme.ink), 1.6)
        painter.setPen(ink)
        painter.drawLine(frame.bottomLeft(), frame.topRight())
        painter.drawLine(frame.topLeft(), frame.bottomRight())
        band = QRectF(frame.center().x() - wide / 2.0, frame.center().y() - high / 2.0, wide, high)
        painter.fillRect(band, QColor(self._theme.ground))
        painter.setPen(QPen(QColor(self._theme.ink), 1.2))
        painter.drawRect(band)
        painter.setFont(font)
        painter.drawText(band, int(Qt.AlignmentFlag.AlignCenter), words)
