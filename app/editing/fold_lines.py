"""A drawn fold line carried to the edges of the material it crosses.

Glossary
--------
run     (from, to) in mm along a line, between which it lies in the material or within the outline
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Sequence
from typing import Final

import shapely
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from app.editing.refused import EditRefused
from geometry.bend_zones import folded_pattern
from geometry.edge_crossings import crossings
from geometry.flat_pattern import chopped, flat_pattern
from geometry.flat_segments import Edge, Line, ShapeError
from geometry.part import FlatPlace
from geometry.plate import FoldLine, Plate

_LEAST_SHARE: Final = 1e-3
"""A run that the drawn line covers by less than this share of its own length is only touched."""


def across_plate(plate: Plate, fold: FoldLine) -> FoldLine:
    """Return the fold line from edge to edge of the material it was drawn across.

    It ends at an opening if the plate folds that way, as at a tab's relief, and runs on past it otherwise.
    A plate whose outline cannot be made leaves the line as drawn. EditRefused if it misses the material.
    """
    flat = plate.but(folds=())
    try:
        pattern = flat_pattern(flat)
    except ShapeError:
        return fold
    if not pattern.polygon.is_valid:
        return fold
    length = math.dist(fold.from_mm, fold.to_mm)
    drawn = Line(fold.from_mm, fold.to_mm)
    loops = (pattern.outline, *pattern.openings.values())
    in_material = _covered(_runs(drawn, itertools.chain(*loops), pattern.polygon), length)
    if not in_material:
        raise EditRefused(
            f"fold {fold.name} from {_text(fold.from_mm)} to {_text(fold.to_mm)} does not cross plate"
            f" {plate.name}; draw it across the material"
        )
    within = _covered(_runs(drawn, pattern.outline, Polygon(chopped(pattern.outline))), length)
    short = _between(fold, in_material)
    long = _between(fold, within or in_material)
    if short == long:
        return short
    try:
        folded_pattern(flat.but(folds=(short,)), pattern)
    except ShapeError:
        return long
    return short


def _runs(line: Line, edges: Iterable[Edge], shape: BaseGeometry) -> list[tuple[float, float]]:
    """Return the runs of a line, endless both ways, through a shape, from the line's own start."""
    low_x, low_y, high_x, high_y = shape.bounds
    reach = 2.0 * math.hypot(high_x - low_x, high_y - low_y) + math.dist(line.start, (low_x, low_y))
    ux, uy = line.direction(0.0)
    (x, y) = line.start
    far = Line((x - reach * ux, y - reach * uy), (x + reach * ux, y + reach * uy))
    cuts = sorted(share * 2.0 * reach - reach for edge in edges for share, _ in crossings(far, edge, 1e-7))
    border = shape.boundary
    found: list[tuple[float, float]] = []
    for low, high in itertools.pairwise(cuts):
        at = (low + high) / 2.0
        spot = shapely.Point(x + at * ux, y + at * uy)
        if high - low < 1e-6 or not shape.contains(spot) or border.distance(spot) < 1e-7:
            continue
        if found and low - found[-1][1] < 1e-6:
            found[-1] = (found[-1][0], high)
        else:
            found.append((low, high))
    return found


def _covered(runs: Sequence[tuple[float, float]], length: float) -> list[tuple[float, float]]:
    """Return the runs that a line drawn from 0 to its length lies on."""
    return [(low, high) for low, high in runs if min(high, length) - max(low, 0.0) > _LEAST_SHARE * length]


def _between(fold: FoldLine, runs: Sequence[tuple[float, float]]) -> FoldLine:
    """Return the fold line from the beginning of the first run to the end of the last."""
    ux, uy = Line(fold.from_mm, fold.to_mm).direction(0.0)
    x, y = fold.from_mm
    ends = [(round(x + at * ux, 9) + 0.0, round(y + at * uy, 9) + 0.0) for at in (runs[0][0], runs[-1][1])]
    return fold.but(from_mm=ends[0], to_mm=ends[1])


def _text(place: FlatPlace) -> str:
    return f"({place[0]:.1f}, {place[1]:.1f})"
