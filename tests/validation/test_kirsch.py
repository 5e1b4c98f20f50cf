"""A small hole in a wide plate under tension: Kirsch's closed form."""

from __future__ import annotations

import itertools

import numpy as np
import pytest

from solver.solid import SolidAnswer, Support, solve_solid
from tests.validation.plane_solids import STEEL, arc, between, held_flat, plane_solid, traction_from
from tests.validation.reference import agrees
from tests.validation.solid_blocks import vertex_near

SOURCE = "Kirsch, in Timoshenko and Goodier, Theory of Elasticity (from memory, to be verified)"
RINGS = (1.0, 1.1, 1.25, 1.5, 2.0, 3.0, 5.0, 7.0)


def exact(points: np.ndarray) -> np.ndarray:
    """Return xx, yy, xy of the plate with a hole of radius 1, pulled by 1 along x."""
    r2, angle = (points[:, :2] ** 2).sum(axis=1), np.arctan2(points[:, 1], points[:, 0])
    two, four = np.cos(2 * angle), np.cos(4 * angle)
    xx = 1 - (1.5 * two + four) / r2 + 1.5 * four / r2**2
    yy = -(0.5 * two - four) / r2 - 1.5 * four / r2**2
    xy = -(0.5 * np.sin(2 * angle) + np.sin(4 * angle)) / r2 + 1.5 * np.sin(4 * angle) / r2**2
    return np.column_stack([xx, yy, xy])


def pull(points: np.ndarray) -> np.ndarray:
    """Return the traction of the exact solution on a circle round the hole."""
    xx, yy, xy = exact(points).T
    normal = points[:, :2] / np.linalg.norm(points[:, :2], axis=1)[:, None]
    x = xx * normal[:, 0] + xy * normal[:, 1]
    y = xy * normal[:, 0] + yy * normal[:, 1]
    return np.column_stack([x, y, np.zeros(len(x))])


@pytest.fixture(scope="module")
def plate() -> SolidAnswer:
    """Return a quarter of the plate, cut off at seven radii, where the exact tractions are applied."""
    rings = itertools.pairwise(RINGS)
    bricks = [((2, 12), between(arc((0, 0), a, 0, 90), arc((0, 0), b, 0, 90))) for a, b in rings]
    mesh = plane_solid(bricks)
    supports = [
        held_flat(mesh),
        Support(np.flatnonzero(np.abs(mesh.points[:, 0]) < 1e-6), x=0.0),
        Support(np.flatnonzero(np.abs(mesh.points[:, 1]) < 1e-6), y=0.0),
    ]
    rim = traction_from(mesh, lambda p: np.hypot(p[:, 0], p[:, 1]) > RINGS[-1] - 1e-6, pull)
    return solve_solid(mesh, STEEL, supports, [rim])


@pytest.mark.parametrize(
    ("radius", "published"), [(1, 3.0), (1.5, 1.51852), (2, 1.21875), (3, 1.07407), (5, 1.02240)]
)
def test_stress_across_the_load(plate: SolidAnswer, radius: float, published: float) -> None:
    """Straight out from the hole, square to the load; 2 %."""
    node = np.array([vertex_near(plate.mesh, (0, radius, 0))])
    agrees(float(plate.stress_at(node)[0, 0]), published, 0.02, source=SOURCE, name=f"at {radius} radii")


def test_stress_along_the_load(plate: SolidAnswer) -> None:
    """At the hole's edge where the load points at it; 3 %, the stress there changes fast."""
    node = np.array([vertex_near(plate.mesh, (1, 0, 0))])
    agrees(float(plate.stress_at(node)[0, 1]), -1.0, 0.03, source=SOURCE, name="edge in line with the load")
