"""Mass of plates, casing and dash bar, as matrices. Unit tonne, mm and s: N = t mm/s2."""

from __future__ import annotations

import numpy as np
import scipy.sparse as sp

from geometry.casing import Casing
from geometry.casing_in_space import casing_to_space
from geometry.solid_mesh import SolidMesh
from solver.beam import BeamSection
from solver.elasticity import physical_gradients
from solver.rigid import Floats, carry
from solver.shape_functions import tetrahedron

TONNES_PER_KG = 1e-3
_ORDER = 4
"""Products of quadratic shape functions are of the fourth order."""
_CHUNK = 2048


def mass_of_fields(mesh: SolidMesh, density_kg_m3: float, fields: Floats) -> Floats:
    """Return the (k, k) consistent mass of displacement fields (3 n, k) of a solid, in tonnes.

    Raises SolverError for an element that is turned inside out.
    """
    count, width = len(mesh.points), fields.shape[1]
    moved = _scalar_mass(mesh) @ fields.reshape(count, 3 * width)
    return np.asarray(1e-12 * density_kg_m3 * (fields.T @ moved.reshape(3 * count, width)))


def casing_mass(casing: Casing, about_mm: Floats) -> Floats:
    """Return the (6, 6) mass of the casing for its motion about a point, as a block of even density.

    Its own turning about the mass centre is that of its outline block (closed form); the mass is the file's.
    """
    mass = TONNES_PER_KG * casing.mass_kg
    sides = np.abs(np.subtract(casing.envelope.high_mm, casing.envelope.low_mm))
    own = mass / 12.0 * ((sides**2).sum() - sides**2)
    origin = casing_to_space(casing, (0.0, 0.0, 0.0))
    axes = np.stack([casing_to_space(casing, tuple(way)) - origin for way in np.eye(3)], axis=1)
    at_centre = np.zeros((6, 6))
    at_centre[:3, :3] = mass * np.eye(3)
    at_centre[3:, 3:] = axes @ np.diag(own) @ axes.T
    moved = carry(about_mm, casing_to_space(casing, casing.mass_centre_mm))
    return np.asarray(moved.T @ at_centre @ moved)


def beam_mass(section: BeamSection, length_mm: float, density_kg_m3: float, axes: Floats) -> Floats:
    """Return the (12, 12) consistent mass of a slender beam between two points, in X, Y, Z.

    Przemieniecki, Theory of Matrix Structural Analysis, chapter 11 (from memory, to be verified); the
    turning of its sections counts for twisting alone. Columns of `axes` as in `beam.beam_stiffness`.
    """
    length, line = length_mm, 1e-12 * density_kg_m3 * section.area_mm2
    mass = np.zeros((12, 12))
    pair = np.array([[2.0, 1.0], [1.0, 2.0]]) / 6.0
    polar = (section.second_moment_1_mm4 + section.second_moment_2_mm4) / section.area_mm2
    mass[np.ix_((2, 8), (2, 8))] += line * length * pair
    mass[np.ix_((5, 11), (5, 11))] += line * length * polar * pair
    for rows, sense in (((0, 4, 6, 10), 1.0), ((1, 3, 7, 9), -1.0)):
        a, b, square = 22.0 * length * sense, 13.0 * length * sense, length**2
        mass[np.ix_(rows, rows)] += line * length / 420.0 * np.array(
            [
                [156.0, a, 54.0, -b],
                [a, 4.0 * square, b, -3.0 * square],
                [54.0, b, 156.0, -a],
                [-b, -3.0 * square, -a, 4.0 * square],
            ]
        )  # fmt: skip
    turn = np.kron(np.eye(4), axes.T)
    return np.asarray(turn.T @ mass @ turn)


def _scalar_mass(mesh: SolidMesh) -> sp.csr_matrix:
    """Return int N_a N_b (n, n), mm3."""
    reference = tetrahedron(_ORDER)
    products = np.einsum("qa,qb->qab", reference.values, reference.values).reshape(len(reference.weights), -1)
    blocks = []
    for start in range(0, len(mesh.tets), _CHUNK):
        _, volumes = physical_gradients(mesh, slice(start, start + _CHUNK), reference)
        blocks.append(volumes @ products)
    rows = np.repeat(mesh.tets, 10, axis=1).ravel()
    columns = np.tile(mesh.tets, (1, 10)).ravel()
    return sp.csr_matrix((np.concatenate(blocks).ravel(), (rows, columns)), shape=(len(mesh.points),) * 2)
