"""One piece of work done beside another: in a second thread where there is a second core."""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor
from types import TracebackType
from typing import Self, TypeVar

from geometry.wanted import asking_as_here
from solver.cores import CORES
from solver.piece_threads import no_thread_is_no_memory

T = TypeVar("T")


class Beside:
    """A thread for work whose answer is wanted later; on one core it is done where it is begun.

    Answers are the same either way, and the work asks whoever began it whether it is still wanted. Leaving it
    waits for work that has begun and drops what has not.
    """

    def __init__(self) -> None:
        """Begin nothing yet."""
        self._pool = ThreadPoolExecutor(1) if CORES > 1 else None

    def __enter__(self) -> Self:
        """Return itself."""
        return self

    def __exit__(
        self, kind: type[BaseException] | None, fault: BaseException | None, trace: TracebackType | None
    ) -> None:
        """Wait for what has begun."""
        if self._pool is not None:
            self._pool.shutdown(cancel_futures=True)

    def begin(self, work: Callable[[], T]) -> Callable[[], T]:
        """Return what gives the work's answer, or raises what it raised; MemoryError without room for it."""
        if self._pool is None:
            done = work()
            return lambda: done
        with no_thread_is_no_memory():
            begun: Future[T] = self._pool.submit(asking_as_here(work))
        return begun.result
