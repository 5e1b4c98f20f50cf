"""Marks beside the plate, laid out in pixels of the viewport: how each is painted and where it is hit."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from typing import Final, Literal

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPolygonF

from app.theme import Theme
from app.window.flat import line_kinds
from geometry.finding import Finding

Ink = Literal["ink", "pencil", "remark", "bad", "accent"]
ARROW_PX: Final = (9.0, 2.6)
"""Length and half the width of an arrow head."""
BALLOON_PX: Final = 10.0
FLAG_PX: Final = (25.0, 16.0)


@dataclass(frozen=True)
class Words:
    """A line of words; what it stands for can be typed over if it has a name."""

    text: str
    box: QRectF
    ink: Ink = "pencil"
    name: str = ""
    """What a click on it does, as the view knows it."""
    angle_deg: float = 0.0
    """Anticlockwise, about the middle of the box."""
    is_big: bool = False

    def hit(self, px: QPointF) -> bool:
        """Return whether a place is on the words."""
        return _turned(self.box, self.angle_deg).containsPoint(px, Qt.FillRule.OddEvenFill)

    def paint(self, painter: QPainter, theme: Theme, font: QFont, *, lit: bool = False) -> None:
        """Write the words, on a ground of their own so that no line runs through them."""
        painter.save()
        painter.translate(self.box.center())
        painter.rotate(-self.angle_deg)
        box = self.box.translated(-self.box.center())
        _ground(painter, box, theme.entry if lit else theme.ground)
        painter.setPen(QColor(getattr(theme, self.ink)))
        painter.setFont(bigger(font) if self.is_big else font)
        painter.drawText(box, Qt.AlignmentFlag.AlignCenter, self.text)
        painter.restore()


@dataclass(frozen=True)
class DimensionMark:
    """A dimension: its lines, its arrow heads and its figure."""

    name: str
    """The dimension's name, empty if it cannot be typed over."""
    lines: tuple[QLineF, ...]
    arrows: tuple[tuple[QPointF, float], ...]
    """Tips, and the directions they point in, degrees as seen on the screen anticlockwise."""
    words: Words
    of_selection: bool = True

    def paint(self, painter: QPainter, theme: Theme, font: QFont, *, lit: bool = False) -> None:
        """Draw the dimension."""
        colour = QColor(theme.accent if lit else theme.ink if self.of_selection else theme.pencil)
        pen = line_kinds.dimension_line(theme)
        pen.setColor(colour)
        painter.setPen(pen)
        painter.drawLines(list(self.lines))
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(colour)
        for tip, angle in self.arrows:
            painter.drawPolygon(_arrow(tip, angle))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        self.words.paint(painter, theme, font, lit=lit)


@dataclass(frozen=True)
class Balloon:
    """The number of a bolt, with a line to its hole."""

    bolt: str
    box: QRectF
    tip: QPointF
    off: QPointF
    """From the middle of the hole to that of the balloon."""

    def hit(self, px: QPointF) -> bool:
        """Return whether a place is on the balloon."""
        return self.box.contains(px)

    def paint(self, painter: QPainter, theme: Theme, font: QFont, *, lit: bool = False) -> None:
        """Draw the balloon over its line."""
        pen = line_kinds.selected_edge(theme) if lit else line_kinds.thin(theme)
        painter.setPen(pen)
        painter.drawLine(self.tip, self.box.center())
        painter.setBrush(QColor(theme.entry if lit else theme.ground))
        painter.drawRoundedRect(self.box, BALLOON_PX, BALLOON_PX)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QColor(theme.accent if lit else theme.ink))
        painter.setFont(font)
        painter.drawText(self.box, Qt.AlignmentFlag.AlignCenter, self.bolt)


@dataclass(frozen=True)
class Flag:
    """The number of a finding, in a flag on a pole that stands where it was found."""

    number: int
    finding: Finding
    tip: QPointF
    box: QRectF = field(default_factory=QRectF)

    def hit(self, px: QPointF) -> bool:
        """Return whether a place is on the flag."""
        return self.box.adjusted(-3.0, -3.0, 3.0, 3.0).contains(px)

    def paint(self, painter: QPainter, theme: Theme, font: QFont, *, lit: bool = False) -> None:
        """Draw the flag: a double edge if it keeps the bracket from a verdict, a single one if not."""
        ink = QColor(theme.bad if self.finding.bars_verdict else theme.remark)
        painter.setPen(line_kinds.thin(theme))
        painter.setPen(ink)
        painter.drawLine(self.tip, self.box.bottomLeft())
        painter.drawLine(self.box.bottomLeft(), self.box.topLeft())
        painter.setBrush(QColor(theme.entry if lit else theme.ground))
        painter.drawPolygon(_pennant(self.box))
        if self.finding.bars_verdict:
            painter.drawPolygon(_pennant(self.box.adjusted(2.0, 2.0, -2.5, -2.0)))
        painter.setBrush(ink)
        painter.drawEllipse(self.tip, 2.0, 2.0)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setFont(smaller(font))
        painter.drawText(
            self.box.adjusted(0.0, 0.0, -4.0, 0.0), Qt.AlignmentFlag.AlignCenter, str(self.number)
        )


def words_at(
    text: str,
    at: QPointF,
    font: QFont,
    *,
    anchor: tuple[float, float] = (0.0, 0.5),
    ink: Ink = "pencil",
    name: str = "",
    angle_deg: float = 0.0,
    is_big: bool = False,
) -> Words:
    """Return words whose box has its (share across, share down) `anchor` at a place."""
    size = text_size(text, bigger(font) if is_big else font)
    corner = QPointF(at.x() - anchor[0] * size.width(), at.y() - anchor[1] * size.height())
    return Words(text, QRectF(corner, size.size()), ink, name, angle_deg, is_big)


def text_size(text: str, font: QFont) -> QRectF:
    """Return the box words need, a little room included."""
    metrics = QFontMetricsF(font)
    return QRectF(0.0, 0.0, metrics.horizontalAdvance(text) + 6.0, metrics.height())


def smaller(font: QFont) -> QFont:
    """Return the font of numbers in flags."""
    small = QFont(font)
    small.setPointSizeF(font.pointSizeF() * 0.85)
    return small


def bigger(font: QFont) -> QFont:
    """Return the font of the plate's name."""
    big = QFont(font)
    big.setPointSizeF(font.pointSizeF() * 1.25)
    return big


def box_on_screen(words: Words) -> QRectF:
    """Return the upright box round words that may be turned."""
    return _turned(words.box, words.angle_deg).boundingRect()


def line_box(line: QLineF) -> QRectF:
    """Return the box of a line, never without width or height."""
    return QRectF(line.p1(), line.p2()).normalized().adjusted(-0.5, -0.5, 0.5, 0.5)


def _ground(painter: QPainter, box: QRectF, colour: str) -> None:
    ground = QColor(colour)
    ground.setAlpha(215)
    painter.fillRect(box.adjusted(1.0, 1.0, -1.0, -1.0), ground)


def _turned(box: QRectF, angle_deg: float) -> QPolygonF:
    if not angle_deg:
        return QPolygonF(box)
    middle, cos, sin = box.center(), math.cos(math.radians(angle_deg)), math.sin(math.radians(angle_deg))
    return QPolygonF(
        [
            QPointF(
                middle.x() + (p.x() - middle.x()) * cos + (p.y() - middle.y()) * sin,
                middle.y() - (p.x() - middle.x()) * sin + (p.y() - middle.y()) * cos,
            )
            for p in (box.topLeft(), box.topRight(), box.bottomRight(), box.bottomLeft())
        ]
    )


def _arrow(tip: QPointF, angle_deg: float) -> QPolygonF:
    length, half = ARROW_PX
    ux, uy = math.cos(math.radians(angle_deg)), -math.sin(math.radians(angle_deg))
    back = QPointF(tip.x() - length * ux, tip.y() - length * uy)
    return QPolygonF(
        [
            tip,
            QPointF(back.x() - half * uy, back.y() + half * ux),
            QPointF(back.x() + half * uy, back.y() - half * ux),
        ]
    )


def _pennant(box: QRectF) -> QPolygonF:
    middle = box.center().y()
    return QPolygonF(
        [
            box.topLeft(),
            QPointF(box.right() - 5.0, box.top()),
            QPointF(box.right(), middle),
            QPointF(box.right() - 5.0, box.bottom()),
            box.bottomLeft(),
        ]
    )
