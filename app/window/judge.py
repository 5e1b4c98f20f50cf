"""The judge: has the newest bracket judged in the background and tells what comes back. It never waits.

Glossary
--------
pause   how long nothing has to change before a bracket is judged, if it is one change of many
follow  to answer a change at once by the quick path, where the plates are as they were solved
trial   bolts taken out or slipped to see what happens; they enter no verdict
"""

from __future__ import annotations

import time
from collections import OrderedDict
from collections.abc import Collection
from typing import Final, Literal

from PySide6.QtCore import QObject, QTimer, Signal

from app.worker.client import Worker, alike_at_a_glance
from app.worker.messages import Answer, Failed, Ink, Pencil, Progress, Quick, Ready
from geometry.bracket import Bracket
from solver.results import Results

PAUSE_MS: Final = 150
"""Without an edit before anything is asked, once one has followed another that soon; and where the quick path
answers meanwhile."""
POLL_MS: Final = 30
FOLLOW_MS: Final = 8
"""Between looks while an answer is awaited."""
KEPT_INKS: Final = 8
"""Answers kept for undo and redo; each takes some 4 MB."""

State = Literal["idle", "waiting", "working", "up to date", "out of date", "stopped"]


class Judge(QObject):
    """Listens to the worker and speaks in signals."""

    progressed = Signal(str, float)
    """What the analysis does and the share of it done."""
    pencil = Signal(object)
    """Results of the first mesh."""
    ink = Signal(object)
    """Results refined."""
    quick = Signal(object)
    """A QuickAnswer for the newest change, or for the trial."""
    failed = Signal(str)
    """Why there is no answer, or that it takes longer, in a sentence."""
    out_of_date = Signal()
    """What was told last no longer belongs to the bracket."""
    state_changed = Signal(str)

    def __init__(self, parent: QObject | None = None, *, worker: Worker | None = None) -> None:
        super().__init__(parent)
        self._worker = Worker() if worker is None else worker
        self._state: State = "idle"
        self._bracket: Bracket | None = None
        self._key = ""
        self._told_key = ""
        """Of the results told last; empty once they are out of date."""
        self._asked: Bracket | None = None
        self._asked_key = ""
        self._solved: list[Bracket] = []
        """Brackets the process has solved, for following."""
        self._inks: OrderedDict[str, Results] = OrderedDict()
        self._wanted: Bracket | None = None
        """What a trial waits to be answered for: the process does not have its plates any more."""
        self._out: tuple[str, ...] = ()
        self._slipped: tuple[str, ...] = ()
        self._quick_from = 0
        """Quick answers to earlier questions are about other plates."""
        self._held = False
        self._changed_s = float("-inf")
        """When the bracket changed last."""
        self._pause = QTimer(self, singleShot=True, interval=PAUSE_MS)
        self._pause.timeout.connect(self._begin)
        self._poll = QTimer(self, interval=POLL_MS)
        self._poll.timeout.connect(self._listen)

    @property
    def state(self) -> State:
        """Return how things stand with the newest bracket."""
        return self._state

    def start(self) -> None:
        """Let the worker get ready, before there is anything to judge."""
        self._worker.start()
        # Started anew by every step of a slider it would never come to an end.
        if not self._poll.isActive():
            self._poll.start()

    def set_bracket(self, bracket: Bracket) -> None:
        """Take the newest bracket: judge it at once, if plates have changed and no other change is near.

        Otherwise follow it at once, and judge it once nothing has changed for the pause. What was judged
        lately is told at once.
        """
        before, self._bracket = self._bracket, bracket
        self._wanted = None
        key = bracket.input_hash()
        if key == self._key and self._state in ("waiting", "working"):
            return
        self._key = key
        self.start()
        if key in self._inks:
            self._recall(key)
            return
        other_plates = before is None or not alike_at_a_glance(before, bracket)
        if before is not None and other_plates:
            self._quick_from = self._worker.last_number + 1
        if self._worker.busy and self._asked is not None and not alike_at_a_glance(self._asked, bracket):
            # Its answer is of no use to anybody.
            self._worker.drop()
        alone = self._alone() and other_plates
        at_once = alone and not self._held
        if at_once:
            # Before anything is drawn: the process works meanwhile.
            self._pause.stop()
            self._ask()
        if self._told_key not in ("", key):
            self._told_key = ""
            self.out_of_date.emit()
        self._enter("working" if at_once else "waiting")
        if not alone:
            self._pause.start()
        self.follow(bracket)

    def _alone(self) -> bool:
        """Return whether this change comes by itself: none was made within the pause before it."""
        before, self._changed_s = self._changed_s, time.monotonic()
        return self._changed_s - before > PAUSE_MS / 1000.0

    def follow(self, bracket: Bracket) -> None:
        """Answer for a bracket at once, in mid-gesture too, if its plates are as they were solved.

        A process that has not solved them, such as one started anew, solves them once more first.
        """
        if any(alike_at_a_glance(solved, bracket) for solved in self._solved):
            self._worker.ask_quick(bracket, out=self._out, slipped=self._slipped)
            self._listen_often(True)
            return
        now = self._bracket
        if self._state == "up to date" and now is not None and alike_at_a_glance(now, bracket):
            self._wanted = bracket
            if not self._worker.busy:
                self._asked, self._asked_key = now, self._key
                self._worker.ask(now, refine=False)

    def set_trial(self, *, out: Collection[str] = (), slipped: Collection[str] = ()) -> None:
        """Try what happens with bolts taken out or slipped; with neither the trial ends."""
        self._out, self._slipped = tuple(out), tuple(slipped)
        if self._bracket is None:
            return
        if self._out or self._slipped:
            self.follow(self._bracket)
        else:
            self._wanted = None
            self._quick_from = self._worker.last_number + 1

    def set_hold(self, held: bool) -> None:
        """Begin nothing while the pointer is down; what came due meanwhile begins when it is up."""
        self._held = held
        if not held and self._state == "waiting" and not self._pause.isActive():
            self._begin()

    def hold(self) -> None:
        """Begin the pause anew: a gesture is in progress."""
        if self._state == "waiting":
            self._pause.start()

    def drop(self) -> None:
        """Stop what is being worked out; the next change begins again."""
        if self._state in ("waiting", "working"):
            self._pause.stop()
            if self._worker.busy:
                self._cancel()
            self._enter("stopped")

    def stop(self) -> None:
        """Stop, and end the worker's process; the next change starts it again."""
        self._pause.stop()
        self._poll.stop()
        self._worker.close()
        self._solved.clear()
        if self._state != "idle":
            self._enter("stopped")

    def _begin(self) -> None:
        if self._held or self._bracket is None:
            return
        self._enter("working")
        self._ask()

    def _ask(self) -> None:
        if self._bracket is not None and not (self._worker.busy and self._asked_key == self._key):
            self._asked, self._asked_key = self._bracket, self._key
            self._worker.ask(self._bracket)
            self._listen_often(True)

    def _recall(self, key: str) -> None:
        self._pause.stop()
        self._worker.drop()
        self._inks.move_to_end(key)
        self._tell_ink(self._inks[key])

    def _cancel(self) -> None:
        self._worker.cancel()
        self._solved.clear()

    def _listen(self) -> None:
        for answer in self._worker.poll():
            self._hear(answer)
        self._listen_often(self._worker.following or self._worker.busy)

    def _listen_often(self, often: bool) -> None:
        interval = FOLLOW_MS if often else POLL_MS
        # set anew by every step of a slider it would never come to an end
        if self._poll.interval() != interval:
            self._poll.setInterval(interval)

    def _hear(self, answer: Answer) -> None:
        match answer:
            case Ready():
                self._solved.clear()
                if self._bracket is not None and (self._out or self._slipped):
                    # what was being tried went with the process before
                    self.follow(self._bracket)
            case Progress():
                if self._state == "working":
                    self.progressed.emit(answer.words, answer.share)
            case Pencil() | Ink():
                self._take(answer)
            case Quick():
                self._take_quick(answer)
            case Failed():
                self._fail(answer)

    def _take(self, answer: Pencil | Ink) -> None:
        """Tell results if they are of the bracket as it stands; keep them for what they are good for."""
        if isinstance(answer, Ink):
            self._inks[answer.key] = answer.results
            while len(self._inks) > KEPT_INKS:
                self._inks.popitem(last=False)
        if answer.results.plates and self._asked is not None and self._asked not in self._solved:
            self._solved = [self._asked, *self._solved[:1]]
            if self._bracket is not None and answer.key != self._key:
                self.follow(self._bracket)
            wanted, self._wanted = self._wanted, None
            if wanted is not None:
                self.follow(wanted)
        if answer.key != self._key or self._state == "stopped":
            return
        if isinstance(answer, Pencil) and self._state == "up to date":
            # Solved once more for a trial; the ink that is told already is the better figure.
            return
        if isinstance(answer, Ink):
            self._pause.stop()
            self._tell_ink(answer.results)
        else:
            self._told_key = answer.key
            self.pencil.emit(answer.results)

    def _tell_ink(self, results: Results) -> None:
        self._told_key = self._key
        self._enter("up to date")
        self.ink.emit(results)

    def _take_quick(self, answer: Quick) -> None:
        trial = bool(self._out or self._slipped)
        inked = self._state == "up to date" and answer.key == self._key
        if answer.answer is not None and answer.number >= self._quick_from and (trial or not inked):
            self.quick.emit(answer.answer)

    def _fail(self, answer: Failed) -> None:
        if self._asked_key != self._key:
            # It is about a bracket that has changed since; the newest one is asked about soon.
            return
        if answer.final and self._state != "idle":
            self._pause.stop()
            self._enter("out of date")
        self.failed.emit(answer.words)

    def _enter(self, state: State) -> None:
        if state != self._state:
            self._state = state
            self.state_changed.emit(state)
