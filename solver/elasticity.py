"""Linear elasticity on quadratic tetrahedra: stiffness, loads and elastic beds.

Unknown 3 * node + component. Matrices come in blocks of 3 by 3, which is how they are solved. The stiffness
is built from the scalar matrices G_ij = int d_i N_a d_j N_b, summed over elements before they are combined:

    K_ab,ij = lambda G_ij + mu G_ji + mu delta_ij (G_xx + G_yy + G_zz)

Four quadrature points are exact for straight edges. On strongly curved ones they miss the patch test by about
1e-5 and change a deflection by less than the mesh does (tests/solver/test_elasticity.py).
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import scipy.sparse as sp
from numpy.typing import NDArray

from geometry.solid_mesh import EDGES, STRAIGHT_MM, SolidMesh
from solver.errors import SolverError
from solver.shape_functions import ReferenceElement, tetrahedron, triangle

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

_KEY_BITS = 63


def assemble_stiffness(
    mesh: SolidMesh, elastic_modulus_mpa: float, poisson: float, quadrature_order: int = 2
) -> sp.bsr_matrix:
    """Return the stiffness (3n, 3n), N/mm, symmetric, both triangles, in blocks of 3 by 3.

    Raises `SolverError` for an element that is turned inside out, naming where it is.
    """
    reference = tetrahedron(quadrature_order)
    slots, columns, starts = _pattern_of(mesh.tets, len(mesh.points))
    sums = np.zeros((len(columns), 9))
    for chunk in chunks(len(mesh.tets)):
        gradients, volumes = physical_gradients(mesh, chunk, reference)
        rows = gradients.reshape(len(volumes), len(reference.weights), 30)
        products = (rows * volumes[:, :, None]).transpose(0, 2, 1) @ rows
        pairs = products.reshape(-1, 10, 3, 10, 3).transpose(0, 1, 3, 2, 4).reshape(-1, 9)
        add_rows(sums, slots[chunk].ravel(), pairs)
    blocks = sums @ hooke(elastic_modulus_mpa, poisson)
    size = 3 * len(mesh.points)
    return sp.bsr_matrix((blocks.reshape(-1, 3, 3), columns, starts), shape=(size, size))


def body_force(mesh: SolidMesh, force_per_volume: Floats) -> Floats:
    """Return the nodal forces (3n,), N, of a uniform force per volume (3,), N/mm3."""
    reference = tetrahedron(3)
    per_node = np.zeros(len(mesh.points))
    for chunk in chunks(len(mesh.tets)):
        _, volumes = physical_gradients(mesh, chunk, reference)
        shares = volumes @ reference.values
        per_node += np.bincount(mesh.tets[chunk].ravel(), shares.ravel(), len(mesh.points))
    return np.outer(per_node, force_per_volume).ravel()


def surface_traction(mesh: SolidMesh, faces: Ints, traction: Floats) -> Floats:
    """Return the nodal forces (3n,), N, of a traction (3,) or at each quadrature point (nf, q, 3), N/mm2."""
    reference = triangle()
    areas = np.linalg.norm(_area_vectors(mesh, faces, reference), axis=2)
    return _on_nodes(mesh, faces, areas[:, :, None] * np.broadcast_to(traction, (*areas.shape, 3)), reference)


def surface_pressure(mesh: SolidMesh, faces: Ints, pressure_mpa: float) -> Floats:
    """Return the nodal forces (3n,), N, of a pressure pushing into the body.

    The faces' vertices must run anticlockwise seen from outside.
    """
    reference = triangle()
    return _on_nodes(mesh, faces, -pressure_mpa * _area_vectors(mesh, faces, reference), reference)


def surface_points(mesh: SolidMesh, faces: Ints) -> Floats:
    """Return the points (nf, q, 3), mm, at which `surface_traction` takes a varying traction."""
    return np.asarray(np.einsum("qn,fni->fqi", triangle().values, mesh.points[faces]))


def surface_area(mesh: SolidMesh, faces: Ints) -> float:
    """Return the area of some faces, mm2."""
    return float(np.linalg.norm(_area_vectors(mesh, faces, triangle()), axis=2).sum())


def bed(
    mesh: SolidMesh,
    faces: Ints,
    centre: Floats,
    normal: Floats,
    k_normal: float,
    k_tangential: float,
    *,
    shares: Floats | None = None,
    reference: ReferenceElement | None = None,
) -> tuple[sp.bsr_matrix, sp.bsr_matrix, Floats]:
    """Return what an elastic bed between some faces and a rigid body adds to the stiffness.

    The body has six freedoms at `centre`: movement along X, Y, Z, then turning about them. Per unit area the
    bed has a stiffness along `normal` and across it, N/mm3. Returned: K_ff (3n, 3n) over the nodes, K_fb
    (3n, 6) between nodes and body, K_bb (6, 6) of the body; together they are positive semi-definite and
    leave the six rigid motions free. `shares` (nf, q) says how much of each of the places of `reference` on
    each face is bedded; None beds all.
    """
    reference = reference or triangle()
    areas = np.linalg.norm(_area_vectors(mesh, faces, reference), axis=2)
    areas = areas if shares is None else areas * shares
    direction = np.asarray(normal, dtype=np.float64) / np.linalg.norm(normal)
    across = k_tangential * np.eye(3) + (k_normal - k_tangential) * np.outer(direction, direction)
    mass = np.einsum("fq,qa,qb->fab", areas, reference.values, reference.values, optimize=True)
    arms = np.einsum("qn,fni->fqi", reference.values, mesh.points[faces]) - centre
    moves = np.concatenate([np.broadcast_to(np.eye(3), (*areas.shape, 3, 3)), -_cross_matrices(arms)], axis=3)
    stiff_moves = areas[:, :, None, None] * (across @ moves)
    to_body = np.einsum("qa,fqij->faij", reference.values, stiff_moves, optimize=True)
    own = np.einsum("fqki,fqkj->ij", moves, stiff_moves, optimize=True)
    return _face_blocks(mesh, faces, mass[..., None, None] * across), _body_blocks(mesh, faces, -to_body), own


def added_up(matrices: Sequence[sp.bsr_matrix]) -> sp.bsr_matrix:
    """Return the sum of matrices in blocks of 3 by 3, at one go."""
    first = matrices[0]
    count = first.shape[0] // 3
    rows = np.concatenate([np.repeat(np.arange(count), np.diff(m.indptr)) for m in matrices])
    columns = np.concatenate([m.indices for m in matrices])
    slots, found, starts = pattern(rows, columns.astype(np.int64), count)
    sums = np.zeros((len(found), 9))
    np.add.at(sums, slots, np.concatenate([m.data for m in matrices]).reshape(-1, 9))
    return sp.bsr_matrix((sums.reshape(-1, 3, 3), found, starts), shape=first.shape)


def physical_gradients(mesh: SolidMesh, chunk: slice, reference: ReferenceElement) -> tuple[Floats, Floats]:
    """Return gradients (ne, q, 10, 3), 1/mm, and volumes (ne, q), mm3, at the points of a reference element.

    Raises `SolverError` for an element that is turned inside out.
    """
    inverse, volumes = inverse_maps(mesh, chunk, reference)
    return np.asarray(reference.gradients @ inverse), volumes


def inverse_maps(mesh: SolidMesh, chunk: slice | Ints, reference: ReferenceElement) -> tuple[Floats, Floats]:
    """Return from reference to physical gradients (ne, q, 3, 3), 1/mm, and volumes (ne, q), mm3.

    Raises `SolverError` for an element that is turned inside out.
    """
    by_reference = np.ascontiguousarray(reference.gradients.transpose(0, 2, 1)).reshape(-1, 10)
    corners = mesh.points[mesh.tets[chunk]]
    jacobian = (by_reference @ corners).reshape(len(corners), -1, 3, 3)
    a, b, c = (jacobian[:, :, i] for i in range(3))
    inverse = np.stack([_cross(b, c), _cross(c, a), _cross(a, b)], axis=2)
    volume = np.einsum("eqi,eqi->eq", a, inverse[:, :, 0])
    if (volume <= 0.0).any():
        worst = int(np.argmin(volume.min(axis=1)))
        where = ", ".join(f"{x:.1f}" for x in corners[worst, :4].mean(axis=0))
        raise SolverError(f"an element near ({where}) mm is turned inside out: mesh that place more finely")
    inverse /= volume[:, :, None, None]
    return inverse, volume * reference.weights


def hooke(elastic_modulus_mpa: float, poisson: float) -> Floats:
    """Return the (9, 9) matrix from the sums G_kl, flat, to a block K_ij, flat."""
    shear = elastic_modulus_mpa / (2.0 * (1.0 + poisson))
    lame = 2.0 * shear * poisson / (1.0 - 2.0 * poisson)
    unit = np.eye(3)
    combined = lame * np.einsum("ik,jl->klij", unit, unit)
    combined += shear * (np.einsum("jk,il->klij", unit, unit) + np.einsum("kl,ij->klij", unit, unit))
    return np.asarray(combined.reshape(9, 9))


def pattern(rows: Ints, columns: Ints, count: int, row_count: int | None = None) -> tuple[Ints, Ints, Ints]:
    """Return the slot of each pair of row and column, and the slots' columns and row starts.

    Slots are numbered by row, then column; a pair that comes several times has one. There are `count`
    columns, and as many rows if not told.
    """
    keys = rows * count + columns
    bits = max(len(keys) - 1, 1).bit_length()
    if (count * count).bit_length() + bits < _KEY_BITS:
        # Key and place in one number: sorting numbers is several times faster than sorting places by them,
        # most of all in runs where they come in runs.
        packed = np.sort((keys << bits) | np.arange(len(keys)), kind="stable")
        by_key, keys = packed & ((1 << bits) - 1), packed >> bits
    else:
        by_key = np.argsort(keys)
        keys = keys[by_key]
    new = np.concatenate([[True], keys[1:] != keys[:-1]])
    slots = np.empty(len(keys), dtype=np.int64)
    slots[by_key] = np.cumsum(new) - 1
    found = keys[new]
    row = found // count
    return slots, found - row * count, _starts(row, count if row_count is None else row_count)


def _starts(rows: Ints, count: int, each: int = 1) -> Ints:
    """Return where each of `count` rows begins, and the last ends; one has `each` a time it is in `rows`."""
    return np.concatenate([[0], each * np.cumsum(np.bincount(rows, minlength=count))])


def _pattern_of(elements: Ints, count: int) -> tuple[Ints, Ints, Ints]:
    """Return the slot of each pair of nodes of each element, and the slots' columns and row starts."""
    nodes = elements.shape[1]
    slots, columns, starts = pattern(
        np.repeat(elements, nodes, 1).ravel(), np.tile(elements, nodes).ravel(), count
    )
    return slots.reshape(len(elements), -1), columns, starts


def add_rows(sums: Floats, slots: Ints, rows: Floats, factors: Floats | None = None) -> None:
    """Add rows, each times its factor if there are any, to the slots they belong to."""
    low, high = int(slots.min()), int(slots.max()) + 1
    gather = sp.csc_matrix(
        (np.ones(len(slots)) if factors is None else factors, slots - low, np.arange(len(slots) + 1)),
        shape=(high - low, len(slots)),
    )
    sums[low:high] += gather @ rows


def curved_elements(points: Floats, tets: Ints) -> NDArray[np.bool_]:
    """Return whether any edge of each tetrahedron (ne, 10) is curved."""
    off = [
        np.abs(points[tets[:, middle]] - 0.5 * (points[tets[:, i]] + points[tets[:, j]])).max(axis=1)
        for middle, (i, j) in zip(range(4, 10), EDGES, strict=True)
    ]
    return np.asarray(np.max(off, axis=0) > STRAIGHT_MM)


def chunks(count: int, size: int = 2048) -> list[slice]:
    """Cut the elements into parts small enough for their matrices to stay in the processor's cache."""
    return [slice(start, min(start + size, count)) for start in range(0, count, size)]


def _area_vectors(mesh: SolidMesh, faces: Ints, reference: ReferenceElement) -> Floats:
    """Return the outward area (nf, q, 3), mm2, that belongs to each quadrature point."""
    tangents = np.einsum("qnd,fni->fqdi", reference.gradients, mesh.points[faces], optimize=True)
    return _cross(tangents[:, :, 0], tangents[:, :, 1]) * reference.weights[:, None]


def _on_nodes(mesh: SolidMesh, faces: Ints, forces: Floats, reference: ReferenceElement) -> Floats:
    shares = np.einsum("fqi,qn->fni", forces, reference.values, optimize=True)
    total = np.zeros((len(mesh.points), 3))
    np.add.at(total, faces, shares)
    return total.ravel()


def _face_blocks(mesh: SolidMesh, faces: Ints, blocks: Floats) -> sp.bsr_matrix:
    """Return the (3n, 3n) matrix of blocks (nf, 6, 6, 3, 3) between the nodes of each face."""
    slots, columns, starts = _pattern_of(faces, len(mesh.points))
    sums = np.zeros((len(columns), 9))
    np.add.at(sums, slots.ravel(), blocks.reshape(-1, 9))
    size = 3 * len(mesh.points)
    return sp.bsr_matrix((sums.reshape(-1, 3, 3), columns, starts), shape=(size, size))


def _body_blocks(mesh: SolidMesh, faces: Ints, blocks: Floats) -> sp.bsr_matrix:
    """Return the (3n, 6) matrix of blocks (nf, 6, 3, 6) between each face node and the body."""
    nodes, at = np.unique(faces, return_inverse=True)
    sums = np.zeros((len(nodes), 3, 6))
    np.add.at(sums, at.ravel(), blocks.reshape(-1, 3, 6))
    halves = sums.reshape(-1, 3, 2, 3).transpose(0, 2, 1, 3).reshape(-1, 3, 3)
    starts = _starts(nodes, len(mesh.points), 2)
    return sp.bsr_matrix((halves, np.tile([0, 1], len(nodes)), starts), shape=(3 * len(mesh.points), 6))


def _cross(a: Floats, b: Floats) -> Floats:
    """Return the vector product along the last axis; several times faster than numpy's own here."""
    out = np.empty(np.broadcast_shapes(a.shape, b.shape))
    for i in range(3):
        j, k = (i + 1) % 3, (i + 2) % 3
        out[..., i] = a[..., j] * b[..., k] - a[..., k] * b[..., j]
    return out


def _cross_matrices(arms: Floats) -> Floats:
    """Return the matrices X with X v = arm x v."""
    out = np.zeros((*arms.shape, 3))
    for i in range(3):
        j, k = (i + 1) % 3, (i + 2) % 3
        out[..., k, j] = arms[..., i]
        out[..., j, k] = -arms[..., i]
    return out
