"""Cantilevers, frames and twisted tubes: beam theory and St-Venant's torsion, as closed forms."""

from __future__ import annotations

import numpy as np
import pytest

from solver.errors import SolverError
from solver.solid import ElasticMaterial, NodalForce, SolidAnswer, Support, Traction, solve_solid
from tests.validation.reference import agrees, lies_between
from tests.validation.solid_blocks import block, box, faces_where, joined, nodes_where, vertex_near

STEEL = ElasticMaterial(210_000.0, 0.3)
NO_POISSON = ElasticMaterial(210_000.0, 0.0)
BEAMS = "beam theory (own calculation)"
TORSION = "St-Venant torsion, thin closed and open tubes (own calculation)"


def test_cantilever_strip() -> None:
    """Wide and thin: between a plate whose width is held and a beam that is free to curl."""
    mesh = block((50.0, 100.0, 5.0), (10, 12, 1))
    root, end = mesh.patches["x0"], mesh.patches["x1"]
    pull = Traction(end, np.array([0.0, 0.0, -1000.0 / 500.0]))
    answer = solve_solid(mesh, STEEL, [Support(np.unique(root), 0.0, 0.0, 0.0)], [pull])
    sunk = -float(answer.displacement_mm[np.unique(end), 2].mean())
    lies_between(sunk, 0.17333, 0.19048, source=BEAMS, name="cantilever strip 50 x 100 x 5, 1 kN, mm")


def test_deep_beam() -> None:
    """Bending and shear; 3 %: at the root the solid is held through its height."""
    mesh = block((100.0, 10.0, 50.0), (12, 2, 6))
    pull = Traction(mesh.patches["x1"], np.array([0.0, 0.0, -1000.0 / 500.0]))
    answer = solve_solid(mesh, STEEL, [Support(np.unique(mesh.patches["x0"]), 0.0, 0.0, 0.0)], [pull])
    sunk = -float(answer.displacement_mm[np.unique(mesh.patches["x1"]), 2].mean())
    agrees(sunk, 0.015238 + 0.002971, 0.03, source=BEAMS, name="deep beam 100 x 50 x 10, 1 kN, mm")


def test_l_bracket() -> None:
    """A vertical leg 80 and a horizontal leg 60 on middle lines, 100 N at the tip; 3 %.

    Poisson's ratio is nought, as beam theory has it. The solid corner is a little stiffer than a line.
    """
    mesh = joined(
        [
            ((12, 6, 2), box((3.0, 60.0), (0.0, 50.0), (77.0, 83.0))),
            ((2, 6, 2), box((-3.0, 3.0), (0.0, 50.0), (77.0, 83.0))),
            ((2, 6, 16), box((-3.0, 3.0), (0.0, 50.0), (0.0, 77.0))),
        ]
    )
    root = nodes_where(mesh, lambda p: p[:, 2] < 1e-6)
    tip = faces_where(mesh, lambda p: p[:, 0] > 60.0 - 1e-6)
    pull = Traction(tip, np.array([0.0, 0.0, -100.0 / 300.0]))
    answer = solve_solid(mesh, NO_POISSON, [Support(root, 0.0, 0.0, 0.0)], [pull])
    moved = answer.displacement_mm[np.unique(tip)].mean(axis=0)
    agrees(-float(moved[2]), 0.190476, 0.03, source=BEAMS, name="L-bracket, tip down, mm")
    agrees(float(moved[0]), 0.101587, 0.03, source=BEAMS, name="L-bracket, tip sideways, mm")


STRAP = (6.0, 40.0, 150.0)
WEAK = 24.0 * 210_000.0 * (40.0 * 6.0**3 / 12.0) / 150.0**3
SHEAR = 0.222
"""Phi = 12 E I / (kappa G A L2) about the strong axis."""


def rack(direction: int, ends: str) -> float:
    """Return the stiffness in N/mm of two straps whose tops move together along X (weak) or Y (strong)."""
    mesh = block(STRAP, (2, 6, 20))
    middle = (STRAP[0] / 2, STRAP[1] / 2)
    top = nodes_where(mesh, lambda p: p[:, 2] > STRAP[2] - 1e-6)
    root = Support(np.unique(mesh.patches["z0"]), 0.0, 0.0, 0.0)
    if ends == "held":
        moves = {"x": 0.0, "y": 0.0, "z": 0.0} | {"xy"[direction]: 1.0}
        supports = [root, Support(top, **moves)]
    else:
        line = top[np.abs(mesh.points[top, direction] - middle[direction]) < 1e-6]
        supports = [root, Support(line, **{"xy"[direction]: 1.0})]
    # A held wide strap cannot curl: about its weak axis beam theory is met only without Poisson's ratio.
    answer = solve_solid(mesh, STEEL if direction else NO_POISSON, supports, [])
    return 2.0 * float(answer.reactions_n[top, direction].sum())


@pytest.mark.parametrize(
    ("direction", "ends", "published", "name"),
    [
        (0, "held", WEAK, "weak axis, both ends held"),
        (0, "pinned", WEAK / 4, "weak axis, one end pinned"),
        (1, "held", WEAK * (40 / 6) ** 2 / (1 + SHEAR), "strong axis, both ends held"),
        (1, "pinned", WEAK / 4 * (40 / 6) ** 2 / (1 + SHEAR / 4), "strong axis, one end pinned"),
    ],
)
def test_two_straps_rack(direction: int, ends: str, published: float, name: str) -> None:
    """3 %."""
    agrees(rack(direction, ends), published, 0.03, source=BEAMS, name=f"two straps, {name}, N/mm")


@pytest.mark.qualitative
def test_straps_pinned_at_both_ends_are_free_to_rack() -> None:
    mesh = block(STRAP, (2, 6, 20))
    x, _, z = mesh.points.T
    line = np.abs(x - STRAP[0] / 2) < 1e-6
    foot = np.flatnonzero(line & (z < 1e-6))
    top = np.flatnonzero(line & (z > STRAP[2] - 1e-6))
    with pytest.raises(SolverError, match="can move along"):
        solve_solid(mesh, STEEL, [Support(foot, 0.0, 0.0, 0.0)], [NodalForce(top, np.array([1.0, 0.0, 0.0]))])


RADIUS, WALL, TORQUE = 20.0, 2.0, 100_000.0


def twisted_tube(length: float, gap_deg: float, cells: tuple[int, int, int]) -> tuple[SolidAnswer, float]:
    """Return a tube turned by a small angle and the torque that takes; its ends may warp."""

    def place(unit: np.ndarray) -> np.ndarray:
        angle = np.radians(gap_deg / 2 + unit[:, 1] * (360.0 - gap_deg))
        radius = RADIUS + WALL * (unit[:, 0] - 0.5)
        return np.column_stack([radius * np.cos(angle), radius * np.sin(angle), length * unit[:, 2]])

    mesh = joined([(cells, place)])
    x, y, z = mesh.points.T
    foot, top = np.flatnonzero(z < 1e-6), np.flatnonzero(z > length - 1e-6)
    turn = 1e-3
    supports = [
        Support(foot, x=0.0, y=0.0),
        Support(top, x=-turn * y[top], y=turn * x[top]),
        # A slit tube turns about a line outside it: free to warp, it tilts, and one point holds it.
        Support(np.array([vertex_near(mesh, (-RADIUS, 0.0, 0.0))]) if gap_deg else foot, z=0.0),
    ]
    answer = solve_solid(mesh, STEEL, supports, [])
    force = answer.reactions_n[top]
    return answer, float((x[top] * force[:, 1] - y[top] * force[:, 0]).sum()) / turn


def test_closed_tube_twists() -> None:
    """Mean radius 20, wall 2; 2 %: exact theory adds t2 / 4R2, 0.25 %."""
    length = 60.0
    answer, stiffness = twisted_tube(length, 0.0, (1, 36, 8))
    shear_modulus = STEEL.elastic_modulus_mpa / 2.6
    agrees(stiffness * length / shear_modulus, 100_531.0, 0.02, source=TORSION, name="closed tube, J, mm4")
    halfway = [vertex_near(answer.mesh, (r, 0.0, length / 2)) for r in (RADIUS - 1, RADIUS + 1)]
    shear = float(np.abs(answer.stress_at(np.array(halfway))[:, 3]).mean()) * TORQUE / (stiffness * 1e-3)
    agrees(shear, 19.89, 0.02, source=TORSION, name="closed tube, 100 N.m, mean shear stress, MPa")


def test_slit_tube_twists() -> None:
    """The same tube cut open along its length, its ends free to warp; 1 %."""
    length = 200.0
    _, stiffness = twisted_tube(length, 1.0, (1, 48, 24))
    shear_modulus = STEEL.elastic_modulus_mpa / 2.6
    agrees(stiffness * length / shear_modulus, 335.1, 0.01, source=TORSION, name="slit tube, J, mm4")
