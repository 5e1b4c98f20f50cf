"""A whole folded bracket against NGSolve, an independent general-purpose finite-element library.

The plate of the sample that passes, with all its holes, footprints and its fold: held on the mating faces of
its bolts to the dash bar, loaded on those of its bolts to the casing. First on the very same curved mesh,
then with each side refined in its own way: ours with a finer mesh, theirs with elements of higher order.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from geometry.bracket_file import read_bracket
from geometry.placing import footprints_of, place_bolts
from geometry.plate_mesh import mesh_plate
from geometry.solid_mesh import SolidMesh
from solver.solid import ElasticMaterial, SolidAnswer, Support, Traction, solve_solid
from solver.stress import von_mises
from tests.validation.reference import agrees

ng = pytest.importorskip("ngsolve", reason="the independent library is not installed: pip install '.[test]'")

SAMPLE = Path(__file__).parents[2] / "sample_brackets" / "marlpit_one_piece.bracket.json"
STEEL = ElasticMaterial(210_000.0, 0.3)
SOURCE = "NGSolve, the same bracket (independent library)"
PULLS = ((0.0, 8.0, 3.0), (-7.0, -4.0, 3.0), (7.0, -4.0, -6.0))
"""Traction in MPa on the mating faces of the three bolts to the casing: a couple and a lean."""
HELD, FREE = 1, 2


@cache
def case(fine: bool) -> tuple[SolidMesh, list[str], list[str]]:
    """Return the plate's mesh and the names of the faces that are held and loaded."""
    bracket = read_bracket(SAMPLE).bracket
    assert bracket is not None
    places = place_bolts(bracket)
    plate = bracket.plates[0]
    size = 5.0 if fine else None
    mesh = mesh_plate(plate, footprints_of(places, plate.name), size, layers=2 if fine else 1)
    faces = {
        kind: [f"bolt {p.bolt} {p.mating_side}" for p in places if p.partner == kind]
        for kind in ("dash bar", "boss")
    }
    return mesh, faces["dash bar"], faces["boss"]


@cache
def ours(fine: bool) -> SolidAnswer:
    mesh, held, loaded = case(fine)
    supports = [Support(np.unique(mesh.patches[name]), 0.0, 0.0, 0.0) for name in held]
    loads = [Traction(mesh.patches[n], np.array(p)) for n, p in zip(loaded, PULLS, strict=True)]
    return solve_solid(mesh, STEEL, supports, loads)


@cache
def theirs(order: int) -> tuple[np.ndarray, np.ndarray]:
    """Return displacement (nv, 3) and averaged stress (nv, 6) at our coarse mesh's vertices."""
    mesh, held, loaded = case(False)
    grid = _grid(mesh, held, loaded)
    bend = _curved(grid, mesh)
    grid.SetDeformation(bend)
    fixed = "|".join(held)
    space = ng.VectorH1(grid, order=order, dirichlet=fixed)
    u, v = space.TnT()
    shear = STEEL.elastic_modulus_mpa / (2.0 * (1.0 + STEEL.poisson))
    lame = 2.0 * shear * STEEL.poisson / (1.0 - 2.0 * STEEL.poisson)

    def strain(w: Any) -> Any:  # noqa: ANN401
        return 0.5 * (ng.Grad(w) + ng.Grad(w).trans)

    def stress(w: Any) -> Any:  # noqa: ANN401
        return 2.0 * shear * strain(w) + lame * ng.Trace(strain(w)) * ng.Id(3)

    with ng.TaskManager():
        form = ng.BilinearForm(ng.InnerProduct(stress(u), strain(v)) * ng.dx, symmetric=True).Assemble()
        load = ng.LinearForm(space)
        for name, pull in zip(loaded, PULLS, strict=True):
            load += ng.CoefficientFunction(pull) * v * ng.ds(name)
        load.Assemble()
        answer = ng.GridFunction(space)
        answer.vec.data = form.mat.Inverse(space.FreeDofs(), inverse="sparsecholesky") * load.vec
        rule = ng.IntegrationRule([(0, 0, 0), (1, 0, 0), (0, 1, 0), (0, 0, 1)], [0.25] * 4)
        points = grid.MapToAllElements(rule, ng.VOL)
        found = np.array(stress(answer)(points)).reshape(grid.ne, 4, 3, 3)
        places = np.array(ng.CoefficientFunction((ng.x, ng.y, ng.z))(points)).reshape(grid.ne, 4, 3)
        volumes = np.array(ng.Integrate(ng.CoefficientFunction(1.0), grid, element_wise=True))
    moved = np.column_stack([part.vec.FV().NumPy()[: grid.nv] for part in answer.components])
    grid.UnsetDeformation()
    return moved, _averaged(mesh, places, found, volumes)


def test_same_mesh_same_movement() -> None:
    """0.1 %: the same mesh, the same order, another program."""
    answer, (moved, _) = ours(False), theirs(2)
    mine = answer.displacement_mm[answer.mesh.vertex_nodes]
    far = int(np.argmax(np.linalg.norm(moved, axis=1)))
    for axis, name in enumerate("XYZ"):
        scale = float(np.linalg.norm(moved[far]))
        agrees(
            mine[far, axis],
            float(moved[far, axis]),
            0.001,
            source=SOURCE,
            name=f"same mesh, most moved place, {name}, mm",
            scale=scale,
        )


def test_same_mesh_same_stress() -> None:
    """0.5 %: stress at the vertices, averaged alike."""
    answer, (_, stress) = ours(False), theirs(2)
    mine, its = von_mises(answer.vertex_stress_mpa), von_mises(stress)
    rows = _judged(case(False)[0])
    worst = int(rows[np.argmax(its[rows])])
    agrees(
        float(mine[worst]),
        float(its[worst]),
        0.005,
        source=SOURCE,
        name="same mesh, largest judged stress, MPa",
    )


def test_each_refined_in_its_own_way() -> None:
    """Displacement 0.5 %, stress 2 %."""
    answer, (moved, stress) = ours(True), theirs(4)
    mine = float(np.linalg.norm(answer.displacement_mm, axis=1).max())
    agrees(
        mine,
        float(np.linalg.norm(moved, axis=1).max()),
        0.005,
        source=SOURCE,
        name="refined, largest movement, mm",
    )
    coarse, fine = _judged(case(False)[0]), _judged(case(True)[0])
    its = float(von_mises(stress)[coarse].max())
    agrees(
        float(von_mises(answer.vertex_stress_mpa)[fine].max()),
        its,
        0.02,
        source=SOURCE,
        name="refined, largest judged stress, MPa",
    )


def _judged(mesh: SolidMesh) -> np.ndarray:
    """Return the rows of vertices further than two thicknesses from every bolt's hole."""
    bracket = read_bracket(SAMPLE).bracket
    assert bracket is not None
    flat = mesh.flat_points[mesh.vertex_nodes, :2]
    kept = np.ones(len(flat), dtype=bool)
    for place in place_bolts(bracket):
        kept &= np.linalg.norm(flat - np.asarray(place.flat_mm), axis=1) > place.spread_mm + 2.0
    return np.flatnonzero(kept)


def _grid(mesh: SolidMesh, held: list[str], loaded: list[str]) -> Any:  # noqa: ANN401
    """Return our mesh as theirs, straight-edged, its held and loaded faces named."""
    from netgen.meshing import Element2D, Element3D, FaceDescriptor, MeshPoint, Pnt
    from netgen.meshing import Mesh as NetgenMesh

    grid = NetgenMesh(dim=3)
    number = np.full(len(mesh.points), -1)
    points = [grid.Add(MeshPoint(Pnt(*mesh.points[node]))) for node in mesh.vertex_nodes]
    number[mesh.vertex_nodes] = np.arange(len(points))
    for tet in number[mesh.tets[:, :4]]:
        grid.Add(Element3D(1, [points[i] for i in tet[[0, 2, 1, 3]]]))
    named = {
        frozenset(face): name
        for name in (*held, *loaded)
        for face in number[mesh.patches[name][:, :3]].tolist()
    }
    walls = [name for name in mesh.patches if name in ("front", "back", "edge") or name.startswith("wall ")]
    numbers = {}
    for index, name in enumerate((*held, *loaded, "rest"), start=1):
        numbers[name] = grid.Add(FaceDescriptor(surfnr=index, domin=1, bc=index))
        grid.SetBCName(index - 1, name)
    for face in np.vstack([number[mesh.patches[name][:, :3]] for name in walls]).tolist():
        grid.Add(Element2D(numbers[named.get(frozenset(face), "rest")], [points[i] for i in face]))
    return ng.Mesh(grid)


def _curved(grid: Any, mesh: SolidMesh) -> Any:  # noqa: ANN401
    """Return the deformation that moves the middles of their straight edges onto ours."""
    space = ng.VectorH1(grid, order=2)
    middle: dict[frozenset[int], np.ndarray] = {}
    number = np.full(len(mesh.points), -1)
    number[mesh.vertex_nodes] = np.arange(len(mesh.vertex_nodes))
    for column, (i, j) in enumerate(((0, 1), (1, 2), (0, 2), (0, 3), (1, 3), (2, 3)), start=4):
        ends = mesh.tets[:, [i, j]]
        off = mesh.points[mesh.tets[:, column]] - mesh.points[ends].mean(axis=1)
        for (a, b), by in zip(number[ends].tolist(), off, strict=True):
            middle[frozenset((a, b))] = by
    bend = ng.GridFunction(space)
    height = _edge_height(grid, space)
    per_component = space.components[0].ndof
    values = bend.vec.FV().NumPy()
    scalar = space.components[0]
    for edge in grid.edges:
        by = middle[frozenset(v.nr for v in edge.vertices)]
        (dof,) = scalar.GetDofNrs(edge)
        for axis in range(3):
            values[axis * per_component + dof] = by[axis] / height
    return bend


def _edge_height(grid: Any, space: Any) -> float:  # noqa: ANN401
    """Return the value of an edge's own shape function in the middle of the edge."""
    probe = ng.GridFunction(space.components[0])
    element = next(iter(grid.Elements(ng.VOL)))
    edge = grid[element.edges[0]]
    (dof,) = space.components[0].GetDofNrs(edge)
    probe.vec[dof] = 1.0
    at = np.mean([grid[v].point for v in edge.vertices], axis=0)
    inside = np.mean([grid[v].point for v in element.vertices], axis=0)
    return float(probe(grid(*(at + 1e-9 * (inside - at)))))


def _averaged(mesh: SolidMesh, places: np.ndarray, stress: np.ndarray, volumes: np.ndarray) -> np.ndarray:
    """Return the volume-weighted mean of their elements' stress at each of our vertices, in our order."""
    from scipy.spatial import cKDTree

    _, vertex = cKDTree(mesh.points[mesh.vertex_nodes]).query(places.reshape(-1, 3))
    weights = np.repeat(volumes, 4)
    pairs = ((0, 0), (1, 1), (2, 2), (1, 2), (0, 2), (0, 1))
    rows = stress.reshape(-1, 3, 3)
    total = np.bincount(vertex, weights)
    return np.column_stack([np.bincount(vertex, weights * rows[:, i, j]) / total for i, j in pairs])
