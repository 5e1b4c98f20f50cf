"""Edits of an outline or of a cut-out: draw it, move, add and take away corners and edges.

Corners and edges are counted from 0; an edge runs from the corner of its number to the next. `loop` says
whose they are: None the outline's, else those of the cut-out of that name.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence

import numpy as np

from app.editing.checked import checked_length, checked_place, moved_place
from app.editing.corner_shapes import (
    arc_edge,
    chamfer_corner,
    largest_radius_mm,
    round_corner,
    round_inside_corners,
    sharp_inside_corners,
    straighten_edge,
)
from app.editing.loops import (
    Corners,
    area_mm2,
    carried,
    checked_corner,
    corner_words,
    edge_of,
    edge_words,
    inside_corners,
    loop_words,
    rounded,
    turned_round,
    with_corners,
)
from app.editing.names import checked_name, free_name
from app.editing.refused import EditRefused
from geometry.bracket import Bracket
from geometry.casing_in_space import boss_in_space
from geometry.edge_crossings import share_of
from geometry.flat_pattern import LEAST_EDGE_MM
from geometry.flat_segments import Arc
from geometry.part import FlatPlace
from geometry.plate import Corner, Placement, Plate

__all__ = [
    "arc_edge",
    "chamfer_corner",
    "drawn_corners",
    "insert_corner",
    "largest_radius_mm",
    "move_corner",
    "move_edge",
    "new_plate",
    "remove_corner",
    "round_corner",
    "round_inside_corners",
    "sharp_inside_corners",
    "straighten_edge",
]

_SAME_CLICK_MM = 0.01
"""Clicks nearer than this are one."""


def new_plate(
    bracket: Bracket,
    corners: Sequence[FlatPlace],
    *,
    thickness_mm: float,
    material: str | None,
    name: str | None = None,
) -> Bracket:
    """Return the bracket with a plate whose outline is the clicked places, closed by itself; it stands last.

    It lies square to the shaft against the bosses that look along it, at station 0 without any. Without a
    name it becomes `plate`, or `plate 2`. EditRefused for a taken name and for places that enclose nothing.
    """
    taken = {plate.name for plate in bracket.plates}
    called = free_name("plate", taken) if name is None else checked_name(name, taken, "the plate")
    thickness = checked_length(thickness_mm, "a thickness")
    plate = Plate(
        name=called,
        material=checked_name(material, (), "the material") if material and material.strip() else None,
        thickness_mm=thickness,
        outline=drawn_corners(corners, thickness, "the outline", material_inside=True),
        placement=_against_bosses(bracket),
    )
    return bracket.but(plates=(*bracket.plates, plate))


def drawn_corners(
    places: Sequence[FlatPlace], thickness_mm: float, what: str, *, material_inside: bool
) -> Corners:
    """Return clicked places as corners, anticlockwise, repeated ones dropped, inside corners rounded.

    EditRefused, naming `what`, if they enclose nothing.
    """
    kept: list[FlatPlace] = []
    for place in places:
        at = checked_place(place, f"a corner of {what}")
        if not kept or math.dist(kept[-1], at) > _SAME_CLICK_MM:
            kept.append(at)
    while len(kept) > 1 and math.dist(kept[-1], kept[0]) <= _SAME_CLICK_MM:
        kept.pop()
    if len(kept) < 3:
        raise EditRefused(f"{what} has {len(kept)} corners, which enclose nothing; click at least 3")
    corners = tuple(Corner(at_mm=at) for at in kept)
    area = area_mm2(corners)
    if abs(area) < _SAME_CLICK_MM:
        raise EditRefused(f"{what} has all its corners in one line; click one beside it")
    corners = corners if area > 0.0 else turned_round(corners)
    inside = inside_corners(corners, material_inside=material_inside)
    return rounded(corners, inside, thickness_mm)


def move_corner(plate: Plate, index: int, to: FlatPlace, loop: str | None = None) -> Plate:
    """Return the plate with a corner moved to a flat place; arcs that end there keep their shape."""
    corners = list(checked_corner(plate, loop, index))
    place = checked_place(to, corner_words(plate, loop, index))
    return with_corners(plate, loop, _moved(corners, {index: place}))


def move_edge(plate: Plate, index: int, by: FlatPlace, loop: str | None = None) -> Plate:
    """Return the plate with an edge moved by a step: both its ends, and the point its arc goes through."""
    corners = list(checked_corner(plate, loop, index))
    words = edge_words(plate, loop, index)
    ends = (index, (index + 1) % len(corners))
    return with_corners(
        plate, loop, _moved(corners, {k: moved_place(corners[k].at_mm, by, words) for k in ends})
    )


def insert_corner(plate: Plate, edge_index: int, at: FlatPlace, loop: str | None = None) -> Plate:
    """Return the plate with a corner put into an edge; it gets the number edge_index + 1.

    The halves of an arc stay arcs. Corners that come to turn inward by it are rounded to the thickness, or to
    what fits. EditRefused at an end of the edge.
    """
    corners = checked_corner(plate, loop, edge_index)
    place = checked_place(at, f"a corner on {edge_words(plate, loop, edge_index)}")
    following = (edge_index + 1) % len(corners)
    for k in (edge_index, following):
        if math.dist(place, corners[k].at_mm) < LEAST_EDGE_MM:
            raise EditRefused(
                f"a corner cannot be put where {corner_words(plate, loop, k)} is already; choose a place"
                " between the ends of the edge"
            )
    split = _split(corners, edge_index, place)
    after = (*corners[:edge_index], *split, *corners[edge_index + 1 :])
    shift = {k if k <= edge_index else k + 1 for k in inside_corners(corners, material_inside=loop is None)}
    new = [k for k in inside_corners(after, material_inside=loop is None) if k not in shift]
    return with_corners(plate, loop, rounded(after, new, plate.thickness_mm))


def remove_corner(plate: Plate, index: int, loop: str | None = None) -> Plate:
    """Return the plate without a corner; its neighbours are joined by a straight edge.

    Two halves of one arc become that arc again. EditRefused if what is left would enclose nothing.
    """
    corners = checked_corner(plate, loop, index)
    before, after = edge_of(corners, index - 1), edge_of(corners, index)
    one_arc = (
        isinstance(before, Arc)
        and isinstance(after, Arc)
        and len(corners) > 2
        and math.dist(before.centre, after.centre) < 1e-6 * before.radius_mm
        and before.turn_rad * after.turn_rad > 0.0
    )
    via = corners[index].at_mm if one_arc else None
    previous = (index - 1) % len(corners)
    left = list(corners)
    left[previous] = left[previous].but(arc_via_mm=via)
    del left[index]
    if len(left) < 2 or (len(left) == 2 and all(corner.arc_via_mm is None for corner in left)):
        raise EditRefused(
            f"{corner_words(plate, loop, index)} has to stay, or {loop_words(plate, loop)} would enclose"
            " nothing; move it instead"
        )
    return with_corners(plate, loop, left)


def _moved(corners: list[Corner], to: dict[int, FlatPlace]) -> list[Corner]:
    """Return the corners with some moved; arcs keep their shape between their ends."""
    count = len(corners)
    places = [to.get(k, corner.at_mm) for k, corner in enumerate(corners)]
    moved = []
    for k, corner in enumerate(corners):
        via, following = corner.arc_via_mm, (k + 1) % count
        if via is not None and (k in to or following in to):
            old = (corner.at_mm, corners[following].at_mm)
            via = checked_place(carried(via, old, (places[k], places[following])), "an arc")
        moved.append(corner.but(at_mm=places[k], arc_via_mm=via))
    return moved


def _split(corners: Corners, index: int, place: FlatPlace) -> tuple[Corner, Corner]:
    """Return the corner an edge begins at and the new one, each with its half of the edge."""
    corner, end = corners[index], corners[(index + 1) % len(corners)].at_mm
    arc = edge_of(corners, index)
    if not isinstance(arc, Arc):
        return corner.but(arc_via_mm=None), Corner(at_mm=place)
    share = share_of(arc, place, 0.0) or 0.5
    share = min(max(share, 0.01), 0.99)
    shares = np.array([share / 2, share, (1 + share) / 2])
    first, middle, second = ((float(x), float(y)) for x, y in arc.at(shares))
    return (
        corner.but(arc_via_mm=carried(first, (corner.at_mm, middle), (corner.at_mm, place))),
        Corner(at_mm=place, arc_via_mm=carried(second, (middle, end), (place, end))),
    )


def _against_bosses(bracket: Bracket) -> Placement:
    """Return a placement square to the shaft, on the station where most bosses that look along it end."""
    if bracket.casing is None:
        return Placement()
    stations: Counter[tuple[float, bool]] = Counter()
    for boss in bracket.casing.bosses:
        try:
            at, way = boss_in_space(bracket.casing, boss)
        except ValueError:
            continue
        if abs(float(way[2])) > math.cos(math.radians(1.0)):
            stations[(round(float(at[2]), 6), float(way[2]) > 0.0)] += 1
    if not stations:
        return Placement()
    (station, toward_driver), _ = stations.most_common(1)[0]
    return Placement(origin_mm=(0.0, 0.0, station), origin_on="back" if toward_driver else "front")
