"""Lines that tools draw while they are used."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainterPath

from app.window.flat.paths import edge_path, point, polyline
from app.window.flat.tool_in_hand import Guide, GuideKind
from geometry.flat_segments import Edge, Flat


def line_guide(start: Flat, end: Flat, kind: GuideKind = "guide") -> Guide:
    """Return a straight line."""
    return Guide(kind, polyline((start, end)))


def run_guide(places: Iterable[Flat], kind: GuideKind = "drawn") -> Guide:
    """Return a line through places."""
    return Guide(kind, polyline(places))


def edge_guide(edge: Edge, kind: GuideKind = "drawn") -> Guide:
    """Return one edge, straight or arc."""
    return Guide(kind, edge_path(edge))


def circle_guide(centre: Flat, radius_mm: float, kind: GuideKind = "guide") -> Guide:
    """Return a circle."""
    path = QPainterPath()
    path.addEllipse(point(centre), radius_mm, radius_mm)
    return Guide(kind, path)


def box_guide(low: Flat, high: Flat, kind: GuideKind = "guide") -> Guide:
    """Return a rectangle between two opposite corners."""
    path = QPainterPath()
    path.addRect(QRectF(point(low), point(high)).normalized())
    return Guide(kind, path)


def rings_guide(places: Iterable[Flat]) -> Guide:
    """Return small rings at places."""
    return Guide("handle", places=tuple(places))
