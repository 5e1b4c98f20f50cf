"""A folded plate as a solid in space: places spread over its metal, and whether a place lies in it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Final

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from geometry.flat_pattern import flat_pattern
from geometry.fold_map import FoldMap
from geometry.survey import PlateShape

if TYPE_CHECKING:
    from scipy.spatial import cKDTree

Floats = NDArray[np.float64]

_SPOTS_APART_MM: Final = 5.0
"""Between spots on a plate's face: close enough for the thinnest bar."""
_MOST_SPOTS: Final = 3_000
"""On a large plate they stand further apart."""
_WORTH_A_SEARCH: Final = 1_000
"""Places; fewer are unfolded sooner than the search is loaded, which the window has no need of."""
_STRAYS_MM: Final = 0.15
"""A place that unfolds and folds back to somewhere further off is not in the plate."""
_LEVELS: Final = (0.0, 0.5, 1.0)
"""Shares of the thickness at which a plate is tried."""


@dataclass(frozen=True, eq=False)
class PlateBody:
    """A plate as a solid in space."""

    name: str
    thickness_mm: float
    metal: BaseGeometry
    """Outline less openings, in the flat."""
    fold_map: FoldMap
    spots: Floats
    """(n, 3) places within its metal, in space."""
    reach_mm: float
    """No metal is further from the nearest spot than this."""

    @cached_property
    def tree(self) -> cKDTree:
        """The spots, to be searched for the nearest."""
        from scipy.spatial import cKDTree

        return cKDTree(self.spots)


def plate_body(shape: PlateShape) -> PlateBody | None:
    """Return the plate as a solid; None if it cannot be folded or placed."""
    plate, fold_map = shape.plate, shape.fold_map
    if fold_map is None:
        return None
    metal = flat_pattern(plate).polygon
    step = max(_SPOTS_APART_MM, math.sqrt(metal.area / _MOST_SPOTS))
    flat = _spots_on(metal, plate.thickness_mm, step)
    levels = [np.column_stack([flat, np.full(len(flat), share * plate.thickness_mm)]) for share in _LEVELS]
    spots = fold_map.to_space(np.vstack(levels))
    # Half a square's diagonal is 0.71 of a step; a bend draws its outer face out by up to the thickness.
    reach = step + max(plate.thickness_mm, metal.length / _MOST_SPOTS)
    return PlateBody(plate.name, plate.thickness_mm, metal, fold_map, spots, reach)


def depth_in_plate(body: PlateBody, places: Floats) -> Floats:
    """Return how deep places (n, 3) lie in the metal, mm (n,); 0 for those outside it."""
    deep = np.zeros(len(places))
    near = np.flatnonzero(_near(body, places))
    if len(near):
        deep[near] = _depth_of_near(body, places[near])
    return deep


def _near(body: PlateBody, places: Floats) -> NDArray[np.bool_]:
    """Return which places (n, 3) stand near metal; unfolding the others, which is dear, would tell nothing.

    Spots stand along every edge, and every line across a fold that stays straight ends at edges: no metal
    stands further out than the spots by more than the way between two of them.
    """
    if not len(body.spots):
        return np.zeros(len(places), dtype=bool)
    beyond = body.thickness_mm + body.metal.length / _MOST_SPOTS
    low, high = body.spots.min(axis=0) - beyond, body.spots.max(axis=0) + beyond
    within = ((places >= low) & (places <= high)).all(axis=1)
    boxed = np.flatnonzero(within)
    if len(boxed) > _WORTH_A_SEARCH:
        off, _ = body.tree.query(places[boxed], distance_upper_bound=body.reach_mm)
        within[boxed] = np.isfinite(off)
    return np.asarray(within)


def _depth_of_near(body: PlateBody, places: Floats) -> Floats:
    deep = np.zeros(len(places))
    flat = body.fold_map.to_flat(places)
    # Where nothing of the plate is, unfolding does not lead back.
    strayed = np.linalg.norm(body.fold_map.to_space(flat) - places, axis=1) > _STRAYS_MM
    within = np.minimum(flat[:, 2], body.thickness_mm - flat[:, 2])
    held = np.flatnonzero((within > 0.0) & ~strayed & shapely.contains_xy(body.metal, flat[:, :2]))
    if len(held):
        from_edge = shapely.distance(body.metal.boundary, shapely.points(flat[held, :2]))
        deep[held] = np.minimum(within[held], from_edge)
    return deep


def _spots_on(metal: BaseGeometry, thickness_mm: float, step: float) -> Floats:
    """Return flat places (n, 2): close together along edges, further apart on the face.

    Where one plate cuts through another, an edge of one of them lies in the other.
    """
    low_x, low_y, high_x, high_y = metal.bounds
    across = np.arange(low_x + 0.5 * step, high_x, step)
    up = np.arange(low_y + 0.5 * step, high_y, step)
    grid = np.column_stack([axis.ravel() for axis in np.meshgrid(across, up)])
    along = max(0.5 * thickness_mm, metal.length / _MOST_SPOTS)
    edges = shapely.get_coordinates(shapely.segmentize(metal, along))
    return np.vstack([grid[shapely.contains_xy(metal, grid)], edges])
