"""Dimensions laid out in pixels after ISO 129: set off from the plate and stacked."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Final

from PySide6.QtCore import QLineF, QPointF, QRectF
from PySide6.QtGui import QFont

from app.window.flat.marks import DimensionMark, text_size, words_at
from geometry.flat_segments import Flat

FIRST_LEVEL_PX: Final = 28.0
LEVEL_PX: Final = 22.0
_BESIDE_PX: Final = 20.0
"""How far a dimension along a slanting edge is set off."""
_GAP_PX: Final = 3.0
_BEYOND_PX: Final = 5.0
_OUTSIDE_PX: Final = 16.0
_ON_PLATE_ROOM_PX: Final = 40.0
_SQUARE: Final = 1e-6

ToPx = Callable[[Flat], QPointF]


@dataclass(frozen=True)
class Measure:
    """One dimension to lay out."""

    name: str
    words: str
    from_mm: Flat
    to_mm: Flat
    kind: str = "along"
    """`across` is set off below or above the plate, `up` to its side, `along` beside its own two places,
    `on` drawn right between them, `size` the width of a circle and `radius` from its centre."""
    side: int = 1
    of_selection: bool = True


def lay_out(
    measures: Iterable[Measure], plate_box: QRectF, to_px: ToPx, font: QFont
) -> tuple[DimensionMark, ...]:
    """Return the marks of dimensions; `plate_box` is the plate's box in the viewport."""
    stacks: dict[str, list[list[tuple[float, float]]]] = {}
    marks = []
    measures = list(measures)
    for measure in measures:
        if measure.kind == "along":
            plate_box = plate_box.united(
                _beside_box(to_px(measure.from_mm), to_px(measure.to_mm), measure.side)
            )
    # Those of what is selected come first and so lie nearest; the overall ones go outside.
    for measure in sorted(measures, key=lambda m: (not m.of_selection, math.dist(m.from_mm, m.to_mm))):
        start, end = to_px(measure.from_mm), to_px(measure.to_mm)
        if measure.kind in ("size", "radius"):
            marks.append(_round(measure, start, end, font))
        elif QLineF(start, end).length() > 2.0:
            if measure.kind == "on":
                marks.append(_dimension(measure, start, end, start, end, font))
            elif measure.kind == "along":
                marks.append(_beside(measure, start, end, font))
            else:
                marks.append(_stacked(measure, start, end, plate_box, stacks, font))
    return tuple(marks)


def _stacked(
    measure: Measure,
    start: QPointF,
    end: QPointF,
    box: QRectF,
    stacks: dict[str, list[list[tuple[float, float]]]],
    font: QFont,
) -> DimensionMark:
    across = measure.kind == "across"
    middle = (start + end) / 2.0
    if across:
        low, high = sorted((start.x(), end.x()))
        side = (
            "below"
            if measure.side < 0 or (measure.of_selection and middle.y() >= box.center().y())
            else "above"
        )
    else:
        low, high = sorted((start.y(), end.y()))
        side = (
            "left"
            if measure.side > 0 or (measure.of_selection and middle.x() <= box.center().x())
            else "right"
        )
    room = text_size(measure.words, font).width()
    if high - low < room + 8.0:
        low, high = low - room, high + room
    level = _level(stacks.setdefault(side, []), low, high)
    off = FIRST_LEVEL_PX + LEVEL_PX * level
    match side:
        case "below":
            a, b = (QPointF(p.x(), box.bottom() + off) for p in (start, end))
        case "above":
            a, b = (QPointF(p.x(), box.top() - off) for p in (start, end))
        case "left":
            a, b = (QPointF(box.left() - off, p.y()) for p in (start, end))
        case _:
            a, b = (QPointF(box.right() + off, p.y()) for p in (start, end))
    return _dimension(measure, start, end, a, b, font)


def _level(levels: list[list[tuple[float, float]]], low: float, high: float) -> int:
    """Return the nearest level with room from low to high, and take the room."""
    for number, taken in enumerate(levels):
        if all(high + 4.0 < a or low - 4.0 > b for a, b in taken):
            taken.append((low, high))
            return number
    levels.append([(low, high)])
    return len(levels) - 1


def _beside(measure: Measure, start: QPointF, end: QPointF, font: QFont) -> DimensionMark:
    out = _aside(start, end, measure.side) * _BESIDE_PX
    return _dimension(measure, start, end, start + out, end + out, font)


def _aside(start: QPointF, end: QPointF, side: int) -> QPointF:
    """Return the unit vector to the left (1) or right (-1) of a way on the screen, whose y runs down."""
    length = max(QLineF(start, end).length(), 1e-9)
    return QPointF((end.y() - start.y()) / length, -(end.x() - start.x()) / length) * side


def _beside_box(start: QPointF, end: QPointF, side: int) -> QRectF:
    out = _aside(start, end, side) * _BESIDE_PX
    return QRectF(start + out, end + out).normalized()


def _dimension(
    measure: Measure, start: QPointF, end: QPointF, a: QPointF, b: QPointF, font: QFont
) -> DimensionMark:
    line = QLineF(a, b)
    length = line.length()
    unit = QPointF((b.x() - a.x()) / length, (b.y() - a.y()) / length)
    angle = math.degrees(math.atan2(-(b.y() - a.y()), b.x() - a.x()))
    lines = [_extension(start, a), _extension(end, b)]
    room = text_size(measure.words, font)
    on_plate = measure.kind == "on"
    inside = length > room.width() + (_ON_PLATE_ROOM_PX if on_plate else 4.0)
    if length > 26.0:
        lines.append(line)
        arrows = ((a, angle + 180.0), (b, angle))
    else:
        lines.append(QLineF(a - unit * _OUTSIDE_PX, b + unit * _OUTSIDE_PX))
        arrows = ((a, angle), (b, angle + 180.0))
    readable = _readable(angle)
    up = QPointF(-math.sin(math.radians(readable)), -math.cos(math.radians(readable)))
    middle = (a + b) / 2.0 + up * (room.height() / 2.0 + 1.0)
    if not inside:
        beyond = _OUTSIDE_PX + room.width() / 2.0 + 2.0
        # One drawn on the plate begins at an edge: there is room beyond that, and a hole at the other end.
        middle = a - unit * beyond if on_plate else b + unit * beyond
    words = words_at(
        measure.words,
        middle,
        font,
        anchor=(0.5, 0.5),
        ink="ink" if measure.of_selection else "pencil",
        name=measure.name,
        angle_deg=readable,
    )
    return DimensionMark(
        measure.name, tuple(one for one in lines if one.length() > 0.5), arrows, words, measure.of_selection
    )


def _extension(feature: QPointF, on_line: QPointF) -> QLineF:
    line = QLineF(feature, on_line)
    length = line.length()
    if length < _GAP_PX:
        return QLineF(feature, feature)
    unit = (on_line - feature) / length
    return QLineF(feature + unit * _GAP_PX, on_line + unit * _BEYOND_PX)


def _round(measure: Measure, start: QPointF, end: QPointF, font: QFont) -> DimensionMark:
    """Lay out a diameter or radius: a line out from the rim, with the figure at its end."""
    if measure.kind == "size":
        centre, radius = (start + end) / 2.0, QLineF(start, end).length() / 2.0
        way = QPointF(math.cos(math.radians(-35.0)), -math.sin(math.radians(-35.0)))
    else:
        radius = QLineF(start, end).length()
        # Drawn from inside the arc, toward the plate's middle where there is room.
        centre, way = start, (start - end) / max(radius, 1e-9)
        radius = -radius
    rim = centre + way * radius
    room = text_size(measure.words, font)
    elbow = rim + way * max(24.0, 16.0 - radius)
    sign = 1.0 if way.x() >= 0.0 else -1.0
    landing = QPointF(elbow.x() + sign * (room.width() + 4.0), elbow.y())
    words = words_at(
        measure.words,
        QPointF((elbow.x() + landing.x()) / 2.0, elbow.y() - 1.0),
        font,
        anchor=(0.5, 1.0),
        ink="ink",
        name=measure.name,
    )
    toward = math.degrees(math.atan2(way.y(), -way.x()))
    lines = (QLineF(rim, elbow), QLineF(elbow, landing))
    return DimensionMark(measure.name, lines, ((rim, toward),), words)


def _readable(angle_deg: float) -> float:
    """Return the angle along the same line from which words read from below or from the right."""
    angle = angle_deg % 180.0
    return angle - 180.0 if angle > 90.0 + _SQUARE * 1e3 else angle
