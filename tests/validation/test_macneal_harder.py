"""MacNeal and Harder, A proposed standard set of problems to test finite element accuracy, 1985."""

from __future__ import annotations

import numpy as np
import pytest

from geometry.solid_mesh import SolidMesh
from solver.solid import ElasticMaterial, Support, Traction, solve_solid
from tests.validation.reference import agrees
from tests.validation.solid_blocks import block, faces_where, joined, nodes_where

SOURCE = "MacNeal and Harder, Finite Elements in Analysis and Design 1, 1985"


def tip_movement(mesh: SolidMesh, material: ElasticMaterial, tip: np.ndarray, force: np.ndarray) -> float:
    """Return the mean movement of the tip along a force spread over its face, the root held."""
    root = nodes_where(mesh, lambda p: p[:, 0] < 1e-9)
    area = 1.1 * 0.32 if mesh.points[:, 0].max() > 10 else 0.02
    answer = solve_solid(mesh, material, [Support(root, 0.0, 0.0, 0.0)], [Traction(tip, force / area)])
    return float((answer.displacement_mm[np.unique(tip)] @ force).mean())


@pytest.mark.parametrize(
    ("force", "published", "name"),
    [
        ((1, 0, 0), 3.0e-5, "extension"),
        ((0, 1, 0), 0.1081, "in-plane shear"),
        ((0, 0, 1), 0.4321, "out-of-plane shear"),
    ],
)
def test_straight_beam(force: tuple[int, int, int], published: float, name: str) -> None:
    """6 x 0.2 x 0.1, unit loads. The values are beam theory; a solid held at its root is a little stiffer."""
    mesh = block((6.0, 0.2, 0.1), (24, 2, 1))
    moved = tip_movement(mesh, ElasticMaterial(1e7, 0.3), mesh.patches["x1"], np.array(force, dtype=float))
    agrees(moved, published, 0.02, source=f"{SOURCE} (from memory, to be verified)", name=f"beam, {name}")


@pytest.mark.parametrize(("axis", "published"), [(2, 5.424e-3), (1, 1.753e-3)])
def test_twisted_beam(axis: int, published: float) -> None:
    """12 long, 1.1 wide, 0.32 thick, turned by 90 degrees along its length; 1 %."""

    def place(unit: np.ndarray) -> np.ndarray:
        across, through = 1.1 * (unit[:, 1] - 0.5), 0.32 * (unit[:, 2] - 0.5)
        cos, sin = np.cos(unit[:, 0] * np.pi / 2), np.sin(unit[:, 0] * np.pi / 2)
        return np.column_stack([12 * unit[:, 0], across * cos - through * sin, across * sin + through * cos])

    mesh = joined([((24, 4, 2), place)], tolerance_mm=1e-8)
    tip = faces_where(mesh, lambda p: p[:, 0] > 12 - 1e-9)
    moved = tip_movement(mesh, ElasticMaterial(29e6, 0.22), tip, np.eye(3)[axis])
    agrees(moved, published, 0.01, source=f"{SOURCE} (published)", name=f"twisted beam, load {'xyz'[axis]}")
