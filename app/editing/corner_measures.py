"""Dimensions of a corner and of an edge."""

from __future__ import annotations

import math

from app.editing.corner_shapes import arc_edge, round_corner
from app.editing.loops import (
    between_straight_edges,
    checked_corner,
    edge_of,
    edge_words,
    turn_at,
)
from app.editing.measures import Ground, Measure, above_nought
from app.editing.outline import move_corner, move_edge
from app.editing.refused import EditRefused
from geometry.flat_segments import Arc
from geometry.part import FlatPlace
from geometry.plate import Plate


def corner_measures(ground: Ground, index: int, loop: str | None) -> list[Measure]:
    """Return x and y from the datum, the straight edges `before` and `after`, and the radius if any."""
    corners = checked_corner(ground.plate, loop, index)
    at = corners[index].at_mm

    def move(plate: Plate, by: FlatPlace) -> Plate:
        return move_corner(plate, index, (at[0] + by[0], at[1] + by[1]), loop)

    found = ground.from_datum(at, move)
    if corners[index - 1].arc_via_mm is None:
        found += ground.from_place("before", corners[index - 1].at_mm, at, move)
    if corners[index].arc_via_mm is None:
        found += ground.from_place("after", corners[(index + 1) % len(corners)].at_mm, at, move)
    return found + _radius(ground, index, loop)


def edge_measures(ground: Ground, index: int, loop: str | None) -> list[Measure]:
    """Return length (moving the far end) and distance from the datum; the radius of an arc."""
    corners = checked_corner(ground.plate, loop, index)
    edge = edge_of(corners, index)
    following = (index + 1) % len(corners)
    if isinstance(edge, Arc):
        middle = _middle(edge)

        def bend(plate: Plate, value: float) -> Plate:
            return arc_edge(plate, index, _via(edge, value, edge_words(plate, loop, index)), loop)

        return [ground.measure("radius", edge.radius_mm, (edge.centre, middle), bend)]
    start, end = corners[index].at_mm, corners[following].at_mm

    def stretch(plate: Plate, by: FlatPlace) -> Plate:
        return move_corner(plate, following, (end[0] + by[0], end[1] + by[1]), loop)

    found = ground.from_place("length", start, end, stretch)
    if not found:
        return []
    ux, uy = edge.direction(0.0)
    datum = ground.datum
    off = ux * (start[1] - datum[1]) - uy * (start[0] - datum[0])
    side = math.copysign(1.0, off)
    foot = (datum[0] - off * uy, datum[1] + off * ux)

    def shift(plate: Plate, value: float) -> Plate:
        by = side * value - off
        return move_edge(plate, index, (-by * uy, by * ux), loop)

    return [*found, ground.measure("from centre", abs(off), (datum, foot), shift)]


def _radius(ground: Ground, index: int, loop: str | None) -> list[Measure]:
    corners = checked_corner(ground.plate, loop, index)
    radius, turn = corners[index].radius_mm, turn_at(corners, index)
    if radius == 0.0 or turn is None or not between_straight_edges(corners, index):
        return []
    if not 1e-6 < abs(turn) < math.pi - 1e-6:
        return []
    (ux, uy), (vx, vy) = edge_of(corners, index - 1).direction(1.0), edge_of(corners, index).direction(0.0)
    inward = math.hypot(vx - ux, vy - uy)
    wx, wy = (vx - ux) / inward, (vy - uy) / inward
    away = radius / math.cos(turn / 2.0)
    x, y = corners[index].at_mm
    centre = (x + away * wx, y + away * wy)
    on_arc = (centre[0] - radius * wx, centre[1] - radius * wy)
    return [
        ground.measure(
            "radius",
            radius,
            (centre, on_arc),
            lambda plate, value: round_corner(plate, index, value, loop),
        )
    ]


def _middle(arc: Arc) -> FlatPlace:
    angle = arc.from_rad + arc.turn_rad / 2.0
    return (
        arc.centre[0] + arc.radius_mm * math.cos(angle),
        arc.centre[1] + arc.radius_mm * math.sin(angle),
    )


def _via(arc: Arc, radius_mm: float, where: str) -> FlatPlace:
    """Return the middle of an arc between the same ends, on the same side, with another radius."""
    above_nought(radius_mm, "the radius of an arc")
    half = math.dist(arc.start, arc.end) / 2.0
    if radius_mm < half - 1e-9:
        raise EditRefused(
            f"{where} spans {2.0 * half:.2f} mm and cannot have a radius of {radius_mm:g} mm; give at least"
            f" {math.ceil(half * 100.0 - 1e-6) / 100.0:g} mm"
        )
    flat = math.sqrt(max(radius_mm**2 - half**2, 0.0))
    high = radius_mm + flat if abs(arc.turn_rad) > math.pi else radius_mm - flat
    mx, my = (arc.start[0] + arc.end[0]) / 2.0, (arc.start[1] + arc.end[1]) / 2.0
    ux, uy = (arc.end[0] - arc.start[0]) / (2.0 * half), (arc.end[1] - arc.start[1]) / (2.0 * half)
    # An arc that runs from x toward y bulges to the right of its chord.
    side = math.copysign(1.0, arc.turn_rad)
    return (mx + side * high * uy, my - side * high * ux)
