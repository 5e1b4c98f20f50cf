"""Painting over the plate: centre lines, guides, marks, handles and the sentence at the pointer."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPen, QTransform

from app.theme import Theme
from app.window.flat import line_kinds
from app.window.flat.dimension_layout import ToPx
from app.window.flat.fold_layout import FOLD_BEYOND_PX
from app.window.flat.handles import DRAWN_PX, Handle
from app.window.flat.mark_layout import Marks
from app.window.flat.on_sheet import OnSheet, fold_line
from app.window.flat.tool_in_hand import Guide
from geometry.flat_segments import Flat

_CENTRE_BEYOND_PX: Final = 7.0
_NO_CASING_PX: Final = 60.0
_SMALL_PX: Final = 60.0
"""Circles smaller than this have plain centre lines: dashes would not show that they cross."""
_SAID_OFF: Final = QPointF(16.0, 22.0)
_SAID_WIDTH_PX: Final = 340.0


@dataclass(frozen=True)
class Pens:
    """What a painter of the foreground needs."""

    painter: QPainter
    theme: Theme
    font: QFont
    to_px: ToPx
    px_per_mm: float
    size: QRectF


def paint_centres(pens: Pens, sheet: OnSheet, *, with_plate: bool) -> None:
    """Draw the centre lines of holes and of the shaft axis."""
    if with_plate:
        for opening in sheet.plate.openings:
            if opening.kind == "hole":
                _cross(
                    pens, opening.centre_mm, opening.diameter_mm / 2.0 * pens.px_per_mm + _CENTRE_BEYOND_PX
                )
            elif opening.kind == "slot":
                _cross(pens, opening.centre_mm, opening.width_mm / 2.0 * pens.px_per_mm + _CENTRE_BEYOND_PX)
    for boss in sheet.bosses:
        if not boss.bolted:
            _cross(pens, boss.at_mm, boss.face_diameter_mm / 2.0 * pens.px_per_mm + _CENTRE_BEYOND_PX)
    _shaft(pens, sheet)


def paint_fold_ends(pens: Pens, sheet: OnSheet) -> None:
    """Carry fold lines a little beyond the plate, where their words stand."""
    pens.painter.setPen(line_kinds.thin(pens.theme))
    for fold in sheet.plate.folds:
        line = QLineF(*(pens.to_px(at) for at in fold_line(sheet, fold)))
        if line.length() > 1.0:
            way = (line.p2() - line.p1()) / line.length() * FOLD_BEYOND_PX
            pens.painter.drawLine(QLineF(line.p1(), line.p1() - way))
            pens.painter.drawLine(QLineF(line.p2(), line.p2() + way))


def paint_marks(pens: Pens, marks: Marks, lit: str, picked_bolt: str) -> None:
    """Draw everything that is written; `lit` is the name of what can be typed over under the pointer."""
    for mark in marks.dimensions:
        mark.paint(pens.painter, pens.theme, pens.font, lit=bool(mark.name) and mark.name == lit)
    for words in marks.words:
        words.paint(pens.painter, pens.theme, pens.font, lit=bool(words.name) and words.name == lit)
    for balloon in marks.balloons:
        balloon.paint(pens.painter, pens.theme, pens.font, lit=balloon.bolt == picked_bolt)
    for flag in marks.flags:
        flag.paint(pens.painter, pens.theme, pens.font, lit=lit == f"flag {flag.number}")


def paint_guides(pens: Pens, guides: Sequence[Guide], transform: QTransform) -> None:
    """Draw the lines of the gesture in progress."""
    for guide in guides:
        pen = line_kinds.drawn_now(pens.theme) if guide.kind == "drawn" else line_kinds.guide(pens.theme)
        pens.painter.setPen(pen)
        pens.painter.setBrush(Qt.BrushStyle.NoBrush)
        if not guide.path.isEmpty():
            pens.painter.drawPath(transform.map(guide.path))
        _rings(pens, guide.places)


def paint_handles(pens: Pens, handles: Iterable[Handle]) -> None:
    """Draw the handles of what is selected."""
    _rings(pens, [handle.at_mm for handle in handles])


def paint_said(pens: Pens, pointer: QPointF, said: str, refused: str) -> None:
    """Write what is said at the pointer; a refusal instead of what catches."""
    text, ink = (refused, pens.theme.bad) if refused else (said, pens.theme.remark)
    if not text:
        return
    font = QFont(pens.font)
    font.setItalic(True)
    metrics = QFontMetricsF(font)
    at = pointer + _SAID_OFF
    room = metrics.boundingRect(
        QRectF(0.0, 0.0, _SAID_WIDTH_PX, 400.0), int(Qt.TextFlag.TextWordWrap), text
    ).adjusted(0.0, 0.0, 10.0, 6.0)
    x = min(max(at.x(), 4.0), max(4.0, pens.size.right() - room.width() - 4.0))
    y = at.y()
    if y + room.height() > pens.size.bottom() - 4.0:
        y = pointer.y() - room.height() - 12.0
    box = QRectF(x, y, room.width(), room.height())
    ground = QColor(pens.theme.ground)
    ground.setAlpha(225)
    pens.painter.fillRect(box, ground)
    pens.painter.setPen(QColor(ink))
    pens.painter.setFont(font)
    pens.painter.drawText(box, int(Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap), text)


def paint_how(pens: Pens, how: str) -> None:
    """Write how the tool in hand is used, under the drawing."""
    metrics = QFontMetricsF(pens.font)
    room = QRectF(0.0, 0.0, max(pens.size.width() - 36.0, 80.0), 400.0)
    needed = metrics.boundingRect(room, int(Qt.TextFlag.TextWordWrap), how)
    box = QRectF(
        14.0, pens.size.bottom() - needed.height() - 8.0, needed.width() + 8.0, needed.height() + 2.0
    )
    ground = QColor(pens.theme.ground)
    ground.setAlpha(225)
    pens.painter.fillRect(box, ground)
    pens.painter.setPen(QColor(pens.theme.remark))
    pens.painter.setFont(pens.font)
    pens.painter.drawText(box, int(Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap), how)


def paint_focus(pens: Pens) -> None:
    """Show that the sheet has the keyboard."""
    pen = QPen(QColor(pens.theme.accent), 1.0)
    pens.painter.setPen(pen)
    pens.painter.setBrush(Qt.BrushStyle.NoBrush)
    pens.painter.drawRect(pens.size.adjusted(0.5, 0.5, -0.5, -0.5))


def _cross(pens: Pens, at: Flat, reach_px: float) -> None:
    px = pens.to_px(at)
    pen = line_kinds.centre_line(pens.theme)
    if reach_px * 2.0 < _SMALL_PX:
        pen = line_kinds.ring(pens.theme)
    pens.painter.setPen(pen)
    for dx, dy in ((1.0, 0.0), (0.0, 1.0)):
        for sign in (-1.0, 1.0):
            # Drawn outward from the middle, so that the dashes cross there.
            pens.painter.drawLine(px, QPointF(px.x() + sign * dx * reach_px, px.y() + sign * dy * reach_px))


def _shaft(pens: Pens, sheet: OnSheet) -> None:
    """Draw the shaft axis as far as casing and plate reach, and a little beyond."""
    seen = _reach_of(pens, sheet)
    pens.painter.setPen(line_kinds.centre_line(pens.theme))
    if sheet.shaft_line is not None:
        pens.painter.save()
        pens.painter.setClipRect(seen)
        pens.painter.drawLine(*(pens.to_px(at) for at in sheet.shaft_line))
        pens.painter.restore()
    if sheet.shaft_at is not None:
        px = pens.to_px(sheet.shaft_at)
        for end in (
            QPointF(seen.left(), px.y()),
            QPointF(seen.right(), px.y()),
            QPointF(px.x(), seen.top()),
            QPointF(px.x(), seen.bottom()),
        ):
            # Drawn outward from the middle, so that the dashes cross there.
            pens.painter.drawLine(px, end)


def _reach_of(pens: Pens, sheet: OnSheet) -> QRectF:
    places = [pens.to_px(at) for at in sheet.casing]
    if not places and sheet.shaft_at is not None:
        px = pens.to_px(sheet.shaft_at)
        places = [px - QPointF(_NO_CASING_PX, _NO_CASING_PX), px + QPointF(_NO_CASING_PX, _NO_CASING_PX)]
    xs, ys = [px.x() for px in places], [px.y() for px in places]
    if not xs:
        return QRectF()
    box = QRectF(QPointF(min(xs), min(ys)), QPointF(max(xs), max(ys)))
    off = _CENTRE_BEYOND_PX
    return box.adjusted(-off, -off, off, off)


def _rings(pens: Pens, places: Iterable[Flat]) -> None:
    pens.painter.setPen(QPen(QColor(pens.theme.accent), 1.6))
    pens.painter.setBrush(QColor(pens.theme.ground))
    for at in places:
        pens.painter.drawEllipse(pens.to_px(at), DRAWN_PX, DRAWN_PX)
    pens.painter.setBrush(Qt.BrushStyle.NoBrush)
