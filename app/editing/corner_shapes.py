"""What becomes of one corner or edge: rounded, chamfered, bent to an arc, made straight."""

from __future__ import annotations

import math

from app.editing.checked import checked_length, checked_place, checked_radius
from app.editing.loops import (
    Corners,
    between_straight_edges,
    checked_corner,
    corner_words,
    corners_of,
    edge_words,
    inside_corners,
    room_mm,
    rounded,
    spare_mm,
    turn_at,
    with_corners,
)
from app.editing.refused import EditRefused
from geometry.flat_pattern import SHARP_FROM_DEG
from geometry.flat_segments import ShapeError, arc_through
from geometry.part import FlatPlace
from geometry.plate import Corner, Plate


def round_corner(plate: Plate, index: int, radius_mm: float, loop: str | None = None) -> Plate:
    """Return the plate with a corner rounded to that radius; 0 makes it sharp.

    EditRefused at the end of an arc, on a straight run, and where it does not fit, with the largest that
    does.
    """
    corners = checked_corner(plate, loop, index)
    where = corner_words(plate, loop, index)
    radius = checked_radius(radius_mm, f"a radius at {where}")
    if radius > 0.0:
        largest = _room(corners, index, where, "rounded")
        if radius > largest + 1e-9:
            raise EditRefused(
                f"{where} has no room for a radius of {radius:g} mm; the largest that fits is"
                f" {_down(largest):g} mm"
            )
        radius = min(radius, largest)
    return with_corners(plate, loop, _put(corners, index, corners[index].but(radius_mm=radius)))


def largest_radius_mm(plate: Plate, index: int, loop: str | None = None) -> float:
    """Return the largest radius that fits at a corner, 0 where it cannot be rounded."""
    room = room_mm(checked_corner(plate, loop, index), index)
    return 0.0 if room is None else room


def chamfer_corner(plate: Plate, index: int, leg_mm: float, loop: str | None = None) -> Plate:
    """Return the plate with a corner replaced by two, each `leg_mm` along an edge from where it was.

    Where the material turns inward the two are rounded to the thickness, or to what fits. EditRefused at the
    end of an arc, on a straight run, and where it does not fit, with the longest leg that does.
    """
    corners = checked_corner(plate, loop, index)
    where = corner_words(plate, loop, index)
    leg = checked_length(leg_mm, f"a chamfer at {where}")
    sharp = _put(corners, index, corners[index].but(radius_mm=0.0))
    _room(sharp, index, where, "chamfered")
    longest = spare_mm(sharp, index)
    if leg > longest - 1e-6:
        raise EditRefused(
            f"{where} has no room for a chamfer of {leg:g} mm; the largest that fits is {_down(longest):g} mm"
        )
    at, before, after = (corners[k % len(corners)].at_mm for k in (index, index - 1, index + 1))
    pair = (Corner(at_mm=_toward(at, before, leg)), Corner(at_mm=_toward(at, after, leg)))
    cut = (*sharp[:index], *pair, *sharp[index + 1 :])
    inside = inside_corners(cut, material_inside=loop is None)
    new = [k for k in (index, index + 1) if k in inside]
    return with_corners(plate, loop, rounded(cut, new, plate.thickness_mm))


def arc_edge(plate: Plate, edge_index: int, via: FlatPlace, loop: str | None = None) -> Plate:
    """Return the plate with an edge bent to an arc through a flat place; its two corners become sharp.

    EditRefused if the place lies in line with the edge's ends.
    """
    corners = checked_corner(plate, loop, edge_index)
    where = edge_words(plate, loop, edge_index)
    place = checked_place(via, f"the middle of an arc on {where}")
    following = (edge_index + 1) % len(corners)
    try:
        arc_through(corners[edge_index].at_mm, place, corners[following].at_mm, where)
    except ShapeError:
        raise EditRefused(
            f"{where} cannot bend through ({place[0]:.1f}, {place[1]:.1f}), which lies in line with its ends;"
            " choose a place beside it"
        ) from None
    bent = _put(corners, edge_index, corners[edge_index].but(arc_via_mm=place, radius_mm=0.0))
    return with_corners(plate, loop, _put(bent, following, bent[following].but(radius_mm=0.0)))


def straighten_edge(plate: Plate, edge_index: int, loop: str | None = None) -> Plate:
    """Return the plate with an edge made straight; EditRefused if nothing would be enclosed any more."""
    corners = checked_corner(plate, loop, edge_index)
    straight = _put(corners, edge_index, corners[edge_index].but(arc_via_mm=None))
    if len(straight) == 2 and all(corner.arc_via_mm is None for corner in straight):
        raise EditRefused(
            f"{edge_words(plate, loop, edge_index)} has to stay an arc, or its two corners would enclose"
            " nothing; add a corner first"
        )
    return with_corners(plate, loop, straight)


def sharp_inside_corners(plate: Plate, loop: str | None = None) -> tuple[int, ...]:
    """Return the numbers, from 0, of the corners where the material turns inward without a radius."""
    return inside_corners(corners_of(plate, loop), material_inside=loop is None)


def round_inside_corners(plate: Plate, before: Plate | None = None, loop: str | None = None) -> Plate:
    """Return the plate with its sharp inside corners rounded to the thickness, or to what fits.

    With `before`, the plate a gesture began with, corners that were sharp inside corners already stay: a
    corner is known again by its place or, where the count is the same, by its number.
    """
    corners = corners_of(plate, loop)
    which = sharp_inside_corners(plate, loop)
    if before is not None:
        old = corners_of(before, loop)
        were = sharp_inside_corners(before, loop)
        places = {old[k].at_mm for k in were}
        same = set(were) if len(old) == len(corners) else set()
        which = tuple(k for k in which if k not in same and corners[k].at_mm not in places)
    return with_corners(plate, loop, rounded(corners, which, plate.thickness_mm))


def _room(corners: Corners, index: int, where: str, done: str) -> float:
    """Return the largest radius at a corner; EditRefused, saying why, if it cannot be rounded at all."""
    if not between_straight_edges(corners, index):
        raise EditRefused(
            f"{where} is at the end of an arc and cannot be {done}; make that edge straight first"
        )
    room = room_mm(corners, index)
    if room is not None:
        return room
    turn = turn_at(corners, index)
    if turn is not None and abs(turn) <= math.radians(SHARP_FROM_DEG):
        raise EditRefused(
            f"{where} lies on a straight run, so there is nothing to be {done}; move it out first"
        )
    raise EditRefused(
        f"{where} cannot be {done}, because the edge runs back on itself there; move it off its"
        " neighbours first"
    )


def _put(corners: Corners, index: int, corner: Corner) -> Corners:
    return (*corners[:index], corner, *corners[index + 1 :])


def _toward(start: FlatPlace, end: FlatPlace, by_mm: float) -> FlatPlace:
    share = by_mm / math.dist(start, end)
    return (start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1]))


def _down(value: float) -> float:
    """Round down to a hundredth, so that what is told does fit."""
    return math.floor(value * 100.0 + 1e-6) / 100.0
