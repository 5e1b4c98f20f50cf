"""A folded plate without a mesh: faces, walls and bends made from the exact edges of its flat pattern."""

from __future__ import annotations

import itertools
from functools import lru_cache
from typing import Final

import numpy as np
import shapely
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from app.mounted.shapes import Floats, Ints, Lines, Shapes, Surface, solid_shapes
from geometry.bend_zones import BendZone, FoldedPattern
from geometry.flat_pattern import chopped
from geometry.flat_segments import Flat, Loop, ShapeError, loop_area_mm2
from geometry.fold_map import FoldMap, fold_map_of
from geometry.plate import Plate

KEPT: Final = 32
REACH: Final = 1e5
"""Half length of the strips a bend zone is cut with, mm: beyond any plate."""


@lru_cache(maxsize=KEPT)
def plate_shapes(plate: Plate) -> Shapes:
    """Return the folded plate; an empty drawing if its shape cannot be made (the findings say why).

    Plates that did not change since they were last drawn are not made again.
    """
    try:
        fold_map = fold_map_of(plate)
    except ShapeError:
        return Shapes()
    flat, triangles = _skin(fold_map.folded, plate.thickness_mm)
    body = ("plate", plate.name)
    solid = Surface("plate", plate.name, body, fold_map.to_space(flat), triangles, "plate")
    return solid_shapes(solid) + Shapes(lines=(_tangents(fold_map, plate),))


def _skin(folded: FoldedPattern, thickness_mm: float) -> tuple[Floats, Ints]:
    """Return flat points (n, 3) and triangles (m, 3), normals outward once folded."""
    points: list[Floats] = []
    triangles: list[Ints] = []
    count = 0
    for region in _regions(folded):
        corners, faces = _triangulated(region)
        size = len(corners)
        points += [np.column_stack([corners, np.full(size, z)]) for z in (0.0, thickness_mm)]
        triangles += [faces[:, ::-1] + count, faces + count + size]
        count += 2 * size
    pattern = folded.pattern
    outline = (pattern.outline, True)
    for loop, is_outline in (outline, *((loop, False) for loop in pattern.openings.values())):
        ring = _ring(loop, folded.zones, leftward=is_outline)
        size = len(ring)
        points += [np.column_stack([ring, np.full(size, z)]) for z in (0.0, thickness_mm)]
        here = np.arange(size, dtype=np.int64)
        after = np.roll(here, -1)
        lower = np.stack([here, after, after + size], axis=1)
        upper = np.stack([here, after + size, here + size], axis=1)
        triangles += [np.concatenate([lower, upper]) + count]
        count += 2 * size
    return np.concatenate(points), np.concatenate(triangles)


def _regions(folded: FoldedPattern) -> list[Polygon]:
    found: list[BaseGeometry] = list(folded.panels)
    for zone in folded.zones:
        found += [shapely.intersection(zone.polygon, strip) for strip in _strips(zone)]
    parts = (part for shape in found for part in getattr(shape, "geoms", [shape]))
    return [part for part in parts if isinstance(part, Polygon) and part.area > 1e-9]


def _strips(zone: BendZone) -> list[Polygon]:
    offsets = zone.width_mm * (np.arange(zone.strips + 1) / zone.strips - 0.5)
    # The outermost reach past the zone, so that no sliver is lost at the tangent lines.
    offsets[0] -= 1e-6
    offsets[-1] += 1e-6
    along, aside, middle = (np.asarray(v) for v in (zone.along, zone.aside, zone.middle))
    return [
        Polygon(
            [
                middle + side * REACH * along + offset * aside
                for side, offset in ((-1.0, low), (1.0, low), (1.0, high), (-1.0, high))
            ]
        )
        for low, high in itertools.pairwise(offsets)
    ]


def _triangulated(region: Polygon) -> tuple[Floats, Ints]:
    pieces = shapely.get_parts(shapely.constrained_delaunay_triangles(region))
    corners = shapely.get_coordinates(pieces).reshape(-1, 4, 2)[:, :3]
    places, numbers = np.unique(corners.reshape(-1, 2), axis=0, return_inverse=True)
    faces: Ints = numbers.reshape(-1, 3).astype(np.int64)
    a, b, c = (places[faces[:, k]] for k in range(3))
    right = (b[:, 0] - a[:, 0]) * (c[:, 1] - a[:, 1]) < (b[:, 1] - a[:, 1]) * (c[:, 0] - a[:, 0])
    faces[right] = faces[right][:, ::-1]
    return places, faces


def _ring(loop: Loop, zones: tuple[BendZone, ...], *, leftward: bool) -> Floats:
    """Return the loop's places (n, 2), a place wherever it crosses a strip's edge, material on the left."""
    places: list[Flat] = chopped(loop)
    if (loop_area_mm2(loop) > 0.0) != leftward:
        places = places[::-1]
    ring = np.asarray(places, dtype=float)
    for zone in zones:
        asides = (ring - np.asarray(zone.middle)) @ np.asarray(zone.aside)
        ring = _cut_at(ring, asides, zone.width_mm * (np.arange(zone.strips + 1) / zone.strips - 0.5))
    return ring


def _cut_at(ring: Floats, asides: Floats, offsets: Floats) -> Floats:
    after, beyond = np.roll(ring, -1, axis=0), np.roll(asides, -1)
    low, high = np.minimum(asides, beyond)[:, None], np.maximum(asides, beyond)[:, None]
    side, crossed = np.nonzero((offsets > low + 1e-9) & (offsets < high - 1e-9))
    if len(side) == 0:
        return ring
    shares = (offsets[crossed] - asides[side]) / (beyond[side] - asides[side])
    cuts = ring[side] + shares[:, None] * (after[side] - ring[side])
    order = np.argsort(np.concatenate([np.arange(len(ring), dtype=float), side + shares]), kind="stable")
    return np.concatenate([ring, cuts])[order]


def _tangents(fold_map: FoldMap, plate: Plate) -> Lines:
    """Return the lines where bends begin and end, on both faces."""
    ends = [
        [(*line.start, z), (*line.end, z)]
        for zone in fold_map.folded.zones
        for line in fold_map.folded.strip_lines(zone, 1)
        for z in (0.0, plate.thickness_mm)
    ]
    flat = np.asarray(ends, dtype=float).reshape(-1, 3)
    placed = fold_map.to_space(flat) if len(flat) else flat
    return Lines("plate", plate.name, ("plate", plate.name), placed.reshape(-1, 2, 3), "thin")
