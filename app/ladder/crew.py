"""Several analyses at once on this machine, each in a process of its own."""

from __future__ import annotations

import os
import time
from collections import deque
from collections.abc import Callable, Generator, Iterator, Sequence
from contextlib import contextmanager, suppress
from typing import Final

from app.ladder.rung import Answer, answer_of, unanswered
from app.worker.client import Worker
from app.worker.messages import Failed, Ink
from geometry.bracket import Bracket

_LOOK_S: Final = 0.02
_LOW: Final = 10
"""How far behind, on the system's scale up to 19."""
_THREADS_TOLD: Final = ("HOLDSQUARE_CORES", "OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS")
ONE_THREAD: Final = dict.fromkeys(_THREADS_TOLD, "1")
"""What a process is told so that it computes with one thread."""


def cores() -> int:
    """Return how many analyses this machine can run side by side."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else (os.cpu_count() or 1)


class Crew:
    """So many workers. `judge` may be left at any time; `close` ends their processes at once."""

    def __init__(
        self,
        count: int,
        make: Callable[[], Worker] = Worker,
        *,
        stopped: Callable[[], bool] = lambda: False,
        gently: bool = False,
    ) -> None:
        """Have so many workers; they end when `stopped` says so and, if `gently`, let others go first."""
        self._workers = [make() for _ in range(max(1, count))]
        self._stopped, self._gently = stopped, gently
        self._lowered: set[int] = set()

    def judge(self, brackets: Sequence[Bracket]) -> Generator[tuple[Bracket, Answer], None, None]:
        """Yield every bracket with its answer, in whatever order they come.

        A process that dies is started again and asked once more; what kills it twice is answered with that.
        """
        waiting = deque(brackets)
        out: dict[int, Bracket] = {}
        try:
            while (waiting or out) and not self._stopped():
                yield from self._looked_at(waiting, out)
                time.sleep(_LOOK_S)
        finally:
            self.close()

    def _looked_at(self, waiting: deque[Bracket], out: dict[int, Bracket]) -> list[tuple[Bracket, Answer]]:
        """Hand out what waits, and return what has been answered."""
        found = []
        with _one_thread_each(many=len(self._workers) > 1):
            for number, worker in enumerate(self._workers):
                if number not in out and waiting:
                    out[number] = waiting.popleft()
                    worker.ask(out[number])
                if self._gently:
                    self._lower(worker)
                answer = _heard(worker, out[number]) if number in out else None
                if answer is not None:
                    found.append((out.pop(number), answer))
        return found

    def _lower(self, worker: Worker) -> None:
        """Let the worker's process stand back behind what somebody waits for."""
        process = worker.process_id
        if process is None or process in self._lowered or not hasattr(os, "setpriority"):
            return
        self._lowered.add(process)
        with suppress(OSError):
            os.setpriority(os.PRIO_PROCESS, process, _LOW)

    def close(self) -> None:
        """End all processes."""
        for worker in self._workers:
            worker.close()


def _heard(worker: Worker, bracket: Bracket) -> Answer | None:
    """Return the worker's answer; None while it works."""
    for said in worker.poll():
        if isinstance(said, Ink):
            return answer_of(bracket, said.results)
        if isinstance(said, Failed) and said.final:
            return unanswered(said.words, bracket)
    return None


@contextmanager
def _one_thread_each(*, many: bool) -> Iterator[None]:
    """Let processes that start meanwhile compute with one thread each, if there are several."""
    before = {name: os.environ.get(name) for name in ONE_THREAD}
    if many:
        os.environ.update(ONE_THREAD)
    try:
        yield
    finally:
        for name, value in before.items():
            if value is None:
                os.environ.pop(name, None)
            else:
                os.environ[name] = value
