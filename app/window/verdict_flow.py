"""From a change of the bracket to what is shown of it: findings at once, figures when the judge has them."""

from __future__ import annotations

from collections.abc import Collection
from typing import Final, Protocol

from PySide6.QtCore import QObject, QTimer, Signal, SignalInstance

from app.window.door import Door
from app.wording.file_verdict import held_to_file
from geometry.bracket import Bracket
from geometry.finding import Finding
from geometry.findings import findings_of
from solver.results import Results

_Trial = tuple[Bracket, tuple[str, ...], tuple[str, ...]]
"""A bracket, bolts out, bolts slipped."""
_LOOK_MS: Final = 60
"""After a change, before findings are looked for: the drawing comes first."""


class Judges(Protocol):
    """What works out results of the newest bracket in the background."""

    progressed: SignalInstance
    pencil: SignalInstance
    ink: SignalInstance
    quick: SignalInstance
    failed: SignalInstance
    out_of_date: SignalInstance

    def set_bracket(self, bracket: Bracket) -> None:
        """Judge this bracket: at once, or after the last of several changes."""

    def hold(self) -> None:
        """Wait: a gesture is in progress."""

    def follow(self, bracket: Bracket) -> None:
        """Answer at once for a bracket in mid-gesture, if its plates are as they were solved."""

    def set_trial(self, *, out: Collection[str] = (), slipped: Collection[str] = ()) -> None:
        """Try bolts taken out or slipped; with neither the trial ends."""

    def set_hold(self, held: bool) -> None:
        """Begin nothing while the pointer is down."""

    def drop(self) -> None:
        """Stop what is being worked out."""

    def start(self) -> None:
        """Get ready."""

    def stop(self) -> None:
        """End for good."""


class VerdictFlow(QObject):
    """Listens to the door and the judge; knows of no view."""

    findings_changed = Signal(object)
    """Tuple of findings about the bracket as it stands."""
    results_changed = Signal(object, str)
    """Results or None, and how they stand: `none`, `pencil`, `ink` or `out of date`."""
    quick_changed = Signal(object)
    """A quick answer, which is newer than the results."""
    worked = Signal(str, float)
    """What the analysis does and how far it has come; an empty word when it does nothing."""
    told = Signal(str)
    judged = Signal()
    """A verdict in ink has come."""

    def __init__(self, door: Door, judge: Judges, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._door, self._judge = door, judge
        self._results: Results | None = None
        self._begun = False
        self._failing = False
        self._state = "none"
        self._drawing = False
        """Whether a gesture in progress shows another bracket than the one there are results of."""
        self._trial: _Trial | None = None
        """What is tried without being drawn: no verdict is about it."""
        self._inputs = ""
        self._file_findings: tuple[Finding, ...] = ()
        self._look = QTimer(self, singleShot=True, interval=_LOOK_MS)
        self._look.timeout.connect(self.look)
        door.changed.connect(self._take)
        door.previewed.connect(self._hold)
        judge.progressed.connect(self.worked)
        judge.pencil.connect(self._pencil)
        judge.ink.connect(self._ink)
        judge.failed.connect(self._failed)
        judge.quick.connect(self.quick_changed)
        judge.out_of_date.connect(self._out_of_date)

    @property
    def results(self) -> Results | None:
        """Return the newest results, of whatever bracket they were."""
        return self._results

    @property
    def file_findings(self) -> tuple[Finding, ...]:
        """Return what was found about the file, which stands against every verdict on what was read of it."""
        return self._file_findings

    def begin(self) -> None:
        """Look at the bracket and have it judged, now and after every change; before that nothing is."""
        self._begun = True
        self._take(self._door.bracket)

    def look(self) -> None:
        """Look for findings about the bracket as it stands."""
        self.findings_changed.emit(findings_of(self._door.bracket))

    def forget(self, file_findings: tuple[Finding, ...] = ()) -> None:
        """Show nothing any more: another bracket has been opened.

        What was found about its file stands against every verdict until a file is opened again: what could
        not be read may be what would have failed.
        """
        self._file_findings = file_findings
        self._inputs = ""
        self._show(None, "none")

    def stop(self) -> None:
        """Stop working out the verdict; the next change begins again."""
        self._judge.drop()
        self.worked.emit("", 0.0)

    def go_on(self) -> None:
        """Work the verdict out again after it was stopped."""
        self._judge.set_bracket(self._door.bracket)

    def try_out(self, bracket: Bracket, out: Collection[str], slipped: Collection[str]) -> None:
        """Answer at once for what is tried: other loads or torques, bolts taken out or slipped.

        Until the trial ends no verdict stands: whoever reads it would take it to be about what is tried.
        """
        begins = self._trial is None
        self._trial = (bracket, tuple(out), tuple(slipped))
        if begins:
            self._show_again()
        else:
            self._follow_trial()

    def end_trial(self) -> None:
        """Show again what stood before the trial."""
        self._trial = None
        self._judge.set_trial()
        self.quick_changed.emit(None)
        self._show(self._results, self._state)

    def _take(self, bracket: Bracket) -> None:
        if not self._begun:
            return
        self._look.start()
        gesture_ended, self._drawing = self._drawing, False
        inputs = bracket.input_hash()
        if inputs != self._inputs:
            self._inputs = inputs
            self._judge.set_bracket(bracket)
        elif gesture_ended:
            self._show_again()

    def _hold(self, drawn: Bracket) -> None:
        """While a gesture is drawn, no verdict stands as if it were about what is drawn."""
        drawing = drawn != self._door.bracket
        if drawing != self._drawing:
            self._drawing = drawing
            if not drawing:
                # An answer that is still under way is about a gesture that was dropped.
                self._judge.set_trial()
            self._show_again()
        if drawing:
            self._judge.hold()
            self._judge.follow(drawn)

    def _pencil(self, results: Results) -> None:
        self._show(results, "pencil")

    def _ink(self, results: Results) -> None:
        self.worked.emit("", 0.0)
        if self._failing:
            self._failing = False
            self.told.emit("")
        self._show(results, "ink")
        self.judged.emit()

    def _out_of_date(self) -> None:
        if self._results is not None:
            self._show(self._results, "out of date")

    def _show(self, results: Results | None, state: str) -> None:
        if results is not None:
            results = held_to_file(results, self._file_findings)
            if state in ("pencil", "ink") and self._inputs not in ("", results.hash):
                # whatever went wrong on the way, no verdict stands for another bracket than its own
                state = "out of date"
        self._results, self._state = results, state
        self._show_again()

    def _show_again(self) -> None:
        other = self._drawing or self._trial is not None
        stale = other and self._results is not None
        self.results_changed.emit(self._results, "out of date" if stale else self._state)
        if not self._drawing:
            self._follow_trial()

    def _follow_trial(self) -> None:
        if self._trial is not None:
            bracket, out, slipped = self._trial
            self._judge.set_trial(out=out, slipped=slipped)
            self._judge.follow(bracket)

    def _failed(self, sentence: str) -> None:
        self.worked.emit("", 0.0)
        self._failing = True
        self.told.emit(sentence)
