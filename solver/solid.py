"""The lower entrance: a solid, its supports and loads in; displacement, stress and reactions out.

It knows nothing of brackets. Published benchmarks come in here and go through the same assembly, solution and
stress recovery as every bracket.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import scipy.sparse as sp
from numpy.typing import NDArray

from geometry.solid_mesh import SolidMesh
from solver.cholesky import Factor
from solver.elasticity import assemble_stiffness, body_force, surface_pressure, surface_traction
from solver.geometric_stiffness import GeometricStiffness
from solver.load_factors import load_factors
from solver.stress import vertex_stress

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


@dataclass(frozen=True)
class ElasticMaterial:
    """A linear, isotropic material."""

    elastic_modulus_mpa: float
    poisson: float


@dataclass(frozen=True)
class Support:
    """Nodes whose movement is given, mm, along some of X, Y, Z; `None` leaves that direction free."""

    nodes: Ints
    x: float | Floats | None = None
    y: float | Floats | None = None
    z: float | Floats | None = None


@dataclass(frozen=True)
class Traction:
    """Force per area on faces (nf, 6), N/mm2: one vector, or (nf, q, 3) at `elasticity.surface_points`."""

    faces: Ints
    traction_mpa: Floats


@dataclass(frozen=True)
class Pressure:
    """Pressure pushing into faces (nf, 6) whose vertices run anticlockwise seen from outside."""

    faces: Ints
    pressure_mpa: float


@dataclass(frozen=True)
class BodyForce:
    """A uniform force per volume (3,), N/mm3."""

    force_per_mm3: Floats


@dataclass(frozen=True)
class NodalForce:
    """Forces on nodes, N: one vector for each, (3,) or (nodes, 3)."""

    nodes: Ints
    force_n: Floats


Load = Traction | Pressure | BodyForce | NodalForce


@dataclass(frozen=True)
class SolidAnswer:
    """How a solid answers to its loads."""

    mesh: SolidMesh
    displacement_mm: Floats
    """(n, 3)."""
    vertex_stress_mpa: Floats
    """(nv, 6) at `mesh.vertex_nodes`, in the order of `solver.stress`."""
    reactions_n: Floats
    """(n, 3) what the supports put on the nodes; zero where nothing is held."""
    strain_energy_n_mm: float

    def stress_at(self, nodes: Ints) -> Floats:
        """Return the stress (k, 6) at vertex nodes."""
        return self.vertex_stress_mpa[np.searchsorted(self.mesh.vertex_nodes, nodes)]


def solve_solid(
    mesh: SolidMesh, material: ElasticMaterial, supports: Sequence[Support], loads: Sequence[Load]
) -> SolidAnswer:
    """Return displacement, stress and reactions of a solid.

    Raises `SolverError` when the supports leave it free to move.
    """
    stiffness = assemble_stiffness(mesh, material.elastic_modulus_mpa, material.poisson)
    forces = np.zeros(3 * len(mesh.points))
    for load in loads:
        forces += nodal_forces(mesh, load)
    held, given = _prescribed(mesh, supports)
    displacement = _solve_held(mesh, stiffness, forces, held, given)
    internal = stiffness @ displacement
    reactions = np.where(held, internal - forces, 0.0)
    stress = vertex_stress(mesh, displacement, material.elastic_modulus_mpa, material.poisson)
    energy = 0.5 * float(displacement @ internal)
    return SolidAnswer(mesh, displacement.reshape(-1, 3), stress, reactions.reshape(-1, 3), energy)


@dataclass(frozen=True)
class SolidBuckling:
    """At what multiple of its loads a solid buckles."""

    load_factor: float
    """inf where the loads compress nothing, nan where the iteration did not settle."""
    shape: Floats
    """(n, 3) the movement, of any size."""


def buckle_solid(
    mesh: SolidMesh,
    material: ElasticMaterial,
    supports: Sequence[Support],
    loads: Sequence[Load],
    held_in_buckling: Sequence[Support] | None = None,
) -> SolidBuckling:
    """Return at what multiple of its loads a solid buckles by linear theory.

    While it buckles, what `supports` hold stays; `held_in_buckling` may name other supports for that (an edge
    that is pressed, but may not rise). Supports move nothing of themselves. Raises `SolverError` when either
    leaves the solid free to move.
    """
    answer = solve_solid(mesh, material, supports, loads)
    elements = GeometricStiffness(mesh)
    modulus, poisson = material.elastic_modulus_mpa, material.poisson
    matrices = elements.of(-elements.own_stress(answer.displacement_mm.ravel(), modulus, poisson))
    stiffness = assemble_stiffness(mesh, modulus, poisson)
    held, _ = _prescribed(mesh, supports if held_in_buckling is None else held_in_buckling)
    factor = Factor(mesh, _without(stiffness, held))
    free = (~held).astype(np.float64)[:, None]
    (buckles,) = load_factors(
        lambda forces: factor.solve(free * forces),
        [lambda moved: free * elements.apply(matrices, moved)],
        3 * len(mesh.points),
    )
    return SolidBuckling(buckles.factor, buckles.shape.reshape(-1, 3))


def nodal_forces(mesh: SolidMesh, load: Load) -> Floats:
    """Return the nodal forces (3n,), N, that do the same work as a load."""
    match load:
        case Traction(faces, traction):
            return surface_traction(mesh, faces, traction)
        case Pressure(faces, pressure):
            return surface_pressure(mesh, faces, pressure)
        case BodyForce(force):
            return body_force(mesh, force)
        case NodalForce(nodes, force):
            total = np.zeros((len(mesh.points), 3))
            np.add.at(total, nodes, force)
            return total.ravel()


def _prescribed(mesh: SolidMesh, supports: Sequence[Support]) -> tuple[NDArray[np.bool_], Floats]:
    """Return which unknowns are held, and at what displacement."""
    held = np.zeros((len(mesh.points), 3), dtype=bool)
    given = np.zeros((len(mesh.points), 3))
    for support in supports:
        for axis, value in enumerate((support.x, support.y, support.z)):
            if value is not None:
                held[support.nodes, axis] = True
                given[support.nodes, axis] = value
    return held.ravel(), given.ravel()


def _solve_held(
    mesh: SolidMesh, stiffness: sp.bsr_matrix, forces: Floats, held: NDArray[np.bool_], given: Floats
) -> Floats:
    """Return the displacement with the held unknowns eliminated: their equations read k u = k u_given."""
    right = np.where(held, stiffness.diagonal() * given, forces - stiffness @ given)
    return Factor(mesh, _without(stiffness, held)).solve(right)


def _without(stiffness: sp.bsr_matrix, held: NDArray[np.bool_]) -> sp.bsr_matrix:
    """Return the stiffness with the held unknowns coupled to nothing, their own stiffness left."""
    free = (~held).astype(np.float64).reshape(-1, 3)
    rows = np.repeat(np.arange(len(free)), np.diff(stiffness.indptr))
    blocks = stiffness.data * free[rows][:, :, None] * free[stiffness.indices][:, None, :]
    own = np.flatnonzero(stiffness.indices == rows)
    diagonal = stiffness.diagonal()
    blocks[own] += np.eye(3) * (diagonal * held).reshape(-1, 3)[:, :, None]
    return sp.bsr_matrix((blocks, stiffness.indices, stiffness.indptr), shape=stiffness.shape)
