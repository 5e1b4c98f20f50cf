"""How a field is drawn at rest: a number over a thin rule, a blank as an open box, marks of the unusual."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from PySide6.QtCore import QPointF, QRect, QRectF, Qt
from PySide6.QtGui import QColor, QFontMetrics, QPainter, QPen, QPolygonF

from app.theme import Theme
from app.window.lists.field import OPEN_BOX

EDGE_PX: Final = 1


@dataclass(frozen=True)
class FieldLook:
    """What is to be drawn."""

    text: str
    theme: Theme
    metrics: QFontMetrics
    wrong: bool
    """Whether the text was refused."""
    nothing: bool
    """Whether the text stands for no value, or for several."""
    mark_px: int
    """Width of the diamond before a value off its default; 0 for none."""
    after: str
    """Word behind the value."""
    after_px: int


def draw_at_rest(painter: QPainter, rect: QRect, look: FieldLook) -> None:
    """Draw a field that has not the focus."""
    theme, metrics = look.theme, look.metrics
    box = QRectF(rect).adjusted(0.5, 0.5, -0.5, -0.5)
    if look.text == OPEN_BOX:
        painter.setPen(QPen(QColor(theme.accent), 1.4))
        painter.setBrush(QColor(theme.entry))
        painter.drawRect(box.adjusted(1, 2, -1, -2))
        return
    if look.wrong:
        painter.fillRect(box, QColor(theme.entry))
    if look.mark_px:
        _draw_diamond(painter, box, look)
    left = EDGE_PX + look.mark_px
    room = rect.width() - left - EDGE_PX - look.after_px
    text = metrics.elidedText(look.text, Qt.TextElideMode.ElideRight, max(room, 8) + 1)
    base = (rect.height() + metrics.ascent() - metrics.descent()) / 2.0
    painter.setPen(QColor(theme.bad if look.wrong else theme.pencil if look.nothing else theme.ink))
    painter.drawText(QPointF(left, base), text)
    if look.after:
        painter.setPen(QColor(theme.accent))
        painter.drawText(QPointF(rect.width() - look.after_px + 3, base), look.after)
    rule = QPen(QColor(theme.bad if look.wrong else theme.pencil), 1.6 if look.wrong else 0.8)
    if not look.wrong:
        rule.setDashPattern([1.5, 2.5])
    painter.setPen(rule)
    across = min(room, metrics.horizontalAdvance(text))
    painter.drawLine(QPointF(left, base + 3), QPointF(left + across, base + 3))


def _draw_diamond(painter: QPainter, box: QRectF, look: FieldLook) -> None:
    half, x, y = look.mark_px * 0.38, EDGE_PX + look.mark_px * 0.4, box.center().y()
    corners = [QPointF(x - half, y), QPointF(x, y - half), QPointF(x + half, y), QPointF(x, y + half)]
    painter.save()
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QColor(look.theme.accent))
    painter.drawPolygon(QPolygonF(corners))
    painter.restore()
