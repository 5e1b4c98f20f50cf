"""The memory of a factorisation: panels that stay, and what is left of pieces for as long as it is needed."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from solver.dissection import Dissection
from solver.piece_threads import thread_level

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


def room_for_panels(plan: Dissection, rims: list[Ints]) -> list[Floats]:
    """Return all panels, still zero, in one stretch of memory."""
    own = 3 * np.diff(plan.starts)
    rows = own + 3 * np.array([len(rim) for rim in rims])
    ends = np.concatenate([[0], np.cumsum(rows * own)])
    # numpy asks for large pages: taking memory in small ones takes far longer.
    room = np.zeros(int(ends[-1]))
    return [room[ends[i] : ends[i + 1]].reshape((rows[i], own[i]), order="F") for i in range(len(rims))]


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
    rooms = [np.empty(size) for size in largest]
    return [
        rooms[share.flat[i]][: sizes[i]].reshape((3 * len(rim), 3 * len(rim)), order="F")
        for i, rim in enumerate(rims)
    ]
