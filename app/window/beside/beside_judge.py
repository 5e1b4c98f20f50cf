"""Judges the layouts side by side in the background, one after another, in a process of its own."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Sequence
from typing import Final, Protocol

from PySide6.QtCore import QObject, QTimer, Signal, SignalInstance

from app.worker.client import Worker
from app.worker.messages import Failed, Ink, Pencil, Progress
from geometry.bracket import Bracket
from solver.results import Results

POLL_MS: Final = 30
MOST_KEPT: Final = 8
"""Answers kept; each takes some 4 MB."""


class JudgesBeside(Protocol):
    """What works out results of several brackets."""

    judged: SignalInstance
    failed: SignalInstance
    progressed: SignalInstance

    def want(self, brackets: Sequence[Bracket]) -> None:
        """Judge these, one after another; nothing else is wanted any more."""

    def stop(self) -> None:
        """End for good."""


class BesideJudge(QObject):
    """Asks a worker for one bracket at a time and tells what comes back. It never waits."""

    judged = Signal(object, bool)
    """Results, and whether they are pencil."""
    failed = Signal(str, str)
    """Hash of the inputs, and why there are no results."""
    progressed = Signal(str, str, float)
    """Hash of the inputs, what the analysis does, and the share done."""

    def __init__(self, parent: QObject | None = None, *, worker: Worker | None = None) -> None:
        super().__init__(parent)
        self._worker = Worker() if worker is None else worker
        self._wanted: OrderedDict[str, Bracket] = OrderedDict()
        self._asked = ""
        self._inks: OrderedDict[str, Results] = OrderedDict()
        self._failed: set[str] = set()
        self._poll = QTimer(self, interval=POLL_MS)
        self._poll.timeout.connect(self._listen)

    @property
    def busy(self) -> bool:
        """Return whether anything is being worked on."""
        return bool(self._asked)

    def want(self, brackets: Sequence[Bracket]) -> None:
        """Judge these in their order; what is known already is told at once."""
        self._wanted = OrderedDict((bracket.input_hash(), bracket) for bracket in brackets)
        self._failed &= set(self._wanted)
        for key in self._wanted:
            if key in self._inks:
                self._inks.move_to_end(key)
                self.judged.emit(self._inks[key], False)
        if self._asked and self._asked not in self._wanted:
            self._worker.drop()
            self._asked = ""
        self._go_on()

    def stop(self) -> None:
        """End the worker's process."""
        self._poll.stop()
        self._asked = ""
        self._wanted.clear()
        self._worker.close()

    def _go_on(self) -> None:
        """Ask for the first that is wanted and not known."""
        if self._asked:
            return
        known = self._failed | set(self._inks)
        key = next((k for k in self._wanted if k not in known), "")
        if not key:
            self._poll.stop()
            return
        self._asked = key
        self._worker.ask(self._wanted[key])
        self._poll.start()

    def _listen(self) -> None:
        for said in self._worker.poll():
            match said:
                case Ink() if said.key == self._asked:
                    self._inks[said.key] = said.results
                    while len(self._inks) > MOST_KEPT:
                        self._inks.popitem(last=False)
                    self._asked = ""
                    self.judged.emit(said.results, False)
                case Pencil() if said.key == self._asked:
                    self.judged.emit(said.results, True)
                case Progress() if self._asked:
                    self.progressed.emit(self._asked, said.words, said.share)
                case Failed() if said.final and self._asked:
                    key, self._asked = self._asked, ""
                    self._failed.add(key)
                    self.failed.emit(key, said.words)
        self._go_on()


class StillBesideJudge(QObject):
    """Stands in for the judge where results come from elsewhere, such as in pictures and tests."""

    judged = Signal(object, bool)
    failed = Signal(str, str)
    progressed = Signal(str, str, float)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.wanted: tuple[Bracket, ...] = ()

    def want(self, brackets: Sequence[Bracket]) -> None:
        """Note the brackets."""
        self.wanted = tuple(brackets)

    def stop(self) -> None:
        """There is nothing to end."""
