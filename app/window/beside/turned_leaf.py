"""The leaf One input: what the verdict is with one input changed, and from where on it is another."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Final

from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout

from app.theme import Theme
from app.window.beside.plain_table import PlainTable
from app.window.beside.turned_run import Asks, Doing, NotTurned, turning
from app.window.door import Door
from app.window.lists.caption import heading_style, plain_label
from app.window.worded import worded
from app.window.working_leaf import WorkingLeaf
from app.wording.figures import Units, sentence_in_units
from app.wording.sensitivity_words import HOW, TURNING_HEADS, heads, trial_cells, turning_cells
from geometry.bracket import Bracket
from geometry.finding import Finding
from solver.trials import OneAtATime, Trial

_INVITATION: Final = "What would turn the verdict? Each input is changed by itself, all else stays as it is."


class TurnedLeaf(WorkingLeaf):
    """Turns the inputs of the bracket on the sheet without changing it."""

    def __init__(
        self,
        door: Door,
        theme: Theme,
        of_file: Callable[[], Sequence[Finding]],
        ask: Asks | None = None,
    ) -> None:
        super().__init__(theme)
        self._door, self._of_file, self._ask = door, of_file, ask
        self._units: Units = "mm"
        self._key = ""
        self._findings: tuple[Finding, ...] = ()
        """Of the bracket that was asked about last, and what had been found about its file."""
        self.found: OneAtATime | None = None
        self.sentence = plain_label(self.tr(_INVITATION))
        self.how = plain_label(self.tr(HOW))
        self.start = self.link(self.tr("work it out"), self.run)
        self.end = self.link(self.tr("stop"), self.stop)
        self.trials = PlainTable(self.tr("One input changed at a time"))
        self.turnings = PlainTable(self.tr("Where each input turns the verdict"))
        self._work.told.connect(self._hear)
        self._work.done.connect(self._end)
        door.changed.connect(lambda _: self._tell_stale())
        self._lay_out()
        self.set_theme(theme)
        self._able()

    def run(self) -> None:
        """Work it out for the bracket as it is now."""
        bracket = self._door.bracket
        self._key, self._findings, self.found = bracket.input_hash(), tuple(self._of_file()), None
        self.trials.setRowCount(0)
        self.turnings.setRowCount(0)
        self.sentence.setText(self.tr(_INVITATION))
        self.said.note(self.tr("Starting."))
        self._work.begin(turning(bracket, self._findings, self._ask))
        self._able()

    def stop(self) -> None:
        """Stop; nothing is shown of what was begun."""
        self._work.ask_to_stop()

    def trials_of(self, bracket: Bracket) -> tuple[Trial, ...]:
        """Return what was found, if it is of this bracket and file."""
        same = self._key == bracket.input_hash() and self._findings == tuple(self._of_file())
        return self.found.trials if self.found is not None and same else ()

    def set_theme(self, theme: Theme) -> None:
        """Draw in another look."""
        super().set_theme(theme)
        for table in (self.trials, self.turnings):
            table.set_theme(theme)
        self.sentence.setStyleSheet(heading_style(theme))
        self.how.setStyleSheet(f"color: {theme.pencil};")

    def set_inch(self, inch: bool) -> None:
        """Show figures in inches and pounds or in millimetres and newtons."""
        self._units = "inch" if inch else "mm"
        if self.found is not None:
            self._show(self.found)
            self._tell_stale()

    # -- inside

    def _lay_out(self) -> None:
        top = QHBoxLayout()
        top.setSpacing(14)
        top.addWidget(self.start)
        top.addWidget(self.end)
        top.addWidget(self.said, 1)
        below = QHBoxLayout()
        below.setSpacing(16)
        below.addWidget(self.trials, 55)
        below.addWidget(self.turnings, 45)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.sentence)
        column.addLayout(top)
        column.addLayout(below, 1)
        column.addWidget(self.how)

    def _able(self) -> None:
        self.start.setEnabled(not self.busy)
        self.end.setEnabled(self.busy)

    def _hear(self, part: object) -> None:
        if isinstance(part, Doing):
            words = f"{part.words[:1].upper()}{part.words[1:]}"
            self.said.note(worded("{words}: {share}.", words=words, share=f"{part.share:.0%}"))

    def _end(self, answer: object) -> None:
        if isinstance(answer, OneAtATime):
            self._show(answer)
        elif answer is None:
            self.said.note(self.tr("Stopped."))
        else:
            why = answer.words if isinstance(answer, NotTurned) else str(answer)
            self.said.say(worded("It could not be worked out ({why}).", why=why.rstrip(".")))
        self._able()
        self._tell_stale()

    def _show(self, found: OneAtATime) -> None:
        self.found = found
        self.sentence.setText(sentence_in_units(found.results.sentence, self._units))
        if not found.trials:
            self.said.say(self.tr("Nothing was solved, so nothing hangs on one input alone."))
            return
        self.said.note("")
        rows = [trial_cells(one, self._units) for one in found.trials]
        self.trials.fill(heads(self._units), rows, [t.reason for t in found.trials])
        self.turnings.fill(TURNING_HEADS, [turning_cells(one, self._units) for one in found.turnings])

    def _tell_stale(self) -> None:
        if self._key and not self.busy and self._key != self._door.bracket.input_hash():
            self.said.say(self.tr("The bracket has changed since: work it out again."))
