"""Pieces of a dissection worked on side by side: each large subtree by a thread, the few above in turn."""

from __future__ import annotations

import os
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor

import numpy as np
from threadpoolctl import ThreadpoolController

from solver.dissection import Dissection


def _told_cores() -> int:
    """Return the threads to work with: HOLDSQUARE_CORES where several analyses run side by side, else all."""
    told = os.environ.get("HOLDSQUARE_CORES", "")
    if told.isdecimal() and int(told) > 0:
        return int(told)
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else (os.cpu_count() or 1)


CORES = _told_cores()
"""Threads to work with."""
_BLAS = ThreadpoolController().select(user_api="blas")


def thread_level(plan: Dissection) -> int:
    """Return the level whose subtrees are worked on side by side: a few for each core."""
    return min(plan.depth, (CORES - 1).bit_length() + 1) if CORES > 1 else 0


def in_pieces(
    plan: Dissection,
    job: Callable[[range], None],
    after: Callable[[], None] | None = None,
    *,
    backward: bool = False,
) -> None:
    """Run the job over all pieces: large subtrees side by side, then (or before) the few at the top."""
    level = thread_level(plan)
    size = (1 << (plan.depth - level + 1)) - 1
    roots = [int(piece) for piece in plan.piece_number[level]]
    subtrees = [range(root - size + 1, root + 1) for root in roots]
    below = np.zeros(len(plan.children), dtype=bool)
    for subtree in subtrees:
        below[subtree.start : subtree.stop] = True
    top = [range(int(piece), int(piece) + 1) for piece in np.flatnonzero(~below)]

    def bottom() -> None:
        with _BLAS.limit(limits=1), ThreadPoolExecutor(CORES) as pool:
            for _ in pool.map(job, subtrees):
                pass
        if after is not None:
            after()

    if not backward:
        bottom()
    for piece in reversed(top) if backward else top:
        job(piece)
        if after is not None:
            after()
    if backward:
        bottom()
