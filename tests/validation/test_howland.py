"""A hole in a strip of finite width under tension: Howland's solution as tabled by Peterson."""

from __future__ import annotations

import numpy as np
import pytest

from solver.solid import SolidAnswer, Support, solve_solid
from tests.validation.plane_solids import (
    STEEL,
    arc,
    between,
    held_flat,
    line,
    plane_solid,
    rectangle,
    traction_from,
)
from tests.validation.reference import agrees
from tests.validation.solid_blocks import vertex_near

HOWLAND = "Howland, stress in the neighbourhood of a circular hole in a strip under tension, 1930 (published)"
PETERSON = "Peterson, Stress Concentration Factors, chart 4.1 (published)"


def strip(share: float) -> SolidAnswer:
    """Return a quarter of a strip of width 2, hole diameter over width `share`, pulled by 1 along x."""
    radius, half, end = share, 1.0, 4.0
    crowding, along = 1.0 + 1.6 * (1.0 - share), 12
    bricks = [
        ((12, along), between(arc((0, 0), radius, 0, 45), line((half, 0), (half, half)), crowding, 12)),
        ((12, along), between(arc((0, 0), radius, 90, 45), line((0, half), (half, half)), crowding, 12)),
        ((6, along), rectangle((half, end), (0, half))),
    ]
    mesh = plane_solid(bricks)
    x, y, _ = mesh.points.T
    supports = [
        held_flat(mesh),
        Support(np.flatnonzero(np.abs(x) < 1e-6), x=0.0),
        Support(np.flatnonzero(np.abs(y) < 1e-6), y=0.0),
    ]
    pulled = traction_from(mesh, lambda p: p[:, 0] > end - 1e-6, lambda p: np.tile([1.0, 0, 0], (len(p), 1)))
    return solve_solid(mesh, STEEL, supports, [pulled])


@pytest.mark.parametrize(
    ("share", "side", "front"),
    [(0.1, 3.03, -1.03), (0.2, 3.14, -1.11), (0.3, 3.36, -1.26), (0.4, 3.74, -1.44), (0.5, 4.32, -1.58)],
)
def test_hole_in_a_strip(share: float, side: float, front: float) -> None:
    """Gross stress concentration beside the hole, 2 %, and in line with the load, 3 %."""
    answer = strip(share)
    beside = np.array([vertex_near(answer.mesh, (0, share, 0))])
    peak = float(answer.stress_at(beside)[0, 0])
    ahead = np.array([vertex_near(answer.mesh, (share, 0, 0))])
    agrees(peak, side, 0.02, source=HOWLAND, name=f"Kt gross, d/H {share}")
    agrees(float(answer.stress_at(ahead)[0, 1]), front, 0.03, source=HOWLAND, name=f"in line, d/H {share}")
    rest = 1.0 - share
    net = 2 + 0.284 * rest - 0.600 * rest**2 + 1.32 * rest**3
    agrees(peak * rest, net, 0.02, source=PETERSON, name=f"Kt net, d/H {share}")
