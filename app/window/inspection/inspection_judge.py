"""Has everything computed that a comparison rests on, one question after another, and never waits.

It has a worker of its own: the window's is busy with the bracket on the sheet.
"""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Final, Literal

from PySide6.QtCore import QObject, QTimer, Signal

from app.record.as_built import as_built
from app.record.comparison import Judgements, differs_under
from app.record.loosenings import loosenings_of
from app.record.profile import Profile, under
from app.record.record import Record
from app.worker.client import Worker
from app.worker.messages import Answer, Failed, Ink, Progress, Quick
from geometry.bracket import Bracket
from geometry.finding import Finding
from solver.results import QuickAnswer, Results

_POLL_MS: Final = 30
_KEPT: Final = 12

_Field = Literal["under_profile", "under_file", "built"]


@dataclass(frozen=True)
class _Step:
    bracket: Bracket
    put: Callable[[Judgements, Results | QuickAnswer | None], Judgements]
    quick: bool = False


class InspectionJudge(QObject):
    """Listens to its worker and speaks in signals."""

    judged = Signal(object)
    """Judgements so far; comes again with every answer."""
    progressed = Signal(str, float)
    """What is computed and how far it is; an empty word when nothing is."""

    def __init__(self, parent: QObject | None = None, *, worker: Worker | None = None) -> None:
        super().__init__(parent)
        self._worker = Worker() if worker is None else worker
        self._found = Judgements()
        self._of = ""
        """Hash of the bracket that it is of: those that differ in limits alone are one under a profile."""
        self._steps: list[_Step] = []
        self._out: tuple[int, _Step] | None = None
        self._inks: OrderedDict[str, Results] = OrderedDict()
        self._poll = QTimer(self, interval=_POLL_MS)
        self._poll.timeout.connect(self._listen)

    def judge(
        self, bracket: Bracket, record: Record, profile: Profile, file_findings: tuple[Finding, ...]
    ) -> None:
        """Compute all that is needed for these; what was known before is told at once."""
        before, same = self._found, bracket.input_hash() == self._of
        self._of = bracket.input_hash()
        self._found = Judgements(file_findings=file_findings)
        first = under(bracket, profile)
        asked_before = before.under_profile is not None and first.input_hash() in self._inks
        if same and asked_before and before.under_profile is self._inks[first.input_hash()]:
            # only what was measured is new: what the assumptions weigh stays
            self._found = replace(before, built=None, trouble="", file_findings=file_findings)
            waiting = [self._out[1], *self._steps] if self._out is not None else []
            self._steps = [step for step in waiting if step.quick]
        else:
            self._steps = [_Step(first, _put("under_profile")), *_weighing(bracket)]
        if differs_under(bracket, profile) and self._found.under_file is None:
            self._steps.append(_Step(bracket, _put("under_file")))
        built = as_built(bracket, record)
        if built.differs:
            self._steps.append(_Step(under(built.bracket, profile), _put("built")))
        self._out = None
        self._next()
        self.judged.emit(self._found)

    def stop(self) -> None:
        """End for good."""
        self._poll.stop()
        self._steps, self._out = [], None
        self._worker.close()

    def _next(self) -> None:
        """Ask what comes next; what is known needs no asking."""
        while self._steps:
            step = self._steps.pop(0)
            key = step.bracket.input_hash()
            if not step.quick and key in self._inks:
                self._found = step.put(self._found, self._inks[key])
                continue
            ask = self._worker.ask_quick if step.quick else self._worker.ask
            number = ask(step.bracket)
            self._out = number, step
            self._poll.start()
            return
        self._out = None
        self._poll.stop()
        self.progressed.emit("", 0.0)

    def _listen(self) -> None:
        for answer in self._worker.poll():
            if isinstance(answer, Progress):
                self.progressed.emit(answer.words, answer.share)
            else:
                self._take(answer)
        if self._out is not None and self._out[1].quick and not self._worker.following:
            # its process died over it: that assumption is ranked without a figure
            self._found = self._out[1].put(self._found, None)
            self._next()
            self.judged.emit(self._found)

    def _take(self, answer: Answer) -> None:
        if self._out is None:
            return
        number, step = self._out
        if isinstance(answer, Ink) and answer.number == number:
            self._inks[answer.key] = answer.results
            while len(self._inks) > _KEPT:
                self._inks.popitem(last=False)
            self._found = step.put(self._found, answer.results)
        elif isinstance(answer, Quick) and answer.number == number:
            self._found = step.put(self._found, answer.answer)
        elif isinstance(answer, Failed) and answer.number == number and answer.final:
            self._found = replace(self._found, trouble=answer.words)
            self._steps = []
        else:
            return
        self._next()
        self.judged.emit(self._found)


def _put(name: _Field) -> Callable[[Judgements, Results | QuickAnswer | None], Judgements]:
    def put(found: Judgements, answer: Results | QuickAnswer | None) -> Judgements:
        return replace(found, **{name: answer})  # type: ignore[arg-type]

    return put


def _weighing(bracket: Bracket) -> list[_Step]:
    """Return the quick questions: the bracket as it is, then with one assumption at its default each."""
    usual = [(place, one.usual) for place, one in enumerate(loosenings_of(bracket)) if one.usual is not None]
    if not usual:
        return []

    def before(found: Judgements, answer: Results | QuickAnswer | None) -> Judgements:
        return replace(found, before=answer if isinstance(answer, QuickAnswer) else None)

    def at(place: int) -> Callable[[Judgements, Results | QuickAnswer | None], Judgements]:
        def put(found: Judgements, answer: Results | QuickAnswer | None) -> Judgements:
            known = answer if isinstance(answer, QuickAnswer) else None
            return replace(found, quick={**found.quick, place: known})

        return put

    steps = [_Step(bracket, before, quick=True)]
    return steps + [_Step(changed, at(place), quick=True) for place, changed in usual]
