"""Painter paths of a plate's edges, exact arcs and all, and the box they fill."""

from __future__ import annotations

import math
from collections.abc import Iterable

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QPainterPath

from geometry.flat_segments import Arc, Edge, Flat, Line, Loop


def point(at: Flat) -> QPointF:
    """Return a flat place as the drawing library takes it."""
    return QPointF(at[0], at[1])


def loop_path(loop: Loop) -> QPainterPath:
    """Return the closed path of a loop."""
    path = QPainterPath()
    if len(loop) == 1 and isinstance(loop[0], Arc) and loop[0].is_circle:
        path.addEllipse(point(loop[0].centre), loop[0].radius_mm, loop[0].radius_mm)
        return path
    path.moveTo(point(loop[0].start))
    for edge in loop:
        _add(path, edge)
    path.closeSubpath()
    return path


def edge_path(edge: Edge) -> QPainterPath:
    """Return the open path of one edge."""
    path = QPainterPath(point(edge.start))
    _add(path, edge)
    return path


def plate_path(outline: Loop, openings: Iterable[Loop]) -> QPainterPath:
    """Return outline and openings as one path whose inside is the metal."""
    path = loop_path(outline)
    for loop in openings:
        path.addPath(loop_path(loop))
    return path


def polyline(places: Iterable[Flat], *, closed: bool = False) -> QPainterPath:
    """Return the path along flat places."""
    path = QPainterPath()
    for number, at in enumerate(places):
        if number:
            path.lineTo(point(at))
        else:
            path.moveTo(point(at))
    if closed:
        path.closeSubpath()
    return path


def bounds_of(loop: Loop) -> QRectF:
    """Return the exact box round a loop, mm."""
    xs, ys = [], []
    for edge in loop:
        for x, y in (edge.start, edge.end, *_extremes(edge)):
            xs.append(x)
            ys.append(y)
    return QRectF(QPointF(min(xs), min(ys)), QPointF(max(xs), max(ys)))


def _extremes(edge: Edge) -> list[Flat]:
    """Return the places where an arc is furthest left, right, down or up."""
    if isinstance(edge, Line):
        return []
    found = []
    for quarter in range(4):
        angle = quarter * math.pi / 2.0
        way = (angle - edge.from_rad) if edge.turn_rad > 0.0 else (edge.from_rad - angle)
        if way % (2.0 * math.pi) <= abs(edge.turn_rad):
            x, y = edge.centre
            found.append((x + edge.radius_mm * math.cos(angle), y + edge.radius_mm * math.sin(angle)))
    return found


def _add(path: QPainterPath, edge: Edge) -> None:
    if isinstance(edge, Line):
        path.lineTo(point(edge.end))
        return
    (x, y), r = edge.centre, edge.radius_mm
    # The library counts angles toward minus y.
    path.arcTo(
        QRectF(x - r, y - r, 2.0 * r, 2.0 * r), -math.degrees(edge.from_rad), -math.degrees(edge.turn_rad)
    )
