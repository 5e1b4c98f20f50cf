"""Two layers in bends and footprints, one elsewhere, and the elements between: one sound mesh."""

from __future__ import annotations

import numpy as np
import pytest

from geometry.flat_pattern import flat_pattern
from geometry.footprint import Footprint
from geometry.plate import Plate
from geometry.plate_mesh import mesh_plate
from geometry.solid_mesh import Ints, SolidMesh, least_jacobian, scaled_through
from solver.elasticity import physical_gradients
from solver.shape_functions import tetrahedron
from tests.geometry.test_plate_mesh import FOLD, FOLDED, RING, enclosed

_EDGES = ((0, 1), (1, 2), (0, 2), (0, 3), (1, 3), (2, 3))
_FACES = ((0, 1, 2), (0, 1, 3), (0, 2, 3), (1, 2, 3))


@pytest.fixture(scope="module", params=["up", "down, steep"])
def folded(request: pytest.FixtureRequest) -> Plate:
    return FOLDED if request.param == "up" else FOLDED.but(folds=(FOLD.but(direction="down", angle_deg=135),))


@pytest.fixture(scope="module")
def mesh(folded: Plate) -> SolidMesh:
    return mesh_plate(folded, (RING,), double_bends=True)


@pytest.fixture(scope="module")
def whole(folded: Plate) -> SolidMesh:
    return mesh_plate(folded, (RING,), layers=2)


def _skin(mesh: SolidMesh) -> Ints:
    return np.concatenate(
        [faces for name, faces in mesh.patches.items() if name in ("front", "back", "edge") or "wall" in name]
    )


def test_it_fills_what_two_layers_everywhere_fill(mesh: SolidMesh, whole: SolidMesh) -> None:
    assert len(mesh.points) < 0.95 * len(whole.points)
    assert least_jacobian(mesh.points, mesh.tets).min() > 0
    volumes = [physical_gradients(one, slice(None), tetrahedron())[1].sum() for one in (mesh, whole)]
    assert volumes[0] == pytest.approx(volumes[1], rel=1e-9)
    assert enclosed(mesh) == pytest.approx(volumes[0], rel=1e-6)


def test_its_thickness_is_the_sheets_however_many_levels_there_are(mesh: SolidMesh, folded: Plate) -> None:
    """A weld's section was read off a node of another place, or off none at all, where levels lack nodes."""
    assert len(mesh.points) < mesh.levels * mesh.n_flat
    assert mesh.thickness_mm == pytest.approx(folded.thickness_mm, rel=1e-9)
    assert scaled_through(mesh, 0.9).thickness_mm == pytest.approx(0.9 * folded.thickness_mm, rel=1e-9)


def test_neighbours_share_whole_faces_and_the_rest_is_the_named_skin(mesh: SolidMesh) -> None:
    faces = np.sort(np.concatenate([mesh.tets[:, list(face)] for face in _FACES]), axis=1)
    found, times = np.unique(faces, axis=0, return_counts=True)
    assert times.max() == 2
    assert np.array_equal(np.unique(np.sort(_skin(mesh)[:, :3], axis=1), axis=0), found[times == 1])


def test_one_node_in_the_middle_of_each_edge_and_none_unused(mesh: SolidMesh) -> None:
    assert np.array_equal(np.unique(mesh.tets), np.arange(len(mesh.points)))
    middles: dict[tuple[int, int], int] = {}
    for middle, (i, j) in zip(range(4, 10), _EDGES, strict=True):
        ends = np.sort(mesh.tets[:, [i, j]], axis=1).tolist()
        for (a, b), node in zip(ends, mesh.tets[:, middle].tolist(), strict=True):
            assert middles.setdefault((a, b), node) == node
    skin = _skin(mesh)
    for middle, (i, j) in zip((3, 4, 5), ((0, 1), (1, 2), (0, 2)), strict=True):
        ends = np.sort(skin[:, [i, j]], axis=1).tolist()
        for (a, b), node in zip(ends, skin[:, middle].tolist(), strict=True):
            assert middles[a, b] == node


def test_the_lattice_says_where_each_node_stands(mesh: SolidMesh) -> None:
    level, flat = np.divmod(mesh.lattice, mesh.n_flat)
    assert np.array_equal(mesh.flat_points[:, :2], mesh.flat_points[flat, :2])
    assert np.allclose(mesh.flat_points[:, 2], 6.0 * level / (mesh.levels - 1))
    assert np.array_equal(flat[: mesh.n_flat], np.arange(mesh.n_flat))
    assert np.array_equal(mesh.lattice[-mesh.n_flat :], 4 * mesh.n_flat + np.arange(mesh.n_flat))


def test_a_thinner_sheet_holds_as_much_less_about_its_middle(mesh: SolidMesh) -> None:
    thin = scaled_through(mesh, 0.9)
    assert least_jacobian(thin.points, thin.tets).min() > 0
    # Offset surfaces hold what lies between them as the middle surface is long, bends included (Pappus).
    assert enclosed(thin) == pytest.approx(0.9 * enclosed(mesh), rel=1e-4)
    level = mesh.lattice // mesh.n_flat
    assert np.allclose(thin.points[level == 2], mesh.points[level == 2])
    back, front = (points[level == k] for points in (thin.points,) for k in (0, 4))
    assert np.allclose(np.linalg.norm(front - back, axis=1), 0.9 * 6.0)


def test_two_layers_in_bend_and_footprint_one_far_from_both(folded: Plate, mesh: SolidMesh) -> None:
    flat = mesh.flat_points[mesh.flat_triangles[:, :3], :2].mean(axis=1)
    per_triangle = np.bincount(mesh.tet_triangle, minlength=len(flat))
    in_ring = np.hypot(*(flat - np.asarray(RING.centre_mm)).T) < 9.9
    in_bend = np.abs(flat[:, 1] - FOLD.from_mm[1]) < 3.0
    assert (per_triangle[in_ring | in_bend] == 6).all()
    far = (np.hypot(*(flat - np.asarray(RING.centre_mm)).T) > 25) & (
        np.abs(flat[:, 1] - FOLD.from_mm[1]) > 40
    )
    assert far.sum() > 20
    assert (per_triangle[far] == 3).all()
    assert set(np.unique(per_triangle)) == {3, 4, 5, 6}


def test_a_flat_plate_is_left_in_one_layer() -> None:
    flat = FOLDED.but(folds=())
    assert flat_pattern(flat).area_mm2 > 0
    rings: tuple[Footprint, ...] = (RING,)
    assert mesh_plate(flat, rings, double_bends=True).tets.tobytes() == mesh_plate(flat, rings).tets.tobytes()
