"""The leaf Ladder: what is varied, run and stop, a table and a curve of what each step holds to."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Final

from PySide6.QtWidgets import QHBoxLayout, QLabel, QLineEdit, QMenu, QVBoxLayout

from app.editing.refused import EditRefused
from app.files.files_error import FilesError
from app.files.named_file import write_named
from app.ladder.keys import KEYS, varied
from app.ladder.ladder_csv import ladder_csv
from app.ladder.ladder_rows import ladder_cells, ladder_heads
from app.ladder.steps import Ladder, ladder_of
from app.theme import Theme
from app.window.beside.ladder_run import Climbed, Makes, climbing, crew_judge
from app.window.beside.plain_table import PlainTable
from app.window.door import Door
from app.window.leaf_asks import LeafAsks
from app.window.lists.caption import heading_style, plain_label
from app.window.picture_of_it import PictureOfIt
from app.window.working_leaf import WorkingLeaf
from app.wording.figures import Units, sentence_in_units
from geometry.finding import Finding

_USUAL: Final = "plate.thickness=3,4,5,6,8"
_INVITATION: Final = "Which is the least that passes? Name what is varied with its values, and run."


class LadderLeaf(WorkingLeaf):
    """Varies the bracket on the sheet without changing it."""

    def __init__(
        self,
        door: Door,
        theme: Theme,
        folder: Callable[[], Path],
        asks: LeafAsks | None = None,
        make: Makes = crew_judge,
        of_file: Callable[[], Sequence[Finding]] = tuple,
    ) -> None:
        """Vary what lies on the sheet; `of_file` tells what was found about its file."""
        super().__init__(theme)
        self._of_file = of_file
        self._door, self._folder, self._make = door, folder, make
        self._asks = LeafAsks() if asks is None else asks
        self._units: Units = "mm"
        self._ladder: Ladder | None = None
        self.climbed: Climbed | None = None
        """What is there of the ladder that was run last."""
        self.sentence = plain_label(self.tr(_INVITATION))
        self.varied = QLineEdit(_USUAL)
        self.varied.setAccessibleName(
            self.tr("What is varied, such as plate.thickness=3,4,5 bolt.size=M6,M8")
        )
        self.varied.returnPressed.connect(self.run)
        self.add = self.link(self.tr("vary another thing"), self._offer_keys)
        self.start = self.link(self.tr("run"), self.run)
        self.end = self.link(self.tr("stop"), self.stop)
        self.out = self.link(self.tr("write as CSV…"), self.write)
        self.table = PlainTable(self.tr("Steps of the ladder"))
        self.curve = PictureOfIt()
        self.curve.setAccessibleName(self.tr("Couple that each step holds to"))
        self._work.told.connect(self._take)
        self._work.done.connect(self._end)
        door.changed.connect(lambda _: self._tell_stale())
        self._lay_out()
        self.set_theme(theme)
        self._able()

    def run(self) -> None:
        """Judge every step that was asked for, or say what is wrong with the asking."""
        try:
            asked = [varied(text) for text in self.varied.text().split()]
            ladder = ladder_of(self._door.bracket, asked, tuple(self._of_file()))
        except EditRefused as refused:
            words = str(refused)
            self.said.say(f"{words[:1].upper()}{words[1:].rstrip('.')}.")
            return
        self._ladder, self.climbed = ladder, None
        self.table.setRowCount(0)
        self.curve.show_png(b"")
        self.said.note(self.tr("0 of %1 steps judged.").replace("%1", str(len(ladder.steps))))
        self._work.begin(climbing(ladder, self._theme, self._make))
        self._able()

    def stop(self) -> None:
        """Stop; what was judged stays, and is not judged again."""
        self._work.ask_to_stop()

    def write(self) -> None:
        """Write what is there as CSV where the user says."""
        found = self.climbed
        if found is None:
            return
        path = self._asks.where_to_put_ladder(self, self._folder() / "ladder.csv")
        if path is None:
            return
        try:
            write_named(path, ladder_csv(found.ladder, found.rungs).encode("utf-8-sig"))
        except FilesError as error:
            self.said.say(str(error))
        else:
            self.said.note(f"Written to {path}.")

    def set_theme(self, theme: Theme) -> None:
        """Draw in another look; the curve follows with the next run."""
        super().set_theme(theme)
        self.sentence.setStyleSheet(heading_style(theme))
        self.varied.setStyleSheet(
            f"color: {theme.ink}; background: {theme.entry}; border: none;"
            f" border-bottom: 1px solid {theme.ink};"
        )
        self.table.set_theme(theme)

    def set_inch(self, inch: bool) -> None:
        """Show figures in inches and pounds, beside the metric ones in sentences; the curve stays metric."""
        self._units = "inch" if inch else "mm"
        if self.climbed is not None:
            self.sentence.setText(sentence_in_units(self.climbed.least.sentence, self._units))
            self._fill(self.climbed)

    # -- inside

    def _lay_out(self) -> None:
        asked = QHBoxLayout()
        asked.setSpacing(14)
        asked.addWidget(QLabel(self.tr("vary")))
        asked.addWidget(self.varied, 1)
        for link in self._links:
            asked.addWidget(link)
        below = QHBoxLayout()
        below.setSpacing(16)
        below.addWidget(self.table, 45)
        below.addWidget(self.curve, 55)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.sentence)
        column.addLayout(asked)
        column.addWidget(self.said)
        column.addLayout(below, 1)

    def _able(self) -> None:
        self.start.setEnabled(not self.busy)
        self.end.setEnabled(self.busy)
        self.out.setEnabled(self.climbed is not None and bool(self.climbed.rungs))

    def _offer_keys(self) -> None:
        menu = QMenu(self)
        for key in KEYS:
            action = menu.addAction(f"{key.word}: {key.means}")
            action.triggered.connect(lambda _=False, k=key: self.add_key(f"{k.word}={k.example}"))
        menu.popup(self.add.mapToGlobal(self.add.rect().bottomLeft()))

    def add_key(self, text: str) -> None:
        """Add a thing to vary, with values to begin with."""
        self.varied.setText(f"{self.varied.text()} {text}".strip())
        self.varied.setFocus()

    def _take(self, part: object) -> None:
        if not isinstance(part, Climbed):
            return
        self.climbed = part
        self.sentence.setText(sentence_in_units(part.least.sentence, self._units))
        self.said.note(
            self.tr("%1 of %2 steps judged.")
            .replace("%1", str(len(part.rungs)))
            .replace("%2", str(len(part.ladder.steps)))
        )
        self._fill(part)
        self.curve.show_png(part.curve)

    def _end(self, answer: object) -> None:
        self._take(answer)
        if isinstance(answer, Exception):
            self.said.say(f"The ladder ended by itself ({answer}): run it again.")
        elif isinstance(answer, Climbed) and len(answer.rungs) < len(answer.ladder.steps):
            self.said.note(self.said.sentence + self.tr(" Stopped; run goes on where it was."))
        self._able()
        self._tell_stale()

    def _tell_stale(self) -> None:
        if self._ladder is not None and self._ladder.bracket.input_hash() != self._door.bracket.input_hash():
            self.said.say(self.tr("The bracket has changed since this ladder was run: run it again."))

    def _fill(self, found: Climbed) -> None:
        heads = ladder_heads(found.ladder, self._units)
        rows = [ladder_cells(found.ladder, rung, found.least, self._units) for rung in found.rungs]
        tips = [
            sentence_in_units(rung.answer.trouble or rung.answer.reason, self._units) for rung in found.rungs
        ]
        self.table.fill(heads, rows, tips)
