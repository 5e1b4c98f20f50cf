"""Loops of edges as parts of a plate: corners of an outline, holes, slots, cut-outs."""

from __future__ import annotations

import math
from typing import Final

import numpy as np

from geometry.flat_segments import Arc, Edge, Flat, Line, Loop
from geometry.plate import Corner, CutOut, Hole, Slot

_SAME_MM: Final = 0.01
_LEAST_SIDES: Final = 12
_SAGITTA_MM: Final = 0.05
"""A circle chopped finer than this was meant as a circle."""


def corners_of(loop: Loop) -> tuple[Corner, ...]:
    """Return the corners of a loop in mm; arcs stay arcs, a whole circle becomes two halves."""
    corners: list[Corner] = []
    for edge in loop:
        if isinstance(edge, Line):
            corners.append(Corner(at_mm=edge.start))
            continue
        # beyond three quarters of a turn the two ends crowd together and the arc is ill defined
        pieces = 2 if abs(edge.turn_rad) > 1.5 * math.pi else 1
        places = edge.at(np.arange(2 * pieces) / (2 * pieces)).tolist()
        for i in range(pieces):
            start, via = places[2 * i], places[2 * i + 1]
            corners.append(Corner(at_mm=(start[0], start[1]), arc_via_mm=(via[0], via[1])))
    return tuple(corners)


def opening_of(loop: Loop, counts: dict[str, int]) -> Hole | Slot | CutOut:
    """Return the opening a loop in mm makes, named by kind and count; `counts` is carried on."""
    circle = circle_of(loop)
    if circle is not None:
        centre, diameter_mm = circle
        return Hole(name=_name("hole", counts), centre_mm=centre, diameter_mm=diameter_mm)
    slot = _slot(loop)
    if slot is not None:
        centre, length_mm, width_mm, angle_deg = slot
        return Slot(
            name=_name("slot", counts),
            centre_mm=centre,
            length_mm=length_mm,
            width_mm=width_mm,
            angle_deg=angle_deg,
        )
    return CutOut(name=_name("cut-out", counts), corners=corners_of(loop))


def circle_of(loop: Loop) -> tuple[Flat, float] | None:
    """Return centre and diameter of a loop that is a circle, or one chopped finely; None if it is not."""
    if len(loop) == 1 and isinstance(loop[0], Arc):
        return (loop[0].centre, 2.0 * loop[0].radius_mm)
    if len(loop) < _LEAST_SIDES or not all(isinstance(edge, Line) for edge in loop):
        return None
    places = np.array([edge.start for edge in loop])
    # least squares for x^2 + y^2 = 2 a x + 2 b y + c, about the middle for accuracy
    middle = places.mean(axis=0)
    x, y = (places - middle).T
    a, b, c = np.linalg.lstsq(np.column_stack([2 * x, 2 * y, np.ones(len(x))]), x**2 + y**2, rcond=None)[0]
    radius = math.sqrt(max(float(c + a * a + b * b), 0.0))
    longest = max(edge.length_mm for edge in loop)
    if (
        float(np.abs(np.hypot(x - a, y - b) - radius).max()) > _SAME_MM
        or longest**2 / (8.0 * max(radius, 1e-9)) > _SAGITTA_MM
        or longest > radius  # a window cut in the disc, not the disc
    ):
        return None
    return ((float(middle[0] + a), float(middle[1] + b)), 2.0 * radius)


def _slot(loop: Loop) -> tuple[Flat, float, float, float] | None:
    """Return centre, length over all, width and angle of two half circles joined by two lines."""
    if len(loop) != 4:
        return None
    edges: tuple[Edge, ...] = loop if isinstance(loop[0], Arc) else (*loop[1:], loop[0])
    first, side, second, other = edges
    if not (isinstance(first, Arc) and isinstance(second, Arc)):
        return None
    if not (isinstance(side, Line) and isinstance(other, Line)):
        return None
    halves = all(abs(abs(arc.turn_rad) - math.pi) < 0.01 for arc in (first, second))
    same = abs(first.radius_mm - second.radius_mm) <= _SAME_MM
    dx, dy = second.centre[0] - first.centre[0], second.centre[1] - first.centre[1]
    apart = math.hypot(dx, dy)
    along = side.direction(0.0)
    straight = abs(along[0] * dy - along[1] * dx) <= 2.0 * _SAME_MM
    if not (halves and same and straight and first.turn_rad * second.turn_rad > 0.0):
        return None
    if along[0] * dx + along[1] * dy <= 0.0:  # the half circles bulge inward
        return None
    radius = (first.radius_mm + second.radius_mm) / 2.0
    centre = ((first.centre[0] + second.centre[0]) / 2.0, (first.centre[1] + second.centre[1]) / 2.0)
    angle = math.degrees(math.atan2(dy, dx)) % 180.0
    return centre, apart + 2.0 * radius, 2.0 * radius, 0.0 if 180.0 - angle < 1e-9 else angle


def _name(kind: str, counts: dict[str, int]) -> str:
    counts[kind] = counts.get(kind, 0) + 1
    return f"{kind} {counts[kind]}"
