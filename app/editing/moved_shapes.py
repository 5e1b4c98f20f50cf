"""Openings and fold lines moved as a whole: shifted, turned, mirrored."""

from __future__ import annotations

import cmath
import math
from collections.abc import Callable

from app.editing.checked import checked_place
from app.editing.loops import Corners, Opening, turned_round
from app.editing.refused import EditRefused
from geometry.flat_pattern import LEAST_EDGE_MM, chopped, opening_loop
from geometry.flat_segments import ShapeError
from geometry.part import FlatPlace
from geometry.plate import Corner, CutOut, FoldLine, Slot

Axis = tuple[FlatPlace, FlatPlace]
"""Two flat places of a line."""
Move = Callable[[FlatPlace], FlatPlace]


def shift(by: FlatPlace) -> Move:
    """Return the move by a step."""
    return lambda at: checked_place((at[0] + by[0], at[1] + by[1]), "what is moved")


def turn(centre: FlatPlace, angle_deg: float) -> Move:
    """Return the turn about a place, from x toward y."""
    middle, by = complex(*centre), cmath.rect(1.0, math.radians(angle_deg))

    def move(at: FlatPlace) -> FlatPlace:
        to = middle + (complex(*at) - middle) * by
        return checked_place((to.real, to.imag), "what is turned")

    return move


def mirror(axis: Axis) -> Move:
    """Return the mirroring about a line; EditRefused if its two places are one."""
    start, along = complex(*axis[0]), _along(axis)

    def move(at: FlatPlace) -> FlatPlace:
        to = start + ((complex(*at) - start) / along).conjugate() * along
        return checked_place((to.real, to.imag), "what is mirrored")

    return move


def shifted(opening: Opening, by: FlatPlace) -> Opening:
    """Return an opening moved by a step."""
    return _moved(opening, shift(by), opening.angle_deg if isinstance(opening, Slot) else 0.0)


def turned(opening: Opening, centre: FlatPlace, angle_deg: float) -> Opening:
    """Return an opening turned about a place, from x toward y."""
    angle = opening.angle_deg + angle_deg if isinstance(opening, Slot) else 0.0
    return _moved(opening, turn(centre, angle_deg), _half_turn(angle))


def mirrored(opening: Opening, axis: Axis) -> Opening:
    """Return an opening mirrored about a line."""
    line_deg = math.degrees(cmath.phase(_along(axis)))
    angle = 2.0 * line_deg - opening.angle_deg if isinstance(opening, Slot) else 0.0
    moved = _moved(opening, mirror(axis), _half_turn(angle))
    return moved.but(corners=turned_round(moved.corners)) if isinstance(moved, CutOut) else moved


def moved_corners(corners: Corners, move: Move) -> Corners:
    """Return corners moved, with the points their arcs go through."""
    return tuple(_moved_corner(corner, move) for corner in corners)


def moved_fold(fold: FoldLine, move: Move) -> FoldLine:
    """Return a fold line moved by both its ends."""
    return fold.but(from_mm=move(fold.from_mm), to_mm=move(fold.to_mm))


def middle_of(opening: Opening) -> FlatPlace:
    """Return the centre of a hole or slot, the middle of the box round a cut-out."""
    if not isinstance(opening, CutOut):
        return opening.centre_mm
    low, high = box_of([opening])
    return ((low[0] + high[0]) / 2.0, (low[1] + high[1]) / 2.0)


def box_of(openings: list[Opening]) -> tuple[FlatPlace, FlatPlace]:
    """Return the lower left and upper right corner of the box round some openings."""
    places = [place for opening in openings for place in _border(opening)]
    xs, ys = [x for x, _ in places], [y for _, y in places]
    return (min(xs), min(ys)), (max(xs), max(ys))


def _border(opening: Opening) -> list[FlatPlace]:
    if isinstance(opening, CutOut):
        try:
            return chopped(opening_loop(opening, ""))
        except ShapeError:
            return [corner.at_mm for corner in opening.corners]
    x, y = opening.centre_mm
    if isinstance(opening, Slot):
        half = opening.width_mm / 2.0
        reach = max(opening.length_mm / 2.0 - half, 0.0)
        angle = math.radians(opening.angle_deg)
        dx, dy = abs(reach * math.cos(angle)) + half, abs(reach * math.sin(angle)) + half
    else:
        dx = dy = opening.diameter_mm / 2.0
    return [(x - dx, y - dy), (x + dx, y + dy)]


def _moved(opening: Opening, move: Move, angle_deg: float) -> Opening:
    if isinstance(opening, CutOut):
        return opening.but(corners=moved_corners(opening.corners, move))
    if isinstance(opening, Slot):
        return opening.but(centre_mm=move(opening.centre_mm), angle_deg=angle_deg)
    return opening.but(centre_mm=move(opening.centre_mm))


def _moved_corner(corner: Corner, move: Move) -> Corner:
    via = corner.arc_via_mm
    return corner.but(at_mm=move(corner.at_mm), arc_via_mm=None if via is None else move(via))


def _half_turn(angle_deg: float) -> float:
    """Return a slot's angle within half a turn: it looks the same from both ends."""
    return (angle_deg + 90.0) % 180.0 - 90.0


def _along(axis: Axis) -> complex:
    start, end = (checked_place(place, "the line to mirror about") for place in axis)
    if math.dist(start, end) < LEAST_EDGE_MM:
        raise EditRefused(
            f"the line to mirror about begins and ends at ({start[0]:g}, {start[1]:g}); choose two places"
        )
    along = complex(*end) - complex(*start)
    return along / abs(along)
