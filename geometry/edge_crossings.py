"""Where edges cross: lines and arcs, exactly, as shares along each."""

from __future__ import annotations

import math
from typing import Final

import numpy as np

from geometry.flat_segments import FULL_TURN, Arc, Edge, Flat, Line

SAME_LINE_MM: Final = 1e-6
"""Parallel lines nearer than this run over each other."""


def crossings(a: Edge, b: Edge, slack_mm: float = 1e-9) -> list[tuple[float, float]]:
    """Return (share along a, share along b) of every place where a meets b, ends included.

    Lines that overlap meet at the ends that lie on the other; circles that coincide do not meet.
    """
    if isinstance(a, Line) and isinstance(b, Line):
        places = _line_line(a, b)
    elif isinstance(a, Line) and isinstance(b, Arc):
        places = _line_circle(a, b)
    elif isinstance(a, Arc) and isinstance(b, Line):
        places = _line_circle(b, a)
    else:
        assert isinstance(a, Arc)
        assert isinstance(b, Arc)
        places = _circle_circle(a, b)
    found = []
    for place in places:
        share_a, share_b = share_of(a, place, slack_mm), share_of(b, place, slack_mm)
        if share_a is not None and share_b is not None:
            found.append((share_a, share_b))
    return found


def share_of(edge: Edge, place: Flat, slack_mm: float) -> float | None:
    """Return the share along the edge of a place on its line or circle; None if it lies beyond the ends."""
    if isinstance(edge, Line):
        dx, dy = edge.end[0] - edge.start[0], edge.end[1] - edge.start[1]
        share = ((place[0] - edge.start[0]) * dx + (place[1] - edge.start[1]) * dy) / (dx * dx + dy * dy)
    else:
        angle = math.atan2(place[1] - edge.centre[1], place[0] - edge.centre[0])
        turned = (angle - edge.from_rad) * math.copysign(1.0, edge.turn_rad) % FULL_TURN
        share = turned / abs(edge.turn_rad)
        if share > 1.0 and (FULL_TURN - turned) * edge.radius_mm <= slack_mm:
            share = 0.0
    slack = slack_mm / edge.length_mm
    return min(max(share, 0.0), 1.0) if -slack <= share <= 1.0 + slack else None


def boxes(edges: list[Edge]) -> np.ndarray:
    """Return (n, 4) boxes round the edges: low x, low y, high x, high y; for an arc its whole circle's."""
    rows = []
    for edge in edges:
        if isinstance(edge, Line):
            xs, ys = (edge.start[0], edge.end[0]), (edge.start[1], edge.end[1])
            rows.append((min(xs), min(ys), max(xs), max(ys)))
        else:
            (cx, cy), r = edge.centre, edge.radius_mm
            rows.append((cx - r, cy - r, cx + r, cy + r))
    return np.array(rows, dtype=np.float64).reshape(-1, 4)


def _line_line(a: Line, b: Line) -> list[Flat]:
    ax, ay = a.end[0] - a.start[0], a.end[1] - a.start[1]
    bx, by = b.end[0] - b.start[0], b.end[1] - b.start[1]
    cx, cy = b.start[0] - a.start[0], b.start[1] - a.start[1]
    cross = ax * by - ay * bx
    if abs(cross) > 1e-9 * math.hypot(ax, ay) * math.hypot(bx, by):
        share = (cx * by - cy * bx) / cross
        return [(a.start[0] + share * ax, a.start[1] + share * ay)]
    apart = abs(ax * cy - ay * cx) / math.hypot(ax, ay)
    return [] if apart > SAME_LINE_MM else [a.start, a.end, b.start, b.end]


def _line_circle(line: Line, arc: Arc) -> list[Flat]:
    ux, uy = line.direction(0.0)
    cx, cy = arc.centre[0] - line.start[0], arc.centre[1] - line.start[1]
    along, aside = cx * ux + cy * uy, ux * cy - uy * cx
    if abs(aside) > arc.radius_mm:
        return []
    half = math.sqrt(arc.radius_mm**2 - aside**2)
    return [(line.start[0] + s * ux, line.start[1] + s * uy) for s in sorted({along - half, along + half})]


def _circle_circle(a: Arc, b: Arc) -> list[Flat]:
    dx, dy = b.centre[0] - a.centre[0], b.centre[1] - a.centre[1]
    apart = math.hypot(dx, dy)
    if apart < 1e-9 or apart > a.radius_mm + b.radius_mm or apart < abs(a.radius_mm - b.radius_mm):
        return []
    along = (apart**2 + a.radius_mm**2 - b.radius_mm**2) / (2.0 * apart)
    half = math.sqrt(max(a.radius_mm**2 - along**2, 0.0))
    ux, uy = dx / apart, dy / apart
    mx, my = a.centre[0] + along * ux, a.centre[1] + along * uy
    return [(mx - half * uy, my + half * ux), (mx + half * uy, my - half * ux)]
