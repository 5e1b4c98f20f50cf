"""The corners of an outline or of a cut-out, as the edits of corners and edges see them.

Glossary
--------
loop     None for the outline, else the name of a cut-out: whose corners are meant
edge     from the corner of its number to the next
turn     signed angle a loop turns through at a corner, radians, positive from x toward y
inside   a corner where the material turns inward: it wants a radius
room     the largest radius a corner can have beside its neighbours
"""

from __future__ import annotations

import math
from collections.abc import Collection, Iterable, Sequence

from app.editing.refused import EditRefused
from geometry.flat_pattern import LEAST_EDGE_MM, SHARP_FROM_DEG
from geometry.flat_segments import Edge, Line, ShapeError, arc_through, loop_area_mm2
from geometry.part import FlatPlace
from geometry.plate import Corner, CutOut, Hole, Plate, Slot

Corners = tuple[Corner, ...]
Opening = Hole | Slot | CutOut


def corners_of(plate: Plate, loop: str | None) -> Corners:
    """Return the corners of the outline or of a cut-out; EditRefused if there are none of that name."""
    if loop is None:
        return plate.outline
    opening = opening_of(plate, loop)
    if isinstance(opening, CutOut):
        return opening.corners
    raise EditRefused(
        f"{opening.kind} {loop} of plate {plate.name} has no corners; change its size or draw a cut-out"
    )


def with_corners(plate: Plate, loop: str | None, corners: Iterable[Corner]) -> Plate:
    """Return the plate with the corners of the outline or of a cut-out changed."""
    if loop is None:
        return plate.but(outline=tuple(corners))
    opening = opening_of(plate, loop)
    return with_opening_changed(plate, loop, opening.but(corners=tuple(corners)))


def opening_of(plate: Plate, name: str) -> Opening:
    """Return the opening of that name; EditRefused, naming those there are, if there is none."""
    try:
        return plate.opening(name)
    except KeyError as fault:
        raise EditRefused(f"{fault.args[0]}; choose one of these") from None


def with_opening_changed(plate: Plate, name: str, changed: Opening | None) -> Plate:
    """Return the plate with the first opening of that name replaced, or taken out for None."""
    place = next(k for k, opening in enumerate(plate.openings) if opening.name == name)
    put = () if changed is None else (changed,)
    return plate.but(openings=(*plate.openings[:place], *put, *plate.openings[place + 1 :]))


def checked_corner(plate: Plate, loop: str | None, index: int) -> Corners:
    """Return the corners of a loop that has a corner, and so an edge, of that number; else EditRefused."""
    corners = corners_of(plate, loop)
    if not 0 <= index < len(corners):
        raise EditRefused(
            f"{loop_words(plate, loop)} has corners 1 to {len(corners)}, not {index + 1}; choose one of these"
        )
    return corners


def loop_words(plate: Plate, loop: str | None) -> str:
    """Return the loop in words."""
    return f"the outline of plate {plate.name}" if loop is None else f"cut-out {loop} of plate {plate.name}"


def corner_words(plate: Plate, loop: str | None, index: int) -> str:
    """Return a corner in words, counted from 1."""
    return f"corner {index + 1} of {loop_words(plate, loop)}"


def edge_words(plate: Plate, loop: str | None, index: int) -> str:
    """Return an edge in words, counted from 1."""
    return f"edge {index + 1} of {loop_words(plate, loop)}"


def edge_of(corners: Sequence[Corner], index: int) -> Edge:
    """Return an edge from corner to corner, roundings left out; an arc whose points lie in line is a line."""
    corner, after = corners[index], corners[(index + 1) % len(corners)]
    if corner.arc_via_mm is not None:
        try:
            return arc_through(corner.at_mm, corner.arc_via_mm, after.at_mm, "edge")
        except ShapeError:
            pass
    return Line(corner.at_mm, after.at_mm)


def turn_at(corners: Sequence[Corner], index: int) -> float | None:
    """Return the turn at a corner; None where an edge beside it has no length."""
    before, after = edge_of(corners, index - 1), edge_of(corners, index)
    if min(before.length_mm, after.length_mm) < LEAST_EDGE_MM:
        return None
    (ux, uy), (vx, vy) = before.direction(1.0), after.direction(0.0)
    return math.atan2(ux * vy - uy * vx, ux * vx + uy * vy)


def area_mm2(corners: Sequence[Corner]) -> float:
    """Return the signed area of a loop, roundings left out: positive when it runs from x toward y."""
    return loop_area_mm2(tuple(edge_of(corners, k) for k in range(len(corners))))


def inside_corners(corners: Sequence[Corner], *, material_inside: bool) -> tuple[int, ...]:
    """Return the corners where the material turns inward and that have no radius."""
    walks_left = (area_mm2(corners) > 0.0) == material_inside
    found = []
    for index, corner in enumerate(corners):
        turn = turn_at(corners, index)
        if turn is None or corner.radius_mm > 0.0:
            continue
        right = -turn if walks_left else turn
        if math.degrees(right) > SHARP_FROM_DEG:
            found.append(index)
    return tuple(found)


def tangent_mm(corners: Sequence[Corner], index: int) -> float:
    """Return how much of each edge beside it the rounding of a corner takes; 0 for a sharp one."""
    turn = turn_at(corners, index)
    radius = corners[index].radius_mm
    if turn is None or radius == 0.0 or not between_straight_edges(corners, index):
        return 0.0
    return radius * math.tan(min(abs(turn), math.pi - 1e-6) / 2.0)


def between_straight_edges(corners: Sequence[Corner], index: int) -> bool:
    """Return whether a corner lies between two straight edges, so that it can be rounded or chamfered."""
    return corners[index].arc_via_mm is None and corners[index - 1].arc_via_mm is None


def spare_mm(corners: Sequence[Corner], index: int, halved: Collection[int] = ()) -> float:
    """Return what neighbours leave of the shorter edge beside a corner; half an edge to those `halved`."""
    left = math.inf
    for other in ((index - 1) % len(corners), (index + 1) % len(corners)):
        length = math.dist(corners[index].at_mm, corners[other].at_mm)
        spare = length - tangent_mm(corners, other)
        left = min(left, spare, length / 2.0 if other in halved else math.inf)
    return max(left, 0.0)


def room_mm(corners: Sequence[Corner], index: int, halved: Collection[int] = ()) -> float | None:
    """Return the largest radius a corner can have; None if it cannot be rounded at all."""
    turn = turn_at(corners, index)
    if turn is None or not between_straight_edges(corners, index):
        return None
    if not math.radians(SHARP_FROM_DEG) / 2.0 < abs(turn) < math.pi - 1e-6:
        return None
    return spare_mm(corners, index, halved) / math.tan(abs(turn) / 2.0)


def rounded(corners: Sequence[Corner], which: Collection[int], radius_mm: float) -> Corners:
    """Return the corners with some given that radius, or what there is room for."""
    done = list(corners)
    for index in which:
        room = room_mm(done, index, [k for k in which if k > index])
        if room is None:
            continue
        # Rounded down to a hundredth, so that the figure reads well and still fits.
        fits = radius_mm if room >= radius_mm else math.floor(room * 100.0) / 100.0
        done[index] = done[index].but(radius_mm=fits)
    return tuple(done)


def carried(via: FlatPlace, old: tuple[FlatPlace, FlatPlace], new: tuple[FlatPlace, FlatPlace]) -> FlatPlace:
    """Return where a point of an arc goes when the arc's ends move: the arc keeps its shape, not its size."""
    (a, b), (p, q) = ((complex(*start), complex(*end)) for start, end in (old, new))
    if abs(b - a) < LEAST_EDGE_MM or abs(q - p) < LEAST_EDGE_MM:
        moved = complex(*via) + (p - a)
    else:
        moved = p + (complex(*via) - a) * ((q - p) / (b - a))
    return (moved.real, moved.imag)


def turned_round(corners: Sequence[Corner]) -> Corners:
    """Return the same loop walked the other way."""
    count = len(corners)
    return tuple(
        corners[count - 1 - j].but(arc_via_mm=corners[(count - 2 - j) % count].arc_via_mm)
        for j in range(count)
    )
