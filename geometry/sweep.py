"""A flat triangulation swept through the thickness into quadratic tetrahedra.

Every triangle becomes one prism a layer, every prism three tetrahedra. The vertices of a triangle are taken
in the order of their numbers, so each upright quadrilateral is cut from its lower number's bottom to its
higher number's top, whichever of its two prisms asks.

Where some vertices are *doubled*, the prisms on three doubled vertices have two layers, those on none have
one. Between them an upright edge is halved at one end and whole at the other: such a quadrilateral is cut in
three from the middle of its halved edge, and its prism falls into four or five tetrahedra.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from geometry.solid_mesh import EDGES, Floats, Ints

_TETS: Final = (
    ((0, 0), (1, 0), (2, 0), (2, 2)),
    ((0, 0), (1, 2), (1, 0), (2, 2)),
    ((0, 0), (0, 2), (1, 2), (2, 2)),
)
"""Tetrahedra of a prism: (vertex in order of number, level above the layer's bottom); upright if that order
turns from x to y."""
_ONE_DOUBLED: Final = (
    ((0, 0), (1, 0), (2, 0), (0, 2)),
    ((0, 4), (1, 4), (2, 4), (0, 2)),
    ((1, 0), (2, 0), (2, 4), (0, 2)),
    ((1, 0), (2, 4), (1, 4), (0, 2)),
)
"""The same of a prism on one doubled vertex, which comes first, then the others in order of number."""
_TWO_DOUBLED: Final = (
    ((0, 0), (1, 0), (1, 2), (2, 0)),
    ((0, 0), (1, 2), (0, 2), (2, 0)),
    ((0, 2), (1, 2), (2, 0), (2, 4)),
    ((0, 2), (1, 2), (1, 4), (2, 4)),
    ((0, 2), (1, 4), (0, 4), (2, 4)),
)
"""The same of a prism on two doubled vertices, which come first in order of number."""
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


@dataclass(frozen=True)
class Swept:
    """A swept triangulation and where its nodes stand."""

    points: Floats
    """(n, 3) before folding, mm; in order of level, then of flat number."""
    tets: Ints
    """(ne, 10) node numbers."""
    standing_on: Ints
    """(ne,) the flat triangle each tetrahedron stands on."""
    levels: int
    """Levels through the thickness: two per layer, and one."""
    lattice: Ints
    """(n,) level * number of flat nodes + flat number of each node."""
    number: Ints
    """(levels * flat nodes,) node number by that; -1 where there is no node."""

    @property
    def first_over(self) -> Ints:
        """The (n,) node on the lowest level at the same x and y as each node; there is one everywhere."""
        flat = len(self.number) // self.levels
        return self.number[:flat][self.lattice % flat]


def sweep(
    flat: FlatTriangles, thickness_mm: float, layers: int, doubled: NDArray[np.bool_] | None = None
) -> Swept:
    """Return the triangulation swept from z = 0 to the thickness in some layers.

    With `doubled` (n_vertices,) there is one layer, and two where it is true.
    """
    n_flat, levels = len(flat.points), 2 * layers + 1 if doubled is None else 5
    turned_over, table = _ordered(flat)
    all_triangles = np.arange(len(table))
    if doubled is None:
        parts = [
            _prisms(table, turned_over, all_triangles, _TETS, n_flat, 1, bottom)
            for bottom in range(0, levels - 1, 2)
        ]
    else:
        parts = _mixed(flat, table, turned_over, doubled)
    tets = np.concatenate([part for part, _ in parts])
    used = np.zeros(levels * n_flat, dtype=bool)
    used[tets.ravel()] = True
    lattice = np.flatnonzero(used)
    number = np.where(used, np.cumsum(used) - 1, -1)
    heights = np.linspace(0.0, thickness_mm, levels)
    points = np.column_stack([flat.points[lattice % n_flat], heights[lattice // n_flat]])
    return Swept(points, number[tets], np.concatenate([on for _, on in parts]), levels, lattice, number)


def wall(
    flat: FlatTriangles, stretches: Ints, n_flat: int, layers: int, doubled: NDArray[np.bool_] | None = None
) -> Ints:
    """Return the outward faces (nf, 6) of the wall on stretches (m, 2) with the material on their left.

    They are given by the places of their nodes in the lattice of `Swept`; `doubled` as there.
    """
    if doubled is None:
        return np.concatenate([_wall(flat, stretches, n_flat, 2 * k, 1) for k in range(layers)])
    a, b = (doubled[stretches[:, k]] for k in (0, 1))
    both, neither = stretches[a & b], stretches[~a & ~b]
    faces = [_wall(flat, both, n_flat, 0, 1), _wall(flat, both, n_flat, 2, 1)]
    faces += [_wall(flat, neither, n_flat, 0, 2)]
    for first, ends in ((True, stretches[a & ~b]), (False, stretches[~a & b])):
        p, q = (ends if first else ends[:, ::-1]).T
        m = flat.middles(ends)
        low, low_mid, mid, high_mid, high = (k * n_flat for k in range(5))
        for face in (
            (low + p, low + q, mid + p, low + m, low_mid + m, low_mid + p),
            (mid + p, low + q, high + q, low_mid + m, mid + q, high_mid + m),
            (mid + p, high + q, high + p, high_mid + m, high + m, high_mid + p),
        ):
            faces.append(np.stack(face, axis=1)[:, slice(None) if first else [0, 2, 1, 5, 4, 3]])
    return np.concatenate(faces).astype(np.int64)


def _wall(flat: FlatTriangles, stretches: Ints, n_flat: int, bottom: int, stretch: int) -> Ints:
    """Return the faces of one layer of a wall, `stretch` times two levels high."""
    a, b = stretches[:, 0], stretches[:, 1]
    m = flat.middles(stretches)
    rising = (a < b)[:, None]
    low, mid, high = ((bottom + stretch * k) * n_flat for k in range(3))
    # The cut runs from the lower number's bottom to the higher number's top, as in the sweep.
    first = np.stack([low + a, low + b, high + b, low + m, mid + b, mid + m], axis=1)
    second = np.stack([low + a, high + b, high + a, mid + m, high + m, mid + a], axis=1)
    third = np.stack([low + a, low + b, high + a, low + m, mid + m, mid + a], axis=1)
    fourth = np.stack([low + b, high + b, high + a, mid + b, high + m, mid + m], axis=1)
    faces = [np.where(rising, first, third), np.where(rising, second, fourth)]
    return np.concatenate(faces).astype(np.int64)


_Cut = tuple[tuple[tuple[int, int], ...], ...]
_Part = tuple[Ints, Ints]


def _mixed(
    flat: FlatTriangles, table: Ints, turned_over: NDArray[np.bool_], doubled: NDArray[np.bool_]
) -> list[_Part]:
    """Return the tetrahedra of all prisms, some of whose vertices are doubled, in parts."""
    n_flat = len(flat.points)
    vertices = table[:, range(3), range(3)]
    count = doubled[vertices].sum(axis=1)
    parts = []
    for bottom in (0, 2):
        full = np.flatnonzero(count == 3)
        parts.append(_prisms(table[full], turned_over[full], full, _TETS, n_flat, 1, bottom))
    plain = np.flatnonzero(count == 0)
    parts.append(_prisms(table[plain], turned_over[plain], plain, _TETS, n_flat, 2, 0))
    for some, cut in ((1, _ONE_DOUBLED), (2, _TWO_DOUBLED)):
        mine = np.flatnonzero(count == some)
        # Doubled vertices first, in order of number: a stable sort keeps it.
        order = np.argsort(~doubled[vertices[mine]], axis=1, kind="stable")
        own = table[mine[:, None, None], order[:, :, None], order[:, None, :]]
        parts.append(_oriented(flat, own, mine, cut))
    return parts


def _prisms(
    table: Ints,
    turned_over: NDArray[np.bool_],
    triangles: Ints,
    cut: _Cut,
    n_flat: int,
    stretch: int,
    bottom: int,
) -> _Part:
    """Return one layer's tetrahedra, `stretch` times two levels high, and the triangles they stand on."""
    blocks = [_tets(table, corners, n_flat, stretch, bottom) for corners in cut]
    turned = [np.where(turned_over[:, None], tets[:, _TURNED], tets) for tets in blocks]
    return np.concatenate(turned).astype(np.int64), np.tile(triangles, len(blocks))


def _oriented(flat: FlatTriangles, table: Ints, triangles: Ints, cut: _Cut) -> _Part:
    """Return the tetrahedra of prisms between one layer and two, none inside out."""
    n_flat = len(flat.points)
    blocks = []
    for corners in cut:
        tets = _tets(table, corners, n_flat, 1, 0)
        at = np.concatenate(
            [flat.points[tets[:, :4] % n_flat], (tets[:, :4] // n_flat)[:, :, None].astype(np.float64)],
            axis=2,
        )
        upright = np.linalg.det(at[:, 1:] - at[:, :1]) > 0.0
        blocks.append(np.where(upright[:, None], tets, tets[:, _TURNED]))
    return np.concatenate(blocks).astype(np.int64), np.tile(triangles, len(blocks))


def _tets(table: Ints, corners: tuple[tuple[int, int], ...], n_flat: int, stretch: int, bottom: int) -> Ints:
    """Return one tetrahedron of each prism by the places of its ten nodes in the lattice."""
    columns = [(bottom + stretch * level) * n_flat + table[:, v, v] for v, level in corners]
    for i, j in EDGES:
        (v, low), (w, high) = corners[i], corners[j]
        columns.append((bottom + stretch * (low + high) // 2) * n_flat + table[:, v, w])
    return np.stack(columns, axis=1)


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
