"""Pieces of a dissection worked on side by side: large subtrees first, then the few above, level by level.

What is cut up, and in which order parts are put together, does not depend on how many threads there are, and
every dense kernel runs in one of them: one thread gives the same figures as many, to the last digit.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from functools import partial

from scipy.linalg import cython_blas
from threadpoolctl import ThreadpoolController

from geometry.wanted import asking_as_here, still_wanted
from solver.cores import CORES
from solver.dissection import Dissection

SUBTREE_LEVEL = 3
"""Eight subtrees: a few for each of two to four cores, and enough for eight."""
KERNELS = cython_blas
"""Loaded before they are held: a library that comes in later would run as many threads as there are cores in
each of ours, and they would wait for one another by spinning."""
HELD = ThreadpoolController().select(user_api="blas").limit(limits=1)
"""Dense kernels stay in the thread that calls them, from here on and in the whole process."""


def thread_level(plan: Dissection) -> int:
    """Return the level whose subtrees are worked on side by side."""
    return min(plan.depth, SUBTREE_LEVEL)


@contextmanager
def no_thread_is_no_memory() -> Iterator[None]:
    """Raise MemoryError where a thread cannot be started: what it lacks is room for its stack."""
    try:
        yield
    except RuntimeError as fault:
        if "start new thread" not in str(fault):
            raise
        raise MemoryError(str(fault)) from fault


def in_pieces(
    plan: Dissection,
    job: Callable[[range], None],
    after: Callable[[], None] | None = None,
    *,
    backward: bool = False,
) -> None:
    """Run the job over all pieces: large subtrees side by side, then those above, level by level.

    `after` is called when a level is done. Backward, the top comes first. A job may ask whether it is still
    wanted. MemoryError if there is no room for threads.
    """
    level = thread_level(plan)
    size = (1 << (plan.depth - level + 1)) - 1
    steps = [[range(int(root) - size + 1, int(root) + 1) for root in plan.piece_number[level]]]
    steps += [
        [range(int(piece), int(piece) + 1) for piece in plan.piece_number[above]]
        for above in range(level - 1, -1, -1)
    ]
    if CORES == 1:
        _run(reversed(steps) if backward else steps, lambda ranges: list(map(job, ranges)), after)
    else:
        with no_thread_is_no_memory(), ThreadPoolExecutor(CORES) as pool:
            side_by_side = partial(_side_by_side, pool, asking_as_here(job))
            _run(reversed(steps) if backward else steps, side_by_side, after)


def _side_by_side(pool: ThreadPoolExecutor, job: Callable[[range], None], ranges: list[range]) -> None:
    for _done in pool.map(job, ranges):
        pass


def _run(
    steps: Iterable[list[range]], work: Callable[[list[range]], object], after: Callable[[], None] | None
) -> None:
    for ranges in steps:
        still_wanted()
        work(ranges)
        if after is not None:
            after()
