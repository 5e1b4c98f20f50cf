"""The flat pattern of a plate: exact edges, area, mass, cut length, sharp inside corners."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np
import shapely
from shapely.geometry import Polygon

from geometry.flat_segments import (
    FULL_TURN,
    Arc,
    Edge,
    Flat,
    Line,
    Loop,
    ShapeError,
    arc_through,
    loop_area_mm2,
)
from geometry.plate import Corner, CutOut, Hole, Plate, Slot

CHORDS_PER_CIRCLE: Final = 64
"""Chords a whole circle is chopped into for the polygon."""
CHORD_OFF: Final = 1.0 - math.cos(math.pi / CHORDS_PER_CIRCLE)
"""How far a chord lies off its arc at most, as a share of the radius: 0.0012."""
GENTLE_MM: Final = 30.0
GENTLE_OFF_MM: Final = 0.005
"""How far a chord lies off an arc of more than GENTLE_MM radius. With no more chords than others, one of 120
mm had them 0.15 mm outside the sheet; circles round bolts went out there, where no mesh can follow."""
LEAST_EDGE_MM: Final = 1e-6
"""Two corners nearer than this are one place."""
CORNER_REACH: Final = 0.5
"""Radius of the mesh line round a sharp inside corner, over the thickness: stress is read from there on."""
SHARP_FROM_DEG: Final = 1.0
"""A joint that turns by less than this is smooth."""


@dataclass(frozen=True)
class InsideCorner:
    """A sharp re-entrant corner: no radius where the material turns inward."""

    where: str
    """`outline`, or the opening's name."""
    at_mm: Flat
    material_deg: float
    """Angle on the material's side, between 180 and 360."""


@dataclass(frozen=True)
class FlatPattern:
    """A plate's exact edges in the flat."""

    plate: str
    outline: Loop
    openings: dict[str, Loop]
    """By the name of the opening, in the plate's order."""
    polygon: Polygon
    """Outline less openings, arcs chopped into chords; not checked for validity."""

    @property
    def area_mm2(self) -> float:
        """Area of one face, exact."""
        return abs(loop_area_mm2(self.outline)) - math.fsum(
            abs(loop_area_mm2(o)) for o in self.openings.values()
        )

    @property
    def cut_length_mm(self) -> float:
        """Length of all cuts, outline and openings, exact."""
        loops = (self.outline, *self.openings.values())
        return math.fsum(edge.length_mm for loop in loops for edge in loop)

    def mass_kg(self, thickness_mm: float, density_kg_m3: float) -> float:
        """Return the mass of the sheet."""
        return self.area_mm2 * thickness_mm * 1e-9 * density_kg_m3

    def sharp_inside_corners(self) -> tuple[InsideCorner, ...]:
        """Return every re-entrant corner without a radius, of the outline and of openings."""
        found = list(_inside_corners("outline", self.outline, material_inside=True))
        for name, loop in self.openings.items():
            found.extend(_inside_corners(name, loop, material_inside=False))
        return tuple(found)


@lru_cache(maxsize=64)
def flat_pattern(plate: Plate) -> FlatPattern:
    """Return the plate's flat pattern; ShapeError if a corner radius, an arc or an opening cannot be made.

    That of a plate seen lately is kept: one gesture asks for it several times.
    """
    outline = _corner_loop(plate.outline, f"plate {plate.name}, outline")
    openings = {opening.name: opening_loop(opening, plate.name) for opening in plate.openings}
    polygon = Polygon(chopped(outline), [chopped(loop) for loop in openings.values()])
    return FlatPattern(plate.name, outline, openings, polygon)


def refuse_unsound(pattern: FlatPattern) -> None:
    """Raise ShapeError if outline and openings cross or touch themselves or each other."""
    if pattern.polygon.is_valid and not pattern.polygon.is_empty:
        return
    raise ShapeError(
        "pattern_unsound",
        f"plate {pattern.plate}",
        f"its outline and openings cross or touch ({shapely.is_valid_reason(pattern.polygon)})",
        "move them apart",
    )


def edges_round(polygon: Polygon, at: Flat) -> list[shapely.LinearRing]:
    """Return the edges of a plate's polygon but that of the opening a place lies in."""
    place = shapely.Point(at)
    others = (ring for ring in polygon.interiors if not Polygon(ring).contains(place))
    return [polygon.exterior, *others]


def opening_loop(opening: Hole | Slot | CutOut, plate_name: str) -> Loop:
    """Return the exact edges of an opening; ShapeError if it cannot be made."""
    where = f"plate {plate_name}, {opening.kind} {opening.name}"
    if isinstance(opening, Hole):
        return (Arc(opening.centre_mm, opening.diameter_mm / 2.0, 0.0, FULL_TURN),)
    if isinstance(opening, Slot):
        return _slot_loop(opening, where)
    return _corner_loop(opening.corners, where)


def chopped(loop: Loop, chords_per_circle: int = CHORDS_PER_CIRCLE) -> list[Flat]:
    """Return the corners of a polygon along the loop, arcs chopped into chords, ends on the arc.

    A circle has so many chords at least, an arc of a larger radius more of them.
    """
    places: list[Flat] = []
    for edge in loop:
        pieces = 1 if isinstance(edge, Line) else _pieces(edge, chords_per_circle)
        places.extend((float(x), float(y)) for x, y in edge.at(np.arange(pieces) / pieces))
    return places


def _pieces(arc: Arc, chords_per_circle: int) -> int:
    turn = FULL_TURN / chords_per_circle
    if arc.radius_mm > GENTLE_MM:
        turn = min(turn, 2.0 * math.acos(1.0 - GENTLE_OFF_MM / arc.radius_mm))
    return max(2, math.ceil(abs(arc.turn_rad) / turn))


def _slot_loop(slot: Slot, where: str) -> Loop:
    half = slot.width_mm / 2.0
    reach = slot.length_mm / 2.0 - half
    if reach < 0.0:
        raise ShapeError(
            "slot_short",
            where,
            f"it is {slot.length_mm:g} mm long over all but {slot.width_mm:g} mm wide",
            "give a length over all of at least its width",
            slot.centre_mm,
        )
    if reach <= LEAST_EDGE_MM:
        return (Arc(slot.centre_mm, half, 0.0, FULL_TURN),)
    along = math.radians(slot.angle_deg)
    ux, uy = math.cos(along), math.sin(along)
    cx, cy = slot.centre_mm
    right = Arc((cx + reach * ux, cy + reach * uy), half, along - math.pi / 2, math.pi)
    left = Arc((cx - reach * ux, cy - reach * uy), half, along + math.pi / 2, math.pi)
    return (right, Line(right.end, left.start), left, Line(left.end, right.start))


def _corner_loop(corners: Sequence[Corner], where: str) -> Loop:
    count = len(corners)
    places = [corner.at_mm for corner in corners]
    for i in range(count):
        j = (i + 1) % count
        if math.dist(places[i], places[j]) < LEAST_EDGE_MM:
            raise ShapeError(
                "edge_of_no_length",
                where,
                f"corners {i + 1} and {j + 1} are at the same place ({places[i][0]:g}, {places[i][1]:g})",
                "remove one of them",
                places[i],
            )
    if count == 2 and corners[0].arc_via_mm is None and corners[1].arc_via_mm is None:
        raise ShapeError(
            "no_area",
            where,
            "two corners joined by straight edges enclose nothing",
            "add corners or arcs",
            places[0],
        )
    cuts = [_tangent_length(corners, i, where) for i in range(count)]
    loop: list[Edge] = []
    for i, corner in enumerate(corners):
        j = (i + 1) % count
        if corner.arc_via_mm is not None:
            loop.append(arc_through(places[i], corner.arc_via_mm, places[j], f"{where}, corner {i + 1}"))
            continue
        length = math.dist(places[i], places[j])
        spare = length - cuts[i] - cuts[j]
        if spare < -1e-9 * length:
            worse = i if cuts[i] >= cuts[j] else j
            raise ShapeError(
                "corner_radius",
                f"{where}, corner {worse + 1}",
                f"the radius {corners[worse].radius_mm:g} mm needs {cuts[worse]:.2f} mm of an edge "
                f"{length:.2f} mm long that has {length - cuts[i] - cuts[j] + cuts[worse]:.2f} mm to give",
                "make the radius smaller or the edge longer",
                places[worse],
            )
        start, end = _along(places[i], places[j], cuts[i]), _along(places[j], places[i], cuts[j])
        if spare > LEAST_EDGE_MM:
            loop.append(Line(start, end))
        if cuts[j] > 0.0:
            loop.append(_fillet(places[i], places[j], places[(j + 1) % count], corners[j].radius_mm))
    return tuple(loop)


def _tangent_length(corners: Sequence[Corner], i: int, where: str) -> float:
    """How much of each edge the rounding of corner i takes; 0 for a sharp one."""
    corner, before = corners[i], corners[i - 1]
    if corner.radius_mm == 0.0:
        return 0.0
    if corner.arc_via_mm is not None or before.arc_via_mm is not None:
        raise ShapeError(
            "corner_radius_at_arc",
            f"{where}, corner {i + 1}",
            f"the radius {corner.radius_mm:g} mm is at the end of an arc",
            "round only corners between two straight edges; set this radius to 0",
            corner.at_mm,
        )
    after = corners[(i + 1) % len(corners)]
    turn = abs(_turn(_direction(before.at_mm, corner.at_mm), _direction(corner.at_mm, after.at_mm)))
    if turn > math.pi - 1e-6:
        raise ShapeError(
            "edge_doubles_back",
            f"{where}, corner {i + 1}",
            "the edge runs straight back on itself, so it cannot be rounded",
            "move the corner or its neighbours",
            corner.at_mm,
        )
    cut = corner.radius_mm * math.tan(turn / 2.0)
    return cut if cut > LEAST_EDGE_MM else 0.0


def _fillet(before: Flat, at: Flat, after: Flat, radius_mm: float) -> Arc:
    into = _direction(before, at)
    turn = _turn(into, _direction(at, after))
    start = _along(at, before, radius_mm * math.tan(abs(turn) / 2.0))
    side = math.copysign(1.0, turn)
    centre = (start[0] - side * radius_mm * into[1], start[1] + side * radius_mm * into[0])
    return Arc(centre, radius_mm, math.atan2(start[1] - centre[1], start[0] - centre[0]), turn)


def _inside_corners(where: str, loop: Loop, *, material_inside: bool) -> list[InsideCorner]:
    # Walk with the material on the left: then a re-entrant corner is a turn to the right.
    walks_left = (loop_area_mm2(loop) > 0.0) == material_inside
    found = []
    for i, edge in enumerate(loop):
        turn = math.degrees(_turn(loop[i - 1].direction(1.0), edge.direction(0.0)))
        right = -turn if walks_left else turn
        if len(loop) > 1 and right > SHARP_FROM_DEG:
            found.append(InsideCorner(where, edge.start, 180.0 + right))
    return found


def _direction(a: Flat, b: Flat) -> Flat:
    length = math.dist(a, b)
    return ((b[0] - a[0]) / length, (b[1] - a[1]) / length)


def _along(a: Flat, b: Flat, by_mm: float) -> Flat:
    u = _direction(a, b)
    return (a[0] + by_mm * u[0], a[1] + by_mm * u[1])


def _turn(u: Flat, v: Flat) -> float:
    return math.atan2(u[0] * v[1] - u[1] * v[0], u[0] * v[0] + u[1] * v[1])
