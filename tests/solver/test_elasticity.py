"""Assembly, factor, beds and recovery against what must hold exactly."""

from __future__ import annotations

import numpy as np
import pytest
import scipy.sparse as sp

from geometry.solid_mesh import SolidMesh
from solver.cholesky import Factor
from solver.elasticity import (
    assemble_stiffness,
    bed,
    body_force,
    surface_area,
    surface_pressure,
    surface_traction,
)
from solver.errors import SolverError
from solver.solid import ElasticMaterial, Support, solve_solid
from solver.stress import element_error, principal_stresses, vertex_stress, von_mises, von_mises_product
from tests.validation.solid_blocks import block, curved

STEEL = ElasticMaterial(210_000.0, 0.3)


@pytest.fixture(scope="module")
def cube() -> SolidMesh:
    return block((30.0, 20.0, 10.0), (3, 3, 2))


@pytest.fixture(scope="module")
def bent() -> SolidMesh:
    """Return a block whose elements have curved edges."""
    return curved(block((30.0, 20.0, 10.0), (3, 3, 2)), 2.0)


def rigid_motions(points: np.ndarray) -> np.ndarray:
    motions = np.zeros((len(points), 3, 6))
    motions[:, :, :3] = np.eye(3)
    for axis in range(3):
        motions[:, :, 3 + axis] = np.cross(np.eye(3)[axis], points)
    return motions.reshape(-1, 6)


@pytest.mark.parametrize("name", ["cube", "bent"])
def test_rigid_motions_cost_nothing(name: str, request: pytest.FixtureRequest) -> None:
    mesh = request.getfixturevalue(name)
    stiffness = assemble_stiffness(mesh, 210_000.0, 0.3)
    force = stiffness @ rigid_motions(mesh.points)
    assert np.abs(force).max() < 1e-8 * abs(stiffness).max()
    assert abs(stiffness - stiffness.T).max() < 1e-9 * abs(stiffness).max()


@pytest.mark.parametrize(("name", "error"), [("cube", 1e-9), ("bent", 2e-4)])
def test_a_uniform_stress_is_met_exactly(name: str, error: float, request: pytest.FixtureRequest) -> None:
    """The patch test: linear movement of the skin gives the same uniform stress everywhere inside."""
    mesh = request.getfixturevalue(name)
    slope = np.array([[1.0, 0.3, -0.2], [0.1, -0.5, 0.4], [0.2, 0.6, 0.7]]) * 1e-3
    moved = mesh.points @ slope.T
    skin = np.unique(np.concatenate([faces.ravel() for faces in mesh.patches.values()]))
    answer = solve_solid(mesh, STEEL, [Support(skin, moved[skin, 0], moved[skin, 1], moved[skin, 2])], [])
    assert answer.displacement_mm == pytest.approx(moved, abs=error * np.abs(moved).max())
    strain = (slope + slope.T) / 2
    stress = 210_000 / 1.3 * (strain + 0.3 / 0.4 * np.trace(strain) * np.eye(3))
    expected = stress[[0, 1, 2, 1, 0, 0], [0, 1, 2, 2, 2, 1]]
    assert answer.vertex_stress_mpa == pytest.approx(
        np.tile(expected, (len(mesh.vertex_nodes), 1)), abs=10 * error * abs(expected).max()
    )


def test_four_quadrature_points_suffice_on_curved_edges(bent: SolidMesh) -> None:
    skin = bent.patches["x0"]
    end = bent.patches["x1"]
    load = surface_traction(bent, end, np.array([0.0, 0.0, 1.0]))
    bends = []
    for order in (2, 4, 6):
        stiffness = assemble_stiffness(bent, 210_000.0, 0.3, quadrature_order=order)
        ties, _, _ = bed(bent, skin, np.zeros(3), np.array([1.0, 0, 0]), 1e5, 1e5)
        bends.append(load @ Factor(bent, stiffness + ties).solve(load))
    assert bends[0] == pytest.approx(bends[2], rel=2e-3)
    assert bends[1] == pytest.approx(bends[2], rel=2e-4)


def test_forces_add_up(cube: SolidMesh) -> None:
    weight = body_force(cube, np.array([0.0, 0.0, -2.0])).reshape(-1, 3)
    assert weight.sum(axis=0) == pytest.approx([0, 0, -2.0 * 6000.0])
    pushed = surface_traction(cube, cube.patches["x1"], np.array([3.0, 1.0, 0.0])).reshape(-1, 3)
    assert pushed.sum(axis=0) == pytest.approx([600.0, 200.0, 0.0])
    squeezed = sum(surface_pressure(cube, faces, 5.0) for faces in cube.patches.values())
    assert np.asarray(squeezed).reshape(-1, 3).sum(axis=0) == pytest.approx([0, 0, 0], abs=1e-9)
    assert surface_pressure(cube, cube.patches["z1"], 5.0).reshape(-1, 3).sum(axis=0) == pytest.approx(
        [0, 0, -3000.0]
    )
    assert surface_area(cube, cube.patches["z1"]) == pytest.approx(600.0)


@pytest.mark.parametrize("name", ["cube", "bent"])
def test_a_bed_resists_only_relative_movement(name: str, request: pytest.FixtureRequest) -> None:
    mesh = request.getfixturevalue(name)
    centre = np.array([3.0, 4.0, 5.0])
    normal = np.array([0.6, 0.0, 0.8])
    nodes, ties, own = bed(mesh, mesh.patches["z1"], centre, normal, 1000.0, 400.0)
    points = rigid_motions(mesh.points)
    body = np.vstack([rigid_motions(np.zeros((1, 3)))[:, :6], np.hstack([np.zeros((3, 3)), np.eye(3)])])
    for axis in range(3):
        body[:3, 3 + axis] = np.cross(np.eye(3)[axis], centre)
    assert np.abs(nodes @ points + ties @ body).max() < 1e-6
    assert np.abs(ties.T @ points + own @ body).max() < 1e-6
    area = surface_area(mesh, mesh.patches["z1"])
    assert own[:3, :3] == pytest.approx(area * (400.0 * np.eye(3) + 600.0 * np.outer(normal, normal)))
    assert abs(nodes - nodes.T).max() < 1e-9


def test_the_factor_solves_and_condenses_like_dense_algebra(cube: SolidMesh) -> None:
    stiffness = assemble_stiffness(cube, 210_000.0, 0.3)
    border = []
    own = np.zeros((12, 12))
    for i, name in enumerate(("x0", "x1")):
        nodes, ties, body = bed(
            cube, cube.patches[name], np.array([30.0 * i, 0, 0]), np.array([1.0, 0, 0]), 9e4, 3e4
        )
        stiffness = stiffness + nodes
        border.append(ties)
        own[6 * i : 6 * i + 6, 6 * i : 6 * i + 6] = body
    ties = sp.hstack(border)
    factor = Factor(cube, stiffness, ties, own)
    dense, across = stiffness.toarray(), ties.toarray()
    inverse = np.linalg.inv(dense)
    assert factor.condensed == pytest.approx(own - across.T @ inverse @ across, rel=1e-6, abs=1e-3)
    values = np.linalg.eigvalsh(factor.condensed)
    assert np.abs(values[:6]).max() < 1e-9 * values[6]
    rng = np.random.default_rng(1)
    loads, moved = rng.normal(size=(len(dense), 3)), rng.normal(size=(12, 3))
    assert factor.solve(loads) == pytest.approx(inverse @ loads, rel=1e-6, abs=1e-12)
    assert factor.solve(loads[:, 0]) == pytest.approx(inverse @ loads[:, 0], rel=1e-6, abs=1e-12)
    assert factor.solve(loads, moved) == pytest.approx(inverse @ (loads - across @ moved), rel=1e-6, abs=1e-9)
    assert factor.forward(loads).on_border == pytest.approx(-across.T @ inverse @ loads, rel=1e-6, abs=1e-9)


def test_a_loose_solid_is_named(cube: SolidMesh) -> None:
    with pytest.raises(SolverError, match="not held"):
        Factor(cube, assemble_stiffness(cube, 210_000.0, 0.3))
    edge = np.flatnonzero((cube.points[:, 0] == 0) & (cube.points[:, 2] == 0))
    with pytest.raises(SolverError, match="not held"):
        solve_solid(cube, STEEL, [Support(edge, 0.0, 0.0, 0.0)], [])


def test_an_element_inside_out_is_named(cube: SolidMesh) -> None:
    tets = cube.tets.copy()
    tets[5] = tets[5][[1, 0, 2, 3, 4, 6, 5, 8, 7, 9]]
    with pytest.raises(SolverError, match="inside out"):
        assemble_stiffness(SolidMesh(cube.points, tets, {}), 210_000.0, 0.3)


def test_stress_at_some_vertices_is_that_of_all(bent: SolidMesh) -> None:
    moved = np.random.default_rng(0).normal(size=(3 * len(bent.points), 4))
    every = vertex_stress(bent, moved, 210_000.0, 0.3)
    some = bent.vertex_nodes[[3, 17, 9]]
    assert vertex_stress(bent, moved, 210_000.0, 0.3, vertices=some) == pytest.approx(every[[3, 17, 9]])
    assert vertex_stress(bent, moved[:, 2], 210_000.0, 0.3) == pytest.approx(every[..., 2])
    with pytest.raises(ValueError, match="no vertex"):
        vertex_stress(bent, moved, 210_000.0, 0.3, vertices=bent.tets[0, 5:6])


def test_error_is_nil_for_a_uniform_stress_and_where_the_stress_bends(cube: SolidMesh) -> None:
    uniform = (cube.points @ np.diag([1e-3, -3e-4, -3e-4])).ravel()
    assert element_error(cube, uniform, 210_000.0, 0.3).max() < 1e-15
    x = cube.points[:, 0]
    local = np.zeros((len(x), 3))
    local[:, 0] = np.where(x > 20, (x - 20) ** 2 * 1e-5, 0.0)
    error = element_error(cube, local.ravel(), 210_000.0, 0.3)
    assert error.min() >= 0
    worst = cube.points[cube.tets[np.argmax(error), :4], 0].mean()
    assert worst > 10
    far = cube.points[cube.tets[:, :4], 0].max(axis=1) <= 10
    assert error[far].max() < 1e-12


def test_yield_measures() -> None:
    """Closed forms: pure shear, a plane state, hydrostatic."""
    stress = np.array([[0, 0, 0, 0, 0, 1.0], [80, -40, 0, 0, 0, 25], [7, 7, 7, 0, 0, 0]])
    assert von_mises(stress) == pytest.approx([np.sqrt(3), 114.346, 0.0], abs=1e-3)
    assert von_mises(stress[:, :, None])[:, 0] == pytest.approx(von_mises(stress))
    assert principal_stresses(stress)[1] == pytest.approx([85.0, 0.0, -45.0])


def test_von_mises_of_a_sum_is_had_from_products() -> None:
    rng = np.random.default_rng(3)
    one, other = rng.normal(size=(2, 40, 6, 3))
    square = sum(von_mises_product(a, b) for a in (one, other) for b in (one, other))
    assert square == pytest.approx(von_mises(one + other) ** 2)
    assert von_mises_product(one, other) == pytest.approx(von_mises_product(other, one))
