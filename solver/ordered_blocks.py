"""A stiffness as it is eliminated: nodes in the order of elimination, one triangle, in blocks of 3 by 3.

Half of what a whole matrix takes to add up and to look up, and every piece finds its own rows side by side.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import scipy.sparse as sp
from numpy.typing import NDArray

from geometry.solid_mesh import SolidMesh
from solver.dissection import Dissection
from solver.elasticity import add_rows, chunks, curved_elements, hooke, inverse_maps, pattern
from solver.shape_functions import tetrahedron

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

ELEMENTS_AT_ONCE = 16384
"""Of which all pairs of nodes are held at a time, 65 MB."""
_FIRST, _SECOND = np.triu_indices(10)
_EVEN = np.zeros((9, 6))
"""Takes a 3 by 3 block, flat, to its symmetric part; its transpose takes that back."""
_ODD = np.zeros((9, 3))
"""The same for the other part."""
for _i in range(3):
    _EVEN[4 * _i, _i] = 1.0
_OFF_DIAGONAL = ((1, 2), (0, 2), (0, 1))
for _i, (_k, _l) in enumerate(_OFF_DIAGONAL):
    _EVEN[[3 * _k + _l, 3 * _l + _k], 3 + _i] = _ODD[3 * _k + _l, _i] = np.sqrt(0.5)
    _ODD[3 * _l + _k, _i] = -np.sqrt(0.5)


@dataclass(frozen=True)
class OrderedBlocks:
    """Blocks of the columns that are eliminated with a row or after it."""

    columns: Ints
    """(m,) places in the order of elimination."""
    starts: Ints
    """(n + 1,) where the blocks of each place begin."""
    values: Floats
    """(m, 3, 3)."""


def assemble_in_order(
    mesh: SolidMesh,
    plan: Dissection,
    elastic_modulus_mpa: float,
    poisson: float,
    more: sp.spmatrix | None = None,
) -> OrderedBlocks:
    """Return the stiffness of a mesh, N/mm, plus `more` (3n, 3n), symmetric, which couples few nodes.

    It is that of `elasticity.assemble_stiffness`, and raises what that raises.
    """
    # Pieces one after the other: what is added up together lies together.
    tets = mesh.tets[np.argsort(plan.codes, kind="stable")]
    curved = curved_elements(mesh.points, tets)
    places = plan.place[tets]
    first, second = places[:, _FIRST], places[:, _SECOND]
    extra = None if more is None else _upper(more, plan.place)
    rows, columns = np.minimum(first, second).ravel(), np.maximum(first, second).ravel()
    if extra is not None:
        rows, columns = np.concatenate([rows, extra[0]]), np.concatenate([columns, extra[1]])
    slots, found, starts = pattern(rows, columns, len(mesh.points))
    of_elements = slots[: first.size].reshape(first.shape)
    # The block of a pair turned round is the transpose: its odd part changes sign.
    signs = np.where(first > second, -1.0, 1.0)
    even, odd = np.zeros((len(found), 6)), np.zeros((len(found), 3))
    for chosen, is_curved in ((~curved, False), (curved, True)):
        elements = np.flatnonzero(chosen)
        for chunk in chunks(len(elements), ELEMENTS_AT_ONCE):
            here = elements[chunk]
            part = SolidMesh(mesh.points, tets[here], {}, mesh.vertex_nodes)
            into = of_elements[here].T.ravel()
            even_pairs, odd_pairs = _pairs(part, is_curved=is_curved)
            add_rows(even, into, even_pairs)
            add_rows(odd, into, odd_pairs, signs[here].T.ravel())
    to_block = hooke(elastic_modulus_mpa, poisson)
    from_even, from_odd = _EVEN.T @ to_block, _ODD.T @ to_block
    values = np.empty((len(found), 3, 3))
    # A product of a very long matrix and a tiny one takes ten times as long at one go.
    for chunk in chunks(len(found), 4096):
        values[chunk] = (even[chunk] @ from_even + odd[chunk] @ from_odd).reshape(-1, 3, 3)
    if extra is not None:
        np.add.at(values, slots[first.size :], extra[2])
    return OrderedBlocks(found, starts, values)


def _pairs(part: SolidMesh, *, is_curved: bool) -> tuple[Floats, Floats]:
    """Return int d_k N_a d_l N_b of the pairs of each element's nodes, its even (., 6) and odd part (., 3).

    Pairs vary slowest. What belongs to the reference element is multiplied by what belongs to the elements'
    maps all at once; where edges are straight, the map is the same all over the element.
    """
    reference = tetrahedron()
    slopes = reference.gradients
    known = np.einsum("qai,qbj->abqij", slopes, slopes)[_FIRST, _SECOND]
    if is_curved:
        maps, volumes = inverse_maps(part, slice(None), reference)
    else:
        known = np.einsum("pqij,q->pij", known, reference.weights)
        middle = tetrahedron(1)
        maps, volumes = inverse_maps(part, slice(None), middle)
        volumes = volumes / middle.weights
    known = known.reshape(len(known), -1)
    at = np.ascontiguousarray(maps.transpose(1, 2, 3, 0))
    one, other = (at * volumes.T[:, None, None, :])[:, :, None], at[:, None]
    even = [one[:, :, :, k] * other[:, :, :, k] for k in range(3)]
    odd = []
    for k, m in _OFF_DIAGONAL:
        straight, crossed = one[:, :, :, k] * other[:, :, :, m], one[:, :, :, m] * other[:, :, :, k]
        even.append(np.sqrt(0.5) * (straight + crossed))
        odd.append(np.sqrt(0.5) * (straight - crossed))
    return (
        (known @ np.stack(even, axis=-1).reshape(known.shape[1], -1)).reshape(-1, 6),
        (known @ np.stack(odd, axis=-1).reshape(known.shape[1], -1)).reshape(-1, 3),
    )


def in_order(stiffness: sp.spmatrix, plan: Dissection) -> OrderedBlocks:
    """Return a symmetric stiffness (3n, 3n) with both triangles as it is eliminated."""
    rows, columns, values = _upper(stiffness, plan.place)
    order = np.lexsort((columns, rows))
    starts = np.searchsorted(rows[order], np.arange(plan.node_count + 1))
    return OrderedBlocks(columns[order], starts, values[order])


def as_blocks(matrix: sp.spmatrix) -> sp.bsr_matrix:
    """Return a sparse matrix in blocks of 3 by 3."""
    if sp.issparse(matrix) and matrix.format == "bsr" and matrix.blocksize == (3, 3):
        return matrix
    return sp.csr_matrix(matrix).tobsr((3, 3))


def _upper(matrix: sp.spmatrix, place: Ints) -> tuple[Ints, Ints, Floats]:
    """Return places of row and column and values of the blocks whose column comes with its row or later."""
    blocks = as_blocks(matrix)
    rows = place[np.repeat(np.arange(len(place)), np.diff(blocks.indptr))]
    columns = place[blocks.indices]
    kept = columns >= rows
    return rows[kept], columns[kept], blocks.data[kept]
