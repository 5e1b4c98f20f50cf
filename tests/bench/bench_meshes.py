"""The meshes that speed is measured on: a square plate of 6 mm, meshed as any plate is."""

from __future__ import annotations

import math

import numpy as np

from geometry.plate import Corner, Hole, Plate
from geometry.plate_mesh import mesh_plate
from geometry.solid_mesh import SolidMesh

ELASTIC_MODULUS_MPA = 210_000.0
POISSON = 0.3


def plate_mesh_of(unknowns: int) -> SolidMesh:
    """Return a mesh of about that many unknowns; the size is found by meshing coarse and scaling."""
    size = 8.0
    mesh = _meshed(size)
    for _ in range(4):
        have = 3 * len(mesh.points)
        if abs(have - unknowns) < 0.05 * unknowns:
            break
        size *= math.sqrt(have / unknowns)
        mesh = _meshed(size)
    return mesh


def held(mesh: SolidMesh) -> np.ndarray:
    """Return the nodes of the plate's left edge."""
    return np.flatnonzero(mesh.points[:, 0] < 1e-6)


def _meshed(size_mm: float) -> SolidMesh:
    corners = tuple(Corner(at_mm=at) for at in ((0.0, 0.0), (300.0, 0.0), (300.0, 300.0), (0.0, 300.0)))
    hole = Hole(name="middle", centre_mm=(150.0, 150.0), diameter_mm=40.0)
    plate = Plate(name="bench", material="S275", thickness_mm=6.0, outline=corners, openings=(hole,))
    return mesh_plate(plate, (), size_mm)
