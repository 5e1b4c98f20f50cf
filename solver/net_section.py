"""The net sections from a bolt's hole to the nearest edge, and to others on other sides.

What is judged inside the circle, where a peak has no meaning.

The stress on the section is replaced by the straight line through it that carries the same force and moments:
mean, slope across the width, slope through the thickness. That is held against yield over its factor, with
the mean shear.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from geometry.flat_pattern import edges_round, flat_pattern
from geometry.placing import BoltPlace
from geometry.plate import Plate
from geometry.solid_mesh import SolidMesh
from solver.largest import settled
from solver.rigid import Floats

_ALONG = 9
"""Places along a section that its stress is read at."""
NEAR = 3.0
"""Edges up to so many times as far off as the nearest are judged too (judgement, no source)."""
ASIDE = 0.5
"""Cosine of the least angle between the ways to two edges of one hole that are both judged."""


@dataclass(frozen=True)
class NetSection:
    """One section of one plate, for every mode of the plate."""

    plate: int
    bolt: str
    width_mm: float
    parts: Floats
    """(4, 6 b + 3): mean, slope across the width, slope through the thickness, mean shear; MPa."""
    words: str

    def stress_mpa(self, amounts: Floats) -> Floats:
        """Return the (columns,) equivalent stress for amounts of every mode (6 b + 3, columns)."""
        mean, across, through, shear = self.parts @ amounts
        direct = np.abs(mean) + np.abs(across) + np.abs(through)
        return np.asarray(np.sqrt(direct**2 + 3.0 * shear**2))


def net_sections(
    index: int, plate: Plate, mesh: SolidMesh, places: Sequence[BoltPlace], stress: Floats
) -> tuple[NetSection, ...]:
    """Return the net section beside every bolt of a plate.

    `stress` (v, 6, modes) is the stress at mesh.vertex_nodes, `index` the plate's place in the bracket.
    """
    polygon = flat_pattern(plate).polygon
    triangles = _Triangles(mesh)
    found = []
    for place in places:
        for number, (start, end) in enumerate(_to_edges(polygon, place)):
            rows = _readings(triangles, stress, start + _shares()[:, None] * (end - start))
            if rows is None:
                continue
            width, which = float(np.linalg.norm(end - start)), "another" if number else "the nearest"
            found.append(
                NetSection(
                    index,
                    place.bolt,
                    width,
                    _parts(rows, end - start, place),
                    f"{plate.name}, from bolt {place.bolt} to {which} edge ({width:.1f} mm)",
                )
            )
    return tuple(found)


def _shares() -> Floats:
    """Middles of equal stretches, so that each reading stands for as much of the width."""
    return (np.arange(_ALONG) + 0.5) / _ALONG


def _to_edges(polygon: shapely.Polygon, place: BoltPlace) -> list[tuple[Floats, Floats]]:
    """Return both ends of each section in the flat pattern: the hole's rim and an edge that is not its own.

    The nearest edge comes first, then those up to NEAR times as far off on other sides: in the middle of a
    strap either side may be the worse.
    """
    centre = np.asarray(place.flat_mm)
    rings = [shapely.get_coordinates(ring) - centre for ring in edges_round(polygon, place.flat_mm)]
    start = np.concatenate([ring[:-1] for ring in rings])
    along = np.concatenate([np.diff(ring, axis=0) for ring in rings])
    share = -np.einsum("ni,ni->n", start, along) / np.maximum(np.einsum("ni,ni->n", along, along), 1e-300)
    nearest = start + np.clip(share, 0.0, 1.0)[:, None] * along
    sizes = np.linalg.norm(nearest, axis=1)
    taken: list[Floats] = []
    for i in np.argsort(settled(sizes), kind="stable")[: np.count_nonzero(sizes <= NEAR * sizes.min())]:
        way = nearest[i]
        if all(way @ other <= ASIDE * sizes[i] * np.hypot(*other) for other in taken):
            taken.append(way)
    return [(centre + way / np.hypot(*way) * place.hole_radius_mm, centre + way) for way in taken]


class _Triangles:
    """Finds the flat triangle a place lies in, and the vertices above it at every level."""

    def __init__(self, mesh: SolidMesh) -> None:
        self.corners = mesh.flat_triangles[:, :3]
        self.flat = mesh.flat_points[self.corners, :2]
        first = self.flat[:, 0]
        self.first = first
        self.inverse = np.linalg.inv(np.stack([self.flat[:, 1] - first, self.flat[:, 2] - first], axis=2))
        low, high = self.flat.min(axis=1), self.flat.max(axis=1)
        reach = 0.5 * (high - low)
        self.low, self.high = low - reach, high + reach
        self.levels = range(0, mesh.levels, 2)
        rows = np.full(mesh.levels * mesh.n_flat, -1, dtype=np.int64)
        rows[mesh.lattice[mesh.vertex_nodes]] = np.arange(len(mesh.vertex_nodes))
        self.rows = rows.reshape(mesh.levels, mesh.n_flat)
        """(levels, flat numbers) rows of the stress at vertices; -1 where there is none."""

    def at(self, places: Floats) -> tuple[np.ndarray, Floats] | None:
        """Return flat vertex numbers (p, 3) and their weights for places (p, 2); None if one is outside.

        The nearest triangle within a hair's breadth counts.
        """
        above, below = self.high >= places.min(axis=0), self.low <= places.max(axis=0)
        near = np.flatnonzero(above.all(axis=1) & below.all(axis=1))
        if not len(near):
            return None
        local = np.einsum("nij,pnj->pni", self.inverse[near], places[:, None] - self.first[near])
        weights = np.concatenate([1.0 - local.sum(axis=2, keepdims=True), local], axis=2)
        least = weights.min(axis=2)
        best = least.argmax(axis=1)
        here = np.arange(len(places))
        if (least[here, best] < -0.2).any():
            return None
        return self.corners[near[best]], weights[here, best]


def _readings(triangles: _Triangles, stress: Floats, places: Floats) -> Floats | None:
    """Return the stress (p, levels, 6, modes) at flat places (p, 2); None if one is outside."""
    found = triangles.at(places)
    if found is None:
        return None
    nodes, weights = found
    at = triangles.rows[:, nodes]
    low, high = stress[at[0]], stress[at[-1]]
    levels = []
    for level in triangles.levels:
        # Where there is one layer the stress runs straight from face to face.
        share = level / triangles.levels[-1]
        there = (at[level] >= 0)[:, :, None, None]
        values = np.where(there, stress[at[level]], (1.0 - share) * low + share * high)
        levels.append(np.einsum("pk,pkcm->pcm", weights, values))
    return np.stack(levels, axis=1)


def _parts(readings: Floats, along: Floats, place: BoltPlace) -> Floats:
    """Return mean, slopes and mean shear on the section along `along`.

    `readings` (places, levels, 6, modes).
    """
    in_sheet = place.frame[:, :2]
    width = in_sheet @ (along / np.linalg.norm(along))
    normal = in_sheet @ (np.array([-along[1], along[0]]) / np.linalg.norm(along))
    direct = np.tensordot(readings, _voigt(normal, normal), axes=([2], [0]))
    shear = np.tensordot(readings, _voigt(normal, width), axes=([2], [0]))
    levels = readings.shape[1]
    # Simpson's rule through the thickness: a bending stress is a straight line there, a curved one is
    # nearly a parabola.
    weight = np.array([0.5, 0.5]) if levels == 2 else _simpson(levels)
    height = np.linspace(-1.0, 1.0, levels)
    across = 2.0 * _shares() - 1.0
    mean = np.tensordot(weight, direct.mean(axis=0), axes=1)
    slope_across = np.tensordot(weight, np.tensordot(across, direct, axes=1), axes=1) / float(across @ across)
    slope_through = np.tensordot(weight * height, direct.mean(axis=0), axes=1) / float(weight @ height**2)
    return np.array([mean, slope_across, slope_through, np.tensordot(weight, shear.mean(axis=0), axes=1)])


def _simpson(levels: int) -> Floats:
    weight = np.ones(levels)
    weight[1:-1:2] = 4.0
    weight[2:-1:2] = 2.0
    if levels % 2 == 0:
        weight = np.ones(levels)
        weight[[0, -1]] = 0.5
    return np.asarray(weight / weight.sum())


def _voigt(a: Floats, b: Floats) -> Floats:
    """Return the (6,) weights with which stress xx, yy, zz, yz, xz, xy gives a . stress . b."""
    return np.array(
        [
            a[0] * b[0],
            a[1] * b[1],
            a[2] * b[2],
            a[1] * b[2] + a[2] * b[1],
            a[0] * b[2] + a[2] * b[0],
            a[0] * b[1] + a[1] * b[0],
        ]
    )
