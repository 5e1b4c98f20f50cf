"""Paint what goes over a picture of the mounted bracket with Qt, sharp at any scale."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPen, QPolygonF

from app.mounted.overlay import Disc, Item, Path, Words

PAD_PX: Final = 1.5


def paint_items(painter: QPainter, items: Sequence[Item], font: QFont) -> None:
    """Paint the items in their order; the painter's unit is the items' pixel, the font gives the family."""
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setRenderHint(QPainter.RenderHint.TextAntialiasing)
    for item in items:
        if isinstance(item, Path):
            _path(painter, item)
        elif isinstance(item, Disc):
            _disc(painter, item)
        else:
            _words(painter, item, font)


def _path(painter: QPainter, path: Path) -> None:
    shape = QPolygonF([QPointF(float(x), float(y)) for x, y in path.places_px])
    painter.setPen(_pen(path.colour, path.width_px))
    if path.fill:
        painter.setBrush(QColor(path.fill))
        painter.drawPolygon(shape)
    else:
        painter.drawPolyline(shape)


def _disc(painter: QPainter, disc: Disc) -> None:
    painter.setPen(_pen(disc.colour, disc.width_px))
    painter.setBrush(QColor(disc.fill))
    box = QRectF(
        disc.x_px - disc.half_width_px,
        disc.y_px - disc.half_height_px,
        2.0 * disc.half_width_px,
        2.0 * disc.half_height_px,
    )
    painter.drawRoundedRect(box, disc.half_height_px, disc.half_height_px)


def _words(painter: QPainter, words: Words, family: QFont) -> None:
    font = QFont(family)
    font.setPixelSize(max(1, round(words.size_px)))
    font.setItalic(words.italic)
    sizes = QFontMetricsF(font)
    width, height = sizes.horizontalAdvance(words.words), sizes.height()
    start = {"left": 0.0, "middle": -width / 2.0, "right": -width}[words.across]
    painter.save()
    painter.translate(words.x_px, words.y_px)
    painter.rotate(-words.slant_deg)
    box = QRectF(start, -height / 2.0, width, height)
    if words.ground:
        painter.fillRect(box.adjusted(-PAD_PX, 0.0, PAD_PX, 0.0), QColor(words.ground))
    painter.setFont(font)
    painter.setPen(QColor(words.colour))
    painter.drawText(QPointF(start, box.top() + sizes.ascent()), words.words)
    painter.restore()


def _pen(colour: str, width_px: float) -> QPen:
    pen = QPen(QColor(colour), width_px)
    pen.setCapStyle(Qt.PenCapStyle.RoundCap)
    pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    return pen
