"""LE5 and LE10, standard benchmarks for linear elastic solids."""

from __future__ import annotations

import numpy as np

from geometry.solid_mesh import SolidMesh
from solver.solid import ElasticMaterial, Pressure, SolidAnswer, Support, Traction, solve_solid
from tests.validation.reference import agrees
from tests.validation.solid_blocks import box, faces_where, joined, nodes_where, vertex_near

STEEL = ElasticMaterial(210_000.0, 0.3)
SOURCE = "NAFEMS, The Standard NAFEMS Benchmarks, 1990 (published)"


def test_le5_z_section_under_torque() -> None:
    """A folded plate 10 m long, twisted by opposite shears in its flanges; 2 % as the benchmark asks."""
    spacing = 40
    bricks = [
        ((spacing, 1, 1), box((0, 10_000), (-50, 50), (-1050, -950))),
        ((spacing, 1, 1), box((0, 10_000), (-50, 50), (950, 1050))),
        ((spacing, 1, 8), box((0, 10_000), (-50, 50), (-950, 950))),
        ((spacing, 4, 1), box((0, 10_000), (50, 1000), (950, 1050))),
        ((spacing, 4, 1), box((0, 10_000), (-1000, -50), (-1050, -950))),
    ]
    mesh = joined(bricks)
    root = nodes_where(mesh, lambda p: p[:, 0] < 1e-6)
    upper = faces_where(mesh, lambda p: (p[:, 0] > 9_999.9) & (p[:, 2] > 949))
    lower = faces_where(mesh, lambda p: (p[:, 0] > 9_999.9) & (p[:, 2] < -949))
    shear = np.array([0.0, 600_000.0 / (1050.0 * 100.0), 0.0])
    answer = solve_solid(
        mesh, STEEL, [Support(root, 0.0, 0.0, 0.0)], [Traction(upper, shear), Traction(lower, -shear)]
    )
    faces = [vertex_near(mesh, (2500, 1000, z)) for z in (950, 1050)]
    stress = answer.stress_at(np.array(faces))[:, 0].mean()
    agrees(float(stress), -108.0, 0.02, source=SOURCE, name="LE5, axial stress at the flange's edge, MPa")


def elliptic_ring() -> SolidMesh:
    """Return the quarter ring of LE10, finer toward its inner edge."""

    def place(unit: np.ndarray) -> np.ndarray:
        share, angle = unit[:, 0] ** 1.5, unit[:, 1] * np.pi / 2
        inner = np.column_stack([2000 * np.cos(angle), 1000 * np.sin(angle)])
        outer = np.column_stack([3250 * np.cos(angle), 2750 * np.sin(angle)])
        flat = inner + share[:, None] * (outer - inner)
        return np.column_stack([flat, 600 * (unit[:, 2] - 0.5)])

    return joined([((8, 16, 4), place)])


def le10() -> SolidAnswer:
    mesh = elliptic_ring()
    x, y, z = mesh.points.T
    outer = np.isclose((x / 3250) ** 2 + (y / 2750) ** 2, 1.0)
    supports = [
        Support(np.flatnonzero(np.abs(y) < 1e-6), y=0.0),
        Support(np.flatnonzero(np.abs(x) < 1e-6), x=0.0),
        Support(np.flatnonzero(outer), x=0.0, y=0.0),
        Support(np.flatnonzero(outer & (np.abs(z) < 1e-6)), z=0.0),
    ]
    top = faces_where(mesh, lambda p: p[:, 2] > 299.9)
    return solve_solid(mesh, STEEL, supports, [Pressure(top, 1.0)])


def test_le10_thick_plate_under_pressure() -> None:
    """A quarter of a thick elliptic ring; 2 % as the benchmark asks."""
    answer = le10()
    stress = answer.stress_at(np.array([vertex_near(answer.mesh, (2000, 0, 300))]))[0, 1]
    agrees(float(stress), -5.38, 0.02, source=SOURCE, name="LE10, stress along y at D, MPa")
