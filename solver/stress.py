"""Stress from displacement, and what is read from a stress.

Stress is ordered xx, yy, zz, yz, xz, xy (shear as stress, not doubled), in MPa.

At a vertex it is the volume-weighted mean of what the surrounding elements themselves say there. A projection
to linear functions reads up to a quarter low at the inner face of a bend and is not used.
"""

from __future__ import annotations

import numpy as np
import scipy.sparse as sp
from numpy.typing import NDArray

from geometry.solid_mesh import SolidMesh
from solver.elasticity import add_rows, pattern, physical_gradients
from solver.shape_functions import tetrahedron, tetrahedron_vertices

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

PAIRS = ((0, 0), (1, 1), (2, 2), (1, 2), (0, 2), (0, 1))
"""The components of a stress, in order."""
_ROOT_3, _HALF_ROOT_3 = float(np.sqrt(3.0)), float(np.sqrt(0.75))


def vertex_stress(
    mesh: SolidMesh,
    displacement: Floats,
    elastic_modulus_mpa: float,
    poisson: float,
    vertices: Ints | None = None,
) -> Floats:
    """Return the stress (nv, 6) at vertex nodes under a displacement (3n,), or (nv, 6, k) under (3n, k), MPa.

    `vertices` are node numbers that are vertices; all of `mesh.vertex_nodes` if left out. With few of them
    only the elements round them are visited.
    """
    wanted = mesh.vertex_nodes if vertices is None else np.asarray(vertices, dtype=np.int64)
    columns = displacement.reshape(len(mesh.points), -1)
    slopes = (_gradient_at_vertices(mesh, wanted) @ columns).reshape(len(wanted), 3, 3, -1)
    stress = _stress(slopes, elastic_modulus_mpa, poisson)
    return stress[..., 0] if displacement.ndim == 1 else stress


def deviator(stress: Floats) -> Floats:
    """Return stresses (n, 6, k) as (n, 5, k), linear in them, whose length is the von Mises stress.

    Half the sum of squares of x - y, y - z and z - x is three quarters of the first's square and that of
    z - (x + y) / 2; three shears times the root of three are the rest.
    """
    found: Floats = np.empty((len(stress), 5, *stress.shape[2:]))
    x, y, z = np.moveaxis(stress[:, :3], 1, 0)
    np.subtract(x, y, out=found[:, 0])
    found[:, 0] *= _HALF_ROOT_3
    np.add(x, y, out=found[:, 1])
    found[:, 1] *= -0.5
    found[:, 1] += z
    np.multiply(stress[:, 3:], _ROOT_3, out=found[:, 2:])
    return found


def von_mises(stress: Floats) -> Floats:
    """Return the von Mises stress of stresses (n, 6) or (n, 6, k)."""
    return np.asarray(np.sqrt(von_mises_product(stress, stress)))


def von_mises_product(one: Floats, other: Floats) -> Floats:
    """Return the product of two stresses (n, 6) or (n, 6, k) whose square is von Mises' stress squared.

    It is bilinear: of a sum a + b the square is aa + 2 ab + bb.
    """
    mine = deviator(one)
    return sum_of_products(mine, mine if other is one else deviator(other))


def sum_of_products(one: Floats, other: Floats) -> Floats:
    """Return the sum over the second axis of the products of two arrays (n, m) or (n, m, k)."""
    return np.asarray(np.einsum("ni,ni->n" if one.ndim == 2 else "nik,nik->nk", one, other))


def principal_stresses(stress: Floats) -> Floats:
    """Return the principal stresses (n, 3) of stresses (n, 6), largest first."""
    matrices = np.empty((len(stress), 3, 3))
    for component, (i, j) in enumerate(PAIRS):
        matrices[:, i, j] = matrices[:, j, i] = stress[:, component]
    return np.asarray(np.linalg.eigvalsh(matrices)[:, ::-1], dtype=np.float64)


def element_error(
    mesh: SolidMesh,
    displacement: Floats,
    elastic_modulus_mpa: float,
    poisson: float,
    averaged: Floats | None = None,
) -> Floats:
    """Return per element (ne,) how far its own stress is from the averaged one, as strain energy, N.mm.

    `averaged` (nv, 6) is the stress at the vertices, from `vertex_stress`, if it is known already.

    The square root of their sum over the strain energy estimates the relative error in the energy norm
    (Zienkiewicz and Zhu, 1987; from memory, to be verified).
    """
    number = np.zeros(len(mesh.points), dtype=np.int64)
    number[mesh.vertex_nodes] = np.arange(len(mesh.vertex_nodes))
    corners = mesh.tets[:, :4]
    if averaged is None:
        averaged = vertex_stress(mesh, displacement, elastic_modulus_mpa, poisson)
    averaged = averaged[number[corners]]
    gradients, _ = physical_gradients(mesh, slice(None), tetrahedron_vertices())
    moved = displacement.reshape(-1, 3)[mesh.tets]
    slopes = gradients.transpose(0, 1, 3, 2) @ moved[:, None]
    own = _stress(slopes.reshape(-1, 3, 3, 1), elastic_modulus_mpa, poisson)[..., 0].reshape(averaged.shape)
    difference = averaged - own
    linear = (np.eye(4) + 1.0) / 20.0
    strains = difference @ np.linalg.inv(_elastic_matrix(elastic_modulus_mpa, poisson))
    weighted = np.einsum("vw,ewc->evc", linear, strains)
    return np.asarray(0.5 * _volumes(mesh) * np.einsum("evc,evc->e", difference, weighted))


def _gradient_at_vertices(mesh: SolidMesh, wanted: Ints) -> sp.csr_matrix:
    """Return the operator (3 nv, n) from nodal values to their averaged slopes at the wanted vertices."""
    number = np.full(len(mesh.points), -1, dtype=np.int64)
    number[wanted] = np.arange(len(wanted))
    stray = np.setdiff1d(wanted, mesh.tets[:, :4])
    if stray.size:
        raise ValueError(f"node {int(stray[0])} is no vertex: stress is known at vertices only")
    near = (number[mesh.tets[:, :4]] >= 0).any(axis=1)
    part = SolidMesh(mesh.points, mesh.tets[near], {}, wanted)
    gradients, _ = physical_gradients(part, slice(None), tetrahedron_vertices())
    volumes = _volumes(part)
    rows = number[part.tets[:, :4]]
    at = rows >= 0
    element, corner = np.nonzero(at)
    total = np.bincount(rows[at], volumes[element], len(wanted))
    share = volumes[element] / total[rows[at]]
    values = (gradients[element, corner] * share[:, None, None]).reshape(-1, 3)
    slots, columns, starts = pattern(
        np.repeat(rows[at], 10), part.tets[element].ravel().astype(np.int64), len(mesh.points), len(wanted)
    )
    sums = np.zeros((len(columns), 3))
    add_rows(sums, slots, values)
    # One vertex has three rows with the same columns.
    counts = np.repeat(np.diff(starts), 3)
    by_row = np.arange(len(columns))
    of_vertex = np.repeat(np.arange(len(wanted)), np.diff(starts))
    place = by_row + 2 * starts[of_vertex]
    data, indices = np.empty(3 * len(columns)), np.empty(3 * len(columns), dtype=np.int64)
    for i in range(3):
        at_row = place + i * np.diff(starts)[of_vertex]
        data[at_row], indices[at_row] = sums[:, i], columns
    shape = (3 * len(wanted), len(mesh.points))
    return sp.csr_matrix((data, indices, np.concatenate([[0], np.cumsum(counts)])), shape=shape)


def _volumes(mesh: SolidMesh) -> Floats:
    return np.asarray(physical_gradients(mesh, slice(None), tetrahedron())[1].sum(axis=1))


def _stress(slopes: Floats, elastic_modulus_mpa: float, poisson: float) -> Floats:
    """Return stresses (n, 6, k) from slopes (n, derivative, component, k)."""
    shear = elastic_modulus_mpa / (2.0 * (1.0 + poisson))
    lame = 2.0 * shear * poisson / (1.0 - 2.0 * poisson)
    volumetric = lame * (slopes[:, 0, 0] + slopes[:, 1, 1] + slopes[:, 2, 2])
    stress = np.empty((len(slopes), 6, slopes.shape[3]))
    for component, (i, j) in enumerate(PAIRS):
        stress[:, component] = shear * (slopes[:, i, j] + slopes[:, j, i])
        if i == j:
            stress[:, component] += volumetric
    return stress


def _elastic_matrix(elastic_modulus_mpa: float, poisson: float) -> Floats:
    """Return the (6, 6) matrix from strains (shear as an angle) to stresses."""
    shear = elastic_modulus_mpa / (2.0 * (1.0 + poisson))
    lame = 2.0 * shear * poisson / (1.0 - 2.0 * poisson)
    matrix = np.diag([2.0 * shear] * 3 + [shear] * 3)
    matrix[:3, :3] += lame
    return matrix
