"""The window's end of the worker: asks, listens, and puts up with the worker's death.

Nothing here waits for the worker. A thread reads what it says into a queue, so that large answers never hold
the window up; `poll` empties the queue.
"""

from __future__ import annotations

import queue
import time
from collections import Counter
from collections.abc import Collection

from app.worker.line import Line, Serve
from app.worker.messages import (
    Answer,
    Asked,
    AskedQuick,
    Dropped,
    Failed,
    Pencil,
    Progress,
    Question,
    Quick,
    Ready,
)
from app.worker.process import serve
from geometry.bracket import Bracket
from geometry.loads import Limits

STARTED_AGAIN = "The analysis stopped unexpectedly; it has been started again."
STOPPED_TWICE = (
    "The analysis of this bracket stopped unexpectedly twice; it is tried again when the bracket changes."
)
CANNOT_START = (
    "The analysis cannot be started ({why}); close other programs and change anything to try again."
)
LATE_S = 1.5
"""So long an analysis that nobody waits for any more may hold up the next, before its process is replaced.
Nearly all of it ends within a tenth of a second; the mesher alone cannot be asked to."""
MOST_DEATHS = 2
"""Of one bracket, before it is left alone; or of a process that never got ready."""


def alike_at_a_glance(one: Bracket, other: Bracket) -> bool:
    """Return whether the plates are the same, as far as can be told at a glance."""
    return one.plates == other.plates and one.materials == other.materials


class Worker:
    """One warm process that judges brackets. Use it from one thread."""

    def __init__(self, serve: Serve = serve) -> None:
        self._serve = serve
        self._line: Line[Answer] | None = None
        self._number = 0
        self._asked: Asked | None = None
        """The question that is being worked on; None when nothing is."""
        self._sent = False
        self._unended = 0
        """Number of the analysis sent last of which no end has been heard; 0 without one."""
        self._held_up_since: float | None = None
        """When a question was sent to a process that still had to end another; None once it is taken up."""
        self._quick: AskedQuick | None = None
        """The quick question that waits to be sent; a newer one takes its place."""
        self._quick_out: AskedQuick | None = None
        """The quick question that is out: one at a time, so that sending never waits."""
        self._deaths: Counter[str] = Counter()
        self._false_starts = 0
        self._own_answers: list[Answer] = []

    @property
    def alive(self) -> bool:
        """Return whether the process runs."""
        return self._line is not None and self._line.process.is_alive()

    @property
    def process_id(self) -> int | None:
        """Return the system's number of the process; None if there is none."""
        return None if self._line is None else self._line.process.pid

    @property
    def busy(self) -> bool:
        """Return whether an analysis is being worked on or waits for the process to get ready."""
        return self._asked is not None

    @property
    def following(self) -> bool:
        """Return whether a quick answer is awaited."""
        return self._quick is not None or self._quick_out is not None

    @property
    def last_number(self) -> int:
        """Return the number of the question asked last, 0 before the first."""
        return self._number

    def start(self) -> None:
        """Start the process if there is none; it says `Ready` once it has imported all that it needs."""
        if self._line is not None:
            return
        try:
            self._line = Line(self._serve)
        except OSError as error:
            self._asked = self._quick = None
            why = error.strerror or str(error)
            self._own_answers.append(Failed(self._number, CANNOT_START.format(why=why)))

    def ask(self, bracket: Bracket, *, limits: Limits | None = None, refine: bool = True) -> int:
        """Judge a bracket; return the question's number. What was asked before is dropped.

        A running analysis ends at once and its process goes on with this one; a process that does not end
        it within LATE_S is replaced.
        """
        self._number += 1
        asked = Asked(self._number, bracket, limits, refine)
        self.drop()
        if self._deaths[asked.key] >= MOST_DEATHS:
            self._own_answers.append(Failed(asked.number, STOPPED_TWICE))
            return asked.number
        self._asked, self._sent = asked, False
        self._false_starts = 0
        self.start()
        self._send_what_waits()
        return asked.number

    def ask_quick(self, bracket: Bracket, *, out: Collection[str] = (), slipped: Collection[str] = ()) -> int:
        """Ask for a quick answer; return the question's number.

        Of those that wait only the newest is sent.
        """
        self._number += 1
        question = AskedQuick(self._number, bracket, tuple(out), tuple(slipped))
        if self._deaths[question.key] < MOST_DEATHS:
            self._quick = question
            self.start()
            self._send_what_waits()
        return question.number

    def poll(self) -> list[Answer]:
        """Return what has been said since the last call, oldest first, and see to a death."""
        answers, self._own_answers = self._own_answers, []
        while self._line is not None:
            try:
                said = self._line.said.get_nowait()
            except queue.Empty:
                break
            if said is None:
                answers += self._bury(self._line)
            elif self._heard(said):
                answers.append(said)
        if self._held_up_since is not None and time.monotonic() - self._held_up_since > LATE_S:
            self._replace()
        self._send_what_waits()
        return answers

    def drop(self) -> None:
        """Take back the question; the process ends what it does for it and stays."""
        if self._asked is not None and self._sent:
            self._send(Dropped(self._asked.number))
        self._asked = None

    def cancel(self) -> None:
        """Stop at once: the process is killed and a new one started. All questions are taken back."""
        self.close()
        self.start()

    def close(self) -> None:
        """End the process. Another question starts it again."""
        self._cut()
        self._asked = self._quick = self._quick_out = None

    def _cut(self) -> None:
        if self._line is not None and self._line.ready:
            self._line.cut()
        elif self._line is not None:
            self._line.cut_once_ready()
        self._line = None
        self._no_longer_held_up()

    def _no_longer_held_up(self) -> None:
        self._unended, self._held_up_since = 0, None

    def _replace(self) -> None:
        """Kill the process and have a new one answer what is asked."""
        self._cut()
        self._sent, self._quick = False, self._quick or self._quick_out
        self._quick_out = None
        self.start()

    def _heard(self, said: Answer) -> bool:
        """Take note of an answer; return whether anybody still waits for it."""
        if isinstance(said, Ready):
            self._false_starts = 0
            if self._line is not None:
                self._line.ready = True
            return True
        if isinstance(said, Quick):
            self._quick_out = None
            return True
        if said.number == self._unended:
            self._held_up_since = None
        if self._asked is None or said.number != self._asked.number:
            return False
        ends = not isinstance(said, Progress | Pencil) or (
            isinstance(said, Pencil) and not self._asked.refine
        )
        if ends:
            self._unended = 0
            self._deaths.pop(self._asked.key, None)
            self._asked = None
        return True

    def _bury(self, line: Line[Answer]) -> list[Answer]:
        """Start a new process after a death, ask once more, and return what is to be said of it."""
        asked, suspect = self._asked, self._asked if self._sent else self._quick_out
        self._line, self._sent, self._quick_out = None, False, None
        self._no_longer_held_up()
        number = self._number if asked is None else asked.number
        if not line.ready:
            self._false_starts += 1
            if self._false_starts >= MOST_DEATHS:
                self._asked = self._quick = None
                return [Failed(number, CANNOT_START.format(why="it ends before it is ready"))]
        elif suspect is not None:
            self._deaths[suspect.key] += 1
        self.start()
        if asked is None:
            return []
        if self._deaths[asked.key] >= MOST_DEATHS:
            self._asked = None
            return [Failed(number, STOPPED_TWICE)]
        return [Failed(number, STARTED_AGAIN, final=False)]

    def _send_what_waits(self) -> None:
        # Until it is ready a newer question takes an older one's place, instead of coming after it.
        if self._line is None or not self._line.ready:
            return
        if self._asked is not None and not self._sent:
            self._sent = True
            self._held_up_since = time.monotonic() if self._unended else None
            self._unended = self._asked.number
            self._send(self._asked)
        if self._quick is not None and self._quick_out is None:
            self._quick_out, self._quick = self._quick, None
            self._send(self._quick_out)

    def _send(self, question: Question) -> None:
        if self._line is not None:
            self._line.send(question)
