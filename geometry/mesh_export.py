"""A solid mesh with its displacement and stress, written as .vtu for other viewers."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Mapping
from pathlib import Path
from typing import Final

import numpy as np

from geometry.file_replacing import replace_file
from geometry.solid_mesh import EDGES, Floats, Ints, SolidMesh

QUADRATIC_TETRAHEDRON: Final = "tetra10"
TO_VTK: Final = (0, 1, 2, 3, 4, 5, 6, 7, 8, 9)
"""VTK's quadratic tetrahedron takes its edge middles in the order 01, 12, 02, 03, 13, 23: the same as
ours."""


class ExportError(OSError):
    """A mesh that could not be written: names the file, the reason and what to do."""


def export_vtu(
    path: str | os.PathLike[str],
    mesh: SolidMesh,
    displacement_mm: Floats | None = None,
    von_mises_mpa: Floats | None = None,
    stress_mpa: Floats | None = None,
    more: Mapping[str, Floats] | None = None,
) -> None:
    """Write the mesh as quadratic tetrahedra with results at its nodes.

    `displacement_mm` is (n, 3) or flat (3n,). `von_mises_mpa` (a figure), `stress_mpa` (six columns, in the
    order the solver gives them) and `more` (further results by name) have a row for each node, or for each
    of mesh.vertex_nodes: then a middle node gets the mean of its edge's ends. The file appears whole or not
    at all. ValueError if a result does not fit the mesh, ExportError if the file cannot be written.
    """
    target = Path(path)
    if target.is_dir():
        raise ExportError(f"{target} is a folder: give the name of a file ending in .vtu")
    if target.suffix != ".vtu":
        raise ValueError(f"{target.name!r} does not end in .vtu: give a name that does")
    import meshio

    at_nodes: dict[str, Floats] = {}
    if displacement_mm is not None:
        at_nodes["displacement_mm"] = _at_nodes(
            mesh, np.asarray(displacement_mm).reshape(-1, 3), "displacement_mm"
        )
    if von_mises_mpa is not None:
        at_nodes["von_mises_mpa"] = _at_nodes(mesh, np.asarray(von_mises_mpa), "von_mises_mpa")
    if stress_mpa is not None:
        at_nodes["stress_mpa"] = _at_nodes(mesh, np.asarray(stress_mpa), "stress_mpa")
    for name, values in (more or {}).items():
        at_nodes[name] = _at_nodes(mesh, np.asarray(values), name)
    drawn = meshio.Mesh(
        mesh.points, [(QUADRATIC_TETRAHEDRON, mesh.tets[:, list(TO_VTK)])], point_data=at_nodes
    )
    try:
        # the library writes to a name alone: into a folder of this call's own, then as every file is
        with tempfile.TemporaryDirectory(prefix="holdsquare-") as folder:
            written = Path(folder) / "mesh.vtu"
            meshio.write(written, drawn, file_format="vtu", binary=True)
            replace_file(target, written.read_bytes(), keep_previous=False)
    except OSError as fault:
        raise _unwritable(target, fault) from fault


def _at_nodes(mesh: SolidMesh, values: Floats, name: str) -> Floats:
    if len(values) == len(mesh.points):
        return values
    if len(values) == len(mesh.vertex_nodes):
        every = np.zeros((len(mesh.points), *values.shape[1:]))
        every[mesh.vertex_nodes] = values
        for (i, j), middle in zip(EDGES, range(4, 10), strict=True):
            ends: Ints = mesh.tets[:, [i, j]]
            every[mesh.tets[:, middle]] = every[ends].mean(axis=1)
        return every
    raise ValueError(
        f"{name} has {len(values)} rows; nodes: {len(mesh.points)}, vertices: {len(mesh.vertex_nodes)}"
    )


def _unwritable(target: Path, fault: OSError) -> ExportError:
    reason = (fault.strerror or str(fault)).lower()
    return ExportError(
        f"{target} could not be written ({reason}): choose a folder that exists and that you may write to"
    )
