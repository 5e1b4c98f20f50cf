"""Curves of a drawing turned into lines and arcs that follow each other without a kink."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

import numpy as np
import numpy.typing as npt

from geometry.flat_segments import Arc, Edge, Flat, Line

Floats = npt.NDArray[np.float64]
LARGEST: Final = 1e8
"""What is farther off than this is no place of a drawing."""
_USUAL_ARC_OFF: Final = 3e-4
"""How far, as a share of the radius, a quarter circle written as one cubic curve lies off the circle."""
_SAMPLES: Final = np.linspace(0.0, 1.0, 17)
_BASIS: Final = np.column_stack(
    [(1 - _SAMPLES) ** 3, 3 * _SAMPLES * (1 - _SAMPLES) ** 2, 3 * _SAMPLES**2 * (1 - _SAMPLES), _SAMPLES**3]
)
"""How much of each of its four points a cubic curve has at the samples."""
_DEEPEST: Final = 7


def curve_edges(points: Sequence[Flat], within: float) -> list[Edge]:
    """Return lines and arcs along a cubic curve given by its four points, off it by at most `within`.

    They follow each other without a kink, so that a smooth curve shows no sharp corners. A curve that is a
    circle as near as one cubic can be becomes one arc.
    """
    curve = np.asarray(points, dtype=float)
    if not (np.abs(curve) < LARGEST).all():
        return [Line((math.inf, math.inf), points[3])]  # told as impossible where it is taken up
    chord = float(np.hypot(*(curve[3] - curve[0])))
    if _off_chord(curve) <= min(within, 1e-6 * chord):
        return [Line(_flat(curve[0]), _flat(curve[3]))]
    arc = _one_arc(curve)
    if arc is not None and _off(arc, curve) <= max(within, _USUAL_ARC_OFF * arc.radius_mm):
        return [arc]
    edges: list[Edge] = []
    _halve(curve, within, 0, edges)
    return edges


def arc_by_turn(start: Flat, end: Flat, turn_rad: float) -> Edge:
    """Return the arc from start to end that turns by so much, left positive; a line for next to nothing."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    chord = math.hypot(dx, dy)
    if abs(turn_rad) < 1e-6 or chord == 0.0:
        return Line(start, end)
    middle = (start[0] + dx / 2, start[1] + dy / 2)
    # from the chord's middle to the centre, along the chord's left normal
    off = chord / (2.0 * math.tan(turn_rad / 2.0))
    centre = (middle[0] - off * dy / chord, middle[1] + off * dx / chord)
    return Arc(
        centre,
        chord / (2.0 * abs(math.sin(turn_rad / 2.0))),
        math.atan2(start[1] - centre[1], start[0] - centre[0]),
        turn_rad,
    )


def turned_round(edge: Edge) -> Edge:
    """Return the edge run through from end to start."""
    if isinstance(edge, Line):
        return Line(edge.end, edge.start)
    return Arc(edge.centre, edge.radius_mm, edge.from_rad + edge.turn_rad, -edge.turn_rad)


def _halve(curve: Floats, within: float, depth: int, edges: list[Edge]) -> None:
    pair = _two_arcs(curve)
    if depth >= _DEEPEST or max(_off_pair(pair, curve), 0.0) <= within:
        edges.extend(pair)
        return
    a, b, c, d = curve
    ab, bc, cd = (a + b) / 2, (b + c) / 2, (c + d) / 2
    abc, bcd = (ab + bc) / 2, (bc + cd) / 2
    middle = (abc + bcd) / 2
    _halve(np.stack([a, ab, abc, middle]), within, depth + 1, edges)
    _halve(np.stack([middle, bcd, cd, d]), within, depth + 1, edges)


def _two_arcs(curve: Floats) -> list[Edge]:
    """Return two arcs from end to end, tangent to the curve at both ends and to each other."""
    points = curve.tolist()
    start, end = (points[0][0], points[0][1]), (points[3][0], points[3][1])
    (out_x, out_y), (back_x, back_y) = _tangent(points), _tangent(points[::-1])
    x, y = end[0] - start[0], end[1] - start[1]
    length2 = x * x + y * y
    if length2 == 0.0:
        return [Line(start, end)]
    spread = 2.0 * (1.0 + out_x * back_x + out_y * back_y)
    if spread > 1e-9:
        along = x * (out_x - back_x) + y * (out_y - back_y)
        reach = (-along + math.sqrt(along * along + spread * length2)) / spread
    else:
        ahead = -(x * back_x + y * back_y)
        if abs(ahead) < 1e-9 * math.sqrt(length2):
            return [Line(start, end)]
        reach = length2 / (4.0 * ahead)
    joint = (
        (start[0] + end[0] + reach * (out_x + back_x)) / 2.0,
        (start[1] + end[1] + reach * (out_y + back_y)) / 2.0,
    )
    first = _tangent_arc(start, (out_x, out_y), joint)
    return [first, turned_round(_tangent_arc(end, (back_x, back_y), joint))]


def _tangent_arc(start: Flat, out: Flat, end: Flat) -> Edge:
    x, y = end[0] - start[0], end[1] - start[1]
    turn = 2.0 * math.atan2(out[0] * y - out[1] * x, out[0] * x + out[1] * y)
    return arc_by_turn(start, end, turn)


def _one_arc(curve: Floats) -> Arc | None:
    """Return the arc from end to end through the curve's middle; None if there is none tangent to it."""
    edge = _tangent_arc(_flat(curve[0]), _tangent(curve.tolist()), _flat(curve[3]))
    if not isinstance(edge, Arc) or abs(edge.turn_rad) > math.pi * 1.01:
        return None
    middle = (curve[0] + 3.0 * (curve[1] + curve[2]) + curve[3]) / 8.0
    sagitta = float(np.hypot(*(middle - (curve[0] + curve[3]) / 2)))
    chord = float(np.hypot(*(curve[3] - curve[0])))
    if sagitta == 0.0 or chord == 0.0:
        return None
    return (
        edge
        if abs(edge.radius_mm - (chord**2 / (8 * sagitta) + sagitta / 2)) < 0.01 * edge.radius_mm
        else None
    )


def _off(arc: Arc, curve: Floats) -> float:
    """Return how far the curve strays from the arc."""
    places = _BASIS @ curve
    return float(np.abs(np.hypot(*(places - arc.centre).T) - arc.radius_mm).max())


def _off_pair(pair: list[Edge], curve: Floats) -> float:
    places = _BASIS @ curve
    return float(np.min([_distances(edge, places) for edge in pair], axis=0).max())


def _distances(edge: Edge, places: Floats) -> Floats:
    away: Floats
    if isinstance(edge, Arc):
        away = np.abs(np.hypot(*(places - edge.centre).T) - edge.radius_mm)
        return away
    start, end = np.asarray(edge.start), np.asarray(edge.end)
    along = end - start
    share = np.clip((places - start) @ along / max(float(along @ along), 1e-300), 0.0, 1.0)
    away = np.hypot(*(places - start - share[:, None] * along).T)
    return away


def _off_chord(curve: Floats) -> float:
    return float(_distances(Line(_flat(curve[0]), _flat(curve[3])), curve[1:3]).max())


def _tangent(points: Sequence[Sequence[float]]) -> Flat:
    """Return the unit vector that a curve leaves the first of its four points with."""
    for point in points[1:]:
        x, y = point[0] - points[0][0], point[1] - points[0][1]
        length = math.hypot(x, y)
        if length > 0.0:
            return (x / length, y / length)
    return (1.0, 0.0)


def _flat(place: Floats) -> Flat:
    return (float(place[0]), float(place[1]))
