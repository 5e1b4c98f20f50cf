"""One check as a bar of its allowable, with its marginal mark and the band it may be wrong by."""

from __future__ import annotations

import math

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QWidget

from app.theme import Theme
from app.window.lists.caption import plain_tip, small
from app.wording.check_words import check_mark
from app.wording.figures import percent, percent_marked
from solver.results import Check

FULL = 1.2
"""Share of the allowable at the bar's right end: what is over is seen to be over."""
_BAR_PX = 5.0


class CheckBar(QAbstractButton):
    """Draws a check; pressing it shows where it governs."""

    def __init__(
        self, check: Check, marginal_used: float, theme: Theme, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._check, self._marginal, self._theme = check, marginal_used, theme
        self._pencil = self._faded = False
        self.setFont(small(self.font(), 0.94))
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.show_check(check, marginal_used)

    @property
    def check(self) -> Check:
        """Return the check that is drawn."""
        return self._check

    @property
    def figure_words(self) -> str:
        """Return what stands at the right of the bar."""
        mark = check_mark(self._check, self._marginal)
        if self._check.kind == "rule":
            return mark
        return percent_marked(self._check.used_upper, mark)

    def set_theme(self, theme: Theme) -> None:
        """Draw in another look."""
        self._theme = theme
        self.update()

    def set_look(self, *, pencil: bool, faded: bool) -> None:
        """Draw in pencil, and fainter where it is out of date."""
        self._pencil, self._faded = pencil, faded
        self._name()
        self.update()

    def show_check(self, check: Check, marginal_used: float) -> None:
        """Show another check."""
        self._check, self._marginal = check, marginal_used
        self._name()
        self.update()

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return room for a name and a figure over the bar."""
        metrics = self.fontMetrics()
        return QSize(metrics.averageCharWidth() * 24, metrics.height() + int(_BAR_PX) + 9)

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw name, figure and bar."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if self._faded:
            painter.setOpacity(0.6)
        font = QFont(self.font())
        font.setItalic(self._pencil)
        painter.setFont(font)
        ink = QColor(self._theme.pencil if self._pencil else self._theme.ink)
        self._draw_words(painter, QFontMetricsF(font), ink)
        if self._check.kind != "rule":
            self._draw_bar(painter, ink)
        if self.hasFocus() or self.underMouse():
            painter.setOpacity(1.0)
            painter.setPen(QPen(QColor(self._theme.accent), 2 if self.hasFocus() else 1))
            painter.drawRect(QRectF(self.rect()).adjusted(1, 1, -1, -1))

    def _draw_words(self, painter: QPainter, metrics: QFontMetricsF, ink: QColor) -> None:
        mark, figures = check_mark(self._check, self._marginal), self.figure_words
        bold = QFont(painter.font())
        bold.setBold(mark in ("over", "BROKEN"))
        wide = QFontMetricsF(bold).horizontalAdvance(figures)
        base = 3.0 + metrics.ascent()
        name = metrics.elidedText(self._check.name, Qt.TextElideMode.ElideMiddle, self.width() - wide - 14.0)
        painter.setPen(ink)
        painter.drawText(QPointF(4.0, base), name)
        painter.setFont(bold)
        painter.drawText(QPointF(self.width() - wide - 4.0, base), figures)

    def _draw_bar(self, painter: QPainter, ink: QColor) -> None:
        left, right = 4.0, self.width() - 4.0
        y = self.height() - _BAR_PX - 4.0
        scale = (right - left) / FULL

        def at(used: float) -> float:
            return left + min(used if math.isfinite(used) else FULL, FULL) * scale

        used, upper = self._check.used, self._check.used_upper
        painter.setPen(QPen(QColor(self._theme.pencil), 1))
        painter.drawLine(QPointF(left, y + _BAR_PX / 2.0), QPointF(right, y + _BAR_PX / 2.0))
        done = QRectF(left, y, max(at(used) - left, 1.0), _BAR_PX)
        if self._pencil:
            painter.setPen(QPen(ink, 1))
            painter.setBrush(QColor(self._theme.ground))
            painter.drawRect(done)
        else:
            painter.fillRect(done, ink)
        if at(upper) - at(used) >= 1.0:
            painter.setPen(QPen(ink, 1))
            painter.setBrush(QColor(self._theme.ground))
            painter.drawRect(QRectF(at(used), y + 0.5, at(upper) - at(used), _BAR_PX - 1.0))
        if not upper <= 1.0:
            over = QRectF(at(1.0), y - 1.0, max(at(upper) - at(1.0), 3.0), _BAR_PX + 2.0)
            painter.fillRect(over, QColor(self._theme.map_over))
            painter.fillRect(over, Qt.BrushStyle.BDiagPattern)
        if self._check.kind != "share":
            painter.setPen(QPen(QColor(self._theme.accent), 1.4))
            painter.drawLine(
                QPointF(at(self._marginal), y - 3.0), QPointF(at(self._marginal), y + _BAR_PX + 3.0)
            )
        painter.setPen(QPen(ink, 1.4))
        painter.drawLine(QPointF(at(1.0), y - 3.0), QPointF(at(1.0), y + _BAR_PX + 3.0))

    def _name(self) -> None:
        check = self._check
        told = check_mark(check, self._marginal) if check.kind == "rule" else percent(check.used_upper)
        words = [check.name, self.tr("{0} of allowable").replace("{0}", told), check.where, check.case]
        if self._faded:
            words.append(self.tr("out of date"))
        elif self._pencil:
            words.append(self.tr("so far"))
        self.setAccessibleName(", ".join(word for word in words if word))
        self.setToolTip(plain_tip("\n".join(word for word in (*words, check.note) if word)))
