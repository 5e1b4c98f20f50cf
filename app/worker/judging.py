"""The worker's bench: judges the newest question and keeps what quick answers are worked out from."""

from __future__ import annotations

import os
import threading
import traceback
from collections.abc import Callable

from app.wording.fault_words import fault_words
from app.worker.messages import Answer, Asked, AskedQuick, Dropped, Failed, Ink, Pencil, Progress, Quick
from app.worker.working_thread import IDLE_S
from geometry.bracket import Bracket
from geometry.findings import findings_of
from geometry.placing import place_bolts
from geometry.wanted import NoLongerWantedError, while_wanted
from solver.analyse import analyse_in_turn, can_be_solved
from solver.errors import SolverError
from solver.kept_plates import KeptPlates
from solver.quick import quick_answer
from solver.same_plates import same_mounting, same_plates
from solver.solved import Solved

KEPT = 2
"""Brackets with different plates kept for quick answers; each takes some 50 MB."""


NO_MEMORY = (
    "This machine has too little memory to analyse this bracket, so there is no verdict: close other"
    " programs, and change anything to try again."
)


def why_not(fault: Exception) -> str:
    """Return why an analysis that ended in a fault has no answer, in a sentence."""
    if isinstance(fault, SolverError):
        return str(fault)
    _trace()
    # the second is how the loader says that there is no room for a library that comes in late
    if isinstance(fault, MemoryError) or "failed to map segment" in str(fault):
        return NO_MEMORY
    return fault_words(fault, "The analysis")


class Bench:
    """Judges in one thread and answers quickly in another."""

    def __init__(self, send: Callable[[Answer], None], idle: Callable[[], None] = lambda: None) -> None:
        self._send = send
        self._idle = idle
        """Called once nothing has been asked for IDLE_S after an analysis."""
        self._newest: Asked | Dropped | None = None
        self._asked = threading.Condition()
        self._kept: tuple[Solved, ...] = ()
        """One for each set of plates, newest first. Replaced, never changed: two threads read it."""
        self._plates = KeptPlates()

    def take(self, question: Asked | Dropped) -> None:
        """Take a question; an analysis that is running ends at once."""
        with self._asked:
            self._newest = question
            self._asked.notify()

    def judge_for_ever(self) -> None:
        """Answer one question after another, always the newest."""
        wait_s: float | None = None
        while True:
            with self._asked:
                asked = self._asked.wait_for(lambda: self._newest is not None, wait_s)
                question, self._newest = self._newest, None
            wait_s = None
            if not asked:
                self._idle()
            if isinstance(question, Asked):
                self._judge(question)
                wait_s = IDLE_S

    def answer_quickly(self, question: AskedQuick) -> None:
        """Send the quick answer, or that there is none."""
        bracket = question.bracket
        solved = next((s for s in self._kept if same_plates(s.bracket, bracket)), None)
        answer = None
        if solved is not None and _solvable(solved.bracket, bracket):
            try:
                answer = quick_answer(solved, bracket, out=question.out, slipped=question.slipped)
            except Exception:  # noqa: BLE001 - pencil that is not to be had; the analysis, asked as well, tells why
                _trace()
        self._send(Quick(question.number, question.key, answer))

    def _judge(self, asked: Asked) -> None:
        def still_asked() -> None:
            if self._newest is not None:
                raise NoLongerWantedError

        def tell(words: str, share: float) -> None:
            still_asked()
            self._send(Progress(asked.number, words, share))

        try:
            with while_wanted(still_asked):
                self._judge_in_turn(asked, tell)
        except NoLongerWantedError:
            pass
        except Exception as fault:  # noqa: BLE001 - the last door: a sentence, not a dead worker
            self._send(Failed(asked.number, why_not(fault)))

    def _judge_in_turn(self, asked: Asked, tell: Callable[[str, float], None]) -> None:
        key = asked.key
        for judged in analyse_in_turn(asked.judged, progress=tell, kept=self._plates):
            refined = judged.results.accuracy.refined
            if judged.solved is not None:
                self._keep(judged.solved, refined=refined)
            # What could not be solved is said once, and is no figure that could be refined.
            last = refined or judged.solved is None
            self._send((Ink if last else Pencil)(asked.number, key, judged.results))
            if not asked.refine:
                return

    def _keep(self, solved: Solved, *, refined: bool) -> None:
        """Keep what was solved; the same plates on a coarse mesh do not replace them on a fine one."""
        same = [s for s in self._kept if same_plates(s.bracket, solved.bracket)]
        if refined or not same:
            rest = [s for s in self._kept if all(s is not other for other in same)]
            self._kept = (solved, *rest)[:KEPT]


def _solvable(before: Bracket, bracket: Bracket) -> bool:
    """Return whether there is still something to solve, `before` having been solved."""
    if same_mounting(before, bracket):
        return True
    return can_be_solved(bracket, findings_of(bracket), place_bolts(bracket))


def _trace() -> None:
    if os.environ.get("HOLDSQUARE_TRACE") == "1":
        traceback.print_exc()
