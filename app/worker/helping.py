"""The helper's process: it works out, one after the other, what an analysis in another process asks for.

Its first thread listens, so that it ends with the other process whatever it is doing; a second one works.
"""

from __future__ import annotations

import os
import signal
import threading
from collections import deque
from dataclasses import dataclass
from multiprocessing.connection import Connection
from typing import TYPE_CHECKING, Final

from app.worker.working_thread import IDLE_S, ready_to_work, start_working, step_back
from geometry.bracket import Bracket
from geometry.wanted import NoLongerWantedError, while_wanted
from solver.freed_memory import give_memory_back

if TYPE_CHECKING:
    from geometry.solid_mesh import SolidMesh
    from solver.around.line import AroundLine
    from solver.asides import Asides
    from solver.kept_plates import KeptPlates
    from solver.lost_bolts import LostBolt
    from solver.solved import Solved


NICENESS: Final = 4
"""Added to the process's own: who asks works both cores in the factor, and is the one that is waited for.
With more it would get next to nothing on a machine that has other work."""


@dataclass(frozen=True)
class AskedAround:
    """Say what there is to say around a bracket; whatever was asked before is dropped."""

    number: int
    bracket: Bracket


@dataclass(frozen=True)
class AskedAsides:
    """Work out the asides of a bracket, on the first mesh of each plate."""

    number: int
    bracket: Bracket
    meshes: tuple[SolidMesh, ...]


@dataclass(frozen=True)
class AskedLost:
    """Take each bolt of a solved bracket out in turn."""

    number: int
    solved: Solved
    couple_nm: float


@dataclass(frozen=True)
class Found:
    """The answer to a question."""

    number: int
    answer: tuple[AroundLine, ...] | Asides | tuple[LostBolt, ...] | None
    """None where there is none."""


Question = AskedAround | AskedAsides | AskedLost


def help_out(connection: Connection) -> None:
    """Answer what comes through the connection; the process ends when its other end is closed."""
    # The keys of the terminal are for whoever asks.
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    # It is itself what the other process uses its second core for.
    os.environ["HOLDSQUARE_CORES"] = "1"
    step_back(NICENESS)
    ready_to_work()
    bench = _Bench(connection)
    start_working(bench.work_for_ever, "holdsquare helping")
    while True:
        try:
            bench.take(connection.recv())
        except (EOFError, OSError):
            os._exit(0)


class _Bench:
    """Questions that wait, and the one that is worked on."""

    def __init__(self, connection: Connection) -> None:
        self._connection = connection
        self._waiting: deque[Question] = deque()
        self._newest = 0
        """The last question that dropped all before it."""
        self._asked = threading.Condition()

    def take(self, question: Question) -> None:
        """Take a question."""
        with self._asked:
            if isinstance(question, AskedAround):
                self._newest = question.number
                self._waiting.clear()
            self._waiting.append(question)
            self._asked.notify()

    def work_for_ever(self) -> None:
        """Answer one question after the other; should that ever end, the process does."""
        try:
            from solver.kept_plates import KeptPlates

            kept = KeptPlates()
            wait_s: float | None = None
            while True:
                with self._asked:
                    asked = self._asked.wait_for(lambda: len(self._waiting) > 0, wait_s)
                    question = self._waiting.popleft() if asked else None
                wait_s = None if question is None else IDLE_S
                if question is None:
                    give_memory_back()
                else:
                    self._connection.send(Found(question.number, self._answer(question, kept)))
        finally:
            os._exit(1)

    def _answer(
        self, question: Question, kept: KeptPlates
    ) -> tuple[AroundLine, ...] | Asides | tuple[LostBolt, ...] | None:
        from solver.around.around import around
        from solver.asides import asides_alone
        from solver.lost_bolts import lost_bolts

        def still_asked() -> None:
            if self._newest > question.number:
                raise NoLongerWantedError

        try:
            with while_wanted(still_asked):
                if isinstance(question, AskedAround):
                    return around(question.bracket)
                if isinstance(question, AskedLost):
                    return lost_bolts(question.solved, question.couple_nm)
                return asides_alone(question.bracket, question.meshes, kept)
        except Exception:  # noqa: BLE001 - who asks works it out as well, and tells what went wrong
            return None
