"""In which order the nodes of a mesh are eliminated: nested dissection by position.

The elements are halved again and again (see `cutting`). Nodes shared by both halves separate them and are
eliminated after both; so the factor stays small and the halves can be worked on side by side. A plate is
thin, so a cut across it is short.

Glossary
--------
piece     the elements of one half, quarter, ...; pieces form a binary tree, numbered children before parents
own       nodes of a piece that its two halves share (all remaining nodes for a smallest piece)
rim       nodes of a piece's elements that belong to larger pieces: where the piece touches the rest
border    unknowns that are never eliminated (rigid bodies), three to a border node; they follow all nodes
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from geometry.solid_mesh import SolidMesh
from solver.cutting import pieces_of

Ints = NDArray[np.int64]

ELEMENTS_IN_SMALLEST_PIECE = 28
"""Measured best between 14 and 80 on swept plates of 37 000 to 80 000 unknowns."""


@dataclass(frozen=True)
class Dissection:
    """The elimination order of a mesh and the pieces it came from."""

    node_count: int
    depth: int
    order: Ints
    """(n,) node numbers in the order of elimination."""
    place: Ints
    """(n,) where each node stands in that order."""
    starts: Ints
    """(pieces + 1,) own nodes of piece t are order[starts[t] : starts[t + 1]]."""
    level_of: Ints
    """(n,) how deep in the tree each node is owned; 0 is the root."""
    index_of: Ints
    """(n,) which piece of that level owns the node."""
    codes: Ints
    """(ne,) smallest piece of each element."""
    piece_number: tuple[Ints, ...]
    """Per level, the numbers of its pieces."""
    children: Ints
    """(pieces, 2) numbers of the two halves, -1 for a smallest piece."""

    def level_and_index(self) -> tuple[Ints, Ints]:
        """Return (pieces,) the level of each piece in the tree, 0 for the root, and its place there."""
        numbers = np.concatenate(self.piece_number)
        level, index = np.empty_like(numbers), np.empty_like(numbers)
        level[numbers] = np.repeat(np.arange(self.depth + 1), [len(row) for row in self.piece_number])
        index[numbers] = np.concatenate([np.arange(len(row)) for row in self.piece_number])
        return level, index

    def rims(self, tets: Ints, border_places: Ints, border_nodes: Ints) -> list[Ints]:
        """Return the rim of every piece, as sorted places in the order.

        `border_places` and `border_nodes` are pairs: a node (by its place) and the border node it is tied to
        (numbered from node_count on). A piece that owns such a node, and every larger one, has it in its rim.
        """
        stride = np.int64(self.node_count + int(border_nodes.max(initial=-1)) + 2)
        keys = np.unique(np.repeat(self.codes, tets.shape[1]) * stride + self.place[tets.ravel()])
        tied_level = self.level_of[self.order][border_places]
        tied_index = self.index_of[self.order][border_places]
        level_at = np.concatenate([self.level_of[self.order], np.full(stride - self.node_count, -1)])
        rims: list[Ints] = [np.zeros(0, dtype=np.int64)] * len(self.children)
        for level in range(self.depth, -1, -1):
            here = tied_level == level
            if here.any():
                keys = np.union1d(keys, tied_index[here] * stride + border_nodes[here])
            index, place = np.divmod(keys, stride)
            above = level_at[place] < level
            index, place = index[above], place[above]
            cuts = np.searchsorted(index, np.arange((1 << level) + 1))
            for i, piece in enumerate(self.piece_number[level]):
                rims[piece] = place[cuts[i] : cuts[i + 1]]
            keys = np.unique((index >> 1) * stride + place)
        return rims


def dissect(mesh: SolidMesh, elements_in_smallest: int = ELEMENTS_IN_SMALLEST_PIECE) -> Dissection:
    """Return the elimination order of a mesh. Every node must belong to an element."""
    count = len(mesh.points)
    depth = max(0, round(np.log2(max(1.0, len(mesh.tets) / elements_in_smallest))))
    codes = pieces_of(mesh, depth)
    level, index = _owners(mesh.tets, codes, count, depth)
    numbers, children = _number_pieces(depth)
    piece = np.concatenate(numbers)[(1 << level) - 1 + index]
    order = _along_each_cut(mesh.points, piece, len(children))
    place = np.empty(count, dtype=np.int64)
    place[order] = np.arange(count)
    starts = np.searchsorted(piece[order], np.arange(len(children) + 1))
    return Dissection(count, depth, order, place, starts, level, index, codes, numbers, children)


def _owners(tets: Ints, codes: Ints, count: int, depth: int) -> tuple[Ints, Ints]:
    """Return level and index of the piece that owns each node: the smallest that holds all its elements."""
    lowest = np.full(count, 1 << depth, dtype=np.int64)
    highest = np.full(count, -1, dtype=np.int64)
    for column in tets.T:
        np.minimum.at(lowest, column, codes)
        np.maximum.at(highest, column, codes)
    if (highest < 0).any():
        raise ValueError(
            f"node {int(np.argmin(highest))} belongs to no element: mesh again without stray nodes"
        )
    steps = np.frexp((lowest ^ highest).astype(np.float64))[1].astype(np.int64)
    return depth - steps, lowest >> steps


def _number_pieces(depth: int) -> tuple[tuple[Ints, ...], Ints]:
    """Return per level the numbers of its pieces, halves before wholes, and the two halves of each."""
    sizes = [(1 << (depth - level + 1)) - 1 for level in range(depth + 1)]
    first = [np.zeros(1, dtype=np.int64)]
    for level in range(1, depth + 1):
        both = np.repeat(first[-1], 2)
        both[1::2] += sizes[level]
        first.append(both)
    numbers = tuple(start + size - 1 for start, size in zip(first, sizes, strict=True))
    children = np.full((sizes[0], 2), -1, dtype=np.int64)
    for level in range(depth):
        children[numbers[level]] = numbers[level + 1].reshape(-1, 2)
    return numbers, children


def _along_each_cut(points: NDArray[np.float64], piece: Ints, count: int) -> Ints:
    """Order nodes by piece and along its longest extent: rims then map onto parents in few runs."""
    by_piece = np.argsort(piece, kind="stable")
    starts = np.searchsorted(piece[by_piece], np.arange(count))
    filled = np.diff(np.append(starts, len(piece))) > 0
    extent = np.zeros((count, 3))
    grouped = points[by_piece]
    extent[filled] = np.maximum.reduceat(grouped, starts[filled]) - np.minimum.reduceat(
        grouped, starts[filled]
    )
    axes = np.argsort(-extent, axis=1, kind="stable")[piece]
    sorted_by = [np.take_along_axis(points, axes[:, i : i + 1], axis=1)[:, 0] for i in range(3)]
    return np.lexsort((sorted_by[2], sorted_by[1], sorted_by[0], piece)).astype(np.int64)
