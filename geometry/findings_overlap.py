"""Findings about solid things that stand in the same place: two plates, or a plate and the dash bar."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations
from typing import Final

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from geometry.bar_face import depth_inside_bar
from geometry.finding import Finding
from geometry.finding_words import found
from geometry.flat_pattern import flat_pattern
from geometry.fold_map import FoldMap
from geometry.survey import PlateShape, Survey

Floats = NDArray[np.float64]

DEEPER_MM: Final = 0.3
"""Faces that touch, and drawings that are a hair off, are no overlap."""
_SPOTS_APART_MM: Final = 5.0
"""Between spots on a plate's face: close enough for the thinnest bar."""
_MOST_SPOTS: Final = 3_000
"""On a large plate they stand further apart."""
_LEVELS: Final = (0.0, 0.5, 1.0)
"""Shares of the thickness at which a plate is tried."""


def overlap_findings(known: Survey) -> Iterator[Finding]:
    """Yield every pair of plates that run into each other, and every plate that runs into the dash bar."""
    bar = known.bracket.dash_bar
    if len(known.shapes) < 2 and bar is None:
        return
    bodies = [body for body in map(_body, known.shapes) if body is not None]
    for one, other in combinations(bodies, 2):
        deep, at = max(_runs_into(one, other), _runs_into(other, one), key=lambda found: found[0])
        if deep > DEEPER_MM:
            where = f"plates {one.name} and {other.name}"
            x, y, z = at
            yield found("plates-overlap", where, deep_mm=deep, x=x, y=y, z=z)
    if bar is None:
        return
    for body in bodies:
        inside = depth_inside_bar(bar, body.spots)
        if len(inside) and float(inside.max()) > DEEPER_MM:
            x, y, z = (float(v) for v in body.spots[int(inside.argmax())])
            yield found("plate-in-bar", f"plate {body.name}", deep_mm=float(inside.max()), x=x, y=y, z=z)


@dataclass(frozen=True, eq=False)
class _Body:
    """A plate as a solid in space."""

    name: str
    thickness_mm: float
    metal: BaseGeometry
    """Outline less openings, in the flat."""
    fold_map: FoldMap
    spots: Floats
    """(n, 3) places within its metal, in space."""


def _body(shape: PlateShape) -> _Body | None:
    plate, fold_map = shape.plate, shape.fold_map
    if fold_map is None:
        return None
    metal = flat_pattern(plate).polygon
    flat = _spots_on(metal, plate.thickness_mm)
    levels = [np.column_stack([flat, np.full(len(flat), share * plate.thickness_mm)]) for share in _LEVELS]
    return _Body(plate.name, plate.thickness_mm, metal, fold_map, fold_map.to_space(np.vstack(levels)))


def _spots_on(metal: BaseGeometry, thickness_mm: float) -> Floats:
    """Return flat places (n, 2): close together along edges, further apart on the face.

    Where one plate cuts through another, an edge of one of them lies in the other.
    """
    step = max(_SPOTS_APART_MM, math.sqrt(metal.area / _MOST_SPOTS))
    low_x, low_y, high_x, high_y = metal.bounds
    across = np.arange(low_x + 0.5 * step, high_x, step)
    up = np.arange(low_y + 0.5 * step, high_y, step)
    grid = np.column_stack([axis.ravel() for axis in np.meshgrid(across, up)])
    along = max(0.5 * thickness_mm, metal.length / _MOST_SPOTS)
    edges = shapely.get_coordinates(shapely.segmentize(metal, along))
    return np.vstack([grid[shapely.contains_xy(metal, grid)], edges])


def _runs_into(one: _Body, other: _Body) -> tuple[float, tuple[float, float, float]]:
    """Return how deep the first runs into the metal of the other, and where; 0 if it does not."""
    low, high = other.spots.min(axis=0) - DEEPER_MM, other.spots.max(axis=0) + DEEPER_MM
    near = one.spots[np.all((one.spots >= low) & (one.spots <= high), axis=1)]
    if not len(near):
        return 0.0, (0.0, 0.0, 0.0)
    flat = other.fold_map.to_flat(near)
    # Where nothing of the other plate is, unfolding does not lead back.
    strayed = np.linalg.norm(other.fold_map.to_space(flat) - near, axis=1) > 0.5 * DEEPER_MM
    within = np.minimum(flat[:, 2], other.thickness_mm - flat[:, 2])
    held = np.flatnonzero((within > 0.0) & ~strayed & shapely.contains_xy(other.metal, flat[:, :2]))
    if not len(held):
        return 0.0, (0.0, 0.0, 0.0)
    from_edge = shapely.distance(other.metal.boundary, shapely.points(flat[held, :2]))
    deep = np.minimum(within[held], from_edge)
    at = near[held[int(deep.argmax())]]
    return float(deep.max()), (float(at[0]), float(at[1]), float(at[2]))
