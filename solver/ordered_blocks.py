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
from solver.elasticity import add_rows, chunks, hooke, pattern, physical_gradients
from solver.shape_functions import tetrahedron

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

_FIRST, _SECOND = np.triu_indices(10)


@dataclass(frozen=True)
class OrderedBlocks:
    """Blocks of the columns that are eliminated with a row or after it."""

    columns: Ints
    """(m,) places in the order of elimination."""
    starts: Ints
    """(n + 1,) where the blocks of each place begin."""
    values: Floats
    """(m, 3, 3)."""

    def rows(self, first: int, last: int) -> tuple[Ints, Ints, Floats]:
        """Return row (from `first` on), column and values of the blocks of some places."""
        starts = self.starts[first : last + 1]
        here = slice(starts[0], starts[-1])
        return np.repeat(np.arange(last - first), np.diff(starts)), self.columns[here], self.values[here]


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
    reference = tetrahedron()
    # Pieces one after the other: what is added up together lies together.
    elements = np.argsort(plan.codes, kind="stable")
    tets = mesh.tets[elements]
    places = plan.place[tets]
    rank = np.argsort(places, axis=1)
    places = np.take_along_axis(places, rank, axis=1)
    extra = None if more is None else _upper(more, plan.place)
    rows = places[:, _FIRST].ravel()
    columns = places[:, _SECOND].ravel()
    if extra is not None:
        rows, columns = np.concatenate([rows, extra[0]]), np.concatenate([columns, extra[1]])
    slots, found, starts = pattern(rows, columns, len(mesh.points))
    of_elements = slots[: len(tets) * len(_FIRST)].reshape(len(tets), -1)
    part = SolidMesh(mesh.points, tets, {}, mesh.vertex_nodes)
    sums = np.zeros((len(found), 9))
    for chunk in chunks(len(tets)):
        gradients, volumes = physical_gradients(part, chunk, reference)
        gradients = np.take_along_axis(gradients, rank[chunk][:, None, :, None], axis=2)
        flat = gradients.reshape(len(volumes), len(reference.weights), 30)
        products = (flat * volumes[:, :, None]).transpose(0, 2, 1) @ flat
        pairs = products.reshape(-1, 10, 3, 10, 3)[:, _FIRST, :, _SECOND, :]
        add_rows(sums, of_elements[chunk].T.ravel(), pairs.reshape(-1, 9))
    values = (sums @ hooke(elastic_modulus_mpa, poisson)).reshape(-1, 3, 3)
    if extra is not None:
        np.add.at(values, slots[of_elements.size :], extra[2])
    return OrderedBlocks(found, starts, values)


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
