"""From a solid mesh of a plate to a finer one, finer where it is marked."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import cKDTree

from geometry.footprint import Footprint
from geometry.mesh_size import GROWTH
from geometry.plate import Plate
from geometry.plate_mesh import Foreseen, mesh_plate
from geometry.solid_mesh import SolidMesh
from geometry.weld_mark import WeldMark


def refine(
    mesh: SolidMesh,
    plate: Plate,
    footprints: Sequence[Footprint],
    marked: NDArray[np.bool_],
    ratio: float = 1.5,
    *,
    layers: int | None = None,
    welds: Sequence[WeldMark] = (),
    double_bends: bool = False,
    foreseen: Foreseen | None = None,
) -> SolidMesh:
    """Return a new mesh of the plate, `ratio` times finer where marked, grading up to the old size elsewhere.

    `marked` is one truth value per tetrahedron, or per flat triangle. `layers` None keeps them;
    `double_bends` and `foreseen` are as in `mesh_plate`.
    """
    if not ratio > 1.0:
        raise ValueError(f"a refinement ratio of {ratio:g} makes nothing finer: give more than 1")
    if len(marked) == len(mesh.tets):
        triangles = np.unique(mesh.tet_triangle[marked])
    elif len(marked) == len(mesh.flat_triangles):
        triangles = np.flatnonzero(marked)
    else:
        raise ValueError(
            f"{len(marked)} marks fit neither {len(mesh.tets)} tetrahedra nor their flat triangles"
        )
    at = mesh.flat_points[: mesh.n_flat_vertices, :2]
    size = mesh.flat_size_mm.copy()
    chosen = np.unique(mesh.flat_triangles[triangles, :3])
    size[chosen] /= ratio
    if len(chosen):
        # What lies near a marked place may not be much coarser than it: a jump would make bad triangles.
        for own in np.unique(np.round(size[chosen], 2)).tolist():
            near = chosen[np.round(size[chosen], 2) == own]
            off, _ = cKDTree(at[near]).query(at)
            np.minimum(size, own + GROWTH * off, out=size)
    kept = (mesh.levels - 1) // 2 if layers is None else layers
    return mesh_plate(
        plate,
        footprints,
        float(mesh.flat_size_mm.max()),
        layers=kept,
        double_bends=double_bends,
        size_field=(at, size),
        welds=welds,
        foreseen=foreseen,
    )
