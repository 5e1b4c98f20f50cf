"""The leaf Rig log: a log opened, its columns asked once, drawn with what was foretold, followed."""

from __future__ import annotations

from pathlib import Path
from typing import Final

from PySide6.QtCore import QTimer
from PySide6.QtGui import QHideEvent
from PySide6.QtWidgets import QHBoxLayout, QStackedWidget, QVBoxLayout, QWidget

from app.editing.refused import EditRefused
from app.files.files_error import FilesError
from app.riglog.couple_log import CoupleLog
from app.riglog.follower import Follower
from app.riglog.log_error import LogError
from app.riglog.measured import measured_sentence, with_measured_couple
from app.riglog.opened import Said
from app.theme import Theme
from app.window.background import Job
from app.window.door import Door
from app.window.leaf_asks import LeafAsks
from app.window.lists.caption import heading_style, plain_label
from app.window.picture_of_it import PictureOfIt
from app.window.rig.column_form import ColumnForm
from app.window.rig.rig_work import NOTHING_SAID, Grown, RigAnswer, again, looking, reading
from app.window.verdict_flow import VerdictFlow
from app.window.worded import worded
from app.window.working_leaf import WorkingLeaf
from app.wording.figures import Units, sentence_in_units
from geometry.bracket import Bracket
from solver.results import Results

_LOOK_MS: Final = 1000
_INVITATION: Final = "Open the CSV of a test rig: what it measured, beside what was foretold."


class RigLeaf(WorkingLeaf):
    """Reads one log at a time; the bracket changes only when its couple is taken over."""

    def __init__(self, door: Door, verdicts: VerdictFlow, theme: Theme, asks: LeafAsks | None = None) -> None:
        super().__init__(theme)
        self._door, self._verdicts = door, verdicts
        self._asks = LeafAsks() if asks is None else asks
        self._units: Units = "mm"
        self._path: Path | None = None
        self._said: Said = NOTHING_SAID
        self._follower: Follower | None = None
        self.answer: RigAnswer | None = None
        self._look = QTimer(self, interval=_LOOK_MS)
        self._look.timeout.connect(self.look)
        self.headline, self.sentences = plain_label(self.tr(_INVITATION)), plain_label()
        self.picture = PictureOfIt()
        self.picture.setAccessibleName(self.tr("The log as a picture"))
        self.form = ColumnForm(theme)
        self._top = QStackedWidget()
        self.open_link = self.link(self.tr("open a log…"), self.open)
        self.columns_link = self.link(self.tr("columns…"), self.ask_columns)
        self.take_link = self.link(self.tr("take the couple into the bracket"), self.take_couple)
        self.follow_link = self.link(self.tr("follow it live"), self.turn_follow)
        self.form.said.connect(self._columns_said)
        self._work.done.connect(self._take)
        self._lay_out()
        self.set_theme(theme)
        self._able()

    @property
    def asks_columns(self) -> bool:
        """Return whether the columns are asked for now."""
        return self._top.currentWidget() is self.form

    def open(self) -> None:
        """Ask for a log and read it."""
        folder = Path.home() if self._path is None else self._path.parent
        path = self._asks.log_to_open(self, folder)
        if path is not None:
            self.open_path(path)

    def open_path(self, path: Path) -> None:
        """Read a log."""
        self._end_following()
        self._path, self._said, self.answer = path, NOTHING_SAID, None
        self._begin(reading(path, self._said, self._ink(), self._theme))

    def ask_columns(self) -> None:
        """Ask again what the columns hold."""
        if self.answer is not None:
            self._show_form(self.answer, self.tr("What do the columns hold?"))

    def take_couple(self) -> None:
        """Put the measured couple into the bracket, with its source."""
        couple = self._couple()
        if couple is None:
            return
        before = self._door.bracket

        def edit(bracket: Bracket) -> Bracket:
            try:
                return with_measured_couple(bracket, couple)
            except LogError as error:
                raise EditRefused(str(error)) from error

        if self._door.attempt(self.tr("couple from a rig's log"), edit):
            self.said.note(measured_sentence(before, self._door.bracket))
        else:
            self.said.say(self.tr("The couple was not taken over: the line under the sheet says why."))

    def turn_follow(self) -> None:
        """Follow the log while the rig writes it, or follow it no longer."""
        if self._follower is not None:
            self._end_following()
            self.said.note(self.tr("No longer followed."))
        elif self._path is not None:
            self._follower, self.answer = Follower(self._path), None
            self.follow_link.say(self.tr("follow no longer"), strong=True)
            self._look.start()
            self.look()

    def look(self) -> None:
        """Look whether the followed log has grown; what is being read is not disturbed."""
        if self._follower is None or self.busy or self.asks_columns:
            return
        whole = None if self.answer is None else self.answer.table
        self._work.begin(looking(self._follower, whole, self._said, self._ink(), self._theme))

    def leave(self) -> None:
        """End what goes on in the background."""
        self._end_following()
        super().leave()

    def set_theme(self, theme: Theme) -> None:
        """Draw in another look; the picture follows with the next reading."""
        super().set_theme(theme)
        self.form.set_theme(theme)
        self.headline.setStyleSheet(heading_style(theme))
        self.sentences.setStyleSheet(f"color: {theme.ink};")

    def set_inch(self, inch: bool) -> None:
        """Tell figures in inches and pounds too; the picture stays in the log's units."""
        self._units = "inch" if inch else "mm"
        if self.answer is not None:
            self._tell(self.answer)

    def hideEvent(self, event: QHideEvent) -> None:  # noqa: N802 - Qt's name
        """Follow nothing while nobody looks."""
        super().hideEvent(event)
        self._end_following()

    # -- inside

    def _lay_out(self) -> None:
        drawn = QWidget()
        inside = QVBoxLayout(drawn)
        inside.setContentsMargins(0, 0, 0, 0)
        inside.addWidget(self.picture, 1)
        inside.addWidget(self.sentences)
        self._top.addWidget(drawn)
        self._top.addWidget(self.form)
        doings = QHBoxLayout()
        doings.setSpacing(14)
        for link in self._links:
            doings.addWidget(link)
        doings.addStretch(1)
        column = QVBoxLayout(self)
        column.setContentsMargins(12, 0, 12, 6)
        column.addLayout(doings)
        column.addWidget(self.headline)
        column.addWidget(self.said)
        column.addWidget(self._top, 1)

    def _begin(self, job: Job) -> None:
        self._work.begin(job)
        self.said.note("" if self._path is None else f"Reading {self._path.name}…")
        self._able()

    def _columns_said(self, said: Said) -> None:
        self._said = said
        self._top.setCurrentIndex(0)
        if self.answer is not None:
            self._begin(again(self.answer.table, said, self._ink(), self._theme))

    def _take(self, answer: object) -> None:
        if isinstance(answer, Grown):
            if answer.told:
                self.said.note(answer.told)
            if answer.answer is not None:
                self._show(answer.answer)
        elif isinstance(answer, RigAnswer):
            self._show(answer)
        elif isinstance(answer, LogError | FilesError):
            self._end_following()
            self.said.say(str(answer))
        elif isinstance(answer, Exception):
            self._end_following()
            self.said.say(worded("The log could not be read ({answer}): name another.", answer=answer))
        self._able()

    def _show(self, answer: RigAnswer) -> None:
        self.answer = answer
        self._tell(answer)
        self.picture.show_png(answer.picture)
        self.said.say(answer.trouble)
        if answer.question:
            self._show_form(answer, answer.question)

    def _tell(self, answer: RigAnswer) -> None:
        rows = f"{answer.table.name}: {len(answer.table.values)} rows."
        headline, *told = (sentence_in_units(w, self._units) for w in (answer.headline, *answer.sentences))
        self.headline.setText(f"{rows} {headline}".strip())
        self.sentences.setText("\n".join(told))

    def _show_form(self, answer: RigAnswer, question: str) -> None:
        self.form.ask(answer.table.dialect, answer.columns, question)
        self._top.setCurrentWidget(self.form)

    def _able(self) -> None:
        self.columns_link.setEnabled(self.answer is not None and not self.busy)
        self.follow_link.setEnabled(self._path is not None)
        self.take_link.setEnabled(self._couple() is not None and not self.busy)

    def _couple(self) -> CoupleLog | None:
        answer = self.answer
        sound = answer is not None and answer.found is not None and not answer.found.serious
        return answer.found.couple if sound and answer is not None and answer.found is not None else None

    def _end_following(self) -> None:
        self._look.stop()
        self._follower = None
        self.follow_link.say(self.tr("follow it live"))

    def _ink(self) -> Results | None:
        results = self._verdicts.results
        own = results is not None and results.hash == self._door.bracket.input_hash()
        return results if own and results is not None and results.accuracy.refined else None
