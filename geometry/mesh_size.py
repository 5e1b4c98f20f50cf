"""How large the triangles of a flat mesh should be, place by place.

Size is smallest at holes, inside radii, sharp inside corners, bends and thin ligaments, and grows with the
distance from them by at most GROWTH per millimetre up to the size asked for.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Final

import numpy as np
import shapely
from numpy.typing import NDArray
from scipy.spatial import cKDTree

from geometry.flat_pattern import CHORD_OFF, FlatPattern
from geometry.flat_segments import Arc, Edge, Floats, loop_area_mm2
from geometry.footprint import Footprint, merged_radii
from geometry.mesh_lines import CLAMPED_PER_QUARTER, LEAST_PER_QUARTER

GROWTH: Final = 0.6
"""Size gained per millimetre of distance."""
CLAMPED_GROWTH: Final = 1.0
"""The same from a hole a bolt clamps: no stress is judged under the footprint."""
PLATE_TRIANGLES: Final = 150
"""Triangles of the default size that would cover the plate, features aside."""
ACROSS_LIGAMENT: Final = 2
"""Elements across a ligament, at least."""
CORNER_SHARE: Final = 0.25
"""Size at a sharp inside corner, as a share of the thickness."""
RING_GAP: Final = 24.0
"""Size on two neighbouring circles about one hole, at most, over the gap between them."""
RING_BULGE: Final = 0.19
"""Bulge of a stretch of such a circle over that gap, at most: wherever the corner behind it stands, its
triangle keeps LEAST_ROOM (`mesh_bulges`)."""

_AT_ONCE: Final = 512
"""Places looked at together: their distances from all circles stay near the processor."""

_Circle = tuple[float, float, float, float, float]
SizeField = Callable[[Floats], Floats] | tuple[Floats, Floats]
"""Sizes wanted: a function of flat places (n, 2), or places (n, 2) and the sizes (n,) there."""


@dataclass(frozen=True)
class MeshSize:
    """Sizes by place: the least of what circles, places and an outer field ask for."""

    far_mm: float
    circles: Floats
    """(n, 5): centre x, y, radius, size on it, growth from it."""
    places: Floats
    """(n, 3): x, y, size there."""
    wanted: Callable[[Floats], Floats] | None = None
    share: float = 1.0
    """All of it is taken this many times."""

    @cached_property
    def _trees(self) -> tuple[tuple[float, cKDTree], ...]:
        sizes = self.places[:, 2]
        return tuple((own, cKDTree(self.places[sizes == own, :2])) for own in np.unique(sizes).tolist())

    @cached_property
    def _centres(self) -> tuple[Floats, NDArray[np.int64]]:
        """The places that circles lie about (k, 2), and which of them each circle has."""
        centres, which = np.unique(self.circles[:, :2], axis=0, return_inverse=True)
        return centres, which.reshape(-1)

    def at(self, where: Floats) -> Floats:
        """Return the size (n,) at flat places (n, 2), mm."""
        size = np.full(len(where), self.far_mm, dtype=np.float64)
        if len(self.circles):
            for first in range(0, len(where), _AT_ONCE):
                part = slice(first, first + _AT_ONCE)
                np.minimum(size[part], self._from_circles(where[part]), out=size[part])
        for own, tree in self._trees:
            # Sought only where something of its size could ask for less than is wanted anyway.
            reach = max(self.far_mm - own, 1e-9) / GROWTH
            within = (where >= tree.mins - reach) & (where <= tree.maxes + reach)
            near = np.flatnonzero(within[:, 0] & within[:, 1] & (size > own))
            if len(near):
                off, _ = tree.query(where[near], distance_upper_bound=reach)
                size[near] = np.minimum(size[near], own + GROWTH * off)
        if self.wanted is not None:
            np.minimum(size, self.wanted(where), out=size)
        return self.share * size

    def _from_circles(self, where: Floats) -> Floats:
        centres, which = self._centres
        away = where[:, None, :] - centres
        off = np.abs(np.hypot(away[:, :, 0], away[:, :, 1])[:, which] - self.circles[:, 2])
        return np.asarray((self.circles[:, 3] + self.circles[:, 4] * off).min(axis=1))


def default_size_mm(pattern: FlatPattern) -> float:
    """Return a size, mm, for a quick first mesh: PLATE_TRIANGLES triangles of it cover the plate."""
    return math.sqrt(pattern.area_mm2 / PLATE_TRIANGLES * 4.0 / math.sqrt(3.0))


def mesh_size(
    pattern: FlatPattern,
    footprints: Sequence[Footprint],
    thickness_mm: float,
    far_mm: float,
    bends: Iterable[tuple[Edge, float]] = (),
    field: SizeField | None = None,
) -> MeshSize:
    """Return the sizes a plate asks for; `bends` are lines of a bend with the size wanted along each."""
    circles: list[_Circle] = []
    places: list[Floats] = []
    for loop in pattern.openings.values():
        for edge in loop:
            if isinstance(edge, Arc) and edge.is_circle:
                size = _arc_size(edge, least_per_quarter(edge, footprints))
                growth = CLAMPED_GROWTH if is_clamped(edge, footprints) else GROWTH
                circles.append((*edge.centre, edge.radius_mm, size, growth))
            elif isinstance(edge, Arc):
                places.append(_along(edge, _arc_size(edge)))
    places.extend(_along(edge, _arc_size(edge)) for edge in inside_arcs(pattern))
    for footprint in footprints:
        circles.extend(_ring_circles(footprint, thickness_mm))
    corners = [(*corner.at_mm, CORNER_SHARE * thickness_mm) for corner in pattern.sharp_inside_corners()]
    places.append(np.array(corners).reshape(-1, 3))
    places.append(_ligaments(pattern, far_mm))
    places.extend(_along(edge, size) for edge, size in bends)
    steps = np.concatenate(places)
    # Few distinct sizes keep the search quick: round down to steps of a tenth.
    steps[:, 2] = far_mm * 1.1 ** np.floor(np.log(np.minimum(steps[:, 2], far_mm) / far_mm) / math.log(1.1))
    return MeshSize(
        far_mm, np.array(circles).reshape(-1, 5), steps, None if field is None else _wanted(field)
    )


def inside_arcs(pattern: FlatPattern) -> list[Arc]:
    """Return the arcs of the outline that curve into the material: inside radii."""
    return [edge for edge in pattern.outline if isinstance(edge, Arc) and is_inside_arc(edge, pattern)]


def is_inside_arc(edge: Arc, pattern: FlatPattern) -> bool:
    """Return whether the outline is hollow at this arc, so that stress gathers there."""
    left = loop_area_mm2(pattern.outline) > 0.0
    return (edge.turn_rad < 0.0) == left


def is_clamped(edge: Edge, footprints: Sequence[Footprint]) -> bool:
    """Return whether an edge of an opening is a hole that a bolt clamps."""
    return (
        isinstance(edge, Arc)
        and edge.is_circle
        and any(math.dist(edge.centre, f.centre_mm) < edge.radius_mm for f in footprints)
    )


def least_per_quarter(edge: Edge, footprints: Sequence[Footprint]) -> int:
    """Return how many elements a quarter turn of an opening's edge takes, at least."""
    return CLAMPED_PER_QUARTER if is_clamped(edge, footprints) else LEAST_PER_QUARTER


def _arc_size(arc: Arc, per_quarter: int = LEAST_PER_QUARTER) -> float:
    return arc.radius_mm * (math.pi / 2.0) / per_quarter


def _along(edge: Edge, size: float) -> Floats:
    count = max(2, math.ceil(edge.length_mm / (0.5 * size))) + 1
    places = edge.at(np.linspace(0.0, 1.0, count))
    return np.column_stack([places, np.full(count, size)])


def _ring_circles(footprint: Footprint, thickness_mm: float) -> list[_Circle]:
    radii = sorted(set(merged_radii(footprint, thickness_mm).values()))
    found: list[_Circle] = []
    for inner, outer in itertools.pairwise(radii):
        gap = outer - inner
        size = min(RING_GAP * gap, math.sqrt(8.0 * RING_BULGE * inner * gap))
        found.extend((*footprint.centre_mm, radius, size, GROWTH) for radius in (inner, outer))
    return found


def _ligaments(pattern: FlatPattern, far_mm: float) -> Floats:
    """Places on the border where the material is thin, with the size it asks for there (n, 3)."""
    places, inward, starts = [], [], []
    for number, loop in enumerate((pattern.outline, *pattern.openings.values())):
        left = (loop_area_mm2(loop) > 0.0) == (number == 0)
        for edge in loop:
            count = max(3, math.ceil(edge.length_mm / (0.15 * far_mm)), 8 if isinstance(edge, Arc) else 0)
            shares = (np.arange(count) + 0.5) / count
            places.append(edge.at(shares))
            along = np.array([edge.direction(share) for share in shares.tolist()])
            inward.append((1.0 if left else -1.0) * np.column_stack([-along[:, 1], along[:, 0]]))
            # The polygon's chords lie a little off an arc: set out behind them.
            radius = edge.radius_mm if isinstance(edge, Arc) else 0.0
            starts.append(np.full(count, 1e-6 * far_mm + 2.0 * CHORD_OFF * radius))
    at, into, start = np.concatenate(places), np.concatenate(inward), np.concatenate(starts)
    # How far is it straight through the material to the next edge?
    ends = np.stack([at + start[:, None] * into, at + ACROSS_LIGAMENT * far_mm * into], axis=1)
    met = shapely.intersection(shapely.linestrings(ends), shapely.boundary(pattern.polygon))
    width = np.where(shapely.is_empty(met), np.inf, shapely.distance(shapely.points(at), met))
    size = width / ACROSS_LIGAMENT
    thin = size < far_mm
    return np.column_stack([at[thin], size[thin]])


def _wanted(field: SizeField) -> Callable[[Floats], Floats]:
    if callable(field):
        return field
    places, sizes = field
    tree = cKDTree(places)
    nearest = min(3, len(places))

    def at(where: Floats) -> Floats:
        off, index = tree.query(where, k=nearest)
        off, index = off.reshape(len(where), -1), index.reshape(len(where), -1)
        weight = 1.0 / (off + 1e-9)
        mean: Floats = (weight * sizes[index]).sum(axis=1) / weight.sum(axis=1)
        return mean

    return at
