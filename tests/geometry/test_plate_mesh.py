"""The solid mesh of a plate: closed, upright, conforming, true to its lines, and the same every time."""

from __future__ import annotations

import dataclasses
import itertools
import math
import subprocess
import sys
from typing import Any

import numpy as np
import pytest

from geometry.bend_zones import folded_pattern
from geometry.flat_pattern import flat_pattern
from geometry.flat_segments import ShapeError
from geometry.footprint import Footprint, judged_name, merged_radii, ring_name
from geometry.mesh_gmsh import triangulate
from geometry.mesh_lines import DividedLines
from geometry.mesh_refining import refine
from geometry.plate import Corner, CutOut, FoldLine, Hole, Opening, Placement, Plate, Slot
from geometry.plate_mesh import mesh_plate
from geometry.size_grid import SizeGrid
from geometry.solid_mesh import Floats, Ints, SolidMesh, least_jacobian

SQUARE = ((0.0, 0.0), (100.0, 0.0), (100.0, 120.0), (0.0, 120.0))
HOLE = Hole(name="h", centre_mm=(40, 35), diameter_mm=9)
RING = Footprint("b", (40, 35), 4.5, front_outer_mm=8, back_outer_mm=10)


def plate(
    openings: tuple[Opening, ...] = (HOLE,), folds: tuple[FoldLine, ...] = (), radius: float = 0
) -> Plate:
    return Plate(
        name="p",
        material=None,
        thickness_mm=6,
        outline=tuple(Corner(at_mm=at, radius_mm=radius) for at in SQUARE),
        openings=openings,
        folds=folds,
        placement=Placement(origin_mm=(5, -3, 9), x_axis=(1, 2, 0), y_axis=(0, 1, 3)),
    )


FOLD = FoldLine(name="f", from_mm=(0, 80), to_mm=(100, 80), inside_radius_mm=6)
FOLDED = plate(
    (HOLE, Slot(name="s", centre_mm=(75, 30), length_mm=24, width_mm=8, angle_deg=30)), (FOLD,), radius=5
)

# Degree 2 on a triangle: the six-node map of a face is quadratic, so its vector area is exact with this.
_POINTS = np.array([[1 / 6, 1 / 6], [2 / 3, 1 / 6], [1 / 6, 2 / 3]])


def vector_areas(points: Floats, faces: Ints) -> tuple[Floats, Floats]:
    """Places (q, nf, 3) and vector areas (q, nf, 3) at three sample points of curved faces."""
    nodes = points[faces]
    places, areas = [], []
    for u, v in _POINTS:
        w = 1 - u - v
        shape = np.array([w * (2 * w - 1), u * (2 * u - 1), v * (2 * v - 1), 4 * w * u, 4 * u * v, 4 * w * v])
        along_u = np.array([1 - 4 * w, 4 * u - 1, 0, 4 * (w - u), 4 * v, -4 * v])
        along_v = np.array([1 - 4 * w, 0, 4 * v - 1, -4 * u, 4 * u, 4 * (w - v)])
        a, b = (np.einsum("k,fki->fi", slope, nodes) for slope in (along_u, along_v))
        places.append(np.einsum("k,fki->fi", shape, nodes))
        areas.append(np.cross(a, b) / 6)
    return np.array(places), np.array(areas)


def area(mesh: SolidMesh, patch: str) -> float:
    return float(np.linalg.norm(vector_areas(mesh.points, mesh.patches[patch])[1], axis=2).sum())


def skin(mesh: SolidMesh) -> Ints:
    names = ("front", "back", "edge", *(name for name in mesh.patches if name.startswith("wall ")))
    return np.concatenate([mesh.patches[name] for name in names])


def enclosed(mesh: SolidMesh) -> float:
    places, areas = vector_areas(mesh.points - mesh.points[0], skin(mesh))
    return float(np.einsum("qfi,qfi->", places, areas) / 3)


MESHES = {
    "flat": lambda: mesh_plate(plate(), (RING,)),
    "two layers": lambda: mesh_plate(plate(), (RING,), 8, layers=2),
    "folded": lambda: mesh_plate(FOLDED, (RING,)),
    "folded down, two layers": lambda: mesh_plate(
        FOLDED.but(folds=(FOLD.but(direction="down", angle_deg=135),)), (RING,), layers=2
    ),
}


@pytest.fixture(scope="module", params=MESHES)
def mesh(request: pytest.FixtureRequest) -> SolidMesh:
    return MESHES[request.param]()


def test_skin_closes_round_the_elements(mesh: SolidMesh) -> None:
    """Every face belongs to two elements or to the skin, with the same six nodes."""
    corners = ((0, 2, 1, 6, 5, 4), (0, 1, 3, 4, 8, 7), (1, 2, 3, 5, 9, 8), (0, 3, 2, 7, 9, 6))
    faces = np.concatenate([mesh.tets[:, list(face)] for face in corners])
    keys, where, count = np.unique(np.sort(faces, axis=1), axis=0, return_inverse=True, return_counts=True)
    assert set(count.tolist()) == {1, 2}
    assert {tuple(k) for k in keys[count == 1].tolist()} == {
        tuple(k) for k in np.sort(skin(mesh), axis=1).tolist()
    }
    # Facing outward: each skin face turns as its element's own face does.
    outer = {frozenset(f[:3]): tuple(f[:3]) for f in faces[count[where.ravel()] == 1].tolist()}
    for a, b, c, *_ in skin(mesh).tolist():
        assert outer[frozenset((a, b, c))] in {(a, b, c), (b, c, a), (c, a, b)}


def test_no_element_is_inside_out(mesh: SolidMesh) -> None:
    assert least_jacobian(mesh.points, mesh.tets).min() > 0
    assert mesh.least_quality > 0.02


def test_middle_nodes_lie_between_their_ends(mesh: SolidMesh) -> None:
    for middle, (i, j) in zip(range(4, 10), ((0, 1), (1, 2), (0, 2), (0, 3), (1, 3), (2, 3)), strict=True):
        ends = mesh.points[mesh.tets[:, [i, j]]]
        length = np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1)
        off = np.linalg.norm(mesh.points[mesh.tets[:, middle]] - ends.mean(axis=1), axis=1)
        assert (off < 0.1 * length).all()


def test_numbering_by_levels(mesh: SolidMesh) -> None:
    levels = mesh.flat_points.reshape(mesh.levels, mesh.n_flat, 3)
    assert np.array_equal(levels[:, :, :2], np.broadcast_to(levels[0, :, :2], levels[:, :, :2].shape))
    assert np.allclose(levels[:, :, 2], np.linspace(0, 6, mesh.levels)[:, None])
    flat_vertices = np.arange(mesh.n_flat_vertices)
    expected = np.concatenate([level * mesh.n_flat + flat_vertices for level in range(0, mesh.levels, 2)])
    assert np.array_equal(mesh.vertex_nodes, expected)
    centroid = mesh.flat_points[mesh.tets[:, :4], :2].mean(axis=1)
    of_triangle = mesh.flat_points[mesh.flat_triangles[mesh.tet_triangle, :3], :2].mean(axis=1)
    assert np.linalg.norm(centroid - of_triangle, axis=1).max() < 8


def test_every_node_is_used(mesh: SolidMesh) -> None:
    assert np.array_equal(np.unique(mesh.tets), np.arange(len(mesh.points)))


def test_footprints_and_judged_circles(mesh: SolidMesh) -> None:
    off = np.hypot(*(mesh.flat_points[:, :2] - RING.centre_mm).T)
    for face, outer in (("front", 8.0), ("back", 10.0)):
        assert area(mesh, ring_name("b", face)) == pytest.approx(math.pi * (outer**2 - 4.5**2), rel=2e-3)
        name = judged_name("b", face)
        assert mesh.line_radii_mm[name] == pytest.approx(outer + 2.0)
        on_it = mesh.lines[name]
        assert np.allclose(off[on_it], outer + 2.0, atol=1e-9)
        assert len(on_it) % mesh.levels == 0
        assert np.array_equal(
            np.unique(on_it % mesh.n_flat), np.flatnonzero(abs(off[: mesh.n_flat] - outer - 2) < 1e-9)
        )
    assert not mesh.clipped


def test_six_elements_a_quarter_of_a_hole_four_where_it_is_clamped(mesh: SolidMesh) -> None:
    free = mesh_plate(plate())
    assert len(free.patches["wall h"]) / 2 >= 24
    wall = mesh.patches["wall h"]
    layers = (mesh.levels - 1) // 2
    assert len(wall) / (2 * layers) >= 16
    off = np.hypot(*(mesh.flat_points[np.unique(wall), :2] - HOLE.centre_mm).T)
    assert np.allclose(off, 4.5, atol=1e-9)


def test_volume_of_a_flat_plate() -> None:
    made = plate((HOLE,), radius=9)
    assert enclosed(mesh_plate(made, (RING,))) == pytest.approx(flat_pattern(made).area_mm2 * 6, rel=2e-5)


def test_volume_of_a_bend() -> None:
    # Pappus: the bend's section, a ring sector, times the width; the rest is flat.
    made = plate((), (FOLD,))
    zone = folded_pattern(made, flat_pattern(made)).zones[0]
    bend = (math.pi / 2) * (12**2 - 6**2) / 2 * 100
    expected = 6 * 100 * (120 - zone.width_mm) + bend
    assert enclosed(mesh_plate(made)) == pytest.approx(expected, rel=2e-5)


def test_the_same_plate_gives_the_same_mesh_bit_for_bit() -> None:
    first, again = (mesh_plate(FOLDED, (RING,)) for _ in range(2))
    assert first.points.tobytes() == again.points.tobytes()
    assert first.tets.tobytes() == again.tets.tobytes()


def test_bends_are_meshed_in_strips() -> None:
    mesh = mesh_plate(plate((), (FOLD,)))
    made = plate((), (FOLD,))
    width = folded_pattern(made, flat_pattern(made)).zones[0].width_mm
    edges = {
        tuple(sorted(p)) for t in mesh.flat_triangles[:, :3].tolist() for p in itertools.combinations(t, 2)
    }
    y = mesh.flat_points[:, 1]
    for k in range(7):
        line = 80 + width * (k / 6 - 0.5)
        # No edge of the mesh crosses the line of a strip.
        assert not any((y[a] - line) * (y[b] - line) < -1e-9 for a, b in edges)


def test_a_slanting_bend_is_meshed_as_well_as_a_square_one() -> None:
    slanting = FOLD.but(from_mm=(0, 72), to_mm=(100, 88), angle_deg=45)
    assert mesh_plate(plate((), (slanting,))).least_quality > 0.05


def test_refining_makes_finer_where_marked_and_keeps_the_rest() -> None:
    made, rings = plate(), (RING,)
    coarse = mesh_plate(made, rings)
    centre = coarse.flat_points[coarse.tets[:, :4], :2].mean(axis=1)
    marked = np.hypot(*(centre - np.array([80, 100])).T) < 25
    fine = refine(coarse, made, rings, marked, 2.0)

    def size_near(mesh: SolidMesh, place: tuple[float, float], reach: float) -> float:
        corners = mesh.flat_points[mesh.flat_triangles[:, :3], :2]
        near = np.hypot(*(corners.mean(axis=1) - place).T) < reach
        a, b = corners[near, 1] - corners[near, 0], corners[near, 2] - corners[near, 0]
        return float(np.sqrt(np.mean(np.abs(a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]))))

    assert 1.6 < size_near(coarse, (80, 100), 15) / size_near(fine, (80, 100), 15) < 2.6
    assert 0.8 < size_near(coarse, (40, 35), 14) / size_near(fine, (40, 35), 14) < 1.25
    by_triangle = np.zeros(len(coarse.flat_triangles), dtype=bool)
    by_triangle[coarse.tet_triangle[marked]] = True
    assert refine(coarse, made, rings, by_triangle, 2.0).tets.tobytes() == fine.tets.tobytes()


def test_refining_a_bend_makes_narrower_strips() -> None:
    made = plate((), (FOLD,))
    coarse = mesh_plate(made)
    everywhere = np.ones(len(coarse.tets), dtype=bool)
    fine = refine(coarse, made, (), everywhere, 1.5, layers=2)
    assert fine.levels == 5
    y = np.unique(np.round(fine.flat_points[: fine.n_flat_vertices, 1], 6))
    width = folded_pattern(made, flat_pattern(made)).zones[0].width_mm
    inside = y[np.abs(y - 80) <= width / 2 + 1e-5]
    assert len(inside) >= 10


def test_circles_stop_at_edges_and_bends() -> None:
    near_edge = Footprint("edge", (40, 35), 4.5, front_outer_mm=34, back_outer_mm=8)
    mesh = mesh_plate(plate(), (near_edge,))
    assert mesh.clipped == {judged_name("edge", "front")}
    off = mesh.flat_points[mesh.lines[judged_name("edge", "front")], :2] - near_edge.centre_mm
    assert np.allclose(np.hypot(*off.T), 36, atol=1e-9)
    assert 0 <= mesh.flat_points[mesh.lines[judged_name("edge", "front")], 1].min() < 1e-6

    near_bend = Footprint("bend", (40, 60), 4.5, front_outer_mm=20, back_outer_mm=8)
    made = plate((HOLE.but(centre_mm=(40, 60)),), (FOLD,))
    mesh = mesh_plate(made, (near_bend,))
    tangent = 80 - folded_pattern(made, flat_pattern(made)).zones[0].width_mm / 2
    assert mesh.clipped == {ring_name("bend", "front"), judged_name("bend", "front")}
    for nodes in (mesh.lines[judged_name("bend", "front")], mesh.patches[ring_name("bend", "front")]):
        assert mesh.flat_points[np.unique(nodes), 1].max() == pytest.approx(tangent, abs=1e-6)


@pytest.mark.parametrize("apart", [20.5, 21.5, 21.9, 22.0, 22.1, 23.0])
def test_judged_circles_of_close_bolts_may_cross_or_all_but_touch(apart: float) -> None:
    holes = (HOLE, Hole(name="near", centre_mm=(40 + apart, 36), diameter_mm=9))
    rings = (
        Footprint("b", (40, 35), 4.5, front_outer_mm=10.5, back_outer_mm=10.5),
        Footprint("c", (40 + apart, 36), 4.5, front_outer_mm=9.5, back_outer_mm=9.5),
    )
    mesh = mesh_plate(plate(holes).but(thickness_mm=3), rings)
    assert mesh.least_quality > 0.002


def test_radii_that_all_but_agree_become_one() -> None:
    merged = merged_radii(
        Footprint("b", (0, 0), 4.5, front_outer_mm=8, back_outer_mm=10, front_inner_mm=4.2), 6
    )
    # The front's judged circle and the back's ring are both at 10.
    assert sorted(set(merged.values())) == [4.5, 8, 10, 12]
    merged = merged_radii(Footprint("b", (0, 0), 4.5, front_outer_mm=8, back_outer_mm=8.05), 6)
    assert merged[8.05] == 8
    assert merged[8.05 + 2] == 8.05 + 2


def test_sharp_inside_corner_has_its_circle() -> None:
    window = CutOut(
        name="w", corners=tuple(Corner(at_mm=at) for at in ((60, 60), (80, 60), (80, 90), (60, 90)))
    )
    mesh = mesh_plate(plate((window,)))
    off = np.hypot(*(mesh.flat_points[: mesh.n_flat, :2] - np.array([60, 60])).T)
    assert (np.abs(off - 3.0) < 1e-9).sum() >= 2 * 8


def test_thin_ligaments_get_two_elements_across() -> None:
    places = ((6, 20), (80, 20), (80, 100), (6, 100))
    window = CutOut(name="w", corners=tuple(Corner(at_mm=at, radius_mm=15) for at in places))
    mesh = mesh_plate(plate((window,)), size_mm=40)
    y = mesh.flat_points[: mesh.n_flat_vertices][mesh.flat_points[: mesh.n_flat_vertices, 0] < 1e-9, 1]
    along = np.sort(y[(y > 40) & (y < 80)])
    assert np.diff(along).max() <= 1.4 * 6 / 2


@pytest.mark.parametrize("size", [0.0, -1.0, math.nan, math.inf])
def test_senseless_sizes_are_refused(size: float) -> None:
    with pytest.raises(ValueError, match="size above zero"):
        mesh_plate(plate(), size_mm=size)


def test_senseless_requests_are_refused() -> None:
    with pytest.raises(ValueError, match="one layer or more"):
        mesh_plate(plate(), layers=0)
    mesh = mesh_plate(plate())
    with pytest.raises(ValueError, match="makes nothing finer"):
        refine(mesh, plate(), (), np.ones(len(mesh.tets), dtype=bool), 1.0)
    with pytest.raises(ValueError, match="marks fit neither"):
        refine(mesh, plate(), (), np.ones(3, dtype=bool))
    with pytest.raises(ShapeError, match="cross or touch"):
        mesh_plate(plate((HOLE, HOLE.but(name="twin"))))


def test_chords_that_cross_where_their_arcs_do_not_are_halved() -> None:
    """A footprint beside a rounded corner: its coarse chords cut the circle's, and the mesher never ended."""
    corner = plate((Hole(name="h", centre_mm=(82.4, 17.6), diameter_mm=11),), radius=12.9)
    ring = Footprint("b", (82.4, 17.6), 5.5, front_outer_mm=16.4, back_outer_mm=10)
    mesh = mesh_plate(corner, (ring,))
    assert mesh.least_quality > 0.01


@pytest.mark.skipif(sys.platform == "win32", reason="no such signal there")
def test_after_meshing_a_closed_pipe_is_an_error_and_not_the_end() -> None:
    """In a process of its own: the mesher's library has such a write end the process without a word."""
    code = (
        "import os\n"
        "from geometry.plate_mesh import mesh_plate\n"
        "from tests.brackets import one_piece\n"
        "mesh_plate(one_piece().plates[0], size_mm=40.0)\n"
        "end, start = os.pipe()\n"
        "os.close(end)\n"
        "try:\n"
        "    os.write(start, b'x')\n"
        "except BrokenPipeError:\n"
        "    print('told')\n"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert (done.returncode, done.stdout.strip()) == (0, "told"), done.stderr


@pytest.mark.parametrize("seed", range(3))
def test_a_last_digit_as_another_processor_rounds_it_joins_nothing_otherwise(
    monkeypatch: pytest.MonkeyPatch, seed: int
) -> None:
    drawn = plate((Hole(name="h", centre_mm=(50, 60), diameter_mm=9),))
    ring = Footprint("b", (50, 60), 4.5, front_outer_mm=8, back_outer_mm=10)
    usual = mesh_plate(drawn, [ring])
    noise = np.random.default_rng(seed)

    def rounded_otherwise(lines: DividedLines, grid: SizeGrid, *rest: Any) -> tuple[Floats, Ints]:  # noqa: ANN401
        def off(values: Floats) -> Floats:
            return np.asarray(values * (1.0 + noise.choice([-1, 0, 1], values.shape) * np.finfo(float).eps))

        told = dataclasses.replace(lines, points=off(lines.points))
        return triangulate(told, dataclasses.replace(grid, sizes=off(grid.sizes)), *rest)

    monkeypatch.setattr("geometry.plate_mesh.triangulate", rounded_otherwise)
    other = mesh_plate(drawn, [ring])
    assert np.array_equal(usual.tets, other.tets)
    assert np.allclose(usual.points, other.points, rtol=0.0, atol=1e-12)
    assert not np.array_equal(usual.points, other.points)
