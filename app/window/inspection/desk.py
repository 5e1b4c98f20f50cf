"""The desk of an inspection: somebody's bracket, which is only read, and the record, which is written.

Nothing of the bracket's file is ever written from here.
"""

from __future__ import annotations

import contextlib
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Final, Protocol

from pydantic import ValidationError
from PySide6.QtCore import QObject, Signal, SignalInstance

from app.editing.refused import EditRefused
from app.files.files_error import FilesError
from app.files.stamp import FileStamp, changed_on_disk
from app.record.check_list import new_record, with_lines_of
from app.record.comparison import Comparison, Judgements, compare
from app.record.given_file import GivenFileError, read_profile
from app.record.letter import PaperSheet, car_sheet_of, letter_of
from app.record.open_items import (
    DecisionRefused,
    OpenItem,
    RecordStanding,
    decide,
    items_of,
    open_items,
    standing_of,
)
from app.record.profile import Profile
from app.record.record import DecisionWord, Record
from app.record.record_file import RecordFileError, RecordReading, read_record, record_of, save_record
from app.record.record_name import record_path_of
from app.report.attached import read_carried
from app.window.worded import worded
from geometry.bracket import Bracket
from geometry.finding import Finding
from solver.results import Results

_MOST_STEPS: Final = 200


class Computes(Protocol):
    """What computes for a record in the background."""

    judged: SignalInstance
    progressed: SignalInstance

    def judge(
        self, bracket: Bracket, record: Record, profile: Profile, file_findings: tuple[Finding, ...]
    ) -> None:
        """Compute all that is needed for these."""

    def stop(self) -> None:
        """End for good."""


class InspectionDesk(QObject):
    """Holds one inspection; every change of the record goes through here."""

    opened = Signal()
    """Another bracket is inspected."""
    changed = Signal()
    """The record, or what is computed, is another."""
    told = Signal(str)
    """A sentence for the user; empty takes it away."""
    computing = Signal(str, float)

    def __init__(self, judge: Computes, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._judge = judge
        self.bracket = Bracket()
        self.path: Path | None = None
        self.record_path: Path | None = None
        self.profile = Profile()
        self.judgements = Judgements()
        self._findings: tuple[Finding, ...] = ()
        self._record_findings: tuple[Finding, ...] = ()
        self._record = new_record(self.bracket, "", self.profile)
        self._saved = self._record
        self._kept = False
        self._stamp: FileStamp | None = None
        self._undo: list[Record] = []
        self._redo: list[Record] = []
        judge.judged.connect(self.take_judgements)
        judge.progressed.connect(self.computing)

    @property
    def record(self) -> Record:
        """Return the record as it stands."""
        return self._record

    @property
    def findings(self) -> tuple[Finding, ...]:
        """Return what was found about the bracket's file."""
        return self._findings

    @property
    def record_findings(self) -> tuple[Finding, ...]:
        """Return what was found about the record's file."""
        return self._record_findings

    @property
    def results(self) -> Results | None:
        """Return what is computed under the profile, in ink; None while it is not."""
        return self.judgements.under_profile

    @property
    def items(self) -> tuple[OpenItem, ...]:
        """Return what is open."""
        return (
            *items_of((*self._findings, *self._record_findings)),
            *open_items(self._record, self.results, self.bracket, self.profile, built=self.judgements.built),
        )

    @property
    def standing(self) -> RecordStanding:
        """Return how the record stands."""
        return standing_of(self._record, self.items, self.results, self.judgements.built)

    @property
    def comparison(self) -> Comparison:
        """Return the comparison of claim and what is computed."""
        return compare(self.bracket, self._record, self.profile, self.judgements)

    @property
    def has_unsaved_work(self) -> bool:
        """Return whether the record differs from what is on the disk, or was begun and never saved."""
        return self._record != self._saved

    @property
    def is_kept(self) -> bool:
        """Return whether there is a file of this record."""
        return self._kept

    def look_at(self, bracket: Bracket, path: Path | None, findings: tuple[Finding, ...] = ()) -> None:
        """Inspect a bracket; the record beside its file is taken up, or a new one is begun."""
        self.bracket, self.path, self._findings = bracket, path, findings
        self._undo, self._redo = [], []
        self.judgements = Judgements(file_findings=findings)
        fresh = new_record(bracket, "" if path is None else path.name, self.profile, date.today().isoformat())
        self.record_path = None if path is None else record_path_of(path)
        self._record_findings = ()
        self._record = self._saved = fresh
        self._kept, self._stamp = False, None
        if self.record_path is not None and self.record_path.is_file():
            self.open_record(self.record_path)
        self.opened.emit()
        self.changed.emit()
        self.compute()

    def open_path(self, path: Path) -> bool:
        """Open somebody's bracket file, to be read only; return whether there is a bracket in it."""
        carried = read_carried(path)
        reading = carried.reading
        if reading.bracket is None:
            self.told.emit(f"{path.name} cannot be inspected: {reading.sentences[0]}")
            return False
        if any(finding.severity == "stop" for finding in reading.findings):
            # what was left out may be what would have failed
            self.told.emit(f"{path.name} can be read only in part: {reading.sentences[0]}")
            return False
        self.told.emit("")
        self.look_at(reading.bracket, path, reading.findings)
        if carried.record is not None and not self._kept:
            self._take_carried(record_of(carried.record, "record in the report"))
        return True

    def open_record(self, path: Path) -> bool:
        """Take up a record; return whether there is one in the file."""
        reading = read_record(path)
        if reading.record is None:
            self.told.emit(f"{path.name} cannot be read as a record: {reading.sentences[0]}")
            return False
        if reading.findings:
            self.told.emit(f"Not all of {path.name} could be read: {reading.sentences[0]}")
        self._record_findings = reading.findings
        self._saved, self._kept = reading.record, True
        self._record = with_lines_of(reading.record, self.profile, self.bracket)
        self.record_path, self._undo, self._redo = path, [], []
        self._take_stamp()
        self.changed.emit()
        return True

    def take_up(self, record: Record, record_path: Path | None) -> None:
        """Go on with a record that was not saved, of the bracket that is inspected."""
        if record_path is not None and record_path != self.record_path and record_path.is_file():
            self.open_record(record_path)
        self.record_path = record_path or self.record_path
        self._undo, self._redo = [], []
        self._put(with_lines_of(record, self.profile, self.bracket))
        self.compute()

    def take_profile(self, path: Path) -> None:
        """Judge under the profile in a file from now on."""
        try:
            self.profile = read_profile(path)
        except GivenFileError as error:
            self.told.emit(str(error).split("\n")[0])
            return
        named = self._record.certifier.strip() or self.profile.certifier
        self._put(with_lines_of(self._record, self.profile, self.bracket).but(certifier=named))
        self.told.emit(f"Judged under {self.profile.called}.")
        self.compute()

    def change(self, edit: Callable[[Record], Record]) -> bool:
        """Change the record; tell why and return False if it cannot be so."""
        try:
            changed = edit(self._record)
        except (EditRefused, DecisionRefused) as refused:
            self.told.emit(str(refused))
            return False
        except ValidationError as wrong:
            self.told.emit(_sentence(wrong))
            return False
        self.told.emit("")
        if changed == self._record:
            return True
        measured_before = self._record.measured
        self._undo = [*self._undo, self._record][-_MOST_STEPS:]
        self._redo = []
        self._put(changed)
        if changed.measured != measured_before:
            self.compute()
        return True

    def decide(self, decision: DecisionWord) -> bool:
        """Write a decision down; tell why and return False if it cannot be accepted as things stand."""
        name = self.profile.called
        return self.change(lambda record: decide(record, decision, self.items, self.results, name))

    def undo(self) -> None:
        """Take the last change of the record back."""
        if self._undo:
            self._redo.append(self._record)
            self._put(self._undo.pop())
            self.compute()

    def redo(self) -> None:
        """Make the change again that was taken back."""
        if self._redo:
            self._undo.append(self._record)
            self._put(self._redo.pop())
            self.compute()

    def save(self, path: Path) -> bool:
        """Save the record; return whether it was saved."""
        if path == self.record_path and self._stamp is not None:
            change = changed_on_disk(path, self._stamp, thorough=True)
            if change == "changed":
                self.told.emit(
                    f"Not saved: {path.name} was changed on the disk by something else. Save the record under"
                    " another name, or take it up again."
                )
                return False
        try:
            save_record(path, self._record)
        except RecordFileError as error:
            self.told.emit(f"Not saved: {error}.")
            return False
        self.record_path, self._saved, self._kept = path, self._record, True
        self._take_stamp()
        # What could not be read of it is not settled by saving what was: it stays open here.
        self.told.emit(f"Saved in {path.name}.")
        self.changed.emit()
        return True

    def take_judgements(self, judgements: Judgements) -> None:
        """Show what was computed for this bracket and record."""
        self.judgements = judgements
        self.changed.emit()

    def letter(self) -> PaperSheet:
        """Return the letter of open items."""
        return letter_of(self._record, self.items, self.standing, self.comparison, self.profile)

    def car_sheet(self) -> PaperSheet:
        """Return the sheet to fill by hand at the car."""
        return car_sheet_of(self.bracket, self._record, self.profile)

    def compute(self) -> None:
        """Have everything computed that is not yet; what was computed for another bracket is dropped."""
        self._judge.judge(self.bracket, self._record, self.profile, self._findings)

    def leave(self) -> None:
        """End what computes."""
        self._judge.stop()

    def _take_carried(self, reading: RecordReading) -> None:
        """Go on with the record that a report carries; what could not be read of it keeps it open."""
        self._record_findings = reading.findings
        if reading.findings:
            words = "Not all of the record in the report could be read: {sentence}"
            self.told.emit(worded(words, sentence=reading.sentences[0]))
        if reading.record is not None:
            self.take_up(reading.record, self.record_path)

    def _take_stamp(self) -> None:
        self._stamp = None
        if self.record_path is not None:
            with contextlib.suppress(FilesError):
                self._stamp = FileStamp.of(self.record_path)

    def _put(self, record: Record) -> None:
        self._record = record
        self.changed.emit()


def _sentence(wrong: ValidationError) -> str:
    first = wrong.errors()[0]
    where = " ".join(str(part) for part in first["loc"][-1:]).replace("_", " ")
    return f"{where}: {first['msg'][0].lower()}{first['msg'][1:]}; nothing was changed.".strip(": ")
