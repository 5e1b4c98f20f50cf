"""A flat triangulation swept through the thickness into quadratic tetrahedra.

Every triangle becomes one prism a layer, every prism three tetrahedra. The vertices of a triangle are taken
in the order of their numbers, so each upright quadrilateral is cut from its lower number's bottom to its
higher number's top, whichever of its two prisms asks.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from geometry.solid_mesh import Floats, Ints

_TETS: Final = (
    ((0, 0), (1, 0), (2, 0), (2, 2)),
    ((0, 0), (1, 2), (1, 0), (2, 2)),
    ((0, 0), (0, 2), (1, 2), (2, 2)),
)
"""Tetrahedra of a prism: (vertex in order of number, level above the layer's bottom); upright if that order
turns from x to y."""
_EDGES: Final = ((0, 1), (1, 2), (0, 2), (0, 3), (1, 3), (2, 3))
_TURNED: Final = [0, 2, 1, 3, 6, 5, 4, 7, 9, 8]
"""Node order of a tetrahedron turned over."""


@dataclass(frozen=True)
class FlatTriangles:
    """A flat triangulation with a node in the middle of each edge."""

    points: Floats
    """(n, 2) vertices first, then middles, mm."""
    triangles: Ints
    """(nt, 6) vertices turning from x toward y, then middles of 01, 12, 02."""
    n_vertices: int
    edge_keys: Ints
    """Sorted lower * n_vertices + higher of each edge; its middle is node n_vertices + place in this list."""

    def middles(self, stretches: Ints) -> Ints:
        """Return the middle nodes (m,) of edges given by their ends (m, 2); KeyError if one is no edge."""
        low, high = stretches.min(axis=1), stretches.max(axis=1)
        key = low * self.n_vertices + high
        at = np.minimum(np.searchsorted(self.edge_keys, key), len(self.edge_keys) - 1)
        if (self.edge_keys[at] != key).any():
            raise KeyError("a mesh line is not an edge of the triangulation")
        nodes: Ints = self.n_vertices + at
        return nodes


def with_middles(vertices: Floats, triangles: Ints) -> FlatTriangles:
    """Return the triangulation turned from x toward y, with straight edges' middles."""
    a, b, c = (vertices[triangles[:, k]] for k in range(3))
    area = (b[:, 0] - a[:, 0]) * (c[:, 1] - a[:, 1]) - (b[:, 1] - a[:, 1]) * (c[:, 0] - a[:, 0])
    turned = np.where((area < 0.0)[:, None], triangles[:, [0, 2, 1]], triangles)
    count = len(vertices)
    ends = np.concatenate([turned[:, [0, 1]], turned[:, [1, 2]], turned[:, [0, 2]]])
    keys, where = np.unique(ends.min(axis=1) * count + ends.max(axis=1), return_inverse=True)
    middles = 0.5 * (vertices[keys // count] + vertices[keys % count])
    number = count + where.reshape(3, -1).T
    return FlatTriangles(
        np.concatenate([vertices, middles]),
        np.concatenate([turned, number], axis=1).astype(np.int64),
        count,
        keys.astype(np.int64),
    )


def sweep(flat: FlatTriangles, thickness_mm: float, layers: int) -> tuple[Floats, Ints, Ints]:
    """Return the nodes (n, 3), the tetrahedra (ne, 10) and the flat triangle of each (ne,).

    Node number = level * number of flat nodes + flat number, with 2 * layers + 1 levels from z = 0 to the
    thickness.
    """
    n_flat, levels = len(flat.points), 2 * layers + 1
    heights = np.linspace(0.0, thickness_mm, levels)
    points = np.empty((levels, n_flat, 3))
    points[:, :, :2] = flat.points
    points[:, :, 2] = heights[:, None]
    turned_over, table = _ordered(flat)
    blocks = []
    for bottom in range(0, levels - 1, 2):
        for corners in _TETS:
            columns = [(bottom + level) * n_flat + table[:, v, v] for v, level in corners]
            for i, j in _EDGES:
                (v, low), (w, high) = corners[i], corners[j]
                columns.append((bottom + (low + high) // 2) * n_flat + table[:, v, w])
            tets = np.stack(columns, axis=1)
            blocks.append(np.where(turned_over[:, None], tets[:, _TURNED], tets))
    all_tets = np.concatenate(blocks).astype(np.int64)
    return points.reshape(-1, 3), all_tets, np.tile(np.arange(len(turned_over)), len(blocks))


def wall(flat: FlatTriangles, stretches: Ints, n_flat: int, layers: int) -> Ints:
    """Return the outward faces (nf, 6) of the wall on stretches (m, 2) with the material on their left."""
    a, b = stretches[:, 0], stretches[:, 1]
    m = flat.middles(stretches)
    rising = (a < b)[:, None]
    faces = []
    for layer in range(layers):
        low, mid, high = ((2 * layer + k) * n_flat for k in range(3))
        # The cut runs from the lower number's bottom to the higher number's top, as in the sweep.
        first = np.stack([low + a, low + b, high + b, low + m, mid + b, mid + m], axis=1)
        second = np.stack([low + a, high + b, high + a, mid + m, high + m, mid + a], axis=1)
        third = np.stack([low + a, low + b, high + a, low + m, mid + m, mid + a], axis=1)
        fourth = np.stack([low + b, high + b, high + a, mid + b, high + m, mid + m], axis=1)
        faces += [np.where(rising, first, third), np.where(rising, second, fourth)]
    return np.concatenate(faces).astype(np.int64)


def _ordered(flat: FlatTriangles) -> tuple[NDArray[np.bool_], Ints]:
    """Whether order of number turns a triangle over (nt,), and the node between its vertices (nt, 3, 3)."""
    vertices = flat.triangles[:, :3]
    ordered = np.sort(vertices, axis=1)
    table = np.empty((len(ordered), 3, 3), dtype=np.int64)
    for i in range(3):
        table[:, i, i] = ordered[:, i]
    for i, j in ((0, 1), (1, 2), (0, 2)):
        table[:, i, j] = table[:, j, i] = flat.middles(ordered[:, [i, j]])
    # Going round from the lowest number, the next one is the middle number unless the order turns the
    # triangle over.
    lowest = vertices.argmin(axis=1)
    following = np.take_along_axis(vertices, ((lowest + 1) % 3)[:, None], axis=1)[:, 0]
    return following != ordered[:, 1], table
