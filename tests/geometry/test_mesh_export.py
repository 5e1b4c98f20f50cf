"""Writing a mesh for other viewers, and reading it back."""

from __future__ import annotations

from pathlib import Path

import meshio
import numpy as np
import pytest

from geometry.mesh_export import ExportError, export_vtu
from geometry.plate import Corner, Hole, Plate
from geometry.plate_mesh import mesh_plate
from geometry.solid_mesh import SolidMesh


@pytest.fixture(scope="module")
def mesh() -> SolidMesh:
    places = ((0.0, 0.0), (60.0, 0.0), (60.0, 40.0), (0.0, 40.0))
    return mesh_plate(
        Plate(
            name="p",
            material=None,
            thickness_mm=4,
            outline=tuple(Corner(at_mm=at) for at in places),
            openings=(Hole(name="h", centre_mm=(20, 20), diameter_mm=9),),
        )
    )


def test_what_is_written_can_be_read_back(mesh: SolidMesh, tmp_path: Path) -> None:
    target = tmp_path / "bracket.vtu"
    displacement = mesh.points * 1e-3
    export_vtu(target, mesh, displacement.ravel(), von_mises_mpa=mesh.points[mesh.vertex_nodes, 0])
    read = meshio.read(target)
    assert np.array_equal(read.points, mesh.points)
    assert np.array_equal(read.cells_dict["tetra10"], mesh.tets)
    assert np.array_equal(read.point_data["displacement_mm"], displacement)
    # A figure that grows along x at the vertices is carried to the middles of straight edges.
    straight = np.abs(read.point_data["von_mises_mpa"] - mesh.points[:, 0])
    assert np.median(straight) < 1e-12
    assert straight.max() < 0.1
    assert [path.name for path in tmp_path.iterdir()] == ["bracket.vtu"]


def test_middle_nodes_come_in_the_order_of_vtk(mesh: SolidMesh, tmp_path: Path) -> None:
    # VTK's file format: a quadratic tetrahedron's middles are those of edges 01, 12, 20, 03, 13, 23.
    export_vtu(tmp_path / "m.vtu", mesh)
    read = meshio.read(tmp_path / "m.vtu")
    cells = read.cells_dict["tetra10"]
    away = np.hypot(*(read.points[:, :2] - 20.0).T) > 5.0
    for column, (i, j) in zip(range(4, 10), ((0, 1), (1, 2), (2, 0), (0, 3), (1, 3), (2, 3)), strict=True):
        chosen = away[cells[:, column]]
        ends = read.points[cells[chosen][:, [i, j]]].mean(axis=1)
        assert np.median(np.linalg.norm(read.points[cells[chosen, column]] - ends, axis=1)) < 1e-12


def test_paths_that_cannot_be_written(mesh: SolidMesh, tmp_path: Path) -> None:
    with pytest.raises(ExportError, match="is a folder"):
        export_vtu(tmp_path, mesh)
    with pytest.raises(ExportError, match=r"gone/m\.vtu could not be written"):
        export_vtu(tmp_path / "gone" / "m.vtu", mesh)
    with pytest.raises(ValueError, match=r"does not end in \.vtu"):
        export_vtu(tmp_path / "m.txt", mesh)


def test_a_result_of_another_mesh_is_refused(mesh: SolidMesh, tmp_path: Path) -> None:
    with pytest.raises(ValueError, match="displacement_mm has 7 rows"):
        export_vtu(tmp_path / "m.vtu", mesh, np.zeros((7, 3)))
    assert list(tmp_path.iterdir()) == []


def test_a_failed_write_leaves_the_old_file(
    mesh: SolidMesh, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    target = tmp_path / "m.vtu"
    target.write_text("old")

    def full(*_: object, **__: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(meshio, "write", full)
    with pytest.raises(ExportError, match="no space left"):
        export_vtu(target, mesh)
    assert target.read_text() == "old"
    assert len(list(tmp_path.iterdir())) == 1
