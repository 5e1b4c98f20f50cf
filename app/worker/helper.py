"""This process's end of the helper: a second process that works asides out beside the refined mesh.

Without it everything is worked out all the same, later: whatever goes wrong here is no fault of the analysis.
"""

from __future__ import annotations

import os
import queue
import threading
import time
from collections.abc import Callable, Sequence
from functools import partial
from typing import TYPE_CHECKING, Any, Final

from app.worker.helping import AskedAround, AskedAsides, AskedLost, Found, Question, help_out
from app.worker.line import Line, Serve
from geometry.bracket import Bracket
from geometry.wanted import still_wanted
from solver.cores import CORES
from solver.helper import HelperLostError, have_helper, helper_had
from solver.memory_room import free_bytes

if TYPE_CHECKING:
    from geometry.solid_mesh import SolidMesh
    from solver.around.line import AroundLine
    from solver.asides import Asides
    from solver.lost_bolts import LostBolt
    from solver.solved import Solved

ROOM_BYTES: Final = 4e9
"""With less free than this, memory is kept for the analysis itself."""
MOST_DEATHS: Final = 2
"""Before it is done without for good."""
_PATIENCE_S: Final = 20.0
_PATIENCE_SHARE: Final = 2.0
"""It is waited for so long, or so many times as long as it has had already: then it must have hung."""
_LOOK_S: Final = 0.05


class SecondProcess:
    """A helper in a process of its own; safe to ask from several threads, of whom the last is answered."""

    def __init__(self, serve: Serve = help_out) -> None:
        """Start the process."""
        self._serve = serve
        self._line: Line[Found] | None = None
        self._number = self._newest = self._deaths = 0
        """The last question, the last that dropped all before it, and how often the process has died."""
        self._found: dict[int, Found] = {}
        self._lock = threading.Lock()
        with self._lock:
            self._start()

    @property
    def process_id(self) -> int | None:
        """Return the system's number of the process; None if there is none."""
        return None if self._line is None else self._line.process.pid

    def begin_around(self, bracket: Bracket) -> Callable[[], tuple[AroundLine, ...]]:
        """Ask what is to be said around a bracket; whatever was asked before is dropped."""
        return self._begin(lambda number: AskedAround(number, bracket), drops=True)

    def begin_asides(self, bracket: Bracket, meshes: Sequence[SolidMesh]) -> Callable[[], Asides]:
        """Ask for the asides of a bracket that can be solved, on the first mesh of each plate."""
        return self._begin(lambda number: AskedAsides(number, bracket, tuple(meshes)), drops=False)

    def begin_lost(self, solved: Solved, couple_nm: float) -> Callable[[], tuple[LostBolt, ...]]:
        """Ask for a solved bracket with each bolt out in turn."""
        light = solved.light()
        return self._begin(lambda number: AskedLost(number, light, couple_nm), drops=False)

    def close(self) -> None:
        """End the process at once."""
        with self._lock:
            if self._line is not None:
                self._line.cut()
            self._line = None

    def _start(self) -> None:
        if self._line is None and self._deaths < MOST_DEATHS:
            try:
                self._line = Line(self._serve)
            except OSError:
                self._deaths += 1

    def _begin(self, question: Callable[[int], Question], *, drops: bool) -> Callable[[], Any]:
        with self._lock:
            self._start()
            self._number += 1
            number, line = self._number, self._line
            if drops:
                self._newest = number
                self._found.clear()
        if line is not None:
            line.send(question(number))
        return partial(self._answer, number, line, time.monotonic())

    def _answer(self, number: int, line: Line[Found] | None, asked: float) -> Any:  # noqa: ANN401 - as was asked
        """Return the answer to a question; HelperLostError if none is to be had."""
        now = time.monotonic()
        until = now + max(_PATIENCE_S, _PATIENCE_SHARE * (now - asked))
        while True:
            with self._lock:
                found = self._found.pop(number, None)
                if found is None:
                    if line is None or line is not self._line or number < self._newest:
                        raise HelperLostError
                    self._listen(line)
            still_wanted()
            if found is not None:
                if found.answer is None:
                    raise HelperLostError
                return found.answer
            if time.monotonic() > until:
                self._bury()

    def _listen(self, line: Line[Found]) -> None:
        try:
            said = line.said.get(timeout=_LOOK_S)
        except queue.Empty:
            return
        if said is None:
            self._line = None
            self._deaths += 1
        elif said.number >= self._newest:
            self._found[said.number] = said

    def _bury(self) -> None:
        with self._lock:
            if self._line is not None:
                self._line.cut()
                self._line = None
                self._deaths += 1


def have_second_process() -> None:
    """Have this process's analyses use a helper where there are a second core and memory for it.

    Not where HOLDSQUARE_HELPER is "no".
    """
    free = free_bytes()
    wanted = CORES > 1 and os.environ.get("HOLDSQUARE_HELPER", "") != "no"
    if wanted and helper_had() is None and (free is None or free > ROOM_BYTES):
        have_helper(SecondProcess())
