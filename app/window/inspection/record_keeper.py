"""Keeps the record aside a moment after each change, and finds what a crash left behind."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import QObject, QTimer

from app.files.files_error import FilesError
from app.record.record import Record
from app.record.record_autosave import RecordAutosave, RecoveredRecord
from app.window.inspection.desk import InspectionDesk
from app.window.worded import worded

_SOON_MS: Final = 300


def records_left() -> bool:
    """Return whether a window that is gone left a record behind."""
    try:
        return bool(RecordAutosave().recoverable())
    except FilesError:
        return False


class RecordKeeper(QObject):
    """Works by itself; it speaks when the disk does not do as it should, or has something to give back."""

    def __init__(self, desk: InspectionDesk, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._autosave = RecordAutosave()
        self._kept: Record | None = None
        self._trouble = ""
        self._soon = QTimer(self, singleShot=True, interval=_SOON_MS)
        self._soon.timeout.connect(self.keep)
        desk.changed.connect(self._hear)

    def keep(self) -> None:
        """Keep the record aside now, if it is neither saved nor kept."""
        desk = self._desk
        if not desk.has_unsaved_work or desk.record is self._kept:
            return
        try:
            self._autosave.save(desk.record, desk.path, desk.record_path)
        except FilesError as error:
            if str(error) != self._trouble:
                self._trouble = str(error)
                desk.told.emit(self._trouble)
            return
        self._kept, self._trouble = desk.record, ""

    def recover(self) -> bool:
        """Go on with the newest record of a bracket file that a crash left behind, if there is one."""
        return any(self._put_with_file(left) for left in self._left() if left.bracket_path is not None)

    def recover_for_sheet(self) -> bool:
        """Go on with a record left behind of the bracket inspected, which has no file yet."""
        inputs = self._desk.bracket.input_hash()
        here = (
            left for left in self._left() if left.bracket_path is None and left.record.bracket_hash == inputs
        )
        return any(self._put(left) for left in here)

    def leave(self) -> None:
        """Close in order: nothing is kept any more."""
        self._soon.stop()
        self._autosave.close()

    def _hear(self) -> None:
        if self._desk.has_unsaved_work:
            self._soon.start()
            return
        self._soon.stop()
        if self._kept is not None:
            self._kept = None
            self._autosave.forget()

    def _left(self) -> tuple[RecoveredRecord, ...]:
        try:
            return self._autosave.recoverable()
        except FilesError:
            return ()

    def _put_with_file(self, recovered: RecoveredRecord) -> bool:
        path = recovered.bracket_path
        if path is None or not self._desk.open_path(path):
            self._desk.told.emit(
                worded(
                    "A record was left unsaved, and its bracket {path} cannot be opened:"
                    " put it back there, and start anew; the record is kept.",
                    path=path,
                )
            )
            return False
        return self._put(recovered)

    def _put(self, recovered: RecoveredRecord) -> bool:
        self._desk.take_up(recovered.record, recovered.record_path)
        self.keep()
        if self._kept is not None:
            # it is kept anew under this window's own name
            try:
                self._autosave.drop(recovered)
            except FilesError as error:
                self._desk.told.emit(str(error))
                return True
        self._desk.told.emit(recovered.words)
        return True
