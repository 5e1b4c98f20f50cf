"""Names for what a mesh must be asked about: faces, walls, footprints and judged circles."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import numpy as np
import shapely
from numpy.typing import NDArray

from geometry.bend_zones import FoldedPattern
from geometry.footprint import FACES, Footprint, judged_name, merged_radii, ring_name
from geometry.mesh_lines import DividedLines
from geometry.plate import Plate
from geometry.solid_mesh import Ints
from geometry.sweep import FlatTriangles, Swept, wall

OUTLINE: Final = "edge"
"""Name of the outline's wall."""


def circle_name(footprint: Footprint, radius: float) -> str:
    """Return the name that a footprint's circle goes by among the mesh lines."""
    return f"circle {footprint.name} {radius!r}"


def patches(
    plate: Plate,
    footprints: Sequence[Footprint],
    folded: FoldedPattern,
    flat: FlatTriangles,
    lines: DividedLines,
    swept: Swept,
    doubled: NDArray[np.bool_] | None,
) -> dict[str, Ints]:
    """Return the named parts of the skin (nf, 6): both faces, all walls, and each footprint's ring.

    A ring that reaches off its panel is cut short there; `doubled` is what the plate was swept with.
    """
    n_flat, layers = len(flat.points), (swept.levels - 1) // 2
    # Back and front have all their nodes: the first and the last.
    faces = {
        "front": flat.triangles + len(swept.points) - n_flat,
        "back": flat.triangles[:, [0, 2, 1, 5, 4, 3]],
    }
    found = dict(faces)
    names = (OUTLINE, *(f"wall {opening.name}" for opening in plate.openings))
    for name in names:
        stretches = lines.named[name]
        if _is_left(flat, stretches) != (name == OUTLINE):
            stretches = stretches[:, ::-1]
        found[name] = swept.number[wall(flat, stretches, n_flat, layers, doubled)]
    centroid = flat.points[flat.triangles[:, :3]].mean(axis=1)
    for footprint in footprints:
        panel = folded.panel_at(footprint.centre_mm)
        whole = len(folded.panels) == 1
        off = np.hypot(*(centroid - np.asarray(footprint.centre_mm)).T)
        merged = merged_radii(footprint, plate.thickness_mm)
        for face in FACES:
            if footprint.outer_mm(face) <= 0.0:
                continue
            ring = (off < merged[footprint.outer_mm(face)]) & (off > merged[footprint.inner_mm(face)])
            name = ring_name(footprint.name, face)
            if not whole:
                ring[ring] = shapely.contains_xy(panel, centroid[ring])
            found[name] = faces[face][ring]
    return found


def _is_left(flat: FlatTriangles, ring: Ints) -> bool:
    x, y = flat.points[ring[:, 0]].T
    return bool((x * np.roll(y, -1) - np.roll(x, -1) * y).sum() > 0.0)


def line_nodes(
    footprints: Sequence[Footprint],
    thickness_mm: float,
    flat: FlatTriangles,
    lines: DividedLines,
    swept: Swept,
) -> dict[str, Ints]:
    """Return all nodes on each judged circle, all levels; empty where nothing of it is left."""
    found: dict[str, Ints] = {}
    for footprint in footprints:
        merged = merged_radii(footprint, thickness_mm)
        for face in FACES:
            for number, radius in enumerate(footprint.judged_mm(face, thickness_mm)):
                stretches = lines.named.get(
                    circle_name(footprint, merged[radius]), np.zeros((0, 2), dtype=np.int64)
                )
                nodes = np.unique(np.concatenate([stretches.ravel(), flat.middles(stretches)])).astype(
                    np.int64
                )
                every = swept.number.reshape(swept.levels, -1)[:, nodes].ravel()
                found[judged_name(footprint.name, face, number)] = every[every >= 0]
    return found
