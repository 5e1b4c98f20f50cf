"""The memory of a factorisation: panels that stay, and what is left of pieces for as long as it is needed."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
from numpy.typing import NDArray

from solver.dissection import Dissection
from solver.piece_threads import thread_level

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


class Panels:
    """The panels of all pieces: rows of a piece's own unknowns, then of its rim's; columns of its own."""

    def __init__(self, plan: Dissection, rims: list[Ints]) -> None:
        """Make room for all panels, still zero, in one stretch of memory."""
        self._plan, self._rims = plan, rims
        self._own = np.diff(plan.starts)
        self._rim = np.array([len(rim) for rim in rims])
        self._rows = 3 * (self._own + self._rim)
        self._first = np.concatenate([[0], np.cumsum(3 * self._own * self._rows)])
        # numpy asks for large pages: taking memory in small ones takes far longer.
        self._room = np.zeros(int(self._first[-1]))

    def __getitem__(self, piece: int) -> Floats:
        """Return the panel of a piece, column-major."""
        here = self._room[self._first[piece] : self._first[piece + 1]]
        return here.reshape((self._rows[piece], 3 * self._own[piece]), order="F")

    def fill(self, parts: Iterable[tuple[Ints, Ints, Floats]]) -> None:
        """Put blocks into the lower triangles: their rows (m,), columns (m,) and values (m, 3, 3).

        A block belongs to the piece that owns the place of its row; columns are places eliminated with that
        or after it, or border nodes. None may come twice.
        """
        plan = self._plan
        piece = np.repeat(np.arange(len(self._own)), self._own)
        stride = plan.node_count + 1 + max((int(rim[-1]) for rim in self._rims if len(rim)), default=0)
        rims = np.concatenate(self._rims) + np.repeat(np.arange(len(self._rim)) * stride, self._rim)
        before = np.cumsum(self._rim) - self._rim
        start = self._first[piece] + 3 * (np.arange(plan.node_count) - plan.starts[piece]) * self._rows[piece]
        for rows, columns, values in parts:
            where = columns - plan.starts[piece][rows]
            outside = np.flatnonzero(columns >= plan.starts[piece + 1][rows])
            into = piece[rows[outside]]
            in_rims = np.searchsorted(rims, into * stride + columns[outside])
            where[outside] = in_rims - before[into] + self._own[into]
            at = start[rows] + 3 * where
            leading = self._rows[piece][rows][:, None, None]
            self._room[at[:, None, None] + leading * _LINES + _ALONG] = values


_ALONG = np.arange(3)
_LINES = np.arange(3)[:, None]


def room_for_the_rest(plan: Dissection, rims: list[Ints]) -> list[Floats]:
    """Return the memory for what is left of each piece: pieces that are never alive together share it.

    A subtree is worked through by one thread, halves before wholes, so that of each level only two pieces
    are alive at a time: one that waits for its other half, and that half.
    """
    sizes = np.array([9 * len(rim) ** 2 for rim in rims])
    level, index = plan.level_and_index()
    thread = thread_level(plan)
    subtree = np.where(level >= thread, index >> np.maximum(level - thread, 0), index)
    keys = np.stack([level, subtree, np.where(level >= thread, index & 1, 0)])
    _, share = np.unique(keys, axis=1, return_inverse=True)
    largest = np.zeros(share.max() + 1, dtype=np.int64)
    np.maximum.at(largest, share.ravel(), sizes)
    # Zero, though lower triangles are written whole: what is left above them is added up too, never read.
    rooms = [np.zeros(size) for size in largest]
    return [
        rooms[share.flat[i]][: sizes[i]].reshape((3 * len(rim), 3 * len(rim)), order="F")
        for i, rim in enumerate(rims)
    ]
