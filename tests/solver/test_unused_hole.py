"""A hole that no bolt uses is meshed finely enough to show its peak, on the first mesh already."""

from __future__ import annotations

import numpy as np

from geometry.plate import Corner, Hole, Plate
from geometry.plate_mesh import mesh_plate
from solver.solid import ElasticMaterial, Support, Traction, solve_solid
from solver.stress import principal_stresses


def test_unused_hole_in_a_strip_reads_at_least_2_9() -> None:
    """Howland (published) gives 3.03 times the gross stress where the hole is a tenth of the width."""
    outline = tuple(
        Corner(at_mm=at) for at in ((-150.0, -50.0), (150.0, -50.0), (150.0, 50.0), (-150.0, 50.0))
    )
    hole = Hole(name="unused", centre_mm=(0.0, 0.0), diameter_mm=10.0)
    strip = Plate(name="strip", material="S275", thickness_mm=3.0, outline=outline, openings=(hole,))
    mesh = mesh_plate(strip)
    x, y, z = mesh.points.T
    edge = mesh.patches["edge"]
    far = np.flatnonzero(x < -150.0 + 1e-6)
    supports = [
        Support(far, x=0.0),
        Support(far[[int(np.argmin(np.abs(y[far])))]], y=0.0),
        Support(far[z[far] < 1e-9], z=0.0),
    ]
    end = edge[(x[edge] > 150.0 - 1e-6).all(axis=1)]
    answer = solve_solid(
        mesh, ElasticMaterial(210_000.0, 0.3), supports, [Traction(end, np.array([1.0, 0.0, 0.0]))]
    )
    rim = np.intersect1d(np.flatnonzero(np.hypot(x, y) < 5.0 + 1e-6), mesh.vertex_nodes)
    peak = float(principal_stresses(answer.stress_at(rim))[:, 0].max())
    assert 2.9 <= peak <= 3.4
