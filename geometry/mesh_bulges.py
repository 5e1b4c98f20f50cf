"""Stretches of arcs whose bulge leaves a triangle no room.

A stretch is a chord; its middle is moved out onto the arc. A corner that stands closer behind the chord than
the bulge needs would have its triangle turned inside out.
"""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import NDArray

from geometry.mesh_lines import DividedLines
from geometry.solid_mesh import Floats, Ints

LEAST_ROOM: Final = 0.2
"""Least Jacobian at the ends of a bulging edge, over that of the triangle with straight edges."""


def crowded(lines: DividedLines, vertices: Floats, triangles: Ints) -> NDArray[np.bool_]:
    """Return for each stretch of lines.arcs whether a triangle beside it has no room for the bulge.

    `vertices` (n, 2), the points of the lines first; `triangles` (m, 3).
    """
    found = np.zeros(len(lines.arcs), dtype=bool)
    if not lines.arcs:
        return found
    stretches = np.array(list(lines.arcs), dtype=np.int64)
    centres = np.array([arc.centre for arc in lines.arcs.values()])
    radii = np.array([arc.radius_mm for arc in lines.arcs.values()])
    keys = stretches[:, 0] * len(vertices) + stretches[:, 1]
    order = np.argsort(keys)
    for first, second, third in ((0, 1, 2), (1, 2, 0), (2, 0, 1)):
        pair = np.sort(triangles[:, [first, second]], axis=1)
        wanted = pair[:, 0] * len(vertices) + pair[:, 1]
        place = np.minimum(np.searchsorted(keys[order], wanted), len(keys) - 1)
        row = order[place]
        hit = np.flatnonzero(keys[row] == wanted)
        row = row[hit]
        a, b, c = (vertices[triangles[hit, k]] for k in (first, second, third))
        tight = _room(a, b, c, centres[row], radii[row]) < LEAST_ROOM
        found[row[tight]] = True
    return found


def _room(a: Floats, b: Floats, c: Floats, centre: Floats, radius: Floats) -> Floats:
    """Return the least Jacobian at a and b with edge ab bulging, over that with it straight.

    With the apex at share s along the chord and height h above it, and the middle raised by d toward the
    apex, it is 1 - 4 d s / h at a and 1 - 4 d (1 - s) / h at b (shape functions of the six-node triangle).
    """
    along = b - a
    length = np.hypot(along[:, 0], along[:, 1])
    middle = (a + b) / 2.0
    outward = middle - centre
    reach = np.hypot(outward[:, 0], outward[:, 1])
    normal = np.column_stack([-along[:, 1], along[:, 0]]) / length[:, None]
    height = np.einsum("ij,ij->i", c - a, normal)
    raised = (radius / np.maximum(reach, 1e-300) - 1.0) * np.einsum("ij,ij->i", outward, normal)
    share = np.einsum("ij,ij->i", c - a, along) / length**2
    lift = 4.0 * raised / np.where(np.abs(height) > 1e-12, height, 1e-12)
    room: Floats = 1.0 - np.maximum(lift * share, lift * (1.0 - share))
    return room
