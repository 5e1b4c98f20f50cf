"""How far a place or a fold line is from the edges of the outline."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

from app.editing.loops import edge_of
from geometry.edge_crossings import share_of
from geometry.flat_segments import Arc, Edge, Line
from geometry.part import FlatPlace
from geometry.plate import Corner

OTHER_WAY_DEG: Final = 30.0
"""The second edge told lies in a direction that differs by at least this."""
PARALLEL_DEG: Final = 0.5


@dataclass(frozen=True)
class EdgeDistance:
    """The distance of a place from one edge of the outline, taken square to it."""

    index: int
    distance_mm: float
    foot_mm: FlatPlace
    """The place on the edge, or on its line or circle carried on."""
    out: FlatPlace
    """Unit vector from the edge to the place."""
    on_edge: bool
    """Whether the foot lies on the edge itself."""


def edge_distances(corners: tuple[Corner, ...], at: FlatPlace) -> tuple[EdgeDistance, ...]:
    """Return how far a place is from every edge, roundings left out, in the order of the edges."""
    found = (_distance(index, edge_of(corners, index), at) for index in range(len(corners)))
    return tuple(distance for distance in found if distance is not None)


def nearest_two(distances: tuple[EdgeDistance, ...]) -> tuple[EdgeDistance, ...]:
    """Return the nearest edge whose foot lies on it, and the nearest in another direction."""
    near = sorted((d for d in distances if d.on_edge), key=lambda d: d.distance_mm)
    if not near:
        return ()
    first = near[0]
    limit = math.cos(math.radians(OTHER_WAY_DEG))
    others = (d for d in near[1:] if abs(d.out[0] * first.out[0] + d.out[1] * first.out[1]) < limit)
    second = next(others, None)
    return (first,) if second is None else (first, second)


def parallel_edges(corners: tuple[Corner, ...], start: FlatPlace, end: FlatPlace) -> tuple[EdgeDistance, ...]:
    """Return the distances of a line's middle from the straight edges along it, nearest first."""
    middle = ((start[0] + end[0]) / 2.0, (start[1] + end[1]) / 2.0)
    ux, uy = Line(start, end).direction(0.0)
    limit = math.sin(math.radians(PARALLEL_DEG))
    found = []
    for distance in edge_distances(corners, middle):
        edge = edge_of(corners, distance.index)
        if isinstance(edge, Line) and abs(distance.out[0] * ux + distance.out[1] * uy) < limit:
            found.append(distance)
    return tuple(sorted(found, key=lambda d: d.distance_mm))


def _distance(index: int, edge: Edge, at: FlatPlace) -> EdgeDistance | None:
    if edge.length_mm < 1e-6:
        return None
    if isinstance(edge, Arc):
        dx, dy = at[0] - edge.centre[0], at[1] - edge.centre[1]
        reach = math.hypot(dx, dy)
        off = reach - edge.radius_mm
        if reach < 1e-6 or abs(off) < 1e-6:
            return None
        ux, uy = dx / reach, dy / reach
        foot = (edge.centre[0] + edge.radius_mm * ux, edge.centre[1] + edge.radius_mm * uy)
        side = math.copysign(1.0, off)
        out = (side * ux, side * uy)
    else:
        ux, uy = edge.direction(0.0)
        off = ux * (at[1] - edge.start[1]) - uy * (at[0] - edge.start[0])
        foot = (at[0] + off * uy, at[1] - off * ux)
        side = math.copysign(1.0, off)
        out = (-side * uy, side * ux)
    return EdgeDistance(index, abs(off), foot, out, share_of(edge, foot, 1e-6) is not None)
