"""Meshes for the benchmarks: bricks of quadratic tetrahedra, mapped anywhere and joined where they touch."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np
from numpy.typing import NDArray

from geometry.solid_mesh import SolidMesh

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Map = Callable[[Floats], Floats]
"""From (n, 3) positions in the unit cube to (n, 3) positions in space, mm."""

EDGES = ((0, 1), (1, 2), (0, 2), (0, 3), (1, 3), (2, 3))
FACES = ((0, 2, 1), (0, 1, 3), (1, 2, 3), (0, 3, 2))
"""Faces of a tetrahedron, anticlockwise seen from outside."""
STEPS = ((0, 1, 2), (0, 2, 1), (1, 0, 2), (1, 2, 0), (2, 0, 1), (2, 1, 0))
"""Six ways along the edges of a brick from its first corner to the last: a tetrahedron each, and every face
of the brick is cut the same way as the opposite one."""


def block(size_mm: tuple[float, float, float], counts: tuple[int, int, int]) -> SolidMesh:
    """Return a box from the origin, with patches x0, x1, y0, y1, z0, z1."""
    mesh = joined([(counts, box(*((0.0, size) for size in size_mm)))])
    patches = {}
    for axis, name in enumerate("xyz"):
        for side, at in enumerate((0.0, size_mm[axis])):
            patches[f"{name}{side}"] = faces_where(mesh, lambda p, a=axis, v=at: np.isclose(p[:, a], v))
    return SolidMesh(mesh.points, mesh.tets, patches)


def box(x: tuple[float, float], y: tuple[float, float], z: tuple[float, float]) -> Map:
    """Return the map onto a box between these limits."""
    low, high = (np.array([axis[side] for axis in (x, y, z)], dtype=np.float64) for side in (0, 1))
    return lambda unit: low + unit * (high - low)


def joined(bricks: Sequence[tuple[tuple[int, int, int], Map]], tolerance_mm: float = 1e-6) -> SolidMesh:
    """Return a solid of mapped unit cubes, each cut into so many cells; nodes that meet are one."""
    points, tets, used = [], [], 0
    for counts, mapping in bricks:
        unit, cells = _unit_cube(counts)
        points.append(mapping(unit))
        tets.append(cells + used)
        used += len(unit)
    every, elements = np.concatenate(points), np.concatenate(tets)
    rounded = np.round(every / tolerance_mm).astype(np.int64)
    _, first, number = np.unique(rounded, axis=0, return_index=True, return_inverse=True)
    return SolidMesh(every[first], _right_way_round(every[first], number.ravel()[elements]))


def curved(mesh: SolidMesh, by_mm: float) -> SolidMesh:
    """Return the mesh with all its nodes moved by a smooth wave, so that edges and faces are curved."""
    x, y, z = mesh.points.T
    wave = np.column_stack([np.sin(y / 7.0) + np.cos(z / 5.0), np.sin(x / 9.0), np.cos((x + y) / 8.0)])
    return SolidMesh(mesh.points + 0.5 * by_mm * wave, mesh.tets, mesh.patches)


def skin(mesh: SolidMesh) -> Ints:
    """Return all faces (nf, 6) on the outside, anticlockwise seen from there."""
    middle = {frozenset(edge): 4 + i for i, edge in enumerate(EDGES)}
    columns = [[*f, *(middle[frozenset((f[i], f[j]))] for i, j in ((0, 1), (1, 2), (0, 2)))] for f in FACES]
    faces = mesh.tets[:, columns].reshape(-1, 6)
    corners = np.sort(faces[:, :3], axis=1)
    key = (corners[:, 0] * len(mesh.points) + corners[:, 1]) * len(mesh.points) + corners[:, 2]
    _, first, count = np.unique(key, return_index=True, return_counts=True)
    return faces[np.sort(first[count == 1])]


def faces_where(mesh: SolidMesh, condition: Callable[[Floats], NDArray[np.bool_]]) -> Ints:
    """Return the outside faces all of whose nodes meet a condition on their positions."""
    faces = skin(mesh)
    return faces[condition(mesh.points)[faces].all(axis=1)]


def nodes_where(mesh: SolidMesh, condition: Callable[[Floats], NDArray[np.bool_]]) -> Ints:
    """Return the nodes whose positions meet a condition."""
    return np.flatnonzero(condition(mesh.points))


def vertex_near(mesh: SolidMesh, position_mm: Sequence[float]) -> int:
    """Return the vertex node nearest to a position."""
    away = np.linalg.norm(mesh.points[mesh.vertex_nodes] - np.asarray(position_mm), axis=1)
    return int(mesh.vertex_nodes[np.argmin(away)])


def _unit_cube(counts: tuple[int, int, int]) -> tuple[Floats, Ints]:
    levels = [2 * count + 1 for count in counts]
    grid = np.meshgrid(*[np.linspace(0.0, 1.0, level) for level in levels], indexing="ij")
    unit = np.column_stack([axis.ravel() for axis in grid])
    cells = np.stack(np.meshgrid(*[np.arange(c) * 2 for c in counts], indexing="ij"), axis=-1).reshape(-1, 3)
    tets = []
    for steps in STEPS:
        corners = [np.zeros(3, dtype=np.int64)]
        for axis in steps:
            corners.append(corners[-1] + 2 * np.eye(3, dtype=np.int64)[axis])
        local = corners + [(corners[i] + corners[j]) // 2 for i, j in EDGES]
        at = cells[:, None, :] + np.array(local)
        tets.append((at[..., 0] * levels[1] + at[..., 1]) * levels[2] + at[..., 2])
    return unit, np.concatenate(tets)


def _right_way_round(points: Floats, tets: Ints) -> Ints:
    """Swap two vertices of every tetrahedron whose volume came out negative."""
    a, b, c = (points[tets[:, i]] - points[tets[:, 0]] for i in (1, 2, 3))
    wrong = np.einsum("ei,ei->e", np.cross(a, b), c) < 0.0
    tets = tets.copy()
    tets[wrong] = tets[wrong][:, [0, 2, 1, 3, 6, 5, 4, 7, 9, 8]]
    return tets
