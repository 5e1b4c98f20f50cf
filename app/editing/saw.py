"""The saw: a straight line across a plate makes it two, and everything stays with its piece.

`joined`, its reverse, is in joined_plates.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import Final

import numpy as np
import shapely
from shapely.geometry import LineString, Point, Polygon

from app.editing.edge_ring import (
    Ring,
    corners_of,
    counter_clockwise,
    edges_of,
    opening_ring,
    outline_ring,
    signed_area_mm2,
    smoothed,
)
from app.editing.joined_plates import joined
from app.editing.names import plate_of
from app.editing.possible import folded
from app.editing.refused import EditRefused
from app.editing.sawn_rings import cut_rings
from app.editing.still_panel import placed_where_it_stood
from app.editing.welding import refuse_welded
from geometry.bracket import Bracket
from geometry.fixing import AtHole, Bolt
from geometry.flat_pattern import chopped
from geometry.flat_segments import Flat, Line, ShapeError
from geometry.fold_map import FoldMap
from geometry.placing import place_bolts
from geometry.plate import CutOut, FoldLine, Hole, Plate, Slot

__all__ = ["joined", "saw"]

LEAST_PIECE_MM2: Final = 1.0
_LEAST_FOLD_MM: Final = 1e-3


def saw(bracket: Bracket, plate_name: str, from_mm: Flat, to_mm: Flat) -> Bracket:
    """Return the bracket with the plate cut in two along a straight line of its flat pattern.

    Bolts, openings and folds stay with their piece, a fold that the line crosses is cut in two, an opening
    that it runs through becomes part of both outlines, and each piece stands where it stood. EditRefused if
    the line does not make exactly two pieces, runs through a bolt's footprint or along a bend, or if the
    plate is welded.
    """
    plate = plate_of(bracket, plate_name)
    if math.dist(from_mm, to_mm) < 1e-6:
        raise EditRefused("the saw's line has no length: draw it from one edge of the plate to another")
    refuse_welded(bracket, plate_name, "sawn")
    fold_map = folded(plate, "sawn")
    _refuse_footprints(bracket, plate, from_mm, to_mm)
    rings = [counter_clockwise(outline_ring(plate.outline, f"plate {plate.name}"))]
    rings += [counter_clockwise(opening_ring(opening), hole=True) for opening in plate.openings]
    cut = cut_rings(rings, from_mm, to_mm)
    touched = {number - 1 for number in cut.touched if number > 0}
    _refuse_bolted_openings(bracket, plate, (plate.openings[i].name for i in touched))
    whole = [opening for i, opening in enumerate(plate.openings) if i not in touched]
    outlines = _two(cut.rings, outline_cut=0 in cut.touched)
    pieces = [_piece(plate, fold_map, outline, whole) for outline in _in_order(outlines)]
    names = _two_names(bracket, plate.name)
    made = [
        placed_where_it_stood(piece.but(name=name), fold_map)
        for piece, name in zip(pieces, names, strict=True)
    ]
    return _with_pieces(bracket, plate, made)


def _refuse_footprints(bracket: Bracket, plate: Plate, from_mm: Flat, to_mm: Flat) -> None:
    line = LineString([from_mm, to_mm])
    for place in place_bolts(bracket):
        if place.plate != plate.name:
            continue
        near, reach = float(line.distance(Point(place.flat_mm))), place.spread_mm
        if near < reach:
            raise EditRefused(
                f"the line passes {near:.1f} mm from the middle of bolt {place.bolt}, whose footprint reaches"
                f" {reach:.1f} mm: keep the line clear of it, or take the bolt out first"
            )


def _refuse_bolted_openings(bracket: Bracket, plate: Plate, names: Iterable[str]) -> None:
    """Refuse to cut an opening that a bolt goes through, also where the bolt itself cannot be placed."""
    for name in names:
        for bolt in bracket.bolts:
            ends = [(bolt.plate, bolt.hole)]
            if isinstance(bolt.joins, AtHole):
                ends.append((bolt.joins.plate, bolt.joins.opening))
            if (plate.name, name) in ends:
                raise EditRefused(
                    f"the line runs through opening {name}, which bolt {bolt.name} goes through: move the"
                    " line, or take the bolt out first"
                )


def _two(rings: tuple[Ring, ...], *, outline_cut: bool) -> list[Ring]:
    pieces = [ring for ring in rings if signed_area_mm2(ring) > 0.0]
    if not outline_cut or len(pieces) < 2:
        raise EditRefused(
            "the line leaves the plate in one piece: draw it from edge to edge, right through every web"
        )
    if len(pieces) > 2:
        raise EditRefused(f"the line would make {len(pieces)} pieces: draw a shorter line for each cut")
    smallest = min(signed_area_mm2(ring) for ring in pieces)
    if smallest < LEAST_PIECE_MM2:
        raise EditRefused(
            f"the line would cut off only {smallest:.2f} mm2: draw it further from the plate's edge"
        )
    return pieces


def _in_order(outlines: list[Ring]) -> list[Ring]:
    """Return the pieces left to right if they lie more beside each other, else top to bottom."""
    middles = [Polygon(chopped(tuple(edges_of(ring)))).centroid for ring in outlines]
    beside = abs(middles[0].x - middles[1].x) >= abs(middles[0].y - middles[1].y)
    order = [(m.x if beside else -m.y) for m in middles]
    return outlines if order[0] <= order[1] else outlines[::-1]


def _piece(plate: Plate, fold_map: FoldMap, outline: Ring, openings: list[Hole | Slot | CutOut]) -> Plate:
    shape = Polygon(chopped(tuple(edges_of(outline))))
    mine = tuple(opening for opening in openings if shape.contains(_spot_in(opening)))
    folds = tuple(
        part for fold in plate.folds if (part := _fold_within(fold, shape, plate, fold_map)) is not None
    )
    bare = plate.but(outline=corners_of(smoothed(outline)), openings=mine, folds=folds)
    try:
        FoldMap(bare.but(placement=bare.placement.but(still_at_mm=None)))
    except ShapeError as fault:
        what = fault.where.rpartition(", ")[2] if ", " in fault.where else "a piece"
        raise EditRefused(f"the line spoils {what}: {fault.found}; move the line") from fault
    return bare


def _spot_in(opening: Hole | Slot | CutOut) -> Point:
    if isinstance(opening, CutOut):
        edges = edges_of(opening_ring(opening))
        return Polygon(chopped(tuple(edges))).representative_point()
    return Point(opening.centre_mm)


def _fold_within(fold: FoldLine, piece: Polygon, plate: Plate, fold_map: FoldMap) -> FoldLine | None:
    """Return what of a fold line a piece keeps, drawn ends kept where no other material is beyond them."""
    line = Line(fold.from_mm, fold.to_mm)
    drawn = LineString([fold.from_mm, fold.to_mm])
    inside = _extent(drawn, piece)
    zones = [zone.polygon for zone in fold_map.folded.zones if zone.fold.name == fold.name]
    strip = shapely.union_all(zones).intersection(piece).area
    if inside is None:
        if strip > 1e-3 * plate.thickness_mm**2:
            raise EditRefused(
                f"the line runs along the bend of fold {fold.name}: keep it clear of the bend, or across it"
            )
        return None
    all_inside = _extent(drawn, fold_map.folded.pattern.polygon)
    assert all_inside is not None
    low = 0.0 if inside[0] <= all_inside[0] + _LEAST_FOLD_MM else inside[0]
    high = drawn.length if inside[1] >= all_inside[1] - _LEAST_FOLD_MM else inside[1]
    ends = line.at(np.array([low, high]) / line.length_mm)
    start, end = ((float(x), float(y)) for x, y in ends)
    return fold.but(
        from_mm=fold.from_mm if low == 0.0 else start, to_mm=fold.to_mm if high == drawn.length else end
    )


def _extent(drawn: LineString, shape: Polygon) -> tuple[float, float] | None:
    inside = shape.intersection(drawn)
    if inside.length < _LEAST_FOLD_MM:
        return None
    along = [drawn.project(Point(place)) for place in shapely.get_coordinates(inside)]
    return min(along), max(along)


def _two_names(bracket: Bracket, name: str) -> tuple[str, str]:
    """Return two names that no plate has; a long name is cut so that they fit."""
    taken = {plate.name for plate in bracket.plates} - {name}
    letters = [chr(ord("a") + k) for k in range(26)]
    pairs = [*zip(letters[::2], letters[1::2], strict=True)] + [(f"a{k}", f"b{k}") for k in range(1, 1000)]
    for pair in pairs:
        first, second = (f"{name[:70]} {letter}" for letter in pair)
        if not {first, second} & taken:
            return first, second
    raise EditRefused(f"no name is left for the pieces of plate {name}: give the plate another name first")


def _with_pieces(bracket: Bracket, plate: Plate, pieces: list[Plate]) -> Bracket:
    owner = {opening.name: piece.name for piece in pieces for opening in piece.openings}
    plates: list[Plate] = []
    for there in bracket.plates:
        plates += pieces if there.name == plate.name else [there]
    bolts = tuple(_moved(bolt, plate.name, owner) for bolt in bracket.bolts)
    return bracket.but(plates=tuple(plates), bolts=bolts)


def _moved(bolt: Bolt, sawn: str, owner: dict[str, str]) -> Bolt:
    """Return the bolt with the piece its hole is in; one through a hole that is not there keeps its name."""
    if bolt.plate == sawn and bolt.hole in owner:
        bolt = bolt.but(plate=owner[bolt.hole])
    joins = bolt.joins
    if isinstance(joins, AtHole) and joins.plate == sawn and joins.opening in owner:
        bolt = bolt.but(joins=joins.but(plate=owner[joins.opening]))
    return bolt
